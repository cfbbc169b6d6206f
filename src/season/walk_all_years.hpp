// Every succession of a calendar through every season year, on several threads.
#ifndef EPICOTYL_SRC_SEASON_WALK_ALL_YEARS_HPP
#define EPICOTYL_SRC_SEASON_WALK_ALL_YEARS_HPP

#include "engine.hpp"

namespace epicotyl::detail {

/// Fills the days of a calendar's successions, `never` where one is not resolved, on so many
/// threads (1 or more); the days do not depend on it.
void walk_all_years(season_model const& model, calendar_data const& planned, days_table& days,
                    int threads);

}  // namespace epicotyl::detail

#endif
