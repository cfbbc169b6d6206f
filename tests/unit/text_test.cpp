#include <bit>
#include <cmath>
#include <limits>
#include <random>
#include <string>

#include <fmt/format.h>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/text.hpp>

#include "catch.hpp"

using epicotyl::detail::text;

TEST_CASE("a text is its parts, one after the other") {
    CHECK(text("tmin[", 7, "]") == "tmin[7]");
    CHECK(text(std::string{"of "}, 3U, " and ", -2LL) == "of 3 and -2");
    CHECK(text().empty());
}

TEST_CASE("a number is written with the fewest digits that say it") {
    CHECK(text(0.1) == "0.1");
    CHECK(text(100000.0) == "100000");
    CHECK(text(-0.0) == "-0");
    CHECK(text(0.0001) == "0.0001");
    CHECK(text(0.00001) == "1e-05");
    CHECK(text(9999999999999998.0) == "9999999999999998");
    CHECK(text(1e16) == "1e+16");
    CHECK(text(std::numeric_limits<double>::infinity()) == "inf");
    CHECK(text(std::numeric_limits<double>::quiet_NaN()) == "nan");
}

TEST_CASE("a number is written as fmt writes it") {
    std::mt19937_64 random{20260427};
    for (int i = 0; i < 20000; ++i) {
        double const any = std::bit_cast<double>(random());
        double const usual = std::uniform_real_distribution<double>{-1000.0, 1000.0}(random);
        double const tenths = std::round(usual * 10.0) / 10.0;
        double const large = std::round(usual * 1e13);
        for (double const number : {any, usual, tenths, large}) {
            REQUIRE(text(number) == fmt::format("{}", number));
        }
    }
}

TEST_CASE("years before 1000 are written with four digits, those before 0 with their sign") {
    using epicotyl::make_day;
    CHECK(epicotyl::to_iso(make_day(2027, 3, 1)) == "2027-03-01");
    CHECK(epicotyl::to_iso(make_day(87, 12, 31)) == "0087-12-31");
    CHECK(epicotyl::to_iso(make_day(-5, 1, 9)) == fmt::format("{:04}-01-09", -5));
    CHECK(epicotyl::to_iso(make_day(-12345, 1, 9)) == fmt::format("{:04}-01-09", -12345));
}
