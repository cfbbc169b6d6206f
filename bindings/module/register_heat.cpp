// Space: heat losses, cold nights, bills, set points, and measured gains.
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/heat/coldest_night.hpp>
#include <epicotyl/heat/fit_air.hpp>
#include <epicotyl/heat/heat.hpp>
#include <epicotyl/heat/heat_curve.hpp>
#include <epicotyl/heat/heat_season.hpp>
#include <epicotyl/plan/plan.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using numbers = py::array_t<double, py::array::c_style>;
/// (surfaces as (name, area, u), volume, air changes, allowance).
using structure_tuple =
    std::tuple<std::vector<std::tuple<std::string, double, double>>, double, double, double>;
/// (per kWh, efficiency, currency).
using price_tuple = std::tuple<double, double, std::string>;

structure structure_of(structure_tuple const& written) {
    auto const& [surfaces, volume, air_changes, allowance] = written;
    structure of{.volume = volume, .air_changes = air_changes, .allowance = allowance};
    for (auto const& [name, area, u] : surfaces) { of.surfaces.push_back({name, area, u}); }
    return of;
}

heat_price price_of(price_tuple const& written) {
    auto const& [per_kwh, efficiency, currency] = written;
    return {.per_kwh = per_kwh, .efficiency = efficiency, .currency = currency};
}

temperature given_celsius(char const* field, double value) {
    return said_of(field, [&] { return temperature::from_celsius(value); });
}

std::optional<double> in_celsius(std::optional<temperature> const& of) {
    return of ? std::optional{of->celsius()} : std::nullopt;
}

std::optional<double> in_kelvin(std::optional<temperature_span> const& of) {
    return of ? std::optional{of->kelvin()} : std::nullopt;
}

py::tuple cold(daily_record const& record, double site, double in_years, int years, int max_missing,
               double level) {
    auto const where = said_of("latitude", [&] { return latitude{site}; });
    auto const sure = said_of("level", [&] { return band_confidence{level}; });
    cold_extreme const found = without_lock([&] {
        return coldest_night(record, where, in_years,
                             {.years = years, .max_missing = max_missing, .level = sure});
    });
    std::vector<std::pair<int, double>> winters;
    for (winter_low const& one : found.winters) {
        winters.emplace_back(one.year, one.low.celsius());
    }
    return py::make_tuple(found.in_years, in_celsius(found.night), in_celsius(found.low),
                          in_celsius(found.high), found.level, winters);
}

/// (from, until, heat_to, loss, currency, years, kWh, cost, days, text).
py::tuple tuple_of(season_heat const& of) {
    auto const size = static_cast<py::ssize_t>(of.years.size());
    py::array_t<std::int64_t> years(size);
    py::array_t<double> kwh(size);
    py::array_t<double> cost(size);
    py::array_t<std::int64_t> days_run(size);
    for (py::ssize_t i = 0; i < size; ++i) {
        year_heat const& one = of.years[static_cast<std::size_t>(i)];
        years.mutable_at(i) = one.year;
        kwh.mutable_at(i) = one.kwh;
        cost.mutable_at(i) = one.cost;
        days_run.mutable_at(i) = one.days;
    }
    return py::make_tuple(of.from, of.until, of.heat_to.celsius(), of.loss, of.currency, years, kwh,
                          cost, days_run, to_string(of));
}

py::tuple heated_season(structure_tuple const& made_of, plan const& of, climate const& years,
                        std::string const& place, day from, day until,
                        std::optional<double> heat_to, price_tuple const& price) {
    air warmed = of.places()[static_cast<std::size_t>(of.place_index(place))].air;
    if (heat_to) { warmed.heat_to = given_celsius("heat_to", *heat_to); }
    return tuple_of(without_lock([&] {
        return heat_of_season(structure_of(made_of), warmed, years, of.window(), from, until,
                              price_of(price));
    }));
}

py::tuple curve(plan const& of, climate const& years, std::string const& place,
                structure_tuple const& made_of, std::vector<double> const& set_points, day from,
                day until, price_tuple const& price) {
    std::vector<temperature> asked;
    for (double const one : set_points) { asked.push_back(given_celsius("set_points", one)); }
    heat_curve_result const found = without_lock([&] {
        return heat_curve(of, years, place, structure_of(made_of), asked, from, until,
                          price_of(price));
    });
    py::list points;
    for (heat_point const& point : found.points) {
        py::list batches;
        for (heated_batch const& one : point.batches) {
            batches.append(py::make_tuple(one.succession, one.event, to_day_array(one.ready),
                                          one.usual_ready, one.sow, one.years, one.damaged,
                                          one.damaged_heater_off));
        }
        points.append(py::make_tuple(point.heat_to.celsius(), tuple_of(point.heat), batches));
    }
    return py::make_tuple(found.place, points, to_string(found));
}

py::tuple fitted(numbers const& inside, numbers const& outside) {
    std::vector<double> const in{inside.data(), inside.data() + inside.size()};
    std::vector<double> const out{outside.data(), outside.data() + outside.size()};
    air_fit const fit = without_lock([&] { return fit_air(in, out); });
    return py::make_tuple(fit.nights, fit.gain.kelvin(), in_kelvin(fit.error), fit.middle.kelvin(),
                          in_kelvin(fit.middle_error), fit.slope, fit.slope_error);
}

std::tuple<double, double, double> guessed(std::vector<std::string> const& words) {
    std::vector<night_layer> layers;
    for (std::string const& one : words) {
        layers.push_back(enum_of<night_layer>(one, night_layer_names, "layers"));
    }
    guessed_gain const gain = guess_night_gain(layers);
    return {gain.low.kelvin(), gain.usual.kelvin(), gain.high.kelvin()};
}

}  // namespace

void register_heat(py::module_& m) {
    m.def(
        "u_of",
        [](std::string const& word) {
            return u_of(enum_of<glazing>(word, glazing_names, "glazing"));
        },
        "glazing"_a);
    m.def(
        "loss_per_kelvin",
        [](structure_tuple const& of) { return loss_per_kelvin(structure_of(of)); }, "structure"_a);
    m.def(
        "lift_of",
        [](structure_tuple const& of, double watts) {
            return lift_of(structure_of(of), watts).kelvin();
        },
        "structure"_a, "watts"_a);
    m.def("heat_cautions", [] {
        return std::vector<std::string>{heat_cautions.begin(), heat_cautions.end()};
    });
    m.def("coldest_night", &cold, "record"_a, "latitude"_a, "in_years"_a, "years"_a,
          "max_missing"_a, "level"_a);
    m.def("heat_of_season", &heated_season, "structure"_a, "plan"_a, "climate"_a, "place"_a,
          "start"_a, "until"_a, "heat_to"_a, "price"_a);
    m.def("heat_curve", &curve, "plan"_a, "climate"_a, "place"_a, "structure"_a, "set_points"_a,
          "start"_a, "until"_a, "price"_a);
    m.def("fit_air", &fitted, "inside"_a, "outside"_a);
    m.def("guess_night_gain", &guessed, "layers"_a);
}
