// The fewest sowings of which one is in harvest on the wanted days, in enough season years.
//
// A year's first harvest and clearing come no earlier for a later sowing. "Harvest begun by the
// first wanted day" therefore holds for sowings up to one day, "not cleared until after the last"
// for sowings from one day on, and the sowings that serve a year, were none lost to cold, are a run
// of days, or none. What is wanted is the fewest days that lie in the runs of so many years: points
// that stab intervals, which is solved exactly, without a search.
//
// Cold cuts pieces out of a run: a sowing may be up when it freezes, the next not yet, and a third
// in a place where it is hurt earlier. Of a year with several runs it must be known whether an
// earlier one of them is served; choices that differ in that are kept beside one another as long as
// neither is sure to end no better than the other. Such years are few, and the answer stays exact.
#ifndef EPICOTYL_SRC_SEASON_DAYS_HARVEST_COVER_HPP
#define EPICOTYL_SRC_SEASON_DAYS_HARVEST_COVER_HPP

#include <optional>
#include <vector>

#include "path_walker.hpp"

namespace epicotyl::detail {

/// Sowings that serve one season year: days `first` to `last` of the season.
struct serving_run {
    int first = 0;
    int last = -1;

    [[nodiscard]] bool holds(int sowing) const noexcept {
        return first <= sowing && sowing <= last;
    }
};

/// All sowings that serve one season year: runs that do not touch, ascending; none: no sowing does.
using serving_runs_of_year = std::vector<serving_run>;

/// True when a sowing serves a year.
[[nodiscard]] bool is_served(serving_runs_of_year const& runs, int sowing);

/// Sowing days chosen together.
struct sowing_choice {
    std::vector<int> sowings = {};  ///< ascending
    int good = 0;                   ///< season years that one of them serves
    /// The most years that one, two ... sowings can serve, up to the number chosen.
    std::vector<int> most_good = {};
};

/// The runs of all season years of a succession whose target is `in_harvest`, for sowings from
/// `first_sowing` on. `days` is written to.
[[nodiscard]] std::vector<serving_runs_of_year> serving_runs(season_model const& model,
                                                             path_walker const& walker,
                                                             days_table& days, int succession,
                                                             int first_sowing);

/// The fewest sowings that serve `need` years; of these the ones that serve most, and of those the
/// latest. Where no number serves `need` years, the fewest that serve all that can be served.
[[nodiscard]] sowing_choice fewest_covering(std::vector<serving_runs_of_year> const& runs,
                                            int need);

}  // namespace epicotyl::detail

#endif
