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

#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/space/occupancy.hpp>

#include "casters.hpp"
#include "plan_units.hpp"
#include "register.hpp"
#include "result.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

template <>
struct bound<standing> {
    static constexpr char name[] = "Standing";
    static constexpr char doc[] = "One stage of a batch in its place.";
    static auto fields() {
        return std::tuple{
            field{"succession", &standing::succession, "Whose stage."},
            field{"event", &standing::event, "The event that begins it."},
            field{"place", &standing::place, "The place asked about, or a part of it."},
            field{"amount", &standing::amount,
                  "Trays, or in the plan's units metres (feet) of bed or square metres (feet)."},
            field{"start", &standing::from, "Day on which it came."},
            field{"until", &standing::until,
                  "Day on which it leaves; None: it stays to the season's end."}};
    }
};

template <>
struct bound<overflow> {
    static constexpr char name[] = "Overflow";
    static constexpr char doc[] = "More in a place than fits. Days are on the plan's own dates.";
    static auto fields() {
        return std::tuple{
            field{"place", &overflow::place, "The place."},
            field{"what", &overflow::what,
                  "`room`: more than it has room for, its parts included; `lit`: more trays than "
                  "its lamps light, while they are lit; `closed`: something on a day on which it "
                  "is not open (what stands in containers is told as area where the place "
                  "counts these and no trays)."},
            field{"kind", &overflow::kind, "`trays`, `bed` or `area`."},
            field{
                "room", &overflow::room,
                "Trays, length of bed or area that fit, in the plan's units; 0 where the place is "
                "closed."},
            field{"years", &overflow::years, "Season years looked at; 0: the planned days."},
            field{"years_over", &overflow::years_over, "Those with such a day."},
            field{"first", &overflow::first, "The earliest such day of all years."},
            field{"worst", &overflow::worst, "The day with the most."},
            field{"worst_year", &overflow::worst_year,
                  "Season year of that day; None for planned days."},
            field{"most", &overflow::most,
                  "Trays, length of bed or area there on that day, in the plan's units."},
            field{"days_over", &overflow::days_over, "Such days in that year."},
            field{"there", tuple_of(&overflow::there),
                  "What stands there on that day, in the order in which it came."},
            field{"last_in", tuple_of(&overflow::last_in),
                  "Those that came when the room had run out: without them the rest would fit."},
            field{"sentence", &overflow::sentence, "All that in words. `str` gives it."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

room_kind kind_of(std::string const& word) {
    return enum_of<room_kind>(word, room_kind_names, "kind");
}

/// An array that takes the numbers over, without a copy.
py::array_t<double> owned_array(std::vector<double> numbers, std::vector<py::ssize_t> shape) {
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
        numbers = turned{of.plan()}(quantity_of(kind), of.space(place, kind));
    }
    std::vector<py::ssize_t> shape{of.season_days()};
    if (!of.years().empty()) { shape.insert(shape.begin(), of.rows()); }
    return owned_array(std::move(numbers), std::move(shape));
}

}  // namespace

void register_space(py::module_& m) {
    add_result<standing>(m);
    add_result<overflow>(m);
    py::class_<occupancy>(m, "Occupancy")
        .def_property_readonly("years", &occupancy::years)
        .def("space", &space_of, "place"_a, "kind"_a)
        .def(
            "quantile",
            [](occupancy const& of, std::string const& place, std::string const& kind, double q) {
                room_kind const room = kind_of(kind);
                return owned_array(turned{of.plan()}(quantity_of(room),
                                                     of.quantile(place, room, quantile_level{q})),
                                   {of.season_days()});
            },
            "place"_a, "kind"_a, "q"_a)
        .def(
            "room",
            [](occupancy const& of, std::string const& place, std::string const& kind) {
                room_kind const room = kind_of(kind);
                std::optional<double> const has = of.room(place, room);
                return has ? std::optional{turned{of.plan()}.own(quantity_of(room), *has)} : has;
            },
            "place"_a, "kind"_a)
        .def(
            "there",
            [](occupancy const& of, std::string const& place, std::string const& kind, day when,
               std::optional<int> year) {
                room_kind const room = kind_of(kind);
                return turned{of.plan()}(room, of.there(place, room, when, year));
            },
            "place"_a, "kind"_a, "when"_a, "year"_a)
        .def_property_readonly(
            "overflows", [](occupancy const& of) { return turned{of.plan()}(of.overflows()); })
        .def("__str__", [](occupancy const& of) { return to_string(of); });
    m.def(
        "occupancy_planned", [](calendar const& of) { return occupancy{of}; }, "calendar"_a,
        py::call_guard<py::gil_scoped_release>());
    register_fit(m);
    m.def(
        "occupancy_by_year", [](prospect const& of) { return occupancy{of}; }, "prospect"_a,
        py::call_guard<py::gil_scoped_release>());
}
