// epicotyl: the cautions that belong beside numbers which can hurt someone.
//
// A heater of so many watts, a night that it stands against, a night to cover, a last frost: who
// trusts such a number acts on it. So what every grower should be told stands in the output of the
// function that gives the number. Here is the one list of them, each a line of its own with the
// functions that print it:
//
//     for (caution const& one : cautions) { fmt::print("{}\n", one.text); }
//     cautions_text(told_by::coldest_night)        // a line each, "caution: " before it
//
// What is about heaters, covers, or mats and lamps is left out where a plan has none (`told_of`).
// None is longer than a line of a sheet. They are common practice and no source is claimed but
// where one is named; local codes and licensed electricians come before all of them.
//
// Where values come from: 80 % of a circuit for what runs for hours is the usual reading of NEC
// 210.19, 210.20 and 424.3(B), as electricians quote them; the code itself was not seen. Leaves 1
// to 3 K colder than the air beside them on clear nights [leuning1988]. Heavy fabric (50 to 70
// g/m2) that lets 30 to 50 % of the light through: trade pages, weak.
#ifndef EPICOTYL_CAUTIONS_HPP
#define EPICOTYL_CAUTIONS_HPP

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/units.hpp>

namespace epicotyl {

/// The functions whose numbers have cautions.
enum class told_by {
    loss_per_kelvin,
    heat_loss,
    coldest_outdoors,
    lift_of,
    watts_for,
    heat_of_season,
    heat_curve,
    coldest_night,
    fit_air,
    guess_night_gain,
    nights_to_act,
    prospect,
    freeze_answer,
    freeze_table
};

inline constexpr std::array<std::string_view, 14> told_by_names = {
    "loss_per_kelvin", "heat_loss",  "coldest_outdoors", "lift_of",     "watts_for",
    "heat_of_season",  "heat_curve", "coldest_night",    "fit_air",     "guess_night_gain",
    "nights_to_act",   "prospect",   "freeze_answer",    "freeze_table"};

/// What a caution is about. `anything` is told of every plan.
enum class caution_about { heater, mats_and_lamps, cover, anything };

struct caution {
    std::string_view code;
    caution_about about;
    std::span<told_by const> functions;
    std::string_view text;
    std::string_view us = {};  ///< in US units; empty: the same

    [[nodiscard]] constexpr std::string_view in(unit_system units) const noexcept {
        return units == unit_system::us && !us.empty() ? us : text;
    }
    [[nodiscard]] constexpr bool belongs_to(told_by function) const noexcept {
        return std::find(functions.begin(), functions.end(), function) != functions.end();
    }
};

namespace detail {

/// A heater is chosen, or run, by these.
inline constexpr std::array told_with_heaters = {told_by::heat_loss,      told_by::coldest_outdoors,
                                                 told_by::lift_of,        told_by::watts_for,
                                                 told_by::heat_of_season, told_by::heat_curve};
/// Steady state, on paper.
inline constexpr std::array told_with_losses = {
    told_by::loss_per_kelvin, told_by::heat_loss,      told_by::coldest_outdoors, told_by::lift_of,
    told_by::watts_for,       told_by::heat_of_season, told_by::heat_curve};
/// Plants live by a heater.
inline constexpr std::array told_with_heated_plants = {
    told_by::heat_loss,      told_by::coldest_outdoors, told_by::lift_of,       told_by::watts_for,
    told_by::heat_of_season, told_by::heat_curve,       told_by::nights_to_act, told_by::prospect};
/// Plants live by a cover.
inline constexpr std::array told_with_covers = {told_by::guess_night_gain, told_by::nights_to_act,
                                                told_by::prospect};
inline constexpr std::array told_with_gains = {told_by::fit_air, told_by::guess_night_gain};
/// What a roof carries.
inline constexpr std::array told_with_roofs = {
    told_by::loss_per_kelvin, told_by::heat_loss,       told_by::coldest_outdoors,
    told_by::lift_of,         told_by::watts_for,       told_by::heat_of_season,
    told_by::heat_curve,      told_by::guess_night_gain};
/// The cold of a station's nights.
inline constexpr std::array told_with_cold = {told_by::coldest_outdoors, told_by::coldest_night,
                                              told_by::guess_night_gain, told_by::fit_air,
                                              told_by::nights_to_act,    told_by::prospect,
                                              told_by::freeze_answer,    told_by::freeze_table};
inline constexpr std::array told_with_records = {
    told_by::coldest_night, told_by::heat_of_season, told_by::heat_curve,  told_by::nights_to_act,
    told_by::prospect,      told_by::freeze_answer,  told_by::freeze_table};
/// Something is switched on, or relied upon.
inline constexpr std::array told_with_codes = {
    told_by::loss_per_kelvin, told_by::heat_loss,     told_by::coldest_outdoors,
    told_by::lift_of,         told_by::watts_for,     told_by::heat_of_season,
    told_by::heat_curve,      told_by::nights_to_act, told_by::prospect};

}  // namespace detail

inline constexpr std::array<caution, 18> cautions = {{
    {"damp", caution_about::heater, detail::told_with_heaters,
     "Use a heater rated for damp places, on an outlet with an RCD or GFCI (residual current)."},
    {"circuit", caution_about::heater, detail::told_with_heaters,
     "A heater needs a circuit of its own, rated for it: 3 kW is 25 A at 120 V, 13 A at 230 V."},
    {"load", caution_about::heater, detail::told_with_heaters,
     "What runs for hours should take no more than 80 % of its circuit's rating."},
    {"clear", caution_about::heater, detail::told_with_heaters,
     "Keep it clear of film, fabric and dry medium; no extension leads."},
    {"combustion", caution_about::heater, detail::told_with_heaters,
     "No unattended combustion heaters: carbon monoxide kills, and ethylene spoils crops."},
    {"vent", caution_about::heater, detail::told_with_heaters,
     "A combustion heater needs a flue or vents to the open air, and a carbon monoxide alarm."},
    {"fails", caution_about::heater, detail::told_with_heated_plants,
     "A heater can fail on the night it is needed: have an alarm, and see the count with it off."},
    {"water", caution_about::mats_and_lamps, detail::told_with_heated_plants,
     "Mats and lamps stand near water: RCD or GFCI outlets, drip loops, no plugs on wet benches."},
    {"too_small", caution_about::heater, detail::told_with_losses,
     "A heater just large enough on paper is too small: wind, wet film, clear skies take more."},
    {"morning", caution_about::cover, detail::told_with_covers,
     "Lift covers in the morning: plants under them overheat in the sun and go without light."},
    {"light", caution_about::cover, detail::told_with_covers,
     "Heavy fabric lets only some 30 to 50 % of the light through: not by day."},
    {"wind", caution_about::cover, detail::told_with_covers,
     "Wind takes most of what a cover gains, or the cover itself: weigh it down."},
    {"such_nights", caution_about::anything, detail::told_with_gains,
     "A gain holds for nights like those it comes from; windy and wet nights give less."},
    {"snow", caution_about::anything, detail::told_with_roofs,
     "Snow and wind loads on film are not modelled."},
    {"leaves", caution_about::anything, detail::told_with_cold,
     "Under a clear sky leaves are 1 to 3 °C colder than a station's shelter, 1.2 m up, tells.",
     "Under a clear sky leaves are 2 to 5 °F colder than a station's shelter, 4 ft up, tells."},
    {"station", caution_about::anything, detail::told_with_cold,
     "Your garden may be colder than the station, a hollow by several degrees: compare minima."},
    {"counts", caution_about::anything, detail::told_with_records,
     "Counts of past years are no forecast, and thirty years are few."},
    {"codes", caution_about::anything, detail::told_with_codes,
     "Licensed electricians and local codes come before anything printed here."},
}};

/// What there is to be told of: a plan without a heater needs no caution about one.
struct told_of {
    bool heater = true;
    bool mats_and_lamps = true;
    bool cover = true;

    [[nodiscard]] constexpr bool has(caution_about what) const noexcept {
        switch (what) {
            case caution_about::heater:
                return heater;
            case caution_about::mats_and_lamps:
                return mats_and_lamps;
            case caution_about::cover:
                return cover;
            case caution_about::anything:
                break;
        }
        return true;
    }
};

/// The texts of the cautions of one function, in the order of the list.
[[nodiscard]] inline std::vector<std::string> cautions_of(told_by function,
                                                          unit_system units = unit_system::metric,
                                                          told_of const& what = {}) {
    std::vector<std::string> texts;
    for (caution const& one : cautions) {
        if (one.belongs_to(function) && what.has(one.about)) { texts.emplace_back(one.in(units)); }
    }
    return texts;
}

/// The same as they are printed under a number, a line each.
[[nodiscard]] inline std::string cautions_text(told_by function,
                                               unit_system units = unit_system::metric,
                                               told_of const& what = {}) {
    std::string text;
    for (std::string const& one : cautions_of(function, units, what)) {
        text.append("caution: ").append(one).append("\n");
    }
    return text;
}

}  // namespace epicotyl

#endif
