// Why the window of an event is what it is: both ends, event by event, reckoned by hand.
#include "catch.hpp"

#include <algorithm>
#include <string>
#include <variant>
#include <vector>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/windows/explain_windows.hpp>

namespace ep = epicotyl;

namespace {

/// One season year without frost, 5 to 15 °C.
ep::climate mild_year() {
    ep::day const start = ep::make_day(2001, 1, 1);
    std::vector<double> const low(400, 5.0);
    std::vector<double> const high(400, 15.0);
    return ep::climate{ep::daily_record{start, low, high},
                       ep::latitude{45.0},
                       {.season_days = 240, .years = ep::year_selection::all()}};
}

/// An invented plot: peas from 21 March are picked after 60 days and clear the bed after 20 more;
/// leeks follow 3 days later, ready 60 days after their sowing and for a week.
ep::plan plot() {
    return ep::parse_plan(R"(format = 1
units = "metric"
year = 2027
defaults = { risk = false, reliability = 0.5 }
site = { latitude = 45.0, season_days = 240 }
places = { house = { for = ["grow"] }, beds = { for = ["field"] } }
[crops.pea]
stages = [
  { begins = "sow", where = "field", takes = { days = 60 } },
  { begins = "first_harvest", where = "field", takes = { days = 20 } },
]
[crops.leek]
stages = [
  { begins = "sow", where = "grow", takes = { days = 10 } },
  { begins = "emerge", where = "grow", takes = { days = 50 }, hold = 7 },
  { begins = "transplant", where = "field", takes = { days = 90 } },
]
[[succession]]
crop = "pea"
plants = 100
target = { event = "first_harvest", by = 2027-06-10 }
not_before = { sow = 2027-03-21 }
[[succession]]
crop = "leek"
plants = 100
target = { event = "transplant", from = 2027-06-01 }
not_after = { transplant = 2027-06-30 }
follows = "pea"
gap = 3
)",
                          "plot.toml");
}

std::vector<std::string> told(std::vector<ep::reason> const& all) {
    std::vector<std::string> lines;
    for (ep::reason const& one : all) {
        lines.push_back(one.succession + ' ' + one.event + " | " + one.code + " | " + one.sentence);
    }
    return lines;
}

template <class Value>
Value value_of(ep::reason const& one, std::string const& name) {
    for (auto const& [key, value] : one.values) {
        if (key == name) { return std::get<Value>(value); }
    }
    FAIL("no value " << name);
    return {};
}

using lines = std::vector<std::string>;

}  // namespace

TEST_CASE("a window is explained from its left bound to its right bound") {
    ep::planting_windows const windows{plot(), mild_year(), 2001};
    std::vector<ep::reason> const why = ep::explain(windows, "pea", "clear");
    CHECK(
        told(why) ==
        lines{"pea clear | window | clear 9 Jun to 27 Jun in 2001: 18 days of room",
              "pea clear | window.earliest.stage | clear no earlier than 9 Jun: the time it takes "
              "after first harvest in beds, and first harvest comes no earlier than 20 May",
              "pea first_harvest | window.earliest.stage | first harvest no earlier than 20 May: "
              "the time it takes after sow in beds, and sow comes no earlier than 21 Mar",
              "pea sow | window.earliest.not_before | sow no earlier than 21 Mar: not before 21 "
              "Mar",
              "pea clear | window.latest.link | clear no later than 27 Jun, as transplant of "
              "\"leek\" comes no later than 30 Jun (it waits for clear of \"pea\")",
              "leek transplant | window.latest.not_after | transplant no later than 30 Jun: no "
              "later than 30 Jun"});
    CHECK(value_of<ep::day>(why[0], "earliest") == ep::make_day(2027, 6, 9));
    CHECK(value_of<ep::day>(why[0], "latest") == ep::make_day(2027, 6, 27));
    CHECK(value_of<std::int64_t>(why[0], "slack") == 18);
    CHECK(value_of<std::int64_t>(why[0], "year") == 2001);
    CHECK(value_of<ep::day>(why[1], "day") == ep::make_day(2027, 6, 9));
    CHECK(value_of<ep::day>(why[1], "from_day") == ep::make_day(2027, 5, 20));
    CHECK(value_of<std::string>(why[4], "from_succession") == "leek");
    CHECK(value_of<std::string>(why[4], "field") == "succession[2].follows");
    CHECK(value_of<std::int64_t>(why[3], "line") == 22);
    CHECK(value_of<std::int64_t>(why[4], "line") == 28);
    CHECK(value_of<std::int64_t>(why[5], "line") == 27);
}

TEST_CASE("a decision aimed at is held on its day in the calendar") {
    // Asked from 1 June; the bed is free on 12 June, for which the calendar plans it.
    ep::planting_windows const windows{plot(), mild_year(), 2001};
    CHECK(told(ep::explain(windows, "leek", "transplant"))[1] ==
          "leek transplant | window.earliest.target | transplant no earlier than 12 Jun: its day "
          "in the calendar (wanted 1 Jun: not before 1 Jun)");
}

TEST_CASE("an outcome that its clock holds from both sides is told what ends its window") {
    // Peas that must be in harvest by 10 June have cleared 20 days later, and nothing waits for
    // them.
    std::string text = ep::to_toml(plot());
    text.erase(text.find("[[succession]]", text.find("[[succession]]") + 1));
    ep::planting_windows const windows{ep::parse_plan(text, "peas.toml"), mild_year(), 2001};
    std::vector<std::string> const why = told(ep::explain(windows, "pea", "clear"));
    CHECK(why.front() == "pea clear | window | clear 9 Jun to 30 Jun in 2001: 21 days of room");
    CHECK(why.back() ==
          "pea first_harvest | window.latest.target | first harvest no later than 10 Jun: no later "
          "than 10 Jun");
    for (std::string const& line : why) { CHECK_FALSE(line.ends_with(": ")); }
}

TEST_CASE("a rule that asked for another day than the calendar's is said with its day") {
    // Frost up to 25 April of every year; asked five weeks before it, and held back by a bound.
    std::vector<double> low(400, 5.0);
    std::fill(low.begin(), low.begin() + 115, -5.0);
    ep::climate const cold{
        ep::daily_record{ep::make_day(2001, 1, 1), low, std::vector<double>(400, 15.0)},
        ep::latitude{45.0},
        {.season_days = 240, .years = ep::year_selection::all()}};
    ep::plan const sown = ep::parse_plan(R"(format = 1
units = "metric"
year = 2027
defaults = { risk = false }
site = { latitude = 45.0, season_days = 240 }
places = { beds = { for = ["field"] } }
[crops.pea]
stages = [ { begins = "sow", where = "field", takes = { days = 60 } } ]
[[succession]]
crop = "pea"
plants = 100
target = { event = "sow", weeks_before_last_frost = 5 }
not_before = { sow = 2027-04-17 }
)",
                                         "peas.toml");
    std::vector<std::string> const why =
        told(ep::explain(ep::planting_windows{sown, cold, 2001}, "pea", "sow"));
    CHECK(
        why.back() ==
        "pea sow | window.latest.target | sow no later than 17 Apr: its day in the calendar "
        "(wanted 21 Mar: 5 weeks before the last frost of 25 Apr (0 °C, later in 5 years of 10))");
}

TEST_CASE("what is held by a later event is not said to hold it") {
    // Leeks up before 16 April would be ready more than a week before their day. Their sowing is
    // held by the same, and does not hold their coming up.
    ep::planting_windows const windows{plot(), mild_year(), 2001};
    std::vector<std::string> const why = told(ep::explain(windows, "leek", "emerge"));
    CHECK(why[1] ==
          "leek emerge | window.earliest.hold | emerge no earlier than 16 Apr, as transplant comes "
          "no earlier than 12 Jun (ready plants hold for 7 days)");
    CHECK(why[2].starts_with("leek transplant | window.earliest.target"));
    std::vector<std::string> const sown = told(ep::explain(windows, "leek", "sow"));
    CHECK(sown[1] ==
          "leek sow | window.earliest.stage | sow no earlier than 6 Apr, as emerge comes no "
          "earlier than 16 Apr (the time it takes after sow in house)");
}

TEST_CASE("an event that nothing keeps within the season has one end") {
    ep::planting_windows const windows{plot(), mild_year(), 2001};
    std::vector<ep::reason> const why = ep::explain(windows, "leek", "clear");
    // 90 days after 12 June are 10 September, when the season of 240 days is over.
    CHECK(why.front().sentence ==
          "clear is not within the season in 2001, however early all before it comes");
    CHECK(why.front().code == "window.not_in_season");
    CHECK(why[1].code == "window.earliest.target");

    ep::plan const longer = ep::with_season(plot(), ep::season{ep::make_day(2027, 1, 1), 260});
    ep::climate const weather{mild_year().record(), ep::latitude{45.0}, {.season_days = 260}};
    std::vector<ep::reason> const open =
        ep::explain(ep::planting_windows{longer, weather, 2001}, "leek", "clear");
    CHECK(open.front().sentence ==
          "clear 10 Sep or later in 2001: nothing keeps it within the season");
    CHECK(open[1].code == "window.earliest.stage");
    CHECK(open.back().code == "window.earliest.target");
}

TEST_CASE("where there is no window the conflict is told, or why a succession is left out") {
    ep::plan const hasty =
        ep::with_not_after(plot(), "leek", "transplant", ep::by_rule{ep::make_day(2027, 6, 5)});
    ep::planting_windows const windows{hasty, mild_year(), 2001};
    std::vector<ep::reason> const why = ep::explain(windows, "pea", "sow");
    REQUIRE(why.size() == 5);
    CHECK(told(why)[0] ==
          "pea sow | conflict.not_before | sow of \"pea\" not before 21 Mar (not "
          "before 21 Mar)");
    CHECK(why[3].code == "conflict.link");
    CHECK(told(why)[4] ==
          "leek transplant | conflict.broken | transplant of \"leek\" no later than "
          "5 Jun (no later than 5 Jun)");
    std::string joined;
    for (std::size_t k = 0; k < 4; ++k) { joined += (k == 0 ? "" : "; ") + why[k].sentence; }
    CHECK(joined + "; but " + why[4].sentence == windows.conflicts().front().sentence);

    // There is no frost to count from.
    ep::plan const frost = ep::with_target(
        plot(), "leek", {"transplant", ep::frost_rule{ep::frost_edge::after_last_frost, 7, {}}});
    ep::planting_windows const without{frost, mild_year(), 2001};
    REQUIRE(without.left_out().size() == 1);
    std::vector<ep::reason> const left = ep::explain(without, "leek", "sow");
    REQUIRE(left.size() == 1);
    CHECK(left[0].code == without.left_out()[0].code);
}

TEST_CASE("a name that the plan does not have is refused") {
    ep::planting_windows const windows{plot(), mild_year(), 2001};
    CHECK_THROWS_AS(ep::explain(windows, "peas", "sow"), ep::invalid_input);
    CHECK_THROWS_AS(ep::explain(windows, "pea", "transplant"), ep::invalid_input);
}
