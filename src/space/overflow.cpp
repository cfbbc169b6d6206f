// What is too much in a place, since when, at worst by how much, and who came last.
#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/unit_door.hpp>

#include "../season/rows/say.hpp"
#include "../season/tables/wait_table.hpp"
#include "stays.hpp"

namespace epicotyl::detail {

namespace {

constexpr double no_end = std::numeric_limits<double>::infinity();

/// One thing that can be too much: what is room_asked, and the room on days [from, until) and
/// outside of them.
struct limit {
    overflow_of what;
    room_asked of;
    double room;
    int from;
    int until;
    double elsewhere = no_end;

    [[nodiscard]] double on(int day) const { return from <= day && day < until ? room : elsewhere; }
};

/// The offset of a day, cut to the season.
int cut_offset(occupancy_data const& of, day when) {
    return std::clamp(of.planned.window().offset_of(when), 0, of.season_days);
}

std::vector<limit> limits_of(occupancy_data const& of, int place_index) {
    place const& one = of.planned.places()[at(place_index)];
    std::vector<limit> all;
    for (room_kind kind : room_kinds) {
        if (auto const room = room_of(one, kind)) {
            all.push_back({overflow_of::room, {place_index, kind}, *room, 0, of.season_days});
        }
    }
    if (one.lamps && one.lamps->trays) {
        all.push_back({overflow_of::lit,
                       {place_index, room_kind::trays, false},
                       *one.lamps->trays,
                       cut_offset(of, one.lamps->from),
                       cut_offset(of, one.lamps->until + days{1})});
    }
    // What stands in containers is not told twice.
    room_kind const in_containers = one.area && !one.trays ? room_kind::area : room_kind::trays;
    for (room_kind kind : {in_containers, room_kind::bed}) {
        if (!one.open) { break; }
        all.push_back({overflow_of::closed,
                       {place_index, kind, false},
                       no_end,
                       cut_offset(of, one.open->from),
                       cut_offset(of, one.open->until + days{1}),
                       0.0});
    }
    return all;
}

/// Names of those that came when the room had run out.
std::vector<std::string> last_in(std::vector<standing> const& there, double room) {
    std::vector<std::string> names;
    double before = 0.0;
    for (standing const& one : there) {
        before += one.amount;
        if (before <= room + room_tolerance) { continue; }
        if (std::find(names.begin(), names.end(), one.succession) == names.end()) {
            names.push_back(one.succession);
        }
    }
    return names;
}

/// A number with the unit of a plan: "30" of trays, "12 m" of bed, "4.5 m²".
std::string say_room(plan const& of, room_kind kind, double amount) {
    if (kind == room_kind::trays) { return fmt::format("{:g}", amount); }
    bool const metric = of.parts().units == unit_system::metric;
    unit_door const door = door_of(of);
    if (kind == room_kind::area) {
        double const written = door.from_core(quantity::area, amount);
        // Some square centimetres, of a few pots, are not nothing.
        double const usual = metric ? 100.0 : 10.0;
        double const parts = written * usual < 10.0 ? 100.0 * usual : usual;
        return fmt::format("{:g} {}", std::round(written * parts) / parts, metric ? "m²" : "ft²");
    }
    double const tenths = std::round(door.from_core(quantity::bed, amount) * 10.0) / 10.0;
    return fmt::format("{:g} {}", tenths, metric ? "m" : "ft");
}

std::string sentence_of(occupancy_data const& of, overflow const& one) {
    plan const& planned = of.planned;
    season const& window = planned.window();
    auto const say = [&](day when) {
        return say_day(planned, window.offset_of(when));
    };
    std::string bound = "room for " + say_room(planned, one.kind, one.room);
    if (one.what == overflow_of::lit) {
        bound = "lamps for " + say_room(planned, one.kind, one.room);
    } else if (one.what == overflow_of::closed) {
        bound = "when it is closed";
    }
    std::string text = fmt::format("{}: {} on {}, {}; too much on {}, first on {}", one.place,
                                   say_amount(planned, one.kind, one.most), say(one.worst), bound,
                                   say_days(one.days_over), say(one.first));
    if (one.years > 0) {
        text += fmt::format("; in {}, worst in {}", say_years(one.years_over, one.years),
                            *one.worst_year);
    }
    return text + fmt::format("; latest arrivals: {}", fmt::join(one.last_in, ", "));
}

/// What is over a limit; none where nothing is.
std::optional<overflow> overflow_over(occupancy_data const& of, limit const& bound) {
    std::vector<double> const space = filled(of, bound.of);
    int first = of.season_days;
    int years_over = 0;
    int worst_row = -1;
    int worst_day = 0;
    int days_over = 0;
    double worst_excess = 0.0;
    for (int row = 0; row < of.rows; ++row) {
        double const* const own = space.data() + at(row) * at(of.season_days);
        int over = 0;
        bool is_worst = false;
        for (int d = 0; d < of.season_days; ++d) {
            double const excess = own[d] - bound.on(d);
            if (excess <= room_tolerance) { continue; }
            ++over;
            first = std::min(first, d);
            if (excess > worst_excess) {
                worst_excess = excess;
                worst_row = row;
                worst_day = d;
                is_worst = true;
            }
        }
        years_over += over > 0 ? 1 : 0;
        if (is_worst) { days_over = over; }
    }
    if (worst_row < 0) { return std::nullopt; }
    season const& window = of.planned.window();
    overflow found{.place = of.planned.places()[at(bound.of.place)].name,
                   .what = bound.what,
                   .kind = bound.of.kind,
                   .room = bound.on(worst_day),
                   .years = static_cast<int>(of.years.size()),
                   .years_over = of.years.empty() ? 0 : years_over,
                   .first = window.start() + days{first},
                   .worst = window.start() + days{worst_day},
                   .most = space[at(worst_row) * at(of.season_days) + at(worst_day)],
                   .days_over = days_over};
    if (!of.years.empty()) { found.worst_year = of.years[at(worst_row)]; }
    found.there = standing_there(of, bound.of, worst_day, worst_row);
    found.last_in = last_in(found.there, found.room);
    found.sentence = sentence_of(of, found);
    return found;
}

}  // namespace

std::vector<overflow> find_overflows(occupancy_data const& of) {
    std::vector<overflow> all;
    for (int p = 0; p < static_cast<int>(of.planned.places().size()); ++p) {
        for (limit const& bound : limits_of(of, p)) {
            if (auto found = overflow_over(of, bound)) { all.push_back(std::move(*found)); }
        }
    }
    return all;
}

std::string say_amount(plan const& of, room_kind kind, double amount) {
    std::string const number = say_room(of, kind, amount);
    switch (kind) {
        case room_kind::trays:
            return number + (amount == 1.0 ? " tray" : " trays");
        case room_kind::bed:
            return number + " of bed";
        case room_kind::area:
            break;
    }
    return number;
}

}  // namespace epicotyl::detail
