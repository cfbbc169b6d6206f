#include <epicotyl/heat/heat_season.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>
#include <epicotyl/clock/degree_days.hpp>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../detail/wrapped.hpp"

namespace epicotyl {

namespace {

/// Of a heater that warms the neighbours, and of the best heat pump.
constexpr double least_efficiency = 0.01;
constexpr double best_efficiency = 100.0;
constexpr double hours_a_day = 24.0;
constexpr double watts_per_kilowatt = 1000.0;

/// Area of a day's sine below a temperature [K day].
double below(double low, double high, double at) {
    return at - (low + high) / 2.0 + detail::sine_excess(low, high, at).area;
}

void require_days(season const& window, day from, day until) {
    for (auto const& [field, when] : {std::pair{"from", from}, std::pair{"until", until}}) {
        if (window.start() <= when && when < window.start() + days{window.length()}) { continue; }
        throw invalid_input{
            {.code = "day.outside_season",
             .field = field,
             .value = to_iso(when),
             .bound = fmt::format("{} to {}", to_iso(window.start()),
                                  to_iso(window.start() + days{window.length() - 1})),
             .problem = fmt::format("{} is outside the season", to_iso(when)),
             .remedy = "heat on days of the season"}};
    }
    if (from > until) {
        throw invalid_input{{.code = "days.order",
                             .field = "until",
                             .value = to_iso(until),
                             .bound = fmt::format("{} or later", to_iso(from)),
                             .problem = "the last day comes before the first",
                             .remedy = "give the earlier day first"}};
    }
}

void require_price(heat_price const& price) {
    if (!(price.per_kwh >= 0.0 && price.per_kwh <= highest_price)) {
        throw invalid_input{{.code = "cost.price",
                             .field = "per_kwh",
                             .value = fmt::format("{}", price.per_kwh),
                             .bound = fmt::format("0 to {:.0f}", highest_price),
                             .problem = fmt::format("{} is no price", price.per_kwh),
                             .remedy = "give what a kWh costs"}};
    }
    if (!(price.efficiency >= least_efficiency && price.efficiency <= best_efficiency)) {
        throw invalid_input{{.code = "heater.efficiency",
                             .field = "efficiency",
                             .value = fmt::format("{}", price.efficiency),
                             .bound = fmt::format("{} to {}", least_efficiency, best_efficiency),
                             .problem = fmt::format("{} is no efficiency", price.efficiency),
                             .remedy = "1 for an electric heater in the place"}};
    }
}

void require_heater(air const& place) {
    if (place.heat_to && !place.steady) { return; }
    throw invalid_input{{.code = "place.no_set_point",
                         .field = "heat_to",
                         .value = place.steady ? "day and night are held" : "none",
                         .bound = "a place with heat_to",
                         .problem = "the heat of this place does not depend on a set point",
                         .remedy = place.steady ? "a mat or chamber is read off its own meter"
                                                : "give the place a heater: heat_to"}};
}

}  // namespace

double heating_kelvin_days(double low, double high, double heat_to, double lift) {
    double const all = below(low, high, heat_to);
    return std::isfinite(lift) ? all - below(low, high, heat_to - lift) : all;
}

year_heat season_heat::quantile(quantile_level q) const {
    std::vector<year_heat> sorted = years;
    std::sort(sorted.begin(), sorted.end(), [](year_heat const& a, year_heat const& b) {
        return a.kwh != b.kwh ? a.kwh < b.kwh : a.year < b.year;
    });
    double const wanted =
        std::ceil(q.value() * static_cast<double>(sorted.size()) - detail::nearly_nothing);
    return sorted.at(static_cast<std::size_t>(std::max(1.0, wanted)) - 1);
}

season_heat heat_of_season(structure const& of, air const& place, climate const& years,
                           season const& window, day from, day until, heat_price const& price,
                           std::optional<double> watts) {
    double const loss = loss_per_kelvin(of);
    require_heater(place);
    require_price(price);
    require_days(window, from, until);
    if (years.season_days() != window.length()) {
        throw invalid_input{{.code = "climate.season_days",
                             .field = "climate",
                             .value = fmt::format("{}", years.season_days()),
                             .bound = fmt::format("{}", window.length()),
                             .unit = "days",
                             .problem = "plan and climate have seasons of different length",
                             .remedy = "cut the climate with the plan's season"}};
    }
    double const lift =
        place.heat_lift ? place.heat_lift->kelvin() : std::numeric_limits<double>::infinity();
    auto const first = static_cast<std::size_t>((from - window.start()).count());
    auto const last = static_cast<std::size_t>((until - window.start()).count());
    season_heat found{.from = from,
                      .until = until,
                      .heat_to = *place.heat_to,
                      .loss = loss,
                      .currency = price.currency,
                      .heater = match_heater(of, place, watts)};
    for (int i = 0; i < years.size(); ++i) {
        year_heat one{.year = years.years()[static_cast<std::size_t>(i)]};
        double sum = 0.0;
        for (std::size_t d = first; d <= last; ++d) {
            double const low = years.tmin(i)[d] + place.warmer_night.kelvin();
            double const high = std::max(low, years.tmax(i)[d] + place.warmer_day.kelvin());
            double const given = heating_kelvin_days(low, high, place.heat_to->celsius(), lift);
            sum += given;
            double const short_of = std::clamp(place.heat_to->celsius() - low, 0.0, lift);
            found.peak = std::max(found.peak, loss * short_of);
            if (given > detail::nearly_nothing) { ++one.days; }
        }
        one.kwh = loss * hours_a_day * sum / watts_per_kilowatt;
        one.cost = one.kwh / price.efficiency * price.per_kwh;
        found.years.push_back(one);
    }
    return found;
}

season_heat heat_of_season(structure const& of, plan const& planned, climate const& years,
                           std::string_view place, day from, day until,
                           std::optional<temperature> heat_to, heat_price const& price,
                           std::optional<double> watts) {
    int const index = planned.place_index(place);
    air warmed = planned.places()[static_cast<std::size_t>(index)].air;
    if (heat_to) { warmed.heat_to = heat_to; }
    season_heat found =
        heat_of_season(of, warmed, years, planned.window(), from, until, price, watts);
    found.units = planned.parts().units;
    found.heater.units = found.units;
    return found;
}

std::string to_string(season_heat const& of) {
    auto const money = [&](double value) {
        return fmt::format("{:.2f}{}{}", value, of.currency.empty() ? "" : " ", of.currency);
    };
    bool const metric = of.units == unit_system::metric;
    std::string const held = metric ? fmt::format("{:.1f}", of.heat_to)
                                    : fmt::format("{:.0f} °F", of.heat_to.fahrenheit());
    std::string text = fmt::format("heated to {} from {} to {}, {:.0f} W/{}, {} season years\n",
                                   held, to_iso(of.from), to_iso(of.until),
                                   metric ? of.loss : of.loss / fahrenheit_per_kelvin,
                                   metric ? "K" : "°F", of.years.size());
    for (auto const& [word, q] :
         {std::pair{"1 year in 10 takes no more than", 0.1}, std::pair{"the usual year takes", 0.5},
          std::pair{"9 years in 10 take no more than", 0.9}}) {
        year_heat const one = of.quantile(quantile_level{q});
        text += fmt::format("{} {:.0f} kWh, {}\n", word, one.kwh, money(one.cost));
    }
    text += fmt::format("the coldest of these nights asks the heater for {}\n{}\n",
                        say_watts(of.peak), to_string(of.heater));
    return detail::wrapped(text) + cautions_text(told_by::heat_of_season, of.units);
}

}  // namespace epicotyl
