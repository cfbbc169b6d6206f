#include "days_table.hpp"

#include <algorithm>
#include <array>

#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

namespace {

/// Room for so many rows, of which the first are of what never comes.
void make_room(days_table& table, int rows) {
    table.day = std::make_unique_for_overwrite<std::int16_t[]>(at(rows) * at(table.years));
    std::fill_n(table.day.get(), at(table.never_rows) * at(table.years),
                static_cast<std::int16_t>(never));
}

}  // namespace

days_table make_unset_days_table(days_table const& like, int years) {
    days_table table{.years = years,
                     .first_row = like.first_row,
                     .held_at = like.held_at,
                     .never_rows = like.never_rows,
                     .held = like.held};
    if (like.years > 0) {
        table.gathered.resize(like.gathered.size() / at(like.years) * at(years));
    }
    make_room(table, table.held);
    return table;
}

days_table make_days_table(season_model const& model) {
    days_table table{.years = model.years};
    table.gathered.resize(at(model.waves) * at(model.years));
    table.held_at.resize(model.planned.successions().size(), 0);
    table.first_row.reserve(table.held_at.size() + 1);
    int rows = 0;
    for (resolved_succession const& one : model.planned.successions()) {
        table.first_row.push_back(rows);
        int const events = event_count(*one.grown);
        table.never_rows = std::max(table.never_rows, events);
        rows += events;
    }
    table.first_row.push_back(rows);
    table.held = table.never_rows;
    make_room(table, table.never_rows + rows);
    return table;
}

int kth_smallest(std::span<std::int16_t const> days, int k) {
    int low = days.front();
    int high = days.front();
    for (int const day : days) {
        low = std::min(low, day);
        high = std::max(high, day);
    }
    // Halved until they are days of a few weeks, which are counted one by one.
    constexpr int few = 64;
    while (high - low >= few) {
        int const guess = low + (high - low) / 2;
        if (std::ranges::count_if(days, [&](int day) { return day <= guess; }) >= k) {
            high = guess;
        } else {
            low = guess + 1;
        }
    }
    std::array<int, few> on{};
    int count = 0;
    for (int const day : days) {
        if (day < low) {
            ++count;
        } else if (day <= high) {
            ++on[at(day - low)];
        }
    }
    int day = low;
    for (count += on[0]; count < k; count += on[at(day - low)]) { ++day; }
    return day;
}

int quantile_of(std::span<std::int16_t const> days, double q) {
    return kth_smallest(days, needed_years(q, static_cast<int>(days.size())));
}

}  // namespace epicotyl::detail
