// What holds a planned day, named: cases reckoned by hand, in full text.
#include "catch.hpp"

#include <string>
#include <variant>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/explain.hpp>
#include <epicotyl/season/days/schedule.hpp>

namespace ep = epicotyl;

namespace {

/// Five season years of 5 to 15 °C, without frost.
ep::climate mild_years() {
    std::vector<double> const low(5 * 366, 5.0);
    std::vector<double> const high(5 * 366, 15.0);
    return ep::climate{ep::daily_record{ep::make_day(2001, 1, 1), low, high},
                       ep::latitude{45.0},
                       {.season_days = 300, .years = ep::year_selection::all()}};
}

/// Invented: onions stand 30 days from their sowing to planting out and 60 more; peas 50 days.
ep::calendar planned(std::string const& rest) {
    ep::plan const plot = ep::parse_plan(R"(format = 1
units = "metric"
year = 2027
defaults = { risk = 0.1, reliability = 0.8 }
site = { latitude = 45.0, season_days = 300 }
places = { house = { for = ["grow"] }, beds = { for = ["field"] } }
[crops.onion]
limit_hardened = -3.0
limit_tender = 0.0
stages = [
  { begins = "sow", where = "grow", takes = { days = 30 } },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[crops.pea]
risk = false
stages = [ { begins = "sow", where = "field", takes = { days = 50 } } ]
)" + rest,
                                         "plot.toml");
    ep::calendar made = ep::schedule(plot, mild_years());
    made.require();
    return made;
}

std::string const two_peas = R"([[succession]]
name = "early peas"
crop = "pea"
plants = 100
wave = "peas"
target = { event = "sow", on = 2027-03-01 }
[[succession]]
name = "late peas"
crop = "pea"
plants = 100
wave = "peas"
target = { event = "sow", on = 2027-04-01 }
)";

std::string const onions = R"([[succession]]
crop = "onion"
plants = 100
risk = false
target = { event = "transplant", from = 2027-02-15 }
)";

std::string link(std::string const& first, std::string const& then, int days) {
    return "[[link]]\nfirst = { " + first + " }\nthen = { succession = \"onion\", event = \"" +
           then + "\" }\nafter = { days = " + std::to_string(days) + " }\n";
}

std::vector<std::string> told(ep::calendar const& of, char const* succession, char const* event) {
    std::vector<std::string> lines;
    for (ep::reason const& one : ep::explain(of, succession, event)) {
        lines.push_back(one.code + " | " + one.sentence);
    }
    return lines;
}

using lines = std::vector<std::string>;

}  // namespace

TEST_CASE("of two links the one that holds the day is named, whichever is written last") {
    // Early peas clear on 20 April (1 March and 50 days), late ones on 21 May.
    std::string const late = link("succession = \"late peas\", event = \"clear\"", "transplant", 4);
    std::string const early =
        link("succession = \"early peas\", event = \"clear\"", "transplant", 4);
    lines const wanted{
        "target.ready | transplant 25 May: wanted 15 Feb (not before 15 Feb); sown and moved as "
        "early as allowed, it is ready earlier in none of 5 years, and 4 are wanted; ready since "
        "25 May in 5 of 5 years",
        "link.waits | transplant of \"onion\": it waits for clear of \"late peas\"",
        "stage.takes | clear of \"late peas\": the time it takes after sow in beds",
        "rule.on | sow of \"late peas\": wanted on 1 Apr"};
    lines const one = told(planned(two_peas + onions + late + early), "onion", "transplant");
    lines const other = told(planned(two_peas + onions + early + late), "onion", "transplant");
    CHECK(one == other);
    REQUIRE(one.size() == wanted.size());
    CHECK(one[1] == wanted[1]);
    CHECK(one[2] == wanted[2]);
    CHECK(one[3] == wanted[3]);
    CHECK(
        one[0].starts_with("target.ready | transplant 25 May: wanted 15 Feb (not before 15 Feb); "
                           "sown and moved as early as allowed, it is ready earlier in none of 5 "
                           "years, and 4 are wanted"));
}

TEST_CASE("of a wave that is waited for the member that comes last is named") {
    lines const why =
        told(planned(two_peas + onions +
                     link("wave = \"peas\", event = \"clear\", of = \"all\"", "transplant", 0)),
             "onion", "transplant");
    CHECK(why[1] == "link.waits | transplant of \"onion\": it waits for clear of \"late peas\"");
    for (std::string const& line : why) { CHECK(line.find("early peas") == std::string::npos); }
}

TEST_CASE("of a wave whose first decides the member that comes first is told") {
    lines const why =
        told(planned(two_peas + onions +
                     link("wave = \"peas\", event = \"clear\", of = \"first\"", "transplant", 0)),
             "onion", "transplant");
    CHECK(why[1] ==
          "link.waits | transplant of \"onion\": it waits for the first clear of \"early peas\", "
          "\"late peas\"");
    CHECK(why[3] == "rule.on | sow of \"early peas\": wanted on 1 Mar");
}

TEST_CASE("a link that holds the sowing back is named behind the day that it makes late") {
    // The onions may be sown on 20 April, and are ready 30 days later.
    ep::calendar const calendar = planned(
        two_peas + onions + link("succession = \"early peas\", event = \"clear\"", "sow", 0));
    CHECK(calendar.date("onion", "transplant") == ep::make_day(2027, 5, 20));
    lines const why = told(calendar, "onion", "transplant");
    CHECK(why[1] == "stage.takes | transplant of \"onion\": the time it takes after sow in house");
    CHECK(why[2] == "link.waits | sow of \"onion\": it waits for clear of \"early peas\"");
    CHECK(why[3] == "stage.takes | clear of \"early peas\": the time it takes after sow in beds");
    CHECK(why[4] == "rule.on | sow of \"early peas\": wanted on 1 Mar");
}

TEST_CASE("the season's start is named where it holds the day, and not a bound that gives no day") {
    // Onions that must stand 30 days cannot be planted out before 31 January. No night is cold, so
    // that the bound against cold stands on the season's first day.
    std::string plot = onions;
    plot.replace(plot.find("risk = false"), 12, "risk = 0.1  ");
    plot.replace(plot.find("2027-02-15"), 10, "2027-01-10");
    lines const why = told(planned(plot), "onion", "transplant");
    CHECK(why ==
          lines{"target.ready | transplant 31 Jan: wanted 10 Jan (not before 10 Jan); sown and "
                "moved as early as allowed, it is ready earlier in none of 5 years, and 4 are "
                "wanted; ready since 31 Jan in 5 of 5 years",
                "stage.takes | transplant of \"onion\": the time it takes after sow in house",
                "season.start | sow no earlier: the season starts on 1 Jan"});
}

TEST_CASE("requirements that tie are all named, and each said to tie") {
    std::string plot = onions + "not_before = { transplant = 2027-02-15 }\n";
    std::vector<ep::reason> const why = ep::explain(planned(plot), "onion", "transplant");
    CHECK(why[0].sentence ==
          "transplant 15 Feb: not before 15 Feb; and besides, not before 15 Feb; "
          "ready since 15 Feb in 5 of 5 years");
    CHECK(why[1].sentence ==
          "transplant of \"onion\" no earlier than 15 Feb: not before 15 Feb (others hold it just "
          "as long)");
    for (std::size_t k = 0; k < 2; ++k) {
        CHECK(why[k].values.back() == std::pair<std::string, ep::reason_value>{"tied", 1});
    }
}

TEST_CASE("the counts of a sowing that others wait for are those of the other") {
    // Half of the years would do for the early peas; the onions ask for four of five, and must be
    // out by 20 April.
    std::string peas = R"([[succession]]
name = "peas"
crop = "pea"
plants = 100
reliability = 0.5
target = { event = "clear", by = 2027-09-01 }
)";
    std::string out = onions;
    out.replace(out.find("from = 2027-02-15"), 17, "on = 2027-04-20  ");
    std::vector<ep::reason> const why = ep::explain(
        planned(peas + out + link("succession = \"peas\", event = \"clear\"", "transplant", 0)),
        "peas", "sow");
    CHECK(why[0].code == "sow.others_wait");
    CHECK(why[0].sentence ==
          "sow 1 Mar: clear by 1 Sep in 5 of 5 years; a day later \"onion\", which waits for it, "
          "would be in time in none of 5 years, and 4 are wanted");
    for (auto const& [name, value] : why[0].values) {
        if (name == "needed_years") { CHECK(std::get<std::int64_t>(value) == 4); }
        if (name == "own_needed_years") { CHECK(std::get<std::int64_t>(value) == 3); }
        if (name == "good_years_one_day_later") { CHECK(std::get<std::int64_t>(value) == 0); }
    }
}

TEST_CASE("a link that moves a decision is named, where the clock alone would say ready") {
    // Sown for 1 May; a pinch must wait for the late peas.
    lines const why = told(planned(two_peas + R"([[succession]]
crop = "onion"
plants = 100
risk = false
target = { event = "sow", on = 2027-03-01 }
)" + link("succession = \"late peas\", event = \"clear\"", "transplant", 0)),
                           "onion", "transplant");
    CHECK(why[0] ==
          "link.waits | transplant 21 May: it waits for clear of \"late peas\" in 5 of 5 years");
}
