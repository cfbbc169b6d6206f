// Numbers beyond any farm that a program gives, and the whole of the sentence that refuses each:
// the thing, the value, the bound and its unit, and what to do.
#include "catch.hpp"

#include <functional>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/epicotyl.hpp>
#include <epicotyl/fmt.hpp>

#include "plot_with_harvest.hpp"

using namespace epicotyl;

namespace {

double const nan_value = std::numeric_limits<double>::quiet_NaN();
double const infinite = std::numeric_limits<double>::infinity();
constexpr int largest = std::numeric_limits<int>::max();

struct refused {
    std::function<void()> asked;
    std::string_view message;
};

void check(std::vector<refused> const& all) {
    for (refused const& one : all) {
        std::string said = "accepted";
        try {
            one.asked();
        } catch (invalid_input const& fault) {
            CHECK_FALSE(fault.details().value.empty());
            CHECK_FALSE(fault.details().remedy.empty());
            said = fault.what();
        }
        CHECK(said == one.message);
    }
}

template <class... Values>
void drop(Values const&...) {}

daily_record level_record() {
    return {make_day(2000, 1, 1), std::vector<double>(800, 5.0), std::vector<double>(800, 15.0)};
}

/// A plan made in code, with one thing changed.
template <class Change>
std::function<void()> plan_with(Change const& change) {
    return [change] {
        plan_parts parts = parse_plan(plot::text).parts();
        change(parts);
        drop(plan{parts});
    };
}

plant_offer const trays{.plants_a_tray = 84, .breaks = {{1, 30.0}}};

}  // namespace

TEST_CASE("what operators make of temperatures is finite, or refused") {
    auto const kelvin = [](double value) {
        return temperature_span::from_kelvin(value);
    };
    auto const celsius = [](double value) {
        return temperature::from_celsius(value);
    };
    check({
        {[=] { drop(kelvin(1.0) * nan_value); },
         "temperature span: nan is not a number that can be used; give a finite number of K"},
        {[=] { drop(infinite * kelvin(1.0)); },
         "temperature span: inf is not a number that can be used; give a finite number of K"},
        {[=] { drop(kelvin(1.7e308) + kelvin(1.7e308)); },
         "temperature span: inf is not a number that can be used; give a finite number of K"},
        {[=] { drop(kelvin(-1.7e308) - kelvin(1.7e308)); },
         "temperature span: -inf is not a number that can be used; give a finite number of K"},
        {[=] { drop(celsius(1.7e308) + kelvin(1.7e308)); },
         "temperature: inf is not a number that can be used; give a finite number of °C"},
        {[=] { drop(celsius(-1.7e308) - kelvin(1.7e308)); },
         "temperature: -inf is not a number that can be used; give a finite number of °C"},
        {[=] { drop(celsius(1.7e308) - celsius(-1.7e308)); },
         "temperature span: inf is not a number that can be used; give a finite number of K"},
        {[] {
             drop(thermal_time::from_kelvin_days(1.7e308) +
                  thermal_time::from_kelvin_days(1.7e308));
         },
         "thermal time: inf is not a number that can be used; give a finite number of K day"},
    });
}

TEST_CASE("a plan made in code has the bounds of one that is read") {
    auto const too_warm = temperature_span::from_kelvin(1e306);
    check({
        {plan_with([=](plan_parts& p) { p.places[0].air.warmer_night = too_warm; }),
         "places.beds.warmer_night: no air is 1e+306 °C warmer than another (allowed: -60 to 60 "
         "°C); give a difference in °C, the unit of the plan"},
        {plan_with([=](plan_parts& p) { p.frost.at = temperature::from_celsius(-1e306); }),
         "site.frost.at: -1e+306 °C is no temperature of air or soil (allowed: -90 to 60 °C); give "
         "it in °C, the unit of the plan"},
        {plan_with([](plan_parts& p) {
             p.crops[0].stages[0].takes =
                 epicotyl::clock::heat({.amount = thermal_time::from_kelvin_days(380.0),
                                        .base = temperature::from_celsius(-1e306)});
         }),
         "crops.bean.stages[1].takes.base: -1e+306 °C is no temperature of air or soil (allowed: "
         "-90 to 60 °C); give it in °C, the unit of the plan"},
        {plan_with([](plan_parts& p) {
             p.crops[0].stages[0].takes = epicotyl::clock::any_of(
                 {epicotyl::clock::days(1.0), epicotyl::clock::days(1e300)});
         }),
         "crops.bean.stages[1].takes.any[2].days: 1e+300 days is more than a plan can hold "
         "(allowed: up to 36525 days); check the number and its unit"},
        {plan_with([](plan_parts& p) { p.crops[0].stages[0].survives = 1e-300; }),
         "crops.bean.stages[1].survives: where 1e-300 survives, nothing is worth sowing (allowed: "
         "0.001 to 1); give the share alive at the end of the stage, such as 0.9"},
        {plan_with([](plan_parts& p) { p.successions[0].amount.value = infinite; }),
         "succession[1].plants: inf plants is more than a plan can hold (allowed: up to 1000000000 "
         "plants); check the number and its unit"},
        {plan_with([](plan_parts& p) {
             p.units = unit_system::us;
             p.places[0].air.heat_to = temperature::from_celsius(200.0);
         }),
         "places.beds.heat_to: 392 °F is no temperature of air or soil (allowed: -130 to 140 °F); "
         "give it in °F, the unit of the plan"},
        {plan_with([](plan_parts& p) {
             p.successions[1].target = {"first_harvest", by_rule{make_day(2027, 8, 1)}};
             p.successions[1].repeat = repeat{366, 1};
             for (int i = 0; i < 2800; ++i) {
                 p.successions.push_back(p.successions[1]);
                 p.successions.back().name = fmt::format("run {}", i);
             }
         }),
         "succession[2735].repeat: with it the plan has 1000280 batches (allowed: up to 1000000 "
         "batches); repeat less often, or plan the farm in parts"},
        {plan_with([](plan_parts& p) {
             for (char const* const wave : {"first", "second"}) {
                 for (int i = 0; i < 1001; ++i) {
                     p.successions.push_back(p.successions[0]);
                     p.successions.back().name = fmt::format("{} {}", wave, i);
                     p.successions.back().wave = wave;
                 }
             }
             epicotyl::link const one{.first = {.wave = "first", .event = "sow"},
                                      .then = {.wave = "second", .event = "sow"},
                                      .after = epicotyl::clock::days(1.0)};
             p.links.assign(500, one);
         }),
         "link[500]: with it the links of the plan have 1001000 ends, waves spelled out (allowed: "
         "up to 1000000 ends); link one succession that stands for its wave, or make smaller "
         "waves"},
    });
}

TEST_CASE("weather beyond any place is refused") {
    climate const made{level_record(), latitude{51.9}, {.season_days = 360}};
    check({
        {[=] { drop(made.shifted(temperature_span::from_kelvin(-61.0))); },
         "by: a climate cannot be -61 K warmer (allowed: -60 to 60 K); give the difference to the "
         "record, such as 2 for a warmer year"},
        {[] { drop(climate(level_record(), latitude{51.9}, {.season_days = 1501})); },
         "season_days: 1501 days is no season (allowed: 1 to 1500 days); 550 days see a sown year "
         "and the spring after it; give 730 for plans with a winter in them"},
        {[] { drop(climate(level_record(), latitude{51.9}, {.max_gap = largest})); },
         "max_gap: gaps of 2147483647 days cannot be filled by a straight line (allowed: 0 to 31 "
         "days); 3 days are usual; 0 fills nothing"},
        {[] { drop(latitude{nan_value}); },
         "latitude: nan is out of range (allowed: -90 to 90 degrees north); give degrees, negative "
         "south of the equator"},
        {[] { drop(year_selection::latest(0)); },
         "years: 0 is no number of years (allowed: 1 to 9999 years); 30 years are usual"},
        {[] { drop(with_elevation_difference(level_record(), 1e300)); },
         "metres: 1e+300 is out of range (allowed: -5000 to 5000 m); give the height of the place "
         "over the station, negative below it"},
        {[] {
             drop(generate(model_from_normals({1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1},
                                              {9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9}),
                           make_day(2000, 1, 1), largest, 1));
         },
         "length: 2147483647 days cannot be generated (allowed: 1 to 4000000 days); 30 years are "
         "10957 days"},
        {[] { drop(coldest_night(level_record(), latitude{51.9}, nan_value)); },
         "in_years: nan is no number of years (allowed: 1 or more years); 10 asks for the coldest "
         "night in ten years"},
        {[] { drop(coldest_night(level_record(), latitude{51.9}, 10.0, {.max_missing = 400})); },
         "max_missing: 400 is out of range (allowed: 0 to 366 days); give how many minima of a "
         "winter may be missing"},
        {[] { drop(chance_band(4, 3, band_confidence{0.9})); },
         "counted: 4 of 3 years is no count (allowed: 0 to 3 years); give the years that had it, "
         "then all years"},
    });
}

TEST_CASE("heat and money beyond any farm are refused") {
    structure const tunnel{.surfaces = {{"film", 20.0, 5.0}}};
    auto const offered = [](auto const& change) {
        return [change] {
            plant_offer offer = trays;
            change(offer);
            drop(landed_cost(100, offer));
        };
    };
    check({
        {[=] { drop(lift_of(tunnel, 1e300)); },
         "watts: 1e+300 is no output of a heater (allowed: 0 to 1000000000 W); give its output, 0 "
         "for none"},
        {[] {
             drop(loss_per_kelvin({.surfaces = {{"film", nan_value, 5.0}}}));
         },
         "surfaces[1].area: nan is out of range (allowed: 0 to 1000000 m2); check the number and "
         "its unit"},
        {[=] {
             plot::ep::climate const under = plot::weather({{}, {}});
             drop(heat_of_season(tunnel, {.heat_to = temperature::from_celsius(8.0)}, under,
                                 season{make_day(2027, 1, 1), 365}, make_day(2027, 1, 1),
                                 make_day(2027, 2, 1), {.per_kwh = infinite}));
         },
         "per_kwh: inf is no price (allowed: 0 to 1000000000); give what a kWh costs"},
        {[=] {
             plot::ep::climate const under = plot::weather({{}, {}});
             drop(heat_of_season(tunnel, {.heat_to = temperature::from_celsius(8.0)}, under,
                                 season{make_day(2027, 1, 1), 365}, make_day(2027, 1, 1),
                                 make_day(2027, 2, 1), {.per_kwh = 0.3, .efficiency = 1e-300}));
         },
         "efficiency: 1e-300 is no efficiency (allowed: 0.01 to 100); 1 for an electric heater in "
         "the place"},
        {[] { drop(landed_cost(1'000'000'000'000, trays)); },
         "plants: 1000000000000 is no number of plants here (allowed: 0 to 1000000000 plants); "
         "give a whole number of plants"},
        {offered([](plant_offer& o) { o.survives = chance{1e-300}; }),
         "survives: where 1e-300 is left, nothing has a price (allowed: 0.001 to 1); give a share, "
         "such as 0.9 for 90 in 100"},
        {offered([](plant_offer& o) { o.breaks[0].price = infinite; }),
         "breaks[1].price: inf is no price (allowed: 0 to 1000000000); give what it costs, 0 for "
         "nothing"},
        {[] {
             drop(cost_of_raising({.containers = {{1.0, 1.0, 1e300}}}, 1, chance{1.0}));
         },
         "containers[1].seasons: 1e+300 seasons are no life (allowed: 1 to 1000 seasons); give the "
         "seasons that one lasts"},
        {[] { drop(break_even_usable(1.0, 1, 1e-300)); },
         "price: 1e-300 is no price to break even with (allowed: 1e-06 to 1000000000); give the "
         "price of one plant, landed"},
        {[] { drop(seeds_in(1e300, 100.0)); },
         "grams: 1e+300 is no weight of seed (allowed: 0 to 1e+10 g); give the weight of the seed"},
    });
}

TEST_CASE("questions beyond any season are refused") {
    plot::ep::climate const under = plot::weather({{}, {}});
    plan const planned = parse_plan(plot::text);
    auto const staggered_by = [&](auto const& change) {
        stagger_options wanted{.first = make_day(2027, 6, 14), .last = make_day(2027, 9, 20)};
        change(wanted);
        drop(stagger(planned, under, "bean", wanted));
    };
    check({
        {[&] { staggered_by([](stagger_options& o) { o.every = largest; }); },
         "every: harvests 2147483647 days apart are no sequence (allowed: 1 to 1500 days); give "
         "the days between harvests, such as 7"},
        {[&] { staggered_by([](stagger_options& o) { o.count = largest; }); },
         "count: 2147483647 harvests do not fit into 99 days (allowed: 1 to 99); want fewer, or "
         "give a longer span"},
        {[&] {
             staggered_by([](stagger_options& o) {
                 o.every = 7;
                 o.day_length_at_least = nan_value;
             });
         },
         "day_length_at_least: nan is no length of a day (allowed: 0 to 24 hours); give hours, "
         "such as 10"},
        {[&] { drop(simulate(schedule(planned, under), under, largest)); },
         "threads: 2147483647 threads cannot be started (allowed: 0 to 1024 threads); give 0 for "
         "as many as the machine has"},
        {[&] {
             drop(sweep(planned, under, {{"nothing", {}}}));
         },
         "nothing: there is no change on this axis (allowed: 1 or more changes); give one or more, "
         "or leave the axis out"},
        {[&] { drop(fit_to_space(planned, under, {.weights = {.split = nan_value}})); },
         "weights.split: nan is no price of a move (allowed: 0 to 1000000); give 0 for what costs "
         "nothing; only proportions count"},
        {[&] { drop(fit_to_space(planned, under, {.most_shift = largest})); },
         "most_shift: a target cannot give way by 2147483647 days (allowed: 0 to 60 days); give "
         "the most days that it may, 0 for none"},
        {[&] { drop(fit_to_space(planned, under, {.seconds = nan_value})); },
         "seconds: nan seconds is no limit (allowed: 0 or more s); give the most time, or leave it "
         "out"},
        {[] { drop(yield_shape::box(1e300)); },
         "length: 1e+300 is no extent of a harvest (allowed: 0.001 to 1000000 days or K day); give "
         "the days, or the heat, that the harvest takes"},
        {[] { drop(yield_shape::weibull(nan_value, 10.0)); },
         "shape: nan is no shape of a Weibull curve (allowed: 0.01 to 100); give 1 for a fall from "
         "the first day on, more for a rise before it; 2 to 3 make a hump"},
        {[] { validate({.shape = yield_shape::box(20.0), .units_per_plant = infinite}); },
         "units_per_plant: inf is nothing that a plant gives (allowed: 0 to 1000000); give what "
         "one plant yields over its whole harvest"},
        {[] { drop(epicotyl::clock::days(nan_value)); },
         "days: nan days cannot be waited (allowed: 0 or more days); give the number of days to "
         "wait"},
        {[] { drop(epicotyl::clock::days(1.0).gated({.hours = infinite})); },
         "day_length_at_least: no day has inf hours (allowed: 0 to 24 hours); give the day length "
         "that opens the gate"},
    });
}
