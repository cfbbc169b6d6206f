#include "catch.hpp"

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/splice.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();

daily_record const first{
    make_day(2026, 5, 1), {3.0, gone, 4.0, 5.0}, {10.0, 11.0, gone, 13.0}, "Marlpit"};
daily_record const second{
    make_day(2026, 5, 2), {2.5, 3.5, gone, 4.5, gone}, {9.0, 2.0, 12.0, 14.0, 15.0}, "Pond Lane"};

/// A record of so many days, all alike.
daily_record steady(day start, std::size_t count, double tmin, double tmax, char const* name) {
    return {start, std::vector<double>(count, tmin), std::vector<double>(count, tmax), name};
}

}  // namespace

TEST_CASE("a splice has the first station's values, and the second's where the first has none") {
    spliced_record const joined = splice(first, second);
    CHECK(joined.record == daily_record{make_day(2026, 5, 1),
                                        {3.0, 2.5, 4.0, 5.0, 4.5, gone},
                                        {10.0, 11.0, 2.0, 13.0, 14.0, 15.0},
                                        "Marlpit",
                                        "spliced from Marlpit and Pond Lane"});
}

TEST_CASE("a splice reports what came from where") {
    splice_report const report = splice(first, second).report;
    CHECK(report.minimum.from_first == 3);
    CHECK(report.minimum.from_second == 2);  // 2 and 5 May
    CHECK(report.minimum.missing == 1);      // 6 May
    CHECK(report.minimum.overlap == 1);      // 3 May
    CHECK(report.minimum.mean_difference == temperature_span::from_kelvin(0.5));
    CHECK(report.minimum.added == temperature_span{});
    CHECK(report.maximum.from_first == 3);
    CHECK(report.maximum.from_second == 3);  // 3, 5 and 6 May
    CHECK(report.maximum.overlap == 2);      // 2 and 4 May: 2 K and 1 K
    CHECK(report.maximum.mean_difference == temperature_span::from_kelvin(1.5));
    CHECK(report.mixed == 2);           // 2 and 3 May
    CHECK(report.mixed_inverted == 1);  // 3 May: 4 above 2
    CHECK(fmt::format("{}", report) ==
          "minimum: 3 days from Marlpit, 2 days from Pond Lane, 1 day missing;\n"
          "    1 day in both, first less second +0.50 K\n"
          "maximum: 3 days from Marlpit, 3 days from Pond Lane, 0 days missing;\n"
          "    2 days in both, first less second +1.50 K\n"
          "2 days with one value of each station, 1 of them with the minimum above the maximum");
}

TEST_CASE("stations that share no day are joined with the days between as gaps") {
    spliced_record const joined = splice(steady(make_day(2026, 5, 5), 2, 1.0, 2.0, ""),
                                         steady(make_day(2026, 5, 1), 1, 3.0, 4.0, ""));
    CHECK(joined.record == daily_record{make_day(2026, 5, 1),
                                        {3.0, gone, gone, gone, 1.0, 1.0},
                                        {4.0, gone, gone, gone, 2.0, 2.0},
                                        "",
                                        "spliced from one station and another"});
    CHECK_FALSE(joined.report.minimum.mean_difference);
    CHECK(to_string(joined.report) ==
          "minimum: 2 days from the first, 1 day from the second, 3 days missing;\n"
          "    no day in both\n"
          "maximum: 2 days from the first, 1 day from the second, 3 days missing;\n"
          "    no day in both");
}

TEST_CASE("the second station is brought to the level of the first when that is asked for") {
    daily_record const a = steady(make_day(2024, 1, 1), 365, 2.0, 9.0, "Marlpit");
    daily_record const b = steady(make_day(2024, 1, 1), 367, 3.5, 8.75, "Pond Lane");
    spliced_record const joined = splice(a, b, {.match_means = true});
    CHECK(joined.report.minimum.added == temperature_span::from_kelvin(-1.5));
    CHECK(joined.report.maximum.added == temperature_span::from_kelvin(0.25));
    CHECK(joined.record.tmin()[0] == 2.0);
    CHECK(joined.record.tmin()[366] == 2.0);
    CHECK(joined.record.tmax()[366] == 9.0);
    CHECK(joined.record.origin() ==
          "spliced from Marlpit and Pond Lane, the second by -1.50 K at night and +0.25 K by day");
    CHECK(to_string(joined.report) ==
          "minimum: 365 days from Marlpit, 2 days from Pond Lane, 0 days missing;\n"
          "    365 days in both, first less second -1.50 K; -1.50 K added to the second\n"
          "maximum: 365 days from Marlpit, 2 days from Pond Lane, 0 days missing;\n"
          "    365 days in both, first less second +0.25 K; +0.25 K added to the second");
    // Not asked for, the difference is told and not added.
    CHECK(splice(a, b).record.tmin()[366] == 3.5);
    CHECK(splice(a, b).report.minimum.mean_difference == temperature_span::from_kelvin(-1.5));
}

TEST_CASE("means are matched over a year's worth of days or not at all") {
    daily_record const a = steady(make_day(2024, 1, 1), 364, 2.0, 9.0, "Marlpit");
    daily_record const b = steady(make_day(2024, 1, 1), 367, 3.5, 8.75, "Pond Lane");
    try {
        (void)splice(a, b, {.match_means = true});
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(fault.code() == "splice.overlap");
        CHECK(std::string{fault.what()} ==
              "minimum: the two stations share 364 days with a minimum, too few to match their "
              "means (allowed: 365 or more days); splice without matching means, or take a station "
              "that was read beside the first for a year");
    }
}

TEST_CASE("the origins of both parts go with a splice") {
    daily_record const made{make_day(2026, 5, 1), {1.0}, {2.0}, "Marlpit", "made from normals"};
    daily_record const moved{make_day(2026, 5, 1), {1.0}, {2.0}, "", "moved 10 m up at 6.5 K/km"};
    CHECK(splice(made, moved).record.origin() ==
          "spliced from Marlpit and another; Marlpit: made from normals; the second: moved 10 m up "
          "at 6.5 K/km");
}

TEST_CASE("a record spliced with itself holds the same values") {
    spliced_record const joined = splice(second, second, {});
    CHECK(daily_record{joined.record.start(),
                       {joined.record.tmin().begin(), joined.record.tmin().end()},
                       {joined.record.tmax().begin(), joined.record.tmax().end()},
                       "Pond Lane"} == second);
    CHECK(joined.report.minimum.from_second == 0);
    CHECK(joined.report.mixed == 0);
}
