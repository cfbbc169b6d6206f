// Days to emergence against a published table.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/rate.hpp>
#include <epicotyl/clock/ready_map.hpp>

#include "reference_data.hpp"

namespace ep = epicotyl;

namespace {

/// A crop's straight line of 1 / days against temperature, and how badly it fits at worst.
struct fitted_line {
    double base;          // °C
    double sum;           // K day
    double worst;         // greatest share by which it misses a day of its own
    std::string used_at;  // temperatures it was fitted to, "10 15 20 25"
};

/// Cells of a line of which some stand in quotes and hold commas.
std::vector<std::string> cells_of(std::string const& line) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (char const c : line) {
        if (c == '"') {
            quoted = !quoted;
        } else if (c == ',' && !quoted) {
            cells.emplace_back();
        } else if (c != '\r') {
            cells.back() += c;
        }
    }
    return cells;
}

std::vector<std::vector<std::string>> table(char const* name) {
    std::ifstream stream{reference::check_file(name)};
    REQUIRE(stream);
    std::vector<std::vector<std::string>> rows;
    std::string line;
    std::getline(stream, line);
    while (std::getline(stream, line)) { rows.push_back(cells_of(line)); }
    return rows;
}

bool is_used(fitted_line const& line, double celsius) {
    std::istringstream words{line.used_at};
    for (double at = 0.0; words >> at;) {
        if (at == celsius) { return true; }
    }
    return false;
}

/// Germination by the straight line alone, at a temperature held all day: below the optimum.
ep::germination_wait wait_of(fitted_line const& line) {
    return {.amount = ep::thermal_time::from_kelvin_days(line.sum),
            .base = ep::temperature::from_celsius(line.base),
            .optimum = ep::temperature::from_celsius(30.0),
            .ceiling = ep::temperature::from_celsius(40.0)};
}

}  // namespace

TEST_CASE("predicted days to emergence against those of Harrington and Minges 1954") {
    if (reference::is_missing()) { return; }
    // Harrington and Minges 1954, in Knott's Handbook 1997: days to emergence by soil temperature,
    // sown 1/2 inch deep, as reprinted in "Teaching Organic Farming and Gardening", unit 1.3. Base
    // and sum: a straight line of 1 / days up to 25 °C. A line through whole days of 2 to 170
    // misses by more at the cold end, so a crop is held to what its own line misses by, and crops
    // whose line fits to within a fifth are held to a fifth.
    std::map<std::string, fitted_line> lines;
    for (auto const& row : table("germination_thermal_time_derived.csv")) {
        lines[row[0]] = {std::stod(row[2]), std::stod(row[3]), std::stod(row[4]), row[5]};
    }
    REQUIRE(lines.size() == 21);

    std::string printed = fmt::format("days to emergence, published / predicted\n{:13}", "");
    for (int celsius = 0; celsius <= 25; celsius += 5) {
        printed += fmt::format("{:>14}", fmt::format("{} °C", celsius));
    }
    printed += fmt::format("{:>14}\n", "mean error");
    double sum_of_means = 0.0;
    int crops = 0;
    int within_a_fifth = 0;
    for (auto const& row : table("germination_days_harrington_minges_1954.csv")) {
        auto const found = lines.find(row[0]);
        if (found == lines.end()) { continue; }
        fitted_line const& line = found->second;
        CAPTURE(row[0]);
        printed += fmt::format("{:13}", row[0]);
        double misses = 0.0;
        int points = 0;
        double worst = 0.0;
        for (std::size_t column = 1; column < row.size() && column <= 6; ++column) {
            double const celsius = 5.0 * static_cast<double>(column - 1);
            std::string const& published = row[column];
            if (published.empty() || published == "NG" || !is_used(line, celsius)) {
                printed += fmt::format("{:>14}", published);
                continue;
            }
            double const days = std::stod(published);
            double const rate = ep::germination_rate(celsius, wait_of(line));
            if (rate == 0.0) {
                // The line's base lies above a temperature at which some did come up.
                printed += fmt::format("{:>14}", published + " / never");
                CHECK(line.worst > 9.0);
                continue;
            }
            double const predicted = line.sum / rate;
            printed += fmt::format("{:>14}", fmt::format("{} / {:.1f}", published, predicted));
            misses += std::abs(predicted - days);
            worst = std::max(worst, std::abs(predicted / days - 1.0));
            ++points;
        }
        // Worst error of a line as printed, to two decimals; base and sum are rounded too.
        CHECK(worst <= line.worst + 0.01);
        if (line.worst <= 0.20) {
            CHECK(worst <= 0.20);
            ++within_a_fifth;
        }
        REQUIRE(points >= 3);
        printed += fmt::format("{:>9.1f} days\n", misses / points);
        sum_of_means += misses / points;
        ++crops;
    }
    CHECK(crops == 21);
    CHECK(within_a_fifth == 13);
    fmt::print("{}mean absolute error over crops: {:.2f} days\n", printed, sum_of_means / crops);
}

TEST_CASE("onion by Harrington 1962: 80 K day above 2.5 °C to half of the seeds") {
    // Four days at 22.5 °C, sixteen at 7.5 °C; in "Onions and other vegetable alliums", page 109.
    ep::germination_wait const onion{.amount = ep::thermal_time::from_kelvin_days(80.0),
                                     .base = ep::temperature::from_celsius(2.5),
                                     .optimum = ep::temperature::from_celsius(25.0),
                                     .ceiling = ep::temperature::from_celsius(35.0)};
    for (auto const& [celsius, days] : {std::pair{22.5, 4}, std::pair{7.5, 16}}) {
        CHECK(80.0 / ep::germination_rate(celsius, onion) == Approx(days));
        std::vector<double> const air(30, celsius);
        std::vector<double> const hours(30, 12.0);
        ep::day_conditions const mat{.tmin = air, .tmax = air, .day_length = hours};
        ep::ready_map const ready{ep::daily_rates(ep::clock::germination(onion), mat), 80.0};
        CHECK(ready(0) == days);
    }
}
