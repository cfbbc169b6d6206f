#include "choice_improve.hpp"

#include <algorithm>
#include <limits>

namespace epicotyl::detail {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

row_alternative const& alternative(row_problem const& of, std::size_t item, int index) {
    return of.items[item][static_cast<std::size_t>(index)];
}

/// An item and what it changes to; -1: nothing.
struct item_change {
    std::size_t item = 0;
    int to = -1;
};

void apply(row_problem const& of, item_change const& change, std::vector<int>& chosen,
           row_levels& level) {
    level.add(alternative(of, change.item, chosen[change.item]), -1.0);
    level.add(alternative(of, change.item, change.to));
    chosen[change.item] = change.to;
}

/// The change that takes most of the excess away for its price.
item_change best_relief(row_problem const& of, row_prices const& prices,
                        choice_domains const& domains, std::vector<double> const& room,
                        std::vector<int> const& chosen, row_levels& level, std::int64_t& work) {
    double best = infinite;
    item_change found;
    for (std::size_t i = 0; i < domains.size(); ++i) {
        if (chosen[i] < 0 || !level.exceeds(alternative(of, i, chosen[i]), room)) { continue; }
        row_alternative const& from = alternative(of, i, chosen[i]);
        double const was = prices.priced_cost(from);
        for (int a : domains[i]) {
            if (a == chosen[i]) { continue; }
            ++work;
            row_alternative const& to = alternative(of, i, a);
            double const less = -level.change(from, to, room);
            if (less <= choice_tolerance) { continue; }
            double const price = (std::max(prices.priced_cost(to) - was, 0.0) + 1e-3) / less;
            if (price < best - 1e-12) {
                best = price;
                found = {i, a};
            }
        }
    }
    return found;
}

/// The change that gains most and still fits.
item_change best_gain(row_problem const& of, choice_domains const& domains,
                      std::vector<double> const& room, std::vector<int> const& chosen,
                      row_levels& level, std::int64_t& work) {
    double best = 1e-9;
    item_change found;
    for (std::size_t i = 0; i < domains.size(); ++i) {
        if (chosen[i] < 0) { continue; }
        row_alternative const& from = alternative(of, i, chosen[i]);
        for (int a : domains[i]) {
            row_alternative const& to = alternative(of, i, a);
            if (from.cost - to.cost <= best) { continue; }
            ++work;
            if (level.change(from, to, room) > choice_tolerance) { continue; }
            best = from.cost - to.cost;
            found = {i, a};
        }
    }
    return found;
}

}  // namespace

void best_choice::offer(row_problem const& of, std::vector<int> const& choice) {
    double sum = 0.0;
    for (std::size_t i = 0; i < choice.size(); ++i) { sum += alternative(of, i, choice[i]).cost; }
    if (sum >= cost - 1e-9) { return; }
    cost = sum;
    chosen = choice;
}

bool mend(row_problem const& of, row_prices const& prices, choice_domains const& domains,
          std::vector<double> const& room, std::vector<int>& chosen, std::int64_t& work) {
    row_levels level = levels_of(of, chosen);
    for (std::size_t turn = 0; turn < 3 * domains.size() + 3; ++turn) {
        item_change const one = best_relief(of, prices, domains, room, chosen, level, work);
        if (one.to < 0) { break; }
        apply(of, one, chosen, level);
    }
    if (!level.fits(room)) { return false; }
    while (true) {
        item_change const one = best_gain(of, domains, room, chosen, level, work);
        if (one.to < 0) { return true; }
        apply(of, one, chosen, level);
    }
}

}  // namespace epicotyl::detail
