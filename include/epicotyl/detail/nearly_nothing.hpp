// epicotyl: what rounding leaves in the last digits, and a value that is not there.
#ifndef EPICOTYL_DETAIL_NEARLY_NOTHING_HPP
#define EPICOTYL_DETAIL_NEARLY_NOTHING_HPP

#include <limits>

namespace epicotyl::detail {

/// Of a plant, a cell or a share: less than this is rounding, and no more plants.
inline constexpr double nearly_nothing = 1e-9;

/// A day's temperature that nobody has.
inline constexpr double missing = std::numeric_limits<double>::quiet_NaN();

}  // namespace epicotyl::detail

#endif
