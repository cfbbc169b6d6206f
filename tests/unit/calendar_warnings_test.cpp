// What a calendar says of numbers that are seldom meant, of crops that do not ripen, of season
// years that a shorter season would keep: each sentence in full, in both units; and nothing where
// all is as it should be.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/open_season.hpp>

using namespace epicotyl;

namespace {

constexpr std::string_view metric = R"(format = 1
units = "metric"
site = { latitude = 51.9, season_start = 2027-01-01, season_days = 365, frost = { at = 0.0, chance = 0.5 } }
[places]
mat = { for = ["germinate"], day = 22.0, night = 20.0 }
house = { for = ["grow"], warmer_night = 2.5, warmer_day = 7.0, heat_to = 6.0, heat_lift = 9.0, vent_above = 25.0 }
frame = { for = ["harden"], cold_nights = { below = 1.0, warmer = 5.0 } }
cellar = { for = ["store"], day = 4.0, night = 4.0 }
beds = { for = ["field"] }
[crops.aster]
limit_tender = 0.0
limit_hardened = -2.2
stages = [
  { begins = "chill", where = "store", takes = { days_between = 9, low = 0.0, high = 8.0 } },
  { begins = "sow", where = "germinate", takes = { germination = 110.0, base = 4.0, optimum = 22.0, ceiling = 32.0 } },
  { begins = "emerge", where = "grow", takes = { heat = 280.0, base = 4.0, upper = 28.0 }, limit = -0.5, too_hot = 38.0 },
  { begins = "harden_off", where = "harden", takes = { all = [{ days = 8 }, { heat = 40.0, base = 3.0 }] } },
  { begins = "transplant", where = "field", takes = { weeks = 9 } },
  { begins = "first_harvest", where = "field", takes = { days = 30 } },
]
[[succession]]
name = "aster 1"
crop = "aster"
plants = 180
target = { event = "transplant", risk = 0.1, limit = -1.0 }
[[succession]]
name = "aster 2"
crop = "aster"
plants = 180
target = { event = "transplant", from = 2027-06-01 }
)";

/// The same farm in US units.
constexpr std::string_view us = R"(format = 1
units = "us"
site = { latitude = 51.9, season_start = 2027-01-01, season_days = 365, frost = { at = 32, chance = 0.5 } }
[places]
mat = { for = ["germinate"], day = 72, night = 68 }
house = { for = ["grow"], warmer_night = 5, warmer_day = 12, heat_to = 43, heat_lift = 16, vent_above = 77 }
frame = { for = ["harden"], cold_nights = { below = 34, warmer = 9 } }
cellar = { for = ["store"], day = 39, night = 39 }
beds = { for = ["field"] }
[crops.aster]
limit_tender = 32
limit_hardened = 28
stages = [
  { begins = "chill", where = "store", takes = { days_between = 9, low = 32, high = 46 } },
  { begins = "sow", where = "germinate", takes = { germination = 198, base = 39, optimum = 72, ceiling = 90 } },
  { begins = "emerge", where = "grow", takes = { heat = 504, base = 39, upper = 82 }, limit = 31, too_hot = 100 },
  { begins = "harden_off", where = "harden", takes = { all = [{ days = 8 }, { heat = 72, base = 37 }] } },
  { begins = "transplant", where = "field", takes = { weeks = 9 } },
  { begins = "first_harvest", where = "field", takes = { days = 30 } },
]
[[succession]]
name = "aster 1"
crop = "aster"
plants = 180
target = { event = "transplant", risk = 0.1, limit = 30 }
[[succession]]
name = "aster 2"
crop = "aster"
plants = 180
target = { event = "transplant", from = 2027-06-01 }
)";

/// Years like one another: the day's mean goes from `winter` in January to `summer` in July, 5 K on
/// both sides of it from night to day.
daily_record waves(int first_year, int last_year, double winter, double summer) {
    day const start = make_day(first_year, 1, 1);
    std::vector<double> low;
    std::vector<double> high;
    for (day d = start; d < make_day(last_year + 1, 1, 1); d += days{1}) {
        double const turn = 2.0 * 3.14159265358979 * ((d - start).count() - 15.0) / 365.25;
        double const mean = (winter + summer) / 2.0 - (summer - winter) / 2.0 * std::cos(turn);
        low.push_back(mean - 5.0);
        high.push_back(mean + 5.0);
    }
    return daily_record{start, std::move(low), std::move(high), "Marlpit"};
}

daily_record const& thirty_years() {
    static daily_record const record = waves(1991, 2020, 1.0, 17.0);
    return record;
}

std::string replaced(std::string_view text, std::string_view from, std::string_view to) {
    std::string changed{text};
    std::size_t const at = changed.find(from);
    REQUIRE(at != std::string::npos);
    changed.replace(at, from.size(), to);
    return changed;
}

using notes = std::vector<std::string>;

notes notes_of(std::string const& text, daily_record const& record = thirty_years()) {
    plan const planned = parse_plan(text);
    return schedule(planned, climate_for(planned, record)).warnings();
}

struct slip {
    std::string_view sound;
    std::string_view changed;
    std::string_view note;
};

slip const metric_slips[] = {
    {"limit_tender = 0.0", "limit_tender = 14.0",
     "crops.aster.limit_tender is 14 °C, more than 12 °C: few plants are harmed by nights so mild; "
     "give the night's low that harms them"},
    {"limit_tender = 0.0\nlimit_hardened = -2.2", "limit_tender = 32.0\nlimit_hardened = 28.0",
     "crops.aster.limit_tender is 32 °C, more than 12 °C, and so is 1 more "
     "(crops.aster.limit_hardened 28 °C): few plants are harmed by nights so mild; did you mean "
     "°F? 32 °F are 0 °C, and the plan is in °C"},
    {"limit = -0.5", "limit = 12.5",
     "crops.aster.stages[3].limit is 12.5 °C, more than 12 °C: few plants are harmed by nights so "
     "mild; did you mean °F? 12.5 °F are -10.8 °C, and the plan is in °C"},
    {"limit = -0.5, too_hot = 38.0", "limit = 55.0",
     "crops.aster.stages[3].limit is 55 °C, more than 12 °C: few plants are harmed by nights so "
     "mild; give the night's low that harms them"},
    {"risk = 0.1, limit = -1.0", "risk = 0.1, limit = 30.0",
     "succession[1].target.limit is 30 °C, more than 12 °C: few plants are harmed by nights so "
     "mild; did you mean °F? 30 °F are -1.1 °C, and the plan is in °C"},
    {"at = 0.0", "at = 5.5",
     "site.frost.at is 5.5 °C, more than 5 °C: nights so mild are no frost; give the night's low "
     "that is to count as frost"},
    {"at = 0.0", "at = 32.0",
     "site.frost.at is 32 °C, more than 5 °C: nights so mild are no frost; did you mean °F? 32 °F "
     "are 0 °C, and the plan is in °C"},
    {"warmer = 5.0", "warmer = 6.5",
     "places.frame.cold_nights.warmer is 6.5 °C, more than 6 °C: fleece, mats and covers seldom "
     "hold so much on a clear night; did you mean °F? 6.5 °F warmer are 3.6 °C warmer, and the "
     "plan is in °C"},
    {"warmer = 5.0", "warmer = 15.0",
     "places.frame.cold_nights.warmer is 15 °C, more than 6 °C: fleece, mats and covers seldom "
     "hold so much on a clear night; give what yours was measured to give, or a heater as "
     "heat_to"},
    {"below = 1.0", "below = 35.0",
     "places.frame.cold_nights.below is 35 °C, more than 12 °C: nights so mild need no cover; did "
     "you mean °F? 35 °F are 1.7 °C, and the plan is in °C"},
    {"heat_lift = 9.0", "heat_lift = 31.0",
     "places.house.heat_lift is 31 °C, more than 30 °C: few heaters can raise the air so far; did "
     "you mean °F? 31 °F warmer are 17.2 °C warmer, and the plan is in °C"},
    {"heat_lift = 9.0", "heat_lift = 60.0",
     "places.house.heat_lift is 60 °C, more than 30 °C: few heaters can raise the air so far; give "
     "what yours can, or leave it out where it always suffices"},
    {"heat_to = 6.0", "heat_to = 45.0",
     "places.house.heat_to is 45 °C, more than 30 °C: few places are heated so far; did you mean "
     "°F? 45 °F are 7.2 °C, and the plan is in °C"},
    {"vent_above = 25.0", "vent_above = 59.0",
     "places.house.vent_above is 59 °C, more than 45 °C: few plants stand so much heat before "
     "anybody opens; did you mean °F? 59 °F are 15 °C, and the plan is in °C"},
    {"day = 22.0, night = 20.0", "day = 59.0, night = 55.0",
     "places.mat.day is 59 °C, more than 40 °C, and so is 1 more (places.mat.night 55 °C): no "
     "place is held so warm for plants; did you mean °F? 59 °F are 15 °C, and the plan is in °C"},
    {"heat = 280.0, base = 4.0, upper = 28.0", "heat = 280.0, base = 40.0, upper = 46.0",
     "crops.aster.stages[3].takes.base is 40 °C, more than 20 °C: few plants wait for so much "
     "warmth before they grow at all; did you mean °F? 40 °F are 4.4 °C, and the plan is in °C"},
    {"heat = 40.0, base = 3.0", "heat = 40.0, base = 21.0",
     "crops.aster.stages[4].takes.all[2].base is 21 °C, more than 20 °C: few plants wait for so "
     "much warmth before they grow at all; give the temperature at which growth begins"},
    {"low = 0.0, high = 8.0", "low = 34.0, high = 46.0",
     "crops.aster.stages[1].takes.low is 34 °C, more than 30 °C: few days are so warm; did you "
     "mean °F? 34 °F are 1.1 °C, and the plan is in °C"},
};

slip const us_slips[] = {
    {"limit_tender = 32\nlimit_hardened = 28", "limit_tender = 0\nlimit_hardened = -2.2",
     "crops.aster.limit_tender is 0 °F, less than 21.2 °F: few plants stand so much cold before "
     "they are hardened; did you mean °C? 0 °C are 32 °F, and the plan is in °F"},
    {"limit_tender = 32", "limit_tender = 55",
     "crops.aster.limit_tender is 55 °F, more than 53.6 °F: few plants are harmed by nights so "
     "mild; give the night's low that harms them"},
    {"limit = 30", "limit = -1",
     "succession[1].target.limit is -1 °F, less than 10.4 °F: few plants stand so much cold; did "
     "you mean °C? -1 °C are 30.2 °F, and the plan is in °F"},
    {"at = 32", "at = 0",
     "site.frost.at is 0 °F, less than 15.8 °F: that is far below a frost; did you mean °C? 0 °C "
     "are 32 °F, and the plan is in °F"},
    {"at = 32", "at = 42",
     "site.frost.at is 42 °F, more than 41 °F: nights so mild are no frost; give the night's low "
     "that is to count as frost"},
    {"warmer = 9", "warmer = 11",
     "places.frame.cold_nights.warmer is 11 °F, more than 10.8 °F: fleece, mats and covers seldom "
     "hold so much on a clear night; give what yours was measured to give, or a heater as "
     "heat_to"},
    {"heat_lift = 16", "heat_lift = 55",
     "places.house.heat_lift is 55 °F, more than 54 °F: few heaters can raise the air so far; give "
     "what yours can, or leave it out where it always suffices"},
    {"heat_to = 43", "heat_to = 7",
     "places.house.heat_to is 7 °F, less than 28.4 °F: a heater that comes on so late saves few "
     "plants; did you mean °C? 7 °C are 44.6 °F, and the plan is in °F"},
    {"vent_above = 77", "vent_above = 25",
     "places.house.vent_above is 25 °F, less than 41 °F: a place that is opened so soon gains "
     "nothing; did you mean °C? 25 °C are 77 °F, and the plan is in °F"},
    {"below = 34", "below = 2",
     "places.frame.cold_nights.below is 2 °F, less than 5 °F: few plants stand so much cold before "
     "they are covered; did you mean °C? 2 °C are 35.6 °F, and the plan is in °F"},
    {"day = 72, night = 68", "day = 22, night = 20",
     "places.mat.day is 22 °F, less than 28.4 °F, and so is 1 more (places.mat.night 20 °F): no "
     "place is held so cold for plants; did you mean °C? 22 °C are 71.6 °F, and the plan is in "
     "°F"},
    {"heat = 504, base = 39, upper = 82", "heat = 504, base = 4, upper = 28",
     "crops.aster.stages[3].takes.base is 4 °F, less than 23 °F: no plant grows in such cold; did "
     "you mean °C? 4 °C are 39.2 °F, and the plan is in °F"},
    {"optimum = 72, ceiling = 90", "optimum = 45, ceiling = 55",
     "crops.aster.stages[2].takes.ceiling is 55 °F, less than 59 °F: few seeds fail in air so "
     "cool; did you mean °C? 55 °C are 131 °F, and the plan is in °F"},
    {"too_hot = 100", "too_hot = 38",
     "crops.aster.stages[3].too_hot is 38 °F, less than 59 °F: no plant suffers from a day so "
     "cool; did you mean °C? 38 °C are 100.4 °F, and the plan is in °F"},
};

/// A note among others: what is absurd may have consequences that are told as well.
void check_note(notes const& said, std::string_view wanted) {
    INFO(wanted);
    std::string all;
    for (std::string const& one : said) { all += one + '\n'; }
    CHECK_THAT(all, Catch::Contains(std::string{wanted} + '\n'));
}

}  // namespace

TEST_CASE("a sound farm has no notes, in either unit") {
    CHECK(notes_of(std::string{metric}).empty());
    CHECK(notes_of(std::string{us}).empty());
}

TEST_CASE("the demo farm has no notes, in either unit") {
    std::filesystem::path const file =
        std::filesystem::path{EPICOTYL_SOURCE_DIR} / "examples/quillet_hollow/farm.toml";
    plan const demo = read_plan(file);
    climate const under =
        climate_for(demo, read_weather(file.parent_path() / demo.parts().weather));
    CHECK(schedule(demo, under).warnings().empty());
    plan_parts parts = demo.parts();
    parts.units = unit_system::us;
    CHECK(schedule(plan{std::move(parts)}, under).warnings().empty());
}

TEST_CASE("a number of a metric plan that is seldom meant is told, and °F are asked about") {
    for (slip const& one : metric_slips) {
        check_note(notes_of(replaced(metric, one.sound, one.changed)), one.note);
    }
}

TEST_CASE("a number of a US plan that is seldom meant is told, and °C are asked about") {
    for (slip const& one : us_slips) {
        check_note(notes_of(replaced(us, one.sound, one.changed)), one.note);
    }
}

TEST_CASE("notes that differ only in what they speak of are one with a count, which names three") {
    std::string text = replaced(metric, "limit_tender = 0.0", "limit_tender = 40.0");
    for (char const* name : {"stock", "zinnia", "cosmos", "celosia"}) {
        text += "[crops." + std::string{name} + "]\nlike = \"aster\"\n";
    }
    check_note(notes_of(text),
               "crops.aster.limit_tender is 40 °C, more than 12 °C, and so are 4 more "
               "(crops.stock.limit_tender 40 °C, crops.zinnia.limit_tender 40 °C, "
               "crops.cosmos.limit_tender 40 °C, …): few plants are harmed by nights so mild; did "
               "you mean °F? 40 °F are 4.4 °C, and the plan is in °C");
}

TEST_CASE("a seed store may be as cold as it likes, and winter's limits are no slip") {
    CHECK(notes_of(replaced(us, "day = 39, night = 39", "day = 0, night = 0")).empty());
    CHECK(notes_of(replaced(us, "limit_hardened = 28", "limit_hardened = -4")).empty());
    CHECK(notes_of(replaced(metric, "limit_hardened = -2.2", "limit_hardened = -25.0")).empty());
}

TEST_CASE("exactly the bound is usual, in °F as well") {
    CHECK(notes_of(replaced(metric, "warmer = 5.0", "warmer = 6.0")).empty());
    CHECK(notes_of(replaced(us, "warmer = 9", "warmer = 10.8")).empty());
    CHECK(notes_of(replaced(metric, "heat_lift = 9.0", "heat_lift = 30.0")).empty());
    CHECK(notes_of(replaced(us, "heat_lift = 16", "heat_lift = 54")).empty());
    CHECK(notes_of(replaced(metric, "at = 0.0", "at = 5.0")).empty());
    CHECK(notes_of(replaced(us, "at = 32", "at = 41")).empty());
    CHECK(notes_of(replaced(us, "at = 32", "at = 36")).empty());
}

TEST_CASE("a latitude that the weather contradicts is told") {
    auto const at = [](std::string_view text, char const* latitude, daily_record const& record) {
        return notes_of(replaced(text, "latitude = 51.9", std::string{"latitude = "} + latitude),
                        record);
    };
    daily_record const north = thirty_years();
    daily_record const south = waves(1991, 2020, 17.0, 1.0);
    daily_record const mild = waves(1991, 2020, 4.0, 18.0);
    check_note(at(metric, "-77.86", north),
               "site.latitude is -77.86, south of the equator, but in the weather December to "
               "February are 14.4 °C colder than June to August; give degrees north, negative "
               "south of the equator - or is that the longitude?");
    check_note(at(us, "-77.86", north),
               "site.latitude is -77.86, south of the equator, but in the weather December to "
               "February are 25.9 °F colder than June to August; give degrees north, negative "
               "south of the equator - or is that the longitude?");
    check_note(at(metric, "33.9", south),
               "site.latitude is 33.9, north of the equator, but in the weather December to "
               "February are 14.4 °C warmer than June to August; give degrees north, negative "
               "south of the equator - or is that the longitude?");
    check_note(at(metric, "9.9", north),
               "site.latitude is 9.9, where the quarters of a year differ by 12 °C at most, but "
               "those of the weather differ by 14.4 °C; give degrees north, negative south of the "
               "equator - or is that the longitude?");
    check_note(at(us, "77.86", mild),
               "site.latitude is 77.86, where the mean of a year is 48.2 °F at most, but that of "
               "the weather is 51.7 °F; give degrees north, negative south of the equator - or is "
               "that the longitude?");
    CHECK(at(metric, "15.0", north).empty());
    CHECK(at(metric, "64.0", mild).empty());
    CHECK(at(metric, "-0.0", waves(1991, 2020, 14.0, 18.0)).empty());
}

TEST_CASE("a crop that does not ripen here is told in one sentence, alike ones together") {
    CHECK(notes_of(replaced(metric, "takes = { weeks = 9 }",
                            "takes = { heat = 9000.0, base = 4.0 }, limit = -30.0")) ==
          notes{"aster 1 never ripens here: first harvest comes in 0 of 30 years (in 30 the "
                "season of 365 days ends before), and so is it with 1 more (aster 2); give it a "
                "warmer place or a longer season, or grow what ripens earlier"});
    // From 1 June 30 weeks lead to 28 December; -2.2 °C comes in the first days of December.
    CHECK(notes_of(replaced(metric, "takes = { weeks = 9 }", "takes = { weeks = 30 }")) ==
          notes{"aster 2 never ripens here: first harvest comes in 0 of 30 years (in 30 it is "
                "lost to cold before); give it a warmer place or a cover, or grow what ripens "
                "earlier"});
}

TEST_CASE("a crop without a harvest that does not come to its end is told") {
    std::string text = replaced(metric,
                                "  { begins = \"first_harvest\", where = \"field\", takes "
                                "= { days = 30 } },\n",
                                "");
    text = replaced(text, "takes = { weeks = 9 }",
                    "takes = { heat = 9000.0, base = 4.0 }, limit = -30.0");
    CHECK(notes_of(text) ==
          notes{"aster 1 never gets to clear here: clear comes in 0 of 30 years (in 30 the season "
                "of 365 days ends before), and so is it with 1 more (aster 2); give it a warmer "
                "place or a longer season, or grow what ripens earlier"});
}

TEST_CASE("a place that is acted on too late is told once, with what to do") {
    CHECK(notes_of(replaced(metric, "below = 1.0", "below = -1.0")) ==
          notes{"you cover or heat frame on nights at or below -1 °C, but aster is hurt at 0 °C "
                "from harden off on: nights between the two do damage and nothing is done; act at "
                "or below 0 °C"});
    CHECK(notes_of(replaced(us, "below = 34", "below = 30")) ==
          notes{"you cover or heat frame on nights at or below 30 °F, but aster is hurt at 32 °F "
                "from harden off on: nights between the two do damage and nothing is done; act at "
                "or below 32 °F"});
    std::string const two = replaced(metric, "below = 1.0", "below = -1.0") +
                            "[crops.stock]\nlike = \"aster\"\nlimit_tender = 1.0\n"
                            "[[succession]]\ncrop = \"stock\"\nplants = 9\ntarget = { event = "
                            "\"transplant\", from = 2027-06-01 }\n";
    CHECK(notes_of(two) ==
          notes{"you cover or heat frame on nights at or below -1 °C, but stock is hurt at 1 °C "
                "from harden off on, and so is 1 more (aster): nights between the two do damage "
                "and nothing is done; act at or below 1 °C"});
}

TEST_CASE("what stands in a place after it closes is one note for each place") {
    // Planted out on 1 June; first harvest nine weeks later, on 3 August.
    CHECK(notes_of(replaced(metric, "for = [\"field\"]",
                            "for = [\"field\"], open = [2027-02-01, 2027-08-20]")) ==
          notes{"beds is open until 20 Aug: aster 2, there from first harvest on, still stands in "
                "it later in 30 of 30 years"});
    CHECK(notes_of(replaced(metric, "for = [\"field\"]",
                            "for = [\"field\"], open = [2027-02-01, 2027-03-20]")) ==
          notes{"beds is open until 20 Mar: aster 1, there from transplant on, still stands in it "
                "later in 30 of 30 years, and so does 1 more (aster 2)"});
}

TEST_CASE("a season that costs season years is told, with a length that does not") {
    std::string const long_season = replaced(metric, "season_days = 365", "season_days = 550");
    daily_record const decade = waves(2000, 2009, 1.0, 17.0);
    std::string const few =
        "9 season years only: chances counted in so few years are rough; 10 or "
        "more are wanted, 30 are usual";
    CHECK(notes_of(long_season, decade) ==
          notes{few,
                "a season of 550 days leaves 9 season years; season_days = 365 is enough for "
                "this plan and leaves 10 (2009 as well)"});
    // As it says: the same days, and a year more.
    CHECK(notes_of(std::string{metric}, decade).empty());
    plan const longer = parse_plan(long_season);
    plan const shorter = parse_plan(metric);
    CHECK(climate_for(shorter, decade).size() == 10);
    for (char const* event : {"chill", "sow", "transplant", "first_harvest", "clear"}) {
        CHECK(schedule(longer, climate_for(longer, decade)).date("aster 2", event) ==
              schedule(shorter, climate_for(shorter, decade)).date("aster 2", event));
    }

    std::vector<double> low{decade.tmin().begin(), decade.tmin().end()};
    std::vector<double> const high{decade.tmax().begin(), decade.tmax().end()};
    int const april = decade.index_of(make_day(2005, 4, 10));
    for (int k = april; k < april + 10; ++k) { low[static_cast<std::size_t>(k)] = std::nan(""); }
    daily_record const with_gap{decade.start(), low, high};
    check_note(notes_of(long_season, with_gap),
               "a season of 550 days leaves 7 season years; season_days = 365 is enough for this "
               "plan and leaves 9 (2004, 2009 as well)");
    // Not where the plan needs the length, nor where the years were named, nor where 30 are there.
    CHECK(notes_of(replaced(long_season, "from = 2027-06-01", "from = 2028-02-01"), decade) ==
          notes{few});
    CHECK(notes_of(
              replaced(long_season, "season_days = 550", "season_days = 550, years = [2000, 2008]"),
              decade) == notes{few});
    CHECK(notes_of(long_season, waves(1989, 2020, 1.0, 17.0)).empty());
}

TEST_CASE("where three kinds of numbers ask for the other unit, the plan is asked about") {
    std::string text = replaced(metric, "units = \"metric\"", "units = \"us\"");
    text = replaced(text, "day = 4.0, night = 4.0", "day = 40.0, night = 40.0");
    notes const said = notes_of(text);
    // Of site and places 6: at, day, night, heat_to, vent_above, below. Of the crop 12: two limits,
    // low and high, base, optimum and ceiling, base and upper, too_hot, base; and the target's
    // limit.
    check_note(said,
               "18 numbers are unusual in °F and would be usual in °C (site.frost.at is 0 °F, less "
               "than 15.8 °F; places.mat.day is 22 °F, less than 28.4 °F; …): did you mean units = "
               "\"metric\"? Else give each in °F");
    CHECK(std::count_if(said.begin(), said.end(), [](std::string const& one) {
              return one.find("did you mean") != std::string::npos;
          }) == 1);
    std::string warm = replaced(metric, "at = 0.0", "at = 32.0");
    warm = replaced(warm, "limit_tender = 0.0\nlimit_hardened = -2.2",
                    "limit_tender = 32.0\nlimit_hardened = 28.0");
    check_note(notes_of(replaced(warm, "below = 1.0", "below = 35.0")),
               "4 numbers are unusual in °C and would be usual in °F (site.frost.at is 32 °C, more "
               "than 5 °C; places.frame.cold_nights.below is 35 °C, more than 12 °C; …): did you "
               "mean units = \"us\"? Else give each in °C");
}

TEST_CASE("crops that fare the same are told together, all by name") {
    std::string text = replaced(metric, "takes = { weeks = 9 }", "takes = { weeks = 30 }");
    for (std::string const name : {"stock", "zinnia", "cosmos", "celosia"}) {
        text += "[crops." + name + "]\nlike = \"aster\"\n[[succession]]\ncrop = \"" + name +
                "\"\nplants = 9\ntarget = { event = \"transplant\", from = 2027-06-01 }\n";
    }
    CHECK(notes_of(text) ==
          notes{"aster 2 never ripens here: first harvest comes in 0 of 30 years (in 30 it is "
                "lost to cold before), and so is it with 4 more (stock, zinnia, cosmos, celosia); "
                "give it a warmer place or a cover, or grow what ripens earlier"});
}

TEST_CASE("obstacles in the same words are one line of the sheet") {
    std::string const text = replaced(metric, "from = 2027-06-01 }", "on = 2027-01-05 }") +
                             "[[succession]]\nname = \"aster 3\"\ncrop = \"aster\"\nplants = 9\n"
                             "target = { event = \"transplant\", on = 2027-01-05 }\n";
    plan const planned = parse_plan(text);
    calendar const made = schedule(planned, climate_for(planned, thirty_years()));
    REQUIRE(made.unresolved().size() == 2);
    std::string const said = made.unresolved()[0].sentence;
    CHECK_THAT(to_string(made),
               Catch::Contains("no workable date: aster 2, aster 3: " + said.substr(0, 60)));
}
