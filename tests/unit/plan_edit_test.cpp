// Edits: every one gives the plan that one gets by typing the change into the plan's file, and
// refuses what it cannot do.
#include "catch.hpp"

#include <functional>
#include <string>
#include <vector>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/plan_file.hpp>

using namespace epicotyl;

namespace {

/// An invented farm with a change of every kind to be made in it; line 1 is `format`.
constexpr char const* farm_file = R"(format = 1
units = "us"
title = "Sallow Bank 2027"
defaults = { risk = 0.1, reliability = 0.8 }
[site]
latitude = 45.0
season_start = 2027-01-01
season_days = 500
[places]
mat = { for = ["germinate"], day = 72, night = 68, trays = 6 }
house = { for = ["grow"], warmer_night = 5, heat_to = 45, heat_lift = 16, cold_nights = { below = 35, warmer = 9 }, trays = 28 }
shelf = { id = "s1", for = ["grow"], warmer_day = 2 }
beds = { for = ["field"], bed = 400 }
[containers]
"plug 104" = { cells = 104 }
"plug 72" = { cells = 72 }
[crops.stock]
limit_tender = 32
limit_hardened = 28
not_before = { transplant = 2027-03-20 }
stages = [
  { begins = "sow", where = "germinate", container = "plug 104", takes = { days = 8 } },
  { begins = "emerge", where = "grow", container = "plug 104", takes = { weeks = [4, 6] } },
  { begins = "transplant", where = "field", spacing = { rows = 4, in_row = 9 }, takes = { heat = 900, base = 40 } },
  { begins = "first_harvest", where = "field", spacing = { rows = 4, in_row = 9 }, takes = { days = 20 } },
]
[crops."late stock"]
stages = [{ begins = "sow", where = "field", spacing = { rows = 2, in_row = 8 }, takes = { days = 90 } }, { begins = "first_harvest", where = "field", takes = { days = 9 } }]
[[succession]]
name = "stock 1"
crop = "stock"
plants = 120
target = { event = "transplant", on = 2027-04-10 }
not_after = { sow = 2027-03-15 }
[[succession]]
name = "stock 2"
crop = "stock"
trays = 2
target = { event = "transplant", days_before_last_frost = 3 }
stage.emerge = { where = "house" }
[[succession]]
crop = "late stock"
bed = 30
target = { event = "first_harvest", by = 2027-08-01 }
repeat = { times = 3, harvest_every = 10 }
[[succession]]
name = "stock 4"
crop = "stock"
plants = 50
target = { event = "transplant", risk = 0.2 }
[[succession]]
name = "stock 5"
crop = "stock"
plants = 50
target = { event = "first_harvest", in_harvest = { from = 2027-08-01, until = 2027-08-10, chance = 0.5 } }
[[link]]
first = { succession = "stock 1", event = "emerge" }
then = { succession = "stock 2", event = "sow" }
)";

plan farm() {
    return parse_plan(farm_file, "sallow.toml");
}

/// The file with something else typed in place of a text that stands there once.
std::string typed(std::string const& was, std::string const& is) {
    std::string text = farm_file;
    std::size_t const at = text.find(was);
    REQUIRE(at != std::string::npos);
    REQUIRE(text.find(was, at + 1) == std::string::npos);
    return text.replace(at, was.size(), is);
}

plan_tree table(std::vector<std::pair<std::string, plan_tree>> const& keys) {
    plan_tree made = plan_tree::table();
    for (auto const& [key, value] : keys) { made.set(key, value); }
    return made;
}

input_fault fault_of(std::function<plan()> const& edit) {
    try {
        (void)edit();
    } catch (invalid_input const& fault) { return fault.details(); }
    FAIL("nothing was refused");
    return {};
}

temperature fahrenheit(double degrees) {
    return temperature::from_fahrenheit(degrees);
}

crop const& stock(plan const& of) {
    return of.parts().crops[0];
}
place with_air(place one, std::function<void(air&)> const& change) {
    change(one.air);
    return one;
}

struct edit_case {
    char const* what;
    std::function<plan(plan const&)> edit;
    std::string was;
    std::string is;
};

day const april = make_day(2027, 4, 10);

std::vector<edit_case> cases() {
    return {
        {"the plan's reliability",
         [](plan const& p) { return with_reliability(p, reliability{0.9}); }, "reliability = 0.8",
         "reliability = 0.9"},
        {"the plan's risk", [](plan const& p) { return with_risk(p, risk_setting::off()); },
         "defaults = { risk = 0.1", "defaults = { risk = false"},
        {"the season's start",
         [](plan const& p) { return with_season_start(p, make_day(2026, 11, 1)); },
         "season_start = 2027-01-01", "season_start = 2026-11-01"},
        {"the season",
         [](plan const& p) {
             return with_season(p, season{p.window().start(), 600});
         },
         "season_days = 500", "season_days = 600"},
        {"a reliability of its own",
         [](plan const& p) { return with_reliability(p, "stock 1", reliability{0.95}); },
         "plants = 120", "plants = 120\nreliability = 0.95"},
        {"a risk of its own",
         [](plan const& p) { return with_risk(p, "stock 1", risk_setting::at(chance{0.3})); },
         "plants = 120", "plants = 120\nrisk = 0.3"},
        {"an amount",
         [](plan const& p) {
             return with_amount(p, "stock 1", {amount::measure::plants, 90});
         },
         "plants = 120", "plants = 90"},
        {"an amount of another measure",
         [](plan const& p) {
             return with_amount(p, "stock 1", {amount::measure::trays, 3});
         },
         "plants = 120", "trays = 3"},
        {"the amount of a repeat, by the name of its crop",
         [](plan const& p) {
             return with_succession_keys(p, "late stock", table({{"bed", plan_tree{40}}}));
         },
         "bed = 30", "bed = 40"},
        {"a target",
         [](plan const& p) {
             return with_target(p, "stock 4", {"sow", from_rule{make_day(2027, 3, 1)}});
         },
         "{ event = \"transplant\", risk = 0.2 }", "{ event = \"sow\", from = 2027-03-01 }"},
        {"the rule of a target by its key",
         [](plan const& p) {
             return with_target_keys(p, "stock 4",
                                     table({{"weeks_after_last_frost", plan_tree{2}}}));
         },
         "risk = 0.2", "weeks_after_last_frost = 2"},
        {"a week later", [](plan const& p) { return with_target_moved(p, "stock 1", days{7}); },
         "on = 2027-04-10", "on = 2027-04-17"},
        {"a deadline a week sooner",
         [](plan const& p) { return with_target_moved(p, "late stock", days{-7}); },
         "by = 2027-08-01", "by = 2027-07-25"},
        {"a harvest ten days later",
         [](plan const& p) { return with_target_moved(p, "stock 5", days{10}); },
         "from = 2027-08-01, until = 2027-08-10", "from = 2027-08-11, until = 2027-08-20"},
        {"a day sooner before the frost",
         [](plan const& p) { return with_target_moved(p, "stock 2", days{-1}); },
         "days_before_last_frost = 3", "days_before_last_frost = 4"},
        {"from before the frost to its day",
         [](plan const& p) { return with_target_moved(p, "stock 2", days{3}); },
         "days_before_last_frost = 3", "days_before_last_frost = 0"},
        {"from before the frost to after it",
         [](plan const& p) { return with_target_moved(p, "stock 2", days{10}); },
         "days_before_last_frost = 3", "weeks_after_last_frost = 1"},
        {"a bound",
         [](plan const& p) {
             return with_not_after(p, "stock 1", "sow", by_rule{make_day(2027, 3, 1)});
         },
         "sow = 2027-03-15", "sow = 2027-03-01"},
        {"a bound gone", [](plan const& p) { return with_not_after(p, "stock 1", "sow", {}); },
         "not_after = { sow = 2027-03-15 }\n", ""},
        {"a bound in the place of its crop's",
         [](plan const& p) {
             return with_not_before(p, "stock 4", "transplant", from_rule{april});
         },
         "risk = 0.2 }", "risk = 0.2 }\nnot_before = { transplant = 2027-04-10 }"},
        {"one more bound by its key",
         [](plan const& p) {
             return with_not_after_keys(p, "stock 1",
                                        table({{"clear", plan_tree{make_day(2027, 9, 1)}}}));
         },
         "sow = 2027-03-15 }", "sow = 2027-03-15, clear = 2027-09-01 }"},
        {"a bound for another by its key",
         [](plan const& p) {
             return with_not_after_keys(
                 p, "stock 1", table({{"clear", plan_tree{make_day(2027, 9, 1)}}}), {"sow"});
         },
         "sow = 2027-03-15 }", "clear = 2027-09-01 }"},
        {"another place for a stage",
         [](plan const& p) {
             return with_stage_change(p, "stock 1", {.begins = "emerge", .where = {{"shelf"}}});
         },
         "not_after = { sow = 2027-03-15 }",
         "not_after = { sow = 2027-03-15 }\nstage.emerge = { where = \"shelf\" }"},
        {"another container beside another place",
         [](plan const& p) {
             return with_stage_change(p, "stock 2", {.begins = "emerge", .container = "plug 72"});
         },
         "stage.emerge = { where = \"house\" }",
         "stage.emerge = { where = \"house\", container = \"plug 72\" }"},
        {"another clock, which ends the hold of a pair of weeks",
         [](plan const& p) {
             return with_stage_change_keys(p, "stock 2", "emerge",
                                           table({{"takes", table({{"days", plan_tree{40}}})}}));
         },
         "stage.emerge = { where = \"house\" }",
         "stage.emerge = { where = \"house\", takes = { days = 40 } }"},
        {"a stage as its crop has it",
         [](plan const& p) { return without_stage_change(p, "stock 2", "emerge"); },
         "stage.emerge = { where = \"house\" }\n", ""},
        {"the heater off", [](plan const& p) { return without_heater(p, "house"); },
         "heat_to = 45, heat_lift = 16, ", ""},
        {"the heater off by its keys",
         [](plan const& p) {
             return with_place_keys(p, "house", plan_tree::table(), {"heat_to", "heat_lift"});
         },
         "heat_to = 45, heat_lift = 16, ", ""},
        {"the cover off", [](plan const& p) { return without_cover(p, "house"); },
         "cold_nights = { below = 35, warmer = 9 }, ", ""},
        {"another air",
         [](plan const& p) {
             return with_place(
                 p, with_air(p.places()[1], [](air& of) { of.heat_to = fahrenheit(50.0); }));
         },
         "heat_to = 45", "heat_to = 50"},
        {"more room, by the id of the place",
         [](plan const& p) {
             return with_place_keys(p, "s1", table({{"trays", plan_tree{12}}}));
         },
         "warmer_day = 2 }", "warmer_day = 2, trays = 12 }"},
        {"a crop's limit",
         [](plan const& p) {
             crop one = stock(p);
             one.limit_hardened = fahrenheit(26.0);
             return with_crop(p, one);
         },
         "limit_hardened = 28", "limit_hardened = 26"},
        {"a crop's limit by its key",
         [](plan const& p) {
             return with_crop_keys(p, "stock", table({{"limit_hardened", plan_tree{26.0}}}));
         },
         "limit_hardened = 28", "limit_hardened = 26"},
        {"a crop without its bound",
         [](plan const& p) {
             return with_crop_keys(p, "stock", plan_tree::table(), {"not_before"});
         },
         "not_before = { transplant = 2027-03-20 }\n", ""},
        {"a succession replaced",
         [](plan const& p) {
             return with_succession(p, {.name = "stock 4",
                                        .crop = "stock",
                                        .amount = {amount::measure::trays, 1},
                                        .target = {"sow", on_rule{april}}});
         },
         "plants = 50\ntarget = { event = \"transplant\", risk = 0.2 }",
         "trays = 1\ntarget = { event = \"sow\", on = 2027-04-10 }"},
        {"a succession more",
         [](plan const& p) {
             return with_added_succession(p, {.name = "stock 6",
                                              .crop = "stock",
                                              .amount = {amount::measure::plants, 7},
                                              .target = {"sow", on_rule{april}}});
         },
         "[[link]]",
         "[[succession]]\nname = \"stock 6\"\ncrop = \"stock\"\nplants = 7\n"
         "target = { event = \"sow\", on = 2027-04-10 }\n[[link]]"},
        {"a succession more by its keys",
         [](plan const& p) {
             return with_added_succession_keys(
                 p, table({{"name", plan_tree{"stock 6"}},
                           {"crop", plan_tree{"stock"}},
                           {"plants", plan_tree{7}},
                           {"target",
                            table({{"event", plan_tree{"sow"}}, {"on", plan_tree{april}}})}}));
         },
         "[[link]]",
         "[[succession]]\nname = \"stock 6\"\ncrop = \"stock\"\nplants = 7\n"
         "target = { event = \"sow\", on = 2027-04-10 }\n[[link]]"},
        {"a succession less", [](plan const& p) { return without_succession(p, "stock 4"); },
         "[[succession]]\nname = \"stock 4\"\ncrop = \"stock\"\nplants = 50\n"
         "target = { event = \"transplant\", risk = 0.2 }\n",
         ""},
    };
}

}  // namespace

TEST_CASE("an edit gives the plan that one gets by typing the change") {
    plan const before = farm();
    for (edit_case const& one : cases()) {
        CAPTURE(one.what);
        plan const after = one.edit(before);
        plan const expected = parse_plan(typed(one.was, one.is));
        CHECK(after == expected);
        CHECK(to_toml(after) == to_toml(expected));
        CHECK_FALSE(after == before);
        CHECK(before == farm());
        // What is written can be read, and so can what it was looked up to.
        CHECK(parse_plan(to_toml(after)) == after);
        REQUIRE(after.successions().size() == expected.successions().size());
        for (std::size_t i = 0; i < after.successions().size(); ++i) {
            CHECK(after.successions()[i].name == expected.successions()[i].name);
            CHECK(*after.successions()[i].grown == *expected.successions()[i].grown);
            CHECK(after.successions()[i].places == expected.successions()[i].places);
        }
    }
}

TEST_CASE("an edit of a plan made in code is the same plan without lines") {
    plan const in_code{farm().parts()};
    for (edit_case const& one : cases()) {
        CAPTURE(one.what);
        plan const after = one.edit(in_code);
        CHECK(after.source() == nullptr);
        CHECK(after.line_of("places.mat") == 0);
        // Without its file a plan does not know that a wait was a pair of weeks.
        if (one.was.find("stage.emerge") == std::string::npos) { CHECK(after == one.edit(farm())); }
    }
}

TEST_CASE("after an edit lines are told of what still stands there") {
    plan const before = farm();
    CHECK(before.line_of("succession[1].target.on") == 33);
    CHECK(before.line_of("succession[4].plants") == 49);
    CHECK_FALSE(before.is_edited("succession[1].target.on"));

    plan const moved = with_target_moved(before, "stock 1", days{7});
    CHECK(moved.file_name() == "sallow.toml");
    CHECK(moved.line_of("succession[1].target.on") == 0);
    CHECK(moved.is_edited("succession[1].target.on"));
    CHECK(moved.line_of("succession[1].not_after.sow") == 34);
    CHECK(moved.line_of("succession[4].plants") == 49);

    // With one succession less, those after it move up in the list but not in the file.
    plan const less = without_succession(moved, "late stock");
    CHECK(less.line_of("succession[2].trays") == 38);
    CHECK(less.line_of("succession[3].plants") == 49);
    CHECK(less.line_of("succession[1].target") == 0);
    succession added = less.parts().successions[2];
    added.name = "stock 6";
    plan const more = with_added_succession(less, added);
    CHECK(more.line_of("succession[4].plants") == 54);
    CHECK(more.line_of("succession[5].plants") == 0);

    plan const warmer = with_crop_keys(before, "stock", table({{"limit_tender", plan_tree{34}}}));
    CHECK(warmer.line_of("crops.stock.limit_tender") == 0);
    CHECK(warmer.line_of("crops.stock.limit_hardened") == 19);
}

namespace {

struct refusal {
    std::function<plan(plan const&)> edit;
    char const* sentence;
};

std::vector<refusal> refusals() {
    return {
        {[](plan const& p) { return with_amount(p, "stok 1", {}); },
         "succession: there is no succession \"stok 1\"; the nearest is \"stock 1\""},
        {[](plan const& p) { return with_target_moved(p, "stock 2 ", days{1}); },
         "succession: there is no succession \"stock 2 \"; the nearest is \"stock 2\""},
        {[](plan const& p) { return without_heater(p, "hose"); },
         "place: there is no place \"hose\"; the nearest is \"house\""},
        {[](plan const& p) { return with_place(p, {.name = "shed", .jobs = {job::grow}}); },
         "place: there is no place \"shed\"; the nearest is \"shelf\""},
        {[](plan const& p) { return with_crop(p, {.name = "stokc"}); },
         "crop: there is no crop \"stokc\"; the nearest is \"stock\""},
        {[](plan const& p) { return with_place_keys(p, "house", plan_tree::table(), {"heat"}); },
         "places.house.heat: there is no key \"heat\" here; the nearest is \"heat_to\"; all keys: "
         "id, for, day, night, warmer_night, warmer_day, heat_to, heat_lift, vent_above, "
         "cold_nights, trays, bed, area, open, part_of, lamps"},
        {[](plan const& p) {
             return with_crop_keys(p, "stock", table({{"like", plan_tree{"zinnia"}}}));
         },
         "crops.stock.like: there is no key \"like\" here; the nearest is \"id\"; all keys: id, "
         "stages, limit_tender, limit_hardened, risk, not_before, not_after, caution, "
         "lost_at, prefer, starts_as, germination_standard"},
        {[](plan const& p) {
             return with_amount(p, "stock 1", {amount::measure::plants, -3});
         },
         "succession[1].plants: -3 is nothing to grow (allowed: more than 0 plants); give how much "
         "there is to be"},
        {[](plan const& p) {
             return with_succession_keys(p, "stock 1",
                                         table({{"plants", plan_tree{3}}, {"bed", plan_tree{3}}}));
         },
         "succession[1]: both \"plants\" and \"bed\" say how much there is to be; keep one of "
         "them"},
        {[](plan const& p) { return with_target_moved(p, "stock 4", days{7}); },
         "succession[4].target.risk: a risk says how rare cold nights are to be, and has no day to "
         "move; give the target a day with from or on, or another risk; a bound not_before holds "
         "the event until a day"},
        {[](plan const& p) { return with_target_moved(p, "stock 1", days{405}); },
         "succession[1].target.on: 2028-05-19 is outside the season (allowed: 2027-01-01 to "
         "2028-05-15); check the year, or change the start or the days of the season"},
        {[](plan const& p) { return with_target_moved(p, "stock 1", days{1501}); },
         "later: 1501 days lead out of every season (allowed: -1500 to 1500 days); give the days "
         "by "
         "which the target is to come later"},
        {[](plan const& p) {
             plan const autumn = with_target(
                 p, "stock 4", {"transplant", frost_rule{frost_edge::before_first_frost, 5, {}}});
             return with_target_moved(autumn, "stock 4", days{6});
         },
         "succession[4].target.before_first_frost: 6 days later than 5 days before the first frost "
         "lies after it, and no rule counts days from there (allowed: up to 5 days later); give "
         "the "
         "target a day with from or on"},
        {[](plan const& p) { return with_amount(p, "stock 2nd", {}); },
         "succession: there is no succession \"stock 2nd\"; the nearest is \"stock 2\""},
        {[](plan const& p) { return with_season_start(p, make_day(2027, 6, 1)); },
         "crops.stock.not_before.transplant.from: 2027-03-20 is outside the season (allowed: "
         "2027-06-01 to 2028-10-13); check the year, or change the start or the days of the "
         "season"},
        {[](plan const& p) { return with_not_before(p, "stock 1", "sow", {}); },
         "succession[1].not_before.sow: \"stock 1\" has no such bound of its own on \"sow\"; a "
         "bound "
         "of its crop is changed in the crop"},
        {[](plan const& p) { return with_not_before(p, "stock 1", "emerge", from_rule{april}); },
         "succession[1].not_before.emerge: \"emerge\" comes when the plants are ready and cannot "
         "wait; give the bound to what the grower does before it"},
        {[](plan const& p) { return with_not_after(p, "stock 1", "pot_on", by_rule{april}); },
         "succession[1].not_after.pot_on: \"stock\" has no event \"pot_on\"; the nearest is "
         "\"sow\"; all events: sow, emerge, transplant, first_harvest, clear"},
        {[](plan const& p) {
             return with_stage_change(p, "stock 1", {.begins = "pot_on", .where = {{"shelf"}}});
         },
         "succession[1].stage.pot_on: there is no stage of \"stock\" that begins with \"pot_on\"; "
         "the nearest is \"sow\""},
        {[](plan const& p) { return without_stage_change(p, "stock 2", "sow"); },
         "succession[2].stage.sow: there is no stage that it changes: \"sow\"; the nearest is "
         "\"emerge\""},
        {[](plan const& p) { return without_stage_change(p, "stock 1", "sow"); },
         "succession[1].stage.sow: there is no stage that it changes: \"sow\"; it grows as its "
         "crop "
         "does"},
        {[](plan const& p) { return without_heater(p, "shelf"); },
         "places.shelf.heat_to: \"shelf\" has no heater to leave off; name a place with heat_to"},
        {[](plan const& p) { return without_cover(p, "mat"); },
         "places.mat.cold_nights: nothing is done in \"mat\" on cold nights; name a place with "
         "cold_nights"},
        {[](plan const& p) { return without_succession(p, "stock 1"); },
         "link[1].first.succession: there is no succession \"stock 1\"; the nearest is \"stock "
         "2\""},
        {[](plan const& p) { return with_added_succession(p, p.parts().successions[0]); },
         "succession[6]: two successions are called \"stock 1\"; give each a name of its own"},
        {[](plan const& p) {
             return with_target_keys(p, "stock 1", table({{"on", plan_tree{"april"}}}));
         },
         "succession[1].target.on: \"april\" is a text, not a date; write year-month-day "
         "without quotes, such as 2027-03-01"},
        {[](plan const& p) { return with_place_keys(p, "house", plan_tree{3}); },
         "places.house: 3 is a whole number, not a table; write a table of names and their values"},
    };
}

}  // namespace

TEST_CASE("an edit that cannot be made says what is wrong and what to do") {
    plan const before = farm();
    for (refusal const& one : refusals()) {
        CAPTURE(one.sentence);
        CHECK(to_string(fault_of([&] { return one.edit(before); })) == one.sentence);
    }
}

TEST_CASE("one member of a repeat is not edited alone") {
    input_fault const fault =
        fault_of([] { return with_reliability(farm(), "late stock 3", reliability{0.9}); });
    CHECK(fault.code == "edit.member_of_repeat");
    CHECK(fault.problem == "\"late stock 3\" is one of a repeat and not written by itself");
    CHECK(fault.remedy ==
          "edit \"late stock\", of which all of them are made, or write each of them as a "
          "succession");
}

TEST_CASE("edits follow one another") {
    plan const once = with_target_moved(farm(), "stock 1", days{7});
    CHECK(with_target_moved(once, "stock 1", days{-7}) == farm());
    plan const there = with_target_moved(farm(), "stock 2", days{20});
    CHECK(with_target_moved(there, "stock 2", days{-20}) == farm());
    plan const both = without_cover(without_heater(farm(), "house"), "house");
    CHECK(both == without_heater(without_cover(farm(), "house"), "house"));
    CHECK(both.places()[1].air == air{.warmer_night = temperature_span::from_fahrenheit(5.0)});
}
