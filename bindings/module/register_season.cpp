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
#include "register.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using text = std::optional<std::string>;
using obstacle_tuple = std::tuple<std::string, std::string, std::string, std::string>;
using claim_tuple = std::tuple<int, int, int, int, int, std::string, std::string>;
using group_tuple = std::tuple<std::vector<std::string>, int, int>;
/// (code, succession, event, when, number, is_or_later, sentence).
using cure_tuple = std::tuple<std::string, std::string, std::string, std::optional<day>, double,
                              bool, std::string>;
using within_tuple = std::tuple<std::string, std::string, double, int, int>;
/// (succession, event, code, values, sentence).
using reason_tuple = std::tuple<std::string, std::string, std::string, py::dict, std::string>;
/// (years, then damaged, first, margin: as it is, with heaters off, with covers off).
using damage_tuple = std::tuple<int, int, py::array, py::array_t<double>, int, py::array,
                                py::array_t<double>, int, py::array, py::array_t<double>>;
using overheld_tuple = std::tuple<int, int, py::array_t<int>>;
using season_tuple = std::tuple<plan, climate, calendar, prospect>;

template <class Number>
py::array_t<Number> array_of(std::vector<Number> const& values) {
    return py::array_t<Number>{static_cast<py::ssize_t>(values.size()), values.data()};
}

std::optional<std::string_view> view(text const& of) {
    return of ? std::optional<std::string_view>{*of} : std::nullopt;
}

std::optional<reliability> reliability_of(std::optional<double> wanted) {
    return wanted ? std::optional{reliability{*wanted}} : std::nullopt;
}

std::vector<obstacle_tuple> obstacles_of(calendar const& of) {
    {
        // Cures are sought when they are first asked for.
        py::gil_scoped_release const unlocked;
        (void)of.unresolved();
    }
    std::vector<obstacle_tuple> all;
    for (obstacle const& one : of.unresolved()) {
        all.emplace_back(one.succession, one.code, one.sentence, one.cure);
    }
    return all;
}

std::vector<cure_tuple> cures_of(calendar const& of, std::string const& succession) {
    std::vector<typed_cure> found;
    {
        py::gil_scoped_release const unlocked;
        found = typed_cures(of, succession);
    }
    std::vector<cure_tuple> all;
    for (typed_cure const& one : found) {
        all.emplace_back(one.code, one.succession, one.event, one.when, one.number, one.is_or_later,
                         one.sentence);
    }
    return all;
}

std::optional<claim_tuple> claim_of(calendar const& of, std::string const& succession) {
    std::optional<sowing_claim> const claim = of.claim(succession);
    if (!claim) { return std::nullopt; }
    return claim_tuple{claim->years,
                       claim->needed,
                       claim->good,
                       claim->link_days_kept,
                       claim->good_one_day_later,
                       claim->broken,
                       claim->broken_claim};
}

std::vector<group_tuple> groups_of(calendar const& of) {
    std::vector<group_tuple> all;
    for (linked_group const& one : of.groups()) {
        all.emplace_back(one.successions, one.good, one.years);
    }
    return all;
}

std::vector<within_tuple> within_of(calendar const& of) {
    std::vector<within_tuple> all;
    for (link_count const& one : of.within_counts()) {
        all.emplace_back(one.first, one.then, one.within, one.kept, one.years);
    }
    return all;
}

/// Of a calendar or of planting windows.
template <class Of>
std::vector<reason_tuple> reasons_of(Of const& of, std::string const& succession,
                                     std::string const& event) {
    std::vector<reason_tuple> all;
    for (reason const& one : explain(of, succession, event)) {
        py::dict values;
        for (auto const& [name, value] : one.values) {
            values[py::str{name}] =
                std::visit([](auto const& held) { return py::cast(held); }, value);
        }
        all.emplace_back(one.succession, one.event, one.code, values, one.sentence);
    }
    return all;
}

damage_tuple tuple_of(damage_report const& report) {
    return {report.years,
            report.damaged,
            to_day_array(report.first),
            array_of(report.margin),
            report.damaged_heater_off,
            to_day_array(report.first_heater_off),
            array_of(report.margin_heater_off),
            report.damaged_cover_off,
            to_day_array(report.first_cover_off),
            array_of(report.margin_cover_off)};
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
        .def_property_readonly("unresolved", &obstacles_of)
        .def("cures", &cures_of, "succession"_a)
        .def("require", &calendar::require, py::call_guard<py::gil_scoped_release>())
        .def("claim", &claim_of, "succession"_a)
        .def_property_readonly("groups", &groups_of)
        .def_property_readonly("within_counts", &within_of)
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
        .def(
            "chance_by",
            [](prospect const& of, std::string const& succession, std::string const& event,
               day when) { return of.chance_by(succession, event, when); },
            "succession"_a, "event"_a, "when"_a)
        .def(
            "lost",
            [](prospect const& of, std::string const& succession) {
                return to_day_array(of.lost(succession));
            },
            "succession"_a)
        .def(
            "damage",
            [](prospect const& of, std::string const& succession, text const& event) {
                return tuple_of(of.damage(succession, view(event)));
            },
            "succession"_a, "event"_a)
        .def(
            "too_hot",
            [](prospect const& of, std::string const& succession, text const& event) {
                return tuple_of(of.too_hot(succession, view(event)));
            },
            "succession"_a, "event"_a)
        .def(
            "overheld",
            [](prospect const& of, std::string const& succession) {
                overheld_report const report = of.overheld(succession);
                return overheld_tuple{report.years, report.overheld, array_of(report.longest)};
            },
            "succession"_a)
        .def(
            "nights_to_act",
            [](prospect const& of, text const& place, text const& succession) {
                return array_of(of.nights_to_act(view(place), view(succession)));
            },
            "place"_a, "succession"_a)
        .def("__str__", [](prospect const& of) { return to_string(of); });
}

}  // namespace

void register_season(py::module_& m) {
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
    m.def("explain", &reasons_of<calendar>, "calendar"_a, "succession"_a, "event"_a);
    m.def("explain_windows", &reasons_of<planting_windows>, "windows"_a, "succession"_a, "event"_a);
}
