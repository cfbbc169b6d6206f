// Where every stage stands, from when until when, and what that sums up to day by day.
#ifndef EPICOTYL_SRC_SPACE_STAYS_HPP
#define EPICOTYL_SRC_SPACE_STAYS_HPP

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/space/occupancy.hpp>

namespace epicotyl::detail {

struct calendar_data;
class prospect_data;

/// More than the room is more by at least this, in trays, m or m²: amounts are sums of rounded
/// ones.
inline constexpr double room_tolerance = 1e-6;

inline constexpr room_kind room_kinds[] = {room_kind::trays, room_kind::bed, room_kind::area};

/// What a stage takes of each kind of room, rounded.
struct room_taken {
    double trays;  ///< 0 where it stands in no container
    double bed;    ///< metres, 0 where it stands in no bed
    double area;   ///< m², 0 where it stands in no container, or in one whose area is not known

    [[nodiscard]] double of(room_kind kind) const;
    [[nodiscard]] bool nothing() const { return trays == 0.0 && bed == 0.0 && area == 0.0; }
};

/// One stage that takes room, with the days [from, until) of each row.
struct stay {
    int succession;
    int stage;
    int place;
    room_taken takes;
    std::vector<std::int16_t> from;
    std::vector<std::int16_t> until;
};

struct occupancy_data {
    epicotyl::plan planned;
    std::vector<int> years;  ///< empty: planned days
    int rows;
    int season_days;
    std::vector<stay> stays;
};

[[nodiscard]] std::vector<stay> stays_of(calendar_data const& of);
[[nodiscard]] std::vector<stay> stays_of(prospect_data const& of);

/// To a billionth, as a multiple of a power of two: sums of such amounts have no rounding.
[[nodiscard]] double rounded_amount(double amount);

/// Room that a place has; none: not counted.
[[nodiscard]] std::optional<double> room_of(place const& one, room_kind kind);

/// Of each place whether it is the given one or a part of it, directly or not.
[[nodiscard]] std::vector<char> is_within(plan const& of, int place);

/// A place, of which kind, and whether what stands in its parts counts.
struct room_asked {
    int place;
    room_kind kind;
    bool with_parts = true;
};

/// What fills a place, [row][day].
[[nodiscard]] std::vector<double> filled(occupancy_data const& of, room_asked what);

/// What stands in a place on a day of a row, in the order in which it came.
[[nodiscard]] std::vector<standing> standing_there(occupancy_data const& of, room_asked what,
                                                   int day, int row);

/// All that is too much.
[[nodiscard]] std::vector<overflow> find_overflows(occupancy_data const& of);

/// "12 trays", "3.5 m of bed", "0.45 m²", "4.8 ft²": by the plan's units.
[[nodiscard]] std::string say_amount(plan const& of, room_kind kind, double amount);

}  // namespace epicotyl::detail

#endif
