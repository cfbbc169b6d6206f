// The ways in which the batches of a plan may be treated, each with its price.
#ifndef EPICOTYL_SRC_SPACE_FIT_FIT_WAYS_HPP
#define EPICOTYL_SRC_SPACE_FIT_FIT_WAYS_HPP

#include <vector>

#include "fit_plan.hpp"
#include "fit_rooms.hpp"
#include "fit_trials.hpp"

namespace epicotyl::detail {

/// A member of a repeat changes by being written out with all the others, each aimed at its day;
/// one whose day lies after the season cannot be.
[[nodiscard]] bool can_be_written_out(calendar const& before, int batch);

/// The ways of each batch, as planned first: changed, parted, bought in, and left short of room.
/// Those of groups that move together are no part of it.
///
/// planned   every batch as it is planned
/// uses      what it uses of the rooms
/// trials    changes that can be made
[[nodiscard]] std::vector<std::vector<batch_way>> ways_of_batches(
    calendar const& before, fit_options const& options, fit_rooms const& rooms,
    crowding const& crowded, std::vector<trial> const& planned,
    std::vector<std::vector<room_use>> const& uses, std::vector<trial> const& trials);

}  // namespace epicotyl::detail

#endif
