// What calendar and prospect have in common on paper: their head, and how much is grown.
#ifndef EPICOTYL_SRC_SEASON_DAYS_SHEET_HEAD_HPP
#define EPICOTYL_SRC_SEASON_DAYS_SHEET_HEAD_HPP

#include <string>

#include <epicotyl/plan/succession.hpp>
#include <epicotyl/season/days/calendar.hpp>

namespace epicotyl::detail {

/// The title, the station and its years, and how sure the days are.
[[nodiscard]] std::string sheet_head(calendar const& of);

/// "108 plants", "3 trays", "30 m of bed".
[[nodiscard]] std::string say_how_much(plan const& of, amount const& how_much);

}  // namespace epicotyl::detail

#endif
