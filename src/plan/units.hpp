// A plan holds numbers that its units can write.
#ifndef EPICOTYL_SRC_PLAN_UNITS_HPP
#define EPICOTYL_SRC_PLAN_UNITS_HPP

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/unit_door.hpp>

namespace epicotyl::detail {

/// Makes every number of a plan one that the plan's units can write.
void snap_to_units(plan_parts& parts);

}  // namespace epicotyl::detail

#endif
