#include "running_sums.hpp"

#include <cmath>
#include <limits>

#include <epicotyl/detail/whole.hpp>

namespace epicotyl::detail {

void running_sums::add_year(std::span<double const> rates) {
    std::size_t const begin = sum_.size();
    sum_.resize(begin + days() + 2);
    double* const sum = sum_.data() + begin;
    double total = 0.0;
    for (std::size_t day = 0; day < days(); ++day) {
        sum[day] = total;
        total += std::min(std::max(0.0, rates[day]), most_a_day);
    }
    sum[days()] = total;
    sum[days() + 1] = std::numeric_limits<double>::infinity();

    double const scale = static_cast<double>(parts()) / total;
    parts_a_unit_.push_back(total > 0.0 && std::isfinite(scale) ? scale : 0.0);
    reached_.resize(reached_.size() + parts() + 2);
    std::int16_t* const reached = reached_.data() + reached_.size() - (parts() + 2);
    // What comes after a part begins on the day after its last one, or later.
    double const of_unit = parts_a_unit_.back();
    int const last_part = static_cast<int>(parts());
    for (int day = 0; day <= season_days_; ++day) {
        int const part = std::min(whole_of(sum[day] * of_unit), last_part);
        reached[part + 1] = static_cast<std::int16_t>(day + 1);
    }
    std::int16_t first = 0;
    for (std::size_t part = 0; part < parts() + 2; ++part) {
        first = std::max(first, reached[part]);
        reached[part] = first;
    }
}

}  // namespace epicotyl::detail
