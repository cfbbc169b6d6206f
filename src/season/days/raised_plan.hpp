// The plan: from the least plan on each sowing is raised, in reverse order, as far as no claim
// fails, its own or of those that wait for it.
#ifndef EPICOTYL_SRC_SEASON_DAYS_RAISED_PLAN_HPP
#define EPICOTYL_SRC_SEASON_DAYS_RAISED_PLAN_HPP

#include <map>
#include <vector>

#include "least_plan.hpp"

namespace epicotyl::detail {

class raised_plan : public least_plan {
protected:
    raised_plan(calendar_data& data, season_model& model, chosen_springs const& springs)
        : least_plan{data, model, springs}, good_alone_later_(batches_.size(), 0) {}

    /// Everything in the order, until what repeats aims at days that stay.
    void plan_all();
    /// In how many years a sowing keeps what it is planned for, and what one day later would break.
    void count_claim(int i);

private:
    /// In reverse order; again as long as the harvests that are scanned for move with what they
    /// wait for.
    void raise_all();
    /// As late as no claim fails.
    void raise(int i);
    /// The same of one that is linked, when others have moved: of the sowings that break nothing of
    /// what waits for it.
    void scan_again(int i);
    /// Planned first harvests of those that are repeated.
    std::map<int, int> first_harvests();

    std::vector<int> good_alone_later_;  ///< good years one day later, were there no links
};

}  // namespace epicotyl::detail

#endif
