#include "day_run.hpp"

#include <algorithm>

namespace epicotyl::detail {

std::vector<day_span> weeks_of(season const& window, int first, int last) {
    std::vector<day_span> weeks;
    int monday = window.offset_of(monday_of(window.start() + days{first}));
    for (; monday <= last; monday += 7) {
        weeks.push_back({std::max(monday, first), std::min(monday + 6, last)});
    }
    return weeks;
}

cover_count::cover_count(season const& window, int first, int last)
    : first_{first},
      weeks_{weeks_of(window, first, last)},
      years_in_(weeks_.size(), 0),
      years_on_(static_cast<std::size_t>(last - first + 1), 0) {}

void cover_count::add_year(std::vector<day_run> const& runs) {
    std::vector<char> covered(years_on_.size(), 0);
    int const after_last = first_ + static_cast<int>(covered.size());
    for (auto const& [begin, end] : runs) {
        for (int d = std::max(begin, first_); d < std::min(end, after_last); ++d) {
            covered[static_cast<std::size_t>(d - first_)] = 1;
        }
    }
    for (std::size_t d = 0; d < covered.size(); ++d) { years_on_[d] += covered[d]; }
    for (std::size_t w = 0; w < weeks_.size(); ++w) {
        auto const from = covered.begin() + (weeks_[w].first - first_);
        auto const end_of_week = covered.begin() + (weeks_[w].last - first_) + 1;
        years_in_[w] += std::find(from, end_of_week, 1) != end_of_week;
    }
}

}  // namespace epicotyl::detail
