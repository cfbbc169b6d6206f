// What a smooth year cannot follow of twelve monthly means.
#ifndef EPICOTYL_SRC_WEATHER_NORMALS_HPP
#define EPICOTYL_SRC_WEATHER_NORMALS_HPP

#include <array>
#include <cstddef>
#include <optional>

namespace epicotyl::detail {

/// How far a monthly mean may stand from the smooth year through all twelve [K].
inline constexpr double largest_normals_misfit = 2.0;

/// A month that does not fit the others.
struct normals_misfit {
    std::size_t month;  ///< 0 January
    double lowest;      ///< means that would fit the other eleven [°C]
    double highest;
};

/// Of twelve monthly means [°C] the one that stands furthest from the year of three harmonics
/// fitted to them, when that is more than `largest_normals_misfit`; none when all fit. Where a
/// single month is wrong, it is this one.
[[nodiscard]] std::optional<normals_misfit> find_normals_misfit(
    std::array<double, 12> const& normals);

}  // namespace epicotyl::detail

#endif
