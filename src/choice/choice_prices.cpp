#include "choice_prices.hpp"

#include <cstdint>
#include <limits>

namespace epicotyl::detail {

priced row_prices::evaluate(choice_domains const& domains, std::vector<double> const& room) {
    sum_.assign(price_.size() + 1, 0.0);
    priced found{.bound = 0.0,
                 .chosen = std::vector<int>(domains.size(), -1),
                 .least = std::vector<double>(domains.size())};
    for (std::size_t k = 0; k < price_.size(); ++k) {
        sum_[k + 1] = sum_[k] + price_[k];
        found.bound -= price_[k] * room[k];
    }
    for (std::size_t i = 0; i < domains.size(); ++i) {
        if (domains[i].empty()) { continue; }
        double least = std::numeric_limits<double>::infinity();
        for (int a : domains[i]) {
            double const cost = priced_cost(of_.items[i][static_cast<std::size_t>(a)]);
            // Of equal ones the first, which costs least by itself.
            if (cost < least - 1e-12) {
                least = cost;
                found.chosen[i] = a;
            }
        }
        found.least[i] = least;
        found.bound += least;
        ++work_;
    }
    // Rows and items that are only passed take time as well.
    work_ += static_cast<std::int64_t>((3 * price_.size() + domains.size()) / 16);
    return found;
}

}  // namespace epicotyl::detail
