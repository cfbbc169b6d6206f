// Prices on rows, and what they suggest: see choice.hpp.
#ifndef EPICOTYL_SRC_CHOICE_CHOICE_PRICES_HPP
#define EPICOTYL_SRC_CHOICE_CHOICE_PRICES_HPP

#include <cstdint>
#include <vector>

#include "choice_levels.hpp"
#include "choice_rows.hpp"

namespace epicotyl::detail {

/// What may still be chosen: of each item, indices of alternatives. An item that is not looked at
/// has none.
using choice_domains = std::vector<std::vector<int>>;

/// What a set of prices gives.
struct priced {
    double bound;             ///< no choice from the domains costs less
    std::vector<int> chosen;  ///< of each item looked at, else -1
    /// Of each item the least price-and-cost of its alternatives.
    std::vector<double> least;
};

class row_prices {
public:
    explicit row_prices(row_problem const& of) : of_{of}, price_(of.room.size()) {}

    /// Cost of an alternative with what it uses at the prices that were evaluated last.
    [[nodiscard]] double priced_cost(row_alternative const& one) const {
        double cost = one.cost;
        for (row_use const& use : one.uses) {
            cost += use.amount * (sum_[static_cast<std::size_t>(use.last)] -
                                  sum_[static_cast<std::size_t>(use.first)]);
        }
        return cost;
    }

    /// The cheapest of each item at the present prices; `room` is what is left for them.
    [[nodiscard]] priced evaluate(choice_domains const& domains, std::vector<double> const& room);

    /// Raises the bound by at most so many subgradient steps. `target` is the cost of the best
    /// known; stops as soon as the bound reaches `enough`. Leaves the best prices behind, and
    /// returns what they give. `on_step` is shown every suggestion.
    template <class OnStep>
    priced raise(choice_domains const& domains, std::vector<double> const& room, int steps,
                 double target, double enough, OnStep const& on_step);

    [[nodiscard]] std::int64_t work() const { return work_; }
    [[nodiscard]] std::vector<double> const& prices() const { return price_; }
    void set_prices(std::vector<double> prices) { price_ = std::move(prices); }

private:
    row_problem const& of_;
    std::vector<double> price_;
    std::vector<double> sum_;  ///< of prices of the rows before
    std::int64_t work_ = 0;    ///< items looked at
};

template <class OnStep>
priced row_prices::raise(choice_domains const& domains, std::vector<double> const& room, int steps,
                         double target, double enough, OnStep const& on_step) {
    priced best = evaluate(domains, room);
    std::vector<double> best_price = price_;
    double length = 1.0;
    int since_better = 0;
    priced now = best;
    for (int step = 0; step < steps && best.bound < enough; ++step) {
        row_levels const used = levels_of(of_, now.chosen);
        on_step(now);
        double norm = 0.0;
        for (std::size_t k = 0; k < price_.size(); ++k) {
            double const excess = used[k] - room[k];
            if (price_[k] > 0.0 || excess > 0.0) { norm += excess * excess; }
        }
        if (norm < 1e-18) { break; }
        double const move = length * (target - now.bound) / norm;
        for (std::size_t k = 0; k < price_.size(); ++k) {
            double const wanted = price_[k] + move * (used[k] - room[k]);
            price_[k] = wanted > 0.0 ? wanted : 0.0;
        }
        now = evaluate(domains, room);
        if (now.bound > best.bound + 1e-9) {
            best = now;
            best_price = price_;
            since_better = 0;
        } else if (++since_better >= 8) {
            length *= 0.6;
            since_better = 0;
            price_ = best_price;
            now = best;
            if (length < 1e-3) { break; }
        }
    }
    price_ = std::move(best_price);
    return evaluate(domains, room);
}

}  // namespace epicotyl::detail

#endif
