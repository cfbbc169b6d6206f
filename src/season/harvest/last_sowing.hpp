// The latest sowing of a crop that is still picked in time.
#ifndef EPICOTYL_SRC_SEASON_HARVEST_LAST_SOWING_HPP
#define EPICOTYL_SRC_SEASON_HARVEST_LAST_SOWING_HPP

#include <vector>

#include <epicotyl/season/harvest/stagger.hpp>

#include "../tables/season_model.hpp"

namespace epicotyl::detail {

/// A sowing that is picked on one of these days, or after it, is of no use.
struct season_limits {
    std::vector<int> frost;  ///< first frost of each season year, `never` where there is none
    int short_days = never;  ///< the first day that is too short

    [[nodiscard]] bool allow(int picked, int year) const {
        return picked < never && picked < frost[at(year)] && picked < short_days;
    }
};

/// Of the first succession of a plan, whatever day it is planned for: sown on one day after another
/// in all season years.
///
/// springs   the halves that its default bounds keep off; null: none
/// needed    season years in which it must live and be in time
[[nodiscard]] last_sowing find_last_sowing(season_model const& model, spring_choice const* springs,
                                           season_limits const& limits, int needed);

}  // namespace epicotyl::detail

#endif
