// The choice that `fit_to_space` leaves to the search, for tests against other solvers.
#ifndef EPICOTYL_SRC_SPACE_FIT_FIT_PROBLEM_HPP
#define EPICOTYL_SRC_SPACE_FIT_FIT_PROBLEM_HPP

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/space/fit/fit.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../choice/choice.hpp"

namespace epicotyl::detail {

/// Every batch with its ways, their prices and what they use of each room; no items for a plan that
/// fits. Throws as `fit_to_space` does.
[[nodiscard]] choice_problem fit_problem(plan const& of, climate const& under,
                                         fit_options const& options = {});

/// Throws `invalid_input` for prices and limits out of range.
void check_options(fit_options const& options);

}  // namespace epicotyl::detail

#endif
