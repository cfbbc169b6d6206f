#include "choice_piece.hpp"

#include <algorithm>

namespace epicotyl::detail {

namespace {

/// Price of a change that there is not: dearer than any limit.
constexpr double no_other = std::numeric_limits<double>::infinity();

}  // namespace

void piece_search::take(row_alternative const& one, double sign) {
    for (row_use const& use : one.uses) {
        for (int row = use.first; row < use.last; ++row) { room_[idx(row)] -= sign * use.amount; }
    }
}

std::vector<int> const& piece_search::search(std::vector<std::size_t> const& items,
                                             piece_limits const& limits, std::int64_t& work) {
    limits_ = limits;
    looked_at_ = 0;
    best_.clear();
    fixed_.assign(items.size(), -1);
    if (open_.size() <= items.size()) { open_.resize(items.size() + 1); }
    open_[0].clear();
    for (std::size_t k = 0; k < items.size(); ++k) { open_[0].push_back({k, items[k], 0}); }
    search_below(0, 0.0);
    // A few alternatives take as long as one step of the other searches.
    work += 1 + looked_at_ / 4;
    return best_;
}

bool piece_search::fits(row_alternative const& one) const {
    for (row_use const& use : one.uses) {
        double const most = use.amount - choice_tolerance;
        for (int row = use.first; row < use.last; ++row) {
            if (most > room_[idx(row)]) { return false; }
        }
    }
    return true;
}

int piece_search::next_fitting(open_item const& of, int index) {
    for (int const end = count(of.item); index < end; ++index) {
        ++looked_at_;
        bool const is_barred = of.place == 0 && index == limits_.barred;
        if (!is_barred && fits(of_.items[of.item][idx(index)])) { break; }
    }
    return index;
}

std::pair<int, double> piece_search::most_exceeded(std::vector<open_item> const& open) {
    for (open_item const& one : open) { take(cheapest(one)); }
    std::pair<int, double> most{-1, choice_tolerance};
    for (open_item const& one : open) {
        for (row_use const& use : cheapest(one).uses) {
            for (int row = use.first; row < use.last; ++row) {
                if (-room_[idx(row)] > most.second) { most = {row, -room_[idx(row)]}; }
            }
        }
    }
    for (open_item const& one : open) { take(cheapest(one), -1.0); }
    return most;
}

double piece_search::least_price(double amount) {
    std::sort(reliefs_.begin(), reliefs_.end(),
              [](relief const& a, relief const& b) { return a.price < b.price; });
    double paid = 0.0;
    for (relief const& one : reliefs_) {
        if (amount <= choice_tolerance) { break; }
        paid += one.price * std::min(one.amount, amount);
        amount -= one.amount;
    }
    return paid;
}

void piece_search::search_below(std::size_t depth, double paid) {
    if (--limits_.nodes < 0) { return; }
    std::vector<open_item>& open = open_[depth];
    double bound = paid;
    for (open_item& one : open) {
        // What did not fit above does not fit here either.
        one.cheapest = next_fitting(one, one.cheapest);
        if (one.cheapest == count(one.item)) { return; }
        bound += cheapest(one).cost;
        if (bound >= enough()) { return; }
    }
    auto const [row, excess] = most_exceeded(open);
    if (row < 0) {
        best_ = fixed_;
        for (open_item const& one : open) { best_[one.place] = one.cheapest; }
        limits_.cost = bound;
        return;
    }
    reliefs_.clear();
    std::size_t branched = 0;
    double most_to_pay = -1.0;
    for (std::size_t k = 0; k < open.size(); ++k) {
        double const amount = amount_on(cheapest(open[k]), row);
        if (amount <= 0.0) { continue; }
        int const second = next_fitting(open[k], open[k].cheapest + 1);
        double const price =
            second == count(open[k].item)
                ? no_other
                : of_.items[open[k].item][idx(second)].cost - cheapest(open[k]).cost;
        reliefs_.push_back({price / amount, amount});
        // Of those that pay nothing the largest.
        double const to_pay = amount * (price + 1e-3);
        if (to_pay > most_to_pay) {
            most_to_pay = to_pay;
            branched = k;
        }
    }
    if (bound + least_price(excess - choice_tolerance) >= enough()) { return; }
    open_item const one = open[branched];
    double const others = bound - cheapest(one).cost;
    for (int index = one.cheapest; index < count(one.item); index = next_fitting(one, index + 1)) {
        row_alternative const& tried = of_.items[one.item][idx(index)];
        if (others + tried.cost >= enough()) { break; }
        std::vector<open_item>& below = open_[depth + 1];
        below = open;
        below.erase(below.begin() + static_cast<std::ptrdiff_t>(branched));
        take(tried);
        fixed_[one.place] = index;
        search_below(depth + 1, paid + tried.cost);
        take(tried, -1.0);
        if (limits_.nodes < 0) { return; }
    }
}

}  // namespace epicotyl::detail
