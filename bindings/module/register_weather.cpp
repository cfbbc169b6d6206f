// Weather: records, their readers, what is made of records, climates.
#include <algorithm>
#include <array>
#include <cstddef>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <epicotyl/units.hpp>
#include <epicotyl/weather/adjust.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>
#include <epicotyl/weather/quality.hpp>
#include <epicotyl/weather/splice.hpp>

#include "casters.hpp"
#include "options.hpp"
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
struct bound<missing_run> {
    static constexpr char name[] = "MissingRun";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] =
        "A run of days on which the minimum, the maximum or both are missing.";
    static auto fields() {
        return std::tuple{field{"first", &missing_run::first, "First day of the run."},
                          field{"length", &missing_run::length, "Days."}};
    }
};

/// Python adds shares (epicotyl/_adjust.py).
template <>
struct bound<record_quality> {
    static constexpr char name[] = "RecordQuality";
    static constexpr char doc[] =
        "What a record holds and lacks, made by `quality`; `str` is a sheet. All counts are days "
        "unless they say otherwise.";
    static auto fields() {
        return std::tuple{
            field{"name", &record_quality::name, "The station."},
            field{"origin", &record_quality::origin,
                  "How the values were made; empty when they were measured."},
            field{"first", &record_quality::first, "First day."},
            field{"last", &record_quality::last, "Last day."},
            field{"size", &record_quality::size, "From the first to the last, both included."},
            field{"whole_years", &record_quality::whole_years,
                  "Calendar years that lie within the record from end to end."},
            field{"missing_minima", &record_quality::missing_minima, "Without a minimum."},
            field{"missing_maxima", &record_quality::missing_maxima, "Without a maximum."},
            field{"missing_both", &record_quality::missing_both,
                  "Without either; counted in both others too."},
            field{"runs", &record_quality::runs, "Runs of days that lack either or both."},
            field{"longest_run", &record_quality::longest_run, "The earliest of the longest."},
            field{"inverted", &record_quality::inverted, "Minimum above maximum."},
            field{"leap_days", &record_quality::leap_days, "29 February."},
            field{"missing_leap_days", &record_quality::missing_leap_days,
                  "29 February without either value."},
            field{"not_whole_fahrenheit", &record_quality::not_whole_fahrenheit,
                  "Minima and maxima (not days) that come from no whole °F: about 8 in 10 of a "
                  "station read in °C, hardly any of one read in °F."},
            field{"max_gap", &record_quality::max_gap, "Longest gap that is filled [days]."},
            field{"filled_minima", &record_quality::filled_minima,
                  "Minima that filling gives, those of inverted days included."},
            field{"filled_maxima", &record_quality::filled_maxima,
                  "Maxima that filling gives, those of inverted days included."},
            field{"unfilled_minima", &record_quality::unfilled_minima,
                  "Still without a minimum that can be used."},
            field{"unfilled_maxima", &record_quality::unfilled_maxima,
                  "Still without a maximum that can be used."},
            field{"text", in_words, "All of this in lines. `str` gives it."}};
    }
};

template <>
struct bound<spliced_element> {
    static constexpr char name[] = "SplicedElement";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] =
        "Where the minima, or the maxima, of a spliced record came from; counts are days.";
    static auto fields() {
        return std::tuple{
            field{"from_first", &spliced_element::from_first, "Of the first station."},
            field{"from_second", &spliced_element::from_second, "Of the second."},
            field{"missing", &spliced_element::missing, "Neither has a value."},
            field{"overlap", &spliced_element::overlap, "Both have one; the first's was taken."},
            field{"mean_difference", &spliced_element::mean_difference,
                  "First less second [K], mean over the overlap; None when there is no such day."},
            field{"added", &spliced_element::added,
                  "Added to the second's values [K]; 0 unless asked for."}};
    }
};

template <>
struct bound<splice_report> {
    static constexpr char name[] = "SpliceReport";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] =
        "What of a spliced record came from where; `str` says it in lines.";
    static auto fields() {
        return std::tuple{
            field{"first", &splice_report::first, "The station."},
            field{"second", &splice_report::second, "The station."},
            field{"minimum", &splice_report::minimum, "Where the minima came from."},
            field{"maximum", &splice_report::maximum, "Where the maxima came from."},
            field{"mixed", &splice_report::mixed, "Days with one value of each station."},
            field{"mixed_inverted", &splice_report::mixed_inverted,
                  "Those of the mixed days whose minimum stands above the maximum; they count as "
                  "gaps."},
            field{"text", in_words, "All of this in lines."}};
    }
};

template <>
struct bound<left_out_year> {
    static constexpr char name[] = "LeftOutYear";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] = "A season year that was asked for and cannot be used.";
    static auto fields() {
        return std::tuple{field{"year", &left_out_year::year, "The year in which it begins."},
                          field{"element", &left_out_year::element,
                                "What is missing: `minimum`, `maximum` or `minimum and maximum`."},
                          field{"first", &left_out_year::first, "First day without a value."},
                          field{"length", &left_out_year::length, "Days without a value."},
                          field{"sentence", &left_out_year::sentence, "All of this in words."}};
    }
};

template <>
struct bound<filled_days> {
    static constexpr char name[] = "FilledDays";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] = "Days of the season years that had no value of their own.";
    static auto fields() {
        return std::tuple{field{"minimum", &filled_days::minimum, "Days whose minimum was filled."},
                          field{"maximum", &filled_days::maximum, "Days whose maximum was filled."},
                          field{"inverted", &filled_days::inverted,
                                "Those of them whose minimum stood above the maximum."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

using any_numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;
std::vector<double> copied(any_numbers const& array) {
    return {array.data(), array.data() + array.size()};
}

daily_record read_table(std::filesystem::path const& path, std::string date, std::string tmin,
                        std::string tmax, std::optional<std::string> const& unit,
                        std::string name) {
    static constexpr std::array<std::string_view, 2> words = {"celsius", "fahrenheit"};
    daily_csv_options options{
        .date = std::move(date), .tmin = std::move(tmin), .tmax = std::move(tmax)};
    options.name = std::move(name);
    if (unit) { options.unit = enum_of<temperature_unit>(*unit, words, "unit"); }
    return without_lock([&] { return read_daily_csv(path, options); });
}

/// The years that were asked of a climate's record, which make an equal climate again.
std::pair<int, int> asked_years(climate const& of) {
    int first = of.years().front();
    int last = of.years().back();
    for (left_out_year const& one : of.left_out()) {
        first = std::min(first, one.year);
        last = std::max(last, one.year);
    }
    return {first, last};
}

/// The season years one below the other: all minima, or all maxima.
py::array season_table(py::object const& self, bool minima) {
    climate const& of = self.cast<climate const&>();
    std::span<double const> const first = minima ? of.tmin(0) : of.tmax(0);
    auto const years = static_cast<std::size_t>(of.size());
    // Season years follow one another without a gap, see climate.hpp.
    return view_of({first.data(), years * first.size()},
                   {static_cast<py::ssize_t>(years), static_cast<py::ssize_t>(first.size())}, self);
}

std::tuple<daily_record, splice_report> spliced(daily_record const& first,
                                                daily_record const& second, bool match_means) {
    spliced_record const joined =
        without_lock([&] { return splice(first, second, {.match_means = match_means}); });
    return {joined.record, joined.report};
}

climate shifted(climate const& of, std::array<double, 12> const& by_month,
                std::string const& word) {
    unit_door const door{units_of(word)};
    std::array<temperature_span, 12> spans;
    for (std::size_t month = 0; month < spans.size(); ++month) {
        spans[month] = said_of("by", [&] { return door.span_of(by_month[month]); });
    }
    return without_lock([&] { return of.shifted(spans, door.units()); });
}

void register_records(py::module_& m) {
    py::class_<daily_record>(m, "DailyRecord")
        .def(py::init([](day start, any_numbers const& tmin, any_numbers const& tmax,
                         std::string name, std::string origin) {
                 return daily_record{start, copied(tmin), copied(tmax), std::move(name),
                                     std::move(origin)};
             }),
             "start"_a, "tmin"_a, "tmax"_a, "name"_a, "origin"_a)
        .def_property_readonly("start", &daily_record::start)
        .def_property_readonly("end", &daily_record::end)
        .def_property_readonly("size", &daily_record::size)
        .def_property_readonly("name", &daily_record::name)
        .def_property_readonly("origin", &daily_record::origin)
        .def_property_readonly("gaps", &daily_record::gaps)
        .def_property_readonly("tmin",
                               [](py::object const& self) {
                                   daily_record const& of = self.cast<daily_record const&>();
                                   return view_of(of.tmin(), {of.size()}, self);
                               })
        .def_property_readonly("tmax",
                               [](py::object const& self) {
                                   daily_record const& of = self.cast<daily_record const&>();
                                   return view_of(of.tmax(), {of.size()}, self);
                               })
        .def(py::self == py::self)
        .def("__str__", [](daily_record const& of) { return to_string(of); });

    m.def(
        "read_ghcn_daily",
        [](std::filesystem::path const& path, std::string station, bool whole_fahrenheit) {
            return read_ghcn_daily(
                path, {.station = std::move(station), .whole_fahrenheit = whole_fahrenheit});
        },
        "path"_a, "station"_a, "whole_fahrenheit"_a, py::call_guard<py::gil_scoped_release>());
    m.def("read_daily_csv", &read_table, "path"_a, "date"_a, "tmin"_a, "tmax"_a, "unit"_a,
          "name"_a);

    m.def("quality", &quality, "record"_a, "max_gap"_a, py::call_guard<py::gil_scoped_release>());
    m.def("splice", &spliced, "first"_a, "second"_a, "match_means"_a);
    m.def("with_elevation_difference", &with_elevation_difference, "record"_a, "metres"_a,
          "lapse_rate"_a, py::call_guard<py::gil_scoped_release>());
    m.def("morning_reader", &morning_reader, "record"_a, py::call_guard<py::gil_scoped_release>());
}

void register_climates(py::module_& m) {
    py::class_<climate>(m, "Climate")
        .def(py::init([](daily_record const& record, double site,
                         std::optional<written_month_day> season_start, int season_days,
                         int max_gap, written_years const& years) {
                 climate_options options{
                     .season_days = season_days, .max_gap = max_gap, .years = years_of(years)};
                 if (season_start) { options.season_start = month_day_of(*season_start); }
                 return without_lock([&] { return climate{record, latitude{site}, options}; });
             }),
             "record"_a, "latitude"_a, "season_start"_a, "season_days"_a, "max_gap"_a, "years"_a)
        .def("shifted", &shifted, "by_month"_a, "units"_a)
        .def("only", &climate::only, "years"_a, py::call_guard<py::gil_scoped_release>())
        .def("given", &climate::given, "observed"_a, "forecast"_a,
             py::call_guard<py::gil_scoped_release>())
        .def_property_readonly("years",
                               [](climate const& of) {
                                   return std::vector<int>{of.years().begin(), of.years().end()};
                               })
        .def_property_readonly("left_out", &climate::left_out)
        .def_property_readonly("asked_years", &asked_years)
        .def_property_readonly("season_start",
                               [](climate const& of) { return written(of.season_start()); })
        .def_property_readonly("season_days", &climate::season_days)
        .def_property_readonly("latitude",
                               [](climate const& of) { return of.site_latitude().value(); })
        .def_property_readonly("record", &climate::record)
        .def_property_readonly("is_chosen", &climate::is_chosen)
        .def_property_readonly("observed", &climate::observed)
        .def_property_readonly("forecast", &climate::forecast)
        .def_property_readonly("origin", [](climate const& of) { return of.origin(); })
        .def_property_readonly("max_gap", &climate::max_gap)
        .def_property_readonly("filled", &climate::filled)
        .def_property_readonly("tmin",
                               [](py::object const& self) { return season_table(self, true); })
        .def_property_readonly("tmax",
                               [](py::object const& self) { return season_table(self, false); })
        .def_property_readonly("warnings", &climate::warnings)
        .def_property_readonly("year_note", [](climate const& of) { return of.year_note(); })
        .def(py::self == py::self)
        .def("__str__", [](climate const& of) { return to_string(of); });
}

}  // namespace

void register_weather(py::module_& m) {
    add_result<missing_run>(m);
    add_result<record_quality>(m);
    add_result<spliced_element>(m);
    add_result<splice_report>(m);
    add_result<left_out_year>(m);
    add_result<filled_days>(m);
    register_records(m);
    register_climates(m);
    register_generator(m);
}
