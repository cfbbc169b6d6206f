// A season small enough to reckon by hand: 240 days, 10 season years, weather made of steps.
#include "catch.hpp"

#include <stdexcept>
#include <vector>

#include <epicotyl/season/days/explain.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/windows/event_network.hpp>

namespace ep = epicotyl;

namespace {

constexpr int season_days = 240;

ep::temperature celsius(double t) {
    return ep::temperature::from_celsius(t);
}
ep::day in_2027(unsigned month, unsigned day) {
    return ep::make_day(2027, month, day);
}

/// Ten years. Every day has a maximum of 15 and a minimum of 5, but for one frost of -3 a year, on
/// 1 April in the first year, 2 April in the second, ... 10 April in the tenth.
ep::climate ten_years() {
    ep::day const start = ep::make_day(2001, 1, 1);
    int const length = static_cast<int>((ep::make_day(2012, 1, 1) - start).count());
    std::vector<double> low(static_cast<std::size_t>(length), 5.0);
    std::vector<double> const high(static_cast<std::size_t>(length), 15.0);
    for (int k = 0; k < 10; ++k) {
        // By day of the season, not by date: 1 April is day 90 of a common year.
        ep::day const first = ep::make_day(2001 + k, 1, 1);
        low[static_cast<std::size_t>((first - start).count() + 90 + k)] = -3.0;
    }
    return ep::climate{
        ep::daily_record{start, low, high},
        ep::latitude{45.0},
        {.season_days = season_days, .years = ep::year_selection::between(2001, 2010)}};
}

/// Sow, emerge after 10 days, plant out after 30, harvest after 40, clear after 20.
ep::crop pansy() {
    return {
        .name = "pansy",
        .stages = {{.begins = "sow", .where = {"grow"}, .takes = ep::clock::days(10)},
                   {.begins = "emerge", .where = {"grow"}, .takes = ep::clock::days(30)},
                   {.begins = "transplant", .where = {"field"}, .takes = ep::clock::days(40)},
                   {.begins = "first_harvest", .where = {"field"}, .takes = ep::clock::days(20)}},
        .limit_tender = celsius(-2.0),
        .limit_hardened = celsius(-2.0)};
}

ep::plan_parts parts_with(std::vector<ep::succession> successions) {
    ep::plan_parts parts{.window = ep::season{ep::make_day(2027, 1, 1), season_days},
                         .where = ep::latitude{45.0}};
    parts.places = {{.name = "house",
                     .jobs = {ep::job::grow},
                     .air = {.warmer_night = ep::temperature_span::from_kelvin(10.0)}},
                    {.name = "beds", .jobs = {ep::job::field}}};
    parts.crops = {pansy()};
    parts.successions = std::move(successions);
    return parts;
}

ep::succession pansies(ep::target aim) {
    return {
        .name = "pansy 1", .crop = "pansy", .amount = {.value = 10.0}, .target = std::move(aim)};
}

std::string why(ep::calendar const& of, char const* event) {
    return ep::explain(of, "pansy 1", event).front().sentence;
}

}  // namespace

TEST_CASE("a risk target is the first day after which so few years have a cold night") {
    // Frosts on 1 ... 10 April; risk 0.2 of 10 years allows 2: 9 and 10 April may come after. So
    // 9 April is the first day on which at most two years have one still to come.
    ep::plan const p{parts_with({pansies({"transplant", ep::risk_rule{ep::chance{0.2}}})})};
    ep::calendar const planned = ep::schedule(p, ten_years());
    CHECK(planned.date("pansy 1", "transplant") == in_2027(4, 9));
    // 40 days before 9 April.
    CHECK(planned.date("pansy 1", "sow") == in_2027(2, 28));
    CHECK(planned.date("pansy 1", "emerge") == in_2027(3, 10));
    CHECK(planned.date("pansy 1", "first_harvest") == in_2027(5, 19));
    CHECK(planned.date("pansy 1", "clear") == in_2027(6, 8));
    // By index the same; what there is not is no date.
    CHECK(planned.date(0, 4) == in_2027(6, 8));
    CHECK_THROWS_AS(planned.date(0, 5), std::out_of_range);
    CHECK_THROWS_AS(planned.date(0, -1), std::out_of_range);
    CHECK_THROWS_AS(planned.date(1, 0), std::out_of_range);
    CHECK(why(planned, "transplant") ==
          "transplant 9 Apr: before that more than 2 years in 10 still had a night at or below -2 "
          "°C to come in beds; ready since 9 Apr in 10 of 10 years");
    CHECK(why(planned, "sow") ==
          "sow 28 Feb: ready to transplant by 9 Apr in 10 of 10 years; sown a day later, in 0, and "
          "8 are wanted");

    ep::prospect const seen = ep::simulate(planned, ten_years());
    // 9 and 10 April freeze on plants that stand out.
    CHECK(seen.damage("pansy 1").damaged == 2);
    CHECK(seen.damage("pansy 1", "transplant").damaged == 2);
    CHECK(seen.damage("pansy 1", "emerge").damaged == 0);
    CHECK(seen.damage("pansy 1").first[8] == in_2027(4, 9));
    CHECK(seen.damage("pansy 1").margin[8] == Approx(-1.0));
    CHECK(seen.damage("pansy 1").margin[0] == Approx(7.0));
}

TEST_CASE("years that are too few to show a risk say so where none is allowed") {
    auto const asked_for = [](double share, ep::climate const& under) {
        return why(
            ep::schedule(
                ep::plan{parts_with({pansies({"transplant", ep::risk_rule{ep::chance{share}}})})},
                under),
            "transplant");
    };
    CHECK(asked_for(0.05, ten_years()) ==
          "transplant 11 Apr: before that 1 year or more in 10 still had a night at or below -2 "
          "°C to come in beds; 10 years cannot show 1 in 20; ready since 11 Apr in 10 of 10 years");
    CHECK(
        asked_for(0.1, ten_years().only({2001, 2002, 2003, 2004, 2005, 2006, 2007, 2008, 2009})) ==
        "transplant 10 Apr: before that 1 year or more in 9 still had a night at or below -2 °C "
        "to come in beds; 9 years cannot show 1 in 10; ready since 10 Apr in 9 of 9 years");
    CHECK(asked_for(0.15, ten_years().only({2001, 2002, 2003})) ==
          "transplant 4 Apr: before that 1 year or more in 3 still had a night at or below -2 °C "
          "to come in beds; 3 years cannot show a share of 0.15; ready since 4 Apr in 3 of 3 "
          "years");
    // Who asks for no risk at all is told nothing; who is content with it neither.
    CHECK(asked_for(0.0, ten_years()).find("cannot show") == std::string::npos);
    CHECK(asked_for(0.1, ten_years()).find("cannot show") == std::string::npos);
}

TEST_CASE("a night of exactly the limit counts, whatever the last digits of the sums say") {
    // A frame 3.2 K warmer turns frosts of -3 into nights of 0.20000000000000018, the limit of 0.2.
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::risk_rule{ep::chance{0.2}}})});
    parts.places.back().air.warmer_night = ep::temperature_span::from_kelvin(3.2);
    parts.crops.front().limit_tender = celsius(0.2);
    parts.crops.front().limit_hardened = celsius(0.2);
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    CHECK(planned.date("pansy 1", "transplant") == in_2027(4, 9));
    ep::prospect const seen = ep::simulate(planned, ten_years());
    CHECK(seen.damage("pansy 1", "transplant").damaged == 2);
    CHECK(seen.damage("pansy 1", "transplant").first[8] == in_2027(4, 9));
    SECTION("and one a hundredth warmer does not") {
        parts.places.back().air.warmer_night = ep::temperature_span::from_kelvin(3.21);
        CHECK(ep::schedule(ep::plan{parts}, ten_years()).date("pansy 1", "transplant") ==
              in_2027(2, 10));
    }
}

TEST_CASE("the default bound moves a target that asks for too early a day, and says so") {
    ep::plan const p{parts_with({pansies({"transplant", ep::from_rule{in_2027(3, 20)}})})};
    ep::calendar const planned = ep::schedule(p, ten_years());
    // The plan's risk of 0.1 allows one year of ten: 10 April.
    CHECK(planned.date("pansy 1", "transplant") == in_2027(4, 10));
    CHECK(why(planned, "transplant") ==
          "transplant 10 Apr: wanted 20 Mar (not before 20 Mar); put back to 10 Apr, because "
          "before that more than 1 year in 10 still had a night at or below -2 °C to come in "
          "beds; ready since 10 Apr in 10 of 10 years");
    SECTION("not with an on target, a bound of its own, or risk off") {
        CHECK(ep::schedule(
                  ep::plan{parts_with({pansies({"transplant", ep::on_rule{in_2027(3, 20)}})})},
                  ten_years())
                  .date("pansy 1", "transplant") == in_2027(3, 20));
        ep::succession own = pansies({"transplant", ep::from_rule{in_2027(3, 20)}});
        own.not_before = {{"transplant", ep::from_rule{in_2027(3, 25)}}};
        CHECK(
            ep::schedule(ep::plan{parts_with({own})}, ten_years()).date("pansy 1", "transplant") ==
            in_2027(3, 25));
        ep::succession off = pansies({"transplant", ep::from_rule{in_2027(3, 20)}});
        off.risk = ep::risk_setting::off();
        CHECK(
            ep::schedule(ep::plan{parts_with({off})}, ten_years()).date("pansy 1", "transplant") ==
            in_2027(3, 20));
    }
}

TEST_CASE("frost rules count on the climate's own years: position rounded away from frost") {
    // Frosts of -3 at days 90 ... 99. Last frost at chance 0.5: position 0.5 * 11 = 5.5, rounded
    // up to the 6th: day 95, 6 April. 2 weeks later: 20 April.
    ep::plan const p{parts_with(
        {pansies({"transplant", ep::frost_rule{ep::frost_edge::after_last_frost, 14}})})};
    CHECK(ep::schedule(p, ten_years()).date("pansy 1", "transplant") == in_2027(4, 20));
}

TEST_CASE("there is no first frost where no year has one: unresolved, with the reason and a cure") {
    ep::plan_parts parts = parts_with(
        {pansies({"transplant", ep::frost_rule{ep::frost_edge::before_first_frost, 60}})});
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    CHECK(planned.date("pansy 1", "sow") == std::nullopt);
    REQUIRE(planned.unresolved().size() == 1);
    CHECK(planned.unresolved().front().code == "frost.none");
    CHECK(planned.unresolved().front().sentence ==
          "transplant: there is no first frost here to count from (5 years of 10): 0 of 10 years "
          "have a night at or below 0 °C in that half of the year");
    CHECK_THROWS_AS(planned.require(), ep::unresolved);
}

TEST_CASE("cold nights in every month leave no day, and the cure names a risk that would") {
    // A limit of 5 °C: every night of every year is at or below it.
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::from_rule{in_2027(4, 20)}})});
    parts.crops.front().limit_hardened = celsius(5.0);
    parts.crops.front().limit_tender = celsius(5.0);
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    REQUIRE(planned.unresolved().size() == 1);
    CHECK(planned.unresolved().front().code == "risk.every_month");
    CHECK(planned.unresolved().front().cure == "accept risk = 1.00");
}

TEST_CASE("an outcome is aimed at by a day: the latest sowing that makes it") {
    // 80 days from sowing to first harvest.
    ep::succession aimed = pansies({"first_harvest", ep::by_rule{in_2027(6, 30)}});
    ep::calendar const planned = ep::schedule(ep::plan{parts_with({aimed})}, ten_years());
    CHECK(planned.date("pansy 1", "sow") == in_2027(4, 11));
    CHECK(planned.date("pansy 1", "first_harvest") == in_2027(6, 30));
    CHECK(planned.claim("pansy 1")->good == 10);
    CHECK(planned.claim("pansy 1")->good_one_day_later == 0);
}

TEST_CASE("a target before anything can be ready is unresolved and says from when it could be") {
    ep::plan const p{parts_with({pansies({"first_harvest", ep::by_rule{in_2027(3, 1)}})})};
    ep::calendar const planned = ep::schedule(p, ten_years());
    REQUIRE(planned.unresolved().size() == 1);
    ep::obstacle const& one = planned.unresolved().front();
    CHECK(one.code == "target.too_early");
    // Planted out on 10 April by the default bound, 40 days to harvest.
    CHECK(one.sentence ==
          "first harvest by 1 Mar is met in none of 10 years, even sown on 1 Jan; 8 are wanted");
    CHECK(one.cure == "aim for 20 May or later");
}

TEST_CASE("a target past the end of the season asks for a longer one") {
    // Half of the last frosts are over after 5 April, position 5.5 of ten rounded up: 6 April,
    // day 95; 22 weeks later is day 249 of a season of 240.
    ep::plan const p{parts_with(
        {pansies({"transplant", ep::frost_rule{ep::frost_edge::after_last_frost, 22 * 7}})})};
    ep::calendar const planned = ep::schedule(p, ten_years());
    REQUIRE(planned.unresolved().size() == 1);
    ep::obstacle const& one = planned.unresolved().front();
    CHECK(one.code == "target.after_season");
    CHECK(one.sentence ==
          "transplant is wanted on 7 Sep 2027 (22 weeks after the last frost of 6 Apr (0 °C, "
          "later in 5 years of 10)), when the season of 240 days is over");
    CHECK(one.cure == "give season_days = 249");
}

TEST_CASE("a harvest in a window says how many years a day later would have served") {
    // 80 days from sowing to first harvest, 20 more to clear: in harvest from 1 to 15 June when
    // sown from 1 March (clear on 16 June at the earliest: day 166 - 100) to 13 March.
    ep::plan const p{parts_with({pansies(
        {"first_harvest", ep::in_harvest_rule{in_2027(6, 1), in_2027(6, 15), ep::chance{0.5}}})})};
    ep::calendar const planned = ep::schedule(p, ten_years());
    CHECK(planned.date("pansy 1", "sow") == in_2027(3, 13));
    CHECK(planned.claim("pansy 1")->good == 10);
    CHECK(planned.claim("pansy 1")->good_one_day_later == 0);
    CHECK(planned.claim("pansy 1")->broken == "pansy 1");
}

TEST_CASE("a half of the year that is over bounds nothing") {
    // The season begins on 5 July; the half with the spring's cold nights ends on 31 July, and its
    // last 30 days are no risk days. Every night of July is cold here.
    ep::day const start = ep::make_day(2001, 7, 5);
    int const length = 11 * 365;
    std::vector<double> low(static_cast<std::size_t>(length), 5.0);
    std::vector<double> const high(static_cast<std::size_t>(length), 15.0);
    for (int i = 0; i < length; ++i) {
        date::year_month_day const when{start + ep::days{i}};
        if (when.month() == date::July) { low[static_cast<std::size_t>(i)] = -3.0; }
    }
    ep::climate const july{ep::daily_record{start, low, high},
                           ep::latitude{45.0},
                           {.season_start = date::July / 5, .season_days = season_days}};
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::from_rule{in_2027(9, 20)}})});
    parts.window = ep::season{in_2027(7, 5), season_days};
    ep::calendar const planned = ep::schedule(ep::plan{parts}, july);
    CHECK(planned.unresolved().empty());
    CHECK(planned.date("pansy 1", "transplant") == in_2027(9, 20));
}

TEST_CASE("a batch that must be cleared by a day is sown for it, or unresolved with the cure") {
    // 40 days from sowing to planting out, 40 more to the first harvest, 20 more to clear. Planted
    // out on the default bound's 10 April it is cleared on day 99 + 60, 9 June.
    ep::succession one = pansies({"transplant", ep::from_rule{in_2027(4, 20)}});
    SECTION("a target that waits for its day decides what comes behind it") {
        one.not_after = {{"clear", ep::by_rule{in_2027(6, 19)}}};
        CHECK(ep::schedule(ep::plan{parts_with({one})}, ten_years()).date("pansy 1", "clear") ==
              in_2027(6, 19));
        one.not_after = {{"clear", ep::by_rule{in_2027(6, 1)}}};
        ep::calendar const planned = ep::schedule(ep::plan{parts_with({one})}, ten_years());
        REQUIRE(planned.unresolved().size() == 1);
        CHECK(planned.unresolved().front().code == "not_after.broken");
        CHECK(planned.unresolved().front().sentence ==
              "clear no later than 1 Jun is met in none of 10 years, even when all is as early as "
              "allowed, and all that is wanted in 0 of 10 years; 8 are wanted");
        CHECK(planned.unresolved().front().cure == "allow clear until 19 Jun");
        CHECK_THROWS_AS(planned.require(), ep::unresolved);
    }
    SECTION("an outcome's sowing moves to the sooner") {
        one.target = {"first_harvest", ep::by_rule{in_2027(6, 30)}};
        one.not_after = {{"clear", ep::by_rule{in_2027(7, 1)}}};
        ep::calendar const planned = ep::schedule(ep::plan{parts_with({one})}, ten_years());
        // 100 days before 1 July, day 181.
        CHECK(planned.date("pansy 1", "sow") == in_2027(3, 23));
        CHECK(planned.claim("pansy 1")->good_one_day_later == 0);
    }
}

TEST_CASE("a clock that never runs up is never ready: counted, explained, no exception") {
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::from_rule{in_2027(4, 20)}})});
    parts.crops.front().stages[1].takes = ep::clock::heat(
        {.amount = ep::thermal_time::from_kelvin_days(100.0), .base = celsius(40.0)});
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    REQUIRE(planned.unresolved().size() == 1);
    CHECK(planned.unresolved().front().code == "target.never_ready");
}

TEST_CASE("the first cold night after it began ends a harvest, and is no damage") {
    // Planted on 2 February with risk off: harvest from 14 March until 3 April by its clock, but a
    // frost on 1 ... 3 April ends it in the first three years.
    ep::succession early = pansies({"transplant", ep::on_rule{in_2027(2, 10)}});
    early.risk = ep::risk_setting::off();
    ep::calendar const planned = ep::schedule(ep::plan{parts_with({early})}, ten_years());
    CHECK(planned.date("pansy 1", "first_harvest") == in_2027(3, 22));
    ep::prospect const seen = ep::simulate(planned, ten_years());
    auto const cleared = seen.days("pansy 1", "clear");
    CHECK(cleared[0] == in_2027(4, 1));
    CHECK(cleared[9] == in_2027(4, 10));
    CHECK(seen.damage("pansy 1").damaged == 0);
}

TEST_CASE("plants held longer than their hold are counted") {
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::from_rule{in_2027(4, 20)}})});
    parts.crops.front().stages[1].hold = 5.0;
    ep::succession bound_early = parts.successions.front();
    // Sown no later than 1 March: ready on 10 April, planted on 20 April, five days too long.
    parts.successions.front().not_after = {{"sow", ep::by_rule{in_2027(3, 1)}}};
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    CHECK(planned.date("pansy 1", "sow") == in_2027(3, 1));
    ep::overheld_report const held = ep::simulate(planned, ten_years()).overheld("pansy 1");
    CHECK(held.overheld == 10);
    CHECK(held.longest.front() == 5);
}

TEST_CASE("nights to act are counted once a place, with and without the cover") {
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::on_rule{in_2027(3, 20)}})});
    parts.places[1].air.nights =
        ep::cold_nights{.below = celsius(0.0), .warmer = ep::temperature_span::from_kelvin(4.0)};
    ep::succession second = parts.successions.front();
    second.name = "pansy 2";
    parts.successions.push_back(second);
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    ep::prospect const seen = ep::simulate(planned, ten_years());
    CHECK(seen.nights_to_act() == std::vector<int>(10, 1));
    CHECK(seen.nights_to_act("beds", "pansy 2") == std::vector<int>(10, 1));
    CHECK(seen.nights_to_act("house") == std::vector<int>(10, 0));
    ep::damage_report const cold = seen.damage("pansy 1");
    CHECK(cold.damaged == 0);
    CHECK(cold.damaged_cover_off == 10);
    for (std::size_t y = 0; y < 10; ++y) {
        CHECK_FALSE(cold.first[y]);
        CHECK(cold.first_cover_off[y]);
        CHECK(cold.margin_cover_off[y] <= 0.0);
        CHECK(cold.margin[y] > 0.0);
        CHECK(cold.margin_heater_off[y] == cold.margin[y]);
    }
}

TEST_CASE(
    "a place that opens holds moves back, and what stands there after it closes is reported") {
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::from_rule{in_2027(4, 20)}})});
    // Open from 1 May until 10 June; harvest 40 days after planting, cleared 20 days later.
    parts.places[1].open = ep::open_days{in_2027(5, 1), in_2027(6, 10)};
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    CHECK(planned.date("pansy 1", "transplant") == in_2027(5, 1));
    CHECK(why(planned, "transplant") ==
          "transplant 1 May: wanted 20 Apr (not before 20 Apr); put back to 1 May, because beds "
          "opens on 1 May; ready since 1 May in 10 of 10 years");
    REQUIRE(planned.warnings().size() == 1);
    CHECK(planned.warnings().front() ==
          "beds is open until 10 Jun: pansy 1, there from first harvest on, still stands in it "
          "later in 10 of 10 years");
}

TEST_CASE("links in a circle leave their successions unresolved, named, and the others planned") {
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::from_rule{in_2027(4, 20)}})});
    for (char const* name : {"pansy 2", "pansy 3"}) {
        ep::succession more = parts.successions.front();
        more.name = name;
        parts.successions.push_back(more);
    }
    parts.links = {{.first = {.succession = "pansy 1", .event = "emerge"},
                    .then = {.succession = "pansy 2", .event = "sow"}},
                   {.first = {.succession = "pansy 2", .event = "transplant"},
                    .then = {.succession = "pansy 1", .event = "sow"}}};
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    REQUIRE(planned.unresolved().size() == 2);
    CHECK(planned.unresolved().front().sentence ==
          "its links go in a circle: pansy 1 → pansy 2 → pansy 1");
    CHECK(planned.date("pansy 3", "transplant") == in_2027(4, 20));
}

TEST_CASE("an empty plan has an empty calendar") {
    ep::calendar const planned = ep::schedule(ep::plan{parts_with({})}, ten_years());
    CHECK(planned.events().empty());
    CHECK(planned.unresolved().empty());
    planned.require();
    CHECK(ep::to_string(planned).find("Nothing is planned.") != std::string::npos);
    CHECK(ep::simulate(planned, ten_years()).nights_to_act() == std::vector<int>(10, 0));
}

TEST_CASE("plan and climate must agree on the season") {
    ep::plan_parts parts = parts_with({});
    parts.window = ep::season{ep::make_day(2027, 2, 1), season_days};
    try {
        (void)ep::schedule(ep::plan{parts}, ten_years());
        FAIL("accepted");
    } catch (ep::invalid_input const& fault) {
        CHECK(std::string{fault.what()} ==
              "season_start: the climate has 1 Jan, the plan 1 Feb (allowed: 1 Feb); make the "
              "climate with the plan's season start, length and latitude");
    }
}

TEST_CASE("the prospect is the least solution of the event network, year by year") {
    ep::plan_parts parts = parts_with({pansies({"transplant", ep::risk_rule{ep::chance{0.2}}})});
    ep::succession second = parts.successions.front();
    second.name = "pansy 2";
    second.target = {"first_harvest", ep::by_rule{in_2027(7, 20)}};
    parts.successions.push_back(second);
    parts.links = {{.first = {.succession = "pansy 1", .event = "emerge"},
                    .then = {.succession = "pansy 2", .event = "sow"},
                    .after = ep::clock::days(12)}};
    // The network knows nothing of batches that are lost to cold.
    for (ep::crop& one : parts.crops) { one.lost_at = ep::loss_setting::off(); }
    ep::calendar const planned = ep::schedule(ep::plan{parts}, ten_years());
    ep::prospect const seen = ep::simulate(planned, ten_years(), 2);
    for (int y = 0; y < 10; ++y) {
        auto const least = ep::event_network(planned, y).least();
        REQUIRE(least.solved());
        for (std::size_t row = 0; row < least.values().size(); ++row) {
            CHECK(least.values()[row] == seen.days_all()[row * 10 + static_cast<std::size_t>(y)]);
        }
    }
}

TEST_CASE("any number of threads gives the same prospect") {
    ep::plan const p{parts_with({pansies({"transplant", ep::risk_rule{ep::chance{0.2}}})})};
    ep::calendar const planned = ep::schedule(p, ten_years());
    auto const one = ep::simulate(planned, ten_years(), 1);
    for (int threads : {2, 3, 8, 64}) {
        auto const many = ep::simulate(planned, ten_years(), threads);
        CHECK(std::equal(one.days_all().begin(), one.days_all().end(), many.days_all().begin()));
    }
}
