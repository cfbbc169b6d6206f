// The fewest days that cure, of what goes on curing with more.
#ifndef EPICOTYL_SRC_SEASON_ROWS_SMALLEST_HPP
#define EPICOTYL_SRC_SEASON_ROWS_SMALLEST_HPP

#include <optional>

namespace epicotyl::detail {

/// Longest time before the plan's season that a cure may begin it [days].
inline constexpr int most_days_sooner = 366;

/// Smallest number in 1 ... most for which `cures` holds, which must not stop holding as the number
/// grows; none when it does not hold for `most`.
template <class Cures>
[[nodiscard]] std::optional<int> smallest(int most, Cures const& cures) {
    if (most < 1 || !cures(most)) { return std::nullopt; }
    int bad = 0;
    int good = most;
    while (good - bad > 1) {
        int const middle = bad + (good - bad) / 2;
        (cures(middle) ? good : bad) = middle;
    }
    return good;
}

}  // namespace epicotyl::detail

#endif
