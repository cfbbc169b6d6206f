// epicotyl: the daily rates of a clock in one place and one season year.
//
// A rate is >= 0 and exists for days 0 ... N-1; each clock's own file says it. A gate multiplies it
// by `otherwise` on days that are too short (or too long).
//
// Soil temperature is estimated as the mean of the last 10 days' mean air, today's included; the
// first days use what there is. It is a stated estimate: moist soil under cover is warmer in
// spring, and a thermometer in the bed is better (common practice, no source).
#ifndef EPICOTYL_CLOCK_RATE_HPP
#define EPICOTYL_CLOCK_RATE_HPP

#include <cstddef>
#include <span>
#include <variant>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/error.hpp>

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

/// Daily rates of a clock that is no group, gate included. Throws `invalid_input` for a group,
/// whose members have a rate each.
[[nodiscard]] inline std::vector<double> daily_rates(clock const& of, day_conditions const& on) {
    std::size_t const size = on.tmin.size();
    std::vector<double> rates(size);
    std::visit(detail::overloaded{
                   [](clock_group const&) {
                       throw invalid_input{{.code = "clock.group_rate",
                                            .field = "clock",
                                            .problem = "a group of clocks has no rate of its own",
                                            .remedy = "ask its members"}};
                   },
                   [&](simple_wait auto const& wait) {
                       if (!detail::is_of_soil(wait)) {
                           wait.rates(on.tmin, on.tmax, rates);
                           return;
                       }
                       std::vector<double> const soil = soil_temperature(on.tmin, on.tmax);
                       wait.rates(soil, soil, rates);
                   }},
               of.what());

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
    return std::visit(
        detail::overloaded{[](clock_group const&) -> double {
                               throw invalid_input{
                                   {.code = "clock.group_amount",
                                    .field = "clock",
                                    .problem = "a group of clocks has no amount of its own",
                                    .remedy = "ask its members"}};
                           },
                           [](simple_wait auto const& wait) {
                               return wait.needed();
                           }},
        of.what());
}

}  // namespace epicotyl

#endif
