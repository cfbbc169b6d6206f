// epicotyl: a record of another height, or another hour of reading.
#ifndef EPICOTYL_WEATHER_IMPL_ADJUST_IPP
#define EPICOTYL_WEATHER_IMPL_ADJUST_IPP

#include <cmath>
#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/error.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/adjust.hpp>

namespace epicotyl {

namespace detail::adjust_parts {

[[nodiscard]] EPICOTYL_INLINE std::string with_note(std::string const& origin,
                                                    std::string const& note) {
    return origin.empty() ? note : origin + "; " + note;
}

EPICOTYL_INLINE void require_within(double value, double bound, char const* field, char const* unit,
                                    char const* remedy) {
    if (std::abs(value) <= bound) { return; }
    throw invalid_input{{.code = fmt::format("{}.out_of_range", field),
                         .field = field,
                         .value = fmt::format("{}", value),
                         .bound = fmt::format("{} to {}", -bound, bound),
                         .unit = unit,
                         .problem = fmt::format("{} is out of range", value),
                         .remedy = remedy}};
}

}  // namespace detail::adjust_parts

EPICOTYL_INLINE daily_record with_elevation_difference(daily_record const& record, double metres,
                                                       double lapse_rate) {
    detail::adjust_parts::require_within(
        metres, 5000.0, "metres", "m",
        "give the height of the place over the station, negative below it");
    detail::adjust_parts::require_within(lapse_rate, 20.0, "lapse_rate", "K/km",
                                         "6.5 K/km is that of the standard atmosphere");
    double const change = -metres / 1000.0 * lapse_rate;
    auto const moved = [&](std::span<double const> values) {
        std::vector<double> result{values.begin(), values.end()};
        for (double& value : result) { value += change; }
        return result;
    };
    return {record.start(), moved(record.tmin()), moved(record.tmax()), record.name(),
            detail::adjust_parts::with_note(
                record.origin(), fmt::format("moved {} m {} at {} K/km", std::abs(metres),
                                             metres < 0.0 ? "down" : "up", lapse_rate))};
}

EPICOTYL_INLINE daily_record morning_reader(daily_record const& record) {
    double constexpr missing = std::numeric_limits<double>::quiet_NaN();
    std::vector<double> tmin{record.tmin().begin(), record.tmin().end()};
    std::vector<double> tmax{record.tmax().begin(), record.tmax().end()};
    tmax.push_back(missing);
    bool const begins_earlier = !std::isnan(tmax.front());
    if (begins_earlier) {
        tmin.insert(tmin.begin(), missing);
    } else {
        tmax.erase(tmax.begin());
    }
    return {record.start() - days{begins_earlier ? 1 : 0}, std::move(tmin), std::move(tmax),
            record.name(),
            detail::adjust_parts::with_note(record.origin(), "maxima moved to the day before")};
}

}  // namespace epicotyl

#endif
