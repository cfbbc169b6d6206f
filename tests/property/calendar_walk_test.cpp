// Every day and every ISO week of 400 years, after which the calendar repeats.
#include "catch.hpp"

#include <array>
#include <set>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/days.hpp>

namespace ep = epicotyl;

namespace {

constexpr bool is_leap(int year) {
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

}  // namespace

TEST_CASE("400 years counted day by day have the dates that the calendar's rule gives") {
    constexpr std::array<unsigned, 12> lengths = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    ep::day d = ep::make_day(1800, 1, 1);
    int count = 0;
    int wrong = 0;
    for (int year = 1800; year < 2200; ++year) {
        int of_year = 0;
        for (unsigned month = 1; month <= 12; ++month) {
            unsigned const last = month == 2 && is_leap(year) ? 29 : lengths[month - 1];
            for (unsigned of_month = 1; of_month <= last; ++of_month) {
                ++of_year;
                std::string const iso = fmt::format("{:04}-{:02}-{:02}", year, month, of_month);
                bool const agrees = ep::make_day(year, month, of_month) == d &&
                                    ep::to_iso(d) == iso && ep::parse_iso_day(iso) == d &&
                                    ep::detail::day_of_year(d) == of_year;
                wrong += agrees ? 0 : 1;
                d += ep::days{1};
                ++count;
            }
            CHECK_THROWS_AS(ep::make_day(year, month, last + 1), ep::invalid_input);
        }
    }
    CHECK(wrong == 0);
    CHECK(count == 146097);
    CHECK(d == ep::make_day(2200, 1, 1));
}

TEST_CASE("400 years of ISO weeks: week 1 has the first Thursday, and weekdays never stumble") {
    // 1 January 1800 was a Wednesday. A week belongs to the year of its Thursday, whose day of the
    // year says which week it is (ISO 8601, 3.1.1.23).
    int weekday = 3;
    int wrong = 0;
    std::set<std::pair<int, int>> weeks;
    for (ep::day d = ep::make_day(1800, 1, 1); d < ep::make_day(2200, 1, 1); d += ep::days{1}) {
        ep::day const thursday = d + ep::days{4 - weekday};
        int const year = int{date::year_month_day{thursday}.year()};
        int const week = (ep::detail::day_of_year(thursday) - 1) / 7 + 1;
        ep::iso_week_date const found = ep::iso_week_of(d);
        bool const agrees = found == ep::iso_week_date{year, week, weekday} &&
                            ep::monday_of(d) == d - ep::days{weekday - 1};
        wrong += agrees ? 0 : 1;
        weeks.emplace(found.year, found.week);
        weekday = weekday % 7 + 1;
    }
    CHECK(wrong == 0);
    // The calendar repeats after 400 years, 146,097 days, 20,871 weeks; 71 of the years have 53.
    CHECK(weekday == 3);
    int long_years = 0;
    int whole_years_weeks = 0;
    for (int year = 1801; year < 2200; ++year) {
        int const count = weeks.contains({year, 53}) ? 53 : 52;
        CHECK(weeks.contains({year, count}));
        long_years += count == 53 ? 1 : 0;
        whole_years_weeks += count;
    }
    // 1800 itself begins on a Wednesday and is no long year.
    CHECK(long_years == 71);
    CHECK(whole_years_weeks + 52 == 20871);
}
