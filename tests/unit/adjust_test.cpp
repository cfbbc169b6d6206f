#include "catch.hpp"

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include <epicotyl/weather/adjust.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();
daily_record const three{make_day(2026, 5, 1), {1.0, gone, 3.0}, {11.0, 12.0, gone}, "Marlpit"};

std::string message_of(double metres, double lapse_rate = standard_lapse_rate) {
    try {
        (void)with_elevation_difference(three, metres, lapse_rate);
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

}  // namespace

TEST_CASE(
    "a place 300 m above the station is 1.95 K colder, gaps stay gaps, and the record says so") {
    daily_record const up = with_elevation_difference(three, 300.0);
    CHECK(up.start() == three.start());
    CHECK(up.tmin()[0] == Approx(-0.95));
    CHECK(std::isnan(up.tmin()[1]));
    CHECK(up.tmax()[1] == Approx(10.05));
    CHECK(std::isnan(up.tmax()[2]));
    CHECK(up.name() == "Marlpit");
    CHECK(up.origin() == "moved 300 m up at 6.5 K/km");
    CHECK(three.tmin()[0] == 1.0);
}

TEST_CASE("down is warmer, a negative lapse rate is the other way round, and origins add up") {
    CHECK(with_elevation_difference(three, -200.0, 10.0).tmin()[0] == Approx(3.0));
    CHECK(with_elevation_difference(three, -100.0, -20.0).tmin()[0] == Approx(-1.0));
    CHECK(with_elevation_difference(three, 0.0).tmin()[0] == 1.0);
    daily_record const back =
        with_elevation_difference(with_elevation_difference(three, 120.5, 5.0), -120.5, 5.0);
    CHECK(back.tmax()[0] == Approx(11.0));
    CHECK(back.origin() == "moved 120.5 m up at 5 K/km; moved 120.5 m down at 5 K/km");
}

TEST_CASE("a higher place is never warmer at a positive lapse rate") {
    double last = 1000.0;
    for (double metres = -5000.0; metres <= 5000.0; metres += 250.0) {
        double const now = with_elevation_difference(three, metres).tmin()[0];
        CHECK(now < last);
        last = now;
    }
}

TEST_CASE("heights and lapse rates out of range are refused") {
    CHECK(message_of(5001.0) ==
          "metres: 5001 is out of range (allowed: -5000 to 5000 m); give the height of the place "
          "over the station, negative below it");
    CHECK(message_of(gone) ==
          "metres: nan is out of range (allowed: -5000 to 5000 m); give the height of the place "
          "over the station, negative below it");
    CHECK(message_of(100.0, -21.0) ==
          "lapse_rate: -21 is out of range (allowed: -20 to 20 K/km); 6.5 K/km is that of the "
          "standard atmosphere");
}

TEST_CASE("a morning reader's minimum belongs to the day, the maximum to the day before") {
    daily_record const read = morning_reader(three);
    CHECK(read == daily_record{make_day(2026, 4, 30),
                               {gone, 1.0, gone, 3.0},
                               {11.0, 12.0, gone, gone},
                               "Marlpit",
                               "maxima moved to the day before"});
}

TEST_CASE("a morning reader's record without a first maximum does not begin earlier") {
    daily_record const record{make_day(2026, 5, 1), {1.0, 2.0}, {gone, 12.0}, "", "made"};
    CHECK(morning_reader(record) == daily_record{make_day(2026, 5, 1),
                                                 {1.0, 2.0},
                                                 {12.0, gone},
                                                 "",
                                                 "made; maxima moved to the day before"});
    daily_record const no_maximum{make_day(2026, 5, 1), {1.0}, {gone}};
    CHECK(morning_reader(no_maximum).size() == 1);
}
