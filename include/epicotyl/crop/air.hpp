// epicotyl: the air of a place, made from the outdoor minimum and maximum of each day.
//
// A place changes the outdoor day in a fixed order, so that two readers of one plan get the same
// degrees:
//
//   1. minimum + warmer_night, maximum + warmer_day
//   2. heater: both at least min(heat_to, itself + heat_lift): the heater holds `heat_to` as long
//      as that asks for no more than `heat_lift` above what the place would be without it
//   3. vent: maximum at most max(vent_above, outdoor maximum)
//   4. cold nights: where the minimum is at or below `below`, it rises by `warmer`; that night is
//      one to act on (lay the cover, light the heater) while plants stand there
//   5. maximum at least minimum
//
// `steady` replaces all that: a heat mat or a chamber holds its day and night temperatures.
//
// Cold nights without `below` act at or below the limit of the stage that stands there, so that
// air depends on place and stage. "Heater off" and "cover off" mean the same days, with only the
// nights' minimum worked out without it.
//
// These are offsets that a grower reads off two thermometers, not a heat balance. They hold for
// ordinary still nights; wind, wet and snow change them. Frost protection by heater or cover can
// fail; heaters need a licensed electrician's circuit, clearance from film and fabric, and the
// local code.
#ifndef EPICOTYL_CROP_AIR_HPP
#define EPICOTYL_CROP_AIR_HPP

#include <algorithm>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include <epicotyl/units.hpp>

namespace epicotyl {

/// Held day and night temperatures.
struct steady_air {
    temperature day = {};
    temperature night = {};

    friend bool operator==(steady_air const&, steady_air const&) = default;
};

/// What is done on cold nights, and how much it gains.
struct cold_nights {
    std::optional<temperature> below = {};  ///< none: at or below the limit of what stands there
    temperature_span warmer = {};           ///< gain on those nights, K

    friend bool operator==(cold_nights const&, cold_nights const&) = default;
};

/// How a place changes the outdoor day. A default-constructed air is the outdoor air.
struct air {
    std::optional<steady_air> steady = {};
    temperature_span warmer_night = {};
    temperature_span warmer_day = {};
    std::optional<temperature> heat_to = {};
    std::optional<temperature_span> heat_lift = {};  ///< none: the heater always reaches heat_to
    std::optional<temperature> vent_above = {};
    std::optional<cold_nights> nights = {};

    friend bool operator==(air const&, air const&) = default;
};

/// One day in a place, °C, and whether its night was one to act on.
struct air_day {
    double low;
    double high;
    bool acted;
};

/// What may be switched off to ask what it is worth.
struct air_switches {
    bool heater = true;
    bool cover = true;
};

/// One day of a place's air. `act_below` is the temperature (°C) at or below which cold nights
/// act, -infinity where nothing is done.
[[nodiscard]] inline air_day indoors(air const& place, double outdoor_low, double outdoor_high,
                                     double act_below, air_switches on = {}) {
    if (place.steady) {
        double const by_day = place.steady->day.celsius();
        double const by_night = place.steady->night.celsius();
        return {std::min(by_day, by_night), std::max(by_day, by_night), false};
    }
    double low = outdoor_low + place.warmer_night.kelvin();
    double high = outdoor_high + place.warmer_day.kelvin();
    if (place.heat_to && on.heater) {
        double const lift =
            place.heat_lift ? place.heat_lift->kelvin() : std::numeric_limits<double>::infinity();
        low = std::max(low, std::min(place.heat_to->celsius(), low + lift));
        high = std::max(high, std::min(place.heat_to->celsius(), high + lift));
    }
    if (place.vent_above) {
        high = std::min(high, std::max(place.vent_above->celsius(), outdoor_high));
    }
    bool const acted = place.nights && on.cover && is_at_or_below(low, act_below);
    if (acted) { low += place.nights->warmer.kelvin(); }
    return {low, std::max(high, low), acted};
}

/// The temperature (°C) at or below which a place acts, given the limit of the stage that stands
/// there (none: no limit); -infinity where nothing is ever done.
[[nodiscard]] inline double act_below(air const& place, std::optional<temperature> stage_limit) {
    if (place.nights && place.nights->below) { return place.nights->below->celsius(); }
    if (place.nights && stage_limit) { return stage_limit->celsius(); }
    return -std::numeric_limits<double>::infinity();
}

/// The air of a place through a season year, °C, day by day.
struct air_series {
    std::vector<double> tmin;
    std::vector<double> tmax;
    std::vector<char> acted;  ///< 1 on nights to act on
};

/// The air of a place over a run of outdoor days (°C, equal lengths).
[[nodiscard]] inline air_series make_air(air const& place, std::span<double const> outdoor_min,
                                         std::span<double const> outdoor_max,
                                         double act_at_or_below, air_switches on = {}) {
    std::size_t const size = outdoor_min.size();
    air_series series{std::vector<double>(size), std::vector<double>(size),
                      std::vector<char>(size)};
    for (std::size_t i = 0; i < size; ++i) {
        air_day const one = indoors(place, outdoor_min[i], outdoor_max[i], act_at_or_below, on);
        series.tmin[i] = one.low;
        series.tmax[i] = one.high;
        series.acted[i] = one.acted ? 1 : 0;
    }
    return series;
}

}  // namespace epicotyl

#endif
