#include "catch.hpp"

#include <limits>

#include <epicotyl/fmt.hpp>
#include <epicotyl/units.hpp>

using namespace epicotyl;

template <class A, class B>
concept addable = requires(A a, B b) {
    a + b;
};

static_assert(!addable<temperature, temperature>, "two points do not add");
static_assert(addable<temperature, temperature_span>);
static_assert(!std::is_convertible_v<double, chance>);
static_assert(!std::is_convertible_v<chance, reliability>);

TEST_CASE("a temperature and a difference of temperatures convert differently") {
    CHECK(temperature::from_fahrenheit(5.0).celsius() == Approx(-15.0));
    CHECK(temperature_span::from_fahrenheit(5.0).kelvin() == Approx(2.7778).epsilon(1e-4));
    // 1250 °F day is divided by 1.8; 32 is never subtracted.
    CHECK(thermal_time::from_fahrenheit_days(1250.0).kelvin_days() == Approx(694.444));
}

TEST_CASE("chances, reliabilities and latitudes reject what is out of range, and NaN") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(chance{nan}, invalid_input);
    CHECK_THROWS_AS(chance{-0.01}, invalid_input);
    CHECK_THROWS_AS(reliability{0.49}, invalid_input);
    CHECK_THROWS_AS(latitude{90.5}, invalid_input);
    CHECK_THROWS_AS(temperature::from_celsius(nan), invalid_input);
    CHECK_THROWS_AS(thermal_time::from_kelvin_days(-1.0), invalid_input);
    try {
        (void)chance{1.5};
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(fault.code() == "chance.out_of_range");
        CHECK(std::string{fault.what()} ==
              "chance: 1.5 is out of range (allowed: 0 to 1); give a share of years, such as 0.1 "
              "for 1 year in 10");
    }
}

TEST_CASE("units print with their names") {
    CHECK(fmt::format("{:.1f}", temperature::from_celsius(-2.2)) == "-2.2 °C");
    CHECK(fmt::format("{}", thermal_time::from_kelvin_days(380.0)) == "380 K day");
    CHECK(fmt::format("{:.2f}", chance{0.1}) == "0.10");
}
