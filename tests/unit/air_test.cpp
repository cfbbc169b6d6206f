#include "catch.hpp"

#include <limits>
#include <vector>

#include <epicotyl/crop/air.hpp>

using namespace epicotyl;

namespace {

temperature celsius(double t) {
    return temperature::from_celsius(t);
}
temperature_span kelvin(double t) {
    return temperature_span::from_kelvin(t);
}

constexpr double no_action = -std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("outdoor air is the outdoor day") {
    air_day const day = indoors(air{}, -3.0, 8.0, no_action);
    CHECK(day.low == -3.0);
    CHECK(day.high == 8.0);
    CHECK_FALSE(day.acted);
}

TEST_CASE("steady air ignores the weather, warmer by night too") {
    air const mat{.steady = steady_air{.day = celsius(18.0), .night = celsius(21.0)}};
    air_day const day = indoors(mat, -30.0, -20.0, no_action);
    CHECK(day.low == 18.0);
    CHECK(day.high == 21.0);
}

TEST_CASE("a heater holds its temperature only as far as its lift reaches") {
    air const house{.warmer_night = kelvin(2.0), .heat_to = celsius(6.0), .heat_lift = kelvin(9.0)};
    CHECK(indoors(house, 0.0, 10.0, no_action).low == 6.0);    // 2 raised to 6
    CHECK(indoors(house, -10.0, 3.0, no_action).low == 1.0);   // -8 + 9, short of 6
    CHECK(indoors(house, -10.0, 3.0, no_action).high == 6.0);  // the day is heated too
    CHECK(indoors(house, 8.0, 20.0, no_action).low == 10.0);   // warm enough
    CHECK(indoors(house, -10.0, 3.0, no_action, {.heater = false}).low == -8.0);
}

TEST_CASE("a vent holds the maximum, but not below the outdoor maximum") {
    air const house{.warmer_day = kelvin(10.0), .vent_above = celsius(24.0)};
    CHECK(indoors(house, 5.0, 12.0, no_action).high == 22.0);
    CHECK(indoors(house, 5.0, 20.0, no_action).high == 24.0);
    CHECK(indoors(house, 5.0, 31.0, no_action).high == 31.0);
}

TEST_CASE("a night of exactly the limit is acted on: -0.9 + 1.1 is 0.2") {
    air const frame{.warmer_night = kelvin(1.1),
                    .nights = cold_nights{.below = celsius(0.2), .warmer = kelvin(5.0)}};
    CHECK(-0.9 + 1.1 > 0.2);
    CHECK(indoors(frame, -0.9, 9.0, 0.2).acted);
    CHECK_FALSE(indoors(frame, -0.89, 9.0, 0.2).acted);
}

TEST_CASE("cold nights act at or below their temperature, after the heater") {
    air const frame{.warmer_night = kelvin(1.0),
                    .nights = cold_nights{.below = celsius(2.0), .warmer = kelvin(5.0)}};
    double const at = act_below(frame, std::nullopt);
    CHECK(at == 2.0);
    CHECK(indoors(frame, 1.0, 9.0, at).low == 7.0);
    CHECK(indoors(frame, 1.0, 9.0, at).acted);
    CHECK(indoors(frame, 1.1, 9.0, at).low == Approx(2.1));
    CHECK_FALSE(indoors(frame, 1.1, 9.0, at).acted);
    CHECK(indoors(frame, 1.0, 9.0, at, {.cover = false}).low == 2.0);
}

TEST_CASE("cold nights without a temperature act at the limit of what stands there") {
    air const frame{.nights = cold_nights{.warmer = kelvin(5.0)}};
    CHECK(act_below(frame, celsius(0.0)) == 0.0);
    CHECK(act_below(frame, std::nullopt) == no_action);
    CHECK_FALSE(indoors(frame, -20.0, 0.0, act_below(frame, std::nullopt)).acted);
}

TEST_CASE("the maximum is at least the minimum, also under a cover on a cold day") {
    air const frame{.nights = cold_nights{.below = celsius(0.0), .warmer = kelvin(5.0)}};
    air_day const day = indoors(frame, -2.0, 1.0, 0.0);
    CHECK(day.low == 3.0);
    CHECK(day.high == 3.0);
}
