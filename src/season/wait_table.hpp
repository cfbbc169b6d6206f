// When waits are over, for all season years at once.
//
// A wait is a clock with its amount, in one place. Waits that count the same thing in the same
// place share one running sum C a season year; what differs is the amount wanted. A binary search
// in C answers any question about a wait. Where thousands of batches ask about the same days of the
// year, a table over those days answers in a tenth of the time; it is filled by one sweep, and what
// lies outside of it is searched for. Tables change no answer, only how long it takes. All years of
// a day stand side by side: they are asked for together.
#ifndef EPICOTYL_SRC_SEASON_WAIT_TABLE_HPP
#define EPICOTYL_SRC_SEASON_WAIT_TABLE_HPP

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/days.hpp>

namespace epicotyl::detail {

/// Events, years and successions are counted with `int`; containers ask for `size_t`.
[[nodiscard]] constexpr std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

/// The first and the last of some days; none so far.
struct day_span {
    int first = never;
    int last = -1;

    [[nodiscard]] bool empty() const { return last < first; }
    void add(int day) {
        first = std::min(first, day);
        last = std::max(last, day);
    }
    void add(day_span const& other) {
        first = std::min(first, other.first);
        last = std::max(last, other.last);
    }
};

/// Sums of daily rates: C[0] = 0, C[d] what days 0 ... d-1 add. One row a season year.
struct running_sums {
    int season_days = 0;
    std::vector<double> sum = {};  ///< [year][0 ... N]

    [[nodiscard]] std::span<double const> year(int index) const {
        std::size_t const size = at(season_days) + 1;
        return std::span{sum}.subspan(at(index) * size, size);
    }
};

/// Nights at or below a limit in an air.
struct cold_nights {
    int season_days = 0;
    int years = 0;
    std::vector<std::int16_t> next = {};  ///< [0 ... N][year]: first such night from a day on

    /// The first such night on or after a day; `never` when there is none.
    [[nodiscard]] int from(int day, int year) const {
        return day > season_days ? never : next[at(std::max(day, 0)) * at(years) + at(year)];
    }
};

/// Looks where minima are at or below a limit. `minima` has one span of N days a season year.
[[nodiscard]] cold_nights make_cold_nights(std::vector<std::span<double const>> const& minima,
                                           int season_days, double limit);

/// A table of some days costs as much as looking up without one so many days to a succession.
inline constexpr int days_a_succession = 30;

class wait_table {
public:
    /// The wait for an amount of what is summed. With `cold`, it ends early on the first such night
    /// after its start. What it points to must outlive it.
    wait_table(running_sums const& sums, int years, double amount, cold_nights const* cold)
        : sums_{&sums},
          cold_{cold},
          wanted_{amount * (1.0 - 1e-9)},
          years_{years},
          season_days_{sums.season_days} {}
    /// A wait whose answers are known, one map a season year: for "all of" and "any of". What it
    /// points to must outlive it.
    explicit wait_table(std::span<ready_map const> maps)
        : maps_{maps},
          years_{static_cast<int>(maps_.size())},
          season_days_{maps_.empty() ? 0 : maps_.front().season_days()} {}

    /// First day on which what began on `start` (0 ... N, or `never`) is over.
    [[nodiscard]] int ready(int start, int year) const {
        auto const row = static_cast<unsigned>(start - first_);
        return row < count_ ? table_[row * at(years_) + at(year)] : seek_ready(start, year);
    }
    /// Latest start that is over by `end` (0 ... N), -1 when there is none.
    [[nodiscard]] int latest_start(int end, int year) const {
        auto const row = static_cast<unsigned>(end - first_end_);
        return row < end_count_ ? latest_[row * at(years_) + at(year)] : seek_latest(end, year);
    }

    /// Fills the table for starts in a span, beside those that it holds.
    void expect_starts(day_span starts);
    /// Fills the table for ends in a span, beside those that it holds.
    void expect_ends(day_span ends);
    /// What may come of starts in a span, in any year: the first and the last day, at most N.
    [[nodiscard]] day_span ready_span(day_span starts) const;
    /// Which starts may be the latest for ends in a span, in any year.
    [[nodiscard]] day_span latest_span(day_span ends) const;

    /// The whole of one season year.
    [[nodiscard]] ready_map whole(int year) const;

private:
    [[nodiscard]] int seek_ready(int start, int year) const;
    [[nodiscard]] int seek_latest(int end, int year) const;

    running_sums const* sums_ = nullptr;
    cold_nights const* cold_ = nullptr;
    double wanted_ = 0.0;
    std::span<ready_map const> maps_ = {};
    int years_ = 0;
    int season_days_ = 0;

    int first_ = 0;
    unsigned count_ = 0;
    std::vector<std::int16_t> table_ = {};  ///< [start - first_][year]
    int first_end_ = 0;
    unsigned end_count_ = 0;
    std::vector<std::int16_t> latest_ = {};  ///< [end - first_end_][year]
};

}  // namespace epicotyl::detail

#endif
