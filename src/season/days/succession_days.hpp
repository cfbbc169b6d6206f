// What a schedule knows of one succession: what it is held to, and its sowing.
#ifndef EPICOTYL_SRC_SEASON_DAYS_SUCCESSION_DAYS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_SUCCESSION_DAYS_HPP

#include <memory>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "../rows/bounds.hpp"
#include "../tables/season_model.hpp"

namespace epicotyl::detail {

/// A stage that is damaged in more years than the default bound's risk allows.
struct risk_excess {
    int stage;
    int damaged;      ///< season years
    int first_night;  ///< the earliest of all years
};

/// A `sowing_claim` as it is counted; names are looked up when somebody asks.
struct counted_claim {
    int good = 0;
    int link_days_kept = 0;
    int good_one_day_later = 0;
    int broken = -1;                     ///< the succession whose count breaks, -1: nothing breaks
    std::string_view broken_claim = {};  ///< "target", "links" or "harvest"
};

/// What the schedule knows of one succession. Sentences are made when somebody asks.
struct succession_days {
    bool resolved = false;
    int asked = 0;             ///< the day the target's rule gives
    int target_day = never;    ///< A
    int earliest_ready = 0;    ///< need-th smallest x_a when everything is as early as allowed
    double reliability = 1.0;  ///< its own, or that of the calendar
    int need = 1;
    int link_need = 1;            ///< years whose links must allow the sowing
    int sowing = never;           ///< the planned sowing
    std::span<int> planned = {};  ///< planned day of each event, `never`: none; empty until known
    int latest_sowing = never;    ///< of one sown early: what its target alone would allow
    int spring_starts = 0;        ///< of one sown early: the first day of that sowing's spring
    std::vector<risk_excess> beyond_risk = {};
    counted_claim claim = {};
    /// What its default bounds look into; null: it has none.
    std::shared_ptr<spring_choice const> springs = {};

    /// Of each event; empty where the plan's rules gave no days. The reasons may name another
    /// succession that is bounded alike.
    [[nodiscard]] std::vector<event_bounds> const& bounds() const {
        static std::vector<event_bounds> const none;
        return bounds_ ? *bounds_ : none;
    }
    void hold(std::vector<event_bounds> bounds) {
        bounds_ = std::make_shared<std::vector<event_bounds> const>(std::move(bounds));
    }
    void hold_those_of(succession_days const& other) { bounds_ = other.bounds_; }

private:
    std::shared_ptr<std::vector<event_bounds> const> bounds_ = {};
};

}  // namespace epicotyl::detail

#endif
