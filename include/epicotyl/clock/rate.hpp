// epicotyl: the daily rates of a clock in one place and one season year.
//
// A rate is >= 0 and exists for days 0 ... N-1. Heat takes the degree-days of the air's minimum and
// maximum, germination and "days between" its mean. A gate multiplies by `otherwise` on days that
// are too short (or too long).
//
// Soil temperature is estimated as the mean of the last 10 days' mean air, today's included; the
// first days use what there is. It is a stated estimate: moist soil under cover is warmer in
// spring, and a thermometer in the bed is better (common practice, no source).
#ifndef EPICOTYL_CLOCK_RATE_HPP
#define EPICOTYL_CLOCK_RATE_HPP

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/degree_days.hpp>

namespace epicotyl {

/// What clocks look at, day by day: air in °C, day length in hours (lamps included). Spans of the
/// same length.
struct day_conditions {
    std::span<double const> tmin;
    std::span<double const> tmax;
    std::span<double const> day_length;
};

/// Number of days whose mean air makes the soil estimate.
inline constexpr std::size_t soil_memory = 10;

/// The soil estimate, °C, from the air's minima and maxima.
[[nodiscard]] inline std::vector<double> soil_temperature(std::span<double const> tmin,
                                                          std::span<double const> tmax) {
    std::vector<double> soil(tmin.size());
    for (std::size_t i = 0; i < soil.size(); ++i) {
        std::size_t const first = i + 1 >= soil_memory ? i + 1 - soil_memory : 0;
        double sum = 0.0;
        for (std::size_t k = first; k <= i; ++k) { sum += (tmin[k] + tmax[k]) / 2.0; }
        soil[i] = sum / static_cast<double>(i + 1 - first);
    }
    return soil;
}

/// Rate of germination at a mean temperature, K: T - base up to the optimum, then a straight line
/// to 0 at the ceiling. After Garcia-Huidobro, Monteith and Squire [garciahuidobro1982], written as
/// thermal time a day.
[[nodiscard]] inline double germination_rate(double mean, germination_wait const& wait) {
    double const base = wait.base.celsius();
    double const optimum = wait.optimum.celsius();
    double const ceiling = wait.ceiling.celsius();
    if (mean <= base || mean >= ceiling) { return 0.0; }
    if (mean <= optimum) { return mean - base; }
    return (optimum - base) * (ceiling - mean) / (ceiling - optimum);
}

/// Daily rates of a clock that is no group, gate included. Throws `invalid_input` for a group,
/// whose members have a rate each.
[[nodiscard]] inline std::vector<double> daily_rates(clock const& of, day_conditions const& on) {
    std::size_t const size = on.tmin.size();
    std::vector<double> rates(size, 1.0);

    std::vector<double> soil;
    auto const low = [&](bool of_soil) {
        if (of_soil && soil.empty()) { soil = soil_temperature(on.tmin, on.tmax); }
        return of_soil ? std::span<double const>{soil} : on.tmin;
    };
    auto const high = [&](bool of_soil) {
        return of_soil ? std::span<double const>{soil} : on.tmax;
    };

    if (auto const* heat = std::get_if<heat_wait>(&of.what())) {
        auto const lows = low(heat->soil);
        degree_days(lows, high(heat->soil), clock::rule_of(*heat), rates);
    } else if (auto const* band = std::get_if<days_between_wait>(&of.what())) {
        auto const lows = low(band->soil);
        auto const highs = high(band->soil);
        for (std::size_t i = 0; i < size; ++i) {
            double const mean = (lows[i] + highs[i]) / 2.0;
            rates[i] = mean >= band->low.celsius() && mean <= band->high.celsius() ? 1.0 : 0.0;
        }
    } else if (auto const* germination = std::get_if<germination_wait>(&of.what())) {
        auto const lows = low(germination->soil);
        auto const highs = high(germination->soil);
        for (std::size_t i = 0; i < size; ++i) {
            rates[i] = germination_rate((lows[i] + highs[i]) / 2.0, *germination);
        }
    } else if (std::holds_alternative<clock_group>(of.what())) {
        throw invalid_input{{.code = "clock.group_rate",
                             .field = "clock",
                             .problem = "a group of clocks has no rate of its own",
                             .remedy = "ask its members"}};
    }

    if (of.gate()) {
        day_length_gate const& gate = *of.gate();
        for (std::size_t i = 0; i < size; ++i) {
            bool const open =
                gate.at_least ? on.day_length[i] >= gate.hours : on.day_length[i] <= gate.hours;
            if (!open) { rates[i] *= gate.otherwise; }
        }
    }
    return rates;
}

/// The amount that a clock which is no group must run up, in its own unit (days or K day).
[[nodiscard]] inline double amount_of(clock const& of) {
    if (auto const* wait = std::get_if<calendar_wait>(&of.what())) { return wait->days; }
    if (auto const* wait = std::get_if<heat_wait>(&of.what())) {
        return wait->amount.kelvin_days();
    }
    if (auto const* wait = std::get_if<days_between_wait>(&of.what())) { return wait->days; }
    if (auto const* wait = std::get_if<germination_wait>(&of.what())) {
        return wait->amount.kelvin_days();
    }
    throw invalid_input{{.code = "clock.group_amount",
                         .field = "clock",
                         .problem = "a group of clocks has no amount of its own",
                         .remedy = "ask its members"}};
}

}  // namespace epicotyl

#endif
