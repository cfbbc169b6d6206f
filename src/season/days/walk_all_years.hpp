// All successions of a calendar through all season years, on one thread or several.
//
// Those that stand alone are walked path by path, since what looks into the same tables goes well
// together; then those that are linked, group by group.
#ifndef EPICOTYL_SRC_SEASON_DAYS_WALK_ALL_YEARS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_WALK_ALL_YEARS_HPP

#include "calendar_data.hpp"

namespace epicotyl::detail {

/// Puts the walks of a calendar, whose groups are known, into the order in which they are walked.
void arrange_walks(calendar_data& planned);

/// Fills the days of a calendar's successions, in a table with its rows, on so many threads (1 or
/// more); the days do not depend on it.
void walk_all_years(season_model const& model, calendar_data const& planned, days_table& days,
                    int threads);

}  // namespace epicotyl::detail

#endif
