// A table of days: what is known for some days of each season year.
//
// It is first told which days will be asked about, year by year, then given room, then filled. In a
// warm year the same batches are ready earlier than in a cold one: what is filled is a band of days
// for each year, in a table that spans them all. All years of a day stand side by side: they are
// asked for together.
#ifndef EPICOTYL_SRC_SEASON_TABLES_DAY_TABLE_HPP
#define EPICOTYL_SRC_SEASON_TABLES_DAY_TABLE_HPP

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include <epicotyl/days.hpp>

namespace epicotyl::detail {

/// Events, years and successions are counted with `int`; containers ask for `size_t`.
[[nodiscard]] constexpr std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

/// The first and the last of some days, as offsets; none so far.
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

    friend bool operator==(day_span const&, day_span const&) = default;
};

class day_table {
public:
    /// Stands for a day that nothing is known of.
    static constexpr int unknown = -2;

    explicit day_table(int years) : years_{years} {}

    [[nodiscard]] int operator()(int day, int year) const {
        auto const row = static_cast<unsigned>(day - first_);
        return row < count_ ? table_[row * at(years_) + at(year)] : unknown;
    }

    /// Says that days in a span will be asked about in a year.
    void expect(int year, day_span const& days) {
        if (days.empty()) { return; }
        expected_.resize(at(years_));
        day_span& all = expected_[at(year)];
        is_new_ |= days.first < all.first || days.last > all.last;
        all.add(days);
    }
    /// Room for all that is expected; `fill_year` must follow for each year before anything is
    /// asked. False when that has been done before.
    bool make_room() {
        if (!is_new_) { return false; }
        day_span all;
        for (day_span const& of_year : expected_) { all.add(of_year); }
        first_ = all.first;
        count_ = static_cast<unsigned>(all.last - all.first + 1);
        table_.assign(at(years_) * count_, unknown);
        is_new_ = false;
        return true;
    }
    /// Days expected in a year; none when nothing is.
    [[nodiscard]] day_span expected(int year) const {
        return expected_.empty() ? day_span{} : expected_[at(year)];
    }
    /// Where the answer for a day that is expected in a year belongs; that for the next day is
    /// `years` further on.
    [[nodiscard]] std::int16_t* place(int day, int year) {
        return table_.data() + at(day - first_) * at(years_) + at(year);
    }

private:
    int years_;
    int first_ = 0;
    unsigned count_ = 0;
    bool is_new_ = false;
    std::vector<std::int16_t> table_ = {};  ///< [day - first_][year]
    std::vector<day_span> expected_ = {};   ///< [year]; empty: none
};

}  // namespace epicotyl::detail

#endif
