// Space: what to move so that the room suffices.
#include <functional>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/functional.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/space/fit/fit.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../src/choice/choice.hpp"
#include "../../src/space/fit/fit_problem.hpp"
#include "casters.hpp"
#include "plan_units.hpp"
#include "register.hpp"
#include "result.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

/// A move with days for numbers of days: (event, day before, day after); none: it does not come.
struct dated_move : fit_move {
    std::vector<std::tuple<std::string, std::optional<day>, std::optional<day>>> days_moved;
};

template <>
struct bound<dated_move> {
    static constexpr char name[] = "FitMove";
    static constexpr char doc[] = "One thing that is done otherwise.";
    static auto fields() {
        return std::tuple{
            field{"what", &dated_move::what,
                  "`shift`, `place`, `early`, `container`, `split` or `left_out`."},
            field{"succession", &dated_move::succession, "Whose."},
            field{"event", &dated_move::event, "The target, or the event that begins the stage."},
            field{"before", &dated_move::from,
                  "Place or container as planned; empty where there is none."},
            field{"after", &dated_move::to, "Place or container now."},
            field{"days", &dated_move::days,
                  "Later (negative: earlier) for a shift; earlier for one that goes out early."},
            field{"trays", &dated_move::trays,
                  "Trays of the stage, or those left out as `FitWeights` counts them."},
            field{"plants", &dated_move::plants,
                  "Plants at the target that are left out, or in the half that moves."},
            field{"cost", &dated_move::cost, "Its price."},
            field{"sentence", &dated_move::sentence, "All that in words. `str` gives it."},
            field{"moved", &dated_move::moved,
                  "Days that are priced with this move [days]: those of the event that moves most.",
                  may_be_left_out},
            field{"days_moved", tuple_of(&dated_move::days_moved),
                  "Event, its planned day before and after, of the sowing, the target, the "
                  "planting out and all that follows, where the days differ, and of others that "
                  "move by more than a day; moves of one batch have the same.",
                  may_be_left_out}};
    }
};

template <>
struct bound<not_placed> {
    static constexpr char name[] = "NotPlaced";
    static constexpr char doc[] = "A batch for which there is no room.";
    static auto fields() {
        return std::tuple{
            field{"succession", &not_placed::succession, "Whose."},
            field{"place", &not_placed::place, "Where."},
            field{"kind", &not_placed::kind, "Whether `trays`, `bed` or `area` is short."},
            field{"first", &not_placed::first,
                  "First day on which room is short while it stands there."},
            field{"last", &not_placed::last, "Last such day."},
            field{"shortage", &not_placed::shortage,
                  "Trays, length of bed or area short at most, in the plan's units."},
            field{"sentence", &not_placed::sentence, "All that in words. `str` gives it."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

/// (before, after, moves, short of, cost, bound, ended, tried, kept, text).
using fit_tuple = std::tuple<calendar, calendar, std::vector<dated_move>, std::vector<not_placed>,
                             double, double, std::string, int, int, std::string>;
/// In the order of `fit_weights`.
using weights_tuple = std::tuple<double, double, double, double, double, double, double>;
using progress_function = std::function<bool(std::optional<double>, double, double)>;
/// (resource, from, until, amount).
using use_tuple = std::tuple<int, int, int, double>;
using alternative_tuple = std::pair<double, std::vector<use_tuple>>;

fit_weights weights_of(weights_tuple const& of) {
    auto const& [shift, place, early, container, split, left_out, tray] = of;
    return {.shift_day = shift,
            .place = place,
            .early_day = early,
            .container = container,
            .split = split,
            .left_out = left_out,
            .left_out_tray = tray};
}

fit_tuple parts_of(space_fit const& of) {
    season const& window = of.before.plan().window();
    std::vector<dated_move> moves;
    for (fit_move const& one : of.moves) {
        dated_move& made = moves.emplace_back(dated_move{one, {}});
        for (moved_day const& each : one.days_moved) {
            made.days_moved.emplace_back(each.event, window.day_at(each.was),
                                         window.day_at(each.now));
        }
    }
    return {of.before,
            of.after,
            std::move(moves),
            turned{of.before.plan()}(of.short_of),
            of.cost,
            of.bound,
            std::string{to_string(of.ended)},
            of.tried,
            of.kept,
            to_string(of)};
}

fit_tuple fit(plan const& of, climate const& under, weights_tuple const& weights, int most_shift,
              std::vector<bool> const& kinds, std::optional<double> wanted,
              std::optional<double> seconds, std::optional<progress_function> const& progress) {
    fit_options options{.weights = weights_of(weights),
                        .most_shift = most_shift,
                        .places = kinds.at(0),
                        .early = kinds.at(1),
                        .containers = kinds.at(2),
                        .splits = kinds.at(3),
                        .leave_out = kinds.at(4),
                        .seconds = seconds};
    if (wanted) { options.reliability = reliability{*wanted}; }
    if (progress) {
        // The function of pybind11 takes the lock itself.
        options.progress = [&progress](fit_progress const& now) {
            return (*progress)(now.cost, now.bound, now.seconds);
        };
    }
    // Only the search is without the lock: results become Python objects after it is back.
    std::optional<space_fit> found;
    {
        py::gil_scoped_release const unlocked;
        found = fit_to_space(of, under, options);
    }
    return parts_of(*found);
}

/// The core of the search by itself, for tests against other solvers.
std::tuple<std::vector<int>, double, double, bool> choose(
    std::vector<double> room, std::vector<std::vector<alternative_tuple>> const& items,
    std::int64_t steps) {
    detail::choice_problem problem{.room = std::move(room), .items = {}};
    for (auto const& item : items) {
        auto& made = problem.items.emplace_back();
        for (auto const& [cost, uses] : item) {
            detail::choice_alternative& one = made.emplace_back();
            one.cost = cost;
            for (auto const& [resource, from, until, amount] : uses) {
                one.uses.push_back({resource, from, until, amount});
            }
        }
    }
    detail::choice_options options;
    if (steps > 0) { options.steps = steps; }
    detail::choice_result const found = detail::choose(problem, options);
    return {found.chosen, found.cost, found.bound, found.ended == detail::choice_end::proved};
}

/// The choice that a plan leaves to the search, as `choose` takes it, for the same tests.
std::pair<std::vector<double>, std::vector<std::vector<alternative_tuple>>> fit_problem(
    plan const& of, climate const& under) {
    detail::choice_problem const problem = detail::fit_problem(of, under);
    std::vector<std::vector<alternative_tuple>> items;
    for (auto const& item : problem.items) {
        auto& made = items.emplace_back();
        for (detail::choice_alternative const& one : item) {
            auto& [cost, uses] = made.emplace_back(one.cost, std::vector<use_tuple>{});
            for (detail::room_use const& use : one.uses) {
                uses.emplace_back(use.resource, use.begin, use.end, use.amount);
            }
        }
    }
    return {problem.room, items};
}

}  // namespace

void register_fit(py::module_& m) {
    add_result<dated_move>(m);
    add_result<not_placed>(m);
    m.def("fit_to_space", &fit, "plan"_a, "climate"_a, "weights"_a, "most_shift"_a, "kinds"_a,
          "reliability"_a, "seconds"_a, "progress"_a);
    m.def("fit_problem", &fit_problem, "plan"_a, "climate"_a);
    m.def("choose", &choose, "room"_a, "items"_a, "steps"_a,
          py::call_guard<py::gil_scoped_release>());
}
