// A schedule in the making: what all steps towards it know and ask.
#ifndef EPICOTYL_SRC_SEASON_DAYS_PLANNING_HPP
#define EPICOTYL_SRC_SEASON_DAYS_PLANNING_HPP

#include <algorithm>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "alike.hpp"
#include "asked_rules.hpp"
#include "calendar_data.hpp"
#include "default_springs.hpp"
#include "most_good.hpp"
#include "sowing_trials.hpp"

namespace epicotyl::detail {

class planning {
protected:
    /// Without `springs` nothing has default bounds.
    planning(calendar_data& data, season_model& model, chosen_springs const& springs);
    ~planning() = default;

    /// Finds the order of waiting; those on a circle are no part of it.
    void find_order();

    succession_days& known(int i) { return data_.successions[at(i)]; }
    int last_event(int i) const { return event_count(*batches_[at(i)].grown) - 1; }
    bool is_in_harvest(int i) const { return is_scanned_for(batches_[at(i)].target_rule); }
    bool is_early(int i) const { return batches_[at(i)].is_sown_early(); }
    bool is_linked(int i) const { return walker_.has_links(i) || !model_.awaits_of[at(i)].empty(); }
    /// How many of the years in `latest_` are good with a sowing.
    int good_from(int sowing) const {
        return static_cast<int>(std::count_if(latest_.begin(), latest_.end(),
                                              [&](int latest) { return latest >= sowing; }));
    }
    /// The latest sowing that enough of the years in `latest_` allow.
    int latest_for_need(int need) const { return kth_smallest(latest_, model_.years - need + 1); }

    /// The first day of the spring of one sown early, no later than its latest sowing.
    int spring_of(int i, int latest);
    /// The first sowing that links allow in enough years.
    int links_floor(int i);
    /// The latest of the days with the most good years; early, the first of its spring.
    int chosen(int i, most_good const& found);
    /// The first and last sowing that may be in harvest on the wanted days in any year. Later
    /// sowings are cleared later, so that the first is bisected.
    std::pair<int, int> may_be_in_harvest(int i, int earliest);
    /// The planned first harvest of one that has days, as an offset.
    int planned_harvest(int i);
    /// Gives one that has days its planned days.
    void plan_days(int i);
    /// The planned day of each event, from the days walked.
    void find_planned(int i, std::span<int> into);

    calendar_data& data_;
    season_model& model_;
    std::vector<resolved_succession> const& batches_;
    path_walker walker_;
    asked_rules rules_;
    alike_successions alike_;
    sowing_trials trials_;
    std::vector<int> order_ = {};  ///< those waited for first
    std::vector<std::vector<obstacle>> obstacles_;
    std::vector<char> is_tried_;        ///< its days are walked, whether it is resolved or not
    std::vector<std::int16_t> latest_;  ///< good sowings of the succession at hand, by year
};

}  // namespace epicotyl::detail

#endif
