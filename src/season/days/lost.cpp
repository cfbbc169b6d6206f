#include "lost.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "../rows/say.hpp"

namespace epicotyl::detail {

int lost_night(season_model const& model, days_table const& days, int succession, int year) {
    stage_path const& path = model.paths[at(model.path_of[at(succession)])];
    for (int j = path.damage_from; j < path.lost_until; ++j) {
        night_table const* const loss = path.stages[at(j)].loss.get();
        if (loss == nullptr) { continue; }
        int const night = loss->from(days.at(succession, j, year), year);
        if (night < days.at(succession, j + 1, year)) { return night; }
    }
    return never;
}

std::vector<std::int16_t> lost_nights(season_model const& model, days_table const& days,
                                      int succession) {
    std::vector<std::int16_t> nights(at(model.years), static_cast<std::int16_t>(never));
    stage_path const& path = model.paths[at(model.path_of[at(succession)])];
    for (int j = path.damage_from; j < path.lost_until; ++j) {
        night_table const* const loss = path.stages[at(j)].loss.get();
        if (loss == nullptr) { continue; }
        std::span<std::int16_t const> const from = days.row_days(succession, j);
        std::span<std::int16_t const> const until = days.row_days(succession, j + 1);
        for (int y = 0; y < model.years; ++y) {
            // An earlier stage's night comes before all of this one's.
            auto const night = static_cast<std::int16_t>(loss->from(from[at(y)], y));
            if (night < until[at(y)]) { nights[at(y)] = std::min(nights[at(y)], night); }
        }
    }
    return nights;
}

int lost_years(std::span<std::int16_t const> nights) {
    return static_cast<int>(
        std::count_if(nights.begin(), nights.end(), [](int night) { return night < never; }));
}

int quantile_of_living(std::span<std::int16_t const> days, std::span<std::int16_t const> nights,
                       double q) {
    std::vector<std::int16_t> living;
    for (std::size_t y = 0; y < days.size(); ++y) {
        if (nights[y] >= never) { living.push_back(days[y]); }
    }
    return living.empty() ? never : quantile_of(living, q);
}

std::string say_lost(int lost, int years) {
    return fmt::format("lost to cold in {}", say_years(lost, years));
}

}  // namespace epicotyl::detail
