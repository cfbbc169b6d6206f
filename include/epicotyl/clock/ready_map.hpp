// epicotyl: when a stage is ready, for every day on which it may begin.
//
// With C the running sum of a clock's daily rates (C[0] = 0, C[e] - C[s] what days s ... e-1 add),
// a stage that begins on day s is ready on the first day e with C[e] - C[s] >= amount:
//
//     ready(s)          = min { e >= s : C[e] - C[s] >= amount (1 - 1e-9) },  else never
//     latest_start(e)   = max { s : ready(s) <= e },                          none if there is none
//     earliest_start(e) = min { s : ready(s) >= e }
//
// Seven calendar days from s: s + 7. Amount 0: s. The factor forgives rounding in the running sum:
// 30 days of 0.1 are 3.
//
// All three are non-decreasing, and each pair undoes the other as far as it can be undone (a
// Galois connection):
//
//     ready(s) <= e  <=>  s <= latest_start(e)
//     ready(s) >= e  <=>  s >= earliest_start(e)
//
// A table of 16-bit offsets answers all three: `ready` is a look-up, the others a binary search.
// `never` begins never and is never ready.
#ifndef EPICOTYL_CLOCK_READY_MAP_HPP
#define EPICOTYL_CLOCK_READY_MAP_HPP

#include <algorithm>
#include <cstdint>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/rate.hpp>
#include <epicotyl/days.hpp>

namespace epicotyl {

class ready_map {
public:
    /// Ready at once, over a season of `season_days` days.
    explicit ready_map(int season_days) : table_(static_cast<std::size_t>(season_days) + 1) {
        for (std::size_t s = 0; s < table_.size(); ++s) {
            table_[s] = static_cast<std::int16_t>(s);
        }
    }

    /// From the table itself: `ready` of days 0 ... N, non-decreasing, none before its own day.
    explicit ready_map(std::vector<std::int16_t> table) : table_{std::move(table)} {}

    /// From daily rates (>= 0, one for each of the season's N days) and an amount, by one sweep.
    ready_map(std::span<double const> rates, double amount)
        : table_(rates.size() + 1, static_cast<std::int16_t>(never)) {
        std::vector<double> sum(rates.size() + 1, 0.0);
        for (std::size_t d = 0; d < rates.size(); ++d) { sum[d + 1] = sum[d] + rates[d]; }
        double const wanted = amount * (1.0 - 1e-9);
        std::size_t e = 0;
        for (std::size_t s = 0; s < sum.size(); ++s) {
            e = std::max(e, s);
            while (e < sum.size() && sum[e] - sum[s] < wanted) { ++e; }
            if (e == sum.size()) { break; }
            table_[s] = static_cast<std::int16_t>(e);
        }
    }

    /// Last day on which an event can fall.
    [[nodiscard]] int season_days() const noexcept { return static_cast<int>(table_.size()) - 1; }

    /// First day on which a stage begun on day `start` (0 ... N, or `never`) is ready.
    [[nodiscard]] int operator()(int start) const noexcept {
        return start > season_days() ? never : table_[static_cast<std::size_t>(std::max(start, 0))];
    }

    /// Latest start that is ready by day `end`; none when no start is. `never` for an `end` of
    /// `never`: any start will do.
    [[nodiscard]] std::optional<int> latest_start(int end) const noexcept {
        if (end >= never) { return never; }
        auto const after = std::upper_bound(table_.begin(), table_.end(), end);
        if (after == table_.begin()) { return std::nullopt; }
        return static_cast<int>(after - table_.begin()) - 1;
    }

    /// Earliest start that is not ready before day `end`; `never` when every day's start is.
    [[nodiscard]] int earliest_start(int end) const noexcept {
        auto const first = std::lower_bound(table_.begin(), table_.end(), end);
        return first == table_.end() ? never : static_cast<int>(first - table_.begin());
    }

    /// The later (`last`) or the earlier (`first`) of two maps over the same season.
    [[nodiscard]] static ready_map combined(ready_map a, ready_map const& b,
                                            clock_group::decides which) {
        for (std::size_t s = 0; s < a.table_.size(); ++s) {
            a.table_[s] = which == clock_group::decides::last ? std::max(a.table_[s], b.table_[s])
                                                              : std::min(a.table_[s], b.table_[s]);
        }
        return a;
    }

    /// The same map, ended early: a stage begun on `s` ends on the first of `cold` (sorted offsets)
    /// after s, if that is earlier. For a harvest that the first cold night ends.
    [[nodiscard]] ready_map ended_by(std::span<int const> cold) const {
        ready_map copy = *this;
        for (std::size_t s = 0; s < copy.table_.size(); ++s) {
            auto const next = std::upper_bound(cold.begin(), cold.end(), static_cast<int>(s));
            if (next == cold.end()) { break; }
            copy.table_[s] = std::min(copy.table_[s], static_cast<std::int16_t>(*next));
        }
        return copy;
    }

    friend bool operator==(ready_map const&, ready_map const&) = default;

private:
    std::vector<std::int16_t> table_;
};

/// What a clock becomes under the conditions of one place and one season year.
[[nodiscard]] inline ready_map make_ready_map(clock const& of, day_conditions const& on) {
    if (clock_group const* const group = of.group()) {
        ready_map whole = make_ready_map(group->members.front(), on);
        for (std::size_t i = 1; i < group->members.size(); ++i) {
            whole = ready_map::combined(std::move(whole), make_ready_map(group->members[i], on),
                                        group->which);
        }
        return whole;
    }
    return ready_map{daily_rates(of, on), amount_of(of)};
}

}  // namespace epicotyl

#endif
