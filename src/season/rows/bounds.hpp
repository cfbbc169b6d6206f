// Everything that bounds an event, each with its reason.
#ifndef EPICOTYL_SRC_SEASON_ROWS_BOUNDS_HPP
#define EPICOTYL_SRC_SEASON_ROWS_BOUNDS_HPP

#include <optional>
#include <vector>

#include <epicotyl/season/rows/reason.hpp>

#include "../tables/wait_table.hpp"

namespace epicotyl::detail {

/// One lower bound on an event, and why.
struct bound_note {
    int day;
    reason why;
};

/// Everything that bounds one event of one succession.
struct event_bounds {
    int not_before = 0;
    std::vector<bound_note> lower = {};
    int not_after = never;
    std::optional<reason> upper = {};
};

}  // namespace epicotyl::detail

#endif
