#include "suspicions.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../plan/units.hpp"
#include "../rows/say.hpp"

namespace epicotyl::detail {

namespace {

// From memory, and wide. Towards the equator the quarters of a year differ less and less: within 10
// degrees by 12 K at most, at 20 degrees by 20 K. No place so near a pole is so warm over the year.
// Nowhere is the winter of the calendar so much warmer than its summer; monsoons bring a few
// kelvin.
constexpr double equatorial_latitude = 10.0;
constexpr double tropical_latitude = 20.0;
constexpr double most_at_equator = 12.0;
constexpr double more_a_degree = 0.8;
constexpr double polar_latitude = 66.5;
constexpr double warmest_at_poles = 9.0;
constexpr double most_against_season = 5.0;

/// Days without which a quarter of the year says nothing.
constexpr int fewest_days = 60;

/// Mean of a record over December to February, March to May, and so on, °C.
struct quarter_means {
    std::array<double, 4> celsius = {};
    bool is_known = true;
};

[[nodiscard]] quarter_means means_of(daily_record const& record) {
    std::array<double, 4> sums = {};
    std::array<int, 4> counts = {};
    // The latest of a long record say enough.
    int const last = year_of(record.end());
    int const first = std::max(year_of(record.start()), last - usual_years);
    for (int year = first; year <= last; ++year) {
        for (unsigned month = 1; month <= 12; ++month) {
            date::year_month_day const begin{date::year{year}, date::month{month}, date::day{1}};
            int const from = record.index_of(date::sys_days{begin});
            int const until = record.index_of(date::sys_days{begin + date::months{1}});
            std::size_t const quarter = month % 12 / 3;
            for (int k = std::max(from, 0); k < std::min(until, record.size()); ++k) {
                double const mean = (record.tmin()[static_cast<std::size_t>(k)] +
                                     record.tmax()[static_cast<std::size_t>(k)]) /
                                    2.0;
                if (std::isnan(mean)) { continue; }
                sums[quarter] += mean;
                ++counts[quarter];
            }
        }
    }
    quarter_means found;
    for (std::size_t i = 0; i < sums.size(); ++i) {
        found.is_known &= counts[i] >= fewest_days;
        found.celsius[i] = sums[i] / std::max(counts[i], 1);
    }
    return found;
}

}  // namespace

std::vector<std::string> latitude_misfit(plan const& of, climate const& under) {
    quarter_means const means = means_of(under.record());
    if (!means.is_known) { return {}; }
    double const where = under.site_latitude().value();
    unit_door const door{of.parts().units};
    auto const say_span = [&](double kelvin) {
        return fmt::format("{} {}", say_number(door.written(quantity::span, kelvin)),
                           door.unit(quantity::span));
    };
    auto const note = [&](std::string const& contradiction) {
        return std::vector{fmt::format(
            "site.latitude is {}, {}; give degrees north, negative south of the equator - or is "
            "that the longitude?",
            where, contradiction)};
    };

    double const winter = means.celsius[0];
    double const summer = means.celsius[2];
    double const against = where >= 0.0 ? winter - summer : summer - winter;
    if (against > most_against_season) {
        return note(fmt::format(
            "{} of the equator, but in the weather December to February are {} {} than June to "
            "August",
            where >= 0.0 ? "north" : "south", say_span(against),
            where >= 0.0 ? "warmer" : "colder"));
    }
    auto const [coldest, warmest] = std::minmax_element(means.celsius.begin(), means.celsius.end());
    double const most =
        most_at_equator + more_a_degree * std::max(std::abs(where) - equatorial_latitude, 0.0);
    if (std::abs(where) <= tropical_latitude && *warmest - *coldest > most) {
        return note(
            fmt::format("where the quarters of a year differ by {} at most, but those of "
                        "the weather differ by {}",
                        say_span(most), say_span(*warmest - *coldest)));
    }
    double const mean =
        (means.celsius[0] + means.celsius[1] + means.celsius[2] + means.celsius[3]) / 4.0;
    if (std::abs(where) > polar_latitude && mean > warmest_at_poles) {
        return note(
            fmt::format("where the mean of a year is {} at most, but that of the weather is {}",
                        say_temperature(of, warmest_at_poles), say_temperature(of, mean)));
    }
    return {};
}

}  // namespace epicotyl::detail
