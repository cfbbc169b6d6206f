// What attains a day: the rows, and the days that are planned, without which it would have no need
// to be so late; and what attains the day that these count from, back to the roots.
#ifndef EPICOTYL_SRC_SEASON_DAYS_ATTAINING_ROWS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_ATTAINING_ROWS_HPP

#include <set>
#include <tuple>
#include <vector>

#include "second_walk.hpp"

namespace epicotyl::detail {

/// Finds what attains the days that a season was walked to.
class attaining_rows {
public:
    explicit attaining_rows(second_walk const& walk) : walk_{walk} {}

    /// Of an event's day in a year.
    void add_day(int i, int e, int y);
    /// Of the sowing of the least plan, or of a spring.
    void add_earliest(int i);
    /// Of the day of a decision aimed at, in the least plan.
    void add_target(int i);
    /// Of a day that is planned, nothing else.
    void add(requirement_row const& row);

    [[nodiscard]] std::vector<holder>& found() { return found_; }

private:
    void follow();
    void open(int i, int e, int y);
    void row(requirement_row const& what, int year, int came);
    void from(requirement_row const& what, event_of const& first, int year, int came);
    void bounds(int i, int event, int came);
    void sown(int i, int came);
    void aimed(int i, int came);
    void least_sowing(int i);
    void least_target(int i);

    second_walk const& walk_;
    std::vector<holder> found_ = {};
    std::vector<std::tuple<int, int, int>> open_ = {};
    std::set<std::tuple<int, int, int>> seen_ = {};
};

}  // namespace epicotyl::detail

#endif
