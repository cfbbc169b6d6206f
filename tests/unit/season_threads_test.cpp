// What runs on several threads, and what several threads may do at once. It stands in a file of
// its own so that ThreadSanitizer can be asked about it alone.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <future>
#include <string>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/open_season.hpp>

#include "catch.hpp"

namespace ep = epicotyl;

namespace {

ep::opened_season demo_farm() {
    return ep::open_season(
        std::filesystem::path{EPICOTYL_SOURCE_DIR} / "examples/quillet_hollow/farm.toml",
        {.threads = 1});
}

/// Batches of lettuce, each `chained` of which follow one another.
ep::plan batches(int count, int chained) {
    ep::plan_parts parts{.window = ep::season{ep::make_day(2027, 1, 1), 300},
                         .where = ep::latitude{45.0}};
    parts.places = {{.name = "beds", .jobs = {ep::job::field}}};
    for (int k = 0; k < 3; ++k) {
        parts.crops.push_back(
            {.name = fmt::format("lettuce {}", k),
             .stages = {{.begins = "sow",
                         .where = {"field"},
                         .takes = ep::clock::heat(
                             {.amount = ep::thermal_time::from_kelvin_days(50.0 + 20.0 * k)})},
                        {.begins = "first_harvest",
                         .where = {"field"},
                         .takes = ep::clock::days(8.0)}},
             .limit_hardened = ep::temperature::from_celsius(-1.0)});
    }
    for (int i = 0; i < count; ++i) {
        parts.successions.push_back(
            {.name = fmt::format("batch {}", i),
             .crop = fmt::format("lettuce {}", i % 3),
             .amount = {.value = 10.0},
             .target = {"first_harvest",
                        ep::by_rule{ep::make_day(2027, 5, 1) + ep::days{i * 120 / count}}}});
        if (i % chained != 0) {
            parts.links.push_back(
                {.first = {.succession = fmt::format("batch {}", i - 1), .event = "sow"},
                 .then = {.succession = fmt::format("batch {}", i), .event = "sow"},
                 .after = ep::clock::days(1.0)});
        }
    }
    return ep::plan{std::move(parts)};
}

/// Twelve years between -6 and 24 °C.
ep::climate wavy_climate() {
    std::vector<double> low;
    std::vector<double> high;
    for (int d = 0; d < 13 * 365; ++d) {
        double const wave = 10.0 * std::sin((d % 365 - 100) / 58.1) + (d * 7 % 11) * 0.3;
        low.push_back(4.0 + wave);
        high.push_back(12.0 + wave);
    }
    return ep::climate{ep::daily_record{ep::make_day(2001, 1, 1), low, high},
                       ep::latitude{45.0},
                       {.season_days = 300}};
}

}  // namespace

TEST_CASE("successions are shared out among threads, or their years where all are linked") {
    ep::climate const under = wavy_climate();
    for (int const chained : {1, 2, 60}) {
        ep::calendar const planned = ep::schedule(batches(120, chained), under);
        REQUIRE(planned.unresolved().empty());
        ep::climate const warmer = under.shifted(ep::temperature_span::from_kelvin(0.5));
        ep::prospect const expected = ep::simulate(planned, warmer, 1);
        for (int const threads : {2, 3, 8}) {
            CAPTURE(chained, threads);
            ep::prospect const again = ep::simulate(planned, warmer, threads);
            CHECK(std::ranges::equal(again.days_all(), expected.days_all()));
        }
    }
}

TEST_CASE("a prospect is the same on any number of threads") {
    ep::opened_season const farm = demo_farm();
    auto const expected = farm.prospect.days_all();
    REQUIRE(!expected.empty());
    for (int const threads : {0, 1, 2, 3, 8, 64}) {
        ep::prospect const again = ep::simulate(farm.calendar, farm.climate, threads);
        CAPTURE(threads);
        CHECK(std::ranges::equal(again.days_all(), expected));
        CHECK(ep::to_string(again) == ep::to_string(farm.prospect));
    }
}

TEST_CASE("one plan and one climate may be planned by several threads at once") {
    ep::opened_season const farm = demo_farm();
    auto const plan_and_print = [&] {
        ep::calendar const planned = ep::schedule(farm.plan, farm.climate);
        return ep::to_string(planned) + ep::to_string(ep::simulate(planned, farm.climate, 2));
    };
    std::vector<std::future<std::string>> printed;
    for (int i = 0; i < 3; ++i) {
        printed.push_back(std::async(std::launch::async, plan_and_print));
    }
    std::string const expected = ep::to_string(farm.calendar) + ep::to_string(farm.prospect);
    for (std::future<std::string>& one : printed) { CHECK(one.get() == expected); }
}
