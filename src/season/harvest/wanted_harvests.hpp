// The harvests that `stagger` is asked for.
#ifndef EPICOTYL_SRC_SEASON_HARVEST_WANTED_HARVESTS_HPP
#define EPICOTYL_SRC_SEASON_HARVEST_WANTED_HARVESTS_HPP

#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/harvest/stagger.hpp>

namespace epicotyl::detail {

/// Throws `invalid_input` for days outside of the season, and for numbers out of range.
void require_options(plan const& of, stagger_options const& wanted);

/// Offsets of the wanted first harvests, from `first` to no later than `last`. Throws
/// `invalid_input` where more are wanted than there are days.
[[nodiscard]] std::vector<int> wanted_days(int first, int last, stagger_options const& wanted);

}  // namespace epicotyl::detail

#endif
