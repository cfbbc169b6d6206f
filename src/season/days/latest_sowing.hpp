// The latest sowing, read backwards from the target, or from what must come by a day behind it.
//
// In one season year the day of an event never falls as the sowing moves on, so the sowings with
// which the year is good are all those up to a last one. The last day of an event gives that of the
// one before it, and so on to the sowing: one look-up a stage.
//
// Through a link it goes on: the last day of an event that waits gives the last day of the event
// that it waits for, and that the last sowing of the other succession.
#ifndef EPICOTYL_SRC_SEASON_DAYS_LATEST_SOWING_HPP
#define EPICOTYL_SRC_SEASON_DAYS_LATEST_SOWING_HPP

#include <cstdint>
#include <span>
#include <vector>

#include "chain_walker.hpp"

namespace epicotyl::detail {

/// The latest sowing with which each season year is good, -1 where none is: `is_good` of a walk
/// from it holds, and from a later one does not. For a target that is no `in_harvest`, without
/// links. `latest` has one element a season year.
void latest_good_sowings(season_model const& model, succession_days const& known, int succession,
                         std::span<std::int16_t> latest);

/// An upper limit of the sowing of `first`: sown later, `then`, which waits for it directly, would
/// be good, or its sowing kept, in fewer years than it needs. With the other successions where they
/// are, and the days of `then` walked so. Not always the least such limit; `never` where nothing is
/// known.
[[nodiscard]] int latest_sowing_for(season_model const& model, chain_walker const& walker,
                                    days_table const& days,
                                    std::vector<succession_days> const& known, int first, int then);

}  // namespace epicotyl::detail

#endif
