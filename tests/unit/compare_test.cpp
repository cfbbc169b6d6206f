// Two calendars side by side, of a farm small enough to reckon by hand.
#include "catch.hpp"

#include <string>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/what_if/compare.hpp>

namespace ep = epicotyl;

namespace {

std::string const plot = R"(format = 1
units = "metric"
year = 2027
title = "Invented"
defaults = { risk = false, reliability = 0.5 }
site = { latitude = 45.0, season_days = 260 }
places = { house = { for = ["grow"] }, beds = { for = ["field"] } }
[crops.leek]
stages = [
  { begins = "sow", where = "grow", takes = { days = 60 } },
  { begins = "transplant", where = "field", takes = { days = 90 } },
]
[[succession]]
name = "early"
crop = "leek"
plants = 100
target = { event = "transplant", on = 2027-04-01 }
[[succession]]
name = "late"
crop = "leek"
plants = 100
target = { event = "transplant", on = 2027-06-01 }
)";

std::string changed(std::string text, std::string const& from, std::string const& to) {
    std::size_t const at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

ep::climate mild(double low) {
    ep::day const start = ep::make_day(2001, 1, 1);
    return ep::climate{
        ep::daily_record{start, std::vector<double>(800, low), std::vector<double>(800, 15.0)},
        ep::latitude{45.0},
        {.season_days = 260}};
}

ep::calendar planned(std::string const& text) {
    return ep::schedule(ep::parse_plan(text), mild(5.0));
}

ep::day in_2027(unsigned month, unsigned day) {
    return ep::make_day(2027, month, day);
}

}  // namespace

TEST_CASE("equal calendars do not differ, and a title moves nothing") {
    CHECK(ep::compare(planned(plot), planned(plot)) == ep::calendar_comparison{});
    CHECK(ep::compare(planned(plot), planned(changed(plot, "Invented", "Other"))) ==
          ep::calendar_comparison{});
    CHECK(to_string(ep::calendar_comparison{}) == "Nothing differs.\n");
}

TEST_CASE("each change is told by its field, with what it moves alone") {
    std::string text = changed(plot, "days = 60", "days = 50");
    text = changed(text, "2027-06-01", "2027-06-08");
    ep::calendar_comparison const found = ep::compare(planned(plot), planned(text));
    REQUIRE(found.inputs.size() == 2);
    // Ten days less to raise: both are sown ten days later, and planted out as before.
    ep::changed_input const& shorter = found.inputs[0];
    CHECK(shorter.field == "crops.leek.stages.sow.takes");
    CHECK(shorter.before == "{ days = 60 }");
    CHECK(shorter.after == "{ days = 50 }");
    REQUIRE(shorter.moves.size() == 2);
    CHECK(shorter.moves[0] == ep::moved_event{"early", "sow", in_2027(1, 31), in_2027(2, 10)});
    CHECK(shorter.moves[0].days() == 10);
    CHECK(shorter.moves[1].succession == "late");
    // A week later: all of the late succession moves by seven days.
    ep::changed_input const& later = found.inputs[1];
    CHECK(later.field == "succession.late.target");
    REQUIRE(later.moves.size() == 3);
    for (ep::moved_event const& one : later.moves) {
        CHECK(one.succession == "late");
        CHECK(one.days() == 7);
    }
    // In all: the early sowing, and three events of the late one.
    REQUIRE(found.moved.size() == 4);
    CHECK(found.moved[1] == ep::moved_event{"late", "sow", in_2027(4, 2), in_2027(4, 19)});
    CHECK(found.together.empty());
    // Each move stands once: alone, or of all together where no change alone makes it.
    CHECK(to_string(found) ==
          "4 planned days move (in 2027 where no year is given).\n"
          "\n"
          "crops.leek.stages.sow.takes\n"
          "  before: { days = 60 }\n"
          "  after:  { days = 50 }\n"
          "  Alone it moves:\n"
          "    early: sow 31 Jan to 10 Feb: 10 days later\n"
          "    late: sow 2 Apr to 12 Apr: 10 days later\n"
          "\n"
          "succession.late.target\n"
          "  before: { event = \"transplant\", on = 2027-06-01 }\n"
          "  after:  { event = \"transplant\", on = 2027-06-08 }\n"
          "  Alone it moves:\n"
          "    late: sow 2 Apr to 9 Apr, transplant 1 Jun to 8 Jun, clear 30 Aug to 6 Sep: 7 days "
          "later\n"
          "\n"
          "Only all changes together move:\n"
          "    late: sow 2 Apr to 19 Apr: 17 days later\n");
}

TEST_CASE("what is added, what is taken away, and what cannot stand alone") {
    std::string const more = changed(plot, "[[succession]]\nname = \"late\"\ncrop = \"leek\"",
                                     "[crops.chard]\nlike = \"leek\"\n"
                                     "[[succession]]\nname = \"late\"\ncrop = \"chard\"");
    ep::calendar_comparison const renamed = ep::compare(planned(plot), planned(more));
    CHECK(renamed.moved.empty());
    REQUIRE(renamed.inputs.size() == 2);
    CHECK(renamed.inputs[0].field == "crops.chard");
    CHECK(renamed.inputs[0].before.empty());
    CHECK(renamed.inputs[0].moves.empty());
    CHECK(renamed.inputs[1].field == "succession.late.crop");
    CHECK_FALSE(renamed.inputs[1].stands_alone);

    std::string const fewer = plot.substr(0, plot.rfind("[[succession]]"));
    ep::calendar_comparison const less = ep::compare(planned(plot), planned(fewer));
    REQUIRE(less.inputs.size() == 1);
    CHECK(less.inputs[0].field == "succession.late");
    CHECK(less.inputs[0].after.empty());
    REQUIRE(less.moved.size() == 3);
    CHECK(less.moved == less.inputs[0].moves);
    CHECK_FALSE(less.moved[0].after);
    CHECK_FALSE(less.moved[0].days());
    // The other way round it is added.
    ep::calendar_comparison const again = ep::compare(planned(fewer), planned(plot));
    CHECK(again.moved.size() == 3);
    CHECK_FALSE(again.moved[0].before);
    CHECK(again.moved == again.inputs.at(0).moves);
}

TEST_CASE("season years and reliability are inputs too") {
    std::string const warm = changed(plot, "{ days = 60 }", "{ heat = 300, base = 5 }");
    ep::plan const of = ep::parse_plan(warm);
    // At 5 to 15 °C a day gives 5 K, at 7 to 15 °C 6 K: 60 and 50 days.
    ep::calendar_comparison const found =
        ep::compare(ep::schedule(of, mild(5.0)), ep::schedule(of, mild(7.0), ep::reliability{1.0}));
    REQUIRE(found.inputs.size() == 2);
    CHECK(found.inputs[0].field == "season years");
    REQUIRE(found.inputs[0].moves.size() == 2);
    CHECK(found.inputs[0].moves[0].days() == 10);
    CHECK(found.inputs[1].field == "reliability");
    CHECK(found.inputs[1].before == "0.5");
    CHECK(found.inputs[1].after == "1");
    CHECK(found.inputs[1].moves.empty());
}

TEST_CASE("what only two changes together move is listed so") {
    // The target waits for the later of two bounds; lifting one of them moves nothing.
    std::string const bound = changed(
        plot, "on = 2027-06-01 }\n",
        "from = 2027-06-01 }\nnot_before = { transplant = 2027-06-01, sow = 2027-04-02 }\n");
    std::string free =
        changed(bound, "not_before = { transplant = 2027-06-01, sow = 2027-04-02 }\n", "");
    free = changed(free, "from = 2027-06-01", "from = 2027-05-25");
    ep::calendar_comparison const found = ep::compare(planned(bound), planned(free));
    REQUIRE(found.inputs.size() == 2);
    CHECK(found.inputs[0].moves.empty());
    CHECK(found.inputs[1].moves.empty());
    CHECK(found.together == found.moved);
    CHECK(found.moved.size() == 3);
}

TEST_CASE("a plan in other units is no other plan") {
    std::string const metric = changed(plot, "{ days = 60 }", "{ heat = 300, base = 5 }");
    ep::plan const of = ep::parse_plan(metric);
    ep::plan_parts parts = of.parts();
    parts.units = ep::unit_system::us;
    CHECK(ep::compare(ep::schedule(of, mild(5.0)), ep::schedule(ep::plan{parts}, mild(5.0))) ==
          ep::calendar_comparison{});
}
