#include "choice.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <optional>

#include "choice_guided.hpp"
#include "choice_improve.hpp"
#include "choice_prices.hpp"

namespace epicotyl::detail {

namespace {

constexpr double nothing_found = std::numeric_limits<double>::infinity();

/// Counts work, watches the clock, tells how it goes.
class watch {
public:
    explicit watch(choice_options const& options) : options_{options} {}

    [[nodiscard]] bool goes_on(std::int64_t work, double cost, double bound) {
        if (ended_) { return false; }
        if (work >= options_.steps) { ended_ = choice_end::steps; }
        double const seconds = elapsed();
        if (seconds >= options_.seconds) { ended_ = choice_end::seconds; }
        if (options_.progress && (seconds >= told_ + 0.05 || told_ < 0.0)) {
            told_ = seconds;
            if (!options_.progress({cost, bound, seconds})) { ended_ = choice_end::stopped; }
        }
        return !ended_;
    }
    [[nodiscard]] std::optional<choice_end> ended() const { return ended_; }
    [[nodiscard]] double elapsed() const {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
    }

private:
    choice_options const& options_;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
    double told_ = -1.0;
    std::optional<choice_end> ended_;
};

/// The search for one problem.
class chooser {
public:
    chooser(row_problem const& of, choice_options const& options)
        : of_{of}, options_{options}, watch_{options}, prices_{of} {}

    choice_result run() {
        choice_domains domains;
        for (auto const& item : of_.items) {
            std::vector<int>& own = domains.emplace_back(item.size());
            std::iota(own.begin(), own.end(), 0);
            if (own.empty()) { return ended(nothing_found, choice_end::proved); }
        }
        // The dearest choice of all stands in for a cost that is not known yet.
        for (auto const& item : of_.items) { dearest_ += item.back().cost; }
        for (int turn = 0; turn < 2; ++turn) {
            double const target = best_.found() ? best_.cost : dearest_;
            priced const root = prices_.raise(domains, of_.room, root_steps, target, nothing_found,
                                              [&](priced const& suggested) {
                                                  // As much work for mending as for prices.
                                                  if (mended_ <= prices_.work() + 5'000) {
                                                      offer_mended(suggested, domains);
                                                  }
                                              });
            bound_ = std::max(bound_, rounded_up(root.bound));
            root_prices_ = prices_.prices();
            if (is_over()) { return ended(bound_, end_now()); }
        }
        // A short search of all first: it settles small problems, and leaves most of the work to
        // the others. These are improved, and then searched for as long as the work allows.
        bool proved = branch_from_root(domains, first_nodes, options_.steps / 5);
        for (int round = 0; !proved && round < rounds && !is_over(); ++round) {
            search_guided(of_, options_.steps / 5 * 4 / rounds,
                          static_cast<std::uint64_t>(round) + 1, best_, mended_,
                          [this] { return !is_over(); });
        }
        if (!proved && !is_over()) {
            proved = branch_from_root(domains, std::numeric_limits<int>::max(), options_.steps);
        }
        if (proved) { return ended(best_.cost, choice_end::proved); }
        return ended(bound_, end_now());
    }

private:
    static constexpr int root_steps = 150;
    static constexpr int node_steps = 12;
    static constexpr int first_nodes = 200;
    static constexpr int rounds = 2;

    [[nodiscard]] choice_end end_now() const { return watch_.ended().value_or(choice_end::proved); }

    /// Costs come in steps, and so does a bound of theirs.
    [[nodiscard]] double rounded_up(double bound) const {
        if (of_.cost_step <= 0.0) { return bound; }
        return std::ceil(bound / of_.cost_step - 1e-6) * of_.cost_step;
    }

    /// A branch that costs at least this gains nothing.
    [[nodiscard]] double enough() const { return best_.cost - 1e-9; }

    [[nodiscard]] bool is_over() {
        return best_.cost <= bound_ + 1e-9 ||
               !watch_.goes_on(prices_.work() + mended_, best_.cost, bound_);
    }

    choice_result ended(double bound, choice_end how) {
        choice_result made{.cost = best_.cost, .bound = std::min(bound, best_.cost), .ended = how};
        for (std::size_t i = 0; i < best_.chosen.size(); ++i) {
            made.chosen.push_back(of_.items[i][idx(best_.chosen[i])].source);
        }
        return made;
    }

    [[nodiscard]] row_alternative const& alternative(std::size_t item, int index) const {
        return of_.items[item][idx(index)];
    }

    void offer_mended(priced const& suggested, choice_domains const& domains) {
        std::vector<int> chosen = suggested.chosen;
        if (mend(of_, prices_, domains, of_.room, chosen, mended_)) { best_.offer(of_, chosen); }
    }

    // --- branch and bound ---

    /// True when everything was searched, with no more nodes and no more work than this.
    bool branch_from_root(choice_domains const& domains, int nodes, std::int64_t most_work) {
        prices_.set_prices(root_prices_);
        nodes_left_ = nodes;
        last_work_ = prices_.work() + mended_ + most_work;
        return branch(domains, of_.room, std::vector<int>(domains.size(), -1));
    }

    /// Leaves out what does not fit or cannot gain; false when an item has nothing left.
    bool narrow(choice_domains& domains, std::vector<double> const& room, priced const& at) const {
        for (std::size_t i = 0; i < domains.size(); ++i) {
            if (domains[i].empty()) { continue; }
            std::erase_if(domains[i], [&](int a) {
                row_alternative const& one = alternative(i, a);
                if (rounded_up(at.bound + prices_.priced_cost(one) - at.least[i]) >= enough()) {
                    return true;
                }
                for (row_use const& use : one.uses) {
                    for (int row = use.first; row < use.last; ++row) {
                        if (use.amount > room[idx(row)] + choice_tolerance) { return true; }
                    }
                }
                return false;
            });
            if (domains[i].empty()) { return false; }
        }
        return true;
    }

    /// Searches what the domains allow; `room` is what is left for them, `fixed` what is chosen
    /// already. True when all of it was searched.
    bool branch(choice_domains domains, std::vector<double> room, std::vector<int> fixed) {
        std::int64_t const work = prices_.work() + mended_;
        if (--nodes_left_ < 0 || work > last_work_ || !watch_.goes_on(work, best_.cost, bound_)) {
            return false;
        }
        double const paid = cost_of(fixed);
        if (std::all_of(domains.begin(), domains.end(),
                        [](auto const& own) { return own.empty(); })) {
            best_.offer(of_, fixed);
            return true;
        }
        double const target = (best_.found() ? best_.cost : dearest_) - paid;
        bool has_mended = false;
        priced at = prices_.raise(domains, room, node_steps, target, enough() - paid,
                                  [&](priced const& suggested) {
                                      if (has_mended) { return; }
                                      has_mended = true;
                                      offer_below(suggested, domains, room, fixed);
                                  });
        at.bound += paid;
        if (rounded_up(at.bound) >= enough()) { return true; }
        if (!narrow(domains, room, at)) { return true; }

        std::size_t const item = item_to_branch(domains, room, at);
        auto const order = cheapest_first(item, domains[item]);
        domains[item].clear();
        std::vector<double> const own_prices = prices_.prices();
        bool all_searched = true;
        for (auto const& [price, a] : order) {
            if (rounded_up(at.bound + price - at.least[item]) >= enough()) { break; }
            row_levels taken{room.size()};
            taken.add(alternative(item, a));
            std::vector<double> left = room;
            for (std::size_t k = 0; k < left.size(); ++k) { left[k] -= taken[k]; }
            fixed[item] = a;
            prices_.set_prices(own_prices);
            all_searched = branch(domains, std::move(left), fixed) && all_searched;
            if (nodes_left_ < 0) { return false; }
        }
        return all_searched;
    }

    /// Of the items that are chosen already; -1 stands for one that is not.
    [[nodiscard]] double cost_of(std::vector<int> const& fixed) const {
        double paid = 0.0;
        for (std::size_t i = 0; i < fixed.size(); ++i) {
            if (fixed[i] >= 0) { paid += alternative(i, fixed[i]).cost; }
        }
        return paid;
    }

    /// Alternatives of an item with what they cost at the prices of now.
    [[nodiscard]] std::vector<std::pair<double, int>> cheapest_first(
        std::size_t item, std::vector<int> const& of) const {
        std::vector<std::pair<double, int>> order;
        for (int a : of) { order.emplace_back(prices_.priced_cost(alternative(item, a)), a); }
        std::stable_sort(order.begin(), order.end(),
                         [](auto const& a, auto const& b) { return a.first < b.first - 1e-12; });
        return order;
    }

    /// A suggestion for the items that are left, with those that are fixed.
    void offer_below(priced const& suggested, choice_domains const& domains,
                     std::vector<double> const& room, std::vector<int> const& fixed) {
        std::vector<int> chosen = suggested.chosen;
        if (!mend(of_, prices_, domains, room, chosen, mended_)) { return; }
        for (std::size_t i = 0; i < chosen.size(); ++i) {
            if (chosen[i] < 0) { chosen[i] = fixed[i]; }
        }
        best_.offer(of_, chosen);
    }

    /// The item that decides most: of those on the most exceeded row, the one with most to lose.
    [[nodiscard]] std::size_t item_to_branch(choice_domains const& domains,
                                             std::vector<double> const& room,
                                             priced const& at) const {
        row_levels used{room.size()};
        for (std::size_t i = 0; i < domains.size(); ++i) {
            if (!domains[i].empty()) { used.add(alternative(i, at.chosen[i])); }
        }
        int worst = -1;
        double most = choice_tolerance;
        for (std::size_t k = 0; k < room.size(); ++k) {
            double const over = used[k] - room[k];
            if (over > most) {
                most = over;
                worst = static_cast<int>(k);
            }
        }
        std::size_t found = domains.size();
        double best = -1.0;
        for (std::size_t i = 0; i < domains.size(); ++i) {
            if (domains[i].empty()) { continue; }
            if (found == domains.size()) { found = i; }
            double const use_there =
                worst < 0 ? 1.0 : amount_on(alternative(i, at.chosen[i]), worst);
            if (use_there <= 0.0 || domains[i].size() < 2) { continue; }
            double second = nothing_found;
            for (int a : domains[i]) {
                if (a == at.chosen[i]) { continue; }
                second = std::min(second, prices_.priced_cost(alternative(i, a)) - at.least[i]);
            }
            double const score = use_there * (second + 1e-3);
            if (score > best) {
                best = score;
                found = i;
            }
        }
        return found;
    }

    row_problem const& of_;
    choice_options const& options_;
    watch watch_;
    row_prices prices_;
    std::vector<double> root_prices_;
    double dearest_ = 0.0;
    double bound_ = -nothing_found;
    best_choice best_;
    std::int64_t mended_ = 0;
    int nodes_left_ = 0;
    std::int64_t last_work_ = 0;  ///< of a search by branch and bound
};

}  // namespace

choice_result choose(choice_problem const& of, choice_options const& options) {
    row_problem const rows = rows_of(of);
    return chooser{rows, options}.run();
}

}  // namespace epicotyl::detail
