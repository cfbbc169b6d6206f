// What holds a day.
//
// A planned day is the k-th smallest of the days of its season years, and each of these is held by
// whatever attains it: the clock of the stage before, a bound, a link, the day that a target waits
// for; and the day behind that by the same, back to a root. Requirements are named by one question:
// does the day move when they are left out and the season is walked again? Those that move it alone
// are named; where none of those that are left moves it alone, because they tie, so are all that
// belong to some least set which moves it together.
//
// What stays as it is. For a day that is a quantile: all planned sowings and target days. For the
// day of a decision aimed at: the least plan is made anew, of the succession and of all that it
// waits for, since that is where the day comes from; the days that rules give stay.
#ifndef EPICOTYL_SRC_SEASON_DAYS_HELD_BY_HPP
#define EPICOTYL_SRC_SEASON_DAYS_HELD_BY_HPP

#include <vector>

#include "../rows/season_rows.hpp"
#include "calendar_data.hpp"

namespace epicotyl::detail {

/// A requirement that holds a day. Of a wave of which all are waited for, the row of one member.
struct holder {
    requirement_row what;
    bool is_alone = true;  ///< without it alone the day moves; else it ties with others

    /// True of a day that is planned: a sowing, or the day that a target waits for.
    [[nodiscard]] bool is_planned() const {
        return what.kind == requirement_kind::planned && what.note != planned_spring;
    }

    friend bool operator==(holder const& a, holder const& b) { return a.what == b.what; }
};

/// What holds a day: nearest first, the same whatever the order of links in the plan.
struct held_day {
    std::vector<holder> by = {};
    bool is_season_start = false;  ///< the plan begins with the season, and nothing else holds that
    int sooner_years = 0;          ///< years in which the event itself comes before the day
    bool is_clear = true;          ///< false where another plan than the least gave the day
};

/// Of the planned day of an event, not a decision aimed at, that has one.
[[nodiscard]] held_day what_holds_planned(calendar_data const& data, int succession, int event);
/// Of the planned day of a decision aimed at, not `on` a day. `sooner_years` are those of the least
/// plan, before it waits for its day.
[[nodiscard]] held_day what_holds_target(calendar_data const& data, int succession);

/// Of the planned sowing of one that is sown early: of the least plan, or from its spring on.
[[nodiscard]] held_day what_holds_earliest(calendar_data const& data, int succession);

}  // namespace epicotyl::detail

#endif
