// What a plan makes of its parts: places for stages, repeats, waves, links, followers, overrides;
// and what is refused of parts made in code.
#include "catch.hpp"

#include <chrono>
#include <functional>
#include <limits>
#include <string>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_file.hpp>

using namespace epicotyl;

namespace {

stage one_stage(std::string begins, std::vector<std::string> where, double days) {
    return {.begins = std::move(begins), .where = std::move(where), .takes = clock::days(days)};
}

crop lettuce() {
    return {.name = "lettuce",
            .stages = {one_stage("sow", {"germinate"}, 6.0), one_stage("emerge", {"grow"}, 25.0),
                       one_stage("transplant", {"field"}, 30.0),
                       one_stage("first_harvest", {"field"}, 14.0)},
            .limit_tender = temperature::from_celsius(0.0),
            .limit_hardened = temperature::from_celsius(-3.0)};
}

crop pea() {
    return {
        .name = "pea",
        .stages = {one_stage("sow", {"field"}, 60.0), one_stage("first_harvest", {"field"}, 20.0)},
        .limit_tender = temperature::from_celsius(0.0),
        .limit_hardened = temperature::from_celsius(-5.0)};
}

succession batch(std::string name, std::string crop_name, std::string event, day when) {
    return {.name = std::move(name),
            .crop = std::move(crop_name),
            .amount = {amount::measure::plants, 100.0},
            .target = {std::move(event), on_rule{when}}};
}

day const april = make_day(2027, 4, 10);

/// A mat, a house, a bench in it, two beds, lettuce and peas.
plan_parts garden() {
    plan_parts parts{.window = season{make_day(2027, 1, 1), 550}, .where = latitude{50.0}};
    parts.places = {place{.name = "mat", .jobs = {job::germinate}},
                    place{.name = "house", .jobs = {job::grow, job::germinate}},
                    place{.name = "bench", .jobs = {job::grow}, .part_of = "house"},
                    place{.name = "bed 1", .id = "b1", .jobs = {job::field}},
                    place{.name = "bed 2", .jobs = {job::field}}};
    parts.containers = {container{"block", 1}, container{"plug 104", 104}};
    parts.crops = {lettuce(), pea()};
    parts.successions = {batch("lettuce 1", "lettuce", "transplant", april)};
    return parts;
}

std::vector<int> places_of(plan_parts const& parts) {
    auto const places = plan{parts}.successions().at(0).places;
    return {places.begin(), places.end()};
}

/// Code and field of the fault in parts changed like this.
std::string fault(std::function<void(plan_parts&)> const& change) {
    plan_parts parts = garden();
    change(parts);
    try {
        (void)plan{parts};
    } catch (invalid_input const& refused) {
        CHECK_FALSE(refused.details().remedy.empty());
        return refused.code() + " " + refused.details().field;
    }
    return "accepted";
}

}  // namespace

TEST_CASE("an empty plan is a plan") {
    plan_parts const parts{.window = season{make_day(2027, 1, 1)}, .where = latitude{50.0}};
    plan const p{parts};
    CHECK(p.successions().empty());
    CHECK(p.links().empty());
    CHECK(p.parts() == parts);
    CHECK(parse_plan(to_toml(p)) == p);
}

TEST_CASE("a stage stands in the first place that serves") {
    plan_parts parts = garden();
    // mat, house (before the bench), bed 1, bed 1
    CHECK(places_of(parts) == std::vector{0, 1, 3, 3});
    std::vector<std::string>& where = parts.crops[0].stages[1].where;
    where = {"bench"};
    CHECK(places_of(parts) == std::vector{0, 2, 3, 3});
    where = {"store", "bed 2", "grow"};  // nothing is for storing
    CHECK(places_of(parts) == std::vector{0, 4, 3, 3});
    where = {"b1"};
    CHECK(places_of(parts) == std::vector{0, 3, 3, 3});
    // A place called like a job wins over the job.
    parts.places[4].name = "grow";
    where = {"grow"};
    CHECK(places_of(parts) == std::vector{0, 4, 3, 3});
}

TEST_CASE("a crop that is not grown needs no places") {
    CHECK(fault([](plan_parts& parts) { parts.crops[1].stages[0].where = {"store"}; }) ==
          "accepted");
    CHECK(fault([](plan_parts& parts) { parts.crops[0].stages[0].where = {"store"}; }) ==
          "plan.no_place crops.lettuce.stages[1].where");
}

TEST_CASE("a succession has its own values, else its crop's, else the plan's") {
    plan_parts parts = garden();
    parts.risk = risk_setting::at(chance{0.3});
    parts.crops[0].not_before = {{"transplant", from_rule{make_day(2027, 4, 1)}},
                                 {"sow", from_rule{make_day(2027, 2, 1)}}};
    parts.successions.push_back(parts.successions[0]);
    succession& second = parts.successions[1];
    second.name = "lettuce 2";
    second.reliability = reliability{0.9};
    second.risk = risk_setting::off();
    second.not_before = {{"transplant", from_rule{make_day(2027, 5, 1)}}};
    second.not_after = {{"clear", by_rule{make_day(2027, 9, 1)}}};
    plan const p{parts};
    resolved_succession const& a = p.successions().at(0);
    resolved_succession const& b = p.successions().at(1);
    CHECK(a.reliability == reliability{0.8});
    CHECK(a.risk == risk_setting::at(chance{0.3}));
    CHECK(a.not_before == parts.crops[0].not_before);
    CHECK(a.not_after.empty());
    CHECK(b.reliability == reliability{0.9});
    CHECK(b.risk == risk_setting::off());
    CHECK(b.not_before == std::vector{event_bound{"transplant", from_rule{make_day(2027, 5, 1)}},
                                      event_bound{"sow", from_rule{make_day(2027, 2, 1)}}});
    CHECK(b.not_after == second.not_after);
    // Successions of an unchanged crop share it.
    CHECK(a.grown == b.grown);
    parts.crops[0].risk = risk_setting::at(chance{0.2});
    CHECK(plan{parts}.successions().at(0).risk == risk_setting::at(chance{0.2}));
    CHECK(plan{parts}.successions().at(1).risk == risk_setting::off());
}

TEST_CASE("a succession without a name has its crop's") {
    plan_parts parts = garden();
    parts.successions[0].name = "";
    plan const p{parts};
    CHECK(p.successions().at(0).name == "lettuce");
    CHECK(p.successions().at(0).id == "lettuce");
    CHECK(p.succession_index("lettuce") == 0);
    CHECK(p.parts().successions.at(0).name.empty());
}

TEST_CASE("a change changes one stage of one succession") {
    plan_parts parts = garden();
    parts.crops[0].stages[2].spacing = spacing{4, 25.0};
    parts.successions.push_back(batch("lettuce 2", "lettuce", "transplant", april));
    parts.successions[1].changes = {
        stage_change{.begins = "emerge", .where = {{"bench"}}, .takes = clock::days(18.0)},
        stage_change{.begins = "transplant", .container = "block", .limit = temperature{}}};
    plan const p{parts};
    CHECK(*p.successions().at(0).grown == parts.crops[0]);
    crop const& changed = *p.successions().at(1).grown;
    CHECK(changed.stages.at(1).takes == clock::days(18.0));
    CHECK(changed.stages.at(1).where == std::vector<std::string>{"bench"});
    CHECK(p.successions().at(1).places == std::vector{0, 2, 3, 3});
    // A container takes the place of the spacing.
    CHECK(changed.stages.at(2).container == "block");
    CHECK_FALSE(changed.stages.at(2).spacing);
    CHECK(changed.stages.at(2).takes == clock::days(30.0));
    CHECK(p.successions().at(1).limit(2) == temperature::from_celsius(0.0));
    CHECK(p.successions().at(1).limit(0) == temperature::from_celsius(0.0));
}

TEST_CASE("where event 0 stands decides the limit of a crop that is never hardened off") {
    plan_parts parts = garden();
    parts.successions = {batch("pea", "pea", "sow", april)};
    CHECK(plan{parts}.successions().at(0).starts_in_field);
    CHECK(plan{parts}.successions().at(0).limit(0) == temperature::from_celsius(-5.0));
    parts.crops[1].stages[0].where = {"house"};
    CHECK_FALSE(plan{parts}.successions().at(0).starts_in_field);
    CHECK(plan{parts}.successions().at(0).limit(0) == temperature::from_celsius(0.0));
}

TEST_CASE("a repeat is spelled out") {
    plan_parts parts = garden();
    parts.successions.push_back(batch("pea", "pea", "sow", april));
    succession& one = parts.successions[0];
    one.name = "salad";
    one.id = "s";
    one.wave = "cool";
    one.not_before = {{"sow", from_rule{make_day(2027, 2, 1)}}};
    one.repeat = repeat{4, 14};
    plan const p{parts};
    REQUIRE(p.successions().size() == 5);
    for (int k = 0; k < 4; ++k) {
        resolved_succession const& member = p.successions().at(static_cast<std::size_t>(k));
        CAPTURE(k);
        CHECK(member.name == "salad " + std::to_string(k + 1));
        CHECK(member.id == "s " + std::to_string(k + 1));
        CHECK(member.wave == "cool");
        CHECK(member.source == 0);
        CHECK(member.not_before == one.not_before);
        CHECK(member.repeat_days == 14 * k);
        if (k == 0) {
            CHECK_FALSE(member.repeat_of);
            CHECK(member.target_event == 2);
            CHECK(member.target_rule == rule{on_rule{april}});
        } else {
            CHECK(member.repeat_of == 0);
            CHECK(member.target_event == 3);  // first_harvest
            CHECK(std::holds_alternative<on_rule>(member.target_rule));
        }
    }
    CHECK(p.successions().at(4).source == 1);
    CHECK(p.succession_index("salad 3") == 2);
    CHECK(p.succession_index("s 3") == 2);
}

TEST_CASE("a wave as first end is one link, as second end one link a member") {
    plan_parts parts = garden();
    parts.successions[0].wave = "cool";
    parts.successions.push_back(batch("lettuce 2", "lettuce", "transplant", april));
    parts.successions[1].wave = "cool";
    for (char const* name : {"pea 1", "pea 2"}) {
        parts.successions.push_back(batch(name, "pea", "sow", april));
        parts.successions.back().wave = "peas";
    }
    epicotyl::link wave_to_wave{.first = {.wave = "cool", .event = "transplant"},
                                .then = {.wave = "peas", .event = "sow"},
                                .after = clock::days(3.0),
                                .within = 40.0};
    parts.links = {wave_to_wave};
    for (link_end::which const of : {link_end::which::all, link_end::which::first}) {
        parts.links[0].first.of = of;
        plan const p{parts};
        REQUIRE(p.links().size() == 2);
        for (std::size_t k = 0; k < 2; ++k) {
            resolved_link const& one = p.links()[k];
            CHECK(one.firsts == std::vector{event_of{0, 2}, event_of{1, 2}});
            CHECK(one.first_decides == (of == link_end::which::first));
            CHECK(one.then == event_of{static_cast<int>(k) + 2, 0});
            CHECK(one.after == clock::days(3.0));
            CHECK(one.within == 40.0);
            CHECK_FALSE(one.place);
            CHECK(one.source == 0);
        }
    }
    // A wave does not wait for itself, nor for one of its own.
    parts.links[0].then = {.wave = "cool", .event = "sow"};
    CHECK_THROWS_AS(plan{parts}, invalid_input);
    parts.links[0].then = {.succession = "lettuce 2", .event = "sow"};
    CHECK_THROWS_AS(plan{parts}, invalid_input);
}

TEST_CASE("a clock of a link counts in a place") {
    plan_parts parts = garden();
    parts.successions.push_back(batch("lettuce 2", "lettuce", "transplant", april));
    parts.links = {
        epicotyl::link{.first = {.succession = "lettuce 1", .event = "sow"},
                       .then = {.succession = "lettuce 2", .event = "sow"},
                       .after = clock::heat({.amount = thermal_time::from_kelvin_days(60.0),
                                             .base = temperature::from_celsius(4.0),
                                             .upper = {}}),
                       .place = "b1"}};
    CHECK(plan{parts}.links().at(0).place == 3);
}

TEST_CASE("a follower waits for the clearing of the place that it takes") {
    plan_parts parts = garden();
    parts.successions = {batch("pea 1", "pea", "sow", april),
                         batch("lettuce 1", "lettuce", "transplant", april)};
    parts.successions[1].follows = "pea 1";
    parts.successions[1].gap = 5;
    plan const p{parts};
    REQUIRE(p.links().size() == 1);
    resolved_link const& one = p.links()[0];
    CHECK(one.firsts == std::vector{event_of{0, 2}});  // clear of the peas
    CHECK(one.then == event_of{1, 2});  // lettuce comes into the bed by transplanting
    CHECK(one.after == clock::days(5.0));
    CHECK_FALSE(one.within);
    CHECK(one.source == -1);
    // Into another bed it would not move at all.
    parts.crops[0].stages[2].where = {"bed 2"};
    parts.crops[0].stages[3].where = {"bed 2"};
    CHECK_THROWS_AS(plan{parts}, invalid_input);
}

TEST_CASE("every member of a repeat follows, and repeats of as many members follow in step") {
    plan_parts parts = garden();
    parts.successions = {batch("peas", "pea", "sow", april),
                         batch("salad", "lettuce", "transplant", april),
                         batch("early", "pea", "sow", april)};
    parts.successions[1].repeat = repeat{3, 7};
    parts.successions[1].follows = "early";
    plan const together{parts};
    REQUIRE(together.links().size() == 3);
    for (int k = 0; k < 3; ++k) {
        resolved_link const& one = together.links().at(static_cast<std::size_t>(k));
        CHECK(one.firsts == std::vector{event_of{4, 2}});
        CHECK(one.then == event_of{1 + k, 2});
    }
    parts.successions[0].repeat = repeat{3, 10};
    parts.successions[1].follows = "peas";
    plan const in_step{parts};
    REQUIRE(in_step.links().size() == 3);
    for (int k = 0; k < 3; ++k) {
        resolved_link const& one = in_step.links().at(static_cast<std::size_t>(k));
        CHECK(one.firsts == std::vector{event_of{k, 2}});
        CHECK(one.then == event_of{3 + k, 2});
    }
    // Of unequal repeats the member meant must be named.
    parts.successions[0].repeat = repeat{2, 10};
    CHECK_THROWS_AS(plan{parts}, invalid_input);
}

TEST_CASE("look-ups take a name or an id and refuse with the nearest") {
    plan_parts parts = garden();
    parts.successions[0].id = "l1";
    plan const p{parts};
    CHECK(p.succession_index("lettuce 1") == 0);
    CHECK(p.succession_index("l1") == 0);
    CHECK(p.place_index("bed 1") == 3);
    CHECK(p.place_index("b1") == 3);
    CHECK(p.event_index(0, "transplant") == 2);
    CHECK(p.event_index(0, "clear") == 4);
    auto const message = [](auto const& ask) {
        try {
            (void)ask();
        } catch (invalid_input const& refused) { return std::string{refused.what()}; }
        return std::string{"found"};
    };
    CHECK(message([&] { return p.succession_index("letuce 1"); }) ==
          "succession: there is no succession \"letuce 1\"; the nearest is \"lettuce 1\"");
    CHECK(message([&] { return p.place_index("bad 2"); }) ==
          "place: there is no place \"bad 2\"; the nearest is \"bed 2\"");
    CHECK(message([&] { return p.event_index(0, "plant"); }) ==
          "event: \"lettuce 1\" has no event \"plant\"; the nearest is \"transplant\"; all events: "
          "sow, emerge, transplant, first_harvest, clear");
}

TEST_CASE("parts made in code are checked like those of a file") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    auto const first = [](plan_parts& parts) -> succession& {
        return parts.successions[0];
    };
    CHECK(fault([](plan_parts&) {}) == "accepted");
    CHECK(fault([](plan_parts& p) { p.window = season{make_day(2027, 1, 1) - days{2000000}}; }) ==
          "season.year site.season_start");
    CHECK(fault([](plan_parts& p) { p.max_gap = -1; }) == "weather.max_gap site.max_gap");
    CHECK(fault([](plan_parts& p) { p.events = {"sow"}; }) == "event.known_already events[1]");
    CHECK(fault([](plan_parts& p) {
              p.events = {"graft", "graft"};
          }) == "event.known_already events[2]");
    CHECK(fault([](plan_parts& p) { p.places[1].name = "mat"; }) == "plan.name_twice places.mat");
    CHECK(fault([](plan_parts& p) { p.places[1].id = "mat"; }) ==
          "plan.name_twice places.house.id");
    CHECK(fault([](plan_parts& p) { p.places[1].name = ""; }) == "plan.no_name places.\"\"");
    CHECK(fault([](plan_parts& p) { p.places[0].jobs = {}; }) == "place.no_job places.mat.for");
    CHECK(fault([](plan_parts& p) {
              p.places[0].jobs = {job::grow, job::grow};
          }) == "place.job_twice places.mat.for[2]");
    CHECK(fault([&](plan_parts& p) { p.places[0].trays = nan; }) ==
          "number.not_finite places.mat.trays");
    CHECK(fault([](plan_parts& p) { p.places[1].part_of = "bench"; }) ==
          "place.part_of_itself places.house.part_of");
    CHECK(fault([](plan_parts& p) {
              p.places[0].air.steady = steady_air{};
              p.places[0].air.nights = cold_nights{{}, temperature_span::from_kelvin(2.0)};
          }) == "place.steady places.mat.cold_nights");
    CHECK(fault([](plan_parts& p) { p.containers[1].name = "block"; }) ==
          "plan.name_twice containers.block");
    CHECK(fault([](plan_parts& p) { p.crops[1].name = "lettuce"; }) ==
          "plan.name_twice crops.lettuce");
    CHECK(fault([](plan_parts& p) { p.crops[1].id = "lettuce"; }) ==
          "plan.name_twice crops.pea.id");
    CHECK(fault([](plan_parts& p) { p.crops[1].stages = {}; }) ==
          "crop.no_stages crops.pea.stages");
    CHECK(fault([](plan_parts& p) { p.crops[1].stages[0].survives = 0.0; }) ==
          "stage.survives crops.pea.stages[1].survives");
    CHECK(fault([](plan_parts& p) {
              p.crops[1].stages[0].spacing = spacing{0, 5.0};
          }) == "stage.rows crops.pea.stages[1].spacing.rows");
    CHECK(fault([](plan_parts& p) {
              p.crops[1].not_after = {{"sow", by_rule{april}}, {"sow", by_rule{april}}};
          }) == "bound.twice crops.pea.not_after.sow");
    CHECK(fault([](plan_parts& p) {
              p.crops[1].not_before = {{"sow", on_rule{april}}};
          }) == "bound.rule crops.pea.not_before.sow");
    CHECK(fault([](plan_parts& p) {
              p.crops[1].not_after = {{"sow", from_rule{april}}};
          }) == "bound.rule crops.pea.not_after.sow");
    CHECK(fault([](plan_parts& p) {
              p.crops[1].not_after = {{"sow", by_rule{make_day(2030, 1, 1)}}};
          }) == "day.outside_season crops.pea.not_after.sow.by");
    CHECK(fault([&](plan_parts& p) {
              p.crops[0].limit_hardened = {};
              p.crops[0].limit_tender = {};
              first(p).not_before = {{"transplant", risk_rule{chance{0.1}}}};
          }) == "rule.no_limit succession[1].not_before.transplant");
    CHECK(fault([&](plan_parts& p) {
              first(p).target.rule = frost_rule{frost_edge::after_last_frost, -3};
          }) == "rule.frost_days succession[1].target");
    CHECK(fault([&](plan_parts& p) { first(p).amount = {}; }) ==
          "amount.not_positive succession[1].plants");
    CHECK(fault([&](plan_parts& p) {
              first(p).amount = {amount::measure::bed, 5.0};
          }) == "amount.no_spacing succession[1].bed");
    CHECK(fault([&](plan_parts& p) { first(p).gap = 4; }) == "succession.gap succession[1].gap");
    CHECK(fault([&](plan_parts& p) { first(p).follows = "lettuce 1"; }) ==
          "link.itself succession[1].follows");
    CHECK(fault([&](plan_parts& p) {
              p.successions.push_back(batch("pea", "pea", "sow", april));
              p.successions[1].changes = {
                  stage_change{.begins = "first_harvest", .where = {{"bed 2"}}}};
              first(p).follows = "pea";
              first(p).changes = {stage_change{.begins = "first_harvest", .where = {{"bed 2"}}}};
          }) == "succession.follows succession[1].follows");
    CHECK(fault([&](plan_parts& p) {
              first(p).changes = {stage_change{.begins = "sow"}, stage_change{.begins = "sow"}};
          }) == "stage.changed_twice succession[1].stage.sow");
    CHECK(fault([&](plan_parts& p) { first(p).changes = {stage_change{.begins = "clear"}}; }) ==
          "plan.unknown_stage succession[1].stage.clear");
    CHECK(fault([&](plan_parts& p) {
              first(p).changes = {stage_change{.begins = "sow", .who = performer::plant}};
          }) == "crop.begins_by_itself succession[1].stage.sow.who");
    CHECK(fault([&](plan_parts& p) {
              first(p).changes = {stage_change{.begins = "sow", .where = {{"store"}}}};
          }) == "plan.no_place succession[1].stage.sow.where");
    CHECK(fault([&](plan_parts& p) {
              p.crops[0].not_before = {{"transplant", from_rule{april}}};
              first(p).changes = {stage_change{.begins = "transplant", .who = performer::plant}};
              first(p).target.event = "sow";
          }) == "bound.outcome crops.lettuce.not_before.transplant");
    CHECK(fault([&](plan_parts& p) {
              first(p).name = "lettuce";
              first(p).repeat = repeat{2, 7};
              p.successions.push_back(batch("lettuce 2", "pea", "sow", april));
          }) == "plan.name_twice succession[2]");
    CHECK(fault([&](plan_parts& p) {
              first(p).name = "salad";
              first(p).repeat = repeat{2, 7};
              p.successions.push_back(batch("salad", "pea", "sow", april));
          }) == "plan.name_twice succession[2]");
    epicotyl::link const sound{.first = {.succession = "lettuce 1", .event = "clear"},
                               .then = {.succession = "pea", .event = "sow"}};
    auto const link_fault = [&](std::function<void(epicotyl::link&)> const& change) {
        return fault([&](plan_parts& p) {
            p.successions.push_back(batch("pea", "pea", "sow", april));
            p.links = {sound};
            change(p.links[0]);
        });
    };
    CHECK(link_fault([](epicotyl::link&) {}) == "accepted");
    CHECK(link_fault([](epicotyl::link& l) { l.first.wave = "cool"; }) == "link.end link[1].first");
    CHECK(link_fault([](epicotyl::link& l) { l.then.succession = ""; }) == "link.end link[1].then");
    CHECK(link_fault([](epicotyl::link& l) { l.first.of = link_end::which::first; }) ==
          "link.of link[1].first.of");
    CHECK(link_fault([](epicotyl::link& l) { l.then.of = link_end::which::first; }) ==
          "link.of link[1].then.of");
    CHECK(link_fault([&](epicotyl::link& l) { l.within = nan; }) ==
          "link.within link[1].within.days");
    // Plants do not wait with a harvest; that it comes soon enough may be asked.
    CHECK(link_fault([](epicotyl::link& l) {
              l.then.event = "first_harvest";
              l.within = 90.0;
          }) == "accepted");
    CHECK(link_fault([](epicotyl::link& l) {
              l.then.event = "first_harvest";
              l.after = epicotyl::clock::days(3);
          }) == "link.outcome link[1].after");
    CHECK(link_fault([](epicotyl::link& l) { l.place = "bed 3"; }) ==
          "plan.unknown_place link[1].after.place");
}

TEST_CASE("ten thousand successions are resolved in a moment") {
    plan_parts parts = garden();
    parts.successions.clear();
    for (int i = 0; i < 5000; ++i) {
        parts.successions.push_back(batch("pea " + std::to_string(i), "pea", "sow", april));
        parts.successions.push_back(
            batch("lettuce " + std::to_string(i), "lettuce", "transplant", april));
        parts.successions.back().follows = "pea " + std::to_string(i);
        parts.links.push_back(
            epicotyl::link{.first = {.succession = "pea " + std::to_string(i), .event = "sow"},
                           .then = {.succession = "lettuce " + std::to_string(i), .event = "sow"}});
    }
    auto const start = std::chrono::steady_clock::now();
    plan const p{parts};
    auto const took = std::chrono::steady_clock::now() - start;
    CHECK(p.successions().size() == 10000);
    CHECK(p.links().size() == 10000);
    CHECK(p.successions().at(0).grown == p.successions().at(9998).grown);
    // Some 20 ms; the bound is for slow machines and instrumented builds.
    CHECK(took < std::chrono::seconds{5});
}
