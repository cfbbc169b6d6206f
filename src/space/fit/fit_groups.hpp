// Batches that are linked and give way together.
//
// What others wait for may not come on another day by itself. All of a linked group may, by as many
// days each: then the group is one choice more, beside that of each member. It takes the room of
// all members, and a token of each that says which of the two decides about it: each member that
// moves by itself, or not at all, takes its one token, and so does the group that moves; each
// member that leaves it to the group takes its other token, and so does the group that stays. Of
// every token there is one.
#ifndef EPICOTYL_SRC_SPACE_FIT_FIT_GROUPS_HPP
#define EPICOTYL_SRC_SPACE_FIT_FIT_GROUPS_HPP

#include <utility>
#include <vector>

#include "fit_plan.hpp"
#include "fit_trials.hpp"

namespace epicotyl::detail {

/// A linked group and the ways in which it moves.
struct moved_group {
    std::vector<int> members;
    std::vector<std::vector<batch_way>> ways = {};  ///< [shift][member]
    std::vector<double> prices = {};                ///< [shift]
};

/// Shifts of all linked groups of which a batch is in question and every target can give way; no
/// group with a wave that is waited for as a whole. Those that belong together have one number.
[[nodiscard]] std::vector<std::pair<int, batch_change>> shifts_together(
    calendar const& of, std::vector<int> const& batches, fit_options const& options, bool coarse);

/// The groups that have a shift left among the trials.
[[nodiscard]] std::vector<moved_group> groups_of(calendar const& of,
                                                 std::vector<trial> const& trials,
                                                 fit_weights const& weights);

}  // namespace epicotyl::detail

#endif
