#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/windows/window_years.hpp>
#include <epicotyl/weather/climate.hpp>

#include <algorithm>
#include <array>
#include <functional>
#include <map>
#include <tuple>

#include "../tables/in_parallel.hpp"
#include "told.hpp"
#include "windows_data.hpp"

namespace epicotyl {

using detail::at;

window_years::window_years(epicotyl::calendar of, int threads)
    : of_{std::move(of)}, years_(of_.climate().years().begin(), of_.climate().years().end()) {
    plan const& planned = of_.plan();
    int rows = 0;
    for (resolved_succession const& one : planned.successions()) {
        first_row_.push_back(rows);
        rows += event_count(*one.grown);
    }
    int const n = static_cast<int>(years_.size());
    earliest_.assign(at(rows) * at(n), static_cast<std::int16_t>(never));
    latest_.assign(earliest_.size(), static_cast<std::int16_t>(never));
    feasible_.assign(planned.successions().size(), 0);
    auto const frame =
        std::make_shared<detail::window_frame const>(detail::make_window_frame(of_.data()));

    int const season_days = planned.window().length();
    std::vector<std::vector<season_conflict>> conflicts(at(n));
    std::vector<std::vector<char>> is_feasible(at(n));
    detail::in_parallel(n, threads, [&](int year) {
        auto const solved = detail::solve_windows(of_, frame, year);
        conflicts[at(year)] = solved->conflicts;
        for (int i = 0; i < static_cast<int>(planned.successions().size()); ++i) {
            is_feasible[at(year)].push_back(solved->network_of[at(i)] >= 0);
            for (int e = 0; e < event_count(*planned.successions()[at(i)].grown); ++e) {
                int const early = solved->earliest_of({i, e});
                int const late = solved->latest_of({i, e});
                if (early > season_days) { continue; }
                std::size_t const cell = at(first_row_[at(i)] + e) * at(n) + at(year);
                earliest_[cell] = static_cast<std::int16_t>(early);
                if (late <= season_days) { latest_[cell] = static_cast<std::int16_t>(late); }
            }
        }
    });

    for (int year = 0; year < n; ++year) {
        for (std::size_t i = 0; i < feasible_.size(); ++i) {
            feasible_[i] += is_feasible[at(year)][i];
        }
        for (season_conflict const& one : conflicts[at(year)]) {
            auto const known =
                std::find_if(failures_.begin(), failures_.end(),
                             [&](window_failure const& had) { return had.broken == one.broken; });
            if (known == failures_.end()) {
                failures_.push_back({.broken = one.broken, .years = {years_[at(year)]}});
            } else {
                known->years.push_back(years_[at(year)]);
            }
        }
    }
    std::stable_sort(failures_.begin(), failures_.end(),
                     [&](window_failure const& a, window_failure const& b) {
                         if (a.years.size() != b.years.size()) {
                             return a.years.size() > b.years.size();
                         }
                         return planned.succession_index(a.broken.succession) <
                                planned.succession_index(b.broken.succession);
                     });
}

std::size_t window_years::row(std::string_view succession, std::string_view event) const {
    int const i = of_.plan().succession_index(succession);
    return at(first_row_[at(i)] + of_.plan().event_index(i, event));
}

int window_years::feasible_years(std::string_view succession) const {
    return feasible_[at(of_.plan().succession_index(succession))];
}

std::vector<std::optional<day>> window_years::earliest(std::string_view succession,
                                                       std::string_view event) const {
    std::vector<std::optional<day>> found;
    std::size_t const first = row(succession, event) * years_.size();
    for (std::size_t y = 0; y < years_.size(); ++y) {
        found.push_back(of_.plan().window().day_at(earliest_[first + y]));
    }
    return found;
}

std::vector<std::optional<day>> window_years::latest(std::string_view succession,
                                                     std::string_view event) const {
    std::vector<std::optional<day>> found;
    std::size_t const first = row(succession, event) * years_.size();
    for (std::size_t y = 0; y < years_.size(); ++y) {
        found.push_back(of_.plan().window().day_at(latest_[first + y]));
    }
    return found;
}

std::vector<std::optional<int>> window_years::slack(std::string_view succession,
                                                    std::string_view event) const {
    std::vector<std::optional<int>> found(years_.size());
    std::size_t const first = row(succession, event) * years_.size();
    for (std::size_t y = 0; y < years_.size(); ++y) {
        if (latest_[first + y] < never) { found[y] = latest_[first + y] - earliest_[first + y]; }
    }
    return found;
}

std::optional<int> window_years::slack_in(std::string_view succession, std::string_view event,
                                          reliability share) const {
    std::vector<int> had;
    for (std::optional<int> const& one : slack(succession, event)) {
        if (one) { had.push_back(*one); }
    }
    int const need = detail::needed_years(share.value(), static_cast<int>(years_.size()));
    if (static_cast<int>(had.size()) < need) { return std::nullopt; }
    std::sort(had.begin(), had.end(), std::greater<>{});
    return had[at(need - 1)];
}

namespace {

/// What makes two chains of two years the same: the events, what ties them, and what ends them.
using chain_key = std::vector<std::array<int, 7>>;

chain_key key_of(detail::windows_data const& of, detail::found_chain const& chain) {
    detail::window_network const& network = *of.solved[at(chain.network)];
    chain_key key;
    auto const add = [&](event_of const& one, int row) {
        if (row < 0) {
            key.push_back({one.succession, one.event, -1, -1, -1, -1, -1});
            return;
        }
        detail::requirement_row const& tie = network.rows[at(row)];
        key.push_back({one.succession, one.event, static_cast<int>(tie.kind), tie.note, tie.link,
                       tie.from.succession, tie.is_upper ? 1 : 0});
    };
    for (std::size_t k = 0; k < chain.vertices.size(); ++k) {
        add(network.owner[chain.vertices[k]], chain.ties[k]);
    }
    add(network.owner[chain.vertices.back()], chain.end);
    return key;
}

}  // namespace

std::vector<chain_in_years> window_years::tightest_chains(int most, int threads) const {
    int const n = static_cast<int>(years_.size());
    auto const frame =
        std::make_shared<detail::window_frame const>(detail::make_window_frame(of_.data()));
    struct told_chain {
        chain_key key;
        tightest_chain chain;
    };
    std::vector<std::vector<told_chain>> by_year(at(n));
    detail::in_parallel(n, threads, [&](int year) {
        auto const solved = detail::solve_windows(of_, frame, year);
        for (detail::found_chain const& one : detail::find_tightest(*solved, most)) {
            by_year[at(year)].push_back({key_of(*solved, one), detail::told(*solved, one)});
        }
    });
    std::vector<chain_in_years> all;
    std::map<chain_key, std::size_t> place;
    for (int year = 0; year < n; ++year) {
        for (told_chain& one : by_year[at(year)]) {
            auto const [known, is_new] = place.emplace(std::move(one.key), all.size());
            if (is_new) { all.push_back({.chain = one.chain}); }
            all[known->second].years.push_back(years_[at(year)]);
            all[known->second].slacks.push_back(one.chain.slack);
        }
    }
    for (chain_in_years& one : all) {
        std::vector<int> sorted = one.slacks;
        std::sort(sorted.begin(), sorted.end());
        one.usual_slack = sorted[(sorted.size() - 1) / 2];
    }
    auto const rank = [&](chain_in_years const& one) {
        int const count = static_cast<int>(one.years.size());
        bool const is_rare = 2 * count < n;
        return std::tuple{!one.chain.crosses_links, is_rare, is_rare ? -count : one.usual_slack,
                          is_rare ? one.usual_slack : -count};
    };
    std::stable_sort(all.begin(), all.end(), [&](chain_in_years const& a, chain_in_years const& b) {
        return rank(a) < rank(b);
    });
    return all;
}

}  // namespace epicotyl
