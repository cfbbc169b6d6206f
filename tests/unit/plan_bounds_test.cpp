// No number that a plan, or code, holds ends the process: what is beyond any farm is refused where
// it stands, in the units of the plan and in full text.
#include "catch.hpp"

#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/weather/climate.hpp>

using namespace epicotyl;

namespace {

constexpr std::string_view sound = R"(format = 1
units = "metric"
site = { latitude = 51.9, season_start = 2027-01-01, frost = { at = 0.0, chance = 0.5 } }
[places]
house = { for = ["grow"], trays = 40, area = 30, warmer_night = 2.5, warmer_day = 7.0, heat_to = 6.0, heat_lift = 9.0, vent_above = 25, lamps = { hours = 14, from = 2027-01-05, until = 2027-03-31, trays = 8 } }
mat = { for = ["germinate"], day = 22.0, night = 20.0, area = 5 }
frame = { for = ["harden"], area = 10, cold_nights = { below = 1, warmer = 5.0 } }
beds = { for = ["field"], bed = 120.0 }
[containers]
plug = { cells = 104, medium = 1.6, area = 0.15 }
[crops.aster]
limit_tender = 0.0
limit_hardened = -2.2
stages = [
  { begins = "sow", where = "germinate", container = "plug", takes = { germination = 110.0, base = 4.0, optimum = 22.0, ceiling = 32.0 }, survives = 0.8 },
  { begins = "emerge", where = "grow", container = "plug", takes = { heat = 380.0, base = 4.0, upper = 28.0 } },
  { begins = "pot_on", where = "grow", container = "plug", takes = { days_between = 9, low = 2, high = 26 }, limit = 1.0, too_hot = 38 },
  { begins = "harden_off", where = "harden", container = "plug", takes = { days = 8 }, hold = 14 },
  { begins = "transplant", where = "field", spacing = { rows = 4, in_row = 23.0 }, takes = { weeks = 9 } },
  { begins = "first_harvest", where = "field", spacing = { rows = 4, in_row = 23.0 }, takes = { days = 30 } },
]
[[succession]]
name = "one"
crop = "aster"
plants = 180
target = { event = "transplant", risk = 0.1, limit = -1 }
[[succession]]
name = "two"
crop = "aster"
trays = 2
target = { event = "transplant", from = 2027-05-01 }
[[succession]]
name = "three"
crop = "aster"
bed = 12.0
target = { event = "transplant", from = 2027-05-01 }
[[link]]
first = { succession = "one", event = "sow" }
then = { succession = "two", event = "sow" }
after = { days = 10 }
within = { days = 120 }
)";

struct broken {
    std::string_view sound;
    std::string_view changed;
    std::string_view message;
};

std::string message_of(std::string text, std::string_view from, std::string_view to) {
    std::size_t const at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    try {
        (void)parse_plan(text, "farm.toml");
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

broken const cases[] = {
    {"heat = 380.0, base = 4.0", "heat = 380.0, base = -1e306",
     "farm.toml:16: crops.aster.stages[2].takes.base: -1e+306 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); give it in °C, the unit of the plan"},
    {"warmer_night = 2.5", "warmer_night = 1e306",
     "farm.toml:5: places.house.warmer_night: no air is 1e+306 °C warmer than another (allowed: "
     "-60 to 60 °C); give a difference in °C, the unit of the plan"},
    {"warmer_day = 7.0", "warmer_day = -61.0",
     "farm.toml:5: places.house.warmer_day: no air is -61 °C warmer than another (allowed: -60 to "
     "60 °C); give a difference in °C, the unit of the plan"},
    {"heat_to = 6.0", "heat_to = 68",
     "farm.toml:5: places.house.heat_to: 68 °C is no temperature of air or soil (allowed: -90 to "
     "60 °C); did you mean °F? 68 °F are 20.0 °C, and the plan is in °C"},
    {"heat_to = 6.0", "heat_to = 300",
     "farm.toml:5: places.house.heat_to: 300 °C is no temperature of air or soil (allowed: -90 to "
     "60 °C); give it in °C, the unit of the plan"},
    {"heat_lift = 9.0", "heat_lift = 90.0",
     "farm.toml:5: places.house.heat_lift: no air is 90 °C warmer than another (allowed: -60 to 60 "
     "°C); give a difference in °C, the unit of the plan"},
    {"vent_above = 25", "vent_above = 1e300",
     "farm.toml:5: places.house.vent_above: 1e+300 °C is no temperature of air or soil (allowed: "
     "-90 to 60 °C); give it in °C, the unit of the plan"},
    {"day = 22.0", "day = 72.0",
     "farm.toml:6: places.mat.day: 72 °C is no temperature of air or soil (allowed: -90 to 60 °C); "
     "did you mean °F? 72 °F are 22.2 °C, and the plan is in °C"},
    {"night = 20.0", "night = -91.0",
     "farm.toml:6: places.mat.night: -91 °C is no temperature of air or soil (allowed: -90 to 60 "
     "°C); give it in °C, the unit of the plan"},
    {"below = 1,", "below = -1e9,",
     "farm.toml:7: places.frame.cold_nights.below: -1000000000 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); give it in °C, the unit of the plan"},
    {"warmer = 5.0", "warmer = 1e308",
     "farm.toml:7: places.frame.cold_nights.warmer: no air is 1e+308 °C warmer than another "
     "(allowed: -60 to 60 °C); give a difference in °C, the unit of the plan"},
    {"at = 0.0", "at = 1e20",
     "farm.toml:3: site.frost.at: 1e+20 °C is no temperature of air or soil (allowed: -90 to 60 "
     "°C); give it in °C, the unit of the plan"},
    {"limit_tender = 0.0", "limit_tender = -1e200",
     "farm.toml:12: crops.aster.limit_tender: -1e+200 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); give it in °C, the unit of the plan"},
    {"limit = 1.0", "limit = -1e200",
     "farm.toml:17: crops.aster.stages[3].limit: -1e+200 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); give it in °C, the unit of the plan"},
    {"too_hot = 38", "too_hot = 100",
     "farm.toml:17: crops.aster.stages[3].too_hot: 100 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); did you mean °F? 100 °F are 37.8 °C, and the plan is in °C"},
    {"optimum = 22.0, ceiling = 32.0", "optimum = 22.0, ceiling = 1e300",
     "farm.toml:15: crops.aster.stages[1].takes.ceiling: 1e+300 °C is no temperature of air or "
     "soil (allowed: -90 to 60 °C); give it in °C, the unit of the plan"},
    {"upper = 28.0", "upper = 82.0",
     "farm.toml:16: crops.aster.stages[2].takes.upper: 82 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); did you mean °F? 82 °F are 27.8 °C, and the plan is in °C"},
    {"high = 26", "high = 79",
     "farm.toml:17: crops.aster.stages[3].takes.high: 79 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); did you mean °F? 79 °F are 26.1 °C, and the plan is in °C"},
    {"heat = 380.0", "heat = 1e306",
     "farm.toml:16: crops.aster.stages[2].takes.heat: no plant waits for 1e+306 °C days (allowed: "
     "0 to 1000000 °C days); give the sum in °C days, the unit of the plan"},
    {"takes = { days = 8 }", "takes = { days = 1e300 }",
     "farm.toml:18: crops.aster.stages[4].takes.days: 1e+300 days is more than a plan can hold "
     "(allowed: up to 36525 days); check the number and its unit"},
    {"days_between = 9", "days_between = 1e300",
     "farm.toml:17: crops.aster.stages[3].takes.days_between: 1e+300 days is more than a plan can "
     "hold (allowed: up to 36525 days); check the number and its unit"},
    {"hold = 14", "hold = 1e300",
     "farm.toml:18: crops.aster.stages[4].hold: 1e+300 days is more than a plan can hold (allowed: "
     "up to 36525 days); check the number and its unit"},
    {"trays = 40", "trays = 1e300",
     "farm.toml:5: places.house.trays: 1e+300 trays is more than a plan can hold (allowed: up to "
     "1000000 trays); check the number and its unit"},
    {"area = 30", "area = 1e300",
     "farm.toml:5: places.house.area: 1e+300 m² is more than a plan can hold (allowed: up to "
     "1000000 m²); check the number and its unit"},
    {"trays = 8", "trays = 1e300",
     "farm.toml:5: places.house.lamps.trays: 1e+300 trays is more than a plan can hold (allowed: "
     "up to 1000000 trays); check the number and its unit"},
    {"bed = 120.0", "bed = 1e300",
     "farm.toml:8: places.beds.bed: 1e+300 m is more than a plan can hold (allowed: up to 1000000 "
     "m); check the number and its unit"},
    {"cells = 104", "cells = 100001",
     "farm.toml:10: containers.plug.cells: 100001 cells is more than a plan can hold (allowed: up "
     "to 100000 cells); check the number and its unit"},
    {"medium = 1.6", "medium = 1e300",
     "farm.toml:10: containers.plug.medium: 1e+300 litres is more than a plan can hold (allowed: "
     "up to 10000 litres); check the number and its unit"},
    {"rows = 4", "rows = 1001",
     "farm.toml:19: crops.aster.stages[5].spacing.rows: 1001 rows is more than a plan can hold "
     "(allowed: up to 1000 rows); check the number and its unit"},
    {"in_row = 23.0", "in_row = 1e300",
     "farm.toml:19: crops.aster.stages[5].spacing.in_row: 1e+300 cm is more than a plan can hold "
     "(allowed: up to 10000 cm); check the number and its unit"},
    {"in_row = 23.0", "in_row = 1e-300",
     "farm.toml:19: crops.aster.stages[5].spacing.in_row: 1e-300 cm is no distance between plants "
     "(allowed: 0.01 or more cm); give the distance between the plants of a row"},
    {"survives = 0.8", "survives = 1e-300",
     "farm.toml:15: crops.aster.stages[1].survives: where 1e-300 survives, nothing is worth sowing "
     "(allowed: 0.001 to 1); give the share alive at the end of the stage, such as 0.9"},
    {"plants = 180", "plants = 1e300",
     "farm.toml:25: succession[1].plants: 1e+300 plants is more than a plan can hold (allowed: up "
     "to 1000000000 plants); check the number and its unit"},
    {"trays = 2\ntarget", "trays = 1e300\ntarget",
     "farm.toml:30: succession[2].trays: 1e+300 trays is more than a plan can hold (allowed: up to "
     "1000000 trays); check the number and its unit"},
    {"bed = 12.0", "bed = 1e300",
     "farm.toml:35: succession[3].bed: 1e+300 m is more than a plan can hold (allowed: up to "
     "1000000 m); check the number and its unit"},
    {"within = { days = 120 }", "within = { days = 1e300 }",
     "farm.toml:41: link[1].within.days: 1e+300 days is more than a plan can hold (allowed: up to "
     "36525 days); check the number and its unit"},
    {"limit = -1 }", "limit = 1e100 }",
     "farm.toml:26: succession[1].target.limit: 1e+100 °C is no temperature of air or soil "
     "(allowed: -90 to 60 °C); give it in °C, the unit of the plan"},
    {"after = { days = 10 }", "after = { days = 1e300 }",
     "farm.toml:40: link[1].after.days: 1e+300 days is more than a plan can hold (allowed: up to "
     "36525 days); check the number and its unit"},
};

}  // namespace

TEST_CASE("a quantity beyond any farm is refused with its bound in the plan's unit") {
    REQUIRE_NOTHROW(parse_plan(sound, "farm.toml"));
    for (broken const& one : cases) {
        INFO(one.changed);
        CHECK(message_of(std::string{sound}, one.sound, one.changed) == one.message);
    }
}

TEST_CASE("a crop that is like another a thousand times over does not end the process") {
    std::string text{sound};
    for (int i = 0; i < 20000; ++i) {
        text += fmt::format("[crops.c{}]\nlike = \"{}\"\n", i,
                            i == 19999 ? "aster" : fmt::format("c{}", i + 1));
    }
    CHECK_THROWS_AS(parse_plan(text, "farm.toml"), invalid_input);
}

TEST_CASE("a climate is shifted by no more than 60 K") {
    daily_record const record{make_day(2000, 1, 1), std::vector<double>(800, 5.0),
                              std::vector<double>(800, 15.0)};
    climate const made{record, latitude{51.9}, {.season_days = 360}};
    CHECK_NOTHROW(made.shifted(temperature_span::from_kelvin(60.0)));
    try {
        (void)made.shifted(temperature_span::from_kelvin(1e306));
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(std::string_view{fault.what()} ==
              "by: a climate cannot be 1e+306 K warmer (allowed: -60 to 60 K); give the difference "
              "to the record, such as 2 for a warmer year");
    }
}

TEST_CASE("a record that no place has makes no climate") {
    std::vector<double> high(800, 15.0);
    high[20] = 1e306;
    daily_record const record{make_day(2000, 1, 1), std::vector<double>(800, 5.0), high};
    try {
        (void)climate(record, latitude{51.9}, {.season_days = 360});
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(std::string_view{fault.what()} ==
              "tmax: 1e+306 °C is no air of any place (allowed: -1000000 to 1000000 °C); give the "
              "record "
              "in °C, NaN where a value is missing, and shift it by less");
    }
}

TEST_CASE("a whole number is made of any number") {
    using detail::whole_of;
    CHECK(whole_of(-2.7) == -2);
    CHECK(whole_of(1e300) == std::numeric_limits<int>::max());
    CHECK(whole_of(-std::numeric_limits<double>::infinity()) == std::numeric_limits<int>::min());
    CHECK(whole_of(std::numeric_limits<double>::quiet_NaN()) == 0);
    CHECK(whole_of<std::int64_t>(9.3e18) == std::numeric_limits<std::int64_t>::max());
}
