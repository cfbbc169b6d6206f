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
constexpr int none = -1;

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

/// True when two clocks run alike, whatever amounts they wait for.
bool counts_the_same(clock const& a, clock const& b) {
    if (a.gate() != b.gate() || a.what().index() != b.what().index()) { return false; }
    return std::visit(
        [&](auto const& of_a) {
            using kind = std::decay_t<decltype(of_a)>;
            auto of_b = std::get<kind>(b.what());
            if constexpr (std::is_same_v<kind, calendar_wait>) {
                return true;
            } else if constexpr (std::is_same_v<kind, days_between_wait>) {
                of_b.days = of_a.days;
                return of_a == of_b;
            } else if constexpr (std::is_same_v<kind, clock_group>) {
                return of_a == of_b;
            } else {
                of_b.amount = of_a.amount;
                return of_a == of_b;
            }
        },
        a.what());
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
    chain_of.reserve(planned.successions().size());
    for (resolved_succession const& one : planned.successions()) {
        int const chain = chain_for(one);
        chain_of.push_back(chain);
        stages.emplace_back(chains[at(chain)].stages);
    }
    for (resolved_link const& one : planned.links()) {
        int const place = one.place.value_or(outdoors);
        double const acts =
            one.place ? act_below(planned.places()[at(place)].air, std::nullopt) : no_limit;
        link_waits.push_back(wait_for(one.after, place, air_of(place, acts), none));
    }
    maps_ = std::make_unique<std::atomic<ready_map const*>[]>(waits.size() * at(years));
}

int season_model::chain_for(resolved_succession const& one) {
    std::vector<int>& known = chain_ids_[one.grown.get()];
    for (int chain : known) {
        if (chains[at(chain)].places == one.places) { return chain; }
    }
    known.push_back(static_cast<int>(chains.size()));
    stage_chain& made = chains.emplace_back();
    made.grown = one.grown;
    made.places = one.places;
    made.damage_from = damage_counts_from(*one.grown);
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
        int const cold = limit ? cold_of(table.air, table.limit) : none;
        if (limit) { table.cold = &colds_[at(cold)]; }
        bool const frost_ends_it = what.begins == "first_harvest" && limit;
        table.wait = wait_for(what.takes, place, table.air, frost_ends_it ? cold : none);
    }
    return known.back();
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

int season_model::cold_of(int air_id, double limit) {
    auto const [found, is_new] =
        cold_ids_.try_emplace({air_id, limit}, static_cast<int>(colds_.size()));
    if (is_new) {
        std::vector<std::span<double const>> minima;
        for (air_series const& year : airs[at(air_id)].years) { minima.emplace_back(year.tmin); }
        colds_.push_back(make_cold_nights(minima, season_days, limit));
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

int season_model::sums_of(clock const& takes, int place, int air_id) {
    int const counts_in = takes.needs_air() ? air_id : none;
    int const lit_at = takes.gate() ? place : none;
    for (int k = 0; k < static_cast<int>(summed_.size()); ++k) {
        summed_clock const& one = summed_[at(k)];
        if (one.air == counts_in && one.place == lit_at && counts_the_same(one.counted, takes)) {
            return k;
        }
    }
    summed_.push_back({takes, counts_in, lit_at});
    running_sums& made = sums_.emplace_back();
    made.season_days = season_days;
    made.sum.reserve(at(years) * (at(season_days) + 1));
    std::span<double const> const hours =
        takes.gate() ? day_length_at(place) : std::span<double const>{};
    for (int y = 0; y < years; ++y) {
        air_series const& series = airs[at(air_id)].years[at(y)];
        double sum = 0.0;
        made.sum.push_back(sum);
        for (double const rate :
             daily_rates(takes, {.tmin = series.tmin, .tmax = series.tmax, .day_length = hours})) {
            sum += rate;
            made.sum.push_back(sum);
        }
    }
    return static_cast<int>(sums_.size()) - 1;
}

int season_model::wait_for(clock const& takes, int place, int air_id, int cold) {
    int const next = static_cast<int>(waits.size());
    if (!std::holds_alternative<clock_group>(takes.what())) {
        int const sums = sums_of(takes, place, air_id);
        auto const [found, is_new] =
            wait_ids_.try_emplace({sums, amount_of(takes), cold}, next);
        if (is_new) {
            waits.emplace_back(sums_[at(sums)], years, amount_of(takes),
                               cold == none ? nullptr : &colds_[at(cold)]);
        }
        return found->second;
    }
    for (grouped_clock const& one : grouped_) {
        if (one.place == place && one.air == air_id && one.cold == cold && one.whole == takes) {
            return one.wait;
        }
    }
    grouped_.push_back({takes, place, air_id, cold, next});
    std::span<double const> const hours = day_length_at(place);
    std::vector<ready_map> maps;
    maps.reserve(at(years));
    for (int y = 0; y < years; ++y) {
        air_series const& series = airs[at(air_id)].years[at(y)];
        ready_map map = make_ready_map(
            takes, {.tmin = series.tmin, .tmax = series.tmax, .day_length = hours});
        if (cold != none) {
            std::vector<int> nights;
            cold_nights const& ends = colds_[at(cold)];
            for (int d = ends.from(0, y); d < never; d = ends.from(d + 1, y)) {
                nights.push_back(d);
            }
            map = map.ended_by(nights);
        }
        maps.push_back(std::move(map));
    }
    waits.emplace_back(std::move(maps));
    return next;
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

void season_model::expect_sowings(int chain, day_span sown, std::vector<day_span> const& floors) {
    std::vector<stage_tables> const& all = chains[at(chain)].stages;
    day_span span = sown;
    for (std::size_t j = 0; j < all.size(); ++j) {
        if (!floors[j].empty()) {
            span = {std::max(span.first, floors[j].first), std::max(span.last, floors[j].last)};
        }
        span = {std::min(span.first, season_days), std::min(span.last, season_days)};
        if (span.empty()) { return; }
        wait_table& wait = waits[at(all[j].wait)];
        wait.expect_starts(span);
        span = wait.ready_span(span);
    }
}

day_span season_model::expect_targets(int chain, int last, day_span ends) {
    std::vector<stage_tables> const& all = chains[at(chain)].stages;
    day_span span = ends;
    for (int j = last - 1; j >= 0; --j) {
        wait_table& wait = waits[at(all[at(j)].wait)];
        wait.expect_ends(span);
        span = wait.latest_span(span);
    }
    return span;
}

void season_model::expect_links() {
    std::map<int, int> links;
    for (int wait : link_waits) { ++links[wait]; }
    for (auto const& [wait, count] : links) {
        if (count > season_days / days_a_succession) {
            waits[at(wait)].expect_starts({0, season_days});
        }
    }
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
    risk_key const asked{air_id, limit, half.first, half.last, from, share};
    {
        std::scoped_lock const lock{asked_lock_};
        if (auto const known = risk_days_.find(asked); known != risk_days_.end()) {
            return known->second;
        }
    }
    risk_day const found = count_risk_day(air_id, limit, half, from, share);
    std::scoped_lock const lock{asked_lock_};
    risk_days_.emplace(asked, found);
    return found;
}

risk_day season_model::count_risk_day(int air_id, double limit, half_span half, int from,
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
    std::pair<bool, int> const asked{first_frost, after_offset(after)};
    {
        std::scoped_lock const lock{asked_lock_};
        if (auto const known = frost_days_.find(asked); known != frost_days_.end()) {
            return known->second;
        }
    }
    std::vector<std::optional<int>> const dates = frost_dates(first_frost, after);
    chance const share = planned.parts().frost.share;
    std::optional<int> const found =
        first_frost ? empirical_offset_first(dates, share) : empirical_offset_last(dates, share);
    std::scoped_lock const lock{asked_lock_};
    frost_days_.emplace(asked, found);
    return found;
}

int season_model::frost_years(bool first_frost, std::optional<day> after) const {
    std::vector<std::optional<int>> const dates = frost_dates(first_frost, after);
    return static_cast<int>(
        std::count_if(dates.begin(), dates.end(), [](auto const& one) { return one.has_value(); }));
}

std::span<double const> season_model::minima(int air_id, int year, air_switches on) const {
    place_air const& place = airs[at(air_id)];
    if (place.place == outdoors || (on.heater && on.cover)) { return place.years[at(year)].tmin; }
    std::scoped_lock const lock{asked_lock_};
    auto const [found, is_new] = minima_.try_emplace({air_id, year, on.heater, on.cover});
    if (is_new) {
        found->second = make_air(planned.places()[at(place.place)].air, weather.tmin(year),
                                 weather.tmax(year), place.act_below, on)
                            .tmin;
    }
    return found->second;
}

}  // namespace epicotyl::detail
