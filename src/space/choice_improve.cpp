#include "choice_improve.hpp"

#include <algorithm>
#include <cmath>
#include <random>

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

/// The first row that an alternative uses and that is exceeded; -1: none.
int exceeded_row(row_alternative const& one, row_levels const& level,
                 std::vector<double> const& room) {
    for (row_use const& use : one.uses) {
        for (int row = use.first; row < use.last; ++row) {
            if (level.over(static_cast<std::size_t>(row), room) > 0.0) { return row; }
        }
    }
    return -1;
}

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

void anneal(row_problem const& of, std::vector<double> const& prices,
            std::vector<int> const& suggested, std::int64_t moves, std::uint64_t seed,
            best_choice& best, std::int64_t& work, std::function<bool()> const& goes_on) {
    std::mt19937_64 random{seed};
    auto const share = [&] {
        return static_cast<double>(random() >> 11) * 0x1.0p-53;
    };
    auto const below = [&](std::size_t count) {
        return static_cast<std::size_t>(share() * static_cast<double>(count));
    };
    std::vector<std::size_t> movable;
    double least_step = 0.0;
    double whole_range = 0.0;
    for (std::size_t i = 0; i < of.items.size(); ++i) {
        if (of.items[i].size() < 2) { continue; }
        movable.push_back(i);
        least_step += of.items[i][1].cost - of.items[i][0].cost;
        whole_range += of.items[i].back().cost - of.items[i][0].cost;
    }
    if (movable.empty()) { return; }
    // Hot enough to take back what is dearest now and then, cold enough to mind the least.
    double const count = static_cast<double>(movable.size());
    double const coldest = std::max(0.05 * least_step / count, 1e-4);
    double const hottest = std::max(0.25 * whole_range / count, 10.0 * coldest);
    double const dearest = prices.empty() ? 0.0 : *std::max_element(prices.begin(), prices.end());
    double excess_price = std::max(dearest, hottest);
    std::vector<int> chosen = best.found() ? best.chosen : suggested;
    row_levels level = levels_of(of, chosen);
    double cost = 0.0;
    double excess = 0.0;
    for (std::size_t i = 0; i < chosen.size(); ++i) { cost += alternative(of, i, chosen[i]).cost; }
    for (std::size_t k = 0; k < level.size(); ++k) { excess += level.over(k, of.room); }
    auto const any_item = [&] {
        return movable[below(movable.size())];
    };
    auto const any_other = [&](std::size_t item) {
        int const other = static_cast<int>(below(of.items[item].size() - 1));
        return other >= chosen[item] ? other + 1 : other;
    };
    constexpr int tries_for_item = 6;
    constexpr int tries_for_way = 3;
    std::int64_t unfit = 0;
    double heat = hottest;
    for (std::int64_t move = 0; move < moves; ++move) {
        if (move % 1024 == 0) {
            if (!goes_on()) { return; }
            heat = hottest * std::pow(3e-2, static_cast<double>(move) / static_cast<double>(moves));
        }
        // Every third change is of two items. Where the first takes more than there is, the second
        // is sought among those that stand there, and sent elsewhere.
        item_change parts[2];
        int const several = move % 3 == 2 && movable.size() > 1 ? 2 : 1;
        double dearer = 0.0;
        double more = 0.0;
        int full_row = -1;
        for (int p = 0; p < several; ++p) {
            std::size_t item = any_item();
            for (int turn = 0; turn < tries_for_item && full_row >= 0; ++turn) {
                if (item != parts[0].item &&
                    uses_row(alternative(of, item, chosen[item]), full_row)) {
                    break;
                }
                item = any_item();
            }
            int to = any_other(item);
            for (int turn = 0; turn < tries_for_way && full_row >= 0; ++turn) {
                if (!uses_row(alternative(of, item, to), full_row)) { break; }
                to = any_other(item);
            }
            parts[p] = {item, chosen[item]};
            dearer += alternative(of, item, to).cost - alternative(of, item, chosen[item]).cost;
            more += level.move(alternative(of, item, chosen[item]), -1.0, of.room) +
                    level.move(alternative(of, item, to), 1.0, of.room);
            chosen[item] = to;
            ++work;
            if (several == 2 && p == 0 && more > 0.0) {
                full_row = exceeded_row(alternative(of, item, to), level, of.room);
            }
        }
        double const worse = dearer + excess_price * more;
        if (worse > 0.0 && share() >= std::exp(-worse / heat)) {
            for (int p = several - 1; p >= 0; --p) { apply(of, parts[p], chosen, level); }
            continue;
        }
        cost += dearer;
        excess += more;
        if (excess > choice_tolerance) {
            if (++unfit % 200 == 0) { excess_price *= 1.1; }
            continue;
        }
        unfit = 0;
        excess_price = std::max(excess_price * 0.999, hottest * 1e-2);
        // Sums kept while moving gather rounding: counted again.
        if (cost < best.cost - 1e-9 && levels_of(of, chosen).fits(of.room)) {
            best.offer(of, chosen);
        }
    }
}

}  // namespace epicotyl::detail
