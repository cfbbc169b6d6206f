// epicotyl: simulate. From a calendar to its prospect, season year by season year.
#ifndef EPICOTYL_SEASON_DAYS_SIMULATE_HPP
#define EPICOTYL_SEASON_DAYS_SIMULATE_HPP

#include <epicotyl/fwd.hpp>
#include <epicotyl/season/days/prospect.hpp>

namespace epicotyl {

/// What becomes of a calendar in every season year of a climate. The planned sowings, the planned
/// days of decisions aimed at, and the bounds are the calendar's, also under another climate than
/// the one it was made with. `threads` 0: as many as the machine has; the result does not depend
/// on it. Throws `invalid_input` when the climate does not fit the plan.
[[nodiscard]] prospect simulate(calendar const& of, climate const& under, int threads = 0);

}  // namespace epicotyl

#endif
