// A run of days, and in how many season years such runs cover days and weeks.
#ifndef EPICOTYL_SRC_SEASON_TABLES_DAY_RUN_HPP
#define EPICOTYL_SRC_SEASON_TABLES_DAY_RUN_HPP

#include <vector>

#include <epicotyl/days.hpp>

#include "day_table.hpp"

namespace epicotyl::detail {

/// Days [begin, end) as offsets: unlike a `day_span`, an empty one has its place.
struct day_run {
    int begin = 0;
    int end = 0;
};

/// The ISO weeks of days `first` to `last` of a season, Monday to Sunday, cut to these days.
[[nodiscard]] std::vector<day_span> weeks_of(season const& window, int first, int last);

/// Counts, for days `first` to `last` and the weeks of them, the season years in which some run
/// has the day, or a day of the week.
class cover_count {
public:
    cover_count(season const& window, int first, int last);

    /// One season year: the runs of all successions.
    void add_year(std::vector<day_run> const& runs);

    [[nodiscard]] std::vector<day_span> const& weeks() const noexcept { return weeks_; }
    /// Years in which one of the week's days is covered, week by week.
    [[nodiscard]] std::vector<int> const& years_in() const noexcept { return years_in_; }
    /// Years in which the day is covered, day by day from the first.
    [[nodiscard]] std::vector<int> const& years_on() const noexcept { return years_on_; }

private:
    int first_;
    std::vector<day_span> weeks_;
    std::vector<int> years_in_;
    std::vector<int> years_on_;
};

}  // namespace epicotyl::detail

#endif
