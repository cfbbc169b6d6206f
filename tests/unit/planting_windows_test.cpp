// Planting windows of farms small enough to reckon by hand.
#include "catch.hpp"

#include <string>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>
#include <epicotyl/season/windows/window_years.hpp>

namespace ep = epicotyl;

namespace {

constexpr int season_days = 240;

/// Two season years of mild weather. In the first a night of -3 °C comes on 10 April, in the
/// second on 30 April.
ep::climate two_years() {
    ep::day const start = ep::make_day(2001, 1, 1);
    int const length = static_cast<int>((ep::make_day(2003, 1, 1) - start).count());
    std::vector<double> low(static_cast<std::size_t>(length), 5.0);
    std::vector<double> const high(static_cast<std::size_t>(length), 15.0);
    low[static_cast<std::size_t>((ep::make_day(2001, 4, 10) - start).count())] = -3.0;
    low[static_cast<std::size_t>((ep::make_day(2002, 4, 30) - start).count())] = -3.0;
    return ep::climate{
        ep::daily_record{start, low, high}, ep::latitude{45.0}, {.season_days = season_days}};
}

/// Peas clear a bed that leeks follow into: an invented plot.
std::string const plot = R"(format = 1
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
)";

std::string changed(std::string text, std::string const& from, std::string const& to) {
    std::size_t const at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

ep::day in_2027(unsigned month, unsigned day) {
    return ep::make_day(2027, month, day);
}

}  // namespace

TEST_CASE("windows of a relay: what frees the bed, what waits for it, and what may slip") {
    ep::plan const planned = ep::parse_plan(plot, "plot.toml");
    ep::planting_windows const windows{planned, two_years(), 2001};
    REQUIRE(windows.feasible());
    CHECK(windows.year() == 2001);
    // Peas sown from 21 March: first picked 20 May, cleared 9 June, the bed free on 12 June.
    CHECK(windows.earliest("pea", "sow") == in_2027(3, 21));
    CHECK(windows.earliest("pea", "clear") == in_2027(6, 9));
    CHECK(windows.earliest("leek", "transplant") == in_2027(6, 12));
    // The latest sowing is 60 days before 10 June, 11 April: cleared on 30 June. Leeks out by 30
    // June need the bed cleared by 27 June: peas picked from 7 June and sown by 8 April.
    CHECK(windows.latest("leek", "transplant") == in_2027(6, 30));
    CHECK(windows.latest("pea", "clear") == in_2027(6, 27));
    CHECK(windows.latest("pea", "sow") == in_2027(4, 8));
    CHECK(windows.slack("pea", "sow") == 18);
    // Leeks are ready 60 days after sowing and hold a week: out on 12 June means sown between 6
    // April and 13 April; out on 30 June, by 1 May.
    CHECK(windows.earliest("leek", "sow") == in_2027(4, 6));
    CHECK(windows.latest("leek", "sow") == in_2027(5, 1));
    // Alone, the peas may not slip: every day moves the leeks. The leeks' sowing may slip by its
    // week of hold: on 13 April they are still ready on 12 June.
    CHECK(windows.free_slack("pea", "sow") == 0);
    CHECK(windows.free_slack("leek", "sow") == 7);
    CHECK(windows.free_slack("leek", "emerge") == 0);
    CHECK_FALSE(windows.slack("leek", "clear"));

    // The leeks' sowing and planting out make chains of their own; what crosses the link comes
    // first, although it leaves more room than none.
    std::vector<ep::tightest_chain> const chains = windows.tightest_chains();
    REQUIRE_FALSE(chains.empty());
    ep::tightest_chain const& chain = chains.front();
    CHECK(chain.crosses_links);
    CHECK(chain.slack == 18);
    CHECK(chain.free_slack == 0);
    std::vector<std::string> names;
    for (ep::chain_event const& one : chain.events) {
        names.push_back(one.succession + ' ' + one.event);
    }
    CHECK(names ==
          std::vector<std::string>{"pea sow", "pea first_harvest", "pea clear", "leek transplant"});
    CHECK(chain.events.front().tie.line == 22);
    CHECK(chain.events.back().tie.kind == ep::requirement_kind::link);
    CHECK(chain.events.back().tie.field == "succession[2].follows");
    CHECK(chain.end.kind == ep::requirement_kind::not_after);
    CHECK(chain.end.field == "succession[2].not_after.transplant");
    CHECK(chain.end.line == 27);
}

TEST_CASE("an impossible relay is told step by step, with lines, and every cure cures") {
    // Out by 5 June is too soon after peas that are sown on 21 March.
    std::string const text =
        changed(plot, "{ transplant = 2027-06-30 }", "{ transplant = 2027-06-05 }");
    ep::plan const planned = ep::parse_plan(text, "plot.toml");
    ep::planting_windows const windows{planned, two_years(), 2001};
    CHECK_FALSE(windows.feasible());
    CHECK_FALSE(windows.feasible("pea"));
    CHECK_FALSE(windows.earliest("leek", "sow"));
    REQUIRE(windows.conflicts().size() == 1);
    ep::season_conflict const& one = windows.conflicts().front();
    CHECK(one.successions == std::vector<std::string>{"pea", "leek"});
    REQUIRE(one.steps.size() == 4);
    CHECK(one.steps[0].because.field == "succession[1].not_before.sow");
    CHECK(one.steps[0].because.line == 22);
    CHECK(one.steps[0].when == in_2027(3, 21));
    CHECK(one.steps[1].because.kind == ep::requirement_kind::stage);
    CHECK(one.steps[1].because.line == 9);
    CHECK(one.steps[2].when == in_2027(6, 9));
    CHECK(one.steps[3].because.kind == ep::requirement_kind::link);
    CHECK(one.steps[3].when == in_2027(6, 12));
    CHECK(one.broken.line == 27);
    CHECK(one.allowed == in_2027(6, 5));
    CHECK(one.sentence ==
          "sow of \"pea\" not before 21 Mar (not before 21 Mar); first harvest of \"pea\" not "
          "before 20 May (the time it takes after sow in beds); clear of \"pea\" not before 9 Jun "
          "(the time it takes after first harvest in beds); transplant of \"leek\" not before 12 "
          "Jun (it waits for clear of \"pea\"); but transplant of \"leek\" no later than 5 Jun (no "
          "later than 5 Jun)");

    // Seven days are missing. The gap of three days cannot give seven, so it is no cure.
    std::vector<std::string> told;
    for (ep::cure const& help : windows.cures(one)) {
        CHECK(help.days == 7);
        told.push_back(help.sentence);
    }
    CHECK(
        told ==
        std::vector<std::string>{
            "allow sow of \"pea\" 7 days earlier",
            "bring first harvest of \"pea\" 7 days closer to sow: a warmer place, or less heat or "
            "fewer days to pass",
            "bring clear of \"pea\" 7 days closer to first harvest: a warmer place, or less heat "
            "or fewer days to pass",
            "allow transplant of \"leek\" 7 days later"});
    // They do.
    CHECK(ep::planting_windows{ep::parse_plan(changed(text, "2027-03-21", "2027-03-14")),
                               two_years(), 2001}
              .feasible());
    CHECK_FALSE(ep::planting_windows{ep::parse_plan(changed(text, "2027-03-21", "2027-03-15")),
                                     two_years(), 2001}
                    .feasible());
}

TEST_CASE("what begins before the season does is cured by a longer season") {
    // Leeks out on 10 February would have been sown on 12 December.
    std::string text = changed(plot, "from = 2027-06-01", "on = 2027-02-10");
    text = changed(text, "follows = \"pea\"\ngap = 3\n", "");
    text = changed(text, "not_after = { transplant = 2027-06-30 }\n", "");
    // The record must reach into the December before.
    ep::day const start = ep::make_day(2000, 11, 1);
    std::vector<double> const low(900, 5.0);
    std::vector<double> const high(900, 15.0);
    ep::climate const mild{
        ep::daily_record{start, low, high}, ep::latitude{45.0}, {.season_days = season_days}};
    ep::plan const planned = ep::parse_plan(text, "plot.toml");
    ep::planting_windows const windows{planned, mild, 2001};
    REQUIRE(windows.conflicts().size() == 1);
    std::vector<ep::cure> const cures = windows.cures(windows.conflicts().front());
    bool found = false;
    for (ep::cure const& help : cures) {
        if (help.what.kind != ep::requirement_kind::season_start) { continue; }
        found = true;
        // 60 days before 10 February; it may have been ready a week before.
        CHECK(help.days == 20);
        CHECK(help.sentence ==
              "sow before the season starts: give season_start = 2026-12-12 and "
              "season_days = 260");
    }
    CHECK(found);
}

TEST_CASE("plants that would be held too long make a year impossible, and the hold is named") {
    std::string text = changed(plot, "follows = \"pea\"\ngap = 3\n", "");
    text = changed(text, "not_after = { transplant = 2027-06-30 }\n",
                   "not_after = { sow = 2027-03-20 }\n");
    ep::plan const planned = ep::parse_plan(text, "plot.toml");
    // Sown by 20 March, ready by 19 May, out on 1 June: 13 days, and they hold for 7.
    ep::window_years const room{ep::schedule(planned, two_years()), 1};
    CHECK(room.years() == std::vector<int>{2001, 2002});
    CHECK(room.feasible_years("pea") == 2);
    CHECK(room.feasible_years("leek") == 0);
    REQUIRE(room.failures().size() == 1);
    CHECK(room.failures().front().years == std::vector<int>{2001, 2002});
    CHECK_FALSE(room.slack_in("leek", "sow", ep::reliability{0.5}));
    // The peas: from 21 March to 60 days before 10 June.
    CHECK(room.slack_in("pea", "sow", ep::reliability{1.0}) == 21);
    ep::planting_windows const windows{room.calendar(), 2001};
    REQUIRE(windows.conflicts().size() == 1);
    bool names_the_hold = false;
    for (ep::conflict_step const& step : windows.conflicts().front().steps) {
        names_the_hold = names_the_hold || step.because.kind == ep::requirement_kind::hold;
    }
    CHECK(names_the_hold);
}

TEST_CASE("a circle of links is legal in windows where all of it can be met") {
    // Leeks within 30 days of the peas' sowing, and peas picked within 60 days of the leeks'.
    std::string const text = plot + R"([[link]]
first = { succession = "pea", event = "sow" }
then = { succession = "leek", event = "sow" }
within = { days = 30 }
[[link]]
first = { succession = "leek", event = "sow" }
then = { succession = "pea", event = "first_harvest" }
within = { days = 60 }
)";
    ep::plan const planned = ep::parse_plan(text, "plot.toml");
    ep::planting_windows const windows{planned, two_years(), 2001};
    CHECK(windows.feasible());
    CHECK(windows.earliest("pea", "sow") == in_2027(3, 21));
}

TEST_CASE("the drawing of a network marks the tightest chain") {
    ep::plan const planned = ep::parse_plan(plot, "plot.toml");
    std::string const dot = ep::to_dot(ep::planting_windows{planned, two_years(), 2001});
    CHECK(dot.starts_with("digraph G {"));
    CHECK(dot.find("label=\"pea\\nsow\\n21 Mar – 8 Apr\", penwidth=3") != std::string::npos);
    CHECK(dot.find("label=\"leek\\nsow\\n6 Apr – 1 May\"]") != std::string::npos);
    CHECK(dot.find("style=dashed, penwidth=3") != std::string::npos);
}

TEST_CASE("a season year that the climate does not have is refused") {
    ep::plan const planned = ep::parse_plan(plot, "plot.toml");
    try {
        (void)ep::planting_windows{planned, two_years(), 1999};
        FAIL("accepted");
    } catch (ep::invalid_input const& fault) {
        CHECK(fault.what() ==
              std::string{"year: the climate has no season year 1999 (allowed: 2001 "
                          "to 2002); give one of the years that climate.years() "
                          "names"});
    }
}
