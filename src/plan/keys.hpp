// The keys of a plan file, each told once.
//
// What a table of a plan file may say stands here as rows, a table for each struct: the key, what
// to do where it has to be given and is not, the unit and the most of a number, and the member that
// holds the value. Whoever reads, writes, bounds or lists keys walks the rows with a visitor,
// called with (plan_key, member) for each; what kind of value it is the member's type says, and a
// visitor has a function for each kind.
//
//     each_key(one, [&](plan_key const& key, auto& member) { ... });
//
// Members that share the table of another - the held day and night of a place, the amount of a
// succession - have a row without a name; their own rows stand among the others.
//
// Rows stand in the order in which they are read, so that of two faults the same is told first.
// Where messages list them in another order, or a file is written in one, a row says so by a
// number: smaller ones come before, those of one number in the order of the rows.
//
// Keys of clocks and rules stand in their blocks (detail/block_key.hpp). Links, and what stands
// above all in a file, are told where they are read and written: nothing else asks for them.
#ifndef EPICOTYL_SRC_PLAN_KEYS_HPP
#define EPICOTYL_SRC_PLAN_KEYS_HPP

#include <concepts>
#include <limits>
#include <optional>
#include <string_view>
#include <type_traits>
#include <vector>

#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>

#include "units.hpp"

namespace epicotyl::detail {

struct plan_key {
    std::string_view name = {};         ///< empty: the keys of the member stand among the others
    std::string_view missing = {};      ///< what to do where it has to be given
    std::string_view unit = {};         ///< of a number that is the same in metric and US units
    std::optional<quantity> what = {};  ///< of one that is not
    double least = 0.0;                 ///< in the core's unit, of what is more than 0
    double most = std::numeric_limits<double>::infinity();  ///< in the core's unit
    double usual =
        std::numeric_limits<double>::quiet_NaN();  ///< is left out when a plan is written
    std::string_view beside = {};  ///< of a usual value: where it is written, only beside this key
    bool is_share = false;         ///< a number that counts nothing: written with a point
    bool may_be_empty = false;     ///< of a text
    int read = 0;
    int listed = 0;
    int written = 0;
};

/// The places of rows that are not in their turn.
inline constexpr int turns[] = {-1, 0, 1, 2};

/// A part to be read or to be changed.
template <class Of, class Part>
concept either = std::same_as<std::remove_const_t<Of>, Part>;

// --- places and containers ---

void each_key(either<steady_air> auto& of, auto&& visit) {
    visit(plan_key{"day", "give the temperature that is held by day"}, of.day);
    visit(plan_key{"night", "give the temperature that is held by night"}, of.night);
}

void each_key(either<cold_nights> auto& of, auto&& visit) {
    visit(plan_key{"below"}, of.below);
    visit(
        plan_key{
            .name = "warmer", .missing = "say how much warmer those nights become", .read = -1},
        of.warmer);
}

void each_key(either<air> auto& of, auto&& visit) {
    visit(plan_key{}, of.steady);
    visit(plan_key{"warmer_night"}, of.warmer_night);
    visit(plan_key{"warmer_day"}, of.warmer_day);
    visit(plan_key{"heat_to"}, of.heat_to);
    visit(plan_key{"heat_lift"}, of.heat_lift);
    visit(plan_key{"vent_above"}, of.vent_above);
    visit(plan_key{"cold_nights"}, of.nights);
}

inline constexpr plan_key trays_key{.name = "trays", .unit = "trays", .most = most_trays};
inline constexpr plan_key bed_key{.name = "bed", .what = quantity::bed, .most = longest_bed};
inline constexpr plan_key area_key{.name = "area", .what = quantity::area, .most = largest_area};

void each_key(either<lamps> auto& of, auto&& visit) {
    visit(plan_key{.name = "hours",
                   .missing = "give the hours of the lit day",
                   .unit = "hours",
                   .is_share = true},
          of.hours);
    visit(plan_key{"from", "give the first lit day"}, of.from);
    visit(plan_key{"until", "give the last lit day"}, of.until);
    visit(trays_key, of.trays);
}

void each_key(either<place> auto& of, auto&& visit) {
    visit(plan_key{"id"}, of.id);
    visit(plan_key{"for", "say what it is for, such as for = [\"grow\"]"}, of.jobs);
    each_key(of.air, visit);
    visit(trays_key, of.trays);
    visit(bed_key, of.bed);
    visit(area_key, of.area);
    visit(plan_key{"open"}, of.open);
    visit(plan_key{"part_of"}, of.part_of);
    visit(plan_key{"lamps"}, of.lamps);
}

void each_key(either<container> auto& of, auto&& visit) {
    visit(plan_key{.name = "cells",
                   .missing = "give the number of cells, 1 for a pot",
                   .unit = "cells",
                   .most = most_cells},
          of.cells);
    visit(plan_key{.name = "medium", .what = quantity::medium, .most = most_medium}, of.medium);
    visit(area_key, of.area);
}

// --- crops ---

void each_key(either<spacing> auto& of, auto&& visit) {
    visit(plan_key{.name = "rows", .unit = "rows", .most = most_rows}, of.rows);
    visit(plan_key{.name = "in_row",
                   .missing = "give the distance between the plants of a row",
                   .what = quantity::in_row,
                   .least = nearest_in_row,
                   .most = furthest_in_row},
          of.in_row);
}

/// A stage and what a succession changes in one have the same keys.
template <class Stage>
requires(either<Stage, stage> || either<Stage, stage_change>) void each_key(Stage& of,
                                                                            auto&& visit) {
    if constexpr (either<Stage, stage>) {
        visit(plan_key{.name = "begins",
                       .missing = "name the event that begins the stage, such as \"sow\"",
                       .read = -1,
                       .listed = -1},
              of.begins);
    }
    visit(plan_key{.name = "who", .listed = -1}, of.who);
    visit(plan_key{.name = "where", .listed = -1}, of.where);
    visit(plan_key{"container"}, of.container);
    visit(plan_key{"spacing"}, of.spacing);
    visit(plan_key{.name = "takes", .listed = -1}, of.takes);
    visit(plan_key{.name = "survives", .least = least_survives, .usual = 1.0, .is_share = true},
          of.survives);
    visit(plan_key{.name = "hold", .unit = "days", .most = wait_days.highest}, of.hold);
    visit(plan_key{"limit"}, of.limit);
    visit(plan_key{"too_hot"}, of.too_hot);
    visit(plan_key{"lost_at"}, of.lost_at);
}

void each_key(either<crop> auto& of, auto&& visit) {
    visit(plan_key{"id"}, of.id);
    visit(plan_key{.name = "stages", .written = 2}, of.stages);
    visit(plan_key{"limit_tender"}, of.limit_tender);
    visit(plan_key{"limit_hardened"}, of.limit_hardened);
    visit(plan_key{"risk"}, of.risk);
    visit(plan_key{"not_before"}, of.not_before);
    visit(plan_key{"not_after"}, of.not_after);
    visit(plan_key{.name = "caution", .may_be_empty = true, .written = 1}, of.caution);
    visit(plan_key{"lost_at"}, of.lost_at);
    visit(plan_key{"prefer"}, of.prefer);
    visit(plan_key{"starts_as"}, of.starts_as);
    visit(plan_key{.name = "germination_standard", .is_share = true}, of.germination_standard);
}

// --- successions ---

/// By `amount::measure`: its value has one key of these.
inline constexpr plan_key amount_keys[] = {
    {.name = "plants", .unit = "plants", .most = most_plants_sown}, trays_key, bed_key};

[[nodiscard]] inline plan_key const& key_of(amount const& of) {
    return amount_keys[static_cast<std::size_t>(of.what)];
}

void each_key(either<repeat> auto& of, auto&& visit) {
    visit(plan_key{"times", "say how many in all"}, of.times);
    visit(plan_key{.name = "harvest_every",
                   .missing = "say how many days lie between two first harvests",
                   .unit = "days"},
          of.harvest_every);
}

void each_key(either<succession> auto& of, auto&& visit) {
    visit(plan_key{.name = "name", .written = -1}, of.name);
    visit(plan_key{.name = "id", .written = -1}, of.id);
    visit(plan_key{.name = "crop", .missing = "name a crop of [crops]", .read = -1, .written = -1},
          of.crop);
    visit(plan_key{.read = -1, .written = -1}, of.amount);
    visit(plan_key{.name = "target",
                   .missing = "say what it aims at, such as { event = \"transplant\", risk = 0.1 }",
                   .read = -1},
          of.target);
    visit(plan_key{"not_before"}, of.not_before);
    visit(plan_key{"not_after"}, of.not_after);
    visit(plan_key{"reliability"}, of.reliability);
    visit(plan_key{"risk"}, of.risk);
    visit(plan_key{.name = "prefer", .listed = 1}, of.prefer);
    visit(plan_key{.name = "wave", .written = -1}, of.wave);
    visit(plan_key{"repeat"}, of.repeat);
    visit(plan_key{"follows"}, of.follows);
    visit(plan_key{.name = "gap", .unit = "days", .usual = 0.0, .beside = "follows"}, of.gap);
    visit(plan_key{"stage"}, of.changes);
}

// --- the site ---

void each_key(either<frost_meaning> auto& of, auto&& visit) {
    visit(plan_key{"at"}, of.at);
    visit(plan_key{"chance"}, of.share);
}

void each_key(either<monthly_normals> auto& of, auto&& visit) {
    visit(plan_key{"monthly_low", "give the twelve mean lows beside the highs"}, of.low);
    visit(plan_key{"monthly_high", "give the twelve mean highs beside the lows"}, of.high);
    visit(plan_key{.name = "normal_years", .unit = "years"}, of.years);
    visit(plan_key{"normal_seed"}, of.seed);
}

/// Latitude, start and days of the season stand above these.
void each_key(either<plan_parts> auto& of, auto&& visit) {
    visit(plan_key{.name = "weather", .may_be_empty = true}, of.weather);
    visit(plan_key{"station"}, of.station);
    visit(plan_key{"whole_fahrenheit"}, of.whole_fahrenheit);
    visit(plan_key{"years"}, of.years);
    visit(plan_key{.name = "max_gap", .unit = "days"}, of.max_gap);
    visit(plan_key{}, of.normals);
    visit(plan_key{"frost"}, of.frost);
}

// --- kinds of members ---

template <class Value, class... Kinds>
concept one_of = (std::same_as<Value, Kinds> || ...);

/// A part with keys of its own, in a table below.
template <class Part>
concept keyed_part = requires(Part& part, void (*visit)(plan_key const&, ...)) {
    each_key(part, visit);
};

/// What is the same in all units of a plan and has no bounds of its own here.
template <class Value>
concept plain_value = std::is_arithmetic_v<Value> || std::is_enum_v<Value> ||
    one_of<Value, std::string, day, chance, reliability, risk_setting, year_selection, open_days>;

/// Adds the keys of a part, in the order in which messages list them.
void add_keys(std::vector<std::string_view>& names, keyed_part auto const& blank) {
    for (int const turn : turns) {
        each_key(blank,
                 overloaded{[&](plan_key const& key, auto const&) {
                                if (key.listed == turn && !key.name.empty()) {
                                    names.push_back(key.name);
                                }
                            },
                            [&]<keyed_part Part>(plan_key const& key, std::optional<Part> const&) {
                                if (key.listed != turn) { return; }
                                if (key.name.empty()) {
                                    add_keys(names, Part{});
                                } else {
                                    names.push_back(key.name);
                                }
                            },
                            [&](plan_key const& key, amount const&) {
                                if (key.listed != turn) { return; }
                                for (plan_key const& one : amount_keys) {
                                    names.push_back(one.name);
                                }
                            }});
    }
}

/// The keys of a part, in the order in which messages list them.
template <keyed_part Part>
[[nodiscard]] std::vector<std::string_view> const& keys_of() {
    static std::vector<std::string_view> const known = [] {
        std::vector<std::string_view> names;
        add_keys(names, Part{});
        return names;
    }();
    return known;
}

}  // namespace epicotyl::detail

#endif
