// epicotyl: which temperatures come from a whole number of degrees Fahrenheit.
#ifndef EPICOTYL_DETAIL_WHOLE_FAHRENHEIT_HPP
#define EPICOTYL_DETAIL_WHOLE_FAHRENHEIT_HPP

#include <cmath>
#include <optional>

#include <epicotyl/detail/whole.hpp>

namespace epicotyl::detail {

/// The whole °F that lies within 0.05 K of a temperature [°C], so that rounding to a tenth of a
/// degree Celsius can have made the one of the other; none when no whole °F does. A tenth is never
/// just 0.05 K off (see weather/ghcn_daily.hpp), so the last digits of a double decide nothing.
[[nodiscard]] inline std::optional<int> whole_fahrenheit(double celsius) noexcept {
    double const nearest = std::round(celsius * 1.8 + 32.0);
    if (!(std::abs(celsius - (nearest - 32.0) / 1.8) <= 0.05)) { return std::nullopt; }
    return whole_of(nearest);
}

}  // namespace epicotyl::detail

#endif
