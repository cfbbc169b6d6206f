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

#include <epicotyl/cautions.hpp>
#include <epicotyl/heat/coldest_night.hpp>
#include <epicotyl/heat/fit_air.hpp>
#include <epicotyl/heat/heat.hpp>
#include <epicotyl/heat/heat_curve.hpp>
#include <epicotyl/heat/heat_season.hpp>
#include <epicotyl/heat/heater.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_record.hpp>

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
struct bound<cold_extreme> {
    static constexpr char name[] = "ColdExtreme";
    static constexpr char doc[] =
        "The coldest night in so many years, told by `coldest_night`; `str` has "
        "the cautions, too.";
    static auto fields() {
        return std::tuple{
            field{"in_years", &cold_extreme::in_years, "As asked."},
            field{"night", &cold_extreme::night,
                  "Its minimum [°C]; None where the record is too short to tell."},
            field{"low", &cold_extreme::low,
                  "Cold end of the interval in which the true value lies with the confidence "
                  "`level` [°C]; None: open, beyond the coldest winter seen."},
            field{"high", &cold_extreme::high,
                  "Mild end of it [°C]; None: open, beyond the mildest winter seen."},
            field{"level", &cold_extreme::level, "Confidence of the interval."},
            field{"winters",
                  [](cold_extreme const& of) {
                      std::vector<std::pair<int, temperature>> winters;
                      for (winter_low const& one : of.winters) {
                          winters.emplace_back(one.year, one.low);
                      }
                      return winters;
                  },
                  "The lowest minimum [°C] of every winter that counts, with the year in which it "
                  "begins."},
            field{"_text", in_words, ""}};
    }
};

template <>
struct bound<heater_match> {
    static constexpr char name[] = "HeaterMatch";
    static constexpr char doc[] =
        "A plan's heater in a structure: the lift that the plan counts on, and the watts.";
    static auto fields() {
        return std::tuple{
            field{"loss",
                  [](heater_match const& of) {
                      return unit_door{of.units}.to_core(quantity::span, of.loss);
                  },
                  "Of the structure [W/K, or W/°F where the plan is in US units]."},
            field{"lift", [](heater_match const& of) { return written_span(of.units, of.lift); },
                  "That the plan counts on, `heat_lift` [K or °F, as the plan]; None: always "
                  "enough."},
            field{"watts", &heater_match::watts, "Of the heater [W]; None: not told."},
            field{"needs", &heater_match::needs,
                  "What the plan's lift takes here [W]; None where it has no bound."},
            field{"holds",
                  [](heater_match const& of) { return written_span(of.units, of.holds()); },
                  "How far the heater lifts this structure [K or °F, as the plan]; None where no "
                  "watts are told."},
            field{"agrees", &heater_match::agrees,
                  "True where the watts are what the plan counts on (but for 0.05 K or 2 in 100), "
                  "or none are told."},
            field{"sentence", in_words, "What the lift takes here, or how the two disagree."}};
    }
};

/// Python adds the usual year (epicotyl/_heat_season.py).
template <>
struct bound<season_heat> {
    static constexpr char name[] = "SeasonHeat";
    static constexpr char doc[] =
        "Heat of a stretch of the season, told by `heat_of_season`; `str` tells the bill of usual, "
        "small and large years, and the cautions.";
    static auto fields() {
        return std::tuple{
            field{"start", &season_heat::from, "First day."},
            field{"until", &season_heat::until, "Last day."},
            field{"heat_to",
                  [](season_heat const& of) { return unit_door{of.units}.written(of.heat_to); },
                  "Set point [°C or °F, as the plan]."},
            field{"loss",
                  [](season_heat const& of) {
                      return unit_door{of.units}.to_core(quantity::span, of.loss);
                  },
                  "Of the place [W/K, or W/°F where the plan is in US units]."},
            field{"currency", &season_heat::currency, "As given."},
            field{"years", column_of(&season_heat::years, &year_heat::year), "The season years."},
            field{"kwh", column_of(&season_heat::years, &year_heat::kwh),
                  "Heat that the heater gives, each season year [kWh]."},
            field{"cost", column_of(&season_heat::years, &year_heat::cost),
                  "What is paid for it, each season year."},
            field{"days", column_of(&season_heat::years, &year_heat::days), "On which it runs."},
            field{"_text", in_words, ""},
            field{"heater", &season_heat::heater, "The plan's lift in this structure."},
            field{"peak", &season_heat::peak, "Most that these nights ask of the heater [W]."},
            field{"units", [](season_heat const& of) { return word_of(of.units); },
                  "`metric` or `us`: those of the plan."}};
    }
};

template <>
struct bound<heated_batch> {
    static constexpr char name[] = "HeatedBatch";
    static constexpr char doc[] = "One succession at one set point.";
    static auto fields() {
        return std::tuple{
            field{"succession", &heated_batch::succession, "Its name."},
            field{"event", &heated_batch::event, "The event that it aims at."},
            field{"ready", days_of(&heated_batch::ready),
                  "Day on which it is ready when sown as planned at first, each season year; NaT: "
                  "never. Empty where the plan as it stands has no day for the sowing."},
            field{"usual_ready", &heated_batch::usual_ready, "The middle one."},
            field{"sow", &heated_batch::sow,
                  "Its sowing when planned anew; None: no workable date."},
            field{"years", &heated_batch::years, "Season years."},
            field{"damaged", &heated_batch::damaged,
                  "Those with damage by cold when planned anew, with the heater working."},
            field{"damaged_heater_off", &heated_batch::damaged_heater_off,
                  "Those with damage by cold had it been off."}};
    }
};

template <>
struct bound<heat_point> {
    static constexpr char name[] = "HeatPoint";
    static constexpr char doc[] = "One set point of a `HeatCurve`.";
    static auto fields() {
        return std::tuple{
            field{"heat_to",
                  [](heat_point const& of) { return unit_door{of.heat.units}.written(of.heat_to); },
                  "Its temperature [°C or °F, as the plan]."},
            field{"heat", &heat_point::heat, "Heat and bill."},
            field{"batches", &heat_point::batches,
                  "The successions that stand in the place, in plan order."}};
    }
};

template <>
struct bound<heat_curve_result> {
    static constexpr char name[] = "HeatCurve";
    static constexpr char doc[] =
        "What set points do to ready days, damage and the bill, told by `heat_curve`; `str` is a "
        "table of it, with the cautions.";
    static auto fields() {
        return std::tuple{
            field{"place", &heat_curve_result::place, "Its name."},
            field{"points", &heat_curve_result::points, "In the order asked for."},
            field{"_text", in_words, ""},
            field{"heater", &heat_curve_result::heater, "The plan's lift in this structure."}};
    }
};

template <>
struct bound<air_fit> {
    static constexpr char name[] = "AirFit";
    static constexpr char doc[] = "A measured gain, told by `fit_air`; `str` has the cautions.";
    static auto fields() {
        return std::tuple{
            field{"nights", &air_fit::nights, "On which both have a value."},
            field{"gain", &air_fit::gain, "Mean of inside less outside [K, or °F of °F]."},
            field{"error", &air_fit::error, "Its standard error; None from a single night."},
            field{"middle", &air_fit::middle, "Median; the robust choice."},
            field{"middle_error", &air_fit::middle_error, "Its standard error, for many nights."},
            field{"slope", &air_fit::slope,
                  "Of inside on outside by least squares: below 1, the gain shrinks as nights get "
                  "warmer. None where the outside never changes."},
            field{"slope_error", &air_fit::slope_error,
                  "Its standard error; None below three nights."},
            field{"_text", in_words, ""}};
    }
};

template <>
struct bound<guessed_gain> {
    static constexpr char name[] = "GuessedGain";
    static constexpr char doc[] =
        "A gain that is not measured, told by `guess_night_gain`; `str` has the "
        "cautions.";
    static auto fields() {
        return std::tuple{field{"low", &guessed_gain::low,
                                "The least that layers are said to give on a still night [K]."},
                          field{"usual", &guessed_gain::usual, "What they usually give [K]."},
                          field{"high", &guessed_gain::high, "The most [K]."},
                          field{"_text", in_words, ""}};
    }
};

}  // namespace epicotyl::bindings

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

cold_extreme cold(daily_record const& record, double site, double in_years, int years,
                  int max_missing, double level) {
    auto const where = said_of("latitude", [&] { return latitude{site}; });
    auto const sure = said_of("level", [&] { return band_confidence{level}; });
    return without_lock([&] {
        return coldest_night(record, where, in_years,
                             {.years = years, .max_missing = max_missing, .level = sure});
    });
}

season_heat heated_season(structure_tuple const& made_of, plan const& of, climate const& years,
                          std::string const& place, day from, day until,
                          std::optional<double> heat_to, price_tuple const& price,
                          std::optional<double> watts) {
    std::optional<temperature> asked;
    if (heat_to) { asked = set_point_of(door_of(of), *heat_to, "heat_to"); }
    return without_lock([&] {
        return heat_of_season(structure_of(made_of), of, years, place, from, until, asked,
                              price_of(price), watts);
    });
}

heat_curve_result curve(plan const& of, climate const& years, std::string const& place,
                        structure_tuple const& made_of, std::vector<double> const& set_points,
                        day from, day until, price_tuple const& price,
                        std::optional<double> watts) {
    std::vector<temperature> asked;
    unit_door const door = door_of(of);
    for (double const one : set_points) { asked.push_back(set_point_of(door, one, "set_points")); }
    return without_lock([&] {
        return heat_curve(of, years, place, structure_of(made_of), asked, from, until,
                          price_of(price), watts);
    });
}

std::vector<std::string> listed(std::string const& function, std::string const& units) {
    return cautions_of(enum_of<told_by>(function, told_by_names, "function"), units_of(units));
}

air_fit fitted(numbers const& inside, numbers const& outside) {
    std::vector<double> const in{inside.data(), inside.data() + inside.size()};
    std::vector<double> const out{outside.data(), outside.data() + outside.size()};
    return without_lock([&] { return fit_air(in, out); });
}

guessed_gain guessed(std::vector<std::string> const& words) {
    std::vector<night_layer> layers;
    for (std::string const& one : words) {
        layers.push_back(enum_of<night_layer>(one, night_layer_names, "layers"));
    }
    return guess_night_gain(layers);
}

}  // namespace

void register_heat(py::module_& m) {
    add_result<cold_extreme>(m);
    add_result<heater_match>(m);
    add_result<season_heat>(m);
    add_result<heated_batch>(m);
    add_result<heat_point>(m);
    add_result<heat_curve_result>(m);
    add_result<air_fit>(m);
    add_result<guessed_gain>(m);
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
    m.def(
        "watts_for",
        [](structure_tuple const& of, double lift) {
            return watts_for(structure_of(of),
                             said_of("lift", [&] { return temperature_span::from_kelvin(lift); }));
        },
        "structure"_a, "lift"_a);
    m.def(
        "loss_text", [](structure_tuple const& of) { return loss_text(structure_of(of)); },
        "structure"_a);
    m.def(
        "heat_loss_text",
        [](structure_tuple const& of, double inside, double outside) {
            return heat_loss_text(structure_of(of), given_celsius("inside", inside),
                                  given_celsius("outside", outside));
        },
        "structure"_a, "inside"_a, "outside"_a);
    m.def(
        "coldest_outdoors_text",
        [](structure_tuple const& of, double inside, double watts) {
            return coldest_outdoors_text(structure_of(of), given_celsius("inside", inside), watts);
        },
        "structure"_a, "inside"_a, "watts"_a);
    m.def(
        "lift_text",
        [](structure_tuple const& of, double watts) { return lift_text(structure_of(of), watts); },
        "structure"_a, "watts"_a);
    m.def(
        "watts_text",
        [](structure_tuple const& of, double lift) {
            return watts_text(structure_of(of), temperature_span::from_kelvin(lift));
        },
        "structure"_a, "lift"_a);
    m.def("cautions", &listed, "function"_a, "units"_a);
    m.def("caution_table", [] {
        std::vector<std::pair<std::string, std::vector<std::string>>> table;
        for (caution const& one : cautions) {
            std::vector<std::string> functions;
            for (told_by const each : one.functions) {
                functions.emplace_back(told_by_names[static_cast<std::size_t>(each)]);
            }
            table.emplace_back(one.code, std::move(functions));
        }
        return table;
    });
    m.def(
        "match_heater",
        [](plan const& of, std::string const& place, structure_tuple const& made_of,
           std::optional<double> watts) {
            return match_heater(of, place, structure_of(made_of), watts);
        },
        "plan"_a, "place"_a, "structure"_a, "watts"_a);
    m.def(
        "with_heater",
        [](plan const& of, std::string const& place, structure_tuple const& made_of, double watts) {
            return without_lock(
                [&] { return with_heater(of, place, structure_of(made_of), watts); });
        },
        "plan"_a, "place"_a, "structure"_a, "watts"_a);
    m.def("coldest_night", &cold, "record"_a, "latitude"_a, "in_years"_a, "years"_a,
          "max_missing"_a, "level"_a);
    m.def("heat_of_season", &heated_season, "structure"_a, "plan"_a, "climate"_a, "place"_a,
          "start"_a, "until"_a, "heat_to"_a, "price"_a, "watts"_a);
    m.def("heat_curve", &curve, "plan"_a, "climate"_a, "place"_a, "structure"_a, "set_points"_a,
          "start"_a, "until"_a, "price"_a, "watts"_a);
    m.def("fit_air", &fitted, "inside"_a, "outside"_a);
    m.def("guess_night_gain", &guessed, "layers"_a);
}
