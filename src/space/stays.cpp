#include "stays.hpp"

#include <algorithm>
#include <cmath>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/plan/plan.hpp>

#include "../season/days/prospect_data.hpp"

namespace epicotyl::detail {

namespace {

/// A stage with its room and without days; `rows` of these.
stay stay_without_days(plan const& of, int succession, int stage, int rows) {
    return {.succession = succession,
            .stage = stage,
            .place = of.successions()[at(succession)].places[at(stage)],
            .takes = {.trays = rounded_amount(trays_filled(of, succession, stage).value_or(0.0)),
                      .bed = rounded_amount(bed_filled(of, succession, stage).value_or(0.0)),
                      .area = rounded_amount(area_filled(of, succession, stage).value_or(0.0))},
            .from = std::vector<std::int16_t>(at(rows)),
            .until = std::vector<std::int16_t>(at(rows))};
}

std::int16_t cut(int offset, int season_days) {
    return static_cast<std::int16_t>(std::min(offset, season_days));
}

/// All stays of the given successions; `day(succession, event, row)` is when an event comes.
template <class DayOf>
std::vector<stay> stays_by(plan const& of, std::vector<int> const& successions, int rows,
                           DayOf const& day) {
    std::vector<stay> all;
    int const last = of.window().length();
    for (int i : successions) {
        int const stages = static_cast<int>(of.successions()[at(i)].places.size());
        for (int j = 0; j < stages; ++j) {
            stay one = stay_without_days(of, i, j, rows);
            if (one.takes.nothing()) { continue; }
            for (int row = 0; row < rows; ++row) {
                one.from[at(row)] = cut(day(i, j, row), last);
                one.until[at(row)] = cut(day(i, j + 1, row), last);
            }
            all.push_back(std::move(one));
        }
    }
    return all;
}

/// In plan order, which `order` need not be in.
std::vector<int> sorted(std::vector<int> order) {
    std::sort(order.begin(), order.end());
    return order;
}

}  // namespace

double rounded_amount(double amount) {
    constexpr double parts = 1073741824.0;  // 2^30
    return std::nearbyint(amount * parts) / parts;
}

double room_taken::of(room_kind kind) const {
    switch (kind) {
        case room_kind::trays:
            return trays;
        case room_kind::bed:
            return bed;
        case room_kind::area:
            break;
    }
    return area;
}

std::optional<double> room_of(place const& one, room_kind kind) {
    switch (kind) {
        case room_kind::trays:
            return one.trays;
        case room_kind::bed:
            return one.bed;
        case room_kind::area:
            break;
    }
    return one.area;
}

std::vector<stay> stays_of(calendar_data const& of) {
    return stays_by(of.model->planned, sorted(of.order), 1, [&](int succession, int event, int) {
        return of.successions[at(succession)].planned[at(event)];
    });
}

std::vector<stay> stays_of(prospect_data const& of) {
    return stays_by(of.model->planned, sorted(of.of.data()->order), of.model->years,
                    [&](int succession, int event, int row) {
                        // The place of what is lost is free from the next day.
                        return std::min(of.days().at(succession, event, row),
                                        of.lost(succession)[at(row)] + 1);
                    });
}

std::vector<char> is_within(plan const& of, int place) {
    std::vector<char> within(of.places().size());
    for (std::size_t p = 0; p < within.size(); ++p) {
        int up = static_cast<int>(p);
        while (up != place && !of.places()[at(up)].part_of.empty()) {
            up = of.place_index(of.places()[at(up)].part_of);
        }
        within[p] = up == place ? 1 : 0;
    }
    return within;
}

std::vector<double> filled(occupancy_data const& of, room_asked what) {
    std::vector<char> const within = is_within(of.planned, what.place);
    std::size_t const days = at(of.season_days);
    // Differences from day to day first, with a place for those of the day after the last.
    std::vector<double> changes(at(of.rows) * (days + 1));
    for (stay const& one : of.stays) {
        bool const counts = what.with_parts ? within[at(one.place)] != 0 : one.place == what.place;
        double const amount = one.takes.of(what.kind);
        if (!counts || amount == 0.0) { continue; }
        for (std::size_t row = 0; row < one.from.size(); ++row) {
            double* const own = changes.data() + row * (days + 1);
            own[one.from[row]] += amount;
            own[one.until[row]] -= amount;
        }
    }
    std::vector<double> space(at(of.rows) * days);
    for (std::size_t row = 0; row < at(of.rows); ++row) {
        double there = 0.0;
        for (std::size_t d = 0; d < days; ++d) {
            there += changes[row * (days + 1) + d];
            space[row * days + d] = there;
        }
    }
    return space;
}

std::vector<standing> standing_there(occupancy_data const& of, room_asked what, int day, int row) {
    std::vector<char> const within = is_within(of.planned, what.place);
    std::vector<stay const*> found;
    for (stay const& one : of.stays) {
        bool const counts = what.with_parts ? within[at(one.place)] != 0 : one.place == what.place;
        bool const stands = one.from[at(row)] <= day && day < one.until[at(row)];
        if (counts && stands && one.takes.of(what.kind) > 0.0) { found.push_back(&one); }
    }
    std::stable_sort(found.begin(), found.end(), [row](stay const* a, stay const* b) {
        return a->from[at(row)] < b->from[at(row)];
    });
    season const& window = of.planned.window();
    std::vector<standing> all;
    for (stay const* one : found) {
        resolved_succession const& batch = of.planned.successions()[at(one->succession)];
        standing& made = all.emplace_back();
        made.succession = batch.name;
        made.event = event_name(*batch.grown, one->stage);
        made.place = of.planned.places()[at(one->place)].name;
        made.amount = one->takes.of(what.kind);
        made.from = window.start() + days{one->from[at(row)]};
        int const until = one->until[at(row)];
        if (until < of.season_days) { made.until = window.start() + days{until}; }
    }
    return all;
}

}  // namespace epicotyl::detail
