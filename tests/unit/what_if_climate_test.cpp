// Climates made from a climate: shifted, only some years, given the season so far.
#include "catch.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/generator.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();
latitude const north{51.9};

/// Ten years whose minimum is the number of the day and whose maximum is five more; 2004 has a gap
/// too long to be filled, 2002 one of two days.
daily_record decade() {
    day const start = make_day(2000, 1, 1);
    std::vector<double> tmin;
    std::vector<double> tmax;
    for (int k = 0; k < (make_day(2010, 1, 1) - start).count(); ++k) {
        tmin.push_back(k);
        tmax.push_back(k + 5);
    }
    auto const drop = [&](day from, int count) {
        for (int k = 0; k < count; ++k) {
            tmin[static_cast<std::size_t>((from - start).count() + k)] = gone;
        }
    };
    drop(make_day(2004, 5, 1), 9);
    drop(make_day(2002, 1, 31), 2);
    return {start, tmin, tmax, "Marlpit"};
}

climate years_of_365() {
    return climate{decade(), north, {.season_days = 365}};
}

/// A record from `start` whose values are all the same.
daily_record steady(day start, int length, double low, double high) {
    auto const size = static_cast<std::size_t>(length);
    return {start, std::vector<double>(size, low), std::vector<double>(size, high)};
}

temperature_span kelvin(double by) {
    return temperature_span::from_kelvin(by);
}

std::vector<int> years_of(climate const& one) {
    return {one.years().begin(), one.years().end()};
}

template <class Make>
std::string message_of(Make const& make) {
    try {
        (void)make();
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

}  // namespace

TEST_CASE("a shifted climate has the same years, every day that much warmer, and says so") {
    climate const here = years_of_365();
    climate const warmer = here.shifted(kelvin(2.0));
    CHECK(years_of(warmer) == years_of(here));
    CHECK(warmer.left_out() == here.left_out());
    CHECK(warmer.filled() == here.filled());
    for (int i = 0; i < here.size(); ++i) {
        for (std::size_t k = 0; k < 365; ++k) {
            REQUIRE(warmer.tmin(i)[k] == here.tmin(i)[k] + 2.0);
            REQUIRE(warmer.tmax(i)[k] == here.tmax(i)[k] + 2.0);
        }
    }
    CHECK(here.origin().empty());
    CHECK(here.year_note() == "9 season years, 2000 – 2009; 1 left out (2004)");
    CHECK(warmer.year_note() == "9 season years, 2000 – 2009; 1 left out (2004); shifted by +2 K");
    CHECK(here.shifted(kelvin(-0.5)).origin() == "shifted by -0.5 K");
    CHECK(warmer.shifted(kelvin(1.0)).origin() == "shifted by +2 K; shifted by +1 K");
    CHECK(here.shifted(kelvin(0.0)) == here);
    CHECK(warmer != here);
    // The record carries the origin, so a climate cut from it again is the same one.
    CHECK(climate{warmer.record(), north, {.season_days = 365}} == warmer);
}

TEST_CASE("a shift by month moves the days of each month by its own span") {
    std::array<temperature_span, 12> by_month;
    for (std::size_t m = 0; m < 12; ++m) { by_month[m] = kelvin(static_cast<double>(m) - 1.0); }
    climate const here = years_of_365();
    climate const moved = here.shifted(by_month);
    // 2001 is a common year: 31 January is day 30, 1 February day 31, 31 December day 364.
    CHECK(moved.tmin(1)[30] == here.tmin(1)[30] - 1.0);
    CHECK(moved.tmin(1)[31] == here.tmin(1)[31]);
    CHECK(moved.tmax(1)[59] == here.tmax(1)[59] + 1.0);
    CHECK(moved.tmax(1)[364] == here.tmax(1)[364] + 10.0);
    // 29 February 2000 is day 59 of that year.
    CHECK(moved.tmax(0)[59] == here.tmax(0)[59]);
    CHECK(moved.origin() == "shifted month by month by -1 to +10 K");
    // 31 January and 1 February 2002 are filled between 30 January (-1 K) and 2 February (0 K).
    CHECK(moved.tmin(2)[30] == Approx(here.tmin(2)[30] - 2.0 / 3.0));
    CHECK(moved.tmin(2)[31] == Approx(here.tmin(2)[31] - 1.0 / 3.0));
}

TEST_CASE("only some years keep their numbers, the years left out stay listed") {
    climate const here = years_of_365();
    climate const some = here.only({2007, 2002});
    CHECK(years_of(some) == std::vector<int>{2002, 2007});
    CHECK(std::equal(some.tmin(0).begin(), some.tmin(0).end(), here.tmin(2).begin()));
    CHECK(std::equal(some.tmax(1).begin(), some.tmax(1).end(), here.tmax(6).begin()));
    CHECK(some.season_of(1).start() == make_day(2007, 1, 1));
    CHECK(some.filled().minimum == 2);
    CHECK(here.only({2007}).filled().minimum == 0);
    CHECK(some.warnings().front().starts_with("2 season years only: "));
    CHECK(some.year_note() == "2 season years, 2002 – 2007; 1 left out (2004); only chosen years");
    CHECK(here.only({2007, 2002, 2003}).only({2002, 2007}) == some);
    CHECK(here.only(years_of(here)) != here);  // it was chosen, and says so
}

TEST_CASE("years that cannot be chosen are refused") {
    climate const here = years_of_365();
    CHECK(message_of([&] { return here.only({}); }) ==
          "years: no season year is named (allowed: season years of this climate, which are 9 "
          "season years, 2000 – 2009; 1 left out (2004)); name each of the wanted years once");
    CHECK(message_of([&] {
              return here.only({2001, 2003, 2001});
          }).starts_with("years: 2001 is named twice (allowed: "));
    CHECK(message_of([&] {
              return here.only({2001, 1999});
          }).starts_with("years: 1999 is not among the season years (allowed: "));
    CHECK(message_of([&] {
              return here.only({2004});
          }).starts_with("years: 2004 is not among the season years (allowed: "));
}

TEST_CASE("given the season so far and a forecast, each year goes on with its own weather") {
    climate const here = years_of_365();
    daily_record const observed = steady(make_day(2026, 1, 1), 104, -1.0, 1.0);
    daily_record const forecast = steady(make_day(2026, 4, 15), 7, -2.0, 2.0);
    climate const now = here.given(observed, forecast);
    CHECK(years_of(now) == years_of(here));
    for (int i = 0; i < here.size(); ++i) {
        for (std::size_t k = 0; k < 365; ++k) {
            REQUIRE(now.tmin(i)[k] == (k < 104 ? -1.0 : k < 111 ? -2.0 : here.tmin(i)[k]));
            REQUIRE(now.tmax(i)[k] == (k < 104 ? 1.0 : k < 111 ? 2.0 : here.tmax(i)[k]));
        }
    }
    CHECK(now.observed() == observed);
    CHECK(now.forecast() == forecast);
    CHECK(now.record() == here.record());
    CHECK(now.year_note() ==
          "9 season years, 2000 – 2009; 1 left out (2004); observed to 14 Apr 2026, forecast to 21 "
          "Apr 2026");
    CHECK(here.given(observed).origin() == "observed to 14 Apr 2026");
    CHECK_FALSE(here.observed());
}

TEST_CASE("what was given before is given up") {
    climate const here = years_of_365();
    daily_record const longer = steady(make_day(2026, 1, 1), 200, -1.0, 1.0);
    daily_record const shorter = steady(make_day(2026, 1, 1), 3, -5.0, 5.0);
    CHECK(here.given(longer, steady(longer.end(), 2, 0.0, 1.0)).given(shorter) ==
          here.given(shorter));
}

TEST_CASE("days that were given are not shifted, and stay when years are chosen") {
    climate const here = years_of_365();
    daily_record const observed = steady(make_day(2026, 1, 1), 100, -1.0, 1.0);
    climate const both = here.given(observed).shifted(kelvin(3.0)).only({2005});
    CHECK(both.tmin(0)[99] == -1.0);
    CHECK(both.tmin(0)[100] == here.tmin(4)[100] + 3.0);
    CHECK(both.origin() == "shifted by +3 K; only chosen years; observed to 10 Apr 2026");
    CHECK(both == here.only({2005}).shifted(kelvin(3.0)).given(observed));
}

TEST_CASE("short gaps in the season so far are filled, the forecast ends the last of them") {
    climate const here = years_of_365();
    day const start = make_day(2026, 1, 1);
    daily_record const observed{start, {1.0, gone, gone, 4.0, gone}, {9.0, 9.0, 9.0, 9.0, 9.0}};
    daily_record const forecast{start + days{5}, {6.0}, {9.0}};
    climate const now = here.given(observed, forecast);
    CHECK(now.tmin(3)[1] == Approx(2.0));
    CHECK(now.tmin(3)[2] == Approx(3.0));
    CHECK(now.tmin(3)[4] == Approx(5.0));
    CHECK(message_of([&] { return here.given(observed); }) ==
          "observed: no minimum on 5 Jan 2026, at the edge of the record, with a value on one side "
          "only (allowed: 0 to 3 days); give the missing days, from a station nearby or a "
          "forecast; leave off days at the end that have no value");
}

TEST_CASE("a season so far that does not fit is refused with what to do") {
    climate const here = years_of_365();
    day const start = make_day(2026, 1, 1);
    daily_record const month = steady(start, 31, -1.0, 1.0);
    CHECK(message_of([&] { return here.given(steady(make_day(2026, 3, 1), 10, -1.0, 1.0)); }) ==
          "observed: what was observed begins on 1 Mar 2026, not on the first day of the season "
          "(allowed: 1 Jan); give the days from the season's start on, NaN where a few are "
          "missing");
    CHECK(
        message_of([&] { return here.given(month, steady(make_day(2026, 1, 30), 5, 0.0, 1.0)); }) ==
        "forecast: the forecast begins on 30 Jan 2026, but the day after the last one observed is "
        "1 Feb 2026 (allowed: 2026-02-01); cut the days that were observed off the forecast");
    CHECK(
        message_of([&] { return here.given(month, steady(make_day(2026, 2, 2), 5, 0.0, 1.0)); }) ==
        "forecast: the forecast begins on 2 Feb 2026, but the day after the last one observed is 1 "
        "Feb 2026 (allowed: 2026-02-01); give the days between, NaN where a few are missing");
    CHECK(message_of(
              [&] { return here.given(month, steady(make_day(2026, 2, 1), 335, 0.0, 1.0)); }) ==
          "observed, forecast: 366 days are given of a season of 365 (allowed: 1 to 365 days); "
          "give this season only, or make season years longer");
    CHECK(message_of([&] {
              return here.given(month, steady(make_day(2026, 2, 1), 334, 0.0, 1.0));
          }) == "accepted");
    std::vector<double> holed(31, -1.0);
    for (std::size_t k = 10; k < 14; ++k) { holed[k] = gone; }
    CHECK(message_of([&] {
              return here.given(daily_record{start, holed, std::vector<double>(31, 1.0)});
          })
              .starts_with("observed: no minimum for 4 days from 11 Jan 2026 (gaps of up to 3 days "
                           "are filled) (allowed: 0 to 3 days); "));
}

TEST_CASE("a climate of generated weather says where it comes from on every sheet") {
    std::array<double, 12> const lows = {-5, -4, 0, 5, 10, 15, 18, 17, 13, 7, 2, -3};
    std::array<double, 12> const highs = {3, 5, 10, 16, 21, 26, 29, 28, 24, 17, 11, 5};
    daily_record const made =
        generate(model_from_normals(lows, highs), make_day(2001, 1, 1), 11323, 1);
    climate const here{made, north};
    CHECK(here.origin() == "made from normals");
    CHECK(here.year_note() == "30 season years, 2001 – 2030; none left out; made from normals");
    CHECK(here.shifted(kelvin(1.5)).origin() == "made from normals; shifted by +1.5 K");
}

TEST_CASE("records that differ in their origin alone are not equal") {
    day const start = make_day(2026, 1, 1);
    daily_record const measured{start, {1.0}, {2.0}, "Marlpit"};
    daily_record const made{start, {1.0}, {2.0}, "Marlpit", "made up"};
    CHECK(measured.origin().empty());
    CHECK(measured != made);
    CHECK(fmt::format("{}", made) == "Marlpit, 1 Jan 2026 – 1 Jan 2026, no gaps; made up");
}
