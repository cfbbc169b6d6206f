// Why a succession has no days, and the nearest change that would give it some.
#ifndef EPICOTYL_SRC_SEASON_DAYS_DIAGNOSE_HPP
#define EPICOTYL_SRC_SEASON_DAYS_DIAGNOSE_HPP

#include <epicotyl/error.hpp>

#include "path_walker.hpp"

namespace epicotyl::detail {

/// The target is reached in too few season years, however early the sowing: `days` holds the
/// succession at its earliest.
[[nodiscard]] obstacle never_ready(season_model const& model, path_walker const& walker,
                                   days_table const& days, succession_days const& known,
                                   int succession);

/// The target's rule gives a day that the season does not reach.
[[nodiscard]] obstacle after_season(season_model const& model, succession_days const& known,
                                    int succession);

/// The links let it be sown in too few season years.
[[nodiscard]] obstacle links_never(season_model const& model, path_walker const& walker,
                                   days_table const& days, succession_days const& known,
                                   int succession);

/// Too few good years at the earliest sowing, which `days` holds.
[[nodiscard]] obstacle too_few_good(season_model const& model, path_walker const& walker,
                                    days_table const& days, succession_days const& known,
                                    int succession, int sowing);

/// No sowing is in harvest on the wanted days in enough years; says which sowings together would.
[[nodiscard]] obstacle too_seldom_in_harvest(season_model const& model, path_walker const& walker,
                                             days_table& days, succession_days const& known,
                                             int succession, int first_sowing);

/// A repeat whose first member has no usual harvest to count from.
[[nodiscard]] obstacle repeat_never(season_model const& model, int succession);

}  // namespace epicotyl::detail

#endif
