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

#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>
#include <epicotyl/season/windows/why_unresolved.hpp>
#include <epicotyl/season/windows/window_years.hpp>

#include "casters.hpp"
#include "register.hpp"
#include "shared_results.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

template <>
struct bound<requirement> {
    static constexpr char name[] = "Requirement";
    static constexpr char doc[] = "One line of a plan as the season sees it.";
    static auto fields() {
        return std::tuple{
            field{"kind", &requirement::kind,
                  "`season_start`, `not_before`, `not_after`, `target`, `stage`, `hold`, `link` or "
                  "`within`; in `why_unresolved` also `planned` (a day that `schedule` keeps, "
                  "because enough years allow no earlier one) and `season_end`."},
            field{"succession", &requirement::succession, "Whose event it bounds."},
            field{"event", &requirement::event, "The event."},
            field{"from_succession", &requirement::from_succession,
                  "What it counts from; empty for a bound."},
            field{"from_event", &requirement::from_event, "The event that it counts from."},
            field{"is_upper", &requirement::is_upper,
                  "It says \"no later than\"; else \"no earlier than\"."},
            field{"sentence", &requirement::sentence,
                  "In words, in the units of the plan. `str` gives it."},
            field{"field", &requirement::field,
                  "Where the plan says it, such as `succession[3].not_before.transplant`."},
            field{"line", &requirement::line, "Of the plan's file; 0 where there is none."}};
    }
};

template <>
struct bound<conflict_step> {
    static constexpr char name[] = "ConflictStep";
    static constexpr char doc[] =
        "Because of a requirement, an event comes no earlier (or no later) than a day.";
    static auto fields() {
        return std::tuple{
            field{"because", &conflict_step::because, "The requirement."},
            field{"succession", &conflict_step::succession, "Whose event."},
            field{"event", &conflict_step::event, "The event."},
            field{"no_sooner", &conflict_step::no_sooner, "Else no later."},
            field{"when", &conflict_step::when, "The day; None: beyond the season."},
            field{"turns", &conflict_step::turns,
                  "More than one where a cycle of steps is gone through several times, each "
                  "gaining a little; `when` is then the day after the last."}};
    }
};

template <>
struct bound<season_conflict> {
    static constexpr char name[] = "SeasonConflict";
    static constexpr char doc[] =
        "Requirements that cannot all be met, as a proof; none of them can be left out.";
    static auto fields() {
        return std::tuple{
            field{"successions", tuple_of(&season_conflict::successions), "Those that it names."},
            field{"steps", tuple_of(&season_conflict::steps), "From a bound, step by step."},
            field{"broken", &season_conflict::broken, "The bound that the last step breaks."},
            field{"allowed", &season_conflict::allowed, "The day that it allows."},
            field{"sentence", &season_conflict::sentence, "All of it in words. `str` gives it."}};
    }
};

template <>
struct bound<cure> {
    static constexpr char name[] = "Cure";
    static constexpr char doc[] = "A requirement that, giving way by some days, cures a conflict.";
    static auto fields() {
        return std::tuple{field{"what", &cure::what, "The requirement."},
                          field{"days", &cure::days, "The fewest days that do."},
                          field{"sentence", &cure::sentence, "In words. `str` gives it."}};
    }
};

template <>
struct bound<chain_event> {
    static constexpr char name[] = "ChainEvent";
    static constexpr char doc[] = "An event on a tightest chain.";
    static auto fields() {
        return std::tuple{
            field{"succession", &chain_event::succession, "Whose event."},
            field{"event", &chain_event::event, "The event."},
            field{"earliest", &chain_event::earliest, "Its first day."},
            field{"latest", &chain_event::latest,
                  "Its last day; None: nothing keeps it within the season."},
            field{"tie", &chain_event::tie,
                  "What holds it against the event before it, or the bound that the chain begins "
                  "with."}};
    }
};

template <>
struct bound<tightest_chain> {
    static constexpr char name[] = "TightestChain";
    static constexpr char doc[] =
        "What leaves a decision its room, from what keeps it from its left to what from its right.";
    static auto fields() {
        return std::tuple{
            field{"events", tuple_of(&tightest_chain::events),
                  "In order; empty when there is no chain. A chain that turns, as where plants may "
                  "wait a little for the day of their target, meets the events behind the turn "
                  "twice."},
            field{"end", &tightest_chain::end, "What keeps the last from being later."},
            field{"slack", &tightest_chain::slack,
                  "Days by which all its decisions may slip together before something breaks."},
            field{"free_slack", &tightest_chain::free_slack,
                  "So many of them [days] without moving any other decision."},
            field{"middle", &tightest_chain::middle,
                  "Place in `events` of the decision that has so little slack."},
            field{"crosses_links", &tightest_chain::crosses_links,
                  "Whether it goes through more than one succession."}};
    }
};

template <>
struct bound<chain_in_years> {
    static constexpr char name[] = "ChainInYears";
    static constexpr char doc[] =
        "A tightest chain, and the season years in which it leaves a decision its room.";
    static auto fields() {
        return std::tuple{
            field{"chain", &chain_in_years::chain, "As it is in the first of these years."},
            field{"years", &chain_in_years::years, "Season years in which it is tight, ascending."},
            field{"slacks", &chain_in_years::slacks, "Its slack in each of them [days]."},
            field{"usual_slack", &chain_in_years::usual_slack,
                  "As much or less in half of them [days]."}};
    }
};

template <>
struct bound<window_failure> {
    static constexpr char name[] = "WindowFailure";
    static constexpr char doc[] = "A requirement that season years fail at.";
    static auto fields() {
        return std::tuple{field{"broken", &window_failure::broken,
                                "The bound that the conflict of each of them ends with."},
                          field{"years", &window_failure::years, "The season years, ascending."}};
    }
};

template <>
struct bound<unresolved_conflict> {
    static constexpr char name[] = "UnresolvedConflict";
    static constexpr char doc[] =
        "Why too few season years of a succession are good, and what would help.";
    static auto fields() {
        return std::tuple{
            field{"succession", &unresolved_conflict::succession,
                  "Whose requirements they are: the succession asked about, or the one without "
                  "days that it waits for."},
            field{"years", &unresolved_conflict::years, "Season years."},
            field{"needed", &unresolved_conflict::needed, "So many of them must be good."},
            field{"possible", &unresolved_conflict::possible, "So many can be."},
            field{"failures", tuple_of(&unresolved_conflict::failures),
                  "What the others fail at, most years first."},
            field{"year", &unresolved_conflict::year, "The season year that is told."},
            field{"proof", &unresolved_conflict::proof,
                  "Of that year; it names nothing that can be left out."},
            field{"cures", tuple_of(&unresolved_conflict::cures),
                  "Each alone gives the succession its days when it is typed; fewest days first."},
            field{"sentence", &unresolved_conflict::sentence,
                  "All of it in words. `str` gives it."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

/// The cures of the conflict with this number.
std::vector<cure> cures_of(planting_windows const& of, std::size_t number) {
    return of.cures(of.conflicts().at(number));
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
        .def("earliest", &planting_windows::earliest, "succession"_a, "event"_a)
        .def("latest", &planting_windows::latest, "succession"_a, "event"_a)
        .def("slack", &planting_windows::slack, "succession"_a, "event"_a)
        .def("free_slack", &planting_windows::free_slack, "succession"_a, "event"_a)
        .def("tightest_chains", &planting_windows::tightest_chains, "most"_a,
             py::call_guard<py::gil_scoped_release>())
        .def("chain_of", &planting_windows::chain_of, "succession"_a, "event"_a)
        .def_property_readonly("conflicts", &planting_windows::conflicts)
        .def_property_readonly("left_out", &planting_windows::left_out)
        .def("cures", &cures_of, "conflict"_a, py::call_guard<py::gil_scoped_release>())
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
        .def("feasible_years", &window_years::feasible_years, "succession"_a)
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
        .def_property_readonly("failures", &window_years::failures)
        .def(
            "tightest_chains",
            [](window_years const& of, int most) { return of.tightest_chains(most); }, "most"_a,
            py::call_guard<py::gil_scoped_release>())
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
    add_result<requirement>(m);
    add_result<conflict_step>(m);
    add_result<season_conflict>(m);
    add_result<cure>(m);
    add_result<chain_event>(m);
    add_result<tightest_chain>(m);
    add_result<chain_in_years>(m);
    add_result<window_failure>(m);
    add_result<unresolved_conflict>(m);
    register_one_year(m);
    register_all_years(m);
    m.def("why_unresolved", &why_unresolved, "calendar"_a, "succession"_a,
          py::call_guard<py::gil_scoped_release>());
}
