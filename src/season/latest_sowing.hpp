// The latest sowing of a succession that waits for no other, read backwards from its target.
//
// In one season year the day of the target never falls as the sowing moves on, so the sowings with
// which the year is good are all those up to a last one. The target's day gives the last day of the
// event before it, that of the one before, and so on to the sowing: one look-up a stage.
#ifndef EPICOTYL_SRC_SEASON_LATEST_SOWING_HPP
#define EPICOTYL_SRC_SEASON_LATEST_SOWING_HPP

#include <cstdint>
#include <span>

#include "engine.hpp"

namespace epicotyl::detail {

/// The latest sowing with which each season year is good, -1 where none is: `is_good` of a walk
/// from it holds, and from a later one does not. For a target that is no `in_harvest`, without
/// links. `latest` has one element a season year.
void latest_good_sowings(season_model const& model, succession_days const& known, int succession,
                         std::span<std::int16_t> latest);

}  // namespace epicotyl::detail

#endif
