// What rules mean as days, and which bounds a succession has.
#ifndef EPICOTYL_SRC_SEASON_ROWS_RULE_DAYS_HPP
#define EPICOTYL_SRC_SEASON_ROWS_RULE_DAYS_HPP

#include <optional>
#include <string>
#include <vector>

#include "../tables/season_model.hpp"
#include "bounds.hpp"

namespace epicotyl::detail {

/// A rule as a day, with its reason; or what stands in the way.
struct rule_day {
    int day = never;
    reason why = {};
    std::optional<obstacle> none = {};  ///< set when the rule gives no day
};

/// The day of a rule on one event of a succession.
[[nodiscard]] rule_day day_of_rule(season_model const& model, int succession, int event,
                                   rule const& what);

/// The same day without its reason; none where the rule gives none.
[[nodiscard]] std::optional<int> offset_of_rule(season_model const& model, int succession,
                                                int event, rule const& what);

/// Why a succession's target asks for its day.
[[nodiscard]] reason why_asked(season_model const& model, int succession);

/// The events of a succession that a default bound against cold protects, if its spring is not
/// over; none where its risk is off.
[[nodiscard]] std::vector<int> events_with_default(season_model const& model, int succession);

/// All bounds of a succession: its own, the opening of places, and the default bounds against cold
/// (`springs` is null: none). A rule that gives no day is added to `problems`.
[[nodiscard]] std::vector<event_bounds> bounds_of(season_model const& model, int succession,
                                                  spring_choice const* springs,
                                                  std::vector<obstacle>& problems);

}  // namespace epicotyl::detail

#endif
