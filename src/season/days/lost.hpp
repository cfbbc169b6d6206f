// The night that loses a batch, season year by season year.
//
// Cold that comes before the harvest and goes to the limit that loses the batch ends it. The night
// is sought in the days of the batch as if it lived, and these stay as they are: links pass on them
// and planned days are quantiles of them, so that a plan does not run away from a batch that died.
// What becomes of a batch has no harvest in such a year.
#ifndef EPICOTYL_SRC_SEASON_DAYS_LOST_HPP
#define EPICOTYL_SRC_SEASON_DAYS_LOST_HPP

#include <cstdint>
#include <span>
#include <vector>

#include "../tables/season_model.hpp"
#include "days_table.hpp"

namespace epicotyl::detail {

/// The first night of a season year that loses a succession; `never` where it lives. `days` are
/// those as if it lived.
[[nodiscard]] int lost_night(season_model const& model, days_table const& days, int succession,
                             int year);
/// The same in all years.
[[nodiscard]] std::vector<std::int16_t> lost_nights(season_model const& model,
                                                    days_table const& days, int succession);
/// In how many years one is lost.
[[nodiscard]] int lost_years(std::span<std::int16_t const> nights);

/// The day that a quantile of the living years falls on; `never` where none of them lives to see
/// it. `days` and `nights` have one element a year.
[[nodiscard]] int quantile_of_living(std::span<std::int16_t const> days,
                                     std::span<std::int16_t const> nights, double q);

/// "lost to cold in 21 of 27 years".
[[nodiscard]] std::string say_lost(int lost, int years);

}  // namespace epicotyl::detail

#endif
