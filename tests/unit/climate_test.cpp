#include "catch.hpp"

#include <limits>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/climate.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();
latitude const north{51.9};
latitude const south{-43.5};

/// A record from `from` to `until` (excluded) that can be told apart day by day: the minimum is the
/// number of the day, the maximum five more.
struct numbered_days {
    day start;
    std::vector<double> tmin = {};
    std::vector<double> tmax = {};

    numbered_days(day from, day until) : start{from} {
        for (int k = 0; k < (until - from).count(); ++k) {
            tmin.push_back(k);
            tmax.push_back(k + 5);
        }
    }
    void drop_minimum(day from, int count) { drop(tmin, from, count); }
    void drop_maximum(day from, int count) { drop(tmax, from, count); }
    [[nodiscard]] daily_record record() const { return {start, tmin, tmax, "Marlpit"}; }

private:
    void drop(std::vector<double>& values, day from, int count) const {
        for (int k = 0; k < count; ++k) { values[(from - start).count() + k] = gone; }
    }
};

numbered_days decade() {
    return {make_day(2000, 1, 1), make_day(2010, 1, 1)};
}

std::vector<int> years_of(climate const& one) {
    return {one.years().begin(), one.years().end()};
}

std::string message_of(daily_record const& record, climate_options const& options) {
    try {
        (void)climate{record, north, options};
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

}  // namespace

TEST_CASE("day k of a season year is its start plus k days, 29 February included") {
    climate const here{decade().record(), north, {.season_days = 365}};
    REQUIRE(here.size() == 10);
    CHECK(here.years().front() == 2000);
    CHECK(here.season_of(1) == season{make_day(2001, 1, 1), 365});
    // 1 March is day 60 of a leap year and day 59 of another.
    CHECK(here.tmin(0)[60] == 60.0);
    CHECK(here.season_of(0).day_at(60) == make_day(2000, 3, 1));
    CHECK(here.season_of(1).day_at(59) == make_day(2001, 3, 1));
    CHECK(here.tmin(1)[0] == 366.0);
    CHECK(here.tmax(1)[59] == 366.0 + 59.0 + 5.0);
    CHECK(here.tmin(9).size() == 365);
    CHECK(here.tmax(9).size() == 365);
}

TEST_CASE("a season year is used when its whole run lies within the record") {
    // 2009 has 365 days, so a season of 366 days does not fit into it; 2008 and 2009 have 731.
    CHECK(years_of(climate{decade().record(), north, {.season_days = 365}}).back() == 2009);
    CHECK(years_of(climate{decade().record(), north, {.season_days = 366}}).back() == 2008);
    CHECK(years_of(climate{decade().record(), north}).back() == 2008);
    CHECK(years_of(climate{decade().record(), north, {.season_days = 731}}).back() == 2008);
    CHECK(years_of(climate{decade().record(), north, {.season_days = 732}}).back() == 2007);
    // A record that begins a day late has no season of that year.
    numbered_days const late{make_day(2000, 1, 2), make_day(2010, 1, 1)};
    CHECK(years_of(climate{late.record(), north}).front() == 2001);
}

TEST_CASE("seasons start on 1 January in the north, 1 July in the south, or as asked") {
    using namespace date::literals;
    daily_record const record = decade().record();
    CHECK(climate{record, latitude{0.0}}.season_start() == date::January / 1);
    climate const southern{record, south, {.season_days = 365}};
    CHECK(southern.season_start() == date::July / 1);
    CHECK(southern.years().back() == 2008);  // 1 July 2009 + 365 days is after the record
    CHECK(southern.season_of(0).start() == make_day(2000, 7, 1));
    CHECK(southern.tmin(0)[0] == 182.0);  // 31 + 29 + 31 + 30 + 31 + 30
    CHECK(southern.site_latitude() == south);
    climate const autumn{record, north, {.season_start = date::October / 15, .season_days = 90}};
    CHECK(autumn.season_of(0).start() == make_day(2000, 10, 15));
    // The season goes over new year: 31 December is day 77.
    CHECK(autumn.season_of(0).day_at(77) == make_day(2000, 12, 31));
    CHECK(autumn.tmin(0)[78] == 366.0);
}

TEST_CASE("the years asked for are the latest, a pair, or all") {
    numbered_days const days{make_day(1950, 1, 1), make_day(2020, 1, 1)};
    auto const years = [&](year_selection which) {
        return years_of(climate{days.record(), north, {.season_days = 365, .years = which}});
    };
    std::vector<int> const usual = years_of(climate{days.record(), north});
    CHECK(usual.size() == 30);
    CHECK(usual.front() == 1989);
    CHECK(usual.back() == 2018);
    CHECK(years(year_selection::latest(2)) == std::vector<int>{2018, 2019});
    CHECK(years(year_selection::between(1961, 1963)) == std::vector<int>{1961, 1962, 1963});
    CHECK(years(year_selection::all()).size() == 70);
    CHECK(years(year_selection::latest(100)).size() == 70);
}

TEST_CASE("a named year that the record does not hold is told") {
    climate const here{decade().record(),
                       north,
                       {.season_days = 365, .years = year_selection::between(1999, 2001)}};
    CHECK(years_of(here) == std::vector<int>{2000, 2001});
    REQUIRE(here.left_out().size() == 1);
    CHECK(here.left_out()[0].year == 1999);
    CHECK(here.left_out()[0].first == make_day(1999, 1, 1));
    CHECK(here.left_out()[0].length == 365);
    CHECK(here.left_out()[0].sentence ==
          "1999: 365 of its 365 days from 1 Jan 1999 are not in the record, which holds 1 Jan 2000 "
          "– 31 Dec 2009");
    climate const over_the_end{decade().record(),
                               north,
                               {.season_days = 366, .years = year_selection::between(2008, 2009)}};
    CHECK(over_the_end.left_out()[0].first == make_day(2010, 1, 1));
    CHECK(over_the_end.left_out()[0].sentence ==
          "2009: 1 of its 366 days from 1 Jan 2009 is not in the record, which holds 1 Jan 2000 – "
          "31 Dec 2009");
}

TEST_CASE("gaps up to max_gap are filled by element and counted, a day of two seasons once") {
    numbered_days days = decade();
    days.drop_minimum(make_day(2005, 3, 1), 3);
    days.drop_maximum(make_day(2005, 3, 2), 1);
    climate const here{days.record(), north, {.season_days = 550}};
    CHECK(here.left_out().empty());
    // The values run in a straight line, so the filled ones are what was dropped; 1 March 2005 is
    // day 59 of the season 2005 and day 366 + 59 of the season 2004.
    CHECK(here.tmin(5)[59] == Approx(1827.0 + 59.0));
    CHECK(here.tmin(4)[366 + 59] == here.tmin(5)[59]);
    CHECK(here.tmax(5)[60] == Approx(1827.0 + 60.0 + 5.0));
    CHECK(here.filled() == filled_days{.minimum = 3, .maximum = 1, .inverted = 0});
    // The record itself keeps its gaps.
    CHECK(here.record() == days.record());
}

TEST_CASE(
    "a longer gap leaves out every season year it reaches into, and no other takes its place") {
    numbered_days days = decade();
    days.drop_minimum(make_day(2005, 3, 1), 4);
    days.drop_maximum(make_day(2007, 12, 30), 5);  // to 3 January 2008
    climate const here{
        days.record(), north, {.season_days = 365, .years = year_selection::latest(5)}};
    CHECK(years_of(here) == std::vector<int>{2006, 2009});
    REQUIRE(here.left_out().size() == 3);
    CHECK(here.left_out()[0] ==
          left_out_year{.year = 2005,
                        .element = weather_element::minimum,
                        .first = make_day(2005, 3, 1),
                        .length = 4,
                        .sentence = "2005: no minimum for 4 days from 1 Mar 2005 (gaps of up to 3 "
                                    "days are filled)"});
    CHECK(here.left_out()[1].year == 2007);
    CHECK(here.left_out()[2].year == 2008);
    CHECK(here.left_out()[2].first == make_day(2007, 12, 30));
    CHECK(here.left_out()[2].sentence ==
          "2008: no maximum for 5 days from 30 Dec 2007 (gaps of up to 3 days are filled)");
    CHECK(climate{days.record(), north, {.season_days = 365, .max_gap = 5}}.left_out().empty());
    CHECK(here.year_note() == "2 season years, 2006 – 2009; 3 left out (2005, 2007, 2008)");
    CHECK(fmt::format("{}", here) ==
          "Marlpit: 2 season years, 2006 – 2009; 3 left out (2005, 2007, 2008)");
}

TEST_CASE("a gap in a season's first twelve months is told before a longer one of the year after") {
    numbered_days days = decade();
    days.drop_minimum(make_day(2005, 4, 10), 5);
    days.drop_maximum(make_day(2006, 2, 1), 20);
    climate const here{days.record(), north, {.season_days = 550}};
    REQUIRE(here.left_out().size() == 3);
    CHECK(here.left_out()[0].sentence ==
          "2004, whose season of 550 days runs on to 3 Jul 2005: no minimum for 5 days from 10 Apr "
          "2005 (gaps of up to 3 days are filled)");
    CHECK(here.left_out()[1].first == make_day(2005, 4, 10));
    CHECK(here.left_out()[1].length == 5);
    CHECK(here.left_out()[1].sentence ==
          "2005: no minimum for 5 days from 10 Apr 2005 (gaps of up to 3 days are filled)");
    CHECK(here.left_out()[2].sentence ==
          "2006: no maximum for 20 days from 1 Feb 2006 (gaps of up to 3 days are filled)");
}

TEST_CASE("a gap at the edge of the record leaves the year out, one in the middle does not") {
    numbered_days days = decade();
    days.drop_maximum(make_day(2009, 12, 31), 1);
    days.drop_maximum(make_day(2008, 12, 31), 1);
    climate const here{days.record(), north, {.season_days = 365}};
    CHECK(here.years().back() == 2008);
    REQUIRE(here.left_out().size() == 1);
    CHECK(here.left_out()[0].sentence ==
          "2009: no maximum on 31 Dec 2009, at the edge of the record, with a value on one side "
          "only");
}

TEST_CASE("a minimum above its maximum is filled in both elements, counted and warned of") {
    numbered_days days = decade();
    days.tmin[100] = days.tmax[100] + 1.0;
    climate const here{days.record(), north, {.season_days = 365}};
    CHECK(here.tmin(0)[100] == Approx(100.0));
    CHECK(here.tmax(0)[100] == Approx(105.0));
    CHECK(here.filled() == filled_days{.minimum = 1, .maximum = 1, .inverted = 1});
    CHECK(here.warnings() == std::vector<std::string>{
                                 "on 1 day of the season years the record has a minimum above its "
                                 "maximum; both were taken as missing and filled"});
}

TEST_CASE("fewer than 10 season years give a warning, 10 do not") {
    daily_record const record = decade().record();
    CHECK(climate{record, north, {.season_days = 365}}.warnings().empty());
    CHECK(
        climate{record, north}.warnings() ==
        std::vector<std::string>{"9 season years only: chances counted in so few years are rough; "
                                 "10 or more are wanted, 30 are usual"});
    climate const one{record, north, {.years = year_selection::latest(1)}};
    CHECK(one.year_note() == "1 season year, 2008; none left out");
    CHECK(one.warnings()[0].starts_with("1 season year only: "));
}

TEST_CASE("a note names six of many years left out") {
    numbered_days days{make_day(1990, 1, 1), make_day(2010, 1, 1)};
    for (int year = 1990; year < 1998; ++year) { days.drop_minimum(make_day(year, 5, 1), 4); }
    CHECK(climate{days.record(), north, {.season_days = 365}}.year_note() ==
          "12 season years, 1998 – 2009; 8 left out (1990, 1991, 1992, 1993, 1994, 1995, …)");
}

TEST_CASE("a copy of a climate shares its numbers, climates are equal when they hold the same") {
    daily_record const record = decade().record();
    climate const here{record, north};
    climate const copy = here;
    CHECK(copy.tmin(3).data() == here.tmin(3).data());
    CHECK(here.tmin(1).data() == here.tmin(0).data() + here.season_days());
    CHECK(climate{record, north} == here);
    CHECK(climate{record, north, {.season_days = 549}} != here);
    CHECK(climate{record, latitude{52.0}} != here);
    CHECK(climate{record, north, {.max_gap = 2}} != here);
}

TEST_CASE("a climate that cannot be cut is refused with what to do") {
    using namespace date::literals;
    daily_record const record = decade().record();
    numbered_days holes = decade();
    for (int year = 2000; year < 2010; ++year) {
        holes.drop_minimum(make_day(year, 5, 1), year == 2004 ? 9 : 4);
    }
    struct bad_request {
        daily_record record;
        climate_options options;
        char const* message;
    };
    std::vector<bad_request> const requests = {
        {record,
         {.season_start = date::February / 29},
         "season_start: a season start cannot be 29 February, which most years lack; give a day "
         "that every year has, such as 28 February or 1 March"},
        {record,
         {.season_start = date::April / 31},
         "season_start: 04-31 is not a month and day of the calendar; give a day that every year "
         "has, such as 28 February or 1 March"},
        {record,
         {.season_days = 0},
         "season_days: 0 days is no season (allowed: 1 to 1500 days); 550 days see a sown year and "
         "the spring after it; give 730 for plans with a winter in them"},
        {record,
         {.season_days = 1501},
         "season_days: 1501 days is no season (allowed: 1 to 1500 days); 550 days see a sown year "
         "and the spring after it; give 730 for plans with a winter in them"},
        {record,
         {.max_gap = 32},
         "max_gap: gaps of 32 days cannot be filled by a straight line (allowed: 0 to 31 days); 3 "
         "days are usual; 0 fills nothing"},
        {numbered_days{make_day(2000, 1, 1), make_day(2000, 12, 31)}.record(),
         {.season_days = 366},
         "record: no season year of 366 days from 1 Jan fits in the record, which holds 1 Jan 2000 "
         "– 30 Dec 2000; give a longer record, or a shorter season"},
        {record,
         {.years = year_selection::between(1950, 1951)},
         "record: of the years 1950 to 1951 nothing can be used; longest gap: 1950: 550 of its 550 "
         "days from 1 Jan 1950 are not in the record, which holds 1 Jan 2000 – 31 Dec 2009 "
         "(allowed: 1 or more season years); give a record with fewer gaps, other years, a shorter "
         "season, or a larger max_gap"},
        {holes.record(),
         {.season_days = 365},
         "record: of the latest 30 years nothing can be used; longest gap: 2004: no minimum for 9 "
         "days from 1 May 2004 (gaps of up to 3 days are filled) (allowed: 1 or more season "
         "years); give a record with fewer gaps, other years, a shorter season, or a larger "
         "max_gap"},
    };
    for (bad_request const& request : requests) {
        CHECK(message_of(request.record, request.options) == request.message);
    }
}

TEST_CASE("a selection of years is printed, compared and checked") {
    CHECK(fmt::format("{}", year_selection{}) == "the latest 30 years");
    CHECK(fmt::format("{}", year_selection::latest(1)) == "the latest year");
    CHECK(fmt::format("{}", year_selection::between(1981, 2010)) == "the years 1981 to 2010");
    CHECK(fmt::format("{}", year_selection::between(1981, 1981)) == "the year 1981");
    CHECK(fmt::format("{}", year_selection::all()) == "all years");
    CHECK(year_selection{} == year_selection::latest(30));
    CHECK(year_selection::latest(30) != year_selection::all());
    auto const message = [](auto const& make) {
        try {
            (void)make();
        } catch (invalid_input const& fault) { return std::string{fault.what()}; }
        return std::string{"accepted"};
    };
    CHECK(message([] { return year_selection::latest(0); }) ==
          "years: 0 is no number of years (allowed: 1 to 9999 years); 30 years are usual");
    CHECK(
        message([] { return year_selection::between(2010, 1981); }) ==
        "years: 2010 to 1981 is no run of years (allowed: 1 to 9999, the earlier first); give the "
        "first and the last year, such as 1991 and 2020");
}
