// Planting windows of one season year, beside the least that any solver of the network must do: one
// topological sort of its graph by Boost and one pass over all its edges. Prints medians, ratios
// and growth; run by hand from an optimised build:
//
//     cmake --preset release && cmake --build --preset release --target epicotyl_bench_windows
//     build/release/tests/epicotyl_bench_windows
#include <algorithm>
#include <chrono>
#include <functional>
#include <iterator>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <boost/graph/topological_sort.hpp>

#include <epicotyl/epicotyl.hpp>

#include "../../src/season/windows/windows_data.hpp"

namespace ep = epicotyl;

namespace {

constexpr int season_days = 550;

/// `count` successions of six events, half as many links, in one invented climate.
ep::plan farm_of(int count) {
    ep::plan_parts parts{.window = ep::season{ep::make_day(2027, 1, 1), season_days},
                         .where = ep::latitude{50.0}};
    parts.risk = ep::risk_setting::off();
    parts.places = {{.name = "house", .jobs = {ep::job::grow}},
                    {.name = "beds", .jobs = {ep::job::field}}};
    for (int k = 0; k < 40; ++k) {
        parts.crops.push_back(
            {.name = fmt::format("crop {}", k),
             .stages = {
                 {.begins = "sow", .where = {"grow"}, .takes = ep::clock::days(5 + k % 7)},
                 {.begins = "emerge", .where = {"grow"}, .takes = ep::clock::days(14 + k % 9)},
                 {.begins = "pot_on", .where = {"grow"}, .takes = ep::clock::days(10 + k % 5)},
                 {.begins = "transplant",
                  .where = {"field"},
                  .takes = ep::clock::days(30 + k % 20)},
                 {.begins = "first_harvest", .where = {"field"}, .takes = ep::clock::days(20)}}});
    }
    for (int i = 0; i < count; ++i) {
        parts.successions.push_back(
            {.name = fmt::format("batch {}", i),
             .crop = fmt::format("crop {}", i % 40),
             .amount = {.value = 1.0},
             .target = {"first_harvest", ep::by_rule{ep::make_day(2027, 1, 1) + ep::days{500}}}});
        // Beds change hands in chains of five, so that every chain fits into the season.
        if (i % 10 >= 1 && i % 10 <= 4) {
            parts.links.push_back(
                {.first = {.succession = fmt::format("batch {}", i - 1), .event = "transplant"},
                 .then = {.succession = fmt::format("batch {}", i), .event = "transplant"},
                 .after = ep::clock::days(3)});
        }
        if (i % 10 == 9) {
            parts.links.push_back(
                {.first = {.succession = fmt::format("batch {}", i - 1), .event = "sow"},
                 .then = {.succession = fmt::format("batch {}", i), .event = "sow"},
                 .after = ep::clock::days(2)});
        }
    }
    return ep::plan{std::move(parts)};
}

double median_ms(int times, std::function<void()> const& work) {
    std::vector<double> taken;
    for (int k = 0; k < times; ++k) {
        auto const begin = std::chrono::steady_clock::now();
        work();
        taken.push_back(
            std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin)
                .count());
    }
    std::sort(taken.begin(), taken.end());
    return taken[taken.size() / 2];
}

}  // namespace

int main() {
    ep::day const start = ep::make_day(2001, 1, 1);
    std::vector<double> const low(600, 5.0);
    std::vector<double> const high(600, 15.0);
    ep::climate const under{ep::daily_record{start, low, high}, ep::latitude{50.0}};
    fmt::print(
        "successions  links   schedule    frame  network    solve  windows  sort + pass  ratio  "
        "µs a succession\n");
    for (int count : {1000, 10'000, 100'000}) {
        ep::plan const farm = farm_of(count);
        auto const begin = std::chrono::steady_clock::now();
        ep::calendar const planned = ep::schedule(farm, under);
        double const scheduled =
            std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin)
                .count();
        int const times = count <= 10'000 ? 15 : 5;

        auto const frame = std::make_shared<ep::detail::window_frame const>(
            ep::detail::make_window_frame(planned.data()));
        double const framed =
            median_ms(times, [&] { (void)ep::detail::make_window_frame(planned.data()); });
        std::vector<int> all(static_cast<std::size_t>(count));
        for (int i = 0; i < count; ++i) { all[static_cast<std::size_t>(i)] = i; }
        std::vector<int> first(all.size());
        auto const network = ep::detail::make_window_network(*frame, all, 0, first);
        double const built =
            median_ms(times, [&] { (void)ep::detail::make_window_network(*frame, all, 0, first); });
        double const solved = median_ms(times, [&] { (void)network->net.extremes(); });
        double const windows = median_ms(times, [&] { (void)ep::planting_windows{planned, 2001}; });

        // Outcomes are bound from both sides, which makes cycles of two; the sort gets the graph of
        // lower edges alone.
        auto const& net = network->net;
        boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property,
                              std::size_t>
            lower(net.size());
        for (std::size_t e = 0; e < net.edge_count(); ++e) {
            auto const& edge = net.edge(e);
            if (edge.kind == ep::edge_kind::no_sooner) {
                boost::add_edge(edge.from, edge.to, e, lower);
            }
        }
        int used = 0;
        double const least = median_ms(times, [&] {
            std::vector<std::size_t> order;
            order.reserve(net.size());
            boost::topological_sort(lower, std::back_inserter(order));
            std::vector<int> days(net.size(), 0);
            for (auto v = order.rbegin(); v != order.rend(); ++v) {
                for (auto [arc, end] = boost::out_edges(*v, lower); arc != end; ++arc) {
                    int& to = days[boost::target(*arc, lower)];
                    to = std::max(to, net.edge(lower[*arc]).map(days[*v]));
                }
            }
            used += days.back();
        });
        if (used < 0) { return 1; }
        fmt::print(
            "{:>11} {:>6} {:>7.0f} ms {:>5.1f} ms {:>5.1f} ms {:>5.1f} ms {:>5.1f} ms {:>9.2f} ms "
            "{:>6.2f} {:>8.2f}\n",
            count, farm.links().size(), scheduled, framed, built, solved, windows, least,
            windows / least, 1000.0 * windows / count);
    }
}
