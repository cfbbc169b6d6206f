// Edits: plans like another but for one thing, in the words of a plan file.
#include <optional>
#include <string>
#include <vector>

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/plan.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "plan_units.hpp"
#include "register.hpp"
#include "tables.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using names = std::vector<std::string>;
using edit_of_keys = plan (*)(plan const&, std::string_view, plan_tree const&, names const&);

/// Keys to set and keys to leave out of one part of a plan.
void def_edit(py::module_& m, char const* name, edit_of_keys edit) {
    m.def(
        name,
        [edit](plan const& of, std::string const& part, py::dict const& keys,
               names const& without) {
            plan_tree const tree = tree_of(keys);
            return without_lock([&] { return edit(of, part, tree, without); });
        },
        "plan"_a, "part"_a, "keys"_a, "without"_a);
}

[[nodiscard]] risk_setting risk_of(std::optional<double> share) {
    return share ? risk_setting::at(said_of("risk", [&] { return chance{*share}; }))
                 : risk_setting::off();
}

}  // namespace

void register_edits(py::module_& m) {
    def_edit(m, "with_succession_keys", &with_succession_keys);
    def_edit(m, "with_not_before_keys", &with_not_before_keys);
    def_edit(m, "with_not_after_keys", &with_not_after_keys);
    def_edit(m, "with_place_keys", &with_place_keys);
    def_edit(m, "with_crop_keys", &with_crop_keys);
    m.def(
        "with_stage_change_keys",
        [](plan const& of, std::string const& succession, std::string const& begins,
           py::dict const& keys, names const& without) {
            plan_tree const tree = tree_of(keys);
            return without_lock(
                [&] { return with_stage_change_keys(of, succession, begins, tree, without); });
        },
        "plan"_a, "succession"_a, "begins"_a, "keys"_a, "without"_a);
    m.def(
        "with_added_succession_keys",
        [](plan const& of, py::dict const& keys) {
            plan_tree const tree = tree_of(keys);
            return without_lock([&] { return with_added_succession_keys(of, tree); });
        },
        "plan"_a, "keys"_a);
    m.def(
        "with_target_keys",
        [](plan const& of, std::string const& succession, py::dict const& keys) {
            plan_tree const tree = tree_of(keys);
            return without_lock([&] { return with_target_keys(of, succession, tree); });
        },
        "plan"_a, "succession"_a, "keys"_a);
    m.def("without_succession", &without_succession, "plan"_a, "succession"_a,
          py::call_guard<py::gil_scoped_release>());
    m.def("without_stage_change", &without_stage_change, "plan"_a, "succession"_a, "begins"_a,
          py::call_guard<py::gil_scoped_release>());
    m.def("without_heater", &without_heater, "plan"_a, "place"_a,
          py::call_guard<py::gil_scoped_release>());
    m.def("without_cover", &without_cover, "plan"_a, "place"_a,
          py::call_guard<py::gil_scoped_release>());
    m.def(
        "with_target_moved",
        [](plan const& of, std::string const& succession, int later) {
            return with_target_moved(of, succession, days{later});
        },
        "plan"_a, "succession"_a, "later"_a, py::call_guard<py::gil_scoped_release>());
    m.def(
        "with_units",
        [](plan const& of, std::string const& word) { return with_units(of, units_of(word)); },
        "plan"_a, "units"_a);
    m.def(
        "with_reliability",
        [](plan const& of, double share) {
            return with_reliability(of, said_of("reliability", [&] { return reliability{share}; }));
        },
        "plan"_a, "share"_a);
    m.def(
        "with_risk",
        [](plan const& of, std::optional<double> share) { return with_risk(of, risk_of(share)); },
        "plan"_a, "share"_a);
    m.def(
        "with_season",
        [](plan const& of, std::optional<day> start, std::optional<int> length) {
            return with_season(of, season{start.value_or(of.window().start()),
                                          length.value_or(of.window().length())});
        },
        "plan"_a, "start"_a, "length"_a);
}
