#include "choice_guided.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include <epicotyl/detail/whole.hpp>

#include "choice_levels.hpp"
#include "choice_piece.hpp"

namespace epicotyl::detail {

namespace {

/// Items chosen anew together, and how long they are searched.
constexpr std::size_t items_at_once = 10;
constexpr int nodes_at_once = 300;
/// How much chance counts beside being in the way.
constexpr double chance_weight = 2.0;
/// A penalty, as a share of what an alternative costs more than the cheapest.
constexpr double penalty_share = 0.15;
/// What is taken although it is dearer, as a share of what an item can cost more than its cheapest.
constexpr double heat_share = 0.1;

class guided {
public:
    guided(row_problem const& of, std::uint64_t seed, best_choice& best)
        : of_{of},
          best_{best},
          own_{of},
          pieces_{own_},
          random_{seed},
          is_asked_for_(of.room.size()) {
        double widest = 0.0;
        double sum = 0.0;
        for (std::size_t i = 0; i < of.items.size(); ++i) {
            double const range = of.items[i].back().cost - of.items[i].front().cost;
            widest = std::max(widest, range);
            sum += range;
            if (of.items[i].size() > 1) { movable_.push_back(i); }
        }
        heat_ = std::max(heat_share * sum / static_cast<double>(of.items.size()), 1e-6);
        nowhere_ = 5.0 * std::max(widest, 1.0);
        for (std::size_t i = 0; i < own_.items.size(); ++i) {
            std::vector<row_alternative>& item = own_.items[i];
            for (std::size_t a = 0; a < item.size(); ++a) { item[a].source = static_cast<int>(a); }
            if (!item.back().uses.empty()) {
                item.push_back({stands_nowhere, item.front().cost + nowhere_, {}});
            }
            int const last = static_cast<int>(item.size()) - 1;
            chosen_.push_back(best.found() ? best.chosen[i] : last);
            penalties_.emplace_back(item.size());
            pieces_.take(chosen(i));
        }
    }

    void run(std::int64_t most_work, std::int64_t& work, std::function<bool()> const& goes_on) {
        std::int64_t const last = work + most_work;
        std::size_t const patience = 30 + own_.items.size() / 2;
        std::size_t since_gain = 0;
        while (work < last && goes_on()) {
            work += static_cast<std::int64_t>(own_.items.size() / 8);
            since_gain = change_some(work) ? 0 : since_gain + 1;
            if (since_gain < patience) { continue; }
            since_gain = 0;
            if (!penalise()) { return; }
        }
    }

private:
    static constexpr int stands_nowhere = -1;

    [[nodiscard]] row_alternative const& chosen(std::size_t item) const {
        return own_.items[item][idx(chosen_[item])];
    }
    /// By how much an item is dearer than it could be, penalties counted.
    [[nodiscard]] double dearer(std::size_t item) const {
        return chosen(item).cost - own_.items[item].front().cost;
    }
    [[nodiscard]] double share() { return static_cast<double>(random_() >> 11) * 0x1.0p-53; }
    [[nodiscard]] int below(int count) { return whole_of(share() * static_cast<double>(count)); }

    /// An item that is dear, the more likely the dearer; one past the last: none is.
    [[nodiscard]] std::size_t dear_item() {
        double sum = 0.0;
        for (std::size_t i = 0; i < own_.items.size(); ++i) { sum += dearer(i); }
        double at = share() * sum;
        std::size_t found = own_.items.size();
        for (std::size_t i = 0; i < own_.items.size() && at >= 0.0; ++i) {
            if (dearer(i) <= 0.0) { continue; }
            found = i;
            at -= dearer(i);
        }
        return found;
    }

    /// The item, some that are where it could be cheaper, and others.
    void choose_piece(std::size_t item) {
        row_alternative const& aim = own_.items[item][idx(below(chosen_[item]))];
        for (row_use const& use : aim.uses) { mark(use, true); }
        others_.clear();
        for (std::size_t other : movable_) {
            if (other == item) { continue; }
            double const in_the_way = is_asked_for(chosen(other)) ? 1.0 : 0.0;
            others_.emplace_back(-in_the_way - chance_weight * share(), other);
        }
        for (row_use const& use : aim.uses) { mark(use, false); }
        std::size_t const count = std::min(items_at_once - 1, others_.size());
        std::partial_sort(others_.begin(), others_.begin() + static_cast<std::ptrdiff_t>(count),
                          others_.end());
        piece_.assign(1, item);
        for (std::size_t k = 0; k < count; ++k) { piece_.push_back(others_[k].second); }
    }
    void mark(row_use const& use, bool asked_for) {
        std::fill(is_asked_for_.begin() + use.first, is_asked_for_.begin() + use.last, asked_for);
    }
    [[nodiscard]] bool is_asked_for(row_alternative const& one) const {
        return std::any_of(one.uses.begin(), one.uses.end(), [this](row_use const& use) {
            return std::find(is_asked_for_.begin() + use.first, is_asked_for_.begin() + use.last,
                             char{true}) != is_asked_for_.begin() + use.last;
        });
    }

    /// True when it became cheaper.
    bool change_some(std::int64_t& work) {
        std::size_t const item = dear_item();
        if (item == own_.items.size()) { return false; }
        choose_piece(item);
        double before = 0.0;
        for (std::size_t i : piece_) {
            before += chosen(i).cost;
            pieces_.take(chosen(i), -1.0);
        }
        double const more = -heat_ * std::log(1.0 - share());
        std::vector<int> const& found = pieces_.search(
            piece_, {.barred = chosen_[item], .cost = before + more, .nodes = nodes_at_once}, work);
        double after = 0.0;
        for (std::size_t k = 0; k < piece_.size(); ++k) {
            if (!found.empty()) { chosen_[piece_[k]] = found[k]; }
            after += chosen(piece_[k]).cost;
            pieces_.take(chosen(piece_[k]));
        }
        if (!found.empty()) { offer(); }
        return after < before - 1e-9;
    }

    void offer() {
        offered_.clear();
        double cost = 0.0;
        for (std::size_t i = 0; i < own_.items.size(); ++i) {
            if (chosen(i).source == stands_nowhere) { return; }
            offered_.push_back(chosen(i).source);
            cost += of_.items[i][idx(offered_.back())].cost;
        }
        // Room that is taken and given back gathers rounding: counted again.
        if (cost < best_.cost - 1e-9 && levels_of(of_, offered_).fits(of_.room)) {
            best_.offer(of_, offered_);
        }
    }

    /// What an alternative costs more than the cheapest of its item, without penalties.
    [[nodiscard]] double dearer_by_itself(std::size_t item, int index) const {
        int const source = own_.items[item][idx(index)].source;
        if (source == stands_nowhere) { return nowhere_; }
        return of_.items[item][idx(source)].cost - of_.items[item].front().cost;
    }

    /// Makes what weighs most dearer; false where nothing is dearer than the cheapest.
    bool penalise() {
        double most = 0.0;
        std::size_t heaviest = own_.items.size();
        for (std::size_t i = 0; i < own_.items.size(); ++i) {
            double const weight =
                dearer_by_itself(i, chosen_[i]) / (1.0 + penalties(i, chosen(i).source));
            if (weight > most) {
                most = weight;
                heaviest = i;
            }
        }
        if (heaviest == own_.items.size()) { return false; }
        std::vector<row_alternative>& item = own_.items[heaviest];
        auto const one = item.begin() + chosen_[heaviest];
        one->cost += penalty_share * dearer_by_itself(heaviest, chosen_[heaviest]);
        penalties(heaviest, one->source) += 1.0;
        // Alternatives stay in order of their cost.
        auto const place = std::upper_bound(
            one + 1, item.end(), one->cost,
            [](double cost, row_alternative const& other) { return cost < other.cost; });
        chosen_[heaviest] = static_cast<int>(place - item.begin()) - 1;
        std::rotate(one, one + 1, place);
        return true;
    }
    [[nodiscard]] double& penalties(std::size_t item, int source) {
        return source == stands_nowhere ? penalties_[item].back() : penalties_[item][idx(source)];
    }

    row_problem const& of_;
    best_choice& best_;
    row_problem own_;  ///< penalties counted; `source` is the index in `of_`
    piece_search pieces_;
    std::mt19937_64 random_;
    std::vector<int> chosen_;
    std::vector<std::vector<double>> penalties_;  ///< by `source`, last: to stand nowhere
    std::vector<std::size_t> movable_;
    double heat_ = 0.0;
    double nowhere_ = 0.0;            ///< what it costs an item to stand nowhere
    std::vector<char> is_asked_for_;  ///< of each row, while a piece is chosen
    std::vector<std::pair<double, std::size_t>> others_;
    std::vector<std::size_t> piece_;
    std::vector<int> offered_;
};

}  // namespace

void search_guided(row_problem const& of, std::int64_t most_work, std::uint64_t seed,
                   best_choice& best, std::int64_t& work, std::function<bool()> const& goes_on) {
    guided{of, seed, best}.run(most_work, work, goes_on);
}

}  // namespace epicotyl::detail
