// A plan of very many successions, made in code, scheduled and gone through: time and memory.
// Prints; run by hand from an optimised build:
//
//     cmake --preset release && cmake --build --preset release --target epicotyl_bench_many
//     build/release/tests/epicotyl_bench_many [successions]
//
// The farm and its weather are invented: forty crops of two stages in two places, each wanted on
// another day, a tenth of the successions waiting for the one before.
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/epicotyl.hpp>

namespace ep = epicotyl;

namespace {

constexpr int crops = 40;
constexpr int season_days = 550;
constexpr int years = 30;

/// Memory of this process [MiB], by the name that Linux has for it; 0 where it is not told.
double memory(std::string const& kind) {
    std::ifstream status{"/proc/self/status"};
    for (std::string word; status >> word;) {
        double kibibytes = 0.0;
        if (word == kind && status >> kibibytes) { return kibibytes / 1024.0; }
    }
    return 0.0;
}

void timed(char const* name, std::function<void()> const& work) {
    auto const begin = std::chrono::steady_clock::now();
    work();
    std::chrono::duration<double> const taken = std::chrono::steady_clock::now() - begin;
    fmt::print("{:22} {:8.2f} s   memory {:7.0f} MiB, at most {:7.0f}\n", name, taken.count(),
               memory("VmRSS:"), memory("VmHWM:"));
}

ep::daily_record weather() {
    std::vector<double> low;
    for (int d = 0; d < 366 * (years + 3); ++d) {
        double const wave = -std::cos(2.0 * 3.14159 * (d % 365 - 20) / 365.0);
        low.push_back(7.0 + 10.0 * wave + (d * 37 % 101 - 50) * 0.08);
    }
    std::vector<double> high = low;
    for (double& one : high) { one += 9.0; }
    return ep::daily_record{ep::make_day(1989, 1, 1), std::move(low), std::move(high)};
}

ep::stage stage_of(char const* begins, char const* where, double heat) {
    ep::stage made{.begins = begins, .where = {where}};
    made.takes = ep::clock::heat({.amount = ep::thermal_time::from_kelvin_days(heat),
                                  .base = ep::temperature::from_celsius(4.0)});
    return made;
}

ep::plan_parts farm(int successions) {
    ep::plan_parts parts{.window = ep::season{ep::make_day(2027, 1, 1), season_days},
                         .where = ep::latitude{45.0},
                         .risk = ep::risk_setting::off()};
    parts.places = {{.name = "house", .jobs = {ep::job::grow}},
                    {.name = "beds", .jobs = {ep::job::field}}};
    for (int k = 0; k < crops; ++k) {
        ep::crop one{.name = fmt::format("crop {}", k)};
        one.stages = {stage_of("sow", "house", 300.0 + 5.0 * k),
                      stage_of("transplant", "beds", 400.0 + 7.0 * k)};
        parts.crops.push_back(std::move(one));
    }
    for (int i = 0; i < successions; ++i) {
        ep::day const by = ep::make_day(2027, 8, 1) + ep::days{i / crops * 37 % 100};
        parts.successions.push_back({.name = fmt::format("batch {}", i),
                                     .crop = fmt::format("crop {}", i % crops),
                                     .amount = {.value = 50.0},
                                     .target = {"clear", ep::by_rule{by}}});
    }
    for (int i = 0; i + 1 < successions; i += 10) {
        parts.links.push_back(
            {.first = {.succession = fmt::format("batch {}", i), .event = "sow"},
             .then = {.succession = fmt::format("batch {}", i + 1), .event = "transplant"},
             .after = ep::clock::days(5.0)});
    }
    return parts;
}

}  // namespace

int main(int argc, char** argv) {
    int const successions = argc > 1 ? std::atoi(argv[1]) : 1'000'000;
    ep::climate const under{
        weather(),
        ep::latitude{45.0},
        {.season_days = season_days, .years = ep::year_selection::latest(years)}};
    ep::climate const warmer = under.shifted(ep::temperature_span::from_kelvin(0.5));
    ep::plan_parts parts = farm(successions);
    fmt::print("{} successions of 3 events, {} season years, one thread\n", successions, years);
    std::vector<ep::plan> made;
    std::vector<ep::calendar> planned;
    std::vector<ep::prospect> seen;
    timed("parts, at the start", [] {});
    timed("plan in code", [&] { made.emplace_back(std::move(parts)); });
    timed("schedule", [&] { planned.push_back(ep::schedule(made.front(), under)); });
    timed("simulate", [&] { seen.push_back(ep::simulate(planned.front(), under, 1)); });
    timed("simulate, other days",
          [&] { seen.push_back(ep::simulate(planned.front(), warmer, 1)); });
    if (!planned.front().unresolved().empty()) {
        fmt::print("unresolved: {}\n", planned.front().unresolved().front().sentence);
        return 1;
    }
    return 0;
}
