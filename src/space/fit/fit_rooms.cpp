#include "fit_rooms.hpp"

#include <algorithm>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/plan/plan.hpp>

#include "../../season/tables/wait_table.hpp"
#include "../stays.hpp"

namespace epicotyl::detail {

namespace {

/// See `fit_weights`: metres, and square metres.
constexpr double bed_for_a_tray = 10.0;
constexpr double area_for_a_tray = 0.15;

}  // namespace

double fit_room::in_trays(double amount) const {
    switch (kind) {
        case room_kind::trays:
            return amount;
        case room_kind::bed:
            return amount / bed_for_a_tray;
        case room_kind::area:
            break;
    }
    return amount / area_for_a_tray;
}

fit_rooms::fit_rooms(plan const& of) : season_days_{of.window().length()} {
    for (int p = 0; p < static_cast<int>(of.places().size()); ++p) {
        place const& one = of.places()[at(p)];
        within_.push_back(is_within(of, p));
        for (room_kind kind : room_kinds) {
            if (auto const room = room_of(one, kind)) {
                bool const field = kind == room_kind::bed || one.serves(job::field);
                rooms_.push_back({p, kind, false, 0, season_days_, *room, field});
            }
        }
        if (one.lamps && one.lamps->trays) {
            season const& window = of.window();
            rooms_.push_back({p, room_kind::trays, true,
                              std::clamp(window.offset_of(one.lamps->from), 0, season_days_),
                              std::clamp(window.offset_of(one.lamps->until) + 1, 0, season_days_),
                              *one.lamps->trays, one.serves(job::field)});
        }
    }
}

std::vector<double> fit_rooms::sizes() const {
    std::vector<double> sizes;
    for (fit_room const& one : rooms_) { sizes.push_back(one.room); }
    return sizes;
}

double fit_rooms::trays(trial const& of, int stage, double share) {
    int const cells = of.cells[at(stage)];
    return cells == 0 ? 0.0 : containers_for(of.alive[at(stage)] * share, cells);
}

double fit_rooms::area(trial const& of, int stage, double share) {
    return trays(of, stage, share) * of.areas[at(stage)];
}

std::vector<room_use> fit_rooms::uses(trial const& of, double share) const {
    std::vector<room_use> found;
    for (int j = 0; j < static_cast<int>(of.places.size()); ++j) {
        int const from = std::min(of.planned[at(j)], season_days_);
        int const until = std::min(of.planned[at(j + 1)], season_days_);
        room_taken const takes{.trays = rounded_amount(trays(of, j, share)),
                               .bed = rounded_amount(of.bed[at(j)] * share),
                               .area = rounded_amount(area(of, j, share))};
        for (int r = 0; r < static_cast<int>(rooms_.size()); ++r) {
            fit_room const& room = rooms_[at(r)];
            int const stands = of.places[at(j)];
            bool const counts =
                room.lit ? stands == room.place : within_[at(room.place)][at(stands)] != 0;
            double const amount = takes.of(room.kind);
            int const first = std::max(from, room.begin);
            int const last = std::min(until, room.end);
            if (counts && amount > 0.0 && first < last) {
                found.push_back({r, first, last, amount});
            }
        }
    }
    return found;
}

std::vector<std::vector<double>> fit_rooms::levels(
    std::vector<std::vector<room_use>> const& of) const {
    std::vector<std::vector<double>> sums(rooms_.size(), std::vector<double>(at(season_days_) + 1));
    for (auto const& uses : of) {
        for (room_use const& one : uses) {
            sums[at(one.resource)][at(one.begin)] += one.amount;
            sums[at(one.resource)][at(one.end)] -= one.amount;
        }
    }
    for (auto& room : sums) {
        for (std::size_t d = 1; d < room.size(); ++d) { room[d] += room[d - 1]; }
        room.pop_back();
    }
    return sums;
}

}  // namespace epicotyl::detail
