#include "catch.hpp"

#include <limits>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/quality.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();

// Ten days by hand:        0     1     2     3     4     5     6     7     8     9
std::vector<double> const tmin{1.0, gone, gone, 2.0, 9.0, 3.0, gone, gone, 4.0, 5.0};
std::vector<double> const tmax{6.0, 7.0, gone, 8.0, 8.0, gone, gone, 9.0, 9.5, gone};
daily_record const ten_days{make_day(2024, 2, 25), tmin, tmax, "Marlpit"};

}  // namespace

TEST_CASE("quality counts missing values, runs and days with the minimum above the maximum") {
    record_quality const q = quality(ten_days);
    CHECK(q.first == make_day(2024, 2, 25));
    CHECK(q.last == make_day(2024, 3, 5));
    CHECK(q.size == 10);
    CHECK(q.missing_minima == 4);  // days 1, 2, 6, 7
    CHECK(q.missing_maxima == 4);  // days 2, 5, 6, 9
    CHECK(q.missing_both == 2);    // days 2, 6
    CHECK(q.runs == 3);            // 1-2, 5-7, 9
    CHECK(q.runs == ten_days.gaps());
    CHECK(q.longest_run == missing_run{make_day(2024, 3, 1), 3});
    CHECK(q.inverted == 1);  // day 4
    CHECK(q.share(q.missing_minima) == 0.4);
}

TEST_CASE("quality counts what filling short gaps gives and what it leaves") {
    record_quality const q = quality(ten_days, 3);
    CHECK(q.filled_minima == 5);  // days 1, 2, 4, 6, 7
    CHECK(q.unfilled_minima == 0);
    CHECK(q.filled_maxima == 4);    // days 2, 4, 5, 6: three in a row from day 4
    CHECK(q.unfilled_maxima == 1);  // day 9, at the edge
    record_quality const one = quality(ten_days, 1);
    CHECK(one.filled_minima == 1);    // day 4
    CHECK(one.unfilled_minima == 4);  // the two gaps of two days
    CHECK(one.filled_maxima == 1);    // day 2
    CHECK(one.unfilled_maxima == 4);
    CHECK(quality(ten_days, 0).filled_minima == 0);
    CHECK_THROWS_AS(quality(ten_days, 32), invalid_input);
}

TEST_CASE("whole years begin on 1 January and end on 31 December within the record") {
    auto const years = [](day first, day last) {
        std::vector<double> const values(static_cast<std::size_t>((last - first).count()) + 1, 1.0);
        return quality(daily_record{first, values, values}).whole_years;
    };
    CHECK(years(make_day(2020, 1, 1), make_day(2020, 12, 31)) == 1);
    CHECK(years(make_day(2020, 1, 2), make_day(2020, 12, 31)) == 0);
    CHECK(years(make_day(2020, 1, 1), make_day(2020, 12, 30)) == 0);
    CHECK(years(make_day(2019, 6, 1), make_day(2022, 5, 31)) == 2);
    CHECK(years(make_day(2020, 3, 1), make_day(2020, 5, 31)) == 0);
}

TEST_CASE("a source that leaves out 29 February shows") {
    daily_record const without{make_day(2024, 2, 28), {1.0, gone, 2.0}, {3.0, gone, 4.0}};
    CHECK(quality(without).leap_days == 1);
    CHECK(quality(without).missing_leap_days == 1);
    CHECK(quality(ten_days).leap_days == 1);
    CHECK(quality(ten_days).missing_leap_days == 0);
    CHECK(quality(daily_record{make_day(2023, 2, 28), {1.0, 1.0}, {2.0, 2.0}}).leap_days == 0);
}

TEST_CASE("a record without faults has none") {
    record_quality const q = quality(daily_record{make_day(2026, 5, 1), {1.0, 2.0}, {3.0, 4.0}});
    CHECK(q.missing_minima + q.missing_maxima + q.missing_both + q.inverted + q.runs == 0);
    CHECK(q.filled_minima + q.filled_maxima + q.unfilled_minima + q.unfilled_maxima == 0);
    CHECK_FALSE(q.longest_run);
}

TEST_CASE("quality prints its counts and shares in lines") {
    CHECK(fmt::format("{}", quality(ten_days)) ==
          "Marlpit, 25 Feb 2024 – 5 Mar 2024: 10 days, 0 whole years\n"
          "  no minimum                                  4 days  40.00 %\n"
          "  no maximum                                  4 days  40.00 %\n"
          "  neither                                     2 days  20.00 %\n"
          "  minimum above maximum                       1 day   10.00 %\n"
          "  minimum filled (gaps of up to 3 days)       5 days  50.00 %\n"
          "  maximum filled (gaps of up to 3 days)       4 days  40.00 %\n"
          "  minimum still missing                       0 days   0.00 %\n"
          "  maximum still missing                       1 day   10.00 %\n"
          "  3 runs of missing values; the longest, 3 days, from 1 Mar 2024");
    daily_record const without{
        make_day(2024, 2, 28), {1.0, gone, 2.0}, {3.0, gone, 4.0}, "", "made from normals"};
    std::string const text = to_string(quality(without));
    CHECK(text.starts_with("28 Feb 2024 – 1 Mar 2024: 3 days, 0 whole years; made from normals\n"));
    CHECK(
        text.ends_with("\n  1 run of missing values; the longest, 1 day, from 29 Feb 2024"
                       "\n  29 February is missing in 1 of 1 leap year"));
}
