// The usual relays between successions, each small enough to reckon by hand: planned by `schedule`
// and seen as windows. All farms here are invented.
#include "catch.hpp"

#include <string>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>

namespace ep = epicotyl;

namespace {

/// 5 to 15 °C on every day, so that every season year is alike.
ep::calendar planned(std::string const& crops_and_successions, char const* season_start = "01-01",
                     int season_days = 400) {
    ep::plan const of = ep::parse_plan(
        "format = 1\nunits = \"metric\"\ndefaults = { risk = false, reliability = 1.0 }\n"
        "site = { latitude = 50.0, season_start = 2027-" +
        std::string{season_start} + ", season_days = " + std::to_string(season_days) +
        " }\n"
        "places = { cold = { for = [\"store\"], day = 3.0, night = 1.0 }, house = { for = "
        "[\"grow\"] }, frame = { for = [\"harden\"] }, beds = { for = [\"field\"] } }\n" +
        crops_and_successions);
    ep::day const start = ep::make_day(2001, 1, 1);
    std::vector<double> const low(1600, 5.0);
    std::vector<double> const high(1600, 15.0);
    date::year_month_day const first{of.window().start()};
    return ep::schedule(
        of, ep::climate{ep::daily_record{start, low, high},
                        ep::latitude{50.0},
                        {.season_start = first.month() / first.day(), .season_days = season_days}});
}

ep::day on(int year, unsigned month, unsigned day) {
    return ep::make_day(year, month, day);
}

}  // namespace

TEST_CASE("relay: the next block is sown when the last has emerged") {
    // Up after 10 days. The first block is sown on 10 April, so the second is sown on 20 April at
    // the earliest and the third on 30 April, which is later than the 25 April it asks for.
    ep::calendar const beans = planned(R"([crops.bean]
stages = [
  { begins = "sow", where = "field", takes = { days = 10 } },
  { begins = "emerge", where = "field", takes = { days = 50 } },
  { begins = "first_harvest", where = "field", takes = { days = 14 } },
]
[[succession]]
name = "block 1"
crop = "bean"
plants = 1
target = { event = "sow", on = 2027-04-10 }
[[succession]]
name = "block 2"
crop = "bean"
plants = 1
target = { event = "first_harvest", by = 2027-06-30 }
[[succession]]
name = "block 3"
crop = "bean"
plants = 1
target = { event = "sow", from = 2027-04-25 }
[[link]]
first = { succession = "block 1", event = "emerge" }
then = { succession = "block 2", event = "sow" }
[[link]]
first = { succession = "block 2", event = "emerge" }
then = { succession = "block 3", event = "sow" }
)");
    CHECK(beans.unresolved().empty());
    CHECK(beans.date("block 1", "emerge") == on(2027, 4, 20));
    CHECK(beans.date("block 3", "sow") == on(2027, 4, 30));
    // A harvest by 30 June would let the second be sown until 1 May; the third leaves it one day.
    CHECK(beans.date("block 2", "sow") == on(2027, 4, 20));
    ep::planting_windows const windows{beans, 2001};
    CHECK(windows.slack("block 2", "sow") == 0);
}

TEST_CASE("relay: a bench is freed by a whole wave") {
    ep::calendar const house = planned(R"([crops.early]
stages = [
  { begins = "sow", where = "grow", takes = { days = 40 } },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[crops.late]
stages = [
  { begins = "sow", where = "frame", takes = { days = 20 } },
  { begins = "prick_out", where = "grow", takes = { days = 30 } },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[[succession]]
name = "cool 1"
crop = "early"
plants = 1
wave = "cool"
target = { event = "transplant", on = 2027-04-01 }
[[succession]]
name = "cool 2"
crop = "early"
plants = 1
wave = "cool"
target = { event = "transplant", on = 2027-04-12 }
[[succession]]
name = "warm"
crop = "late"
plants = 1
target = { event = "transplant", from = 2027-05-01 }
[[link]]
first = { wave = "cool", event = "transplant" }
then = { succession = "warm", event = "prick_out" }
after = { days = 2 }
)");
    // Free on 14 April, 30 days on the bench: out on 14 May, not on 1 May; sown 20 days before the
    // bench is free.
    CHECK(house.date("warm", "transplant") == on(2027, 5, 14));
    CHECK(house.date("warm", "prick_out") == on(2027, 4, 14));
    CHECK(house.date("warm", "sow") == on(2027, 3, 25));
}

TEST_CASE("relay: a lot is sown when it has been chilled") {
    // 42 days between 0 and 5 °C in the cold place, then it is sown; other seed waits for it.
    ep::calendar const lot = planned(R"([crops.chilled]
stages = [
  { begins = "chill", where = "store", takes = { days_between = 42, low = 0.0, high = 5.0 } },
  { begins = "sow", where = "grow", takes = { days = 30 } },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[crops.other]
stages = [{ begins = "sow", where = "grow", takes = { days = 30 } }]
[[succession]]
name = "lot"
crop = "chilled"
plants = 1
target = { event = "transplant", on = 2027-05-01 }
[[succession]]
name = "companion"
crop = "other"
plants = 1
target = { event = "sow", from = 2027-02-01 }
[[link]]
first = { succession = "lot", event = "sow" }
then = { succession = "companion", event = "sow" }
)");
    // The companion asks for 1 February; the lot can be sown on 12 February at the earliest, 42
    // days from 1 January, and is chilled from the first day to keep that.
    CHECK(lot.unresolved().empty());
    CHECK(lot.date("lot", "chill") == on(2027, 1, 1));
    CHECK(lot.date("lot", "sow") == on(2027, 2, 12));
    CHECK(lot.date("companion", "sow") == on(2027, 2, 12));
    CHECK(lot.date("lot", "transplant") == on(2027, 5, 1));
}

TEST_CASE("relay: the same trays are sown again when they have been washed") {
    ep::calendar const trays = planned(R"([crops.plug]
stages = [
  { begins = "sow", where = "grow", takes = { days = 35 } },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[[succession]]
name = "first"
crop = "plug"
plants = 1
target = { event = "transplant", on = 2027-04-10 }
[[succession]]
name = "second"
crop = "plug"
plants = 1
target = { event = "transplant", on = 2027-05-20 }
[[link]]
first = { succession = "first", event = "transplant" }
then = { succession = "second", event = "sow" }
after = { days = 2 }
within = { days = 10 }
)");
    // 35 days before 20 May is 15 April: the trays are free on 12 April.
    CHECK(trays.date("second", "sow") == on(2027, 4, 15));
    ep::planting_windows const windows{trays, 2001};
    CHECK(windows.earliest("second", "sow") == on(2027, 4, 12));
    CHECK(windows.latest("second", "sow") == on(2027, 4, 15));
    REQUIRE(trays.within_counts().size() == 1);
    CHECK(trays.within_counts().front().kept == trays.within_counts().front().years);
}

TEST_CASE("relay: an overwintered crop comes before one of spring") {
    // Garlic in October, cleared after 270 days; leeks follow into its bed five days later.
    ep::calendar const winter = planned(R"([crops.garlic]
stages = [{ begins = "plant", where = "field", takes = { days = 270 } }]
[crops.leek]
stages = [
  { begins = "sow", where = "grow", takes = { days = 70 } },
  { begins = "transplant", where = "field", takes = { days = 100 } },
]
[[succession]]
name = "garlic"
crop = "garlic"
plants = 1
target = { event = "plant", on = 2027-10-15 }
[[succession]]
name = "leek"
crop = "leek"
plants = 1
target = { event = "transplant", from = 2028-06-01 }
follows = "garlic"
gap = 5
)",
                                        "07-01", 730);
    // 270 days from 15 October 2027, over a leap day: 11 July 2028.
    CHECK(winter.date("garlic", "clear") == on(2028, 7, 11));
    CHECK(winter.date("leek", "transplant") == on(2028, 7, 16));
    CHECK(winter.date("leek", "sow") == on(2028, 5, 7));
}
