// How far the quantities of a plan may go, in the plan's own units. The bounds themselves stand in
// bounds.hpp. A plan that was read and one made in code pass here both.
#ifndef EPICOTYL_SRC_PLAN_CHECK_BOUNDS_HPP
#define EPICOTYL_SRC_PLAN_CHECK_BOUNDS_HPP

#include <cstddef>
#include <string>

#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

/// Throws `invalid_input` where a plan spells out more of them than bounds.hpp has.
[[noreturn]] void refuse_batches(std::size_t count, std::string const& field);
void require_link_ends(std::size_t count, std::string const& field);

/// Checks how far every quantity of a plan goes: throws `invalid_input` with the value and the
/// bound in the plan's units.
void check_bounds(plan_parts const& parts);
/// Checks that the plants of a succession, those lost before its target included, can be counted.
/// `field` names the succession.
void check_plants(plan_parts const& parts, amount const& of, crop const& grown, int target_event,
                  std::string const& field);

}  // namespace epicotyl::detail

#endif
