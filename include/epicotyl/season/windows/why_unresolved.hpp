// epicotyl: why a succession of a calendar has no days, as a proof.
//
// `calendar::unresolved` says in a sentence what stands in the way. This says it requirement by
// requirement: in which season years the succession cannot be good however early all is, what each
// of those years fails at, with the lines of the plan, and which single requirement, giving way by
// how many days, would give the succession its days.
//
//     calendar const planned = schedule(plan, climate);
//     for (obstacle const& one : planned.unresolved()) {
//         if (auto const why = why_unresolved(planned, one.succession)) {
//             why->proof.sentence;             // step by step, in one of the years that fail
//             why->cures.front().sentence;     // "allow transplant of "leek 1" 8 days later"
//         }
//     }
//
// Requirements are those that `schedule` counts: what must pass, links, bounds, and the target and
// every `not_after` of the succession itself, all as early as allowed. A `hold` and a
// `within` are not among them, which schedule reports and does not enforce. Where links are waited
// for, schedule plans a day that enough years allow, and keeps it in the others: such a day is a
// requirement of its own ("planned"), which nobody can lift but by curing what it comes from.
//
// A cure is what makes the succession resolved when it is typed into the plan, and the fewest days
// that do. It is found when it is asked for, which takes about as long as some schedules do;
// `schedule` itself is not slowed.
#ifndef EPICOTYL_SEASON_WINDOWS_WHY_UNRESOLVED_HPP
#define EPICOTYL_SEASON_WINDOWS_WHY_UNRESOLVED_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/fwd.hpp>
#include <epicotyl/season/rows/requirement.hpp>
#include <epicotyl/season/windows/window_years.hpp>

namespace epicotyl {

/// Why too few season years are good, and what would help.
struct unresolved_conflict {
    /// Whose requirements they are: the succession asked about, or the one without days that it
    /// waits for.
    std::string succession = {};
    int years = 0;     ///< season years
    int needed = 0;    ///< so many of them must be good
    int possible = 0;  ///< so many can be
    /// What the others fail at, the requirement that the proof of each ends with; most years first.
    std::vector<window_failure> failures = {};
    int year = 0;                  ///< the season year that is told: the first of the most frequent
    season_conflict proof = {};    ///< of that year; it names nothing that can be left out
    std::vector<cure> cures = {};  ///< each alone would help; fewest days first
    std::string sentence = {};     ///< all of it, for people

    friend bool operator==(unresolved_conflict const&, unresolved_conflict const&) = default;
};

/// Why a succession has no days. None where it has some; where no requirements conflict, because a
/// rule gives no day, links go in a circle or the target lies after the season (its obstacle says
/// so); and where each year by itself could be met, but no one sowing day in enough of them, as a
/// target `in_harvest` may ask. Throws `invalid_input` for a name the plan does not have.
///
/// Of a link that waits for the first of a wave, the member that comes first in the calendar is
/// waited for.
[[nodiscard]] std::optional<unresolved_conflict> why_unresolved(calendar const& of,
                                                                std::string_view succession);

}  // namespace epicotyl

#endif
