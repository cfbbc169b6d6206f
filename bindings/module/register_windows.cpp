// Season: planting windows, of one season year and of all.
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/season/windows/planting_windows.hpp>
#include <epicotyl/season/windows/why_unresolved.hpp>
#include <epicotyl/season/windows/window_years.hpp>

#include "casters.hpp"
#include "register.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

/// (kind, succession, event, from succession, from event, is upper, sentence, field, line).
using requirement_tuple = std::tuple<std::string, std::string, std::string, std::string,
                                     std::string, bool, std::string, std::string, int>;
/// (because, succession, event, no sooner, when, turns).
using step_tuple =
    std::tuple<requirement_tuple, std::string, std::string, bool, std::optional<day>, int>;
/// (successions, steps, broken, allowed, sentence).
using conflict_tuple = std::tuple<std::vector<std::string>, std::vector<step_tuple>,
                                  requirement_tuple, std::optional<day>, std::string>;
/// (what, days, sentence).
using window_cure_tuple = std::tuple<requirement_tuple, int, std::string>;
/// (succession, event, earliest, latest, tie).
using link_tuple = std::tuple<std::string, std::string, day, std::optional<day>, requirement_tuple>;
/// (events, end, slack, free slack, middle, crosses links).
using chain_tuple = std::tuple<std::vector<link_tuple>, requirement_tuple, int, int, int, bool>;
/// (chain, years, slacks, usual slack).
using chain_years_tuple = std::tuple<chain_tuple, std::vector<int>, std::vector<int>, int>;
using obstacle_tuple = std::tuple<std::string, std::string, std::string, std::string>;

requirement_tuple tuple_of(requirement const& of) {
    return {std::string{to_string(of.kind)},
            of.succession,
            of.event,
            of.from_succession,
            of.from_event,
            of.is_upper,
            of.sentence,
            of.field,
            of.line};
}

conflict_tuple tuple_of(season_conflict const& of) {
    std::vector<step_tuple> steps;
    for (conflict_step const& one : of.steps) {
        steps.emplace_back(tuple_of(one.because), one.succession, one.event, one.no_sooner,
                           one.when, one.turns);
    }
    return {of.successions, steps, tuple_of(of.broken), of.allowed, of.sentence};
}

chain_tuple tuple_of(tightest_chain const& of) {
    std::vector<link_tuple> events;
    for (chain_event const& one : of.events) {
        events.emplace_back(one.succession, one.event, one.earliest, one.latest, tuple_of(one.tie));
    }
    return {events, tuple_of(of.end), of.slack, of.free_slack, of.middle, of.crosses_links};
}

std::vector<chain_tuple> chains_of(planting_windows const& of, int most) {
    std::vector<tightest_chain> found;
    {
        py::gil_scoped_release const unlocked;
        found = of.tightest_chains(most);
    }
    std::vector<chain_tuple> all;
    for (tightest_chain const& one : found) { all.push_back(tuple_of(one)); }
    return all;
}

std::vector<chain_years_tuple> chains_of_years(window_years const& of, int most) {
    std::vector<chain_in_years> found;
    {
        py::gil_scoped_release const unlocked;
        found = of.tightest_chains(most);
    }
    std::vector<chain_years_tuple> all;
    for (chain_in_years const& one : found) {
        all.emplace_back(tuple_of(one.chain), one.years, one.slacks, one.usual_slack);
    }
    return all;
}

std::vector<conflict_tuple> conflicts_of(planting_windows const& of) {
    std::vector<conflict_tuple> all;
    for (season_conflict const& one : of.conflicts()) { all.push_back(tuple_of(one)); }
    return all;
}

std::vector<obstacle_tuple> windows_left_out_of(planting_windows const& of) {
    std::vector<obstacle_tuple> all;
    for (obstacle const& one : of.left_out()) {
        all.emplace_back(one.succession, one.code, one.sentence, one.cure);
    }
    return all;
}

/// The cures of the conflict with this number.
std::vector<window_cure_tuple> window_cures_of(planting_windows const& of, std::size_t number) {
    std::vector<cure> found;
    {
        py::gil_scoped_release const unlocked;
        found = of.cures(of.conflicts().at(number));
    }
    std::vector<window_cure_tuple> all;
    for (cure const& one : found) { all.emplace_back(tuple_of(one.what), one.days, one.sentence); }
    return all;
}

std::vector<std::tuple<requirement_tuple, std::vector<int>>> failures_of(window_years const& of) {
    std::vector<std::tuple<requirement_tuple, std::vector<int>>> all;
    for (window_failure const& one : of.failures()) {
        all.emplace_back(tuple_of(one.broken), one.years);
    }
    return all;
}

/// (succession, years, needed, possible, failures, year, proof, cures, sentence).
using unresolved_tuple =
    std::tuple<std::string, int, int, int,
               std::vector<std::tuple<requirement_tuple, std::vector<int>>>, int, conflict_tuple,
               std::vector<window_cure_tuple>, std::string>;

std::optional<unresolved_tuple> why_of(calendar const& of, std::string const& succession) {
    std::optional<unresolved_conflict> found;
    {
        py::gil_scoped_release const unlocked;
        found = why_unresolved(of, succession);
    }
    if (!found) { return std::nullopt; }
    std::vector<std::tuple<requirement_tuple, std::vector<int>>> failures;
    for (window_failure const& one : found->failures) {
        failures.emplace_back(tuple_of(one.broken), one.years);
    }
    std::vector<window_cure_tuple> cures;
    for (cure const& one : found->cures) {
        cures.emplace_back(tuple_of(one.what), one.days, one.sentence);
    }
    return unresolved_tuple{found->succession,      found->years, found->needed,
                            found->possible,        failures,     found->year,
                            tuple_of(found->proof), cures,        found->sentence};
}

/// Days of slack as numbers, NaN for none.
py::array_t<double> slacks_of(window_years const& of, std::string const& succession,
                              std::string const& event) {
    std::vector<double> days;
    for (std::optional<int> const& one : of.slack(succession, event)) {
        days.push_back(one ? *one : std::numeric_limits<double>::quiet_NaN());
    }
    return py::array_t<double>{static_cast<py::ssize_t>(days.size()), days.data()};
}

void register_one_year(py::module_& m) {
    using text = std::string const&;
    py::class_<planting_windows>(m, "PlantingWindows")
        .def_property_readonly("year", &planting_windows::year)
        .def_property_readonly("calendar", &planting_windows::calendar)
        .def_property_readonly("feasible", [](planting_windows const& of) { return of.feasible(); })
        .def(
            "is_feasible",
            [](planting_windows const& of, text succession) { return of.feasible(succession); },
            "succession"_a)
        .def(
            "earliest",
            [](planting_windows const& of, text succession, text event) {
                return of.earliest(succession, event);
            },
            "succession"_a, "event"_a)
        .def(
            "latest",
            [](planting_windows const& of, text succession, text event) {
                return of.latest(succession, event);
            },
            "succession"_a, "event"_a)
        .def(
            "slack",
            [](planting_windows const& of, text succession, text event) {
                return of.slack(succession, event);
            },
            "succession"_a, "event"_a)
        .def(
            "free_slack",
            [](planting_windows const& of, text succession, text event) {
                return of.free_slack(succession, event);
            },
            "succession"_a, "event"_a)
        .def("tightest_chains", &chains_of, "most"_a)
        .def(
            "chain_of",
            [](planting_windows const& of, text succession, text event) {
                return tuple_of(of.chain_of(succession, event));
            },
            "succession"_a, "event"_a)
        .def_property_readonly("conflicts", &conflicts_of)
        .def_property_readonly("left_out", &windows_left_out_of)
        .def("cures", &window_cures_of, "conflict"_a)
        .def("to_dot", [](planting_windows const& of) { return to_dot(of); })
        .def("__str__", [](planting_windows const& of) { return to_string(of); });
    m.def(
        "planting_windows",
        [](calendar const& of, int year) {
            return planting_windows{of, year};
        },
        "calendar"_a, "year"_a, py::call_guard<py::gil_scoped_release>());
}

void register_all_years(py::module_& m) {
    using text = std::string const&;
    py::class_<window_years>(m, "WindowYears")
        .def_property_readonly("calendar", &window_years::calendar)
        .def_property_readonly("years", &window_years::years)
        .def(
            "feasible_years",
            [](window_years const& of, text succession) { return of.feasible_years(succession); },
            "succession"_a)
        .def(
            "earliest",
            [](window_years const& of, text succession, text event) {
                return to_day_array(of.earliest(succession, event));
            },
            "succession"_a, "event"_a)
        .def(
            "latest",
            [](window_years const& of, text succession, text event) {
                return to_day_array(of.latest(succession, event));
            },
            "succession"_a, "event"_a)
        .def("slack", &slacks_of, "succession"_a, "event"_a)
        .def(
            "slack_in",
            [](window_years const& of, text succession, text event, double share) {
                return of.slack_in(succession, event, reliability{share});
            },
            "succession"_a, "event"_a, "share"_a)
        .def_property_readonly("failures", &failures_of)
        .def("tightest_chains", &chains_of_years, "most"_a)
        .def("__str__", [](window_years const& of) { return to_string(of); });
    m.def(
        "window_years",
        [](calendar const& of, int threads) {
            return window_years{of, threads};
        },
        "calendar"_a, "threads"_a, py::call_guard<py::gil_scoped_release>());
}

}  // namespace

void register_windows(py::module_& m) {
    register_one_year(m);
    register_all_years(m);
    m.def("why_unresolved", &why_of, "calendar"_a, "succession"_a);
}
