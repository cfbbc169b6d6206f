// How many season years of a succession can be good, counted by networks of requirements as
// `schedule` counts them in its least plan: all that is waited for as early as it may, sowings that
// wait for links and targets on the day that enough years allow.
#ifndef EPICOTYL_SRC_SEASON_WINDOWS_CLAIM_COUNTER_HPP
#define EPICOTYL_SRC_SEASON_WINDOWS_CLAIM_COUNTER_HPP

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>
#include <variant>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "window_network.hpp"

namespace epicotyl::detail {

/// A requirement of the network that gives way.
struct given_way {
    int row;
    requirement_row what;
    int days;
};

/// Counts, as `schedule` does in its least plan, the season years that can be good.
class claim_counter {
public:
    claim_counter(window_frame const& frame, std::vector<int> order)
        : frame_{frame},
          model_{frame.model()},
          order_{std::move(order)},
          first_vertex_(frame.batches.size(), -1) {}

    struct counted {
        int good = 0;
        std::vector<int> failed = {};  ///< indices of years
        claim_asked asked = {};
    };

    /// Of the last succession in order, or of one before it.
    [[nodiscard]] counted count(int succession, std::optional<given_way> const& way = {}) {
        claim_asked claim{.succession = succession,
                          .with_uppers = false,
                          .planned_sowing = none_planned(),
                          .planned_target = none_planned()};
        for (int i : order_) {
            plan_least(i, claim, way);
            if (i == succession) { break; }
        }
        claim.with_uppers = true;
        int const asked = known(succession).asked - gives(way, succession, false);
        claim.target_by = std::max(asked, target_ready_);
        claim.is_season_end = claim.target_by > model_.season_days;
        if (claim.is_season_end) { claim.target_by = model_.season_days; }
        counted made{.asked = claim};
        for (int y = 0; y < model_.years; ++y) {
            if (network(claim, y, way)->net.least().solved()) {
                ++made.good;
            } else {
                made.failed.push_back(y);
            }
        }
        return made;
    }

    /// True when a succession is good in enough years.
    [[nodiscard]] bool is_met(int succession, given_way const& way) {
        return count(succession, way).good >= known(succession).need;
    }

    [[nodiscard]] std::unique_ptr<window_network> network(
        claim_asked const& claim, int year, std::optional<given_way> const& way = {}) {
        std::optional<relaxed_row> relaxed;
        if (way) { relaxed = relaxed_row{way->row, way->days}; }
        return make_window_network(frame_, order_, year, first_vertex_, relaxed, &claim);
    }

private:
    [[nodiscard]] succession_days const& known(int i) const {
        return frame_.of->successions[at(i)];
    }
    [[nodiscard]] resolved_succession const& batch(int i) const {
        return model_.planned.successions()[at(i)];
    }

    /// True where a `not_after` lies behind the target.
    [[nodiscard]] bool must_end_in_time(int i) const {
        std::vector<event_bounds> const& bounds = *frame_.batches[at(i)].bounds;
        return std::any_of(bounds.begin() + batch(i).target_event + 1, bounds.end(),
                           [](event_bounds const& one) { return one.not_after < never; });
    }

    /// Days by which the target of a succession gives way to earlier days (or to later ones).
    [[nodiscard]] static int gives(std::optional<given_way> const& way, int succession,
                                   bool is_upper) {
        bool const is_it = way && way->what.kind == requirement_kind::target &&
                           way->what.to.succession == succession && way->what.is_upper == is_upper;
        return is_it ? way->days : 0;
    }

    /// Days of an event when all is as early as it may, and the one that enough years allow.
    struct least_days {
        std::vector<int> of_year;
        int usual;

        /// What each year must be held to so that it keeps the usual day. A day that the season
        /// does not reach is kept by nobody.
        [[nodiscard]] std::vector<int> held() const {
            std::vector<int> days;
            for (int day : of_year) { days.push_back(day < usual && usual < never ? usual : 0); }
            return days;
        }
    };
    [[nodiscard]] least_days least(int i, int event, int need, claim_asked const& claim,
                                   std::optional<given_way> const& way) {
        std::vector<int> days;
        for (int y = 0; y < model_.years; ++y) {
            auto const of_year = network(claim, y, way);
            network_answer const found = of_year->net.least();
            days.push_back(found.values()[at(first_vertex_[at(i)] + event)]);
        }
        std::vector<int> sorted = days;
        std::sort(sorted.begin(), sorted.end());
        return {std::move(days), sorted[at(need - 1)]};
    }

    [[nodiscard]] std::vector<std::vector<int>> none_planned() const {
        return {frame_.batches.size(), std::vector<int>(at(model_.years), 0)};
    }

    /// The day on which `schedule` plans a sowing that waits for links, and the day that it keeps
    /// for a target.
    void plan_least(int i, claim_asked& claim, std::optional<given_way> const& way) {
        target_ready_ = 0;
        bool const scans = is_scanned_for(batch(i).target_rule);
        if (i != claim.succession && scans) {
            claim.planned_sowing[at(i)].assign(at(model_.years), known(i).sowing);
            return;
        }
        bool const waits =
            std::ranges::any_of(frame_.batches[at(i)].rows, [](requirement_row const& row) {
                return row.kind == requirement_kind::link && row.to.event == 0;
            });
        if (waits) {
            claim.planned_sowing[at(i)] = least(i, 0, known(i).link_need, claim, way).held();
        }
        bool const slips = !is_outcome(*batch(i).grown, batch(i).target_event) &&
                           !asks_exactly(batch(i).target_rule);
        if (!slips) { return; }
        claim.free_target = i;
        least_days const ready = least(i, batch(i).target_event, known(i).need, claim, way);
        claim.free_target = -1;
        // Of its own target it is enough that too few years would be in time, where nothing behind
        // it must be.
        if (i != claim.succession || must_end_in_time(i)) {
            claim.planned_target[at(i)] = ready.held();
        }
        target_ready_ = ready.usual;
    }

    window_frame const& frame_;
    season_model const& model_;
    std::vector<int> order_;
    std::vector<int> first_vertex_;
    int target_ready_ = 0;  ///< of the last planned: when its target is ready in enough years
};

}  // namespace epicotyl::detail

#endif
