#include "damage.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include <epicotyl/plan/plan.hpp>

#include "../tables/day_run.hpp"

namespace epicotyl::detail {

namespace {

/// The days on which a stage stands in its place.
day_run stood_days(season_model const& model, days_table const& days, int succession, int stage,
                   int year, int lost) {
    int const from = days.at(succession, stage, year);
    int const until = days.at(succession, stage + 1, year);
    // An event that is not reached leaves the stage where it is to the season's end, or until the
    // batch is lost.
    int const last = std::min(model.season_days, lost + 1);
    return {std::min(from, last), std::min(until, last)};
}

}  // namespace

stage_harm harm_of(season_model const& model, days_table const& days, int succession, int stage,
                   int year, harm what, air_switches on, int lost) {
    stage_harm result{.margin = std::numeric_limits<double>::quiet_NaN()};
    resolved_succession const& one = model.planned.successions()[at(succession)];
    if (stage < damage_counts_from(*one.grown)) { return result; }
    stage_tables const& tables = model.stages[at(succession)][at(stage)];
    double const limit = what == harm::cold ? tables.limit : tables.too_hot;
    if (!std::isfinite(limit)) { return result; }
    day_run const stood = stood_days(model, days, succession, stage, year, lost);
    if (stood.begin >= stood.end) { return result; }

    air_series const& series = model.air_with(tables.air, year, on);
    double closest = std::numeric_limits<double>::infinity();
    for (int d = stood.begin; d < stood.end; ++d) {
        double const room =
            what == harm::cold ? series.tmin[at(d)] - limit : limit - series.tmax[at(d)];
        if (is_at_or_below(room, 0.0) && result.first == never) { result.first = d; }
        closest = std::min(closest, room);
    }
    result.margin = closest;
    return result;
}

cold_years cold_years_of(season_model const& model, days_table const& days, int succession,
                         int stage, std::span<std::int16_t const> lost) {
    stage_path const& path = model.paths[at(model.path_of[at(succession)])];
    night_table const* const cold = path.stages[at(stage)].cold.get();
    cold_years found;
    if (cold == nullptr || stage < path.damage_from) { return found; }
    std::span<std::int16_t const> const from = days.row_days(succession, stage);
    std::span<std::int16_t const> const until = days.row_days(succession, stage + 1);
    for (int y = 0; y < model.years; ++y) {
        int const night = cold->from(from[at(y)], y);
        if (night >= std::min<int>(until[at(y)], model.season_days)) { continue; }
        if (night > lost[at(y)]) { continue; }
        ++found.damaged;
        found.first = std::min(found.first, night);
    }
    return found;
}

std::vector<int> nights_acted(season_model const& model, days_table const& days, int succession,
                              int stage, int year, int lost) {
    std::vector<int> nights;
    place_air const& air = model.airs[at(model.stages[at(succession)][at(stage)].air)];
    if (!std::isfinite(air.act_below)) { return nights; }
    day_run const stood = stood_days(model, days, succession, stage, year, lost);
    for (int d = stood.begin; d < stood.end; ++d) {
        if (air.years[at(year)].acted[at(d)]) { nights.push_back(d); }
    }
    return nights;
}

}  // namespace epicotyl::detail
