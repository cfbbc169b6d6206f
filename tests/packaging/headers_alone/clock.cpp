// Degree-days and day length of a few days, and how long a wait takes.
#include <cstdio>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/days.hpp>

namespace ep = epicotyl;

std::string week_of_midsummer();

int main() {
    std::vector<double> const low(60, 8.0);
    std::vector<double> const high(60, 16.0);
    ep::clock const warm = ep::clock::heat({.amount = ep::thermal_time::from_kelvin_days(80.0),
                                            .base = ep::temperature::from_celsius(4.0)});
    ep::ready_map const ready = ep::make_ready_map(warm, {low, high, {}});
    double const longest = ep::day_length(ep::latitude{51.9}, ep::make_day(2027, 6, 21));
    std::printf("%d, %.2f, %s\n", ready(0), longest, week_of_midsummer().c_str());
}
