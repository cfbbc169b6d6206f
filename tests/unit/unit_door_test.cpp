// The door of a plan's units, by the definitions of foot and quart.
#include <string>

#include "catch.hpp"

#include <epicotyl/days.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/plan/unit_door.hpp>

namespace ep = epicotyl;

TEST_CASE("numbers go in and out in the units of the plan", "[units]") {
    ep::unit_door const us{ep::unit_system::us};
    CHECK(us.temperature_of(50.0).celsius() == Approx(10.0));
    CHECK(us.span_of(9.0).kelvin() == Approx(5.0));
    CHECK(us.heat_of(900.0).kelvin_days() == Approx(500.0));
    CHECK(us.written(us.temperature_of(28.4)) == 28.4);
    CHECK(us.written(us.span_of(9.9)) == 9.9);
    CHECK(us.written(us.heat_of(684.0)) == 684.0);
    // 400 ft are 121.92 m, a quart is 0.946352946 litres.
    CHECK(us.from_core(ep::quantity::bed, 121.92) == 400.0);
    CHECK(us.from_core(ep::quantity::area, 0.3048 * 0.3048) == Approx(1.0));
    CHECK(us.from_core(ep::quantity::medium, 0.946352946) == 1.0);
    CHECK(us.unit(ep::quantity::temperature) == "°F");

    ep::unit_door const metric{ep::unit_system::metric};
    CHECK(metric.temperature_of(10.0).celsius() == 10.0);
    CHECK(metric.from_core(ep::quantity::bed, 121.92) == 121.92);
}

TEST_CASE("a set point that is usual in the other units only is refused", "[units]") {
    ep::unit_door const metric{ep::unit_system::metric};
    ep::unit_door const us{ep::unit_system::us};
    CHECK(ep::set_point_of(us, 50.0, "heat_to").celsius() == Approx(10.0));
    CHECK(ep::set_point_of(metric, 7.0, "heat_to").celsius() == 7.0);
    CHECK_THROWS_WITH(ep::set_point_of(metric, 50.0, "heat_to"),
                      "heat_to: 50 °C is warmer than heaters hold places for plants (allowed: -2 "
                      "to 30 °C); did you mean °F? 50 °F are 10.0 °C, and the plan is in °C");
    CHECK_THROWS_AS(ep::set_point_of(us, 7.0, "heat_to"), ep::invalid_input);
    CHECK_THROWS_AS(ep::set_point_of(us, 500.0, "heat_to"), ep::invalid_input);
}

TEST_CASE("dates stand in the order of the units", "[units]") {
    ep::day const when = ep::make_day(2027, 2, 9);
    CHECK(ep::to_day_month(when) == "9 Feb");
    CHECK(ep::to_day_month(when, ep::unit_system::us) == "Feb 9");
    CHECK(ep::to_day_month_year(when, ep::unit_system::us) == "Feb 9, 2027");
    CHECK(ep::to_weekday_day_month(when, ep::unit_system::us) == "Tue Feb 9");
    CHECK(ep::to_week(when, ep::unit_system::us) == "week of Mon Feb 8 (week 6)");
}
