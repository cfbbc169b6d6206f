#include "season_model.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/frost/season_halves.hpp>

namespace epicotyl::detail {

namespace {

constexpr double no_limit = -std::numeric_limits<double>::infinity();

/// Days of a half's end that are no risk days: cold there means cold in every month.
constexpr int half_tail = 30;

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

int needed_years(double share, int n) {
    return std::max(1, static_cast<int>(std::ceil(share * n - 1e-9)));
}

int allowed_years(double share, int n) {
    return static_cast<int>(std::floor(share * n + 1e-9));
}

season_model::season_model(plan of, climate under)
    : planned{std::move(of)},
      weather{std::move(under)},
      years{weather.size()},
      season_days{weather.season_days()} {
    season const& window = planned.window();
    date::year_month_day const start{window.start()};
    require_equal("season_start", to_day_month(start.month() / start.day()),
                  to_day_month(weather.season_start()));
    require_equal("season_days", fmt::format("{} days", window.length()),
                  fmt::format("{} days", weather.season_days()));
    require_equal("latitude", fmt::format("{} °", planned.parts().where),
                  fmt::format("{} °", weather.site_latitude()));

    season_halves const halves = season_halves::for_latitude(planned.parts().where);
    int const first_year = int{start.year()} - 1;
    int const last_year = int{date::year_month_day{window.start() + days{season_days}}.year()} + 1;
    for (int y = first_year; y <= last_year; ++y) {
        day_range const spring = halves.cold_to_warm(y);
        day_range const autumn = halves.warm_to_cold(y);
        springs_.push_back({window.offset_of(spring.begin), window.offset_of(spring.end) - 1});
        autumns_.push_back({window.offset_of(autumn.begin), window.offset_of(autumn.end) - 1});
    }

    stages.reserve(planned.successions().size());
    for (resolved_succession const& one : planned.successions()) {
        std::vector<stage_tables>& tables = stages.emplace_back();
        tables.reserve(one.grown->stages.size());
        for (int j = 0; j < static_cast<int>(one.grown->stages.size()); ++j) {
            stage const& what = one.grown->stages[at(j)];
            std::optional<temperature> const limit = one.limit(j);
            int const place = one.places[at(j)];
            stage_tables& table = tables.emplace_back();
            if (limit) { table.limit = limit->celsius(); }
            if (what.too_hot) { table.too_hot = what.too_hot->celsius(); }
            if (what.hold) { table.hold = *what.hold; }
            table.air = air_of(place, act_below(planned.places()[at(place)].air, limit));
            bool const frost_ends_it = what.begins == "first_harvest" && limit;
            table.ready =
                ready_of(what.takes, place, table.air, frost_ends_it ? table.limit : no_limit);
        }
    }
    for (resolved_link const& one : planned.links()) {
        int const place = one.place.value_or(outdoors);
        double const acts =
            one.place ? act_below(planned.places()[at(place)].air, std::nullopt) : no_limit;
        link_ready.push_back(ready_of(one.after, place, air_of(place, acts), no_limit));
    }
}

int season_model::air_of(int place, double act_at_or_below) {
    auto const [found, is_new] =
        air_ids_.try_emplace({place, act_at_or_below}, static_cast<int>(airs.size()));
    if (is_new) {
        static air const outdoor_air{};
        air const& changes = place == outdoors ? outdoor_air : planned.places()[at(place)].air;
        place_air made{.place = place, .act_below = act_at_or_below};
        double sum = 0.0;
        for (int y = 0; y < years; ++y) {
            made.years.push_back(
                make_air(changes, weather.tmin(y), weather.tmax(y), act_at_or_below));
            std::vector<double> const& minima = made.years.back().tmin;
            sum += *std::min_element(minima.begin(), minima.end());
        }
        made.coldest = sum / years;
        airs.push_back(std::move(made));
    }
    return found->second;
}

std::span<double const> season_model::day_length_at(int place) {
    auto const [found, is_new] = day_lengths_.try_emplace(place);
    if (is_new) {
        season const& window = planned.window();
        std::vector<double>& hours = found->second;
        hours.reserve(at(season_days));
        for (int d = 0; d < season_days; ++d) {
            hours.push_back(day_length(planned.parts().where, window.start() + days{d}));
        }
        if (place != outdoors && planned.places()[at(place)].lamps) {
            lamps const& lit = *planned.places()[at(place)].lamps;
            int const first = std::max(0, window.offset_of(lit.from));
            int const last = std::min(season_days - 1, window.offset_of(lit.until));
            for (int d = first; d <= last; ++d) {
                hours[at(d)] = std::max(hours[at(d)], lit.hours);
            }
        }
    }
    return found->second;
}

int season_model::ready_of(clock const& takes, int place, int air_id, double ended_at_or_below) {
    auto const [found, is_new] = ready_ids_.try_emplace({&takes, place, air_id, ended_at_or_below},
                                                        static_cast<int>(ready.size()));
    if (is_new) {
        std::span<double const> const hours = day_length_at(place);
        std::vector<ready_map> maps;
        maps.reserve(at(years));
        for (int y = 0; y < years; ++y) {
            air_series const& series = airs[at(air_id)].years[at(y)];
            ready_map map = make_ready_map(
                takes, {.tmin = series.tmin, .tmax = series.tmax, .day_length = hours});
            if (ended_at_or_below > no_limit) {
                std::vector<int> cold;
                for (int d = 0; d < season_days; ++d) {
                    if (series.tmin[at(d)] <= ended_at_or_below) { cold.push_back(d); }
                }
                map = map.ended_by(cold);
            }
            maps.push_back(std::move(map));
        }
        ready.push_back(std::move(maps));
    }
    return found->second;
}

half_span season_model::spring_half(int after) const {
    return *std::find_if(springs_.begin(), springs_.end(), [&](half_span const& half) {
        return half.last >= after + days_before_half_ends;
    });
}

half_span season_model::autumn_half(int after) const {
    return *std::find_if(autumns_.begin(), autumns_.end(), [&](half_span const& half) {
        return half.last >= after + days_before_half_ends;
    });
}

half_span season_model::spring_half_before(int day) const {
    half_span best = springs_.front();
    for (half_span const& half : springs_) {
        if (half.first <= day) { best = half; }
    }
    return best;
}

risk_day season_model::find_risk_day(int air_id, double limit, half_span half, int from,
                                     double share) const {
    risk_day result{.allowed = allowed_years(share, years)};
    int const last_risk_day = half.last - half_tail;
    if (last_risk_day > season_days - 1) {
        result.what = risk_day::verdict::season_too_short;
        result.days_wanted = last_risk_day + 1;
        return result;
    }
    result.day = std::max(from, 0);
    // A half that is over before the season needs it protects from nothing.
    if (last_risk_day < result.day) { return result; }
    int const first = std::max(half.first, result.day);
    int const last = std::min(half.last, season_days - 1);
    std::vector<int> last_cold;
    for (int y = 0; y < years; ++y) {
        std::vector<double> const& minima = airs[at(air_id)].years[at(y)].tmin;
        for (int d = last; d >= first; --d) {
            if (minima[at(d)] <= limit) {
                last_cold.push_back(d);
                break;
            }
        }
    }
    std::sort(last_cold.begin(), last_cold.end(), std::greater<>{});
    result.have = static_cast<int>(last_cold.size());
    if (result.have > result.allowed) { result.day = last_cold[at(result.allowed)] + 1; }
    if (result.day > last_risk_day) { result.what = risk_day::verdict::every_month; }
    return result;
}

int season_model::after_offset(std::optional<day> const& after) const {
    return after ? planned.window().offset_of(*after) : 0;
}

std::vector<std::optional<int>> season_model::frost_dates(bool first_frost,
                                                          std::optional<day> after) const {
    half_span const half =
        first_frost ? autumn_half(after_offset(after)) : spring_half(after_offset(after));
    double const threshold = planned.parts().frost.at.celsius();
    int const first = std::max(half.first, 0);
    int const last = std::min(half.last, season_days - 1);
    std::vector<std::optional<int>> dates;
    for (int y = 0; y < years; ++y) {
        std::span<double const> const minima = weather.tmin(y);
        std::optional<int> found;
        for (int d = first; d <= last && !(first_frost && found); ++d) {
            if (minima[at(d)] <= threshold) { found = d; }
        }
        dates.push_back(found);
    }
    return dates;
}

std::optional<int> season_model::frost_day(bool first_frost, std::optional<day> after) const {
    std::vector<std::optional<int>> const dates = frost_dates(first_frost, after);
    chance const share = planned.parts().frost.share;
    return first_frost ? empirical_offset_first(dates, share) : empirical_offset_last(dates, share);
}

int season_model::frost_years(bool first_frost, std::optional<day> after) const {
    std::vector<std::optional<int>> const dates = frost_dates(first_frost, after);
    return static_cast<int>(
        std::count_if(dates.begin(), dates.end(), [](auto const& one) { return one.has_value(); }));
}

std::vector<double> season_model::minima(int air_id, int year, air_switches on) const {
    place_air const& place = airs[at(air_id)];
    if (place.place == outdoors || (on.heater && on.cover)) { return place.years[at(year)].tmin; }
    return make_air(planned.places()[at(place.place)].air, weather.tmin(year), weather.tmax(year),
                    place.act_below, on)
        .tmin;
}

}  // namespace epicotyl::detail
