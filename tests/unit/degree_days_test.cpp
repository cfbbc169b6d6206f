#include "catch.hpp"

#include <limits>
#include <vector>

#include <epicotyl/clock/degree_days.hpp>

using namespace epicotyl;

namespace {

double one_day(double low, double high, degree_day_rule rule, double next_low) {
    return degree_days(low, high, next_low, rule);
}

}  // namespace

TEST_CASE("three methods on one day: minimum 5, maximum 25, base 10") {
    // Reckoned by hand: mean 15; sine by the formula at the head of the header.
    CHECK(one_day(5, 25, {.base = 10, .method = degree_day_method::average}, 5) == 5.0);
    CHECK(one_day(5, 25, {.base = 10}, 5) == Approx(6.09).margin(0.005));
    CHECK(one_day(5, 25, {.base = 10, .method = degree_day_method::average_floored}, 5) == 7.5);
}

TEST_CASE("McMaster and Wilhelm 1997, table 1: cutting the mean or the temperatures first") {
    // maximum, minimum, method 1, method 2; base 0 °C.
    double const table[][4] = {
        {20, 10, 15, 15}, {8, -2, 3, 4}, {5, -5, 0, 2.5}, {-2, -7, 0, 0}, {10, -2, 4, 5}};
    for (auto const& row : table) {
        CHECK(one_day(row[1], row[0], {.method = degree_day_method::average}, 0) == row[2]);
        CHECK(one_day(row[1], row[0], {.method = degree_day_method::average_floored}, 0) == row[3]);
    }
}

TEST_CASE("the 86/50 rule: maximum cut to 86 °F, minimum raised to 50 °F") {
    // Waushara Argus 2018-04-25 (extension column); Ohio State University Extension, Karhoff 2023.
    degree_day_rule const corn{
        .base = 50, .upper = 86, .method = degree_day_method::average_floored};
    CHECK(one_day(65, 90, corn, 65) == 25.5);
    CHECK(one_day(46, 72, corn, 46) == 11.0);
    CHECK(one_day(42, 63, corn, 42) == 6.5);
    CHECK(one_day(63, 87, corn, 63) == 24.5);
    CHECK(one_day(50, 70, corn, 50) == 10.0);
}

TEST_CASE("Zalom et al. 1983, table 7: lower 55 °F, upper 90 °F, horizontal") {
    // minimum, maximum, next minimum; single triangle, double triangle, single sine, double sine.
    // Row 2's double triangle is a misprint in the source (24.88 for 27.125) and is left out.
    struct row {
        double low, high, next, values[4];
    };
    row const rows[] = {{50, 82, 45, {11.39, 10.62, 11.85, 11.31}},
                        {60, 100, 75, {23.75, -1.0, 22.82, 26.26}},
                        {50, 101, 48, {19.56, 19.19, 18.95, 18.69}}};
    degree_day_method const methods[] = {
        degree_day_method::single_triangle, degree_day_method::double_triangle,
        degree_day_method::single_sine, degree_day_method::double_sine};
    for (row const& one : rows) {
        for (int m = 0; m < 4; ++m) {
            if (one.values[m] < 0) { continue; }
            CHECK(one_day(one.low, one.high, {.base = 55, .upper = 90, .method = methods[m]},
                          one.next) == Approx(one.values[m]).margin(0.0051));
        }
    }
}

TEST_CASE("an array's last day takes its own minimum as the next, NaN stays NaN") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    std::vector<double> const low{50, nan, 50};
    std::vector<double> const high{82, 80, 82};
    std::vector<double> out(3);
    degree_days(low, high, {.base = 55, .upper = 90, .method = degree_day_method::double_sine},
                out);
    CHECK(std::isnan(out[1]));
    CHECK(out[2] == Approx(11.85).margin(0.0051));
}

TEST_CASE("degree-day input is refused with the day that is wrong") {
    std::vector<double> out(2);
    std::vector<double> const low{1.0, 9.0};
    std::vector<double> const high{5.0, 8.0};
    try {
        degree_days(low, high, {}, out);
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(std::string{fault.what()} ==
              "tmin[1]: minimum 9 is above maximum 8 (allowed: at most tmax[1] = 8); set both to "
              "NaN where a day is not to be trusted");
    }
    CHECK_THROWS_AS(degree_days(low, high, {.base = 10, .upper = 10}, out), invalid_input);
    std::vector<double> shorter(1);
    CHECK_THROWS_AS(degree_days(low, high, {}, shorter), invalid_input);
}
