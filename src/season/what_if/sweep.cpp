#include <epicotyl/season/what_if/sweep.hpp>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>

#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../days/calendar_data.hpp"
#include "../tables/in_parallel.hpp"
#include "../tables/season_model.hpp"

namespace epicotyl {

namespace {

using detail::at;

constexpr int most_cells = 1'000'000;

/// Places of an index in a grid whose last axis turns fastest.
std::vector<int> choice_of(int cell, std::vector<sweep_axis> const& axes) {
    std::vector<int> choice(axes.size());
    for (std::size_t a = axes.size(); a-- > 0;) {
        int const count = static_cast<int>(axes[a].changes.size());
        choice[a] = cell % count;
        cell /= count;
    }
    return choice;
}

int cells_of(std::vector<sweep_axis> const& axes) {
    int cells = 1;
    for (sweep_axis const& axis : axes) {
        int const count = static_cast<int>(axis.changes.size());
        if (count == 0) {
            throw invalid_input{{.code = "sweep.axis_empty",
                                 .field = axis.name,
                                 .value = "0",
                                 .bound = "1 or more",
                                 .unit = "changes",
                                 .problem = "there is no change on this axis",
                                 .remedy = "give one or more, or leave the axis out"}};
        }
        if (cells > most_cells / count) {
            throw invalid_input{{.code = "sweep.too_many",
                                 .field = "axes",
                                 .bound = fmt::format("{}", most_cells),
                                 .unit = "cells",
                                 .problem = "the grid has too many cells",
                                 .remedy = "try fewer changes at once"}};
        }
        cells *= count;
    }
    return cells;
}

void require_event(plan const& of, std::string const& event) {
    std::vector<std::string> const& own = of.parts().events;
    bool const is_known =
        std::find(known_events.begin(), known_events.end(), event) != known_events.end() ||
        std::find(own.begin(), own.end(), event) != own.end();
    if (is_known) { return; }
    std::vector<std::string> known{known_events.begin(), known_events.end()};
    known.insert(known.end(), own.begin(), own.end());
    throw invalid_input{
        {.code = "sweep.event",
         .field = "event",
         .value = event,
         .problem = fmt::format("no plan has an event \"{}\"", event),
         .remedy = fmt::format("the nearest is \"{}\"", *detail::nearest_word(event, known))}};
}

/// Makes rows on several threads, tells of them, and stops when it is told to.
template <class Make>
sweep_result run(int cells, sweep_options const& options, Make const& make) {
    std::vector<std::optional<sweep_row>> rows(at(cells));
    std::atomic<int> done{0};
    std::atomic<bool> stopped{false};
    int told = 0;  // by the caller's thread alone
    std::thread::id const caller = std::this_thread::get_id();
    detail::in_parallel(cells, options.threads, [&](int cell) {
        if (stopped) { return; }
        rows[at(cell)] = make(cell);
        int const so_far = ++done;
        if (options.progress && std::this_thread::get_id() == caller) {
            told = so_far;
            if (!options.progress(so_far, cells)) { stopped = true; }
        }
    });
    if (options.progress && !stopped && told < cells) { options.progress(cells, cells); }
    sweep_result found{.cells = cells};
    for (std::optional<sweep_row>& row : rows) {
        if (row) { found.rows.push_back(std::move(*row)); }
    }
    return found;
}

swept_succession row_of(prospect const& of, int succession, sweep_options const& options) {
    calendar const& planned = of.calendar();
    resolved_succession const& one = planned.plan().successions()[at(succession)];
    swept_succession row{.name = one.name};
    row.event = event_index(*one.grown, options.event)
                    ? options.event
                    : std::string{event_name(*one.grown, one.target_event)};
    row.quantiles.resize(options.levels.size());
    std::optional<sowing_claim> const claim = planned.claim(one.name);
    if (!claim) {
        for (obstacle const& why : planned.data()->unresolved) {
            if (why.succession == one.name && row.unresolved.empty()) { row.unresolved = why.code; }
        }
        return row;
    }
    row.sowing = planned.date(succession, 0);
    row.target = planned.date(succession, one.target_event);
    for (std::size_t k = 0; k < options.levels.size(); ++k) {
        row.quantiles[k] = of.quantile(one.name, row.event, options.levels[k]);
    }
    row.good = claim->good;
    damage_report const cold = of.damage(one.name);
    row.damaged = cold.damaged;
    row.damaged_heater_off = cold.damaged_heater_off;
    row.damaged_cover_off = cold.damaged_cover_off;
    row.too_hot = of.too_hot(one.name).damaged;
    row.overheld = of.overheld(one.name).overheld;
    return row;
}

/// What most cells have in common stays known while this is held. None where plan and climate do
/// not belong together: their cells will say so.
std::shared_ptr<void const> common_to(plan const& of, climate const& under) {
    try {
        return std::make_shared<detail::season_model const>(of, under);
    } catch (invalid_input const&) { return nullptr; }
}

}  // namespace

sweep_change as_it_is(std::string label) {
    return {std::move(label), [](sweep_case&) {
            }};
}

sweep_change changed_plan(std::string label, std::function<plan(plan const&)> edit) {
    return {std::move(label), [edit = std::move(edit)](sweep_case& one) {
                one.of = edit(one.of);
            }};
}

sweep_change changed_climate(std::string label, std::function<climate(climate const&)> change) {
    return {std::move(label), [change = std::move(change)](sweep_case& one) {
                one.under = change(one.under);
            }};
}

void require_warming(temperature_span by, unit_system units) {
    if (warming_kelvin.holds(by.kelvin())) { return; }
    bool const metric = units == unit_system::metric;
    auto const said = [&](double kelvin) {
        return metric ? kelvin : kelvin * fahrenheit_per_kelvin;
    };
    bool const is_in_other = metric && warming_kelvin.holds(by.kelvin() / fahrenheit_per_kelvin);
    char const* const unit = metric ? "K" : "°F";
    throw invalid_input{
        {.code = "sweep.warming",
         .field = "by",
         .value = fmt::format("{:g}", said(by.kelvin())),
         .bound =
             fmt::format("{:g} to {:g}", said(warming_kelvin.lowest), said(warming_kelvin.highest)),
         .unit = unit,
         .problem = fmt::format("years {:g} {} warmer are no years of this place",
                                said(by.kelvin()), unit),
         .remedy =
             is_in_other
                 ? fmt::format("did you mean °F? {:g} °F warmer are {:g} K, and the plan is in "
                               "metric units",
                               by.kelvin(),
                               std::round(by.kelvin() / fahrenheit_per_kelvin * 100.0) / 100.0)
                 : "give the difference to the record, such as 2 K; `shifted` of a climate "
                   "takes more"}};
}

std::string warmer_label(temperature_span by, unit_system units) {
    bool const metric = units == unit_system::metric;
    return fmt::format("{:+g} {}", metric ? by.kelvin() : by.fahrenheit(), metric ? "K" : "°F");
}

sweep_change warmer(temperature_span by, unit_system units) {
    require_warming(by, units);
    return changed_climate(warmer_label(by, units),
                           [by, units](climate const& of) { return of.shifted(by, units); });
}

sweep_change warmer(std::string label, std::array<temperature_span, 12> by_month) {
    return changed_climate(std::move(label),
                           [by_month](climate const& of) { return of.shifted(by_month); });
}

sweep_change planned_for(reliability share) {
    return {fmt::format("{:g}", share.value()), [share](sweep_case& one) {
                one.wanted = share;
            }};
}

sweep_row sweep_row_of(sweep_case const& of, sweep_options const& options) {
    sweep_row row;
    try {
        prospect const found = simulate(schedule(of.of, of.under, of.wanted), of.under, 1);
        row.years = of.under.size();
        int const count = static_cast<int>(of.of.successions().size());
        for (int i = 0; i < count; ++i) { row.successions.push_back(row_of(found, i, options)); }
    } catch (invalid_input const& fault) { row = {.refused = fault.what()}; }
    return row;
}

sweep_result sweep_cases(std::vector<sweep_case> const& cases, sweep_options const& options) {
    std::shared_ptr<void const> common;
    if (!cases.empty()) {
        require_event(cases.front().of, options.event);
        common = common_to(cases.front().of, cases.front().under);
    }
    return run(static_cast<int>(cases.size()), options, [&](int cell) {
        sweep_row row = sweep_row_of(cases[at(cell)], options);
        row.choice = {cell};
        return row;
    });
}

sweep_result sweep(plan const& of, climate const& under, std::vector<sweep_axis> const& axes,
                   sweep_options const& options) {
    require_event(of, options.event);
    std::shared_ptr<void const> const common = common_to(of, under);
    return run(cells_of(axes), options, [&](int cell) {
        std::vector<int> choice = choice_of(cell, axes);
        sweep_row row;
        try {
            sweep_case one{.of = of, .under = under};
            for (std::size_t a = 0; a < axes.size(); ++a) {
                axes[a].changes[at(choice[a])].apply(one);
            }
            row = sweep_row_of(one, options);
        } catch (invalid_input const& fault) { row.refused = fault.what(); }
        row.choice = std::move(choice);
        return row;
    });
}

}  // namespace epicotyl
