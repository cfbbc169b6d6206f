// Temperatures and lifts of heated places as they are said, in the units of a plan.
#ifndef EPICOTYL_SRC_HEAT_SAY_HPP
#define EPICOTYL_SRC_HEAT_SAY_HPP

#include <cmath>
#include <string>

#include <fmt/format.h>

#include <epicotyl/units.hpp>

namespace epicotyl::detail {

[[nodiscard]] inline double in_degrees(temperature_span lift, unit_system units) {
    return units == unit_system::us ? lift.fahrenheit() : lift.kelvin();
}

/// "14.0 °C", of a difference.
[[nodiscard]] inline std::string say_degrees(temperature_span lift, unit_system units) {
    return fmt::format("{:.1f} {}", in_degrees(lift, units),
                       units == unit_system::us ? "°F" : "°C");
}

/// "-9.1 °C"
[[nodiscard]] inline std::string say_degrees(temperature at, unit_system units) {
    bool const us = units == unit_system::us;
    double const value = us ? at.fahrenheit() : at.celsius();
    std::string const digits = fmt::format("{:.1f}", std::abs(value));
    // Not of what rounds to nothing.
    bool const below = value < 0.0 && digits != "0.0";
    return fmt::format("{}{} {}", below ? "-" : "", digits, us ? "°F" : "°C");
}

}  // namespace epicotyl::detail

#endif
