// Frost: the dates of every year and the chance of a freeze.
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <fmt/format.h>

#include <epicotyl/frost/freeze_dates.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/frost/season_halves.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_record.hpp>

#include "casters.hpp"
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

/// (year, last, first, the cold-to-warm half is used, the warm-to-cold half is used).
using year_tuple = std::tuple<int, std::optional<day>, std::optional<day>, bool, bool>;

freeze_risk make_risk(daily_record const& record, double threshold, std::string const& estimator,
                      double where) {
    static constexpr std::array<std::string_view, 2> words = {"empirical", "fitted"};
    auto const by = enum_of<freeze_estimator>(estimator, words, "estimator");
    freeze_options const options{.halves = season_halves::for_latitude(latitude{where})};
    auto const at = said_of("threshold", [&] { return temperature::from_celsius(threshold); });
    return freeze_risk{record, at, by, options};
}

chance chance_of(char const* field, double value) {
    return said_of(field, [&] { return chance{value}; });
}

std::vector<year_tuple> years_of(freeze_risk const& of) {
    std::vector<year_tuple> all;
    for (freeze_year const& one : of.dates().years()) {
        all.emplace_back(one.year, one.last(), one.first(), one.cold_to_warm.used,
                         one.warm_to_cold.used);
    }
    return all;
}

std::vector<std::string> left_out_of(freeze_risk const& of) {
    std::vector<std::string> all;
    for (left_out_half const& one : of.dates().left_out()) { all.push_back(one.sentence); }
    return all;
}

}  // namespace

void register_frost(py::module_& m) {
    py::class_<freeze_risk>(m, "FreezeRisk")
        .def(py::init(&make_risk), "record"_a, "threshold"_a, "estimator"_a, "latitude"_a)
        .def(
            "last_freeze",
            [](freeze_risk const& of, double chance_later, int year) {
                return of.last_freeze(chance_of("chance_later", chance_later), date::year{year});
            },
            "chance_later"_a, "year"_a)
        .def(
            "first_freeze",
            [](freeze_risk const& of, double chance_earlier, int year) {
                return of.first_freeze(chance_of("chance_earlier", chance_earlier),
                                       date::year{year});
            },
            "chance_earlier"_a, "year"_a)
        .def(
            "frost_free_days",
            [](freeze_risk const& of, double chance_longer) {
                return of.frost_free_days(chance_of("chance_longer", chance_longer));
            },
            "chance_longer"_a)
        .def(
            "chance_later",
            [](freeze_risk const& of, day when) { return of.chance_later(when).value(); }, "when"_a)
        .def(
            "chance_earlier",
            [](freeze_risk const& of, day when) { return of.chance_earlier(when).value(); },
            "when"_a)
        .def_property_readonly("dates", &years_of)
        .def_property_readonly("left_out", &left_out_of)
        .def_property_readonly("warnings", &freeze_risk::warnings)
        .def("__str__", [](freeze_risk const& of) { return fmt::format("{}", of); });
}
