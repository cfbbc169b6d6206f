#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/season/harvest/harvest.hpp>

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "../days/prospect_data.hpp"
#include "picking.hpp"

namespace epicotyl {

namespace detail {

int harvest_event(plan const& of, int succession) {
    resolved_succession const& one = of.successions()[at(succession)];
    if (std::optional<int> const event = event_index(*one.grown, "first_harvest")) {
        return *event;
    }
    throw invalid_input{
        {.code = "succession.no_first_harvest",
         .field = "succession",
         .value = one.name,
         .problem = fmt::format("\"{}\" is never harvested: its crop \"{}\" has no stage that "
                                "begins with first_harvest",
                                one.name, one.grown->name),
         .remedy = "give the crop one, or name a succession that is harvested"}};
}

picking picking_of(season_model const& model, days_table const& days, int succession, int harvest,
                   int year, harvest_options const& options) {
    int const from = days.at(succession, harvest, year);
    if (from >= model.season_days) { return {}; }
    plan const& planned = model.planned;
    int const clear = event_count(*planned.successions()[at(succession)].grown) - 1;
    int const cleared = days.at(succession, clear, year);
    picking found{.days = {from, std::min(cleared, model.season_days)}, .happens = true};

    stage_tables const& stage = model.stages[at(succession)][at(harvest)];
    air_series const& air = model.airs[at(stage.air)].years[at(year)];
    if (cleared > model.season_days) {
        found.ended_by = harvest_end::season;
    } else {
        // The stage is over on its first cold night at the latest: where the night of that day is
        // cold, it is that night.
        int const over = days.at(succession, harvest + 1, year);
        bool const is_cold = over > from && over < model.season_days &&
                             is_at_or_below(air.tmin[at(over)], stage.limit);
        found.ended_by = is_cold ? harvest_end::frost : harvest_end::clock;
    }
    if (!options.heat_stops) { return found; }
    for (int d = from + 1; d < found.days.end; ++d) {
        if (!is_at_or_above(air.tmax[at(d)], stage.too_hot)) { continue; }
        found.days.end = d;
        found.ended_by = harvest_end::heat;
        break;
    }
    return found;
}

}  // namespace detail

std::string_view to_string(harvest_end of) noexcept {
    constexpr std::array<std::string_view, 4> words = {"frost", "clock", "heat", "season"};
    return words[static_cast<std::size_t>(of)];
}

std::vector<harvest_span> harvest_spans(prospect const& of, std::string_view succession,
                                        harvest_options const& options) {
    detail::prospect_data const& data = *of.data();
    detail::season_model const& model = *data.model;
    int const i = model.planned.succession_index(succession);
    int const harvest = detail::harvest_event(model.planned, i);
    season const& window = model.planned.window();
    std::vector<harvest_span> spans;
    spans.reserve(detail::at(model.years));
    for (int y = 0; y < model.years; ++y) {
        detail::picking const one = detail::picking_of(model, data.days(), i, harvest, y, options);
        if (!one.happens) {
            spans.emplace_back();
            continue;
        }
        spans.push_back({.begin = window.day_at(one.days.begin),
                         .end = window.day_at(one.days.end),
                         .ended_by = one.ended_by});
    }
    return spans;
}

}  // namespace epicotyl
