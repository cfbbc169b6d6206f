// Choices made to fit, and made cheaper: see choice.hpp.
#ifndef EPICOTYL_SRC_SPACE_CHOICE_IMPROVE_HPP
#define EPICOTYL_SRC_SPACE_CHOICE_IMPROVE_HPP

#include <cstdint>
#include <functional>
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

/// Simulated annealing: changes of one item at a time, or of two, the second one of those that
/// stand in the way of the first; dearer ones ever more seldom. What exceeds the room costs as
/// well, the more so the longer nothing fitted. Asks `goes_on` now and then.
void anneal(row_problem const& of, std::vector<double> const& prices,
            std::vector<int> const& suggested, std::int64_t moves, std::uint64_t seed,
            best_choice& best, std::int64_t& work, std::function<bool()> const& goes_on);

}  // namespace epicotyl::detail

#endif
