// Season: staggered sowings, and the fewest for the days that matter.
#include <cstddef>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/season/harvest/fewest_sowings.hpp>
#include <epicotyl/season/harvest/stagger.hpp>

#include "casters.hpp"
#include "register.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

/// (name, wanted, sowing, usual, early, late, in time, lost).
using sowing_tuple =
    std::tuple<std::string, day, day, day, std::optional<day>, std::optional<day>, int, int>;
using obstacle_tuple = std::tuple<std::string, std::string, std::string, std::string>;
/// (sowing, good, needed, years, good one day later, limit, sentence).
using last_tuple = std::tuple<std::optional<day>, int, int, int, int, std::string, std::string>;

/// (name, crop, event, day): a succession aimed at a day.
using made_tuple = std::tuple<std::string, std::string, std::string, day>;

std::vector<made_tuple> tuples_of(std::vector<succession> const& of) {
    std::vector<made_tuple> all;
    for (succession const& one : of) {
        all.emplace_back(one.name, one.crop, one.target.event,
                         std::get<on_rule>(one.target.rule).when);
    }
    return all;
}

obstacle_tuple tuple_of(obstacle const& of) {
    return {of.succession, of.code, of.sentence, of.cure};
}

std::vector<sowing_tuple> sowings_of(staggered const& of) {
    std::vector<sowing_tuple> all;
    for (staggered_sowing const& one : of.sowings()) {
        all.emplace_back(one.name, one.wanted, one.sowing, one.usual, one.early, one.late,
                         one.in_time, one.lost);
    }
    return all;
}

std::vector<obstacle_tuple> sowings_left_out_of(staggered const& of) {
    std::vector<obstacle_tuple> all;
    for (obstacle const& one : of.left_out()) { all.push_back(tuple_of(one)); }
    return all;
}

last_tuple last_of(staggered const& of) {
    last_sowing const& one = of.last_useful();
    return {one.sowing,
            one.good,
            one.needed,
            one.years,
            one.good_one_day_later,
            std::string{to_string(one.limit)},
            one.sentence};
}

std::vector<std::tuple<day, day, int, bool>> weeks_of(staggered const& of) {
    std::vector<std::tuple<day, day, int, bool>> all;
    for (harvest_week const& one : of.weeks()) {
        all.emplace_back(one.from, one.until, one.years, one.covered);
    }
    return all;
}

std::vector<std::tuple<day, day, int>> gaps_of(staggered const& of) {
    std::vector<std::tuple<day, day, int>> all;
    for (harvest_gap const& one : of.gaps()) { all.emplace_back(one.from, one.until, one.fewest); }
    return all;
}

std::vector<std::pair<day, std::optional<day>>> equal_gaps_of(staggered const& of) {
    std::vector<equal_gap_sowing> found;
    {
        py::gil_scoped_release const unlocked;
        found = equal_gaps(of);
    }
    std::vector<std::pair<day, std::optional<day>>> all;
    for (equal_gap_sowing const& one : found) { all.emplace_back(one.sowing, one.usual); }
    return all;
}

staggered make_staggered(plan const& of, climate const& under, std::string const& crop, day first,
                         std::optional<day> last, std::optional<double> frost_chance,
                         std::optional<int> every, std::optional<int> count,
                         std::optional<double> wanted, std::optional<double> hours,
                         std::string name, double plants) {
    stagger_options options{.first = first,
                            .last = last.value_or(first),
                            .every = every,
                            .count = count,
                            .day_length_at_least = hours,
                            .name = std::move(name),
                            .amount = {.value = plants}};
    if (frost_chance) {
        options.last =
            said_of("until_first_frost", [&] { return until_first_frost{chance{*frost_chance}}; });
    }
    if (wanted) { options.reliability = reliability{*wanted}; }
    return stagger(of, under, crop, options);
}

covering_sowings find_fewest(plan const& of, climate const& under, std::string const& crop,
                             day start, day until, double share) {
    try {
        return fewest_sowings(of, under, crop, {start, until, chance{share}});
    } catch (invalid_input const& fault) {
        // "from" is no name that Python can give an argument.
        if (fault.details().field == "from") { throw fault.in_field("start"); }
        throw;
    }
}

void register_staggered(py::module_& m) {
    py::class_<staggered>(m, "Staggered")
        .def_property_readonly("crop", &staggered::crop)
        .def_property_readonly("reliability",
                               [](staggered const& of) { return of.reliability().value(); })
        .def_property_readonly("until", &staggered::until)
        .def_property_readonly("sowings", &sowings_of)
        .def_property_readonly("left_out", &sowings_left_out_of)
        .def_property_readonly("intervals", &staggered::intervals)
        .def_property_readonly("last_useful", &last_of)
        .def_property_readonly("weeks", &weeks_of)
        .def_property_readonly("share_covered", &staggered::share_covered)
        .def_property_readonly("gaps", &gaps_of)
        .def("equal_gaps", &equal_gaps_of)
        .def_property_readonly("successions",
                               [](staggered const& of) { return tuples_of(of.successions()); })
        .def("__str__", [](staggered const& of) { return to_string(of); });
    m.def("stagger", &make_staggered, "plan"_a, "climate"_a, "crop"_a, "first"_a, "last"_a,
          "until_first_frost"_a, "every"_a, "count"_a, "reliability"_a, "day_length_at_least"_a,
          "name"_a, "plants"_a, py::call_guard<py::gil_scoped_release>());
}

void register_fewest(py::module_& m) {
    py::class_<covering_sowings>(m, "CoveringSowings")
        .def_readonly("crop", &covering_sowings::crop)
        .def_property_readonly("sowings",
                               [](covering_sowings const& of) {
                                   std::vector<std::optional<day>> const all(of.sowings.begin(),
                                                                             of.sowings.end());
                                   return to_day_array(all);
                               })
        .def_readonly("years", &covering_sowings::years)
        .def_readonly("needed", &covering_sowings::needed)
        .def_readonly("good", &covering_sowings::good)
        .def_readonly("most_good", &covering_sowings::most_good)
        .def_readonly("served", &covering_sowings::served)
        .def_readonly("missed", &covering_sowings::missed)
        .def_property_readonly("none",
                               [](covering_sowings const& of) -> std::optional<obstacle_tuple> {
                                   if (!of.none) { return std::nullopt; }
                                   return tuple_of(*of.none);
                               })
        .def_property_readonly("successions",
                               [](covering_sowings const& of) { return tuples_of(of.successions); })
        .def("__str__", [](covering_sowings const& of) { return to_string(of); });
    m.def("fewest_sowings", &find_fewest, "plan"_a, "climate"_a, "crop"_a, "start"_a, "until"_a,
          "chance"_a, py::call_guard<py::gil_scoped_release>());
}

}  // namespace

void register_stagger(py::module_& m) {
    register_staggered(m);
    register_fewest(m);
}
