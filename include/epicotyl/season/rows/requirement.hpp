// epicotyl: requirements of a season, and what is said when they cannot all be met.
//
// A requirement is one line of a plan as the season sees it: a bound on the day of an event, or a
// least or greatest distance between two events. It knows where it comes from: the field of the
// plan, and, for a plan that was read from a file, the line.
//
// When requirements cannot all be met, the proof is a walk: from a bound, along distances, to a
// bound that is broken. It names no requirement that could be left out.
//
//     peas: clear not before 3 Jul          pushed by ... ready to clear 72 days after sow
//     leeks: transplant not before 8 Jul    5 days after
//     leeks: transplant no later than 30 Jun  broken by 8 days
#ifndef EPICOTYL_SEASON_ROWS_REQUIREMENT_HPP
#define EPICOTYL_SEASON_ROWS_REQUIREMENT_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/days.hpp>

namespace epicotyl {

enum class requirement_kind {
    season_start,  ///< no event before the season's first day
    not_before,    ///< a bound of crop or succession, a place that opens, or an accepted risk
    not_after,     ///< a bound of crop or succession
    target,        ///< the day aimed at
    stage,         ///< what must pass before the next event
    hold,          ///< how long ready plants may wait
    link,          ///< what must pass between two successions
    within,        ///< how much may pass between two successions
    planned,       ///< a day that `schedule` keeps, because enough years allow no earlier one
    season_end     ///< the target within the season
};

/// "season_start", "not_before" ...: the words used in data.
[[nodiscard]] std::string_view to_string(requirement_kind of) noexcept;

/// One requirement, as a person can read it and change it.
struct requirement {
    requirement_kind kind = requirement_kind::season_start;
    std::string succession = {};       ///< whose event it bounds
    std::string event = {};            ///< the event
    std::string from_succession = {};  ///< what it counts from; empty for a bound
    std::string from_event = {};       ///< the event it counts from
    bool is_upper = false;             ///< it says "no later than", else "no earlier than"
    std::string sentence = {};         ///< "clear of \"peas\", and 5 days after that transplant"
    std::string field = {};            ///< "succession[3].not_before.transplant"
    int line = 0;                      ///< in the plan's file; 0 where there is none

    friend bool operator==(requirement const&, requirement const&) = default;
};

/// One step of a conflict: because of a requirement an event comes no earlier (or no later) than a
/// day.
struct conflict_step {
    requirement because;
    std::string succession;
    std::string event;
    bool no_sooner = true;    ///< else no later
    std::optional<day> when;  ///< none: beyond the season
    /// More than one where the steps of this turn are gone through several times, each gaining a
    /// little; `when` is then the day after the last.
    int turns = 1;

    friend bool operator==(conflict_step const&, conflict_step const&) = default;
};

/// Requirements that cannot all be met, as a proof. None of them can be left out.
struct season_conflict {
    std::vector<std::string> successions = {};  ///< that it names
    std::vector<conflict_step> steps = {};
    requirement broken = {};          ///< the bound that the last step breaks
    std::optional<day> allowed = {};  ///< the day that it allows
    std::string sentence = {};        ///< all of it, for people

    friend bool operator==(season_conflict const&, season_conflict const&) = default;
};

/// A requirement that, giving way by some days, cures a conflict.
struct cure {
    requirement what;
    int days = 0;
    std::string sentence = {};  ///< "allow transplant of \"leeks\" 8 days later: until 8 Jul"

    friend bool operator==(cure const&, cure const&) = default;
};

}  // namespace epicotyl

#endif
