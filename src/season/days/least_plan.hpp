// The least plan: all sown as early as links, bounds and claims allow, in the order of waiting, and
// the day of each target.
//
// What neither waits nor is waited for is planned to the end here: read back from its target.
#ifndef EPICOTYL_SRC_SEASON_DAYS_LEAST_PLAN_HPP
#define EPICOTYL_SRC_SEASON_DAYS_LEAST_PLAN_HPP

#include <map>
#include <optional>
#include <vector>

#include "known_bounds.hpp"
#include "planning.hpp"

namespace epicotyl::detail {

class least_plan : public planning {
protected:
    least_plan(calendar_data& data, season_model& model, chosen_springs const& springs)
        : planning{data, model, springs}, missing_(model.awaited_all.size()) {}

    /// All of the order as early as they may.
    void plan_least(std::map<int, int> const& harvests);
    /// The earliest sowing that its links allow in enough years, and the day of its target.
    void least(int i, std::map<int, int> const& harvests);
    /// False, with obstacles, where the plan says what cannot be.
    bool read_rules(int i, std::map<int, int> const& harvests);
    /// Fills tables where many successions will look into them.
    void expect_days();

private:
    /// True when nothing that `i` waits for is unresolved; else says so.
    bool can_wait(int i);
    /// The first in the plan of those waited for together that has no days; `none` where all have.
    /// It is looked for once: those who wait come behind all of them.
    int missing_of(int awaited, int none);
    /// Planned first harvest of the first of the series of a repeat.
    std::optional<int> first_harvest(int i, std::map<int, int> const& harvests);
    /// True when two successions of one path that stand alone have the same days.
    bool ask_the_same(int i, int other) const;
    /// `aim` and `raise` in one step, for a succession that neither waits nor is waited for. False
    /// where it cannot be resolved.
    bool aim_alone(int i, int earliest);
    void take_days_of(int i, int other);
    /// The same for one that nobody before it is like.
    bool seek_alone(int i, int earliest);
    /// The day of a target that is ready, with all as early as allowed, on `earliest_ready`.
    int target_day(int i) const;
    /// Walks it from its earliest sowing; it has days where enough years are good.
    void aim(int i, int earliest);
    /// A day with the most good years, found by trying every day: it is not monotone.
    void scan_harvest(int i, int earliest);

    std::vector<std::optional<int>> missing_;  ///< see `missing_of`
    earliest_days earliest_ = {};
};

}  // namespace epicotyl::detail

#endif
