// What still does not fit, by the planned days of the changed plan.
#include <algorithm>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../../season/days/calendar_data.hpp"
#include "../../season/rows/say.hpp"
#include "../stays.hpp"
#include "fit_rooms.hpp"
#include "fit_text.hpp"

namespace epicotyl::detail {

namespace {

/// Adds a batch that stands in a room while it is short; `level` is how full the room is.
void add_shortage(space_fit& made, fit_room const& room, std::vector<double> const& level,
                  std::vector<room_use> const& uses, int resource, int batch) {
    plan const& of = made.after.plan();
    int first = never;
    int last = -1;
    double most = 0.0;
    for (room_use const& one : uses) {
        if (one.resource != resource) { continue; }
        for (int d = one.begin; d < one.end; ++d) {
            double const over = level[at(d)] - room.room;
            if (over <= room_tolerance) { continue; }
            first = std::min(first, d);
            last = std::max(last, d);
            most = std::max(most, over);
        }
    }
    if (last < 0) { return; }
    not_placed& one = made.short_of.emplace_back();
    one.succession = of.successions()[at(batch)].name;
    one.place = of.places()[at(room.place)].name;
    one.kind = room.kind;
    one.first = of.window().start() + days{first};
    one.last = of.window().start() + days{last};
    one.shortage = most;
    one.sentence =
        fmt::format("no room for {}: {} short in {}{} from {} to {}", one.succession,
                    say_amount(of, room.kind, most), one.place, room.lit ? " under the lamps" : "",
                    say_day(of, first), say_day(of, last));
}

}  // namespace

space_fit with_shortages(space_fit made) {
    fit_rooms const rooms{made.after.plan()};
    std::vector<std::vector<room_use>> uses;
    int const count = static_cast<int>(made.after.plan().successions().size());
    for (int i = 0; i < count; ++i) {
        bool const resolved = made.after.data()->successions[at(i)].resolved;
        uses.push_back(resolved ? rooms.uses(planned_trial(made.after, i), 1.0)
                                : std::vector<room_use>{});
    }
    auto const levels = rooms.levels(uses);
    for (int i = 0; i < count; ++i) {
        for (int r = 0; r < static_cast<int>(levels.size()); ++r) {
            add_shortage(made, rooms.all()[at(r)], levels[at(r)], uses[at(i)], r, i);
        }
    }
    return made;
}

}  // namespace epicotyl::detail
