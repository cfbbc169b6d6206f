// Why a succession has no days, reckoned by hand.
#include "catch.hpp"

#include <string>
#include <vector>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/windows/why_unresolved.hpp>

namespace ep = epicotyl;

namespace {

/// Five season years of 200 days from 1 March: every day 10 °C, but 5 °C in 2003 and 2004.
ep::climate five_years() {
    ep::day const start = ep::make_day(2000, 6, 1);
    std::vector<double> mean;
    for (ep::day d = start; d < ep::make_day(2006, 1, 1); d += ep::days{1}) {
        int const year = int{date::year_month_day{d}.year()};
        mean.push_back(year == 2003 || year == 2004 ? 5.0 : 10.0);
    }
    return ep::climate{ep::daily_record{start, mean, mean},
                       ep::latitude{45.0},
                       {.season_start = date::March / 1, .season_days = 200}};
}

/// An invented plot. Celery stands 20 days on the bench and then takes 400 K day: 40 days, and 80
/// in the two cool years. Sown on 1 March it is ready to plant on 30 April, in the cool years on 9
/// June.
ep::plan plot(std::string const& target, std::string const& more = "") {
    return ep::parse_plan(R"(format = 1
units = "metric"
defaults = { risk = false, reliability = 0.8 }
site = { latitude = 45.0, season_start = 2027-03-01, season_days = 200 }
places = { bench = { for = ["grow"] }, beds = { for = ["field"] } }
[crops.celery]
stages = [
  { begins = "sow", where = "grow", takes = { days = 20 } },
  { begins = "emerge", where = "grow", takes = { heat = 400, base = 0, method = "average" } },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[[succession]]
crop = "celery"
plants = 100
target = )" + target + "\n" + more,
                          "plot.toml");
}

ep::day in_2027(unsigned month, unsigned day) {
    return ep::make_day(2027, month, day);
}

}  // namespace

TEST_CASE("a target too early is told in a year that fails, with what would cure it") {
    ep::plan const hasty = plot("{ event = \"transplant\", on = 2027-05-20 }");
    ep::calendar const planned = ep::schedule(hasty, five_years());
    REQUIRE(planned.unresolved().size() == 1);
    auto const why = ep::why_unresolved(planned, "celery");
    REQUIRE(why.has_value());
    CHECK(why->succession == "celery");
    // Three of five years are ready by 20 May, four are wanted.
    CHECK(why->years == 5);
    CHECK(why->needed == 4);
    CHECK(why->possible == 3);
    REQUIRE(why->failures.size() == 1);
    CHECK(why->failures[0].broken.kind == ep::requirement_kind::target);
    CHECK(why->failures[0].broken.line == 15);
    CHECK(why->failures[0].years == std::vector<int>{2003, 2004});
    CHECK(why->year == 2003);
    REQUIRE(why->proof.steps.size() == 3);
    CHECK(why->proof.steps[1].when == in_2027(3, 21));
    CHECK(why->proof.steps[1].because.line == 8);
    CHECK(why->proof.steps[2].when == in_2027(6, 9));
    CHECK(why->proof.steps[2].because.line == 9);
    CHECK(why->proof.allowed == in_2027(5, 20));

    // 20 days too late: ask for 9 June; the bench 20 days shorter, which leaves none; 20 days less
    // in the warmth; or begin the season 20 days sooner. February of 2003 has 5 °C already, so a
    // sowing 20 days sooner is 20 days sooner ready.
    REQUIRE(why->cures.size() == 4);
    for (ep::cure const& one : why->cures) { CHECK(one.days == 20); }
    std::vector<std::string> sentences;
    for (ep::cure const& one : why->cures) { sentences.push_back(one.sentence); }
    CHECK(sentences ==
          std::vector<std::string>{
              "sow before the season starts: give season_start = 2027-02-09 and season_days = 220",
              "bring emerge of \"celery\" 20 days closer to sow: a warmer place, or less heat or "
              "fewer days to pass",
              "bring transplant of \"celery\" 20 days closer to emerge: a warmer place, or less "
              "heat or fewer days to pass",
              "aim for transplant of \"celery\" 20 days later: on 9 Jun"});
    CHECK(why->sentence.starts_with(
        "\"celery\" can be kept in 3 of 5 years, and 4 are wanted; in 2003: sow of \"celery\" not "
        "before 1 Mar (the season starts on 1 Mar 2027); "));

    // Typed, each gives the succession its days.
    CHECK(ep::schedule(ep::with_target_moved(hasty, "celery", ep::days{20}), five_years())
              .unresolved()
              .empty());
    CHECK_FALSE(ep::schedule(ep::with_target_moved(hasty, "celery", ep::days{19}), five_years())
                    .unresolved()
                    .empty());
}

TEST_CASE("a succession with days has no conflict, and one without by a rule has none either") {
    ep::calendar const planned =
        ep::schedule(plot("{ event = \"transplant\", on = 2027-06-20 }"), five_years());
    CHECK(planned.unresolved().empty());
    CHECK_FALSE(ep::why_unresolved(planned, "celery"));
    // No frost comes, so no day is counted from it.
    ep::calendar const frost =
        ep::schedule(plot("{ event = \"transplant\", weeks_after_last_frost = 2 }"), five_years());
    CHECK(frost.unresolved().size() == 1);
    CHECK_FALSE(ep::why_unresolved(frost, "celery"));
    CHECK_THROWS_AS(ep::why_unresolved(frost, "celry"), ep::invalid_input);
}

TEST_CASE("a bound that is broken is named with its line") {
    ep::plan const late = plot("{ event = \"transplant\", from = 2027-05-01 }",
                               "not_after = { transplant = 2027-06-01 }");
    auto const why = ep::why_unresolved(ep::schedule(late, five_years()), "celery");
    REQUIRE(why.has_value());
    CHECK(why->possible == 3);
    CHECK(why->proof.broken.kind == ep::requirement_kind::not_after);
    CHECK(why->proof.broken.line == 16);
    // From 1 June to 9 June.
    CHECK(why->cures.front().days == 8);
}

TEST_CASE("what is not reached within the season is broken by its end") {
    ep::plan const endless =
        ep::with_stage_change(plot("{ event = \"transplant\", from = 2027-05-01 }"), "celery",
                              {.begins = "sow", .takes = ep::clock::days(150)});
    auto const why = ep::why_unresolved(ep::schedule(endless, five_years()), "celery");
    REQUIRE(why.has_value());
    CHECK(why->proof.broken.kind == ep::requirement_kind::season_end);
    CHECK(why->proof.broken.sentence == "the season ends on 17 Sep 2027");
}

TEST_CASE("what waits for one without days is told of that one") {
    std::string const follower = R"([[succession]]
name = "second"
crop = "celery"
plants = 50
target = { event = "transplant", from = 2027-05-01 }
[[link]]
first = { succession = "celery", event = "transplant" }
then = { succession = "second", event = "sow" }
)";
    ep::calendar const planned =
        ep::schedule(plot("{ event = \"transplant\", on = 2027-05-20 }", follower), five_years());
    CHECK(planned.unresolved().size() == 2);
    auto const why = ep::why_unresolved(planned, "second");
    REQUIRE(why.has_value());
    CHECK(why->succession == "celery");
    CHECK(why == ep::why_unresolved(planned, "celery"));
}

TEST_CASE("a day that is kept for the sake of other years is a requirement of its own") {
    // The second is sown when the first is planted: on 30 April in three years, on 9 June in two.
    // Four years are wanted, so it is planned for 9 June, and kept there in warm years too: 60 days
    // later, on 8 August, it is ready, where 30 June would have been possible.
    std::string const follower = R"([[succession]]
name = "second"
crop = "celery"
plants = 50
target = { event = "transplant", on = 2027-07-20 }
[[link]]
first = { succession = "celery", event = "transplant" }
then = { succession = "second", event = "sow" }
)";
    ep::calendar const planned =
        ep::schedule(plot("{ event = \"transplant\", from = 2027-04-01 }", follower), five_years());
    REQUIRE(planned.unresolved().size() == 1);
    auto const why = ep::why_unresolved(planned, "second");
    REQUIRE(why.has_value());
    CHECK(why->possible == 0);
    CHECK(why->year == 2001);
    bool has_planned = false;
    for (ep::conflict_step const& one : why->proof.steps) {
        has_planned = has_planned || one.because.kind == ep::requirement_kind::planned;
    }
    CHECK(has_planned);
    REQUIRE_FALSE(why->cures.empty());
}
