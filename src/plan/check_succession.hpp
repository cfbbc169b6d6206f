// What is checked of a succession beside its crop: how much of it there is to be, and its repeat.
// Everything throws `invalid_input` with the field named as in a plan file.
#ifndef EPICOTYL_SRC_PLAN_CHECK_SUCCESSION_HPP
#define EPICOTYL_SRC_PLAN_CHECK_SUCCESSION_HPP

#include <string>

#include <epicotyl/plan/succession.hpp>

#include "units.hpp"

namespace epicotyl::detail {

/// `field` names the succession.
void check_amount(unit_door const& door, amount const& of, crop const& grown,
                  std::string const& field);
/// `field` names the repeat.
void check_repeat(repeat const& of, season const& window, crop const& grown,
                  std::string const& field);

}  // namespace epicotyl::detail

#endif
