// The requirements of a season, as one list.
//
// All that a plan asks of the days of its events is a row: an event comes no earlier, or no later,
// than a day. That day stands in the calendar (a bound), or a wait makes it of the day of another
// event, or of the last of a wave. Whoever reads the rows knows every requirement: the network of a
// season year, with its conflicts and cures, and what is told of what holds a day. The forward walk
// of a calendar and its reading back are the same rows compiled: one table of ready days a stage,
// and of all the bounds of an event the latest.
//
//     not_before  transplant of "leeks" >= 8 Jul
//     stage       transplant of "leeks" >= what must pass after sow of "leeks"
//     link        transplant of "leeks" >= 5 days after clear of "peas"
#ifndef EPICOTYL_SRC_SEASON_ROWS_SEASON_ROWS_HPP
#define EPICOTYL_SRC_SEASON_ROWS_SEASON_ROWS_HPP

#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/rows/requirement.hpp>

#include "../tables/season_model.hpp"
#include "bounds.hpp"

namespace epicotyl::detail {

/// No event: what a bound counts from.
inline constexpr event_of no_event{-1, -1};
/// Days alone pass.
inline constexpr int no_wait = -1;

/// A requirement by number; `told` spells it out.
struct requirement_row {
    requirement_kind kind;
    event_of to;               ///< whose day it bounds
    event_of from = no_event;  ///< what it counts from
    int awaited = -1;       ///< in place of `from` a wave: index into `season_model::awaited_all`
    int wait = no_wait;     ///< index into `season_model::waits`
    int days = 0;           ///< of a bound its day; else days more than the wait
    int link = -1;          ///< index into `plan::links`
    int note = -1;          ///< index of the bound among those of its event
    bool is_upper = false;  ///< "no later than"

    /// True of a bound: it counts from nothing.
    [[nodiscard]] bool is_bound() const { return from == no_event && awaited < 0; }

    friend bool operator==(requirement_row const&, requirement_row const&) = default;
};

/// Days that `schedule` keeps, as the `note` of their rows.
enum planned_note { planned_sowing, planned_target, planned_spring };

/// A day that is kept, or the one that a target asks for; which, the caller knows.
[[nodiscard]] inline requirement_row planned_row(int succession, int event, planned_note which) {
    return {.kind = requirement_kind::planned, .to = {succession, event}, .note = which};
}
[[nodiscard]] inline requirement_row asked_row(int succession, int target_event) {
    return {.kind = requirement_kind::target, .to = {succession, target_event}};
}

/// Adds what bounds the events of a succession.
void add_bound_rows(std::vector<requirement_row>& rows, int succession,
                    std::vector<event_bounds> const& bounds);
/// Adds what must pass between the events of a succession, and how long its plants hold.
void add_stage_rows(std::vector<requirement_row>& rows, season_model const& model, int succession);
/// What must pass after all that a link waits for, or after its one event.
[[nodiscard]] requirement_row link_row(season_model const& model, int link);

}  // namespace epicotyl::detail

#endif
