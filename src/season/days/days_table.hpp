// The days of every event in every year.
#ifndef EPICOTYL_SRC_SEASON_DAYS_DAYS_TABLE_HPP
#define EPICOTYL_SRC_SEASON_DAYS_DAYS_TABLE_HPP

#include <algorithm>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "../tables/season_model.hpp"

namespace epicotyl::detail {

/// Days of every event, [row][year]. Not set until they are walked or forgotten: thirty years of
/// ten thousand successions are filled once, and by the threads that work on them.
struct days_table {
    int years = 0;
    std::vector<int> first_row = {};  ///< of each succession; one more at the end
    std::unique_ptr<std::int16_t[]> day = {};
    /// The day from which links count of each wave that is waited for, [wave][year]: as the days
    /// were when `chain_walker::gather` looked.
    std::vector<std::int16_t> gathered = {};

    [[nodiscard]] int row(int succession, int event) const {
        return first_row[static_cast<std::size_t>(succession)] + event;
    }
    [[nodiscard]] std::size_t cell(int succession, int event, int year) const {
        return static_cast<std::size_t>(row(succession, event)) * static_cast<std::size_t>(years) +
               static_cast<std::size_t>(year);
    }
    [[nodiscard]] int at(int succession, int event, int year) const {
        return day[cell(succession, event, year)];
    }
    [[nodiscard]] std::span<std::int16_t const> all() const {
        return {day.get(),
                static_cast<std::size_t>(first_row.back()) * static_cast<std::size_t>(years)};
    }
    /// All years of a wave that is waited for.
    [[nodiscard]] std::span<std::int16_t> gathered_days(int wave) {
        return std::span{gathered}.subspan(detail::at(wave) * detail::at(years), detail::at(years));
    }
    [[nodiscard]] std::span<std::int16_t const> gathered_days(int wave) const {
        return std::span{gathered}.subspan(detail::at(wave) * detail::at(years), detail::at(years));
    }
    /// All years of one event.
    [[nodiscard]] std::span<std::int16_t const> row_days(int succession, int event) const {
        return all().subspan(cell(succession, event, 0), static_cast<std::size_t>(years));
    }
    /// All events of a succession in all years.
    [[nodiscard]] std::span<std::int16_t> all_days(int succession) {
        return {day.get() + cell(succession, 0, 0), day.get() + cell(succession + 1, 0, 0)};
    }
    /// Gives a succession the days of another with as many events.
    void copy(int from, int to) { std::ranges::copy(all_days(from), all_days(to).begin()); }
    /// No event of a succession ever comes.
    void forget(int succession) {
        std::ranges::fill(all_days(succession), static_cast<std::int16_t>(never));
    }
};

/// A table in which no event ever comes.
[[nodiscard]] days_table make_days_table(season_model const& model);
/// The same, whose days are not set, with room for what is waited for.
[[nodiscard]] days_table make_unset_days_table(season_model const& model);
/// A table with the rows of another, whose days are not set.
[[nodiscard]] days_table make_unset_days_table(days_table const& like, int years);

/// The k-th smallest of a row of days, k counted from 1; may be `never`.
[[nodiscard]] int kth_smallest(std::span<std::int16_t const> days, int k);
/// Quantile without averaging: the k-th smallest, k = max(1, ceil(q n)).
[[nodiscard]] int quantile_of(std::span<std::int16_t const> days, double q);

}  // namespace epicotyl::detail

#endif
