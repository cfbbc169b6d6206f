// epicotyl: the sweep. One plan under every combination of some changes.
//
// "How much later could we sow if the frame were better covered, and would that still hold in a
// warmer spring?" Each axis of a sweep is one thing that is changed, and the changes tried for it,
// "as it is" among them; the grid has a cell for every combination. A cell is planned by `schedule`
// and gone through by `simulate`, no otherwise than by hand, and leaves a small row that can be
// compared: sowings, targets, early, usual and late days, years with damage, what is unresolved.
//
//     sweep_result const found = sweep(
//         farm.plan, farm.climate,
//         {{"heater", {as_it_is(), changed_plan("off", [](plan const& p) {
//                          return without_heater(p, "lean-to");
//                      })}},
//          {"years", {as_it_is(), warmer(temperature_span::from_kelvin(2.0))}}});
//     found.rows[3].choice;       // {1, 1}: heater off, 2 K warmer
//     found.rows[3].successions;  // in plan order
//
// **Order** is that of the grid: the last axis turns fastest. It does not depend on the number of
// threads. The changes of a cell are made in the order of the axes, each on what the one before it
// left. **A combination that cannot be made** (an edit is refused, the climate no longer fits the
// plan) is a row that says so; the others go on.
//
// **Progress** is told to a function, now and then and always from the thread that called; when it
// answers false no further cell is begun, and the rows that are done are given.
#ifndef EPICOTYL_SEASON_WHAT_IF_SWEEP_HPP
#define EPICOTYL_SEASON_WHAT_IF_SWEEP_HPP

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/climate.hpp>

namespace epicotyl {

/// What a cell is planned from.
struct sweep_case {
    epicotyl::plan of;
    epicotyl::climate under;
    std::optional<epicotyl::reliability> wanted = {};  ///< none: the plan's
};

/// One change: its name on its axis, and what it does to a case. `apply` may be called from several
/// threads at once, and may throw `invalid_input`.
struct sweep_change {
    std::string label;
    std::function<void(sweep_case&)> apply;
};

/// Nothing changed.
[[nodiscard]] sweep_change as_it_is(std::string label = "as it is");
/// Another plan, such as an edit of plan/edit.hpp makes.
[[nodiscard]] sweep_change changed_plan(std::string label, std::function<plan(plan const&)> edit);
/// Other season years.
[[nodiscard]] sweep_change changed_climate(std::string label,
                                           std::function<climate(climate const&)> change);
/// Every day warmer, "+2 K", in US units "+3.6 °F"; colder where negative. Throws `invalid_input`
/// for more than 8 K, with the question whether the other unit was meant where it would be less.
[[nodiscard]] sweep_change warmer(temperature_span by, unit_system units = unit_system::metric);
/// The label of it.
[[nodiscard]] std::string warmer_label(temperature_span by, unit_system units);
/// Checks how much warmer years are to be, as `warmer` does.
void require_warming(temperature_span by, unit_system units);
/// The days of each month warmer by its span, January first.
[[nodiscard]] sweep_change warmer(std::string label, std::array<temperature_span, 12> by_month);
/// Another reliability of the plan as a whole, "0.9".
[[nodiscard]] sweep_change planned_for(reliability share);

/// One thing that is changed, and how: one or more changes.
struct sweep_axis {
    std::string name;
    std::vector<sweep_change> changes;
};

/// One succession in one cell. Counts are of season years.
struct swept_succession {
    std::string name;
    std::string unresolved = {};     ///< code of what stands in the way; empty: it has its days
    std::optional<day> sowing = {};  ///< planned day of event 0
    std::optional<day> target = {};  ///< planned day of the event aimed at
    std::string event = {};          ///< of which the quantiles are
    std::vector<std::optional<day>> quantiles = {};  ///< of its days, level by level
    int good = 0;                                    ///< in which the target is met
    int damaged = 0;                                 ///< with damage by cold
    int damaged_heater_off = 0;  ///< with such damage, had the heaters been off on those nights
    int damaged_cover_off = 0;   ///< with such damage, had nothing been done on cold nights
    int too_hot = 0;             ///< with harm by heat
    int overheld = 0;            ///< in which plants waited longer than their hold

    friend bool operator==(swept_succession const&, swept_succession const&) = default;
};

/// One cell.
struct sweep_row {
    std::vector<int> choice = {};                    ///< index of its change on each axis
    std::string refused = {};                        ///< why it could not be made; empty: it was
    int years = 0;                                   ///< season years, 0 where refused
    std::vector<swept_succession> successions = {};  ///< in the order of the cell's plan

    friend bool operator==(sweep_row const&, sweep_row const&) = default;
};

struct sweep_options {
    /// Levels of the quantiles.
    std::vector<quantile_level> levels = {quantile_level{0.1}, quantile_level{0.5},
                                          quantile_level{0.9}};
    /// The event they are of; the target of successions that do not have it.
    std::string event = "first_harvest";
    int threads = 0;  ///< 0: as many as the machine has
    /// Told how many of how many cells are done; false: begin no other.
    std::function<bool(int done, int cells)> progress = {};
};

struct sweep_result {
    std::vector<sweep_row> rows = {};  ///< those done, in the order of the grid
    int cells = 0;                     ///< of the grid

    [[nodiscard]] bool is_complete() const { return static_cast<int>(rows.size()) == cells; }

    friend bool operator==(sweep_result const&, sweep_result const&) = default;
};

/// Plans every cell of a grid. Throws `invalid_input` for an axis without changes, a grid of more
/// than a million cells, an event that no plan knows, and fewer than 0 threads. Without axes there
/// is one cell, the plan as it is.
[[nodiscard]] sweep_result sweep(plan const& of, climate const& under,
                                 std::vector<sweep_axis> const& axes,
                                 sweep_options const& options = {});

/// The same for cases that were made already; their `choice` is their number.
[[nodiscard]] sweep_result sweep_cases(std::vector<sweep_case> const& cases,
                                       sweep_options const& options = {});

/// The row of one case, its choice left empty.
[[nodiscard]] sweep_row sweep_row_of(sweep_case const& of, sweep_options const& options = {});

}  // namespace epicotyl

#endif
