// Heat losses, heaters, cold nights and gains, by hand and against printed cases.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include <epicotyl/cautions.hpp>
#include <epicotyl/heat/coldest_night.hpp>
#include <epicotyl/heat/fit_air.hpp>
#include <epicotyl/heat/heat.hpp>
#include <epicotyl/heat/heat_season.hpp>
#include <epicotyl/heat/heater.hpp>
#include <epicotyl/weather/climate.hpp>

using namespace epicotyl;

namespace {

double const nan_value = std::numeric_limits<double>::quiet_NaN();

template <class Asked>
std::string fault(Asked const& asked) {
    try {
        (void)asked();
    } catch (invalid_input const& refused) {
        CHECK_FALSE(refused.details().remedy.empty());
        CHECK_FALSE(refused.details().bound.empty());
        return refused.code() + " " + refused.details().field;
    }
    return "accepted";
}

temperature celsius(double value) {
    return temperature::from_celsius(value);
}

/// 100 W/K through film, 33 W/K with the air.
structure const tunnel{.surfaces = {{"film", 20.0, 5.0}}, .volume = 100.0, .air_changes = 1.0};

daily_record constant_record(day start, int length, double low, double high) {
    return daily_record{start, std::vector<double>(static_cast<std::size_t>(length), low),
                        std::vector<double>(static_cast<std::size_t>(length), high)};
}

}  // namespace

TEST_CASE("the worked case of a general calculator: 2,688 square feet of double film, 50 °F") {
    structure house{.surfaces = {{"film", 2688.0 * square_metres_per_square_foot,
                                  u_of(glazing::double_polyethylene)}}};
    auto const inside = temperature::from_fahrenheit(60.0);
    auto const outside = temperature::from_fahrenheit(10.0);
    CHECK(heat_loss(house, inside, outside) / watts_per_btu_an_hour ==
          Approx(94'080.0).epsilon(1e-12));
    house.allowance = 0.15;
    CHECK(heat_loss(house, inside, outside) / watts_per_btu_an_hour ==
          Approx(108'192.0).epsilon(1e-12));
}

TEST_CASE("U values of glazings, from US units") {
    CHECK(u_per_us_u == Approx(5.678263).margin(5e-7));
    CHECK(u_of(glazing::single_glass) == Approx(6.42).margin(0.005));
    CHECK(u_of(glazing::double_polyethylene) == Approx(3.97).margin(0.005));
    CHECK(u_of(glazing::twin_wall_8mm) == Approx(3.29).margin(0.005));
    CHECK(u_of(glazing::triple_wall) == Approx(2.16).margin(0.005));
}

TEST_CASE("a kilowatt is 3412.14 Btu an hour, and air takes 0.018 Btu a cubic foot and °F") {
    CHECK(1000.0 / watts_per_btu_an_hour == Approx(3412.14).margin(0.005));
    CHECK(air_watt_hours / watts_per_btu_an_hour * cubic_metres_per_cubic_foot /
              fahrenheit_per_kelvin ==
          Approx(0.018).margin(0.0005));
    CHECK(1.2 * 1005.0 / 3600.0 == Approx(air_watt_hours).margin(0.0051));
}

TEST_CASE("what is lost rises with the difference, and a heater stands against as much") {
    CHECK(loss_per_kelvin(tunnel) == Approx(133.0));
    CHECK(heat_loss(tunnel, celsius(5.0), celsius(-5.0)) == Approx(1330.0));
    CHECK(heat_loss(tunnel, celsius(5.0), celsius(5.0)) == 0.0);
    CHECK(heat_loss(tunnel, celsius(5.0), celsius(9.0)) == 0.0);
    CHECK(coldest_outdoors(tunnel, celsius(5.0), 1330.0).celsius() == Approx(-5.0));
    CHECK(coldest_outdoors(tunnel, celsius(5.0), 0.0) == celsius(5.0));
    CHECK(lift_of(tunnel, 266.0).kelvin() == Approx(2.0));
    for (double outside = -40.0; outside < 5.0; outside += 1.5) {
        double const watts = heat_loss(tunnel, celsius(5.0), celsius(outside));
        CHECK(coldest_outdoors(tunnel, celsius(5.0), watts).celsius() == Approx(outside));
    }
}

TEST_CASE("structures out of range are refused with all parts") {
    auto const refused = [](structure const& of) {
        return fault([&] { return loss_per_kelvin(of); });
    };
    CHECK(refused({}) == "structure.loses_nothing surfaces");
    CHECK(refused({.surfaces = {{"a", 1.0, 1.0}, {"b", -1.0, 1.0}}}) ==
          "structure.out_of_range surfaces[2].area");
    CHECK(refused({.surfaces = {{"a", 1.0, nan_value}}}) == "structure.out_of_range surfaces[1].u");
    CHECK(refused({.volume = -1.0}) == "structure.out_of_range volume");
    CHECK(refused({.volume = 1.0, .air_changes = 1e9}) == "structure.out_of_range air_changes");
    CHECK(refused({.allowance = 15.0}) == "structure.out_of_range allowance");
    CHECK(fault([] { return lift_of(tunnel, -1.0); }) == "heater.watts watts");
    CHECK(fault([] { return coldest_outdoors(tunnel, celsius(5.0), nan_value); }) ==
          "heater.watts watts");
}

TEST_CASE("a day below the set point takes the whole difference, a warm one nothing") {
    double const any = std::numeric_limits<double>::infinity();
    CHECK(heating_kelvin_days(-6.0, 2.0, 5.0, any) == Approx(7.0));
    CHECK(heating_kelvin_days(5.0, 12.0, 5.0, any) == Approx(0.0).margin(1e-12));
    // Half of the sine of 0 to 10 °C lies below 5 °C: amplitude 5 / pi.
    CHECK(heating_kelvin_days(0.0, 10.0, 5.0, any) ==
          Approx(5.0 / 3.14159265358979).epsilon(1e-12));
    CHECK(heating_kelvin_days(-6.0, -6.0, 5.0, 4.0) == Approx(4.0));
    CHECK(heating_kelvin_days(-6.0, 2.0, 5.0, 40.0) == Approx(7.0));
}

TEST_CASE("the heat of a season is that of its days, and costs its price") {
    // Ten years of -4 to 0 °C; in the place 1 K warmer by night and 3 K by day: -3 to 3, mean 0.
    climate const years{constant_record(make_day(2000, 1, 1), 3700, -4.0, 0.0),
                        latitude{50.0},
                        {.season_days = 300}};
    season const window{make_day(2027, 1, 1), 300};
    air place{.warmer_night = temperature_span::from_kelvin(1.0),
              .warmer_day = temperature_span::from_kelvin(3.0),
              .heat_to = celsius(6.0)};
    heat_price const price{.per_kwh = 0.30, .efficiency = 0.75, .currency = "EUR"};
    auto const heat = heat_of_season(tunnel, place, years, window, make_day(2027, 1, 1),
                                     make_day(2027, 1, 10), price);
    REQUIRE(heat.years.size() == static_cast<std::size_t>(years.size()));
    // Ten days of 6 K: 133 W/K * 6 K * 240 h.
    CHECK(heat.usual().kwh == Approx(133.0 * 6.0 * 240.0 / 1000.0));
    CHECK(heat.usual().cost == Approx(133.0 * 6.0 * 240.0 / 1000.0 / 0.75 * 0.30));
    CHECK(heat.usual().days == 10);
    std::string const text = to_string(heat);
    CHECK(text.find("the usual year takes 192 kWh, 76.61 EUR") != std::string::npos);
    CHECK(text.find("caution: No unattended combustion heaters") != std::string::npos);

    place.heat_lift = temperature_span::from_kelvin(2.0);
    CHECK(heat_of_season(tunnel, place, years, window, make_day(2027, 1, 1), make_day(2027, 1, 10))
              .usual()
              .kwh == Approx(133.0 * 2.0 * 240.0 / 1000.0));
}

TEST_CASE("a season's heat needs a set point, days of the season and a price") {
    climate const years{constant_record(make_day(2000, 1, 1), 3700, -4.0, 0.0),
                        latitude{50.0},
                        {.season_days = 300}};
    season const window{make_day(2027, 1, 1), 300};
    air const heated{.heat_to = celsius(6.0)};
    auto const refused = [&](air const& place, day from, day until, heat_price const& price = {}) {
        return fault(
            [&] { return heat_of_season(tunnel, place, years, window, from, until, price); });
    };
    day const first = make_day(2027, 1, 1);
    CHECK(refused(heated, first, first) == "accepted");
    CHECK(refused({}, first, first) == "place.no_set_point heat_to");
    CHECK(refused({.steady = steady_air{celsius(20.0), celsius(18.0)}}, first, first) ==
          "place.no_set_point heat_to");
    CHECK(refused(heated, make_day(2026, 12, 31), first) == "day.outside_season from");
    CHECK(refused(heated, first, make_day(2027, 10, 28)) == "day.outside_season until");
    CHECK(refused(heated, make_day(2027, 1, 2), first) == "days.order until");
    CHECK(refused(heated, first, first, {.per_kwh = -1.0}) == "cost.price per_kwh");
    CHECK(refused(heated, first, first, {.efficiency = 0.0}) == "heater.efficiency efficiency");
    CHECK(fault([&] {
              return heat_of_season(tunnel, heated, years, season{first, 200}, first, first);
          }) == "climate.season_days climate");
}

TEST_CASE("the coldest night in k years stands in its place among the winters") {
    // Winters of 2000 to 2028, 29 of them, whose lowest minima are -1, -2 ... -29.
    day const start = make_day(2000, 7, 1);
    auto const length = static_cast<std::size_t>((make_day(2029, 7, 1) - start).count());
    std::vector<double> low(length, 5.0);
    for (int k = 0; k < 29; ++k) {
        low[static_cast<std::size_t>((make_day(2001 + k, 1, 15) - start).count())] = -1.0 - k;
    }
    daily_record const record{start, low, std::vector<double>(length, 10.0)};
    auto const cold = coldest_night(record, latitude{50.0}, 10.0);
    CHECK(cold.winters.size() == 29);
    CHECK(cold.winters.front() == winter_low{2000, celsius(-1.0)});
    CHECK(*cold.night == celsius(-27.0));  // third of 29: 30 / 10
    CHECK(coldest_night(record, latitude{50.0}, 30.0).night == celsius(-29.0));
    CHECK(coldest_night(record, latitude{50.0}, 31.0).night == std::nullopt);
    CHECK(coldest_night(record, latitude{50.0}, 2.0).night == celsius(-15.0));
    CHECK(coldest_night(record, latitude{50.0}, 2.0, {.years = 9}).night == celsius(-25.0));
    CHECK(coldest_night(record, latitude{50.0}, 1.0).night == celsius(-1.0));
    // P(none of 29 in a chance of 1 in 10) = 0.9^29 = 0.047, more than 0.025: open on the cold
    // side.
    CHECK(cold.low == std::nullopt);
    // P(6 or more of 29) = 0.064, P(7 or more) = 0.022: the seventh.
    CHECK(*cold.high == celsius(-23.0));
}

TEST_CASE(
    "a winter that lacks minima does not count, and south of the equator years begin in January") {
    day const start = make_day(2000, 1, 1);
    std::vector<double> low(366 + 365 + 365, 4.0);
    for (std::size_t i = 0; i < 11; ++i) { low[400 + i] = nan_value; }
    low[380] = -3.0;
    low[900] = -2.0;
    daily_record const record{start, low, std::vector<double>(low.size(), 10.0)};
    auto const south = coldest_night(record, latitude{-35.0}, 2.0);
    REQUIRE(south.winters.size() == 2);  // 2001 lacks eleven
    CHECK(south.winters[1] == winter_low{2002, celsius(-2.0)});
    CHECK(coldest_night(record, latitude{-35.0}, 2.0, {.max_missing = 11}).winters.size() == 3);
    CHECK(fault([&] { return coldest_night(record, latitude{50.0}, 0.5); }) ==
          "extreme.in_years in_years");
    CHECK(fault([&] { return coldest_night(record, latitude{50.0}, 2.0, {.years = -1}); }) ==
          "extreme.years years");
    CHECK(fault([&] { return coldest_night(record, latitude{50.0}, 2.0, {.max_missing = -1}); }) ==
          "extreme.max_missing max_missing");
    daily_record const brief{start, std::vector<double>(30, 1.0), std::vector<double>(30, 2.0)};
    CHECK(fault([&] { return coldest_night(brief, latitude{50.0}, 2.0); }) ==
          "extreme.no_winter record");
}

TEST_CASE("a logged gain is the mean of its nights, with its standard error") {
    // Gains 2, 3, 4 and 7: mean 4, deviations -2, -1, 0, 3, s^2 = 14 / 3.
    std::vector<double> const outside = {-4.0, nan_value, 0.0, 2.0, -2.0, 1.0};
    std::vector<double> const inside = {-2.0, 5.0, 3.0, 6.0, 5.0, nan_value};
    auto const fit = fit_air(inside, outside);
    CHECK(fit.nights == 4);
    CHECK(fit.gain.kelvin() == Approx(4.0));
    CHECK(fit.error->kelvin() == Approx(std::sqrt(14.0 / 3.0 / 4.0)));
    CHECK(fit.middle.kelvin() == Approx(3.5));
    // Away from 3.5: 1.5, 0.5, 0.5, 3.5, median 1.
    CHECK(fit.middle_error->kelvin() == Approx(1.2533 * 1.4826 / 2.0));
    // Outside -4, 0, 2, -2 (mean -1), inside -2, 3, 6, 5 (mean 3): 15 + 0 + 9 - 2 = 22, over 20.
    CHECK(*fit.slope == Approx(22.0 / 20.0));
    // Inside 25 + 0 + 9 + 4 = 38; left over 38 - 24.2 = 13.8, by 2 and 20.
    CHECK(*fit.slope_error == Approx(std::sqrt(13.8 / 2.0 / 20.0)));
}

TEST_CASE("one night tells a gain and no error, and still air outside no slope") {
    std::vector<double> const inside = {3.0};
    std::vector<double> const outside = {1.0};
    auto const one = fit_air(inside, outside);
    CHECK(one.gain.kelvin() == 2.0);
    CHECK_FALSE(one.error.has_value());
    CHECK_FALSE(one.slope.has_value());
    std::vector<double> const still = {1.0, 1.0, 1.0};
    std::vector<double> const warm = {3.0, 4.0, 5.0};
    CHECK_FALSE(fit_air(warm, still).slope.has_value());
    std::vector<double> const none = {nan_value};
    CHECK(fault([&] { return fit_air(none, outside); }) == "fit_air.no_night inside");
    CHECK(fault([&] { return fit_air(warm, outside); }) == "fit_air.lengths outside");
    std::vector<double> const endless = {std::numeric_limits<double>::infinity()};
    CHECK(fault([&] { return fit_air(inside, endless); }) == "fit_air.infinite outside");
}

// Common practice, no source.
TEST_CASE("an unheated tunnel of double film is 5 °F warmer at night, which is 2.78 K") {
    std::vector<night_layer> const tunnel_layers = {night_layer::double_film};
    auto const gain = guess_night_gain(tunnel_layers);
    CHECK(gain.usual.fahrenheit() == Approx(5.0).epsilon(1e-12));
    CHECK(gain.usual.kelvin() == Approx(2.78).margin(0.005));
    CHECK(gain.low < gain.usual);
    CHECK(gain.usual < gain.high);
}

TEST_CASE("layers add up, and a cover alone stays within what a handbook says of covers") {
    std::vector<night_layer> const both = {night_layer::double_film, night_layer::light_fabric};
    auto const gain = guess_night_gain(both);
    CHECK(gain.low.kelvin() == Approx(2.0));
    CHECK(gain.high.kelvin() == Approx(7.0));
    for (night_layer const cover : {night_layer::light_fabric, night_layer::heavy_fabric}) {
        std::vector<night_layer> const alone = {cover};
        CHECK(guess_night_gain(alone).low.kelvin() >= 1.0);
        CHECK(guess_night_gain(alone).high.kelvin() <= 5.0);
    }
    CHECK(guess_night_gain({}).usual.kelvin() == 0.0);
}

TEST_CASE("lift, structure and watts are one thing: P = (UA + 0.33 n V) dT") {
    // 133 W/K: ten kelvin take 1330 W.
    air const place{.heat_to = celsius(5.0), .heat_lift = temperature_span::from_kelvin(10.0)};
    CHECK(watts_for(tunnel, temperature_span::from_kelvin(10.0)) == Approx(1330.0));
    heater_match const untold = match_heater(tunnel, place);
    CHECK(untold.needs().value() == Approx(1330.0));
    CHECK_FALSE(untold.holds().has_value());
    CHECK(untold.agrees());
    CHECK(match_heater(tunnel, place, 1330.0).agrees());
    // 0.05 K of a small lift, 2 in 100 of a large one.
    air const weak{.heat_to = celsius(5.0), .heat_lift = temperature_span::from_kelvin(1.0)};
    CHECK(match_heater(tunnel, weak, 1.04 * 133.0).agrees());
    CHECK_FALSE(match_heater(tunnel, weak, 1.06 * 133.0).agrees());
    CHECK(match_heater(tunnel, place, 1330.0 * 1.019).agrees());
    CHECK_FALSE(match_heater(tunnel, place, 1330.0 * 0.979).agrees());
    CHECK_FALSE(match_heater(tunnel, {.heat_to = celsius(5.0)}, 1e6).agrees());
    CHECK(to_string(match_heater(tunnel, place, 665.0)) ==
          "note: the plan counts on a lift of 10.0 °C, which takes 1.33 kW here; 665 W lift it 5.0 "
          "°C: set heat_lift = 5.0 in the plan (with_heater does), or take a heater of 1.33 kW");
    CHECK(fault([] { return watts_for(tunnel, temperature_span::from_kelvin(-1.0)); }) ==
          "heater.lift lift");
}

TEST_CASE("a heater's watts are said with three digits") {
    CHECK(say_watts(0.4) == "0 W");
    CHECK(say_watts(850.0) == "850 W");
    CHECK(say_watts(3962.0) == "3.96 kW");
    CHECK(say_watts(12'340.0) == "12.3 kW");
    CHECK(say_watts(123'400.0) == "123 kW");
}

TEST_CASE("a bare number has its text, with the cautions that belong to it below") {
    std::string const text = coldest_outdoors_text(tunnel, celsius(5.0), 1330.0);
    CHECK(text.starts_with("1.33 kW hold 5.0 °C inside down to -5.0 °C outdoors\ncaution: "));
    CHECK(text.ends_with(cautions_text(told_by::coldest_outdoors)));
    std::string const us = coldest_outdoors_text(tunnel, celsius(5.0), 1330.0, unit_system::us);
    CHECK(us.starts_with("1.33 kW hold 41.0 °F inside down to 23.0 °F outdoors\ncaution: "));
    CHECK(us.find("4 ft up") != std::string::npos);
}

TEST_CASE("every caution belongs to a function, once, and fits a line of a sheet") {
    constexpr std::size_t page = 100;
    for (caution const& one : cautions) {
        CHECK_FALSE(one.functions.empty());
        for (unit_system const units : {unit_system::metric, unit_system::us}) {
            CHECK(std::string{"caution: "}.size() + one.in(units).size() <= page);
        }
        std::set<told_by> const unlike{one.functions.begin(), one.functions.end()};
        CHECK(unlike.size() == one.functions.size());
        CHECK(std::count_if(cautions.begin(), cautions.end(), [&](caution const& other) {
                  return other.code == one.code || other.text == one.text;
              }) == 1);
    }
    for (std::size_t i = 0; i < told_by_names.size(); ++i) {
        CHECK_FALSE(cautions_of(static_cast<told_by>(i)).empty());
    }
}
