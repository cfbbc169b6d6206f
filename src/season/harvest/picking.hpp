// When a succession is picked in one season year, as offsets; and its plants.
#ifndef EPICOTYL_SRC_SEASON_HARVEST_PICKING_HPP
#define EPICOTYL_SRC_SEASON_HARVEST_PICKING_HPP

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/harvest/harvest.hpp>

#include "../days/days_table.hpp"
#include "../tables/day_run.hpp"
#include "../tables/season_model.hpp"

namespace epicotyl::detail {

/// The days of picking, and what ended it.
struct picking {
    day_run days = {};
    harvest_end ended_by = harvest_end::clock;
    bool happens = false;
};

/// Index of `first_harvest`. Throws `invalid_input` for a crop without.
[[nodiscard]] int harvest_event(plan const& of, int succession);

/// `harvest` is the index of `first_harvest`.
[[nodiscard]] picking picking_of(season_model const& model, days_table const& days, int succession,
                                 int harvest, int year, harvest_options const& options);

}  // namespace epicotyl::detail

#endif
