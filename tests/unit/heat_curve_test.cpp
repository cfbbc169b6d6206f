// What set points do to ready days, damage and the bill, in a climate in which all of it can be
// reckoned by hand.
#include "catch.hpp"

#include <string>
#include <vector>

#include <epicotyl/cautions.hpp>
#include <epicotyl/heat/heat_curve.hpp>
#include <epicotyl/heat/heater.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/weather/climate.hpp>

using namespace epicotyl;

namespace {

temperature celsius(double value) {
    return temperature::from_celsius(value);
}

/// Ten years of -1 °C by day and night; 100 W/K.
climate always_cold() {
    std::vector<double> const cold(3660, -1.0);
    return climate{
        daily_record{make_day(2000, 1, 1), cold, cold}, latitude{50.0}, {.season_days = 365}};
}

structure const house{.surfaces = {{"film", 25.0, 4.0}}};

/// Stocks take 60 K day above 4 °C in the house; below 0 °C they are damaged there.
plan one_batch(std::string const& place = "heat_to = 10.0") {
    return parse_plan(
        "format = 1\nunits = \"metric\"\n[site]\nlatitude = 50.0\nseason_start = 2027-01-01\n"
        "season_days = 365\nmonthly_low = [5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5]\n"
        "monthly_high = [9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9]\n"
        "[places]\nhouse = { for = [\"grow\"], " +
            place +
            " }\nbeds = { for = [\"field\"] }\n"
            "[crops.stock]\nstages = [\n"
            "  { begins = \"sow\", where = \"grow\", takes = { heat = 60.0, base = 4.0 },"
            " limit = 0.0 },\n"
            "  { begins = \"transplant\", where = \"field\", takes = { days = 10 } },\n]\n"
            "[[succession]]\ncrop = \"stock\"\nplants = 10\nrisk = false\n"
            "target = { event = \"transplant\", on = 2027-04-01 }\n",
        "");
}

}  // namespace

TEST_CASE("a lower set point saves heat and makes plants of the same sowing later") {
    auto const curve =
        heat_curve(one_batch(), always_cold(), "house", house, {celsius(6.0), celsius(10.0)},
                   make_day(2027, 1, 1), make_day(2027, 1, 10), {.per_kwh = 0.5});
    REQUIRE(curve.points.size() == 2);
    // At 10 °C 6 K day a day, ten days before 1 April; at 6 °C 2 K day a day, thirty days.
    heated_batch const& cool = curve.points[0].batches.at(0);
    heated_batch const& warm = curve.points[1].batches.at(0);
    CHECK(warm.usual_ready == make_day(2027, 4, 1));
    CHECK(cool.usual_ready == make_day(2027, 4, 21));
    CHECK(cool.ready.size() == static_cast<std::size_t>(always_cold().size()));
    CHECK(warm.sow == make_day(2027, 3, 22));
    CHECK(cool.sow == make_day(2027, 3, 2));
    // Ten days at 7 and 11 K above -1 °C, 100 W/K.
    CHECK(curve.points[0].heat.usual().kwh == Approx(7.0 * 24.0 * 10.0 * 0.1));
    CHECK(curve.points[1].heat.usual().kwh == Approx(11.0 * 24.0 * 10.0 * 0.1));
    CHECK(curve.points[1].heat.usual().cost == Approx(11.0 * 24.0 * 10.0 * 0.05));
}

TEST_CASE("damage is counted with the heater working and with it off") {
    auto const curve = heat_curve(one_batch(), always_cold(), "house", house, {celsius(6.0)},
                                  make_day(2027, 1, 1), make_day(2027, 1, 10));
    heated_batch const& batch = curve.points[0].batches.at(0);
    CHECK(batch.damaged == 0);
    CHECK(batch.damaged_heater_off == batch.years);
    CHECK(batch.years == always_cold().size());
    std::string const text = to_string(curve);
    CHECK(text.find("heater off") != std::string::npos);
    for (std::string const& caution : cautions_of(told_by::heat_curve)) {
        CHECK(text.find(caution) != std::string::npos);
    }
}

TEST_CASE("where nothing grows it is never ready, and the bill is still told") {
    auto const curve = heat_curve(one_batch(), always_cold(), "house", house, {celsius(3.0)},
                                  make_day(2027, 1, 1), make_day(2027, 1, 10));
    heated_batch const& batch = curve.points[0].batches.at(0);
    CHECK(batch.usual_ready == std::nullopt);
    CHECK(batch.sow == std::nullopt);
    CHECK(curve.points[0].heat.usual().kwh == Approx(4.0 * 24.0 * 10.0 * 0.1));
    CHECK(to_string(curve).find("never") != std::string::npos);
}

TEST_CASE("a curve needs a set point, and a place whose heat depends on one") {
    auto const refused = [](plan const& of, std::string const& place,
                            std::vector<temperature> const& points) {
        try {
            (void)heat_curve(of, always_cold(), place, house, points, make_day(2027, 1, 1),
                             make_day(2027, 1, 10));
        } catch (invalid_input const& fault) { return fault.code(); }
        return std::string{"accepted"};
    };
    CHECK(refused(one_batch(), "house", {}) == "heat_curve.no_set_point");
    CHECK(refused(one_batch("day = 20.0, night = 18.0"), "house", {celsius(5.0)}) ==
          "place.no_set_point");
    CHECK(refused(one_batch(), "hose", {celsius(5.0)}) == "plan.unknown_place");
    CHECK(refused(one_batch("warmer_night = 2.0"), "house", {celsius(5.0)}) == "accepted");
}

TEST_CASE("the plan with a heater has the lift of its watts, and the curve agrees with it") {
    // 1000 W in a house of 100 W/K: 10 K.
    plan const heated =
        with_heater(one_batch("heat_to = 10.0, heat_lift = 3.0"), "house", house, 1000.0);
    CHECK(heated.places()[0].air.heat_lift->kelvin() == Approx(10.0).epsilon(1e-12));
    CHECK(heated.places()[0].air.heat_to == celsius(10.0));
    CHECK(match_heater(heated, "house", house, 1000.0).agrees());
    auto const curve = heat_curve(heated, always_cold(), "house", house, {celsius(6.0)},
                                  make_day(2027, 1, 1), make_day(2027, 1, 10), {}, 500.0);
    CHECK_FALSE(curve.heater.agrees());
    CHECK(curve.points[0].heat.peak == Approx(700.0));  // 7 K above -1 °C
    std::string const text = to_string(curve);
    CHECK(text.find("heated to 6.0 °C: usually 168 kWh, 0.00\n") != std::string::npos);
    CHECK(text.find("note: the plan counts on a lift of 10.0 °C, which takes 1.00 kW here; 500 W "
                    "lift it 5.0 °C: set\n") != std::string::npos);
    CHECK_THROWS_AS(with_heater(one_batch("warmer_night = 1.0"), "house", house, 1000.0),
                    invalid_input);
    CHECK_THROWS_AS(with_heater(one_batch(), "hose", house, 1000.0), invalid_input);
    CHECK_THROWS_AS(with_heater(one_batch(), "house", house, 0.0), invalid_input);
}
