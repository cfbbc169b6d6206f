// A plot whose harvests can be reckoned by hand: sown on 1 May 2027, picked from 30 June (offset
// 180) for 20 days (to offset 200), in years that differ on a single day or night.
#ifndef EPICOTYL_TESTS_PLOT_WITH_HARVEST_HPP
#define EPICOTYL_TESTS_PLOT_WITH_HARVEST_HPP

#include <string>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_record.hpp>

namespace plot {

namespace ep = epicotyl;

/// A year with one night of -1 °C, or one day of 36 °C, at an offset; all else is 5 to 25 °C.
struct odd_year {
    int cold = -1;
    int hot = -1;
};

inline std::string const text = R"(format = 1
units = "metric"
year = 2027
title = "Invented"
defaults = { risk = false, reliability = 0.5 }
site = { latitude = 45.0, season_days = 365 }
places = { beds = { for = ["field"] } }
[crops.bean]
stages = [
  { begins = "sow", where = "field", takes = { days = 60 }, survives = 0.8 },
  { begins = "first_harvest", where = "field", takes = { days = 20 }, limit = 0.0, too_hot = 35.0 },
]
[crops.leek]
stages = [{ begins = "sow", where = "field", takes = { days = 60 } }]
[[succession]]
name = "bean 1"
crop = "bean"
plants = 125
wave = "summer"
target = { event = "sow", on = 2027-05-01 }
[[succession]]
name = "bean 2"
crop = "bean"
plants = 125
target = { event = "sow", on = 2027-06-05 }
[[succession]]
name = "leek"
crop = "leek"
plants = 10
wave = "summer"
target = { event = "sow", on = 2027-05-01 }
)";

inline std::string changed(std::string of, std::string const& from, std::string const& to) {
    std::size_t const at = of.find(from);
    return at == std::string::npos ? "" : of.replace(at, from.size(), to);
}

/// Year 2001 and on, which hold no leap day before 2004.
inline ep::climate weather(std::vector<odd_year> const& years, int season_days = 365) {
    ep::day const start = ep::make_day(2001, 1, 1);
    int const length = 366 * static_cast<int>(years.size());
    std::vector<double> low(static_cast<std::size_t>(length), 5.0);
    std::vector<double> high(low.size(), 25.0);
    for (int y = 0; y < static_cast<int>(years.size()); ++y) {
        auto const first = static_cast<int>((ep::make_day(2001 + y, 1, 1) - start).count());
        odd_year const& odd = years[static_cast<std::size_t>(y)];
        if (odd.cold >= 0) { low[static_cast<std::size_t>(first + odd.cold)] = -1.0; }
        if (odd.hot >= 0) { high[static_cast<std::size_t>(first + odd.hot)] = 36.0; }
    }
    return ep::climate{ep::daily_record{start, std::move(low), std::move(high)},
                       ep::latitude{45.0},
                       {.season_days = season_days}};
}

inline ep::prospect prospect_of(std::vector<odd_year> const& years, std::string const& of = text,
                                int season_days = 365) {
    ep::climate const under = weather(years, season_days);
    return ep::simulate(ep::schedule(ep::parse_plan(of), under), under, 1);
}

inline ep::day in_2027(unsigned month, unsigned day) {
    return ep::make_day(2027, month, day);
}

}  // namespace plot

#endif
