// epicotyl: occupancy. What stands where, on every day.
//
// A stage stands in its place from the day its event comes until the day the next one does, the
// latter not counted; one that never ends keeps its place to the season's end. It fills the trays
// and the square metres, or the metres of bed, that its plants need when it begins
// (amounts/alive.hpp), so that potting on into larger containers makes the number of trays jump.
//
//     occupancy const filled{prospect};             // every season year
//     filled.space("glasshouse", room_kind::trays); // [year][day]
//     for (overflow const& one : filled.overflows()) { fmt::print("{}\n", one.sentence); }
//
// Made from a calendar it has one row, the planned days; made from a prospect one row a season
// year. In a small house the bench is the bottleneck, and what decides is the day on which two
// waves overlap, not the average.
//
// What stands in a place that is `part_of` another fills part and whole. A tunnel that is divided
// by a sheet on some day is three places: the whole, open until that day, and two parts that open
// then, each with an air of its own.
//
// Three things can be too much:
//
//   room     more trays, metres of bed or square metres than the place (its parts included) has
//            room for
//   lit      more trays than the place's lamps light, while they are lit; parts do not count
//   closed   anything that stands in the place itself outside of the days on which it is open;
//            moves in wait for the first of these days, but nobody is turned out after the last.
//            Containers are told once: in square metres where these are all that the place counts
//            them by, else in trays
//
// A place that has an area counts, in square metres, the containers that stand in it and in its
// parts, each by its own area; a plan in which one of them has none is refused. What stands in a
// bed takes metres of bed and no area. Each kind of room is by itself: a bench with 12 trays
// and 1.8 m² is full when either is.
//
// A stage without container and spacing (seed that soaks in a cup) takes no room. Amounts are kept
// to a billionth of a metre or square metre: sums are then exact in any order, and an empty place
// is empty.
#ifndef EPICOTYL_SPACE_OCCUPANCY_HPP
#define EPICOTYL_SPACE_OCCUPANCY_HPP

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {
struct occupancy_data;
}

/// What room is counted in: whole trays, metres of bed, or square metres of bench or floor.
enum class room_kind { trays, bed, area };

inline constexpr std::array<std::string_view, 3> room_kind_names = {"trays", "bed", "area"};

[[nodiscard]] constexpr std::string_view to_string(room_kind of) noexcept {
    return room_kind_names[static_cast<std::size_t>(of)];
}

/// What there is too little of: see the head of this file.
enum class overflow_of { room, lit, closed };

inline constexpr std::array<std::string_view, 3> overflow_of_names = {"room", "lit", "closed"};

[[nodiscard]] constexpr std::string_view to_string(overflow_of what) noexcept {
    return overflow_of_names[static_cast<std::size_t>(what)];
}

/// One stage of a batch in its place.
struct standing {
    std::string succession;
    std::string event;              ///< the one that begins the stage
    std::string place;              ///< the place asked about, or a part of it
    double amount = 0.0;            ///< trays, metres of bed, or m²
    day from = {};                  ///< came on
    std::optional<day> until = {};  ///< leaves on; none: it stays to the season's end

    friend bool operator==(standing const&, standing const&) = default;
};

/// More in a place than fits. Days are on the plan's own dates.
struct overflow {
    std::string place;
    overflow_of what = overflow_of::room;
    room_kind kind = room_kind::trays;
    double room = 0.0;                   ///< trays, m or m²; 0 where the place is closed
    int years = 0;                       ///< season years looked at; 0: the planned days
    int years_over = 0;                  ///< those with such a day
    day first = {};                      ///< the earliest such day of the season, of all years
    day worst = {};                      ///< the day with the most
    std::optional<int> worst_year = {};  ///< its season year, the first of several; none: planned
    double most = 0.0;                   ///< trays, m or m² there on that day
    int days_over = 0;                   ///< such days in that year
    /// What stands there on that day, in the order in which it came.
    std::vector<standing> there = {};
    /// Names of those that came when the room had run out: without them the rest would fit.
    std::vector<std::string> last_in = {};
    std::string sentence = {};

    friend bool operator==(overflow const&, overflow const&) = default;
};

class occupancy {
public:
    /// The planned days: one row. Unresolved successions stand nowhere.
    explicit occupancy(calendar const& of);
    /// Every season year: a row each.
    explicit occupancy(prospect const& of);

    [[nodiscard]] epicotyl::plan const& plan() const;
    /// The season years, ascending; empty for planned days.
    [[nodiscard]] std::vector<int> const& years() const;
    /// Rows of `space`: season years, or 1.
    [[nodiscard]] int rows() const;
    /// Columns of `space`: days of the season.
    [[nodiscard]] int season_days() const;

    /// Trays, metres of bed or square metres in a place (by name or id), its parts included,
    /// [row][day]; containers without an area are in no square metre. Throws `invalid_input` for a
    /// place that the plan does not have.
    [[nodiscard]] std::vector<double> space(std::string_view place, room_kind kind) const;
    /// Of each day the k-th smallest of the rows, k = max(1, ceil(q n)).
    [[nodiscard]] std::vector<double> quantile(std::string_view place, room_kind kind,
                                               quantile_level q) const;
    /// Room of a place, trays, m or m²; none: not counted.
    [[nodiscard]] std::optional<double> room(std::string_view place, room_kind kind) const;

    /// What stands in a place, its parts included, on a day, in the order in which it came (on
    /// equal days in plan order). `year` names a season year and is none for planned days. Throws
    /// `invalid_input` for an unknown place, a day outside the season and a year that there is not.
    [[nodiscard]] std::vector<standing> there(std::string_view place, room_kind kind, day when,
                                              std::optional<int> year = std::nullopt) const;

    /// Every kind of overflow of every place, in plan order; empty where all fits.
    [[nodiscard]] std::vector<overflow> overflows() const;

    [[nodiscard]] std::shared_ptr<detail::occupancy_data const> const& data() const noexcept {
        return data_;
    }

private:
    std::shared_ptr<detail::occupancy_data const> data_;
};

/// A line for each place that has room: how full it is at most and when; then the overflows.
[[nodiscard]] std::string to_string(occupancy const& of);

}  // namespace epicotyl

#endif
