// epicotyl: schedule. From a plan and a climate to planned days.
//
// Let a succession have events 0 ... m, let f_j be the ready map of stage j in a season year, a the
// event aimed at and A its day. The chain of a year that is sown on day s is
//
//     x_0 = s,   x_{j+1} = max(f_j(x_j), not_before of j+1, links into j+1)
//
// and the year is good when x_a <= A and every `not_after` holds, those behind the target included:
// a batch that must be cleared by a day is planned for that, or has no days. With n season years
// and reliability r, need = max(1, ceil(r n)).
//
// Without links the planned sowing is the latest s with at least `need` good years: literally true
// of the record, and one day later breaks a count.
//
// With links a sowing waits, and two claims are kept for each succession, each counted by itself:
// (a) it is good in `need` years; (b) its planned sowing is not before the need-th smallest day
// that its links allow. First the least plan: in topological order each succession gets its
// earliest sowing that keeps (b); where (a) fails even here, it is truly unresolved. Then it is
// raised: in reverse order each sowing moves as late as its own claims and those of everything
// downstream allow, the rest staying where they are.
//
// Links between successions must form no cycle here; one that exists is named as the reason.
// `hold` and a link's `within` are counted and reported, not enforced.
#ifndef EPICOTYL_SEASON_DAYS_SCHEDULE_HPP
#define EPICOTYL_SEASON_DAYS_SCHEDULE_HPP

#include <optional>

#include <epicotyl/fwd.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// Planned days for every succession that can be resolved. `wanted` replaces the plan's
/// reliability; a succession with its own keeps it. Throws `invalid_input` when plan and climate
/// differ in season start, season length or latitude.
[[nodiscard]] calendar schedule(plan const& of, climate const& under,
                                std::optional<reliability> wanted = std::nullopt);

}  // namespace epicotyl

#endif
