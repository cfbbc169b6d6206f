// epicotyl: fit_to_space. What to move so that the room suffices.
//
// Where the planned days ask for more than a place holds (space/occupancy.hpp), something has to
// give way. This finds the least harmful set of moves:
//
//   shift      a target later, where its rule says "from" a day on, or earlier, where it says "by"
//   place      a stage in another of the places that its `where` allows
//   early      out into the next place, one for hardening, before the stage is over
//   container  a stage in the next denser container: more cells, twice as many at most, or less
//              area for a cell, half of it at least
//   split      a batch parted in two halves, one as planned and one with a move
//   left_out   half a batch, or all of it, not raised but bought in for its planting out
//
// Each move has a price, and each batch makes at most one combination of moves; the set with the
// lowest sum is sought. Prices are weights that the caller sets; only their proportions count.
// Days have their price wherever they come from: a colder place that puts off planting out by ten
// days costs ten days more. Counted is the event that moves most, of the target, the planting out,
// the first harvest and all that comes after any; no move may move one of these by more than
// `most_shift`. A sentence says every such day, the sowing's, and any other that moves by more than
// one, with the one it had, and the years in which the batch is damaged or lost, where these
// change. The sum of the prices is the cost.
//
// What is bought in comes on the planned day of its planting out and stands in the field from then
// on, so that no shortage of the field is cured by it; such a shortage is told. Plants that stand
// in no field come on their target. What is sown where it stays is not bought in.
//
//     space_fit const fit = fit_to_space(plan, climate);
//     for (fit_move const& one : fit.moves) { fmt::print("{}\n", one.sentence); }
//     fit.after().date("snapdragon 2", "harden_off");       // planned days of the changed plan
//
// What a move may not do: every changed batch is scheduled and gone through in every season year.
// It has to be resolved, with all its bounds and links; no stage may be damaged by cold or heat in
// more years than the accepted risk allows, nor, where more was so before, in more than before, and
// the same holds of the years in which cold loses the batch; plants may not be overheld in more
// years than before, a link's `within` not be kept in fewer, and no other batch may get other days
// by it; but all of a linked group may be shifted together, by as many days each, where every
// target of it can give way. Targets `on` a day and `in_harvest` stay as they are. The changed plan
// is scheduled as a whole in the end, and the days compared.
//
// Nothing is put into a container without an area where square metres are counted.
//
// What is left is named in `short_of`, with places, days and the room that is short: batches that
// are linked with others cannot be left out whole, and stay too much.
//
// It is a search (the problem is NP-hard): `bound`, from prices on room [fisher1981], says below
// which no set of these moves can cost, so that the gap is known. It does not depend on the machine
// or its threads unless a limit in seconds, or the caller, cuts it short; the best found so far is
// then given.
#ifndef EPICOTYL_SPACE_FIT_FIT_HPP
#define EPICOTYL_SPACE_FIT_FIT_HPP

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/fwd.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/space/occupancy.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

enum class fit_move_kind { shift, place, early, container, split, left_out };

inline constexpr std::array<std::string_view, 6> fit_move_names = {
    "shift", "place", "early", "container", "split", "left_out"};

[[nodiscard]] constexpr std::string_view to_string(fit_move_kind of) noexcept {
    return fit_move_names[static_cast<std::size_t>(of)];
}

/// Prices of moves, all >= 0 and finite. What is left out costs a price for each batch, whether
/// half or all of it, and one for each of its trays. Where metres of bed are short ten of them
/// stand for a tray, where square metres are short 0.15 m² do: a tray of about 28 by 54 cm (common
/// practice, no source).
struct fit_weights {
    double shift_day = 1.0;       ///< a day that target, planting out or harvest move at most
    double place = 4.0;           ///< a stage in the next place of its list; the one after it twice
    double early_day = 0.5;       ///< a day that a batch goes out early
    double container = 8.0;       ///< a stage in a denser container
    double split = 6.0;           ///< a batch parted, beside the price of its moves
    double left_out = 60.0;       ///< a batch left out, half or whole
    double left_out_tray = 10.0;  ///< each tray of what is left out, where it needs most

    friend bool operator==(fit_weights const&, fit_weights const&) = default;
};

/// How far it has come.
struct fit_progress {
    std::optional<double> cost;  ///< of the best set found, none: not yet
    double bound = 0.0;          ///< no set costs less
    double seconds = 0.0;
};

struct fit_options {
    fit_weights weights = {};
    int most_shift = 14;  ///< days that target, planting out or harvest may move; 0: none
    bool places = true;   ///< which kinds of moves are tried
    bool early = true;
    bool containers = true;
    bool splits = true;
    bool leave_out = true;
    std::optional<epicotyl::reliability> reliability = {};  ///< none: the plan's
    std::optional<double> seconds = {};                     ///< most time for the search; none: any
    /// Told now and then while it searches; false ends it with the best so far. May throw.
    std::function<bool(fit_progress const&)> progress = {};
};

/// An event on another planned day.
struct moved_day {
    std::string event;
    int was;  ///< days from the season's start, `never`: it did not come
    int now;

    friend bool operator==(moved_day const&, moved_day const&) = default;
};

/// One thing that is done otherwise.
struct fit_move {
    fit_move_kind what = fit_move_kind::shift;
    std::string succession;
    std::string event;      ///< the target, or the event that begins the stage
    std::string from = {};  ///< place or container as planned; empty where there is none
    std::string to = {};    ///< place or container now
    int days = 0;           ///< later (shift), negative earlier; earlier (early)
    double trays = 0.0;     ///< trays of the stage, or those left out as `fit_weights` counts them
    double plants = 0.0;    ///< plants at the target that are left out, or in the half that moves
    double cost = 0.0;
    std::string sentence = {};
    int moved = 0;  ///< days that are priced with this move; moves beside it have the same days
    std::vector<moved_day> days_moved = {};  ///< those that its sentence says

    friend bool operator==(fit_move const&, fit_move const&) = default;
};

/// A batch for which there is no room.
struct not_placed {
    std::string succession;
    std::string place;
    room_kind kind = room_kind::trays;
    day first;  ///< days on which room is short while it stands there
    day last;
    double shortage = 0.0;  ///< trays, m or m² short at most
    std::string sentence = {};

    friend bool operator==(not_placed const&, not_placed const&) = default;
};

/// How the search ended.
enum class fit_end { proved, work, seconds, stopped };

inline constexpr std::array<std::string_view, 4> fit_end_names = {"proved", "work", "seconds",
                                                                  "stopped"};

[[nodiscard]] constexpr std::string_view to_string(fit_end of) noexcept {
    return fit_end_names[static_cast<std::size_t>(of)];
}

struct space_fit {
    calendar before;
    calendar after;                         ///< of the changed plan
    std::vector<fit_move> moves = {};       ///< in plan order
    std::vector<not_placed> short_of = {};  ///< what still does not fit, in plan order
    double cost = 0.0;                      ///< sum over moves, `short_of` not counted
    double bound = 0.0;  ///< no set of these moves that places as much costs less
    fit_end ended = fit_end::proved;
    int tried = 0;  ///< changed batches that were scheduled and gone through
    int kept = 0;   ///< those that break nothing

    [[nodiscard]] bool fits() const { return short_of.empty(); }
    /// The changed plan.
    [[nodiscard]] epicotyl::plan const& plan() const { return after.plan(); }
};

/// The least harmful moves that make the room suffice by the planned days. A plan that fits is
/// given back without moves. Throws `invalid_input` for weights and limits out of range, and as
/// `schedule` does.
[[nodiscard]] space_fit fit_to_space(plan const& of, climate const& under,
                                     fit_options const& options = {});

/// What is moved, what it costs and how good that is, what does not fit; a line each.
[[nodiscard]] std::string to_string(space_fit const& of);

}  // namespace epicotyl

#endif
