// Space: what stands where, and what is too much.
#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/space/occupancy.hpp>

#include "casters.hpp"
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

/// (succession, event, place, amount, from, until).
using standing_tuple =
    std::tuple<std::string, std::string, std::string, double, day, std::optional<day>>;
/// (place, what, kind, room, years, years over, first, worst, worst year, most, days over, there,
/// last in, sentence).
using overflow_tuple = std::tuple<std::string, std::string, std::string, double, int, int, day, day,
                                  std::optional<int>, double, int, std::vector<standing_tuple>,
                                  std::vector<std::string>, std::string>;

room_kind kind_of(std::string const& word) {
    return enum_of<room_kind>(word, room_kind_names, "kind");
}

std::vector<standing_tuple> tuples_of(std::vector<standing> const& of) {
    std::vector<standing_tuple> all;
    for (standing const& one : of) {
        all.emplace_back(one.succession, one.event, one.place, one.amount, one.from, one.until);
    }
    return all;
}

std::vector<overflow_tuple> overflows_of(occupancy const& of) {
    std::vector<overflow_tuple> all;
    for (overflow const& one : of.overflows()) {
        all.emplace_back(one.place, to_string(one.what), to_string(one.kind), one.room, one.years,
                         one.years_over, one.first, one.worst, one.worst_year, one.most,
                         one.days_over, tuples_of(one.there), one.last_in, one.sentence);
    }
    return all;
}

/// An array that takes the numbers over, without a copy.
py::array_t<double> array_of(std::vector<double> numbers, std::vector<py::ssize_t> shape) {
    auto kept = std::make_unique<std::vector<double>>(std::move(numbers));
    double* const first = kept->data();
    py::capsule const owner{kept.get(), [](void* held) {
                                delete static_cast<std::vector<double>*>(held);
                            }};
    (void)kept.release();
    return py::array_t<double>{std::move(shape), first, owner};
}

/// [row][day]; planned days have no rows.
py::array_t<double> space_of(occupancy const& of, std::string const& place,
                             std::string const& word) {
    room_kind const kind = kind_of(word);
    std::vector<double> numbers;
    {
        py::gil_scoped_release const unlocked;
        numbers = of.space(place, kind);
    }
    std::vector<py::ssize_t> shape{of.season_days()};
    if (!of.years().empty()) { shape.insert(shape.begin(), of.rows()); }
    return array_of(std::move(numbers), std::move(shape));
}

}  // namespace

void register_space(py::module_& m) {
    py::class_<occupancy>(m, "Occupancy")
        .def_property_readonly("years", &occupancy::years)
        .def("space", &space_of, "place"_a, "kind"_a)
        .def(
            "quantile",
            [](occupancy const& of, std::string const& place, std::string const& kind, double q) {
                return array_of(of.quantile(place, kind_of(kind), quantile_level{q}),
                                {of.season_days()});
            },
            "place"_a, "kind"_a, "q"_a)
        .def(
            "room",
            [](occupancy const& of, std::string const& place, std::string const& kind) {
                return of.room(place, kind_of(kind));
            },
            "place"_a, "kind"_a)
        .def(
            "there",
            [](occupancy const& of, std::string const& place, std::string const& kind, day when,
               std::optional<int> year) {
                return tuples_of(of.there(place, kind_of(kind), when, year));
            },
            "place"_a, "kind"_a, "when"_a, "year"_a)
        .def_property_readonly("overflows", &overflows_of)
        .def("__str__", [](occupancy const& of) { return to_string(of); });
    m.def(
        "occupancy_planned", [](calendar const& of) { return occupancy{of}; }, "calendar"_a,
        py::call_guard<py::gil_scoped_release>());
    register_fit(m);
    m.def(
        "occupancy_by_year", [](prospect const& of) { return occupancy{of}; }, "prospect"_a,
        py::call_guard<py::gil_scoped_release>());
}
