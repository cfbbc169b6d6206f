// Damage by cold and heat, stage by stage and season year by season year.
#ifndef EPICOTYL_SRC_SEASON_DAYS_DAMAGE_HPP
#define EPICOTYL_SRC_SEASON_DAYS_DAMAGE_HPP

#include <cstdint>
#include <span>
#include <vector>

#include <epicotyl/crop/air.hpp>

#include "../tables/season_model.hpp"
#include "days_table.hpp"

namespace epicotyl::detail {

enum class harm { cold, heat };

/// What happened to one stage in one year.
struct stage_harm {
    int first = never;  ///< offset of the first night (day) that does damage
    double margin;      ///< K, NaN where the stage stood nowhere or has no limit
};

/// One stage of a succession in one year. `on` switches heaters and covers of its place off.
/// Nothing is harmed after the night that loses the batch.
[[nodiscard]] stage_harm harm_of(season_model const& model, days_table const& days, int succession,
                                 int stage, int year, harm what, air_switches on = {},
                                 int lost = never);

/// Season years in which cold harms a stage, and the first such night of all; as `harm_of` with
/// all switched on has it. `lost` has the night of each year that loses the batch.
struct cold_years {
    int damaged = 0;
    int first = never;
};
[[nodiscard]] cold_years cold_years_of(season_model const& model, days_table const& days,
                                       int succession, int stage,
                                       std::span<std::int16_t const> lost);

/// Nights of one stage in one year that are to be acted on, as offsets; none after `lost`.
[[nodiscard]] std::vector<int> nights_acted(season_model const& model, days_table const& days,
                                            int succession, int stage, int year, int lost);

}  // namespace epicotyl::detail

#endif
