// epicotyl: from a number to a whole number, whatever the number is.
//
// What a whole type cannot hold must not be cast to it: no language rule says what comes out. Here
// it becomes the furthest number that the type holds, and what is no number becomes 0. Bounds at
// the door keep such numbers out; this is for the day when one of them is missing.
#ifndef EPICOTYL_DETAIL_WHOLE_HPP
#define EPICOTYL_DETAIL_WHOLE_HPP

#include <limits>

namespace epicotyl::detail {

/// The whole number towards 0.
///
///     whole_of(-2.7);                         // -2
///     whole_of(1e300);                        // 2147483647
///     whole_of<std::int64_t>(std::ceil(x));   // rounded up
template <class Whole = int>
[[nodiscard]] constexpr Whole whole_of(double value) noexcept {
    using limits = std::numeric_limits<Whole>;
    // One more than the largest is a power of two, which a double holds exactly.
    constexpr Whole half = limits::max() / 2 + 1;
    constexpr double end = 2.0 * static_cast<double>(half);
    if (value != value) { return 0; }
    if (value >= end) { return limits::max(); }
    if (value <= static_cast<double>(limits::min())) { return limits::min(); }
    return static_cast<Whole>(value);
}

}  // namespace epicotyl::detail

#endif
