// When waits are over, for all season years at once.
//
// A wait is a clock with its amount, in one place. Waits that count the same thing in the same
// place share their running sums; what differs is the amount wanted. The sums answer any question
// about a wait. Where thousands of batches ask about the same days of the year, a table over those
// days answers sooner; what lies outside of it is searched for. Tables change no answer, only how
// long it takes.
//
// Who knows which days will be asked about says so, and then has the tables filled: each once, for
// all that was said.
#ifndef EPICOTYL_SRC_SEASON_TABLES_WAIT_TABLE_HPP
#define EPICOTYL_SRC_SEASON_TABLES_WAIT_TABLE_HPP

#include <algorithm>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/days.hpp>

#include "day_table.hpp"
#include "running_sums.hpp"

namespace epicotyl::detail {

/// Nights at or below a limit in an air.
struct night_table {
    int season_days = 0;
    int years = 0;
    std::vector<std::int16_t> next = {};  ///< [0 ... N][year]: first such night from a day on

    /// True when there is no such night in any season year.
    [[nodiscard]] bool empty() const {
        return std::all_of(next.begin(), next.begin() + years,
                           [](std::int16_t night) { return night >= never; });
    }
    /// The first such night on or after a day; `never` when there is none.
    [[nodiscard]] int from(int day, int year) const {
        return day > season_days ? never : next[at(std::max(day, 0)) * at(years) + at(year)];
    }
};

/// Looks where minima are at or below a limit. `minima` has one span of N days a season year.
[[nodiscard]] night_table make_night_table(std::vector<std::span<double const>> const& minima,
                                           int season_days, double limit);

/// A table of some days costs as much as looking up without one so many days to a succession.
inline constexpr int days_a_succession = 30;

class wait_table {
public:
    /// The wait for an amount of what is summed. With `cold`, it ends early on the first such night
    /// after its start. What it points to must outlive it.
    wait_table(running_sums const& sums, int years, double amount, night_table const* cold)
        : sums_{&sums},
          cold_{cold},
          wanted_{wanted_of(amount)},
          years_{years},
          season_days_{sums.season_days()},
          starts_{years},
          ends_{years} {}
    /// A wait whose answers are known, one map a season year: for "all of" and "any of". What it
    /// points to must outlive it.
    explicit wait_table(std::span<ready_map const> maps)
        : maps_{maps},
          years_{static_cast<int>(maps_.size())},
          season_days_{maps_.empty() ? 0 : maps_.front().season_days()},
          starts_{years_},
          ends_{years_} {}

    /// First day on which what began on `start` (0 ... N, or `never`) is over.
    [[nodiscard]] int ready(int start, int year) const {
        int const known = starts_(start, year);
        return known != day_table::unknown ? known : seek_ready(start, year);
    }
    /// Latest start that is over by `end` (0 ... N), -1 when there is none.
    [[nodiscard]] int latest_start(int end, int year) const {
        int const known = ends_(end, year);
        return known != day_table::unknown ? known : seek_latest(end, year);
    }

    /// Says that starts, or ends, in a span will be asked about in a year.
    void expect_starts(int year, day_span starts) { starts_.expect(year, within_season(starts)); }
    void expect_ends(int year, day_span ends) { ends_.expect(year, within_season(ends)); }
    /// Makes room for all that is expected; `fill` must follow before anything is asked.
    void make_room();
    void fill();

    /// The whole of one season year.
    [[nodiscard]] ready_map whole(int year) const;

private:
    /// What has to be added; an amount that is no number is never reached.
    [[nodiscard]] static double wanted_of(double amount) {
        return amount == amount ? amount * (1.0 - 1e-9) : std::numeric_limits<double>::infinity();
    }
    [[nodiscard]] day_span within_season(day_span days) const {
        return {std::clamp(days.first, 0, season_days_), std::min(days.last, season_days_)};
    }
    /// Days on which `count` starts from `first` on are over in a year, `step` apart.
    void fill_year(int year, int first, unsigned count, std::int16_t* to,
                   std::ptrdiff_t step) const;
    /// Latest starts for ends in a span, likewise.
    void fill_latest(int year, day_span const& ends, std::int16_t* to) const;
    [[nodiscard]] int seek_ready(int start, int year) const;
    [[nodiscard]] int seek_latest(int end, int year) const;

    running_sums const* sums_ = nullptr;
    night_table const* cold_ = nullptr;
    double wanted_ = 0.0;
    std::span<ready_map const> maps_ = {};
    int years_ = 0;
    int season_days_ = 0;

    day_table starts_;  ///< when those are over
    day_table ends_;    ///< which start is the latest for those
    bool has_new_starts_ = false;
    bool has_new_ends_ = false;
};

}  // namespace epicotyl::detail

#endif
