// What is wrong with a plan is said with file, line, field, value, bound, unit and remedy. Each
// case is a sound plan with one thing broken, and the whole of the sentence that must come.
#include "catch.hpp"

#include <string>
#include <string_view>

#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan_file.hpp>

using namespace epicotyl;

namespace {

struct broken {
    std::string_view sound;
    std::string_view changed;
    std::string_view message;
};

/// What is said of a plan in which the first `sound` is `changed`.
std::string message_of(std::string text, broken const& one) {
    std::size_t const at = text.find(one.sound);
    REQUIRE(at != std::string::npos);
    text.replace(at, one.sound.size(), one.changed);
    try {
        (void)parse_plan(text, "farm.toml");
    } catch (invalid_input const& fault) {
        CHECK_FALSE(fault.code().empty());
        CHECK_FALSE(fault.details().remedy.empty());
        CHECK(fault.details().file == "farm.toml");
        CHECK(fault.details().line > 0);
        return fault.what();
    }
    return "accepted";
}

constexpr std::string_view metric_plan = R"(format = 1
units = "metric"
title = "Nettlecombe 2027"
events = ["graft"]
defaults = { risk = 0.1, reliability = 0.8 }
[site]
latitude = 51.9
season_start = 2027-01-01
frost = { at = 0.0, chance = 0.5 }
[places]
mat = { for = ["germinate"], day = 22.0, night = 20.0 }
lean-to = { for = ["grow"], warmer_night = 2.5, warmer_day = 7.0, heat_to = 6.0, heat_lift = 9.0, lamps = { hours = 14.0, from = 2027-01-05, until = 2027-03-31 } }
frame = { for = ["harden"], cold_nights = { warmer = 5.0 }, open = [2027-03-01, 2027-11-30] }
beds = { for = ["field"], bed = 120.0 }
[containers]
"plug 104" = { cells = 104, medium = 1.6 }
[crops.snapdragon]
limit_tender = 0.0
limit_hardened = -2.2
stages = [
  { begins = "sow", where = "germinate", container = "plug 104", takes = { germination = 110.0, base = 4.0, optimum = 22.0, ceiling = 32.0 }, survives = 0.8 },
  { begins = "emerge", where = "grow", container = "plug 104", takes = { heat = 380.0, base = 4.0, upper = 28.0, gate = { day_length_at_least = 10.0, otherwise = 0.5 } } },
  { begins = "harden_off", where = "harden", container = "plug 104", takes = { days = 8 }, hold = 14 },
  { begins = "transplant", where = "field", spacing = { rows = 4, in_row = 23.0 }, takes = { heat = 620.0, base = 4.0 } },
  { begins = "first_harvest", where = "field", spacing = { rows = 4, in_row = 23.0 }, takes = { days = 30 } },
]
[crops.pea]
stages = [
  { begins = "sow", where = "field", spacing = { rows = 2, in_row = 5.0 }, takes = { weeks = 9 } },
  { begins = "first_harvest", where = "field", takes = { days = 21 } },
]
[[succession]]
name = "early snapdragon"
crop = "snapdragon"
plants = 180
wave = "cool"
target = { event = "transplant", risk = 0.1 }
[[succession]]
crop = "pea"
bed = 12.0
target = { event = "sow", from = 2027-03-01 }
repeat = { times = 3, harvest_every = 10 }
[[succession]]
name = "late snapdragon"
crop = "snapdragon"
trays = 2
target = { event = "first_harvest", by = 2027-08-05 }
not_before = { transplant = 2027-04-10 }
follows = "pea 1"
gap = 5
[[link]]
first = { wave = "cool", event = "emerge", of = "all" }
then = { succession = "late snapdragon", event = "sow" }
after = { days = 10 }
within = { days = 120 }
)";

constexpr std::string_view us_plan = R"(format = 1
year = 2027
units = "us"
site = { latitude = 39.8 }
[places]
mat = { for = ["germinate"], day = 72, night = 68 }
frame = { for = ["grow"], heat_to = 45, heat_lift = 16, cold_nights = { warmer = 9 } }
beds = { for = ["field"], bed = 400 }
[containers]
flat = { cells = 72, medium = 1.5 }
[crops.zinnia]
stages = [
  { begins = "sow", where = "germinate", container = "flat", takes = { days = 6 } },
  { begins = "emerge", where = "grow", container = "flat", takes = { heat = 600, base = 50, upper = 86 } },
  { begins = "transplant", where = "field", spacing = { in_row = 9 }, takes = { days = 50 }, limit = 28 },
]
[[succession]]
crop = "zinnia"
bed = 40 # feet
target = { event = "transplant", weeks_after_last_frost = 1 }
)";

broken const metric_cases[] = {
    {"format = 1", "format = 2",
     "farm.toml:1: format: format 2 is not known here (allowed: 1); write format = 1, "
     "or use a later version of the library"},
    {"format = 1\n", "\n", "farm.toml:1: \"format\" is missing; begin the plan with format = 1"},
    {"units = \"metric\"", "units = \"metrik\"",
     "farm.toml:2: units: there is no unit system \"metrik\" (allowed: \"metric\", \"us\"); "
     "the nearest is \"metric\""},
    {"units = \"metric\"\n", "\n",
     "farm.toml:1: \"units\" is missing; write units = \"metric\" or units = \"us\""},
    {"title = \"Nettlecombe 2027\"", "title = 2027",
     "farm.toml:3: title: 2027 is a whole number, not a text; write it in quotes"},
    {"title = ", "titel = ",
     "farm.toml:3: titel: there is no key \"titel\" here; the nearest is \"title\"; all "
     "keys: format, year, units, title, defaults, site, events, places, containers, crops, "
     "succession, link"},
    {"latitude = 51.9", "latitude = 151.9",
     "farm.toml:7: site.latitude: 151.9 is out of range (allowed: -90 to 90 degrees north); "
     "give degrees, negative south of the equator - or is that the longitude?"},
    {"latitude = 51.9", "latitude = -181.0",
     "farm.toml:7: site.latitude: -181 is out of range (allowed: -90 to 90 degrees north); "
     "give degrees, negative south of the equator"},
    {"latitude = 51.9", "latitude = nan",
     "farm.toml:7: site.latitude: nan is not a number that can be used; give a finite "
     "number of degrees"},
    {"latitude = 51.9", "lattitude = 51.9",
     "farm.toml:7: site.lattitude: there is no key \"lattitude\" here; the nearest is "
     "\"latitude\"; all keys: latitude, season_start, season_days, weather, station, "
     "whole_fahrenheit, years, max_gap, monthly_low, monthly_high, normal_years, normal_seed, "
     "frost"},
    {"season_start = 2027-01-01", "season_start = 2027-01-01\nstation = \"USW00094728\"",
     "farm.toml:9: site.station: this says how the weather file is read, and the plan names none; "
     "name a GHCN-Daily file with weather = \"...\", or leave this out"},
    {"season_start = 2027-01-01", "season_start = 2027-01-01\nwhole_fahrenheit = true",
     "farm.toml:9: site.whole_fahrenheit: this says how the weather file is read, and the plan "
     "names none; name a GHCN-Daily file with weather = \"...\", or leave this out"},
    {"frost = { at", "weather = \"a.dly\"\nwhole_fahrenheit = 1\nfrost = { at",
     "farm.toml:10: site.whole_fahrenheit: 1 is a whole number, not true or false; write true or "
     "false without quotes"},
    {"frost = { at", "weather = \"a.dly\"\nstation = \"\"\nfrost = { at",
     "farm.toml:10: site.station: the text is empty; give a name"},
    {"season_start = 2027-01-01", "season_start = \"2027-01-01\"",
     "farm.toml:8: site.season_start: \"2027-01-01\" is a text, not a date; write the "
     "date without quotes"},
    {"season_start = 2027-01-01", "season_start = 2027-01-01T08:00:00",
     "farm.toml:8: site.season_start: a plan counts whole days and knows no time of day; "
     "write the date alone, such as 2027-03-01"},
    {"season_start = 2027-01-01\n", "\n",
     "farm.toml:6: site: \"season_start\" is missing; say in which season the plan is, "
     "with year = 2027 or [site] season_start = 2027-01-01"},
    {"title = ", "year = 2027\ntitle = ",
     "farm.toml:3: year: the season start of [site] says the year already; keep one of "
     "year and season_start"},
    {"season_start = 2027-01-01", "season_days = 1501\nseason_start = 2027-01-01",
     "farm.toml:8: site.season_days: 1501 days is no season (allowed: 1 to 1500 days); "
     "550 days see a sown year and the spring after it; give 730 for plans with a winter "
     "in them"},
    {"chance = 0.5", "chance = 50",
     "farm.toml:9: site.frost.chance: 50 is out of range (allowed: 0 to 1); give a share "
     "of years, such as 0.1 for 1 year in 10"},
    {"risk = 0.1, reliability = 0.8", "risk = true, reliability = 0.8",
     "farm.toml:5: defaults.risk: true does not say how large a risk; give a share of "
     "years, such as 0.1 for 1 year in 10, or false for none"},
    {"risk = 0.1, reliability = 0.8", "risk = 0.1, reliability = 0.4",
     "farm.toml:5: defaults.reliability: 0.4 is out of range (allowed: 0.5 to 1); give "
     "the share of years in which the target is to be met, such as 0.8"},
    {"[\"graft\"]", "[\"pot_on\"]",
     "farm.toml:4: events[1]: the event \"pot_on\" is known already; leave it out"},
    {"[site]\n", "[site]\nyears = [2010, 1981]\n",
     "farm.toml:7: site.years: 2010 to 1981 is no run of years (allowed: 1 to 9999, the "
     "earlier first); give the first and the last year, such as 1991 and 2020"},
    {"[site]\n", "[site]\nyears = \"some\"\n",
     "farm.toml:7: site.years: there is no choice of years \"some\" (allowed: \"all\"); "
     "the nearest is \"all\""},
    {"[site]\n", "[site]\nmax_gap = 40\n",
     "farm.toml:7: site.max_gap: a gap of 40 days cannot be filled (allowed: 0 to 31 days); "
     "3 days are usual"},
    {"day = 22.0, night", "day = \"warm\", night",
     "farm.toml:11: places.mat.day: \"warm\" is a text, not a number; write a number of "
     "°C"},
    {"day = 22.0, night = 20.0", "day = 22.0",
     "farm.toml:11: places.mat: \"night\" is missing; give the temperature that is held "
     "by night"},
    {"day = 22.0, night = 20.0", "day = 22.0, night = 20.0, warmer_day = 2.0",
     "farm.toml:11: places.mat.warmer_day: warmer_day has no meaning where day and night "
     "are held; leave it out, or leave day and night out"},
    {"for = [\"germinate\"]", "for = [\"germinat\"]",
     "farm.toml:11: places.mat.for[1]: there is no job \"germinat\" (allowed: \"germinate\", "
     "\"grow\", \"harden\", \"field\", \"store\"); the nearest is \"germinate\""},
    {"for = [\"germinate\"]", "for = []",
     "farm.toml:11: places.mat.for: \"mat\" is for nothing (allowed: germinate, grow, "
     "harden, field, store); list what it is for"},
    {"for = [\"germinate\"]", "for = \"germinate\"",
     "farm.toml:11: places.mat.for: \"germinate\" is a text, not a list; list its jobs, "
     "such as [\"grow\"]"},
    {"heat_to = 6.0, ", "",
     "farm.toml:12: places.lean-to.heat_lift: heat_lift is given without heat_to; give "
     "heat_to, the temperature that the heater is to hold"},
    {"heat_lift = 9.0", "heat_lift = -9.0",
     "farm.toml:12: places.lean-to.heat_lift: -9 is not above 0 (allowed: more than 0 "
     "°C); give how far the heater can raise the air, or leave it out"},
    {"hours = 14.0", "hours = 25.0",
     "farm.toml:12: places.lean-to.lamps.hours: a lit day cannot have 25 hours (allowed: "
     "more than 0 to 24 hours); give the hours from the first light to the last"},
    {"from = 2027-01-05, until = 2027-03-31", "from = 2027-03-31, until = 2027-01-05",
     "farm.toml:12: places.lean-to.lamps: 2027-03-31 comes after 2027-01-05; give the "
     "earlier day first"},
    {"open = [2027-03-01, 2027-11-30]", "open = [2026-03-01, 2026-11-30]",
     "farm.toml:13: places.frame.open: no day from 2026-03-01 to 2026-11-30 is in the "
     "season (allowed: 2027-01-01 to 2028-07-04); check the year"},
    {"bed = 120.0", "bed = -1.0",
     "farm.toml:14: places.beds.bed: -1 is negative (allowed: 0 or more m); give the length "
     "of bed"},
    {"bed = 120.0", "bed = 120.0, part_of = \"bedz\"",
     "farm.toml:14: places.beds.part_of: there is no place \"bedz\"; the nearest is \"beds\""},
    {"bed = 120.0", "bed = 120.0, part_of = \"beds\"",
     "farm.toml:14: places.beds.part_of: \"beds\" is part of itself in the end; name the "
     "larger place, or leave it out"},
    {"cold_nights = { warmer = 5.0 }", "cold_nights = { warmer = 0 }",
     "farm.toml:13: places.frame.cold_nights.warmer: 0 is not above 0 (allowed: more than "
     "0 °C); give how much warmer those nights become"},
    {"cells = 104", "cells = 0",
     "farm.toml:16: containers.\"plug 104\".cells: 0 is not above 0 (allowed: more than "
     "0 cells); a pot has 1"},
    {"cells = 104", "cells = 10.5",
     "farm.toml:16: containers.\"plug 104\".cells: 10.5 is no whole number that can be "
     "used (allowed: whole numbers); give a whole number"},
    {"medium = 1.6", "medium = inf",
     "farm.toml:16: containers.\"plug 104\".medium: inf is not a number that can be used; "
     "give a finite number of litres"},
    {"begins = \"harden_off\"", "begins = \"harden_of\"",
     "farm.toml:23: crops.snapdragon.stages[3].begins: there is no event \"harden_of\"; "
     "the nearest is \"harden_off\"; declare a new one with events = [\"...\"]"},
    {"begins = \"harden_off\"", "begins = \"emerge\"",
     "farm.toml:23: crops.snapdragon.stages[3].begins: two stages begin with \"emerge\"; "
     "use another event for one of them"},
    {"begins = \"harden_off\"", "begins = \"clear\"",
     "farm.toml:23: crops.snapdragon.stages[3].begins: \"clear\" begins no stage: it is "
     "the end of the last; leave it out, or use another event"},
    {"begins = \"sow\", where = \"germinate\"", "begins = \"emerge\", where = \"germinate\"",
     "farm.toml:22: crops.snapdragon.stages[2].begins: two stages begin with \"emerge\"; "
     "use another event for one of them"},
    {"where = \"harden\"", "where = \"hardn\"",
     "farm.toml:23: crops.snapdragon.stages[3].where: there is no place or job \"hardn\"; "
     "the nearest is \"harden\""},
    {"where = \"harden\"", "where = \"store\"",
     "farm.toml:23: crops.snapdragon.stages[3].where: no place is for \"store\", where "
     "the stage \"harden_off\" of \"snapdragon\" is to stand; add \"store\" to what a "
     "place is for"},
    {"\"harden_off\", where = \"harden\", container = \"plug 104\"",
     "\"harden_off\", where = \"harden\", container = \"plug 105\"",
     "farm.toml:23: crops.snapdragon.stages[3].container: there is no container \"plug "
     "105\"; the nearest is \"plug 104\""},
    {"survives = 0.8", "survives = 1.8",
     "farm.toml:21: crops.snapdragon.stages[1].survives: survives must be between 0 and 1, not "
     "1.8 (allowed: more than 0 to 1); give the share alive at the end of the stage, such as 0.9"},
    {"hold = 14", "hold = -1",
     "farm.toml:23: crops.snapdragon.stages[3].hold: ready plants cannot wait -1 days "
     "(allowed: 0 or more days); give the days that they may wait, or leave it out for "
     "any"},
    {"rows = 2, in_row = 5.0", "rows = 2, in_row = 0",
     "farm.toml:29: crops.pea.stages[1].spacing.in_row: 0 is no distance between plants "
     "(allowed: more than 0 cm); give the distance between the plants of a row"},
    {"takes = { days = 8 }", "takes = 8",
     "farm.toml:23: crops.snapdragon.stages[3].takes: 8 is a whole number, not a table; "
     "write what is counted, such as { days = 8 } or { heat = 380.0, base = 4.0 }"},
    {"takes = { days = 8 }", "takes = { days = 8, weeks = 1 }",
     "farm.toml:23: crops.snapdragon.stages[3].takes: both \"days\" and \"weeks\" say "
     "how long to wait; keep one of them"},
    {"takes = { days = 8 }", "takes = { dais = 8 }",
     "farm.toml:23: crops.snapdragon.stages[3].takes.dais: there is no key \"dais\" here; "
     "the nearest is \"days\"; all keys: days, weeks, heat, days_between, germination, "
     "all, any, at, base, upper, method, cutoff, low, high, optimum, ceiling, gate, soil"},
    {"takes = { days = 8 }", "takes = { days = -8 }",
     "farm.toml:23: crops.snapdragon.stages[3].takes.days: -8 days cannot be waited (allowed: "
     "0 or more days); give the number of days to wait"},
    {"takes = { days = 8 }", "takes = { days = 8, at = 3.0, base = 4.0 }",
     "farm.toml:23: crops.snapdragon.stages[3].takes.at: 3.0 is not above the base (allowed: "
     "more than the base, 4.0 °C); give the temperature at which it takes so many days"},
    {"takes = { days = 8 }", "takes = { all = [] }",
     "farm.toml:23: crops.snapdragon.stages[3].takes.all: \"all\" of no clocks (allowed: "
     "1 or more clocks); list the clocks to be combined"},
    {"takes = { days = 8 }", "takes = { weeks = [8, 10] }",
     "farm.toml:23: crops.snapdragon.stages[3].hold: the pair of weeks says how long they "
     "hold; leave hold out, or give weeks as one number"},
    {"takes = { days = 8 }", "takes = { days = 8, soil = true }",
     "farm.toml:23: crops.snapdragon.stages[3].takes.soil: days of the calendar pass without "
     "soil; leave soil out, or count heat or days_between"},
    {"optimum = 22.0, ceiling = 32.0", "optimum = 22.0, ceiling = 12.0",
     "farm.toml:21: crops.snapdragon.stages[1].takes: base 4.0, optimum 22.0 and ceiling "
     "12.0 do not rise (allowed: base < optimum < ceiling °C); give the temperature where "
     "germination begins, where it is fastest and where it ends"},
    {"heat = 380.0, base = 4.0, upper = 28.0", "heat = 380.0, base = 4.0, upper = 3.0",
     "farm.toml:22: crops.snapdragon.stages[2].takes.upper: 3.0 is not above the base "
     "(allowed: more than the base, 4.0 °C); give an upper threshold above the base, or "
     "none"},
    {"heat = 620.0, base = 4.0", "heat = -620.0, base = 4.0",
     "farm.toml:24: crops.snapdragon.stages[4].takes.heat: -620.0 is negative (allowed: "
     "0 or more °C days); give the sum above the base"},
    {"heat = 620.0, base = 4.0", "heat = 620.0",
     "farm.toml:24: crops.snapdragon.stages[4].takes: \"base\" is missing; give the temperature "
     "below which nothing develops; a sum of heat means nothing without it"},
    {"heat = 620.0, base = 4.0", "heat = 620.0, base = 4.0, method = \"sine\"",
     "farm.toml:24: crops.snapdragon.stages[4].takes.method: there is no degree-day method "
     "\"sine\" (allowed: \"average\", \"average_floored\", \"single_triangle\", \"double_triangl"
     "e\", \"single_sine\", \"double_sine\"); the nearest is \"single_sine\""},
    {"day_length_at_least = 10.0", "day_length_at_least = 100.0",
     "farm.toml:22: crops.snapdragon.stages[2].takes.gate.day_length_at_least: no day "
     "has 100 hours (allowed: 0 to 24 hours); give the day length that opens the gate"},
    {"day_length_at_least = 10.0, otherwise = 0.5", "otherwise = 0.5",
     "farm.toml:22: crops.snapdragon.stages[2].takes.gate: nothing says at which day length "
     "the gate opens; give one of: day_length_at_least, day_length_at_most"},
    {"limit_tender = 0.0\nlimit_hardened = -2.2\n", "\n\n",
     "farm.toml:37: succession[1].target.risk: the stage \"transplant\" of \"snapdragon\" "
     "has no limit of cold to be at risk from; give the rule or the stage a limit, or "
     "the crop limit_tender and limit_hardened"},
    {"[crops.pea]\n", "[crops.pea]\nlike = \"snapdragn\"\n",
     "farm.toml:28: crops.pea.like: there is no crop \"snapdragn\"; the nearest is \"snapdragon\""},
    {"[crops.pea]\n", "[crops.pea]\nlike = \"pea\"\n",
     "farm.toml:28: crops.pea.like: \"pea\" is like itself in the end; give one of the "
     "crops stages of its own"},
    {"crop = \"pea\"", "crop = \"pee\"",
     "farm.toml:39: succession[2].crop: there is no crop \"pee\"; the nearest is \"pea\""},
    {"plants = 180", "plants = 180.5",
     "farm.toml:35: succession[1].plants: 180.5 is no number of plants (allowed: whole "
     "numbers); give a whole number"},
    {"plants = 180\n", "\n",
     "farm.toml:32: succession[1]: nothing says how much there is to be; give one of: "
     "plants, trays, bed"},
    {"plants = 180", "plants = 180\ntrays = 2",
     "farm.toml:32: succession[1]: both \"plants\" and \"trays\" say how much there is "
     "to be; keep one of them"},
    {"bed = 12.0", "trays = 3",
     "farm.toml:40: succession[2].trays: \"pea\" begins without a container; count plants "
     "or bed, or give its first stage a container"},
    {"bed = 12.0", "bed = 0.0",
     "farm.toml:40: succession[2].bed: 0 is nothing to grow (allowed: more than 0 m); "
     "give how much there is to be"},
    {"event = \"transplant\", risk = 0.1", "event = \"transplnt\", risk = 0.1",
     "farm.toml:37: succession[1].target.event: \"snapdragon\" has no event \"transplnt\"; "
     "the nearest is \"transplant\"; all events: sow, emerge, harden_off, transplant, "
     "first_harvest, clear"},
    {"event = \"transplant\", risk = 0.1", "event = \"transplant\", by = 2027-05-15",
     "farm.toml:37: succession[1].target.by: \"by\" does not fit \"transplant\", which "
     "the grower does (allowed: on, from, risk, before_last_frost, after_last_frost, before_firs"
     "t_frost); give one of these rules"},
    {"by = 2027-08-05", "risk = 0.1",
     "farm.toml:47: succession[3].target.risk: \"risk\" does not fit \"first_harvest\", "
     "which comes when the plants are ready (allowed: by, on, in_harvest); give one of "
     "these rules"},
    {"event = \"transplant\", risk = 0.1", "event = \"transplant\", risk = 1.5",
     "farm.toml:37: succession[1].target.risk: 1.5 is out of range (allowed: 0 to 1); "
     "give a share of years, such as 0.1 for 1 year in 10"},
    {"event = \"transplant\", risk = 0.1", "event = \"transplant\"",
     "farm.toml:37: succession[1].target: nothing says on which day; give one of: on, "
     "from, risk, by, in_harvest, weeks_before_last_frost, days_before_last_frost, weeks_after_l"
     "ast_frost, days_after_last_frost, weeks_before_first_frost, days_before_first_frost"},
    {"event = \"transplant\", risk = 0.1", "event = \"transplant\", weeks_after_last_frost = -1",
     "farm.toml:37: succession[1].target.weeks_after_last_frost: -1 weeks is no number "
     "of days that can be counted from a frost (allowed: 0 to 1500 days in whole days); "
     "give whole days of 0 or more; before and after have keys of their own"},
    {"event = \"first_harvest\", by = 2027-08-05",
     "event = \"emerge\", in_harvest = { from = 2027-06-01, until = 2027-06-30, chance "
     "= 0.8 }",
     "farm.toml:47: succession[3].target.in_harvest: \"in_harvest\" does not fit \"emerge\", "
     "which is no harvest (allowed: by, on; in_harvest for \"first_harvest\"); give one "
     "of these rules"},
    {"from = 2027-03-01 }", "from = 2026-03-01 }",
     "farm.toml:41: succession[2].target.from: 2026-03-01 is outside the season (allowed: "
     "2027-01-01 to 2028-07-04); check the year, or change the start or the days of the "
     "season"},
    {"not_before = { transplant = 2027-04-10 }", "not_before = { emerge = 2027-04-10 }",
     "farm.toml:48: succession[3].not_before.emerge: \"emerge\" comes when the plants "
     "are ready and cannot wait; give the bound to what the grower does before it"},
    {"not_before = { transplant = 2027-04-10 }", "not_after = { transplant = { risk = 0.1 } }",
     "farm.toml:48: succession[3].not_after.transplant: \"risk\" does not fit not_after "
     "(allowed: by, before_last_frost, after_last_frost, before_first_frost); give a date "
     "or one of these rules"},
    {"times = 3", "times = 1",
     "farm.toml:42: succession[2].repeat.times: 1 is no repeat (allowed: 2 or more times); "
     "give the number in all, or leave repeat out"},
    {"follows = \"pea 1\"", "follows = \"pea\"",
     "farm.toml:49: succession[3].follows: \"pea\" is repeated and not one succession; "
     "name one of \"pea 1\" to \"pea 3\""},
    {"follows = \"pea 1\"", "follows = \"peas 1\"",
     "farm.toml:49: succession[3].follows: there is no succession \"peas 1\"; the nearest "
     "is \"pea 1\""},
    {"follows = \"pea 1\"\n", "\n",
     "farm.toml:50: succession[3].gap: there is nothing that it follows; name the succession "
     "whose bed it takes in follows, or leave gap out"},
    {"name = \"late snapdragon\"", "name = \"early snapdragon\"",
     "farm.toml:43: succession[3]: two successions are called \"early snapdragon\"; give "
     "each a name of its own"},
    {"gap = 5\n", "gap = 5\n[succession.stage.sew]\nhold = 3\n",
     "farm.toml:51: succession[3].stage.sew: there is no stage of \"snapdragon\" that "
     "begins with \"sew\"; the nearest is \"sow\""},
    {"wave = \"cool\", event = \"emerge\"", "wave = \"cold\", event = \"emerge\"",
     "farm.toml:52: link[1].first.wave: there is no wave \"cold\"; the nearest is \"cool\""},
    {"wave = \"cool\", event = \"emerge\"", "wave = \"cool\", event = \"pot_on\"",
     "farm.toml:52: link[1].first.event: \"early snapdragon\" has no event \"pot_on\"; "
     "the nearest is \"sow\"; all events: sow, emerge, harden_off, transplant, first_harvest, "
     "clear"},
    {"succession = \"late snapdragon\", event = \"sow\"",
     "succession = \"early snapdragon\", event = \"sow\"",
     "farm.toml:51: link[1]: \"early snapdragon\" would wait for itself; link two different "
     "successions; stages say what waits within one"},
    {"after = { days = 10 }", "after = { heat = 100.0, base = 4.0 }",
     "farm.toml:54: link[1].after: a clock that counts warmth needs a place whose air "
     "it counts; add place = \"...\" beside it"},
    {"after = { days = 10 }", "after = { heat = 100.0, base = 4.0, place = \"bed\" }",
     "farm.toml:54: link[1].after.place: there is no place \"bed\"; the nearest is \"beds\""},
    {"within = { days = 120 }", "within = { days = 5 }",
     "farm.toml:55: link[1].within.days: within 5 days, but not before 10 (allowed: 10 "
     "or more days); allow at least as many days as must pass"},
    {"within = { days = 120 }", "within = 120",
     "farm.toml:55: link[1].within: 120 is a whole number, not a table; write { key = "
     "value, ... } with keys of: days"},
    {"begins = \"sow\", where = \"germinate\"",
     "begins = \"sow\", who = \"plant\", where = \"germinate\"",
     "farm.toml:21: crops.snapdragon.stages[1]: \"sow\" comes by itself and cannot be "
     "planned as the first event; begin with what the grower does, such as \"sow\" or "
     "\"plant\""},
    {"begins = \"sow\", where = \"germinate\"", "begins = \"sow\", where = []",
     "farm.toml:21: crops.snapdragon.stages[1].where: the stage that \"sow\" begins stands "
     "nowhere; name a place or a job"},
    {"limit_tender = 0.0", "limit_tendr = 0.0",
     "farm.toml:18: crops.snapdragon.limit_tendr: there is no key \"limit_tendr\" here; "
     "the nearest is \"limit_tender\"; all keys: like, id, stages, limit_tender, limit_hardened,"
     " risk, not_before, not_after, caution, lost_at, prefer, starts_as, germination_standard"},
    {"where = \"field\", takes = { days = 21 }",
     "where = \"field\", container = \"plug 104\", spacing = { in_row = 3.0 }, takes = "
     "{ days = 21 }",
     "farm.toml:30: crops.pea.stages[2].spacing: plants stand in a container or in a bed, "
     "not in both; leave one of container and spacing out"},
    {"hold = 14", "hold = 14, lost_at = 1.5",
     "farm.toml:23: crops.snapdragon.stages[3].lost_at: the stage that \"harden_off\" begins would "
     "be lost at or below 1.5 °C, where nothing is hurt above its limit of 0 °C (allowed: 0 or "
     "less "
     "°C); give a colder lost_at, false where plants are hurt and never lost, or leave it out "
     "where "
     "they are lost at the limit"},
    {"limit_hardened = -2.2", "limit_hardened = -2.2\nlost_at = -1.0",
     "farm.toml:20: crops.snapdragon.lost_at: the stage that \"transplant\" begins would be lost "
     "at "
     "or below -1 °C, where nothing is hurt above its limit of -2.2 °C (allowed: -2.2 or less °C); "
     "give a colder lost_at, false where plants are hurt and never lost, or leave it out where "
     "they "
     "are lost at the limit"},
    {"limit_hardened = -2.2", "limit_hardened = 2.5",
     "farm.toml:19: crops.snapdragon.limit_hardened: hardened plants would be harmed by 2.5 °C, "
     "which tender ones stand down to 0 °C (allowed: 0 or less °C); hardened plants stand more "
     "cold: exchange limit_tender and limit_hardened, or mend one of them"},
    {"hold = 14", "hold = 14, lost_at = true",
     "farm.toml:23: crops.snapdragon.stages[3].lost_at: true does not say how cold a night it "
     "takes; "
     "give the night's low at or below which plants are lost, false where they never are, or leave "
     "it out where the limit is that low"},
    {"hold = 14", "hold = 14, limit = 5.0, too_hot = 4.0",
     "farm.toml:23: crops.snapdragon.stages[3].too_hot: 4 is not above the limit of cold "
     "(allowed: more than 5 °C); limit is the night's low that harms, too_hot the day's "
     "high"},
    {"hold = 14", "takes_ = 14",
     "farm.toml:23: crops.snapdragon.stages[3].takes_: there is no key \"takes_\" here; "
     "the nearest is \"takes\"; all keys: begins, who, where, takes, container, spacing, "
     "survives, hold, limit, too_hot, lost_at"},
    {"by = 2027-08-05", "in_harvest = { from = 2027-08-05, until = 2027-07-05, chance = 0.8 }",
     "farm.toml:47: succession[3].target.in_harvest: 2027-08-05 comes after 2027-07-05; "
     "give the earlier day first"},
    {"by = 2027-08-05", "by = 2027-08-05, after = 2027-03-01",
     "farm.toml:47: succession[3].target.after: there is no key \"after\" here; the nearest "
     "is \"event\"; all keys: event, by"},
    {"harvest_every = 10", "harvest_every = 0",
     "farm.toml:42: succession[2].repeat.harvest_every: 0 days do not part two harvests "
     "(allowed: 1 or more days); give the days between two first harvests"},
    {"times = 3, harvest_every = 10", "times = 100, harvest_every = 10",
     "farm.toml:42: succession[2].repeat: the last would come 990 days after the first "
     "(allowed: up to the season's 550 days); repeat less often or closer together"},
    {"event = \"sow\", from = 2027-03-01", "event = \"sow\", from = \"March\"",
     "farm.toml:41: succession[2].target.from: \"March\" is a text, not a date; write "
     "year-month-day without quotes, such as 2027-03-01"},
    {"crop = \"pea\"", "crop = \"pea\"\nname = \"\"",
     "farm.toml:40: succession[2].name: the text is empty; give a name"},
    {"of = \"all\"", "of = \"last\"",
     "farm.toml:52: link[1].first.of: there is no choice \"last\" (allowed: \"all\", \"first\");"
     " the nearest is \"all\""},
    {"wave = \"cool\", event = \"emerge\", of = \"all\"",
     "succession = \"early snapdragon\", event = \"emerge\", of = \"all\"",
     "farm.toml:52: link[1].first.of: a single succession has no first and no last member; "
     "leave of out, or name a wave"},
    {"succession = \"late snapdragon\", event = \"sow\"", "event = \"sow\"",
     "farm.toml:53: link[1].then: nothing says whose event it is; give one of: succession, "
     "wave"},
    {"within = { days = 120 }", "within = { days = 0 }",
     "farm.toml:55: link[1].within.days: 0 days leave no day (allowed: more than 0 days); "
     "give the most days that may pass, or leave it out"},
    {"gap = 5", "gap = -5",
     "farm.toml:50: succession[3].gap: a gap cannot have -5 days (allowed: 0 to 550 days); "
     "give the days between the clearing of the succession that it follows and its moving "
     "in"},
    {"follows = \"pea 1\"", "follows = \"late snapdragon\"",
     "farm.toml:49: succession[3].follows: \"late snapdragon\" would wait for itself; "
     "link two different successions; stages say what waits within one"},
    {"where = \"field\", spacing = { rows = 2, in_row = 5.0 }, takes = { weeks = 9 }",
     "where = \"field\", spacing = { rows = 2, in_row = 5.0 }, takes = { weeks = [9, 8] "
     "}",
     "farm.toml:29: crops.pea.stages[1].takes.weeks: [9, 8] does not rise; exchange the "
     "two"},
    {"heat = 620.0, base = 4.0",
     "heat = 620.0, base = 4.0, upper = 30.0, method = \"average_floored\", cutoff = \"vertical\"",
     "farm.toml:24: crops.snapdragon.stages[4].takes.cutoff: average_floored has no vertical "
     "cutoff (allowed: horizontal); use the horizontal cutoff, or another method"},
    {"takes = { days = 8 }", "takes = { days_between = 8, low = 5.0, high = 2.0 }",
     "farm.toml:23: crops.snapdragon.stages[3].takes.low: low 5.0 is above high 2.0 (allowed: "
     "at most high, 2.0 °C); exchange them"},
    {"takes = { days = 8 }",
     "takes = { all = [{ days = 8, gate = { day_length_at_most = 12.0 } }], gate = { day_length_"
     "at_most = 11.0 } }",
     "farm.toml:23: crops.snapdragon.stages[3].takes.gate: the clock has a gate already; "
     "give the gate to the group or to its members, not to both"},
    {"[[link]]", "[link]",
     "farm.toml:51: link: { first = { wave = \"cool\", event = \"emerge\", of = \"all\" "
     "}, t ... is a table, not a list; write [[link]] for each of them"},
};

broken const us_cases[] = {
    {"day = 72", "day = \"hot\"",
     "farm.toml:6: places.mat.day: \"hot\" is a text, not a number; write a number of "
     "°F"},
    {"heat_lift = 16", "heat_lift = -16",
     "farm.toml:7: places.frame.heat_lift: -16 is not above 0 (allowed: more than 0 °F); "
     "give how far the heater can raise the air, or leave it out"},
    {"bed = 400", "bed = -400",
     "farm.toml:8: places.beds.bed: -400 is negative (allowed: 0 or more feet); give the "
     "length of bed"},
    {"medium = 1.5", "medium = 0",
     "farm.toml:10: containers.flat.medium: 0 is not above 0 (allowed: more than 0 quarts); "
     "give what fills one tray"},
    {"in_row = 9", "in_row = -9",
     "farm.toml:15: crops.zinnia.stages[3].spacing.in_row: -9 is no distance between plants "
     "(allowed: more than 0 inches); give the distance between the plants of a row"},
    {"heat = 600", "heat = -600",
     "farm.toml:14: crops.zinnia.stages[2].takes.heat: -600 is negative (allowed: 0 or "
     "more °F days); give the sum above the base"},
    {"upper = 86", "upper = 40",
     "farm.toml:14: crops.zinnia.stages[2].takes.upper: 40 is not above the base (allowed: "
     "more than the base, 50 °F); give an upper threshold above the base, or none"},
    {"cold_nights = { warmer = 9 }", "cold_nights = { warmer = 0 }",
     "farm.toml:7: places.frame.cold_nights.warmer: 0 is not above 0 (allowed: more than "
     "0 °F); give how much warmer those nights become"},
    {"bed = 40 ", "bed = -40 ",
     "farm.toml:19: succession[1].bed: -40 is nothing to grow (allowed: more than 0 feet); "
     "give how much there is to be"},
    {"limit = 28", "limit = 50, too_hot = 45",
     "farm.toml:15: crops.zinnia.stages[3].too_hot: 45 is not above the limit of cold "
     "(allowed: more than 50 °F); limit is the night's low that harms, too_hot the day's "
     "high"},
};

}  // namespace

TEST_CASE("a plan with one thing broken is refused with the whole sentence") {
    REQUIRE_NOTHROW(parse_plan(metric_plan, "farm.toml"));
    for (broken const& one : metric_cases) {
        CAPTURE(one.sound, one.changed);
        CHECK(message_of(std::string{metric_plan}, one) == one.message);
    }
}

TEST_CASE("a plan in US units is refused in US units") {
    REQUIRE_NOTHROW(parse_plan(us_plan, "farm.toml"));
    for (broken const& one : us_cases) {
        CAPTURE(one.sound, one.changed);
        CHECK(message_of(std::string{us_plan}, one) == one.message);
    }
}

TEST_CASE("a fault keeps its parts beside its sentence") {
    std::string text{metric_plan};
    text.replace(text.find("-2.2"), 4, "nan ");
    try {
        (void)parse_plan(text, "farm.toml");
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(fault.code() == "number.not_finite");
        CHECK(fault.details().field == "crops.snapdragon.limit_hardened");
        CHECK(fault.details().value == "nan");
        CHECK(fault.details().line == 19);
        CHECK(fault.details().remedy == "give a finite number of °C");
    }
}

TEST_CASE("what is not TOML is refused with its line") {
    for (broken const& one :
         {broken{"2027-01-01", "2027-02-30", "farm.toml:8: "},
          broken{"[site]", "[site", "farm.toml:6: "}, broken{"title = ", "title ", "farm.toml:3: "},
          broken{"[containers]", "[places]", "farm.toml:15: "}}) {
        CAPTURE(one.changed);
        CHECK(message_of(std::string{metric_plan}, one).starts_with(one.message));
    }
}

TEST_CASE("what the TOML reader takes for granted is refused too") {
    for (char const* header : {"[=", "[ ", "[[=", "[\x01]"}) {
        try {
            (void)parse_plan(fmt::format("format = 1\n\n{}\n", header), "farm.toml");
            FAIL("accepted");
        } catch (invalid_input const& fault) {
            CHECK(fault.what() ==
                  std::string{"farm.toml:3: a table header has no name that can be read; write "
                              "[name], or [[name]] for a table of a list"});
        }
    }
}

TEST_CASE("a tree without lines is refused by field alone") {
    plan_tree tree = plan_tree::table();
    tree.set("format", plan_tree{1});
    tree.set("units", plan_tree{"metric"});
    tree.set("year", plan_tree{2027});
    tree.set("site", plan_tree::table().set("latitude", plan_tree{95.0}));
    try {
        (void)plan_from_tree(tree);
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(std::string{fault.what()} ==
              "plan: site.latitude: 95 is out of range (allowed: -90 to 90 degrees north); give "
              "degrees, negative south of the equator - or is that the longitude?");
    }
}
