// Choices made to fit, and made cheaper: see choice.hpp.
#ifndef EPICOTYL_SRC_CHOICE_CHOICE_IMPROVE_HPP
#define EPICOTYL_SRC_CHOICE_CHOICE_IMPROVE_HPP

#include <cstdint>
#include <limits>
#include <vector>

#include "choice_levels.hpp"
#include "choice_prices.hpp"

namespace epicotyl::detail {

/// The best choice found.
struct best_choice {
    double cost = std::numeric_limits<double>::infinity();
    std::vector<int> chosen = {};

    [[nodiscard]] bool found() const { return !chosen.empty(); }
    /// Keeps a choice that is cheaper.
    void offer(row_problem const& of, std::vector<int> const& choice);
};

/// Makes a suggestion fit by the cheapest changes, then takes cheaper alternatives while they fit;
/// false where it could not be made to fit. Items without a domain (-1 in `chosen`) are not
/// touched; `room` is what they leave. `work` counts.
[[nodiscard]] bool mend(row_problem const& of, row_prices const& prices,
                        choice_domains const& domains, std::vector<double> const& room,
                        std::vector<int>& chosen, std::int64_t& work);

}  // namespace epicotyl::detail

#endif
