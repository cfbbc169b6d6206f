// How the season speaks: days, temperatures and counts in the words and units of the plan.
#ifndef EPICOTYL_SRC_SEASON_ROWS_SAY_HPP
#define EPICOTYL_SRC_SEASON_ROWS_SAY_HPP

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/rows/reason.hpp>

namespace epicotyl::detail {

/// "12 May", with the year where it is not the one in which the season starts; "never".
[[nodiscard]] std::string say_day(plan const& of, int offset);
/// "-2.2", "28": one decimal, and none where it would be a zero.
[[nodiscard]] std::string say_number(double value);
/// "-2.2 °C" or "28 °F", by the plan's units.
[[nodiscard]] std::string say_temperature(plan const& of, double celsius);
/// "3 of 30 years".
[[nodiscard]] std::string say_years(int count, int of);
/// "in only 3 of 30 years", "in none of 30 years".
[[nodiscard]] std::string say_in_only(int count, int of);
/// "more than 3 years in 30", "1 year or more in 30".
[[nodiscard]] std::string say_more_than(int count, int of);
/// "at most 3 years in 30", "none of 30 years".
[[nodiscard]] std::string say_at_most(int count, int of);
/// A share of years: "5 years of 10", "12.5 % of years".
[[nodiscard]] std::string say_in_ten(double share);
/// "1 day", "9 days".
[[nodiscard]] std::string say_days(int count);
/// "plant out" for "plant_out".
[[nodiscard]] std::string say_event(std::string_view event);
/// ", and so do 3 more (zinnia 2, zinnia 3, cosmos 1)", for one with another verb; the names of
/// `most_named` at most. Empty for none.
[[nodiscard]] std::string say_so_more(std::string_view one_does, std::string_view several_do,
                                      std::vector<std::string> const& names,
                                      std::size_t most_named = 3);
/// Name of a place, "outdoors" for none.
[[nodiscard]] std::string say_place(plan const& of, int place);
/// Gives a reason a value, in place of the one that it may have by that name.
void set_value(reason& why, std::string_view name, reason_value value);

}  // namespace epicotyl::detail

#endif
