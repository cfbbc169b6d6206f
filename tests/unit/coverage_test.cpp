// The weeks that two batches of beans cover, counted by hand. Bean 1 is picked from Wednesday 30
// June to Monday 19 July 2027, bean 2 from 4 to 23 August, unless a year's frost or heat ends it.
#include "catch.hpp"
#include "plot_with_harvest.hpp"

#include <epicotyl/season/harvest/coverage.hpp>

namespace ep = epicotyl;
using plot::in_2027;

namespace {

ep::prospect three_years() {
    // Bean 1 to 9 July in the second, to 4 July in the third.
    return plot::prospect_of({{}, {.cold = 190}, {.hot = 185}});
}

std::vector<int> years_of(ep::harvest_coverage const& of) {
    std::vector<int> all;
    for (ep::coverage_week const& week : of.weeks) { all.push_back(week.years); }
    return all;
}

}  // namespace

TEST_CASE("A week counts the years with a harvest on one of its days") {
    ep::harvest_coverage const found =
        ep::coverage(three_years(), ep::succession_group::of_crop("bean"));
    CHECK(found.successions == std::vector<std::string>{"bean 1", "bean 2"});
    CHECK(found.needed == 2);
    CHECK(years_of(found) == std::vector<int>{3, 2, 1, 1, 0, 3, 3, 3, 3});
    CHECK(found.weeks.front().from == in_2027(6, 30));
    CHECK(found.weeks.front().until == in_2027(7, 4));
    CHECK(found.weeks.back().until == in_2027(8, 23));
    CHECK(found.weeks[1].covered);
    CHECK(!found.weeks[2].covered);
    CHECK(found.share_covered() == 6.0 / 9.0);
    REQUIRE(found.gaps.size() == 3);
    CHECK(found.gaps[0].sentence ==
          "week of Mon 12 Jul (week 28): nothing to pick in 2 of 3 years");
    CHECK(found.gaps[2].without == 3);
    CHECK(ep::to_string(found).find("6 of 9 weeks covered in 2 of 3 years or more") == 0);
}

TEST_CASE("Heat ends no week's cover where it is not to stop a harvest") {
    ep::harvest_coverage const found =
        ep::coverage(three_years(), ep::succession_group::of({"bean 1", "bean 1"}),
                     {.harvest = {.heat_stops = false}});
    CHECK(years_of(found) == std::vector<int>{3, 3, 2, 2});
    CHECK(found.successions.size() == 1);
}

TEST_CASE("A wanted amount is met in the years whose batches give it together") {
    // 100 plants give 1 unit each over 20 days: 25, 35, 35 and 5 in the four weeks.
    ep::harvest_yield const gives{.shape = ep::yield_shape::box(20.0), .unit = "kg"};
    ep::coverage_options const options{
        .reliability = ep::reliability{0.6},
        .amount = ep::wanted_amount{.per_week = 25.0, .gives = {{"bean", gives}}}};
    ep::harvest_coverage const found =
        ep::coverage(three_years(), ep::succession_group::of({"bean 1"}), options);
    REQUIRE(found.weeks.size() == 4);
    CHECK(found.weeks[0].met == 3);
    CHECK(found.weeks[1].met == 2);
    CHECK(found.weeks[2].met == 1);
    CHECK(found.weeks[3].met == 0);
    CHECK(found.gaps[0].sentence ==
          "week of Mon 12 Jul (week 28): nothing to pick in 2 of 3 years, less than 25 kg in "
          "2 of 3 years");
}

TEST_CASE("A week with a harvest that gives too little says that and nothing else") {
    ep::harvest_yield const gives{.shape = ep::yield_shape::box(20.0)};
    ep::coverage_options const options{
        .amount = ep::wanted_amount{.per_week = 30.0, .gives = {{"", gives}}}};
    ep::harvest_coverage const found =
        ep::coverage(three_years(), ep::succession_group::of({"bean 1"}), options);
    CHECK(found.gaps[0].sentence == "week of Mon 28 Jun (week 26): less than 30 in every year");
    CHECK(found.gaps[0].less == 3);
}

TEST_CASE("A yield said of a succession wins over its crop's") {
    ep::harvest_yield const none{.shape = ep::yield_shape::box(20.0), .units_per_plant = 0.0};
    ep::harvest_yield const gives{.shape = ep::yield_shape::box(20.0)};
    ep::coverage_options const options{
        .amount = ep::wanted_amount{.per_week = 1.0, .gives = {{"bean", none}, {"bean 1", gives}}}};
    ep::harvest_coverage const found =
        ep::coverage(three_years(), ep::succession_group::of_crop("bean"), options);
    CHECK(found.weeks.front().met == 3);
    CHECK(found.weeks.back().met == 0);
}

TEST_CASE("A span that is asked for is cut into ISO weeks") {
    ep::harvest_coverage const found =
        ep::coverage(three_years(), ep::succession_group::of({"bean 1"}),
                     {.first = in_2027(7, 10), .last = in_2027(7, 20)});
    REQUIRE(found.weeks.size() == 3);
    CHECK(found.weeks[0].from == in_2027(7, 10));
    CHECK(found.weeks[1].from == in_2027(7, 12));
    CHECK(found.weeks[2].until == in_2027(7, 20));
    CHECK(years_of(found) == std::vector<int>{1, 1, 1});
}

TEST_CASE("Where nothing is ever harvested there are no weeks") {
    std::string const shorter = plot::changed(plot::text, "season_days = 365", "season_days = 170");
    ep::prospect const of = plot::prospect_of({{}}, shorter, 170);
    ep::harvest_coverage const found = ep::coverage(of, ep::succession_group::of({"bean 1"}));
    CHECK(found.weeks.empty());
    CHECK(found.share_covered() == 0.0);
    CHECK(ep::to_string(found) == "Nothing is harvested in the span, in any season year.\n");
}

TEST_CASE("Of a wave, those that are never harvested cover nothing") {
    ep::harvest_coverage const found =
        ep::coverage(three_years(), ep::succession_group::of_wave("summer"));
    CHECK(found.successions == std::vector<std::string>{"bean 1"});
}

TEST_CASE("What is no group, span or amount is refused") {
    ep::prospect const of = three_years();
    ep::succession_group const bean = ep::succession_group::of({"bean 1"});
    CHECK_THROWS_AS(ep::coverage(of, ep::succession_group::of({})), ep::invalid_input);
    CHECK_THROWS_AS(ep::coverage(of, ep::succession_group::of({"been"})), ep::invalid_input);
    auto const remedy = [&](ep::succession_group const& group) {
        try {
            (void)ep::coverage(of, group);
        } catch (ep::invalid_input const& fault) { return fault.details().remedy; }
        return std::string{};
    };
    CHECK(remedy(ep::succession_group::of_crop("been")) == "the nearest is \"bean\"");
    CHECK(remedy(ep::succession_group::of_wave("sumer")) == "the nearest is \"summer\"");
    CHECK_THROWS_AS(ep::coverage(of, ep::succession_group::of_crop("leek")), ep::invalid_input);
    CHECK_THROWS_AS(ep::coverage(of, ep::succession_group::of({"bean 1", "leek"})),
                    ep::invalid_input);
    CHECK_THROWS_AS(ep::coverage(of, bean, {.first = in_2027(7, 2), .last = in_2027(7, 1)}),
                    ep::invalid_input);
    CHECK_THROWS_AS(ep::coverage(of, bean, {.first = ep::make_day(2026, 7, 2)}), ep::invalid_input);
    CHECK_THROWS_AS(ep::coverage(of, bean, {.amount = ep::wanted_amount{.per_week = 0.0}}),
                    ep::invalid_input);
    CHECK_THROWS_AS(ep::coverage(of, bean, {.amount = ep::wanted_amount{.per_week = 1.0}}),
                    ep::invalid_input);
}
