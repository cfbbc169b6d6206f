// Weather: records, their readers, climates.
#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <fmt/format.h>

#include <epicotyl/units.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>
#include <epicotyl/weather/year_selection.hpp>

#include "casters.hpp"
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;
/// A number of years, a first and a last year, or a word.
using written_years = std::variant<int, std::string, std::pair<int, int>>;
/// (year, what is missing, first day without a value, days without a value, sentence).
using left_out_tuple = std::tuple<int, std::string, day, int, std::string>;

std::vector<double> copied(numbers const& array) {
    return {array.data(), array.data() + array.size()};
}

year_selection years_of(written_years const& written) {
    if (auto const* count = std::get_if<int>(&written)) { return year_selection::latest(*count); }
    if (auto const* pair = std::get_if<std::pair<int, int>>(&written)) {
        return year_selection::between(pair->first, pair->second);
    }
    enum class choice { all };
    static constexpr std::array<std::string_view, 1> words = {"all"};
    (void)enum_of<choice>(std::get<std::string>(written), words, "years");
    return year_selection::all();
}

daily_record read_table(std::filesystem::path const& path, std::string date, std::string tmin,
                        std::string tmax, std::optional<std::string> const& unit) {
    static constexpr std::array<std::string_view, 2> words = {"celsius", "fahrenheit"};
    daily_csv_options options{
        .date = std::move(date), .tmin = std::move(tmin), .tmax = std::move(tmax)};
    if (unit) { options.unit = enum_of<temperature_unit>(*unit, words, "unit"); }
    // Nothing of Python is touched while the file is read.
    py::gil_scoped_release const released;
    return read_daily_csv(path, options);
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

}  // namespace

void register_weather(py::module_& m) {
    py::class_<daily_record>(m, "DailyRecord")
        .def(py::init([](day start, numbers const& tmin, numbers const& tmax, std::string name) {
                 return daily_record{start, copied(tmin), copied(tmax), std::move(name)};
             }),
             "start"_a, "tmin"_a, "tmax"_a, "name"_a)
        .def_property_readonly("start", &daily_record::start)
        .def_property_readonly("end", &daily_record::end)
        .def_property_readonly("size", &daily_record::size)
        .def_property_readonly("name", &daily_record::name)
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
        "read_ghcn_daily", [](std::filesystem::path const& path) { return read_ghcn_daily(path); },
        "path"_a, py::call_guard<py::gil_scoped_release>());
    m.def("read_daily_csv", &read_table, "path"_a, "date"_a, "tmin"_a, "tmax"_a, "unit"_a);

    py::class_<climate>(m, "Climate")
        .def(py::init([](daily_record const& record, double site,
                         std::optional<std::pair<unsigned, unsigned>> season_start, int season_days,
                         int max_gap, written_years const& years) {
                 climate_options options{
                     .season_days = season_days, .max_gap = max_gap, .years = years_of(years)};
                 if (season_start) {
                     options.season_start =
                         date::month{season_start->first} / date::day{season_start->second};
                 }
                 return climate{record, latitude{site}, options};
             }),
             "record"_a, "latitude"_a, "season_start"_a, "season_days"_a, "max_gap"_a, "years"_a)
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
                               [](climate const& of) {
                                   return std::pair{unsigned{of.season_start().month()},
                                                    unsigned{of.season_start().day()}};
                               })
        .def_property_readonly("season_days", &climate::season_days)
        .def_property_readonly("latitude",
                               [](climate const& of) { return of.site_latitude().value(); })
        .def_property_readonly("record", &climate::record)
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
