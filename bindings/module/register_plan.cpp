// Plans: from files and from the tables of Python, and back.
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_bytes.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/plan/plan_tree.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "register.hpp"
#include "tables.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

template <class Things>
std::vector<std::string> names_of(Things const& all) {
    std::vector<std::string> names;
    for (auto const& one : all) { names.push_back(one.name); }
    return names;
}

std::vector<std::string> events_of(plan const& of, std::string const& succession) {
    crop const& grown =
        *of.successions()[static_cast<std::size_t>(of.succession_index(succession))].grown;
    std::vector<std::string> names;
    for (int i = 0; i < event_count(grown); ++i) { names.emplace_back(event_name(grown, i)); }
    return names;
}

}  // namespace

void register_plan(py::module_& m) {
    py::class_<plan>(m, "Plan")
        .def_property_readonly("title", [](plan const& of) { return of.parts().title; })
        .def_property_readonly("units",
                               [](plan const& of) {
                                   return of.parts().units == unit_system::metric ? "metric" : "us";
                               })
        .def_property_readonly("latitude", [](plan const& of) { return of.parts().where.value(); })
        .def_property_readonly("season_start", [](plan const& of) { return of.window().start(); })
        .def_property_readonly("season_days", [](plan const& of) { return of.window().length(); })
        .def_property_readonly("weather", [](plan const& of) { return of.parts().weather; })
        .def_property_readonly("reliability",
                               [](plan const& of) { return of.parts().reliability.value(); })
        .def_property_readonly("places", [](plan const& of) { return names_of(of.places()); })
        .def_property_readonly("containers",
                               [](plan const& of) { return names_of(of.parts().containers); })
        .def_property_readonly("crops", [](plan const& of) { return names_of(of.parts().crops); })
        .def_property_readonly("successions",
                               [](plan const& of) { return names_of(of.successions()); })
        .def("events", &events_of, "succession"_a)
        .def("to_toml", [](plan const& of) { return to_toml(of); })
        .def("to_bytes", [](plan const& of) { return py::bytes{to_bytes(of)}; })
        .def("to_dict", [](plan const& of) { return object_of(to_tree(of)); })
        .def(py::self == py::self);

    // Reading touches nothing of Python.
    m.def("read_plan", &read_plan, "path"_a, py::call_guard<py::gil_scoped_release>());
    m.def(
        "parse_plan", [](std::string const& text) { return parse_plan(text, ""); }, "text"_a,
        py::call_guard<py::gil_scoped_release>());
    m.def(
        "plan_from_bytes",
        [](py::bytes const& bytes) {
            std::string_view const held = bytes;
            return without_lock([&] { return plan_from_bytes(held); });
        },
        "bytes"_a);
    m.def("expand", &expand_plan, "path"_a, py::call_guard<py::gil_scoped_release>());
    m.def(
        "plan_from_tables",
        [](py::dict const& tables) { return plan_from_tree(tree_of(tables), ""); }, "tables"_a);
    register_edits(m);
}
