// What the blocks of clocks and rules say of themselves, told once for all who ask.
#include "catch.hpp"

#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/rate.hpp>
#include <epicotyl/crop/rule.hpp>

namespace epicotyl {

namespace {

day const may = make_day(2027, 5, 1);
day const june = make_day(2027, 6, 1);

std::vector<rule> const one_of_each{by_rule{may},
                                    on_rule{may},
                                    in_harvest_rule{may, june, chance{0.8}},
                                    from_rule{may},
                                    risk_rule{.share = chance{0.1}},
                                    frost_rule{.days = 7}};

/// The names of the rules of which something is true.
template <class Question>
std::string those_that(Question const& asks) {
    std::string names;
    for (rule const& one : one_of_each) {
        if (!asks(one)) { continue; }
        std::visit([&](auto const& of) { names += std::string{of.name()} + ' '; }, one);
    }
    return names;
}

template <class Block>
std::string keys_of(Block const& block) {
    std::string keys;
    Block::each_key(block, [&](detail::block_key const& key, auto const&) {
        keys += std::string{key.name} + ' ';
    });
    return keys;
}

}  // namespace

TEST_CASE("the keys of a clock stand in the order of a plan file, what names it first") {
    CHECK(keys_of(calendar_wait{}) == "days ");
    CHECK(keys_of(heat_wait{}) == "heat base upper method cutoff ");
    CHECK(keys_of(days_between_wait{}) == "days_between low high ");
    CHECK(keys_of(germination_wait{}) == "germination base optimum ceiling ");
}

TEST_CASE("the amount of a clock is changed and all else is as it was") {
    auto const check = [](auto wait, double other) {
        auto const before = wait;
        wait.set_needed(other);
        CHECK(wait.needed() == other);
        CHECK_FALSE(wait == before);
        wait.set_needed(before.needed());
        CHECK(wait == before);
    };
    check(calendar_wait{8.0}, 9.5);
    check(heat_wait{.amount = thermal_time::from_kelvin_days(380.0),
                    .base = temperature::from_celsius(4.0),
                    .soil = true},
          120.0);
    check(days_between_wait{.days = 40.0, .high = temperature::from_celsius(7.0)}, 12.0);
    check(germination_wait{.amount = thermal_time::from_kelvin_days(110.0)}, 60.0);
}

TEST_CASE(
    "only the calendar's clock has days whatever the weather, and a group has none of its own") {
    clock const chill = clock::days_between({.days = 3.0});
    CHECK(clock::days(8.0).calendar_days() == 8.0);
    CHECK_FALSE(chill.calendar_days());
    CHECK_FALSE(clock::all_of({clock::days(8.0)}).calendar_days());
    CHECK(clock::days(8.0).group() == nullptr);
    CHECK(clock::any_of({chill}).group()->key() == std::string_view{"any"});
    CHECK_FALSE(clock::all_of({clock::days(8.0)}).needs_air());
    CHECK(clock::all_of({clock::days(8.0), chill}).needs_air());
}

TEST_CASE("each question is true of these rules and of no others") {
    CHECK(those_that(asks_exactly) == "on ");
    CHECK(those_that(is_scanned_for) == "in_harvest ");
    CHECK(those_that(keeps_to_date) == "by on ");
    CHECK(those_that(asks_weather) == "risk after_last_frost ");
    CHECK(those_that(moves_with_frost) == "after_last_frost ");
    CHECK(those_that(accepts_risk_of_stage) == "risk ");
    CHECK(those_that([](rule const& of) { return day_due(of) == may; }) == "by ");
    CHECK(those_that([](rule const& of) { return day_asked(of) == may; }) ==
          "by on in_harvest from ");
    CHECK_FALSE(accepts_risk_of_stage(
        risk_rule{.share = chance{0.1}, .limit = temperature::from_celsius(-2.0)}));
}

TEST_CASE("targets and bounds take these rules and no others") {
    auto const takers = [](bool rule_traits::*what) {
        return those_that([what](rule const& of) { return traits_of(of).*what; });
    };
    CHECK(takers(&rule_traits::for_decisions) == "on from risk after_last_frost ");
    CHECK(takers(&rule_traits::for_outcomes) == "by on in_harvest ");
    CHECK(takers(&rule_traits::for_harvest_only) == "in_harvest ");
    CHECK(takers(&rule_traits::for_not_before) == "from risk after_last_frost ");
    CHECK(takers(&rule_traits::for_not_after) == "by after_last_frost ");
}

}  // namespace epicotyl
