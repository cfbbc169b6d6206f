#include "season_model.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>

#include "in_parallel.hpp"

namespace epicotyl::detail {

namespace {

constexpr double no_limit = -std::numeric_limits<double>::infinity();

void require_equal(std::string const& field, std::string const& of_plan,
                   std::string const& of_climate) {
    if (of_plan == of_climate) { return; }
    throw invalid_input{
        {.code = "season.climate_differs",
         .field = field,
         .value = of_climate,
         .bound = of_plan,
         .problem = fmt::format("the climate has {}, the plan {}", of_climate, of_plan),
         .remedy = "make the climate with the plan's season start, length and latitude"}};
}

}  // namespace

season_model::season_model(plan of, climate under)
    : planned{std::move(of)},
      weather{std::move(under)},
      years{weather.size()},
      season_days{weather.season_days()},
      cold{planned, weather, airs},
      stock_{weather.derived().get<series_stock>()} {
    season const& window = planned.window();
    date::year_month_day const start{window.start()};
    require_equal("season_start", to_day_month(start.month() / start.day()),
                  to_day_month(weather.season_start()));
    require_equal("season_days", fmt::format("{} days", window.length()),
                  fmt::format("{} days", weather.season_days()));
    require_equal("latitude", fmt::format("{} °", planned.parts().where),
                  fmt::format("{} °", weather.site_latitude()));

    path_of.reserve(planned.successions().size());
    for (resolved_succession const& one : planned.successions()) {
        path_of.push_back(path_for(one));
    }
    for (resolved_link const& one : planned.links()) {
        add_awaited(one);
        int const place = one.place.value_or(outdoors);
        double const acts =
            one.place ? act_below(planned.places()[at(place)].air, std::nullopt) : no_limit;
        link_waits.push_back(wait_for(one.after, place, air_of(place, acts), nullptr));
    }
    std::vector<std::pair<int, awaited_in>> waited_for;
    for (std::size_t k = 0; k < awaited_all.size(); ++k) {
        for (event_of const& first : awaited_all[k].firsts) {
            waited_for.push_back({first.succession, {static_cast<int>(k), first.event}});
        }
    }
    awaits_of = {planned.successions().size(), waited_for};
    maps_ = std::make_unique<std::atomic<ready_map const*>[]>(waits.size() * at(years));
}

void season_model::add_awaited(resolved_link const& one) {
    // Links that count from the same are made one after the other.
    bool const is_new = awaited_all.empty() || !awaited_all.back().firsts.is(one.firsts) ||
                        awaited_all.back().first_decides != one.first_decides;
    if (is_new) {
        awaited_all.push_back({.firsts = one.firsts,
                               .first_decides = one.first_decides,
                               .wave = one.firsts.size() > 1 ? waves++ : -1});
    }
    awaited_all.back().links.push_back(static_cast<int>(awaited_of_link.size()));
    awaited_of_link.push_back(static_cast<int>(awaited_all.size()) - 1);
}

int season_model::path_for(resolved_succession const& one) {
    std::vector<int>& known = path_ids_[one.grown.get()];
    for (int path : known) {
        if (paths[at(path)].places == one.places) { return path; }
    }
    known.push_back(static_cast<int>(paths.size()));
    stage_path& made = paths.emplace_back();
    made.grown = one.grown;
    made.places = one.places;
    made.damage_from = damage_counts_from(*one.grown);
    made.lost_until = lost_until(*one.grown);
    made.is_harvested = event_index(*one.grown, "first_harvest").has_value();
    for (int e = 0; e < event_count(*one.grown); ++e) {
        made.is_decision.push_back(is_outcome(*one.grown, e) ? 0 : 1);
    }
    for (int j = 0; j < static_cast<int>(one.grown->stages.size()); ++j) {
        stage const& what = one.grown->stages[at(j)];
        std::optional<temperature> const limit = one.limit(j);
        int const place = one.places[at(j)];
        stage_tables& table = made.stages.emplace_back();
        if (limit) { table.limit = limit->celsius(); }
        if (what.too_hot) { table.too_hot = what.too_hot->celsius(); }
        if (what.hold) { table.hold = *what.hold; }
        table.air = air_of(place, act_below(planned.places()[at(place)].air, limit));
        if (limit) { table.cold = cold_in(table.air, table.limit); }
        if (std::optional<temperature> const lost_at = one.lost_at(j)) {
            cold_list nights = cold_in(table.air, lost_at->celsius());
            if (!nights->empty()) { table.loss = std::move(nights); }
        }
        bool const frost_ends_it = what.begins == "first_harvest" && limit;
        table.wait = wait_for(what.takes, place, table.air, frost_ends_it ? table.cold : nullptr);
    }
    return known.back();
}

int season_model::air_of(int place, double act_at_or_below) {
    auto const [found, is_new] =
        air_ids_.try_emplace({place, act_at_or_below}, static_cast<int>(airs.size()));
    if (is_new) {
        air const& changes = place == outdoors ? air{} : planned.places()[at(place)].air;
        auto const shared = stock_.airs.get({changes, act_at_or_below}, [&] {
            air_years made;
            double sum = 0.0;
            for (int y = 0; y < years; ++y) {
                made.years.push_back(
                    make_air(changes, weather.tmin(y), weather.tmax(y), act_at_or_below));
                std::vector<double> const& minima = made.years.back().tmin;
                sum += *std::min_element(minima.begin(), minima.end());
            }
            made.coldest = sum / years;
            return made;
        });
        airs.push_back({.place = place,
                        .act_below = act_at_or_below,
                        .held = shared,
                        .years = shared->years,
                        .coldest = shared->coldest});
    }
    return found->second;
}

season_model::cold_list season_model::cold_in(int air_id, double limit) const {
    place_air const& in = airs[at(air_id)];
    return stock_.colds.get({in.held.get(), limit}, [&] {
        std::vector<std::span<double const>> minima;
        for (air_series const& year : in.years) { minima.emplace_back(year.tmin); }
        return make_night_table(minima, season_days, limit);
    });
}

season_model::hours_list season_model::hours_at(int place) const {
    std::optional<lamps> const lit =
        place == outdoors ? std::nullopt : planned.places()[at(place)].lamps;
    season const& window = planned.window();
    return stock_.hours.get({window.start(), lit}, [&] {
        std::vector<double> hours;
        hours.reserve(at(season_days));
        for (int d = 0; d < season_days; ++d) {
            hours.push_back(day_length(planned.parts().where, window.start() + days{d}));
        }
        if (lit) {
            int const first = std::max(0, window.offset_of(lit->from));
            int const last = std::min(season_days - 1, window.offset_of(lit->until));
            for (int d = first; d <= last; ++d) {
                hours[at(d)] = std::max(hours[at(d)], lit->hours);
            }
        }
        return hours;
    });
}

int season_model::wait_for(clock const& takes, int place, int air_id, cold_list const& ends) {
    if (takes.group() != nullptr) { return wait_for_group(takes, place, air_id, ends); }
    place_air const& in = airs[at(air_id)];
    hours_list const hours = takes.gate() ? hours_at(place) : nullptr;
    sums_key const key{takes, takes.needs_air() ? in.held.get() : nullptr, hours.get()};
    auto const sums = stock_.sums.get(key, [&] {
        running_sums made{season_days, years};
        for (air_series const& series : in.years) {
            made.add_year(daily_rates(takes, {.tmin = series.tmin,
                                              .tmax = series.tmax,
                                              .day_length = hours ? std::span<double const>{*hours}
                                                                  : std::span<double const>{}}));
        }
        return made;
    });
    auto const [found, is_new] = wait_ids_.try_emplace({sums.get(), amount_of(takes), ends.get()},
                                                       static_cast<int>(waits.size()));
    if (is_new) {
        kept_.insert(kept_.end(), {sums, hours, ends});
        waits.emplace_back(*sums, years, amount_of(takes), ends.get());
    }
    return found->second;
}

int season_model::wait_for_group(clock const& takes, int place, int air_id, cold_list const& ends) {
    place_air const& in = airs[at(air_id)];
    hours_list const hours = hours_at(place);
    auto const maps = stock_.groups.get({takes, in.held.get(), hours.get(), ends.get()}, [&] {
        std::vector<ready_map> made;
        made.reserve(at(years));
        for (int y = 0; y < years; ++y) {
            air_series const& series = in.years[at(y)];
            ready_map map = make_ready_map(
                takes, {.tmin = series.tmin, .tmax = series.tmax, .day_length = *hours});
            if (ends) {
                std::vector<int> nights;
                for (int d = ends->from(0, y); d < never; d = ends->from(d + 1, y)) {
                    nights.push_back(d);
                }
                map = map.ended_by(nights);
            }
            made.push_back(std::move(map));
        }
        return made;
    });
    auto const [found, is_new] = group_ids_.try_emplace(maps.get(), static_cast<int>(waits.size()));
    if (is_new) {
        kept_.insert(kept_.end(), {maps, hours, ends});
        waits.emplace_back(*maps);
    }
    return found->second;
}

ready_map const& season_model::whole(int wait, int year) const {
    std::atomic<ready_map const*>& place = maps_[at(wait) * at(years) + at(year)];
    if (ready_map const* const made = place.load(std::memory_order_acquire)) { return *made; }
    ready_map map = waits[at(wait)].whole(year);
    std::scoped_lock const lock{asked_lock_};
    if (ready_map const* const made = place.load(std::memory_order_relaxed)) { return *made; }
    ready_map const& kept = made_maps_.emplace_back(std::move(map));
    place.store(&kept, std::memory_order_release);
    return kept;
}

void season_model::expect_sowings(int path, day_span sown, std::vector<day_span> const& floors) {
    std::vector<stage_tables> const& all = paths[at(path)].stages;
    for (int y = 0; y < years; ++y) {
        day_span span = sown;
        for (std::size_t j = 0; j < all.size() && !span.empty(); ++j) {
            if (!floors[j].empty()) {
                span = {std::max(span.first, floors[j].first), std::max(span.last, floors[j].last)};
            }
            span = {std::min(span.first, season_days), std::min(span.last, season_days)};
            wait_table& wait = waits[at(all[j].wait)];
            wait.expect_starts(y, span);
            span = {wait.ready(span.first, y), wait.ready(span.last, y)};
        }
    }
}

void season_model::expect_targets(int path, int last, day_span ends) {
    std::vector<stage_tables> const& all = paths[at(path)].stages;
    for (int y = 0; y < years; ++y) {
        day_span span = ends;
        for (int j = last - 1; j >= 0; --j) {
            wait_table& wait = waits[at(all[at(j)].wait)];
            wait.expect_ends(y, span);
            span = {std::max(wait.latest_start(span.first, y), 0),
                    std::max(wait.latest_start(span.last, y), 0)};
        }
    }
}

void season_model::expect_all_starts(int wait) {
    for (int y = 0; y < years; ++y) { waits[at(wait)].expect_starts(y, {0, season_days}); }
}

void season_model::expect_links() {
    std::map<int, int> links;
    for (int wait : link_waits) { ++links[wait]; }
    for (auto const& [wait, count] : links) {
        if (count > season_days / days_a_succession) { expect_all_starts(wait); }
    }
}

void season_model::fill_tables(int threads) {
    for (wait_table& wait : waits) { wait.make_room(); }
    in_parallel(static_cast<int>(waits.size()), threads, [&](int wait) { waits[at(wait)].fill(); });
}

air_series const& season_model::air_with(int air_id, int year, air_switches on) const {
    place_air const& place = airs[at(air_id)];
    if (place.place == outdoors || (on.heater && on.cover)) { return place.years[at(year)]; }
    std::scoped_lock const lock{asked_lock_};
    auto& known = switched_[{air_id, on.heater, on.cover}];
    if (!known) {
        air const& changes = planned.places()[at(place.place)].air;
        known = stock_.switched.get({{changes, place.act_below}, on.heater, on.cover}, [&] {
            std::vector<air_series> made;
            for (int y = 0; y < years; ++y) {
                made.push_back(
                    make_air(changes, weather.tmin(y), weather.tmax(y), place.act_below, on));
            }
            return made;
        });
    }
    return (*known)[at(year)];
}

}  // namespace epicotyl::detail
