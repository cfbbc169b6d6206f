// epicotyl: how much medium a cell holds.
//
// A pressed block is a cube; a cell of a plug tray or a square pot is a frustum, wider on top:
//
//     cube_litres(5.0)                 // 0.125: a block of 5 cm
//     frustum_litres(3.8, 2.5, 4.5)    // 0.0453: top and bottom are squares of these sides
//
// A tray takes as many times that as it has cells, which is the `medium` of a container in a plan.
// Medium settles and is pressed: order more than the cells hold (amounts/quantities.hpp).
#ifndef EPICOTYL_CROP_CELL_VOLUME_HPP
#define EPICOTYL_CROP_CELL_VOLUME_HPP

#include <cmath>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

namespace detail {

inline constexpr double cubic_centimetres_per_litre = 1000.0;

[[nodiscard]] inline double require_side(double centimetres, char const* field) {
    constexpr double most = 1000.0;
    if (centimetres > 0.0 && centimetres <= most) { return centimetres; }
    throw invalid_input{{.code = "cell.side",
                         .field = field,
                         .value = detail::text(centimetres),
                         .bound = text("more than 0 to ", most),
                         .unit = "cm",
                         .problem = detail::text(centimetres, " is no length of a cell"),
                         .remedy = "give the inner length"}};
}

}  // namespace detail

/// Litres of a cube with such sides [cm]. Throws `invalid_input` unless 0 < side <= 1000 cm.
[[nodiscard]] inline double cube_litres(double side) {
    side = detail::require_side(side, "side");
    return side * side * side / detail::cubic_centimetres_per_litre;
}

/// Litres of a square frustum, by its sides on top and at the bottom and its depth [cm]:
/// depth / 3 (top^2 + top bottom + bottom^2). Throws `invalid_input` unless each is more than 0 and
/// at most 1000 cm.
[[nodiscard]] inline double frustum_litres(double top, double bottom, double depth) {
    top = detail::require_side(top, "top");
    bottom = detail::require_side(bottom, "bottom");
    depth = detail::require_side(depth, "depth");
    return depth * (top * top + top * bottom + bottom * bottom) / 3.0 /
           detail::cubic_centimetres_per_litre;
}

}  // namespace epicotyl

#endif
