// Edits of a plan, beside the schedule that answers them: on the demo farm, and on plans of many
// successions. Prints medians; run by hand from an optimised build:
//
//     cmake --preset release && cmake --build --preset release --target epicotyl_bench_edits
//     build/release/tests/epicotyl_bench_edits
#include <algorithm>
#include <chrono>
#include <functional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/epicotyl.hpp>

namespace ep = epicotyl;

namespace {

double median_ms(int times, std::function<void()> const& work) {
    std::vector<double> taken;
    for (int k = 0; k < times; ++k) {
        auto const begin = std::chrono::steady_clock::now();
        work();
        auto const end = std::chrono::steady_clock::now();
        taken.push_back(std::chrono::duration<double, std::milli>(end - begin).count());
    }
    std::sort(taken.begin(), taken.end());
    return taken[taken.size() / 2];
}

void print_times(ep::plan const& farm, ep::climate const& under, std::string const& succession,
                 std::string const& place) {
    int const times = farm.successions().size() > 1000 ? 9 : 51;
    double const built = median_ms(times, [&] { (void)ep::plan{farm.parts()}; });
    double const amount = median_ms(times, [&] {
        (void)ep::with_amount(farm, succession, {ep::amount::measure::plants, 40.0});
    });
    double const moved =
        median_ms(times, [&] { (void)ep::with_target_moved(farm, succession, ep::days{7}); });
    double const heater = median_ms(times, [&] { (void)ep::without_heater(farm, place); });
    double const planned = median_ms(3, [&] { (void)ep::schedule(farm, under); });
    fmt::print("{:>11} {:>6} {:>8.2f} ms {:>8.2f} ms {:>8.2f} ms {:>8.2f} ms {:>8.0f} ms\n",
               farm.successions().size(),
               farm.parts().units == ep::unit_system::us ? "us" : "metric", built, amount, moved,
               heater, planned);
}

/// The demo farm's successions over and over, links left out.
ep::plan many_of(ep::plan const& farm, std::size_t count, ep::unit_system units) {
    ep::plan_parts parts = farm.parts();
    std::vector<ep::succession> const said = parts.successions;
    parts.units = units;
    parts.successions.clear();
    parts.links.clear();
    for (std::size_t i = 0; parts.successions.size() < count; ++i) {
        ep::succession one = said[i % said.size()];
        one.repeat.reset();
        one.follows.clear();
        one.gap = 0;
        one.name = fmt::format("{} of {}", i, one.name.empty() ? one.crop : one.name);
        one.id.clear();
        parts.successions.push_back(std::move(one));
    }
    return ep::plan{std::move(parts)};
}

}  // namespace

int main() {
    ep::opened_season const opened =
        ep::open_season(EPICOTYL_SOURCE_DIR "/examples/quillet_hollow/farm.toml");
    fmt::print("successions  units       plan      amount        week     heater    schedule\n");
    std::string const first = opened.plan.successions()[0].name;
    print_times(opened.plan, opened.climate, first, "glasshouse");
    for (ep::unit_system const units : {ep::unit_system::metric, ep::unit_system::us}) {
        for (std::size_t const count : {std::size_t{1000}, std::size_t{10'000}}) {
            ep::plan const farm = many_of(opened.plan, count, units);
            print_times(farm, opened.climate, farm.successions()[0].name, "glasshouse");
        }
    }
}
