#include <epicotyl/heat/heat_curve.hpp>
#include <epicotyl/plan/plan.hpp>

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../detail/text_table.hpp"
#include "../detail/wrapped.hpp"

namespace epicotyl {

namespace {

plan with_set_point(plan const& of, int place, temperature heat_to) {
    plan_parts parts = of.parts();
    parts.places[static_cast<std::size_t>(place)].air.heat_to = heat_to;
    return plan{std::move(parts)};
}

/// The plan's successions, each to be sown on the day that `planned` gives it, followed without
/// bounds and links. One that has no day is left out.
plan sown_as_planned(calendar const& planned) {
    plan const& of = planned.plan();
    plan_parts parts = of.parts();
    std::vector<succession> sown;
    for (std::size_t i = 0; i < of.successions().size(); ++i) {
        resolved_succession const& one = of.successions()[i];
        std::optional<day> const when = planned.date(static_cast<int>(i), 0);
        if (!when) { continue; }
        succession alone = parts.successions[static_cast<std::size_t>(one.source)];
        alone.name = one.name;
        alone.id = one.id;
        alone.target = {std::string{event_name(*one.grown, 0)}, on_rule{*when}};
        alone.not_before.clear();
        alone.not_after.clear();
        alone.risk = risk_setting::off();
        alone.repeat.reset();
        alone.follows.clear();
        alone.gap = 0;
        sown.push_back(std::move(alone));
    }
    parts.successions = std::move(sown);
    parts.links.clear();
    for (place& one : parts.places) { one.open.reset(); }
    for (crop& one : parts.crops) {
        one.not_before.clear();
        one.not_after.clear();
    }
    return plan{std::move(parts)};
}

bool stands_in(resolved_succession const& one, int place) {
    return std::find(one.places.begin(), one.places.end(), place) != one.places.end();
}

class curve_maker {
public:
    curve_maker(plan const& of, climate const& years, int place)
        : plan_{of}, years_{years}, place_{place}, sown_{sown_as_planned(schedule(of, years))} {}

    [[nodiscard]] std::vector<heated_batch> batches(temperature heat_to) const {
        prospect const growing =
            simulate(schedule(with_set_point(sown_, place_, heat_to), years_), years_);
        calendar const anew = schedule(with_set_point(plan_, place_, heat_to), years_);
        prospect const then = simulate(anew, years_);
        std::vector<heated_batch> found;
        for (std::size_t i = 0; i < plan_.successions().size(); ++i) {
            resolved_succession const& one = plan_.successions()[i];
            if (!stands_in(one, place_)) { continue; }
            heated_batch batch{.succession = one.name,
                               .event = std::string{event_name(*one.grown, one.target_event)},
                               .sow = anew.date(static_cast<int>(i), 0)};
            follow(batch, growing);
            damage_report const cold = then.damage(one.name);
            batch.years = years_.size();
            if (batch.sow) {
                batch.damaged = cold.damaged;
                batch.damaged_heater_off = cold.damaged_heater_off;
            }
            found.push_back(std::move(batch));
        }
        return found;
    }

private:
    /// The ready days of a batch that has a sowing day.
    void follow(heated_batch& batch, prospect const& growing) const {
        for (resolved_succession const& one : sown_.successions()) {
            if (one.name != batch.succession) { continue; }
            batch.ready = growing.days(batch.succession, batch.event);
            batch.usual_ready =
                growing.quantile(batch.succession, batch.event, quantile_level{0.5});
        }
    }

    plan const& plan_;
    climate const& years_;
    int place_;
    plan sown_;
};

std::string degrees(unit_system units, temperature at) {
    return units == unit_system::metric ? fmt::format("{:.1f} °C", at.celsius())
                                        : fmt::format("{:.0f} °F", at.fahrenheit());
}

}  // namespace

heat_curve_result heat_curve(plan const& of, climate const& years, std::string_view place,
                             structure const& made_of, std::vector<temperature> const& set_points,
                             day from, day until, heat_price const& price,
                             std::optional<double> watts) {
    int const index = of.place_index(place);
    if (set_points.empty()) {
        throw invalid_input{{.code = "heat_curve.no_set_point",
                             .field = "set_points",
                             .value = "none",
                             .bound = "1 or more",
                             .problem = "no set point is asked about",
                             .remedy = "give the temperatures to compare"}};
    }
    heat_curve_result found{.place = of.places()[static_cast<std::size_t>(index)].name,
                            .units = of.parts().units};
    for (temperature const heat_to : set_points) {
        found.points.push_back({.heat_to = heat_to,
                                .heat = heat_of_season(made_of, of, years, place, from, until,
                                                       heat_to, price, watts)});
    }
    found.heater = found.points.front().heat.heater;
    curve_maker const maker{of, years, index};
    for (heat_point& point : found.points) { point.batches = maker.batches(point.heat_to); }
    return found;
}

std::string to_string(heat_curve_result const& of) {
    std::string text = fmt::format("{} by its set point\n", of.place);
    for (heat_point const& point : of.points) {
        year_heat const usual = point.heat.usual();
        text += fmt::format("heated to {}: usually {:.0f} kWh, {:.2f}{}{}\n",
                            degrees(of.units, point.heat_to), usual.kwh, usual.cost,
                            point.heat.currency.empty() ? "" : " ", point.heat.currency);
        if (point.batches.empty()) { continue; }
        detail::text_table table;
        table.add({"succession", "ready", "sown anew", "damage", "heater off"});
        for (heated_batch const& one : point.batches) {
            table.add({one.succession,
                       one.usual_ready ? to_day_month(*one.usual_ready, of.units) : "never",
                       one.sow ? to_day_month(*one.sow, of.units) : "no workable date",
                       one.sow ? fmt::format("{} of {}", one.damaged, one.years) : "",
                       one.sow ? fmt::format("{} of {}", one.damaged_heater_off, one.years) : ""});
        }
        text += table.text();
    }
    text += "ready: sown on the days planned at first; damage by cold: planned anew\n";
    text += detail::wrapped(to_string(of.heater) + "\n");
    return text + cautions_text(told_by::heat_curve, of.units);
}

}  // namespace epicotyl
