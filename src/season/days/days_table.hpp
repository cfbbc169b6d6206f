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

/// Days of every event, [row][year]. Not set until they are walked: thirty years of ten thousand
/// successions are filled once, and by the threads that work on them.
///
/// A succession has no rows of its own until it is given some. Before, its events never come, and
/// it may share those of another: a large plan has many that are alike.
struct days_table {
    int years = 0;
    std::vector<int> first_row = {};  ///< of each succession in plan order; one more at the end
    std::vector<int> held_at = {};    ///< the first of the rows that hold its days
    int never_rows = 0;               ///< the first rows held, of which no event comes
    int held = 0;                     ///< rows held
    std::unique_ptr<std::int16_t[]> day = {};
    /// The day from which links count of each wave that is waited for, [wave][year]: as the days
    /// were when `path_walker::gather` looked.
    std::vector<std::int16_t> gathered = {};

    /// Number of an event, in plan order.
    [[nodiscard]] int row(int succession, int event) const {
        return first_row[detail::at(succession)] + event;
    }
    [[nodiscard]] int event_count(int succession) const {
        return first_row[detail::at(succession) + 1] - first_row[detail::at(succession)];
    }
    [[nodiscard]] std::size_t cell(int succession, int event, int year) const {
        return detail::at(held_at[detail::at(succession)] + event) * detail::at(years) +
               detail::at(year);
    }
    [[nodiscard]] int at(int succession, int event, int year) const {
        return day[cell(succession, event, year)];
    }
    /// All rows held.
    [[nodiscard]] std::span<std::int16_t const> all() const {
        return {day.get(), detail::at(held) * detail::at(years)};
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
        return {day.get() + cell(succession, event, 0), detail::at(years)};
    }
    /// All events of a succession in all years.
    [[nodiscard]] std::span<std::int16_t> all_days(int succession) {
        return {day.get() + cell(succession, 0, 0),
                detail::at(event_count(succession)) * detail::at(years)};
    }
    [[nodiscard]] std::span<std::int16_t const> all_days(int succession) const {
        return {day.get() + cell(succession, 0, 0),
                detail::at(event_count(succession)) * detail::at(years)};
    }

    [[nodiscard]] bool has_rows(int succession) const {
        return held_at[detail::at(succession)] != 0;
    }
    /// Gives a succession rows of its own, unless it has some. Their days are not set.
    void give_rows(int succession) {
        if (has_rows(succession)) { return; }
        held_at[detail::at(succession)] = held;
        held += event_count(succession);
    }
    /// Gives one that has no rows those of another with as many events.
    void share_rows(int of, int with) { held_at[detail::at(with)] = held_at[detail::at(of)]; }
    /// No event of a succession ever comes.
    void forget(int succession) { held_at[detail::at(succession)] = 0; }
};

/// A table in which no event ever comes, with room for rows of all successions.
[[nodiscard]] days_table make_days_table(season_model const& model);
/// A table with the rows that another has by now, whose days are not set.
[[nodiscard]] days_table make_unset_days_table(days_table const& like, int years);

/// The k-th smallest of a row of days, k counted from 1; may be `never`.
[[nodiscard]] int kth_smallest(std::span<std::int16_t const> days, int k);
/// Quantile without averaging: the k-th smallest, k = max(1, ceil(q n)).
[[nodiscard]] int quantile_of(std::span<std::int16_t const> days, double q);

}  // namespace epicotyl::detail

#endif
