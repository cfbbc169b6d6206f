// How moves and shortages are said.
#ifndef EPICOTYL_SRC_SPACE_FIT_FIT_TEXT_HPP
#define EPICOTYL_SRC_SPACE_FIT_FIT_TEXT_HPP

#include <vector>

#include "fit_plan.hpp"
#include "fit_rooms.hpp"

namespace epicotyl::detail {

/// The moves that a way to treat a batch makes; `planned` is the batch without them.
[[nodiscard]] std::vector<fit_move> moves_of(calendar const& of, fit_weights const& weights,
                                             trial const& planned, batch_way const& way,
                                             std::vector<trial> const& trials, double size);

/// The fit with what its changed plan still has no room for, in plan order.
[[nodiscard]] space_fit with_shortages(space_fit made);

/// Price of a trial's moves for a whole batch.
[[nodiscard]] double price_of(fit_weights const& weights, trial const& planned, trial const& moved);

/// Days that a batch goes out early; 0 or less: it does not.
[[nodiscard]] int early_days(trial const& planned, trial const& moved);

}  // namespace epicotyl::detail

#endif
