// What the plan asks of each succession: the day its target's rule gives, in how many years, and
// within which bounds. Read once, except of repeats, whose day moves with the harvest of the first.
#ifndef EPICOTYL_SRC_SEASON_DAYS_ASKED_RULES_HPP
#define EPICOTYL_SRC_SEASON_DAYS_ASKED_RULES_HPP

#include <optional>
#include <vector>

#include "calendar_data.hpp"
#include "default_springs.hpp"
#include "known_bounds.hpp"

namespace epicotyl::detail {

class asked_rules {
public:
    /// Writes into `data`, which has a place for each succession. Without `springs` nothing has
    /// default bounds.
    asked_rules(calendar_data& data, season_model const& model, chosen_springs const& springs);

    /// The day asked for, reliability, need and bounds of a succession; `first_harvest` is that of
    /// the first of its series, for a repeat. False, with obstacles in `problems`, where the plan
    /// says what cannot be.
    bool read(int succession, std::optional<int> first_harvest, std::vector<obstacle>& problems);

private:
    [[nodiscard]] double reliability_of(int succession) const;
    [[nodiscard]] int need_of(int succession) const;
    bool ask(int succession, std::optional<int> first_harvest, std::vector<obstacle>& problems);

    calendar_data& data_;
    season_model const& model_;
    chosen_springs const& springs_;
    std::vector<char> is_known_;
    known_bounds bounds_;
};

}  // namespace epicotyl::detail

#endif
