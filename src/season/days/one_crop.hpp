// What `stagger` and `fewest_sowings` share: one crop of a plan, sown several times.
#ifndef EPICOTYL_SRC_SEASON_DAYS_ONE_CROP_HPP
#define EPICOTYL_SRC_SEASON_DAYS_ONE_CROP_HPP

#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "days_table.hpp"

namespace epicotyl::detail {

/// A crop by name or id. Throws `invalid_input` when the plan has none such, with the nearest, and
/// when it has no `first_harvest`.
[[nodiscard]] crop const& harvested_crop(plan const& of, std::string_view name);

/// Throws `invalid_input` unless an event can fall on this day.
void require_in_season(plan const& of, day when, char const* field);
/// Throws `invalid_input` when `until` lies before `from`.
void require_order(day from, day until, char const* field);

/// The same places, crops and rules, with these successions alone.
[[nodiscard]] plan plan_of(plan const& of, std::vector<succession> successions);

/// The highest number n with which "NAME n" is the name or id of a succession; 0: there is none.
[[nodiscard]] int last_number_taken(plan const& of, std::string_view name);

/// The day of the middle season year; may be `never`.
[[nodiscard]] int usual_day(days_table const& days, int succession, int event);

}  // namespace epicotyl::detail

#endif
