// Season: calendars, prospects, reasons.
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/days/explain.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/open_season.hpp>
#include <epicotyl/season/windows/explain_windows.hpp>
#include <epicotyl/season/windows/typed_cure.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/climate.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "plan_units.hpp"
#include "register.hpp"
#include "shared_results.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

template <>
struct bound<reason> {
    using named_values = py::typing::Dict<std::string, reason_value>;
    static constexpr char name[] = "Reason";
    static constexpr char doc[] =
        "Why a day is that day: one link of the chain that `explain` gives.";
    static auto fields() {
        return std::tuple{
            field{"succession", &reason::succession, "Whose day it is about."},
            field{"event", &reason::event, "Which of its events."},
            field{"code", &reason::code, "Stable code, such as `bound.risk`."},
            field{"values",
                  [](reason const& of) {
                      named_values values;
                      for (auto const& [word, value] : of.values) { values[py::str{word}] = value; }
                      return values;
                  },
                  "Named numbers, days and names; temperatures in the units of the plan."},
            field{"sentence", &reason::sentence,
                  "The reason in words, in the units of the plan. `str` gives it."}};
    }
};

template <>
struct bound<sowing_claim> {
    static constexpr char name[] = "SowingClaim";
    static constexpr char doc[] =
        "What a planned sowing claims, counted on the season years of the record.";
    static auto fields() {
        return std::tuple{
            field{"years", &sowing_claim::years, "Season years."},
            field{"needed", &sowing_claim::needed, "Years that the reliability asks for."},
            field{"good", &sowing_claim::good, "Years in which the target and its bounds are met."},
            field{"link_days_kept", &sowing_claim::link_days_kept,
                  "Years whose links allow the planned sowing."},
            field{"good_one_day_later", &sowing_claim::good_one_day_later,
                  "The count that breaks when the sowing is a day later; the succession's own "
                  "where none does."},
            field{"broken", &sowing_claim::broken,
                  "The succession whose count breaks; empty when none does."},
            field{"broken_claim", &sowing_claim::broken_claim,
                  "`target`, `links` or `harvest` (years in harvest that another would lose); "
                  "empty where none does."}};
    }
};

template <>
struct bound<linked_group> {
    static constexpr char name[] = "LinkedGroup";
    static constexpr char doc[] =
        "Successions that wait for one another, and how often all of them are good together.";
    static auto fields() {
        return std::tuple{
            field{"successions", &linked_group::successions, "Their names."},
            field{"good", &linked_group::good, "Season years in which every one is good."},
            field{"years", &linked_group::years, "Season years."}};
    }
};

template <>
struct bound<link_count> {
    static constexpr char name[] = "LinkCount";
    static constexpr char doc[] = "A link with a longest wait, and how often it is kept.";
    static auto fields() {
        return std::tuple{
            field{"first", &link_count::first, "Its first end, such as `peas 1: clear`."},
            field{"then", &link_count::then, "Its other end."},
            field{"within", &link_count::within, "Longest wait [days]."},
            field{"kept", &link_count::kept, "Season years in which it is kept."},
            field{"years", &link_count::years, "Season years."}};
    }
};

template <>
struct bound<typed_cure> {
    static constexpr char name[] = "TypedCure";
    static constexpr char doc[] =
        "What would give a succession its days, as it is typed into the plan.";
    static auto fields() {
        return std::tuple{
            field{
                "code", &typed_cure::code,
                "What is typed: `target` (its day, `when`; a rule without a date becomes `from`), "
                "`target_sooner` (the same, sooner than it was asked: the latest such day), "
                "`not_before` or `not_after` (a bound on `event`), `reliability`, `risk` and "
                "`target_risk` (a share, `number`), `no_risk` (`risk = false`), `season_days` "
                "(`number` days), `season_start` (`when`, with `number` days of season). Not "
                "typed by a number: `requirement` (one that gives way by `number` days, see "
                "`why_unresolved`), `first` (the succession that is to be helped first), "
                "`advice`."},
            field{"succession", &typed_cure::succession,
                  "Name of the succession as it is written; that of its crop where it has none."},
            field{"event", &typed_cure::event, "Of a bound, else empty."},
            field{"when", &typed_cure::when, "The day."},
            field{"number", &typed_cure::number, "A share, or days."},
            field{"is_or_later", &typed_cure::is_or_later,
                  "Every later day of the season does as well."},
            field{"sentence", &typed_cure::sentence, "The cure in words. `str` gives it."}};
    }
};

/// Python adds a share (epicotyl/_reports.py).
template <>
struct bound<damage_report> {
    using report = damage_report;
    static constexpr char name[] = "DamageReport";
    static constexpr char doc[] = "Cold (or heat) that hurts, counted over season years.";
    static auto fields() {
        return std::tuple{
            field{"years", &report::years, "Season years."},
            field{"damaged", &report::damaged, "Years with at least one such night (day)."},
            field{"first", days_of(&report::first),
                  "First one of each year, on the plan's dates; NaT where there is none."},
            field{"margin", array_of(&report::margin),
                  "Closest approach of each year [K or °F warmer, as the plan]; 0 or below is "
                  "damage. "
                  "NaN where no stage "
                  "with a limit was reached."},
            field{"damaged_heater_off", &report::damaged_heater_off,
                  "`damaged` with the days of the plants alike, had the heaters been off."},
            field{"first_heater_off", days_of(&report::first_heater_off),
                  "`first`, had the heaters been off."},
            field{"margin_heater_off", array_of(&report::margin_heater_off),
                  "`margin`, had the heaters been off."},
            field{"damaged_cover_off", &report::damaged_cover_off,
                  "`damaged`, had nothing been done on cold nights."},
            field{"first_cover_off", days_of(&report::first_cover_off),
                  "`first`, had nothing been done on cold nights."},
            field{"margin_cover_off", array_of(&report::margin_cover_off),
                  "`margin`, had nothing been done on cold nights."}};
    }
};

/// Python adds a share (epicotyl/_reports.py).
template <>
struct bound<overheld_report> {
    static constexpr char name[] = "OverheldReport";
    static constexpr char doc[] = "Plants that waited longer than their `hold` (root-bound risk).";
    static auto fields() {
        return std::tuple{field{"years", &overheld_report::years, "Season years."},
                          field{"overheld", &overheld_report::overheld,
                                "Years in which any stage was held too long."},
                          field{"longest", array_of(&overheld_report::longest),
                                "Most days over the hold in each year; 0: none."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

using text = std::optional<std::string>;
using season_tuple = std::tuple<plan, climate, calendar, prospect>;

py::array_t<int> array_of(std::vector<int> const& values) {
    return py::array_t<int>{static_cast<py::ssize_t>(values.size()), values.data()};
}

std::optional<std::string_view> view(text const& of) {
    return of ? std::optional<std::string_view>{*of} : std::nullopt;
}

std::optional<reliability> reliability_of(std::optional<double> wanted) {
    return wanted ? std::optional{reliability{*wanted}} : std::nullopt;
}

/// [event][year] on the plan's own dates.
py::array all_days(prospect const& of) {
    std::int64_t const start = of.calendar().plan().window().start().time_since_epoch().count();
    std::vector<std::int64_t> counts;
    counts.reserve(of.days_all().size());
    for (std::int16_t const offset : of.days_all()) {
        counts.push_back(offset >= never ? not_a_day : start + offset);
    }
    auto const years = static_cast<py::ssize_t>(of.years().size());
    return to_day_array({static_cast<py::ssize_t>(counts.size()) / years, years}, counts);
}

void register_calendar(py::module_& m) {
    py::class_<calendar>(m, "Calendar")
        .def_property_readonly("plan", &calendar::plan)
        .def_property_readonly("climate", &calendar::climate)
        .def_property_readonly("origin", &calendar::origin)
        .def_property_readonly("reliability",
                               [](calendar const& of) { return of.reliability().value(); })
        .def(
            "date",
            [](calendar const& of, std::string const& succession, std::string const& event) {
                return of.date(succession, event);
            },
            "succession"_a, "event"_a)
        .def_property_readonly("events", &calendar::events)
        .def_property_readonly("unresolved",
                               [](calendar const& of) {
                                   // Cures are sought when they are first asked for.
                                   return without_lock([&] { return of.unresolved(); });
                               })
        .def("cures", &typed_cures, "succession"_a, py::call_guard<py::gil_scoped_release>())
        .def("require", &calendar::require, py::call_guard<py::gil_scoped_release>())
        .def("claim", &calendar::claim, "succession"_a)
        .def_property_readonly("groups", &calendar::groups)
        .def_property_readonly("within_counts", &calendar::within_counts)
        .def_property_readonly("warnings", &calendar::warnings)
        .def(
            "__str__", [](calendar const& of) { return to_string(of); },
            py::call_guard<py::gil_scoped_release>());
}

void register_prospect(py::module_& m) {
    py::class_<prospect>(m, "Prospect")
        .def_property_readonly("calendar", &prospect::calendar)
        .def_property_readonly("climate", &prospect::climate)
        .def_property_readonly("origin", &prospect::origin)
        .def_property_readonly("years", &prospect::years)
        .def_property_readonly("events", &prospect::events)
        .def_property_readonly("days_all", &all_days)
        .def(
            "days",
            [](prospect const& of, std::string const& succession, std::string const& event) {
                return to_day_array(of.days(succession, event));
            },
            "succession"_a, "event"_a)
        .def(
            "quantile",
            [](prospect const& of, std::string const& succession, std::string const& event,
               double q) { return of.quantile(succession, event, quantile_level{q}); },
            "succession"_a, "event"_a, "q"_a)
        .def("chance_by", &prospect::chance_by, "succession"_a, "event"_a, "when"_a)
        .def(
            "lost",
            [](prospect const& of, std::string const& succession) {
                return to_day_array(of.lost(succession));
            },
            "succession"_a)
        .def(
            "damage",
            [](prospect const& of, std::string const& succession, text const& event) {
                return turned{of.calendar().plan()}(of.damage(succession, view(event)));
            },
            "succession"_a, "event"_a)
        .def(
            "too_hot",
            [](prospect const& of, std::string const& succession, text const& event) {
                return turned{of.calendar().plan()}(of.too_hot(succession, view(event)));
            },
            "succession"_a, "event"_a)
        .def("overheld", &prospect::overheld, "succession"_a)
        .def(
            "nights_to_act",
            [](prospect const& of, text const& place, text const& succession) {
                return array_of(of.nights_to_act(view(place), view(succession)));
            },
            "place"_a, "succession"_a)
        .def(
            "nights_to_act_text",
            [](prospect const& of, text const& place, text const& succession) {
                return nights_to_act_text(of, view(place), view(succession));
            },
            "place"_a, "succession"_a)
        .def("__str__", [](prospect const& of) { return to_string(of); });
}

}  // namespace

void register_season(py::module_& m) {
    add_result<reason>(m);
    add_result<sowing_claim>(m);
    add_result<linked_group>(m);
    add_result<link_count>(m);
    add_result<typed_cure>(m);
    add_result<damage_report>(m);
    add_result<overheld_report>(m);
    register_calendar(m);
    register_prospect(m);
    register_windows(m);
    register_compare(m);
    register_stagger(m);
    register_harvest(m);
    register_sweep(m);

    // The lock is released around the numeric core only. That is safe because plans, climates and
    // calendars are immutable, hold nothing of Python, and are kept alive by the arguments; because
    // their shared parts count their owners atomically; and because results become Python objects
    // after the lock is back.
    m.def(
        "schedule",
        [](plan const& of, climate const& under, std::optional<double> wanted) {
            return schedule(of, under, reliability_of(wanted));
        },
        "plan"_a, "climate"_a, "reliability"_a, py::call_guard<py::gil_scoped_release>());
    m.def("simulate", &simulate, "calendar"_a, "climate"_a, "threads"_a,
          py::call_guard<py::gil_scoped_release>());
    m.def(
        "open_season",
        [](std::filesystem::path const& path, std::optional<double> wanted,
           std::optional<std::filesystem::path> weather, std::optional<double> where, text station,
           std::optional<bool> whole_fahrenheit) {
            open_season_options options{.wanted = reliability_of(wanted),
                                        .weather = std::move(weather),
                                        .station = std::move(station),
                                        .whole_fahrenheit = whole_fahrenheit};
            if (where) { options.where = latitude{*where}; }
            opened_season const opened = open_season(path, options);
            return season_tuple{opened.plan, opened.climate, opened.calendar, opened.prospect};
        },
        "path"_a, "reliability"_a, "weather"_a, "latitude"_a, "station"_a, "whole_fahrenheit"_a,
        py::call_guard<py::gil_scoped_release>());
    m.def("climate_from_normals", &climate_from_normals, "plan"_a,
          py::call_guard<py::gil_scoped_release>());
    using text_of = std::string const&;
    m.def(
        "explain",
        [](calendar const& of, text_of succession, text_of event) {
            return explain(of, succession, event);
        },
        "calendar"_a, "succession"_a, "event"_a);
    m.def(
        "explain_windows",
        [](planting_windows const& of, text_of succession, text_of event) {
            return explain(of, succession, event);
        },
        "windows"_a, "succession"_a, "event"_a);
}
