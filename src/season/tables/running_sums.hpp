// Running sums of what a clock counts, and where in them an amount is reached.
//
// A wait for an amount that begins on day s is over on the first day e with C[e] - C[s] >= amount.
// A binary search finds e in ten steps, each of which waits for the one before. The sums have an
// index instead: the range from 0 to a year's total is cut into as many equal parts as the season
// has days, and of each part the first day that reaches it is kept. A division leads to the part,
// and there are seldom more than two days in it to look at.
#ifndef EPICOTYL_SRC_SEASON_TABLES_RUNNING_SUMS_HPP
#define EPICOTYL_SRC_SEASON_TABLES_RUNNING_SUMS_HPP

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace epicotyl::detail {

/// One season year of running sums, C[0 ... N], with its index. Refers to them.
class sums_of_year {
public:
    sums_of_year(double const* sum, std::int16_t const* reached, int parts, double parts_a_unit)
        : sum_{sum}, reached_{reached}, most_{double(parts)}, parts_a_unit_{parts_a_unit} {}

    /// First day on or after `start` (0 ... N) by which an amount has been added; N + 1 when the
    /// season ends before.
    [[nodiscard]] int day_reached(int start, double amount) const {
        double const before = sum_[start];
        return std::max(start, first_day(before + amount,
                                         [&](int day) { return sum_[day] - before >= amount; }));
    }
    /// Latest day from which an amount has been added by `end` (0 ... N); -1 when there is none.
    [[nodiscard]] int latest_start(int end, double amount) const {
        double const by_end = sum_[end];
        return std::min(end, first_day(by_end - amount, [&](int day) {
                                 return !(by_end - sum_[day] >= amount);
                             }) - 1);
    }

private:
    /// What rounding may take from a place among the parts, many times over.
    static constexpr double slack = 1e-6;
    /// More days than this are halved first.
    static constexpr int few_days = 4;

    /// First day for which `holds`, which never fails again once it has held and holds for no sum
    /// clearly below `level`.
    template <class Test>
    [[nodiscard]] int first_day(double level, Test const& holds) const {
        // In this order of arguments, what is no number is held at 0.
        double const place = std::min(std::max(0.0, level * parts_a_unit_ - slack), most_);
        int const part = static_cast<int>(place);
        int day = reached_[part];
        int last = reached_[part + 1];
        while (last - day > few_days) {
            int const middle = day + (last - day) / 2;
            if (holds(middle)) {
                last = middle;
            } else {
                day = middle + 1;
            }
        }
        // Without a branch, which would be guessed wrong every other time.
        day += holds(day) ? 0 : 1;
        day += holds(day) ? 0 : 1;
        while (!holds(day)) { ++day; }
        return day;
    }

    double const* sum_;
    std::int16_t const* reached_;
    double most_;  ///< parts
    double parts_a_unit_;
};

/// Sums of daily rates: C[0] = 0, C[d] what days 0 ... d-1 add, one row a season year.
class running_sums {
public:
    /// No sums yet, of seasons of so many days; room for so many years.
    running_sums(int season_days, int years) : season_days_{season_days} {
        sum_.reserve(static_cast<std::size_t>(years) * (days() + 2));
        parts_a_unit_.reserve(static_cast<std::size_t>(years));
        reached_.reserve(static_cast<std::size_t>(years) * (parts() + 2));
    }
    /// Adds the next season year: one rate a day, 0 or more. What is below, or no number, counts
    /// as 0, and no day counts more than `most_a_day`: sums are finite and never fall.
    void add_year(std::span<double const> rates);

    [[nodiscard]] int season_days() const { return season_days_; }
    /// The sums of one season year, to look into.
    [[nodiscard]] sums_of_year of_year(int index) const {
        auto const y = static_cast<std::size_t>(index);
        return {sum_.data() + y * (days() + 2), reached_.data() + y * (parts() + 2),
                static_cast<int>(parts()), parts_a_unit_[y]};
    }

private:
    static constexpr double most_a_day = 1e300;
    static constexpr std::size_t parts_a_day = 2;

    [[nodiscard]] std::size_t days() const { return static_cast<std::size_t>(season_days_); }
    [[nodiscard]] std::size_t parts() const { return parts_a_day * days(); }

    int season_days_;
    // A sum without end follows each year's: a search needs not ask whether the season is over.
    std::vector<double> sum_ = {};  ///< [year][0 ... N + 1]
    std::vector<std::int16_t> reached_ =
        {};                                  ///< [year][part 0 ... N + 1]: first day in it or later
    std::vector<double> parts_a_unit_ = {};  ///< [year]
};

}  // namespace epicotyl::detail

#endif
