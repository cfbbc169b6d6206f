// Seasons whose harvests can be reckoned by hand: warmth in steps, the same every year.
#include "catch.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/harvest/fewest_sowings.hpp>
#include <epicotyl/season/harvest/stagger.hpp>

namespace ep = epicotyl;

namespace {

constexpr int season_days = 365;
constexpr int first_year = 2001;
constexpr int year_count = 10;

ep::temperature celsius(double t) {
    return ep::temperature::from_celsius(t);
}
ep::day in_2027(unsigned month, unsigned day) {
    return ep::make_day(2027, month, day);
}
ep::day at(int offset) {
    return in_2027(1, 1) + ep::days{offset};
}

/// Ten season years; `low(year, offset)` is the night's minimum, the maximum lies 2 K above it.
ep::climate years_of(std::function<double(int, int)> const& low) {
    ep::day const start = ep::make_day(first_year, 1, 1);
    std::vector<double> minima;
    std::vector<double> maxima;
    ep::day const end = ep::make_day(first_year + year_count + 1, 1, 1);
    for (ep::day d = start; d < end; d += ep::days{1}) {
        int const year = int{date::year_month_day{d}.year()};
        int const offset = static_cast<int>((d - ep::make_day(year, 1, 1)).count());
        minima.push_back(low(year - first_year, offset));
        maxima.push_back(minima.back() + 2.0);
    }
    return ep::climate{
        ep::daily_record{start, minima, maxima},
        ep::latitude{45.0},
        {.season_days = season_days,
         .years = ep::year_selection::between(first_year, first_year + year_count - 1)}};
}

/// So many K day a day above the base of 10 °C.
ep::climate warmth_of(std::function<double(int, int)> const& rate) {
    return years_of([&](int year, int offset) { return 10.0 + rate(year, offset) - 1.0; });
}

ep::crop bean(ep::clock takes, double stands) {
    return {.name = "bean",
            .id = "phaseolus",
            .stages = {
                {.begins = "sow", .where = {"field"}, .takes = std::move(takes)},
                {.begins = "first_harvest", .where = {"field"}, .takes = ep::clock::days(stands)}}};
}

ep::clock heat(double amount) {
    return ep::clock::heat(
        {.amount = ep::thermal_time::from_kelvin_days(amount), .base = celsius(10.0)});
}

ep::plan_parts parts_with(ep::crop grown) {
    ep::plan_parts parts{.window = ep::season{in_2027(1, 1), season_days},
                         .where = ep::latitude{45.0}};
    parts.places = {{.name = "beds", .jobs = {ep::job::field}}};
    parts.crops = {std::move(grown)};
    return parts;
}

ep::plan plan_with(ep::crop grown) {
    return ep::plan{parts_with(std::move(grown))};
}

std::vector<ep::day> sowings_of(ep::staggered const& of) {
    std::vector<ep::day> all;
    for (ep::staggered_sowing const& one : of.sowings()) { all.push_back(one.sowing); }
    return all;
}

std::string fault_of(std::function<void()> const& call) {
    try {
        call();
    } catch (ep::invalid_input const& fault) { return fault.what(); }
    return "";
}

}  // namespace

TEST_CASE(
    "the field rule: a week of harvest is 23 days of sowing in a cool May, 6 in a warm July") {
    // The published rule: I = 7 days at 10 K day a day of harvest weather are 70 K day; these build
    // up in 70 / 3 = 23 days of a May of 3 K day a day, and in 70 / 12 = 6 of a July of 12. 1 June
    // is day 151, 1 July 181, 1 August 212.
    ep::climate const steps = warmth_of([](int, int d) {
        return d < 151 ? 3.0 : d >= 181 && d < 212 ? 12.0 : 10.0;
    });
    ep::plan const p = plan_with(bean(heat(200.0), 7.0));
    // Sown d days before 1 June, 3 d + 10 k >= 200 after k days of June. For k = 11: d = 30 at the
    // least; for k = 18: d = 7.
    ep::staggered const spring = ep::stagger(
        p, steps, "bean", {.first = in_2027(6, 12), .last = in_2027(6, 19), .every = 7});
    CHECK(sowings_of(spring) == std::vector{in_2027(5, 2), in_2027(5, 25)});
    CHECK(spring.intervals() == std::vector{7});
    CHECK(spring.sowings()[1].sowing - spring.sowings()[0].sowing == ep::days{23});
    // Sown d days before 1 August, 12 d + 10 k >= 200: for k = 0 d = 17, for k = 7 d = 11.
    ep::staggered const summer =
        ep::stagger(p, steps, "bean", {.first = in_2027(8, 1), .last = in_2027(8, 8), .every = 7});
    CHECK(sowings_of(summer) == std::vector{in_2027(7, 15), in_2027(7, 21)});
    CHECK(summer.intervals() == std::vector{7});
    CHECK(summer.sowings()[1].sowing - summer.sowings()[0].sowing == ep::days{6});
}

TEST_CASE("equal gaps of sowing bunch the harvest in spring") {
    // 3 K day a day in spring, 10 from 1 June on; harvests wanted on 12, 19 and 26 June. Sown on
    // 2 and 25 May as above; for k = 25 nothing is wanted of May: 20 days before 26 June, 6 June.
    ep::climate const steps = warmth_of([](int, int d) { return d < 151 ? 3.0 : 10.0; });
    ep::staggered const even =
        ep::stagger(plan_with(bean(heat(200.0), 7.0)), steps, "phaseolus",
                    {.first = in_2027(6, 12), .last = in_2027(6, 30), .every = 7});
    CHECK(sowings_of(even) == std::vector{in_2027(5, 2), in_2027(5, 25), in_2027(6, 6)});
    CHECK(even.intervals() == std::vector{7, 7});
    // 35 days in two gaps, 18 (rounded from 17.5) and 17: the second is sown on 20 May, 12 days
    // before June, 36 + 10 k >= 200: k = 17, 18 June. Harvests 6 and 8 days apart.
    std::vector<ep::equal_gap_sowing> const equal = ep::equal_gaps(even);
    REQUIRE(equal.size() == 3);
    CHECK(equal[0] == ep::equal_gap_sowing{in_2027(5, 2), in_2027(6, 12)});
    CHECK(equal[1] == ep::equal_gap_sowing{in_2027(5, 20), in_2027(6, 18)});
    CHECK(equal[2] == ep::equal_gap_sowing{in_2027(6, 6), in_2027(6, 26)});
}

TEST_CASE("a count of harvests stands evenly in the span, its ends included") {
    ep::climate const even = warmth_of([](int, int) { return 10.0; });
    ep::plan const p = plan_with(bean(ep::clock::days(20.0), 7.0));
    ep::stagger_options asked{.first = in_2027(6, 1), .last = in_2027(6, 11), .count = 4};
    // 10 days in three parts: 3.33 and 6.67, to the nearest day 3 and 7.
    CHECK(sowings_of(ep::stagger(p, even, "bean", asked)) ==
          std::vector{in_2027(5, 12), in_2027(5, 15), in_2027(5, 19), in_2027(5, 22)});
    asked.count = 1;
    CHECK(sowings_of(ep::stagger(p, even, "bean", asked)) == std::vector{in_2027(5, 12)});
}

TEST_CASE("scheduled in a plan, staggered successions are sown on the same days") {
    ep::plan_parts parts = parts_with(bean(heat(200.0), 7.0));
    parts.crops.front().limit_tender = celsius(0.0);
    parts.crops.front().limit_hardened = celsius(0.0);
    parts.successions = {{.name = "bean 2",
                          .crop = "bean",
                          .amount = {.value = 5.0},
                          .target = {"first_harvest", ep::by_rule{in_2027(7, 1)}}},
                         {.name = "later",
                          .crop = "bean",
                          .amount = {.value = 5.0},
                          .target = {"first_harvest", ep::by_rule{in_2027(9, 1)}}}};
    parts.links = {{.first = {.succession = "bean 2", .event = "clear"},
                    .then = {.succession = "later", .event = "sow"}}};
    ep::plan const p{parts};
    // Years differ in warmth, and there is a frost of -1 °C on 1 May in three of them.
    ep::climate const years = years_of([](int year, int d) {
        double const warm = d < 151 ? 12.0 : 17.0;
        return d == 120 && year < 3 ? -1.0 : warm + 0.4 * year;
    });
    ep::staggered const found = ep::stagger(p, years, "bean",
                                            {.first = in_2027(5, 20),
                                             .last = in_2027(8, 31),
                                             .every = 6,
                                             .reliability = ep::reliability{0.9}});
    REQUIRE(found.sowings().size() > 10);
    // Names go on from the plan's.
    REQUIRE_FALSE(found.left_out().empty());
    CHECK(found.left_out().front().succession == "bean 3");
    CHECK(found.left_out().front().code == "target.too_early");
    ep::calendar const planned = ep::schedule(found.added_to(p), years);
    for (ep::staggered_sowing const& one : found.sowings()) {
        INFO(one.name);
        CHECK(planned.date(one.name, "sow") == one.sowing);
        CHECK(planned.date(one.name, "first_harvest") == one.usual);
        CHECK(one.usual <= one.wanted);
        CHECK(one.early <= one.usual);
        CHECK(one.usual <= one.late);
    }
    CHECK_THROWS_AS(found.added_to(found.added_to(p)), ep::invalid_input);
}

TEST_CASE("the last useful sowing is picked before the frost in enough years") {
    // First frosts on days 273 (1 October) ... 282, one a year; 30 days from sowing to harvest.
    // Picked on day 274 at the latest, before the frosts of the eight later years: sown on day 244.
    ep::climate const years =
        years_of([](int year, int d) { return d == 273 + year ? -1.0 : 12.0; });
    ep::plan const p = plan_with(bean(ep::clock::days(30.0), 7.0));
    ep::stagger_options asked{.first = in_2027(9, 1), .last = in_2027(10, 10), .every = 13};
    ep::staggered const found = ep::stagger(p, years, "bean", asked);
    ep::last_sowing const& last = found.last_useful();
    CHECK(last.sowing == at(244));
    CHECK(last.good == 8);
    CHECK(last.good_one_day_later == 7);
    CHECK(last.limit == ep::sowing_limit::frost);
    CHECK(last.sentence ==
          "sow on 2 Sep at the latest: picked before the first frost (0 °C) in 8 of 10 years; sown "
          "a day later, in 7, and 8 are wanted");
    // Picked on days 243, 256, 269, and 282: before the last frost of all, and not on its day.
    REQUIRE(found.sowings().size() == 4);
    CHECK(found.sowings()[2].in_time == 10);
    CHECK(found.sowings()[3].in_time == 0);

    // In half of the years the frost comes by the 5th smallest day (0.5 (10 + 1), rounded down).
    asked.last = ep::until_first_frost{ep::chance{0.5}};
    CHECK(ep::stagger(p, years, "bean", asked).until() == at(276));

    // The half of the year in which the span begins is the one that counts, late as it may be.
    asked.first = in_2027(10, 5);
    ep::staggered const late = ep::stagger(p, years, "bean", asked);
    CHECK(late.until() == std::nullopt);
    CHECK(late.sowings().empty());
    REQUIRE(late.left_out().size() == 1);
    CHECK(late.left_out().front().code == "stagger.frost_before_first");
    CHECK(late.last_useful().sowing == at(244));
}

TEST_CASE("days too short, a bound and the end of the season limit a sowing as well") {
    ep::climate const mild = years_of([](int, int) { return 12.0; });
    ep::plan_parts parts = parts_with(bean(ep::clock::days(30.0), 7.0));
    ep::stagger_options asked{.first = in_2027(9, 1), .last = in_2027(10, 1), .every = 7};
    // Day 365 is the last; without a frost only it ends the use of sowing.
    ep::staggered const free = ep::stagger(ep::plan{parts}, mild, "bean", asked);
    CHECK(free.last_useful().sowing == at(335));
    CHECK(free.last_useful().limit == ep::sowing_limit::season);
    // At 45 °N days are shorter than 10 hours from 6 November on: picked on 5 November.
    asked.day_length_at_least = 10.0;
    ep::staggered const lit = ep::stagger(ep::plan{parts}, mild, "bean", asked);
    CHECK(lit.last_useful().sowing == in_2027(10, 6));
    CHECK(lit.last_useful().limit == ep::sowing_limit::day_length);
    // Days are never as long as 20 hours, on the span's first day neither.
    asked.day_length_at_least = 20.0;
    ep::staggered const dark = ep::stagger(ep::plan{parts}, mild, "bean", asked);
    CHECK(dark.last_useful().sowing == at(212));  // picked on 31 August, before all of the span
    asked.day_length_at_least = std::nullopt;
    parts.crops.front().not_after = {{"sow", ep::by_rule{in_2027(9, 10)}}};
    ep::staggered const bound = ep::stagger(ep::plan{parts}, mild, "bean", asked);
    CHECK(bound.last_useful().sowing == in_2027(9, 10));
    CHECK(bound.last_useful().limit == ep::sowing_limit::not_after);
}

TEST_CASE("no first frost at the chance asked for is a result, not an exception") {
    ep::climate const mild =
        years_of([](int year, int d) { return d == 300 && year == 0 ? -1.0 : 12.0; });
    ep::staggered const found = ep::stagger(
        plan_with(bean(ep::clock::days(30.0), 7.0)), mild, "bean",
        {.first = in_2027(9, 1), .last = ep::until_first_frost{ep::chance{0.5}}, .every = 7});
    CHECK(found.sowings().empty());
    CHECK(found.weeks().empty());
    CHECK(found.share_covered() == 0.0);
    CHECK(ep::equal_gaps(found).empty());
    REQUIRE(found.left_out().size() == 1);
    CHECK(found.left_out().front().sentence ==
          "there is no first frost here to count from (5 years of 10): 1 of 10 years have a night "
          "at or below 0 °C in that half of the year");
}

TEST_CASE("wanted days that one sowing would meet are met once, and the rest is told") {
    // Nothing grows from day 200 to 229. Sown on day 190, ripe on 200; a day later, on 231.
    ep::climate const pause =
        warmth_of([](int, int d) { return d >= 200 && d < 230 ? 0.0 : 10.0; });
    ep::staggered const found = ep::stagger(plan_with(bean(heat(100.0), 7.0)), pause, "bean",
                                            {.first = at(200), .last = at(235), .every = 7});
    CHECK(sowings_of(found) == std::vector{at(190), at(195)});
    CHECK(found.sowings()[1].name == "bean 6");
    CHECK(found.intervals() == std::vector{35});
    REQUIRE(found.left_out().size() == 4);
    CHECK(found.left_out().front().code == "stagger.same_sowing");
    CHECK(found.left_out().front().sentence ==
          "first harvest on 27 Jul would be that of \"bean 1\", sown on 10 Jul and picked from 20 "
          "Jul: no later sowing is picked by then");
}

TEST_CASE("harvests that never come are results with a reason and a cure") {
    ep::climate const cold = years_of([](int, int) { return 5.0; });
    ep::staggered const found =
        ep::stagger(plan_with(bean(heat(100.0), 7.0)), cold, "bean",
                    {.first = in_2027(6, 1), .last = in_2027(6, 10), .every = 7});
    CHECK(found.sowings().empty());
    REQUIRE(found.left_out().size() == 2);
    CHECK(found.left_out().front().code == "target.never_ready");
    CHECK(found.last_useful().sowing == std::nullopt);
    CHECK(found.last_useful().sentence ==
          "no sowing is of use: even the earliest is picked before the season ends in none of 10 "
          "years, and 8 are wanted");
    CHECK(found.share_covered() == 0.0);
    REQUIRE(found.gaps().size() == 1);
    CHECK(found.gaps().front() == ep::harvest_gap{in_2027(6, 1), in_2027(6, 10), 0});
}

TEST_CASE("weeks with something in harvest are covered, and runs of days without are named") {
    // A week of harvest every second week from Monday, 7 June, on.
    ep::climate const even = warmth_of([](int, int) { return 10.0; });
    ep::plan const p = plan_with(bean(ep::clock::days(30.0), 7.0));
    ep::stagger_options asked{.first = in_2027(6, 7), .last = in_2027(7, 4), .every = 14};
    ep::staggered const monday = ep::stagger(p, even, "bean", asked);
    REQUIRE(monday.weeks().size() == 4);
    CHECK(monday.weeks()[0] == ep::harvest_week{in_2027(6, 7), in_2027(6, 13), 10, true});
    CHECK(monday.weeks()[1] == ep::harvest_week{in_2027(6, 14), in_2027(6, 20), 0, false});
    CHECK(monday.share_covered() == 0.5);
    std::vector<ep::harvest_gap> const holes = {{in_2027(6, 14), in_2027(6, 20), 0},
                                                {in_2027(6, 28), in_2027(7, 4), 0}};
    CHECK(monday.gaps() == holes);
    // From Wednesday on every week has harvest days, and the gaps are as long as before.
    asked.first = in_2027(6, 9);
    ep::staggered const wednesday = ep::stagger(p, even, "bean", asked);
    CHECK(wednesday.share_covered() == 1.0);
    CHECK(wednesday.gaps().front() == ep::harvest_gap{in_2027(6, 16), in_2027(6, 22), 0});
}

TEST_CASE("a table shows sowings and harvests side by side") {
    ep::climate const steps = warmth_of([](int, int d) { return d < 151 ? 3.0 : 10.0; });
    ep::staggered const even =
        ep::stagger(plan_with(bean(heat(200.0), 7.0)), steps, "bean",
                    {.first = in_2027(6, 12), .last = in_2027(6, 30), .every = 7});
    CHECK(fmt::format("{}", even) ==
          "bean, picked from 12 Jun to 30 Jun, a first harvest every 7 days, in 80 % of years\n"
          "             sow  apart  picked from  apart   early    late  in time\n"
          "  bean 1   2 May              12 Jun         12 Jun  12 Jun    10/10\n"
          "  bean 2  25 May   23 d       19 Jun    7 d  19 Jun  19 Jun    10/10\n"
          "  bean 3   6 Jun   12 d       26 Jun    7 d  26 Jun  26 Jun    10/10\n"
          "sow on 12 Dec at the latest: picked before the season ends in 10 of 10 years; sown a "
          "day later, in\n"
          "    0, and 8 are wanted\n"
          "In harvest in 4 of 4 weeks\n");
}

TEST_CASE("stagger refuses what it cannot use, with all parts") {
    ep::climate const even = warmth_of([](int, int) { return 10.0; });
    ep::plan_parts parts = parts_with(bean(ep::clock::days(30.0), 7.0));
    parts.crops.push_back({.name = "lawn", .stages = {{.begins = "sow", .where = {"field"}}}});
    ep::plan const p{parts};
    ep::stagger_options const good{.first = in_2027(6, 1), .last = in_2027(7, 1), .every = 7};
    auto const told = [&](std::function<void(ep::stagger_options&)> const& change,
                          char const* crop = "bean") {
        ep::stagger_options asked = good;
        change(asked);
        return fault_of([&] { (void)ep::stagger(p, even, crop, asked); });
    };
    auto const nothing = [](ep::stagger_options&) {
    };
    CHECK(told(nothing).empty());
    CHECK(told(nothing, "beans") ==
          "crop: the plan has no crop \"beans\"; the nearest is \"bean\"");
    CHECK(told(nothing, "lawn") ==
          "crop: the crop \"lawn\" has no stage that begins with first_harvest; give it one, or "
          "name a crop that is harvested");
    CHECK(told([](auto& o) { o.first = ep::make_day(2026, 12, 31); }) ==
          "first: 2026-12-31 lies outside the plan's season (allowed: 2027-01-01 to 2028-01-01); "
          "give a day of the season, or give the plan a longer one");
    CHECK(told([](auto& o) { o.last = in_2027(5, 31); }) ==
          "last: 2027-05-31 comes before the first day, 2027-06-01 (allowed: 2027-06-01 or later); "
          "give the first day, then the last");
    CHECK(told([](auto& o) { o.count = 3; }) ==
          "every: every and count are both given (allowed: one of every and count); give the days "
          "between harvests, or how many harvests");
    CHECK(told([](auto& o) { o.every = std::nullopt; }).find("neither every nor count") !=
          std::string::npos);
    CHECK(told([](auto& o) { o.every = 0; }) ==
          "every: harvests 0 days apart are no sequence (allowed: 1 to 1500 days); give the days "
          "between harvests, such as 7");
    CHECK(told([](auto& o) {
              o.every = std::nullopt;
              o.count = 32;
          }) ==
          "count: 32 harvests do not fit into 31 days (allowed: 1 to 31); want fewer, or give a "
          "longer span");
    CHECK(
        told([](auto& o) { o.day_length_at_least = 25.0; }) ==
        "day_length_at_least: 25 is no length of a day (allowed: 0 to 24 hours); give hours, such "
        "as 10");
}

TEST_CASE("sowings share the years among them, where one alone serves too few") {
    // 20 days to harvest in five years and 10 in the other five, and 5 days of it. In harvest on
    // day 150 when sown on days 126 ... 130 of the slow years, 136 ... 140 of the fast ones.
    ep::climate const two_kinds = warmth_of([](int year, int) { return year < 5 ? 10.0 : 20.0; });
    ep::plan const p = plan_with(bean(heat(200.0), 5.0));
    ep::covering_sowings const half =
        ep::fewest_sowings(p, two_kinds, "bean", {at(150), at(150), ep::chance{0.5}});
    CHECK(half.sowings == std::vector{at(140)});
    CHECK(half.most_good == std::vector{5});
    CHECK(half.missed == std::vector{2001, 2002, 2003, 2004, 2005});
    ep::in_harvest_rule const wanted{at(150), at(150), ep::chance{0.6}};
    ep::covering_sowings const more = ep::fewest_sowings(p, two_kinds, "phaseolus", wanted);
    CHECK(more.sowings == std::vector{at(130), at(140)});
    CHECK(more.needed == 6);
    CHECK(more.good == 10);
    CHECK(more.most_good == std::vector{5, 10});
    CHECK(more.served[1] == std::vector{2006, 2007, 2008, 2009, 2010});
    CHECK(more.missed.empty());
    CHECK(fmt::format("{}", more) ==
          "bean, in harvest on 31 May 2027: sow on 11 May 2027, 21 May 2027; good in 10 of 10 "
          "years; 1 sowing\n    at best in 5, and 6 are wanted");

    // In a plan they are sown on these days, and a single succession that asks for the same is told
    // of them.
    ep::plan_parts parts = p.parts();
    parts.successions = more.successions;
    parts.successions.push_back({.name = "wedding",
                                 .crop = "bean",
                                 .amount = {.value = 1.0},
                                 .target = {"first_harvest", wanted}});
    ep::calendar const planned = ep::schedule(ep::plan{parts}, two_kinds);
    CHECK(planned.date("bean 1", "sow") == at(130));
    CHECK(planned.date("bean 2", "sow") == at(140));
    REQUIRE(planned.unresolved().size() == 1);
    CHECK(planned.unresolved().front().cure ==
          "sow it 2 times, on 11 May, 21 May: together they serve 10 of 10 years");
}

TEST_CASE("greed would take a sowing too many, the exact answer does not") {
    // 32 days to harvest in two years, 30 in three, 28 in three and 26 in two, and 3 days of it. In
    // harvest on day 150: sown on days 116 ... 118, 118 ... 120, 120 ... 122, 122 ... 124. Day 120
    // serves six years, but then the two ends need one each. Days 118 and 122 serve all ten.
    double const takes[] = {32.0, 32.0, 30.0, 30.0, 30.0, 28.0, 28.0, 28.0, 26.0, 26.0, 26.0};
    ep::climate const kinds = warmth_of([&](int year, int) { return 200.0 / takes[year]; });
    ep::covering_sowings const found = ep::fewest_sowings(
        plan_with(bean(heat(200.0), 3.0)), kinds, "bean", {at(150), at(150), ep::chance{1.0}});
    CHECK(found.sowings == std::vector{at(118), at(122)});
    CHECK(found.most_good == std::vector{6, 10});
}

TEST_CASE("days on which no harvest lasts are answered by a reason") {
    ep::climate const even = warmth_of([](int, int) { return 10.0; });
    ep::plan const p = plan_with(bean(ep::clock::days(30.0), 5.0));
    ep::covering_sowings const found =
        ep::fewest_sowings(p, even, "bean", {in_2027(6, 1), in_2027(6, 6), ep::chance{0.5}});
    CHECK(found.sowings.empty());
    CHECK(found.successions.empty());
    CHECK(found.good == 0);
    REQUIRE(found.none);
    CHECK(
        found.none->sentence ==
        "no set of sowings is in harvest from 1 Jun until 6 Jun in more than 0 of 10 years; 5 are "
        "wanted");
    CHECK(
        fault_of([&] {
            (void)ep::fewest_sowings(p, even, "bean",
                                     {in_2027(6, 2), in_2027(6, 1), ep::chance{0.5}});
        }) ==
        "until: 2027-06-01 comes before the first day, 2027-06-02 (allowed: 2027-06-02 or later); "
        "give the first day, then the last");
}
