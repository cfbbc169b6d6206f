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

#include <fmt/format.h>

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
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using any_numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;
/// (from first, from second, missing, in both, mean difference, added).
using spliced_tuple = std::tuple<int, int, int, int, std::optional<double>, double>;
/// (first, second, minimum, maximum, mixed, mixed and inverted, in words).
using splice_tuple =
    std::tuple<std::string, std::string, spliced_tuple, spliced_tuple, int, int, std::string>;
/// (year, what is missing, first day without a value, days without a value, sentence).
using left_out_tuple = std::tuple<int, std::string, day, int, std::string>;

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

/// Fields by their names, and all of them in words.
py::dict parts_of_quality(daily_record const& record, int max_gap) {
    record_quality const of = without_lock([&] { return quality(record, max_gap); });
    py::dict parts;
    parts["name"] = of.name;
    parts["origin"] = of.origin;
    parts["first"] = of.first;
    parts["last"] = of.last;
    parts["size"] = of.size;
    parts["whole_years"] = of.whole_years;
    parts["missing_minima"] = of.missing_minima;
    parts["missing_maxima"] = of.missing_maxima;
    parts["missing_both"] = of.missing_both;
    parts["runs"] = of.runs;
    parts["longest_run"] =
        of.longest_run ? py::object{py::make_tuple(of.longest_run->first, of.longest_run->length)}
                       : py::none();
    parts["inverted"] = of.inverted;
    parts["leap_days"] = of.leap_days;
    parts["missing_leap_days"] = of.missing_leap_days;
    parts["not_whole_fahrenheit"] = of.not_whole_fahrenheit;
    parts["max_gap"] = of.max_gap;
    parts["filled_minima"] = of.filled_minima;
    parts["filled_maxima"] = of.filled_maxima;
    parts["unfilled_minima"] = of.unfilled_minima;
    parts["unfilled_maxima"] = of.unfilled_maxima;
    parts["text"] = to_string(of);
    return parts;
}

spliced_tuple tuple_of(spliced_element const& of) {
    std::optional<double> difference;
    if (of.mean_difference) { difference = of.mean_difference->kelvin(); }
    return {of.from_first, of.from_second, of.missing, of.overlap, difference, of.added.kelvin()};
}

std::tuple<daily_record, splice_tuple> spliced(daily_record const& first,
                                               daily_record const& second, bool match_means) {
    spliced_record const joined =
        without_lock([&] { return splice(first, second, {.match_means = match_means}); });
    splice_report const& report = joined.report;
    return {joined.record,
            {report.first, report.second, tuple_of(report.minimum), tuple_of(report.maximum),
             report.mixed, report.mixed_inverted, to_string(report)}};
}

climate shifted(climate const& of, std::array<double, 12> const& by_month) {
    std::array<temperature_span, 12> spans;
    for (std::size_t month = 0; month < spans.size(); ++month) {
        spans[month] =
            said_of("by", [&] { return temperature_span::from_kelvin(by_month[month]); });
    }
    return without_lock([&] { return of.shifted(spans); });
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
        .def("__str__", [](daily_record const& of) { return fmt::format("{}", of); });

    m.def(
        "read_ghcn_daily",
        [](std::filesystem::path const& path, std::string station, bool whole_fahrenheit) {
            return read_ghcn_daily(
                path, {.station = std::move(station), .whole_fahrenheit = whole_fahrenheit});
        },
        "path"_a, "station"_a, "whole_fahrenheit"_a, py::call_guard<py::gil_scoped_release>());
    m.def("read_daily_csv", &read_table, "path"_a, "date"_a, "tmin"_a, "tmax"_a, "unit"_a,
          "name"_a);

    m.def("quality", &parts_of_quality, "record"_a, "max_gap"_a);
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
        .def("shifted", &shifted, "by_month"_a)
        .def("only", &climate::only, "years"_a, py::call_guard<py::gil_scoped_release>())
        .def("given", &climate::given, "observed"_a, "forecast"_a,
             py::call_guard<py::gil_scoped_release>())
        .def_property_readonly("years",
                               [](climate const& of) {
                                   return std::vector<int>{of.years().begin(), of.years().end()};
                               })
        .def_property_readonly("left_out",
                               [](climate const& of) {
                                   std::vector<left_out_tuple> all;
                                   for (left_out_year const& one : of.left_out()) {
                                       all.emplace_back(one.year,
                                                        std::string{to_string(one.element)},
                                                        one.first, one.length, one.sentence);
                                   }
                                   return all;
                               })
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
        .def_property_readonly("origin", &climate::origin)
        .def_property_readonly("max_gap", &climate::max_gap)
        .def_property_readonly(
            "filled",
            [](climate const& of) {
                filled_days const filled = of.filled();
                return std::tuple{filled.minimum, filled.maximum, filled.inverted};
            })
        .def_property_readonly("tmin",
                               [](py::object const& self) { return season_table(self, true); })
        .def_property_readonly("tmax",
                               [](py::object const& self) { return season_table(self, false); })
        .def_property_readonly("warnings", &climate::warnings)
        .def_property_readonly("year_note", &climate::year_note)
        .def(py::self == py::self)
        .def("__str__", [](climate const& of) { return fmt::format("{}", of); });
}

}  // namespace

void register_weather(py::module_& m) {
    register_records(m);
    register_climates(m);
    register_generator(m);
}
