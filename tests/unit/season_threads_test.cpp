// What runs on several threads, and what several threads may do at once. It stands in a file of
// its own so that ThreadSanitizer can be asked about it alone.
#include <algorithm>
#include <filesystem>
#include <future>
#include <string>
#include <vector>

#include <epicotyl/season/open_season.hpp>
#include <epicotyl/season/schedule.hpp>
#include <epicotyl/season/simulate.hpp>

#include "catch.hpp"

namespace ep = epicotyl;

namespace {

ep::opened_season demo_farm() {
    return ep::open_season(
        std::filesystem::path{EPICOTYL_SOURCE_DIR} / "examples/quillet_hollow/farm.toml",
        {.threads = 1});
}

}  // namespace

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
