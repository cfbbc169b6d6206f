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
        : least_plan{data, model, springs} {}

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
    /// In how many years a sowing one day later would be good, with what it waits for where it is:
    /// in those that are good now and whose latest sowing, its links left out, is later.
    int good_one_day_later(int i);
    /// Planned first harvests of those that are repeated.
    std::map<int, int> first_harvests();
};

}  // namespace epicotyl::detail

#endif
