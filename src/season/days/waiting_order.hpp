// Successions in an order in which those waited for come before those that wait.
#ifndef EPICOTYL_SRC_SEASON_DAYS_WAITING_ORDER_HPP
#define EPICOTYL_SRC_SEASON_DAYS_WAITING_ORDER_HPP

#include <vector>

#include <epicotyl/error.hpp>
#include <epicotyl/plan/plan.hpp>

#include "../tables/season_model.hpp"

namespace epicotyl::detail {

/// Indices of successions, those waited for first, ties in plan order. Those on a circle are left
/// out, and their obstacle names it.
[[nodiscard]] std::vector<int> order_of_waiting(season_model const& model,
                                                std::vector<std::vector<obstacle>>& obstacles);

/// Stands for a succession that no link names.
inline constexpr int stands_alone = -1;

/// Who waits for whom, directly or not, as groups: the first relative of each succession by index,
/// its own index when it is that, or `stands_alone`.
[[nodiscard]] std::vector<int> groups_by_links(plan const& planned);

}  // namespace epicotyl::detail

#endif
