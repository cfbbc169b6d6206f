#include "days_table.hpp"

#include <algorithm>

namespace epicotyl::detail {

days_table make_unset_days_table(days_table const& like, int years) {
    days_table table{.years = years, .first_row = like.first_row};
    if (like.years > 0) {
        table.gathered.resize(like.gathered.size() / at(like.years) * at(years));
    }
    table.day =
        std::make_unique_for_overwrite<std::int16_t[]>(at(table.first_row.back()) * at(years));
    return table;
}

days_table make_unset_days_table(season_model const& model) {
    days_table table{.years = model.years};
    table.gathered.resize(at(model.waves) * at(model.years));
    int rows = 0;
    for (resolved_succession const& one : model.planned.successions()) {
        table.first_row.push_back(rows);
        rows += event_count(*one.grown);
    }
    table.first_row.push_back(rows);
    table.day = std::make_unique_for_overwrite<std::int16_t[]>(at(rows) * at(model.years));
    return table;
}

days_table make_days_table(season_model const& model) {
    days_table table = make_unset_days_table(model);
    std::fill_n(table.day.get(), table.all().size(), static_cast<std::int16_t>(never));
    return table;
}

int kth_smallest(std::span<std::int16_t const> days, int k) {
    // Counting the days up to a guess, and halving: no copy to sort, and counts go many at a time.
    int low = days.front();
    int high = days.front();
    for (std::int16_t const day : days) {
        low = std::min<int>(low, day);
        high = std::max<int>(high, day);
    }
    while (low < high) {
        auto const guess = static_cast<std::int16_t>(low + (high - low) / 2);
        int count = 0;
        for (std::int16_t const day : days) { count += day <= guess ? 1 : 0; }
        if (count >= k) {
            high = guess;
        } else {
            low = guess + 1;
        }
    }
    return low;
}

int quantile_of(std::span<std::int16_t const> days, double q) {
    return kth_smallest(days, needed_years(q, static_cast<int>(days.size())));
}

}  // namespace epicotyl::detail
