// epicotyl: how many plants are alive at each stage, and what they fill.
//
// A succession says how much there is to be in one of three ways: plants alive at the target,
// trays sown full, or metres of bed at the first stage with a spacing. From that one number the
// others follow, stage by stage: a stage keeps the share `survives` of what begins it, so going
// forward one multiplies and going back one divides.
//
//     sow ---0.80--> emerge ---0.95--> transplant ------> first_harvest
//     500            400               380                380            plants
//     5 of 104       4 of 104          9.5 m                             trays, metres of bed
//     0.75 m²        0.6 m²                                              on the bench
//
//     alive_at(p, 0, 1);         // 400, of succession 0 when its event 1 begins
//     trays_filled(p, 0, 0);     // 5: 500 seeds in trays of 104 cells
//     area_filled(p, 0, 0);      // 0.75: a tray takes 0.15 m²
//     bed_filled(p, 0, 2);       // 9.5: 10 plants a row and metre, 4 rows
//
// Plants are not rounded: 312.5 seeds are what 250 plants at 0.8 come from, on the average. How
// many seeds make it likely enough is another question (crop/seed_count.hpp). Trays are whole, and
// a tray that lacks a billionth of a cell counts as full; metres of bed are not rounded.
//
// A stage fills what it needs when it begins, until the next event: what dies on the way leaves
// its cell empty, and the cells are closed up at the next event, if at all.
#ifndef EPICOTYL_AMOUNTS_ALIVE_HPP
#define EPICOTYL_AMOUNTS_ALIVE_HPP

#include <optional>
#include <vector>

#include <epicotyl/fwd.hpp>

namespace epicotyl {

/// The container that a stage stands in, as the plan describes it; null for a stage without one.
/// Succession and stage are indices into `plan::successions` and the crop's stages; this and all
/// functions below throw `invalid_input` for an index that the plan does not have.
[[nodiscard]] container const* container_of(plan const& of, int succession, int stage);

/// Plants (seeds, before they are up) alive when each event comes, event 0 ... number of stages.
[[nodiscard]] std::vector<double> alive_counts(plan const& of, int succession);

/// Plants alive when event `event` begins its stage; the last event is `clear`.
[[nodiscard]] double alive_at(plan const& of, int succession, int event);

/// Whole containers that so many plants fill, ceil(alive / cells - 1e-9).
/// Throws `invalid_input` unless `alive` >= 0, finite, and `cells` >= 1.
[[nodiscard]] double containers_for(double alive, int cells);

/// Containers that a stage fills; none for a stage without a container.
[[nodiscard]] std::optional<double> trays_filled(plan const& of, int succession, int stage);

/// Square metres that the containers of a stage take, trays_filled * area of one; none for a stage
/// without a container, or in one whose area the plan does not say. What stands in a bed is counted
/// in metres of bed.
[[nodiscard]] std::optional<double> area_filled(plan const& of, int succession, int stage);

/// Metres of bed that a stage fills, alive * in_row / (100 * rows); none for a stage without a
/// spacing.
[[nodiscard]] std::optional<double> bed_filled(plan const& of, int succession, int stage);

}  // namespace epicotyl

#endif
