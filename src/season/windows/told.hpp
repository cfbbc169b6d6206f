// Requirements, walks and conflicts as a person can read them.
#ifndef EPICOTYL_SRC_SEASON_WINDOWS_TOLD_HPP
#define EPICOTYL_SRC_SEASON_WINDOWS_TOLD_HPP

#include <string>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/rows/requirement.hpp>

#include "window_network.hpp"

namespace epicotyl::detail {

/// A row as a person can read it.
[[nodiscard]] requirement told(window_frame const& frame, requirement_row const& row);
/// The season's first day, before which no event can fall.
[[nodiscard]] requirement told_season_start(window_frame const& frame, event_of const& of);

/// A walk through a network as steps a person can follow.
[[nodiscard]] season_conflict told(window_frame const& frame, window_network const& of,
                                   walk const& proof);

/// "clear of \"peas\" not before 3 Jul (it waits for ...)": a step in words.
[[nodiscard]] std::string step_text(plan const& of, conflict_step const& step);
/// The bound that a conflict breaks, in words.
[[nodiscard]] std::string broken_text(plan const& of, season_conflict const& conflict);

/// A requirement that a walk names.
struct named_row {
    int row = -1;  ///< -1: the season's start
    requirement_row what = {.kind = requirement_kind::season_start, .to = no_event};
};
/// What a walk names, each row once, in its order.
[[nodiscard]] std::vector<named_row> named_rows(window_network const& of, walk const& proof);

/// What a requirement that gives way by some days asks of the grower; empty where nobody can.
[[nodiscard]] std::string cure_text(requirement const& of, int days);
/// The cure of sowing before the season starts.
[[nodiscard]] std::string season_start_text(day start, int days);

}  // namespace epicotyl::detail

#endif
