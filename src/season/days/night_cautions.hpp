// Cautions of a plan's heaters, lamps and covers, and of cold.
#ifndef EPICOTYL_SRC_SEASON_DAYS_NIGHT_CAUTIONS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_NIGHT_CAUTIONS_HPP

#include <string>

#include <epicotyl/cautions.hpp>
#include <epicotyl/fwd.hpp>

namespace epicotyl::detail {

/// What a plan has: heaters (`heat_to`), mats and chambers (`day` and `night`) or lamps, covers
/// (`cold_nights`).
[[nodiscard]] told_of told_of_plan(plan const& of);

/// The cautions of a function for a plan, a line each, in its units.
[[nodiscard]] std::string plan_cautions(told_by function, plan const& of);

}  // namespace epicotyl::detail

#endif
