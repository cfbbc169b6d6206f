// The plan file: the long form read value by value, its twin in US units, every way to write a
// wait and a rule, order, and writing what was read.
#include "catch.hpp"

#include <filesystem>
#include <fstream>
#include <string>

#include <epicotyl/plan/plan_file.hpp>

using namespace epicotyl;

namespace {

constexpr std::string_view marlpit = R"(format = 1
units = "metric"
title = "Marlpit Garden 2027"
defaults = { risk = 0.1, reliability = 0.8 }

[site]
latitude = 51.9
season_start = 2027-01-01
season_days = 550
weather = "marlpit.csv"
frost = { at = 0.0, chance = 0.5 }

[places]
mat = { for = ["germinate"], day = 22.0, night = 20.0, trays = 6 }
lean-to = { for = ["grow"], warmer_night = 2.5, warmer_day = 7.0, heat_to = 6.0, vent_above = 25.0, trays = 28, lamps = { hours = 14.0, from = 2027-01-05, until = 2027-03-31, trays = 8 } }
frame = { for = ["harden"], warmer_night = 1.5, warmer_day = 3.0, cold_nights = { warmer = 5.0 }, trays = 20 }
beds = { for = ["field"], bed = 120.0 }

[containers]
"plug 104" = { cells = 104, medium = 1.6 }

[crops.snapdragon]
limit_tender = 0.0
limit_hardened = -2.2
stages = [
  { begins = "sow", where = "germinate", container = "plug 104", takes = { germination = 110.0, base = 4.0, optimum = 22.0, ceiling = 32.0 }, survives = 0.80 },
  { begins = "emerge", where = "grow", container = "plug 104", takes = { heat = 380.0, base = 4.0, upper = 28.0, gate = { day_length_at_least = 10.0, otherwise = 0.5 } }, survives = 0.95 },
  { begins = "harden_off", where = "harden", container = "plug 104", takes = { all = [{ days = 8 }, { heat = 40.0, base = 4.0 }] }, hold = 14 },
  { begins = "transplant", where = "field", spacing = { rows = 4, in_row = 23.0 }, takes = { heat = 620.0, base = 4.0, upper = 30.0, method = "single_sine", cutoff = "horizontal" } },
  { begins = "first_harvest", where = "field", spacing = { rows = 4, in_row = 23.0 }, takes = { days = 30 } },
]

[[succession]]
name = "snapdragon 1"
crop = "snapdragon"
plants = 180
wave = "cool"
target = { event = "transplant", risk = 0.1 }

[[succession]]
name = "snapdragon 2"
crop = "snapdragon"
plants = 180
target = { event = "first_harvest", by = 2027-08-05 }
not_before = { transplant = 2027-04-10 }

[[link]]
first = { succession = "snapdragon 1", event = "emerge" }     # or { wave = "cool", event = "transplant", of = "all" }
then = { succession = "snapdragon 2", event = "sow" }
after = { days = 10 }
within = { days = 120 }
)";

/// The same garden in US units: 22 °C is 71.6 °F, 2.5 K are 4.5 °F, 110 K day are 198 °F day,
/// 120.1 m are 394 ft (0.3048 m each), 22.86 cm are 9 in.
constexpr std::string_view marlpit_us = R"(format = 1
units = "us"
site = { latitude = 51.9, season_start = 2027-01-01, frost = { at = 32, chance = 0.5 } }
[places]
mat = { for = ["germinate"], day = 71.6, night = 68, trays = 6 }
lean-to = { for = ["grow"], warmer_night = 4.5, warmer_day = 12.6, heat_to = 42.8, heat_lift = 9, vent_above = 77 }
frame = { for = ["harden"], cold_nights = { below = 35.6, warmer = 9 } }
beds = { for = ["field"], bed = 394 }
[containers]
"plug 104" = { cells = 104, medium = 1.5 }
[crops.snapdragon]
limit_tender = 32
limit_hardened = 28.04
stages = [
  { begins = "sow", where = "germinate", container = "plug 104", takes = { germination = 198, base = 39.2, optimum = 71.6, ceiling = 89.6 } },
  { begins = "emerge", where = "grow", container = "plug 104", takes = { heat = 684, base = 39.2, upper = 82.4 }, limit = 23, too_hot = 104 },
  { begins = "harden_off", where = "harden", container = "plug 104", takes = { days = 30, at = 59, base = 41 } },
  { begins = "transplant", where = "field", spacing = { rows = 4, in_row = 9 }, takes = { days_between = 40, low = 32, high = 50 } },
]
[[succession]]
crop = "snapdragon"
bed = 100
target = { event = "transplant", risk = 0.1, limit = 24.8 }
)";

/// A plan of one crop whose first stage takes what is given.
plan with_takes(std::string const& takes, std::string const& more = "") {
    return parse_plan(
        "format = 1\nyear = 2027\nunits = \"metric\"\nsite = { latitude = 50 }\n"
        "places = { beds = { for = [\"field\"] } }\n"
        "[crops.pea]\nstages = [{ begins = \"sow\", where = \"field\", takes = " +
        takes + more + " }]\n");
}

stage first_stage(plan const& of) {
    return of.parts().crops.at(0).stages.at(0);
}

template <class Wait>
Wait wait_of(std::string const& takes) {
    return std::get<Wait>(first_stage(with_takes(takes)).takes.what());
}

/// A plan of one succession with this target and these further keys.
plan with_target(std::string const& target, std::string const& more = "") {
    return parse_plan(
        "format = 1\nyear = 2027\nunits = \"metric\"\nsite = { latitude = 50 }\n"
        "places = { beds = { for = [\"field\"] } }\n"
        "[crops.pea]\nlimit_tender = 0\nlimit_hardened = -4\nstages = [{ begins = \"sow\", where = "
        "\"field\", takes = { days = 60 } }, { begins = \"first_harvest\", where = \"field\", "
        "takes "
        "= { days = 9 } }]\n"
        "[[succession]]\ncrop = \"pea\"\nplants = 9\ntarget = " +
        target + "\n" + more);
}

template <class Rule>
Rule target_of(std::string const& target) {
    return std::get<Rule>(with_target(target).parts().successions.at(0).target.rule);
}

}  // namespace

TEST_CASE("the long form is read value by value") {
    plan const p = parse_plan(marlpit, "marlpit.toml");
    plan_parts const& parts = p.parts();
    CHECK(parts.units == unit_system::metric);
    CHECK(parts.title == "Marlpit Garden 2027");
    CHECK(parts.risk == risk_setting::at(chance{0.1}));
    CHECK(parts.reliability == reliability{0.8});
    CHECK(parts.where == latitude{51.9});
    CHECK(parts.window == season{make_day(2027, 1, 1), 550});
    CHECK(parts.weather == "marlpit.csv");
    CHECK_FALSE(parts.years);
    CHECK_FALSE(parts.max_gap);
    CHECK(parts.frost == frost_meaning{temperature::from_celsius(0.0), chance{0.5}});

    REQUIRE(parts.places.size() == 4);
    place const& mat = parts.places[0];
    CHECK(mat.name == "mat");
    CHECK(mat.jobs == std::vector{job::germinate});
    CHECK(mat.air.steady ==
          steady_air{temperature::from_celsius(22.0), temperature::from_celsius(20.0)});
    CHECK(mat.trays == 6.0);
    place const& lean_to = parts.places[1];
    CHECK(lean_to.name == "lean-to");
    CHECK_FALSE(lean_to.air.steady);
    CHECK(lean_to.air.warmer_night.kelvin() == 2.5);
    CHECK(lean_to.air.warmer_day.kelvin() == 7.0);
    CHECK(lean_to.air.heat_to == temperature::from_celsius(6.0));
    CHECK_FALSE(lean_to.air.heat_lift);
    CHECK(lean_to.air.vent_above == temperature::from_celsius(25.0));
    CHECK(lean_to.lamps == lamps{14.0, make_day(2027, 1, 5), make_day(2027, 3, 31), 8.0});
    place const& frame = parts.places[2];
    REQUIRE(frame.air.nights);
    CHECK_FALSE(frame.air.nights->below);
    CHECK(frame.air.nights->warmer.kelvin() == 5.0);
    CHECK(parts.places[3].air == air{});
    CHECK(parts.places[3].bed == 120.0);
    CHECK(parts.containers == std::vector{container{"plug 104", 104, 1.6}});

    REQUIRE(parts.crops.size() == 1);
    crop const& snapdragon = parts.crops[0];
    CHECK(snapdragon.limit_tender == temperature::from_celsius(0.0));
    CHECK(snapdragon.limit_hardened == temperature::from_celsius(-2.2));
    REQUIRE(snapdragon.stages.size() == 5);
    auto const degrees = [](double t) {
        return temperature::from_celsius(t);
    };
    auto const heat = [](double amount) {
        return thermal_time::from_kelvin_days(amount);
    };
    stage const& sow = snapdragon.stages[0];
    CHECK(sow.begins == "sow");
    CHECK(sow.where == std::vector<std::string>{"germinate"});
    CHECK(sow.container == "plug 104");
    CHECK(sow.takes ==
          clock::germination({heat(110.0), degrees(4.0), degrees(22.0), degrees(32.0)}));
    CHECK(sow.survives == 0.8);
    stage const& emerge = snapdragon.stages[1];
    CHECK(emerge.takes ==
          clock::heat({.amount = heat(380.0), .base = degrees(4.0), .upper = degrees(28.0)})
              .gated({10.0, true, 0.5}));
    CHECK(emerge.survives == 0.95);
    stage const& harden = snapdragon.stages[2];
    CHECK(harden.takes ==
          clock::all_of({clock::days(8.0),
                         clock::heat({.amount = heat(40.0), .base = degrees(4.0), .upper = {}})}));
    CHECK(harden.hold == 14.0);
    CHECK(harden.survives == 1.0);
    stage const& transplant = snapdragon.stages[3];
    CHECK(transplant.spacing == spacing{4, 23.0});
    CHECK(transplant.container.empty());
    CHECK(transplant.takes ==
          clock::heat({.amount = heat(620.0), .base = degrees(4.0), .upper = degrees(30.0)}));
    CHECK(snapdragon.stages[4].takes == clock::days(30.0));
    CHECK_FALSE(snapdragon.stages[4].hold);

    REQUIRE(parts.successions.size() == 2);
    succession const& first = parts.successions[0];
    CHECK(first.name == "snapdragon 1");
    CHECK(first.crop == "snapdragon");
    CHECK(first.amount == amount{amount::measure::plants, 180.0});
    CHECK(first.wave == "cool");
    CHECK(first.target == target{"transplant", risk_rule{chance{0.1}}});
    succession const& second = parts.successions[1];
    CHECK(second.target == target{"first_harvest", by_rule{make_day(2027, 8, 5)}});
    CHECK(second.not_before ==
          std::vector{event_bound{"transplant", from_rule{make_day(2027, 4, 10)}}});

    REQUIRE(parts.links.size() == 1);
    CHECK(parts.links[0].first == link_end{"snapdragon 1", "", "emerge"});
    CHECK(parts.links[0].then == link_end{"snapdragon 2", "", "sow"});
    CHECK(parts.links[0].after == clock::days(10.0));
    CHECK(parts.links[0].within == 120.0);
}

TEST_CASE("US units are converted at the door, differences without the shift of the scale") {
    plan const p = parse_plan(marlpit_us);
    plan_parts const& parts = p.parts();
    auto const celsius = [](std::optional<temperature> t) {
        return t.value().celsius();
    };
    CHECK(parts.units == unit_system::us);
    CHECK(parts.frost.at.celsius() == 0.0);
    CHECK(parts.places[0].air.steady->day.celsius() == Approx(22.0));
    CHECK(parts.places[0].air.steady->night.celsius() == Approx(20.0));
    air const& lean_to = parts.places[1].air;
    CHECK(lean_to.warmer_night.kelvin() == Approx(2.5));
    CHECK(lean_to.warmer_day.kelvin() == Approx(7.0));
    CHECK(celsius(lean_to.heat_to) == Approx(6.0));
    CHECK(lean_to.heat_lift.value().kelvin() == Approx(5.0));
    CHECK(celsius(lean_to.vent_above) == Approx(25.0));
    CHECK(celsius(parts.places[2].air.nights->below) == Approx(2.0));
    CHECK(parts.places[2].air.nights->warmer.kelvin() == Approx(5.0));
    CHECK(parts.places[3].bed.value() == Approx(394 * 0.3048));
    CHECK(parts.containers[0].medium.value() == Approx(1.5 * 0.946352946));
    crop const& snapdragon = parts.crops[0];
    CHECK(celsius(snapdragon.limit_tender) == 0.0);
    CHECK(celsius(snapdragon.limit_hardened) == Approx(-2.2));
    auto const germination = std::get<germination_wait>(snapdragon.stages[0].takes.what());
    CHECK(germination.amount.kelvin_days() == Approx(110.0));
    CHECK(germination.base.celsius() == Approx(4.0));
    CHECK(germination.optimum.celsius() == Approx(22.0));
    CHECK(germination.ceiling.celsius() == Approx(32.0));
    auto const heat = std::get<heat_wait>(snapdragon.stages[1].takes.what());
    CHECK(heat.amount.kelvin_days() == Approx(380.0));
    CHECK(celsius(heat.upper) == Approx(28.0));
    CHECK(celsius(snapdragon.stages[1].limit) == Approx(-5.0));
    CHECK(celsius(snapdragon.stages[1].too_hot) == Approx(40.0));
    // 30 days at 59 °F above 41 °F are 540 °F day, 300 K day.
    auto const at = std::get<heat_wait>(snapdragon.stages[2].takes.what());
    CHECK(at.amount.kelvin_days() == Approx(300.0));
    CHECK(at.base.celsius() == Approx(5.0));
    auto const between = std::get<days_between_wait>(snapdragon.stages[3].takes.what());
    CHECK(between.days == 40.0);
    CHECK(between.low.celsius() == 0.0);
    CHECK(between.high.celsius() == Approx(10.0));
    CHECK(snapdragon.stages[3].spacing->in_row == Approx(22.86));
    CHECK(parts.successions[0].amount.value == Approx(30.48));
    CHECK(celsius(std::get<risk_rule>(parts.successions[0].target.rule).limit) == Approx(-4.0));
}

TEST_CASE("a season starts on 1 January in the north and on 1 July in the south") {
    auto const start = [](char const* latitude) {
        return parse_plan(std::string{"format = 1\nunits = \"metric\"\nyear = 2027\nsite = { "
                                      "latitude = "} +
                          latitude + " }")
            .window();
    };
    CHECK(start("51.9") == season{make_day(2027, 1, 1), 550});
    CHECK(start("0") == season{make_day(2027, 1, 1), 550});
    CHECK(start("-37.8") == season{make_day(2027, 7, 1), 550});
}

TEST_CASE("years are a number, a pair or all") {
    auto const years = [](char const* written) {
        return parse_plan(std::string{"format = 1\nunits = \"metric\"\nyear = 2027\nsite = { "
                                      "latitude = 50, max_gap = 5, years = "} +
                          written + " }")
            .parts()
            .years;
    };
    CHECK(years("20") == year_selection::latest(20));
    CHECK(years("[1981, 2010]") == year_selection::between(1981, 2010));
    CHECK(years("\"all\"") == year_selection::all());
}

TEST_CASE("every way to say a wait") {
    CHECK(wait_of<calendar_wait>("{ days = 8.5 }").days == 8.5);
    CHECK(wait_of<calendar_wait>("{ weeks = 9 }").days == 63.0);
    auto const at = wait_of<heat_wait>("{ days = 30, at = 15, base = 5, soil = true }");
    CHECK(at.amount.kelvin_days() == 300.0);
    CHECK(at.base.celsius() == 5.0);
    CHECK_FALSE(at.upper);
    CHECK(at.method == degree_day_method::single_sine);
    CHECK(at.soil);
    auto const heat = wait_of<heat_wait>(
        "{ heat = 90, base = 8, upper = 30, method = "
        "\"double_triangle\", cutoff = \"vertical\" }");
    CHECK(heat.method == degree_day_method::double_triangle);
    CHECK(heat.cutoff == degree_day_cutoff::vertical);
    CHECK_FALSE(heat.soil);
    auto const chill = wait_of<days_between_wait>("{ days_between = 40, low = 1, high = 7 }");
    CHECK(chill.days == 40.0);
    CHECK(chill.low.celsius() == 1.0);
    CHECK(chill.high.celsius() == 7.0);
    auto const any = wait_of<clock_group>("{ any = [{ days = 60 }, { all = [{ days = 3 }] }] }");
    CHECK(any.which == clock_group::decides::first);
    CHECK(std::get<clock_group>(any.members.at(1).what()).which == clock_group::decides::last);
    // Gate and soil of a group go to its members; days of the calendar have no soil.
    auto const gated = wait_of<clock_group>(
        "{ all = [{ days = 3 }, { heat = 9, base = 2 }], soil = "
        "true, gate = { day_length_at_most = 12 } }");
    CHECK(gated.members.at(0).gate() == day_length_gate{12.0, false, 0.0});
    CHECK(gated.members.at(1).gate() == day_length_gate{12.0, false, 0.0});
    CHECK(std::get<heat_wait>(gated.members.at(1).what()).soil);
}

TEST_CASE("a pair of weeks is a wait and a hold") {
    stage const pair = first_stage(with_takes("{ weeks = [8, 10] }"));
    CHECK(pair.takes == clock::days(56.0));
    CHECK(pair.hold == 14.0);
    stage const gated =
        first_stage(with_takes("{ weeks = [8, 8], gate = { day_length_at_least = 10 } }"));
    CHECK(gated.takes == clock::days(56.0).gated({10.0, true, 0.0}));
    CHECK(gated.hold == 0.0);
    CHECK_FALSE(first_stage(with_takes("{ weeks = 8 }")).hold);
    CHECK_THROWS_AS(with_takes("{ weeks = [8, 10] }", ", hold = 3"), invalid_input);
    CHECK_THROWS_AS(with_takes("{ weeks = [8, 10, 12] }"), invalid_input);
    CHECK_THROWS_AS(with_takes("{ any = [{ weeks = [8, 10] }] }"), invalid_input);
}

TEST_CASE("every way to say a day") {
    day const may = make_day(2027, 5, 15);
    CHECK(target_of<on_rule>("{ event = \"sow\", on = 2027-05-15 }") == on_rule{may});
    CHECK(target_of<from_rule>("{ event = \"sow\", from = 2027-05-15 }") == from_rule{may});
    CHECK(target_of<by_rule>("{ event = \"clear\", by = 2027-05-15 }") == by_rule{may});
    CHECK(target_of<risk_rule>("{ event = \"sow\", risk = 0.2, limit = -2, after = 2027-05-15 }") ==
          risk_rule{chance{0.2}, temperature::from_celsius(-2.0), may});
    CHECK(target_of<frost_rule>("{ event = \"sow\", weeks_before_last_frost = 3 }") ==
          frost_rule{frost_edge::before_last_frost, 21});
    CHECK(target_of<frost_rule>("{ event = \"sow\", days_after_last_frost = 0 }") ==
          frost_rule{frost_edge::after_last_frost, 0});
    CHECK(target_of<frost_rule>(
              "{ event = \"sow\", weeks_before_first_frost = 8, after = 2027-05-15 }") ==
          frost_rule{frost_edge::before_first_frost, 56, may});
    CHECK(
        target_of<in_harvest_rule>("{ event = \"first_harvest\", in_harvest = { from = 2027-05-15, "
                                   "until = 2027-05-16, chance = 0.8 } }") ==
        in_harvest_rule{may, may + days{1}, chance{0.8}});
}

TEST_CASE("bounds take a date or a rule") {
    succession const one =
        with_target("{ event = \"first_harvest\", on = 2027-08-01 }",
                    "not_before = { sow = { weeks_before_last_frost = 2 } }\n"
                    "not_after = { sow = 2027-06-01, clear = { days_before_first_frost = 5 } }\n")
            .parts()
            .successions.at(0);
    CHECK(one.not_before ==
          std::vector{event_bound{"sow", frost_rule{frost_edge::before_last_frost, 14}}});
    CHECK(one.not_after ==
          std::vector{event_bound{"sow", by_rule{make_day(2027, 6, 1)}},
                      event_bound{"clear", frost_rule{frost_edge::before_first_frost, 5}}});
}

TEST_CASE("another wait in place of a pair of weeks ends the hold that the pair gave") {
    auto const hold_with = [](std::string const& takes, std::string const& change) {
        plan const p = parse_plan(
            "format = 1\nyear = 2027\nunits = \"metric\"\nsite = { latitude = 50 }\n"
            "places = { beds = { for = [\"field\"] } }\n"
            "[crops.pea]\nstages = [{ begins = \"sow\", where = \"field\", " +
            takes +
            " }]\n[crops.early]\nlike = \"pea\"\nid = \"e\"\n"
            "[[succession]]\ncrop = \"e\"\nplants = 9\n"
            "target = { event = \"sow\", on = 2027-03-01 }\n[succession.stage.sow]\n" +
            change);
        CHECK(parse_plan(to_toml(p)) == p);
        return p.successions().at(0).grown->stages.at(0).hold;
    };
    CHECK(hold_with("takes = { weeks = [8, 10] }", "survives = 0.5") == 14.0);
    CHECK(hold_with("takes = { weeks = [8, 10] }", "takes = { days = 20 }") == std::nullopt);
    CHECK(hold_with("takes = { weeks = [8, 10] }", "takes = { weeks = [3, 4] }") == 7.0);
    CHECK(hold_with("takes = { weeks = [8, 10] }", "takes = { days = 20 }\nhold = 3") == 3.0);
    // A hold that stands for itself is another matter.
    CHECK(hold_with("takes = { weeks = 8 }, hold = 5", "takes = { days = 20 }") == 5.0);
    CHECK(hold_with("takes = { weeks = 8 }, hold = 5", "hold = false") == std::nullopt);
    CHECK(hold_with("takes = { weeks = 8 }, hold = false", "survives = 0.5") == std::nullopt);
    CHECK_THROWS_AS(hold_with("takes = { weeks = 8 }, hold = true", "survives = 1"), invalid_input);
}

TEST_CASE("the rest of a succession") {
    succession const one =
        with_target("{ event = \"sow\", on = 2027-03-01 }",
                    "name = \"pea\"\nid = \"p\"\nreliability = 0.9\nrisk = false\nwave = \"w\"\n"
                    "repeat = { times = 3, harvest_every = 10 }\n"
                    "[succession.stage.sow]\ntakes = { weeks = [7, 9] }\nwho = \"grower\"\n"
                    "where = [\"beds\", \"field\"]\nlimit = -1\nsurvives = 0.5\n"
                    "spacing = { in_row = 4 }\n")
            .parts()
            .successions.at(0);
    CHECK(one.name == "pea");
    CHECK(one.id == "p");
    CHECK(one.reliability == reliability{0.9});
    CHECK(one.risk == risk_setting::off());
    CHECK(one.wave == "w");
    CHECK(one.repeat == repeat{3, 10});
    REQUIRE(one.changes.size() == 1);
    stage_change const& change = one.changes[0];
    CHECK(change.begins == "sow");
    CHECK(change.takes == clock::days(49.0));
    CHECK(change.hold == 14.0);
    CHECK(change.who == performer::grower);
    CHECK(change.where == std::vector<std::string>{"beds", "field"});
    CHECK(change.limit == temperature::from_celsius(-1.0));
    CHECK(change.survives == 0.5);
    CHECK(change.spacing == spacing{1, 4.0});
    CHECK_FALSE(change.container);
}

TEST_CASE("a crop is like another but for what it says itself") {
    plan const p = parse_plan(R"(
format = 1
year = 2027
units = "metric"
site = { latitude = 50 }
places = { beds = { for = ["field"] } }
[crops.late]
like = "pea"
limit_tender = -1
not_before = { sow = 2027-06-01 }
[crops.pea]
id = "pisum"
limit_tender = 0
limit_hardened = -4
risk = false
caution = "Net it."
not_before = { sow = 2027-03-01 }
not_after = { clear = 2027-10-01 }
stages = [{ begins = "sow", where = "field", takes = { days = 60 } }]
[crops.later]
like = "late"
)");
    crop const& late = p.parts().crops.at(0);
    CHECK(late.name == "late");
    CHECK(late.id.empty());
    CHECK(late.limit_tender == temperature::from_celsius(-1.0));
    CHECK(late.limit_hardened == temperature::from_celsius(-4.0));
    CHECK(late.risk == risk_setting::off());
    CHECK(late.caution == "Net it.");
    CHECK(late.stages == p.parts().crops.at(1).stages);
    CHECK(late.not_before == std::vector{event_bound{"sow", from_rule{make_day(2027, 6, 1)}}});
    CHECK(late.not_after == p.parts().crops.at(1).not_after);
    crop const& later = p.parts().crops.at(2);
    CHECK(later.name == "later");
    CHECK(later.not_before == late.not_before);
}

TEST_CASE("order is that of the file") {
    plan const p = parse_plan(R"(
format = 1
year = 2027
units = "metric"
site = { latitude = 50 }
[places]
zinc = { for = ["store", "field"] }
alder = { for = ["grow"] }
mid = { for = ["field"] }
[crops.zinnia]
stages = [{ begins = "sow", where = "field", takes = { days = 60 } }]
[containers]
tub = { cells = 1 }
bag = { cells = 2 }
[crops.alyssum]
stages = [{ begins = "sow", where = "field", takes = { days = 60 } }]
)");
    CHECK(p.places().at(0).name == "zinc");
    CHECK(p.places().at(1).name == "alder");
    CHECK(p.places().at(2).name == "mid");
    CHECK(p.places().at(0).jobs == std::vector{job::store, job::field});
    CHECK(p.parts().crops.at(0).name == "zinnia");
    CHECK(p.parts().crops.at(1).name == "alyssum");
    CHECK(p.parts().containers.at(0).name == "tub");
    // Written and read again, the order is the same.
    CHECK(parse_plan(to_toml(p)) == p);
}

TEST_CASE("what is written is read as the same plan") {
    for (std::string_view const text : {marlpit, marlpit_us}) {
        plan const p = parse_plan(text);
        CHECK(parse_plan(to_toml(p)) == p);
        CHECK(plan_from_tree(to_tree(p)) == p);
        CHECK(parse_toml(to_toml(p)) == to_tree(p));
        CHECK(to_toml(parse_plan(to_toml(p))) == to_toml(p));
    }
    // The numbers of a grower come back as the grower wrote them.
    std::string const us = to_toml(parse_plan(marlpit_us));
    CHECK(us.find("day = 71.6, night = 68.0") != std::string::npos);
    CHECK(us.find("limit_hardened = 28.04\n") != std::string::npos);
    CHECK(us.find("heat = 684.0, base = 39.2, upper = 82.4") != std::string::npos);
    CHECK(us.find("in_row = 9.0") != std::string::npos);
    CHECK(us.find("medium = 1.5") != std::string::npos);
    CHECK(us.find("bed = 394.0") != std::string::npos);
}

TEST_CASE("texts of any letters are written and read again") {
    plan_parts parts{.window = season{make_day(2027, 1, 1)}, .where = latitude{50.0}};
    parts.title = "quote \" backslash \\ tab \t line \n bell \a delete \x7f Weißdorn 杏";
    parts.places = {place{.name = "a.b \"c\" [1]", .jobs = {job::field}}};
    parts.crops = {crop{.name = "pea.\n", .stages = {stage{.begins = "sow", .where = {"field"}}}}};
    parts.successions = {succession{.name = "",
                                    .crop = "pea.\n",
                                    .amount = {amount::measure::plants, 3.0},
                                    .target = {"sow", on_rule{make_day(2027, 4, 1)}}}};
    plan const p{parts};
    CHECK(parse_plan(to_toml(p)) == p);
    parts.title = "\xff";
    CHECK_THROWS_AS(plan{parts}, invalid_input);
    parts.title = "\xed\xa0\x80";  // half of a surrogate pair
    CHECK_THROWS_AS(plan{parts}, invalid_input);
}

TEST_CASE("the long form says where every value comes from") {
    std::filesystem::path const folder = std::filesystem::temp_directory_path();
    std::filesystem::path const file = folder / "epicotyl_expand_test.toml";
    std::ofstream{file} << R"(format = 1
year = 2027
units = "us"
site = { latitude = 50 }
defaults = { reliability = 0.9 }
[places]
beds = { for = ["field"], bed = 40 }
[crops.pea]
stages = [
  { begins = "sow", where = "field", takes = { weeks = [8, 10] } },
  { begins = "first_harvest", where = "beds", takes = { heat = 90, base = 40 } },
]
[crops.bean]
like = "pea"
limit_tender = 32
risk = 0.2
not_before = { sow = 2027-05-01 }
[[succession]]
crop = "bean"
plants = 90
target = { event = "sow", on = 2027-05-10 }
repeat = { times = 2, harvest_every = 9 }
)";
    std::string const text = expand_plan(file);
    plan const read = read_plan(file);
    std::ofstream{file} << text;
    std::string const again = expand_plan(file);
    plan const expanded = read_plan(file);
    std::filesystem::remove(file);
    CHECK(
        text ==
        R"(# The long form of "epicotyl_expand_test.toml": every value that is used, and where it comes from.
format = 1  # line 1
units = "us"  # line 3

[defaults]
risk = 0.1  # default
reliability = 0.9  # line 5

[site]
latitude = 50.0  # line 4
season_start = 2027-01-01  # year, line 2
season_days = 550  # default
years = 30  # default
max_gap = 3  # default
frost = { at = 32.0, chance = 0.5 }  # default

[places.beds]
for = ["field"]  # line 7
bed = 40.0  # line 7

[[crops.pea.stages]]
begins = "sow"  # line 10
who = "grower"  # by its event
where = "field"  # line 10
takes = { days = 56 }  # line 10, spelled out
survives = 1.0  # default
hold = 14  # weeks, line 10

[[crops.pea.stages]]
begins = "first_harvest"  # line 11
who = "plant"  # by its event
where = "beds"  # line 11
takes = { heat = 90.0, base = 40.0, method = "single_sine", cutoff = "horizontal" }  # line 11, spelled out
survives = 1.0  # default

[crops.bean]
limit_tender = 32.0  # line 15
risk = 0.2  # line 16

[crops.bean.not_before]
sow = 2027-05-01  # line 17

[[crops.bean.stages]]
begins = "sow"  # like "pea", line 10
who = "grower"  # by its event
where = "field"  # like "pea", line 10; stands in "beds"
takes = { days = 56 }  # like "pea", line 10, spelled out
survives = 1.0  # default
hold = 14  # like "pea", weeks, line 10

[[crops.bean.stages]]
begins = "first_harvest"  # like "pea", line 11
who = "plant"  # by its event
where = "beds"  # like "pea", line 11
takes = { heat = 90.0, base = 40.0, method = "single_sine", cutoff = "horizontal" }  # like "pea", line 11, spelled out
survives = 1.0  # default

[[succession]]
name = "bean"  # the crop's
crop = "bean"  # line 19
plants = 90  # line 20
target = { event = "sow", on = 2027-05-10 }  # line 21
reliability = 0.9  # defaults, line 5
risk = 0.2  # the crop's, line 16
prefer = "late"  # default
repeat = { times = 2, harvest_every = 9 }  # line 22; "bean 1" to "bean 2"

[succession.not_before]
sow = 2027-05-01  # the crop's, line 17
)");
    // The long form is a plan file that means the same.
    REQUIRE(expanded.successions().size() == read.successions().size());
    for (std::size_t i = 0; i < read.successions().size(); ++i) {
        resolved_succession const& a = read.successions()[i];
        resolved_succession const& b = expanded.successions()[i];
        CHECK(a.name == b.name);
        CHECK(a.places == b.places);
        CHECK(a.target_rule == b.target_rule);
        CHECK(a.not_before == b.not_before);
        CHECK(a.reliability == b.reliability);
        CHECK(a.risk == b.risk);
        CHECK(a.prefer == b.prefer);
        CHECK(a.grown->stages.at(0).takes == b.grown->stages.at(0).takes);
    }
    CHECK(again.find("sow = 2027-05-01  # line") != std::string::npos);
}

TEST_CASE("a missing file is refused") {
    CHECK_THROWS_AS(read_plan("no_such_plan.toml"), invalid_input);
}

TEST_CASE("the demo farm is a plan") {
    std::filesystem::path const farm =
        std::filesystem::path{EPICOTYL_SOURCE_DIR} / "examples" / "quillet_hollow" / "farm.toml";
    REQUIRE(std::filesystem::exists(farm));
    plan const p = read_plan(farm);
    CHECK(p.successions().size() > 10);
    CHECK(parse_plan(to_toml(p)) == p);
    CHECK(parse_plan(expand_plan(farm)).successions().size() == p.successions().size());
}
