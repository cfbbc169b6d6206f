// epicotyl: day length by latitude and date.
//
// Two published models:
//
//   cbm    Forsythe, Rykiel, Stahl, Wu and Schoolfield [forsythe1995], equations 1 to 3.
//            theta = 0.2163108 + 2 atan(0.9671396 tan(0.00860 (J - 186)))
//            phi   = asin(0.39795 cos theta)
//            D     = 24 - 24/pi acos((sin(p) + sin L sin phi) / (cos L cos phi))
//          p is the angle of the sun's centre below the horizon at sunrise; 0.8333 degrees is
//          sunrise as usually defined (upper limb, with refraction).
//   fao56  Allen, Pereira, Raes and Smith, FAO Irrigation and Drainage Paper 56 [allen1998],
//          equations 24, 25 and 34: the sun's centre, no refraction, about 0.1 to 0.2 h shorter
//          at middle latitudes.
//            delta = 0.409 sin(2 pi J / 365 - 1.39),  omega = acos(-tan L tan delta),
//            D     = 24/pi omega
//
// J is the day of the year, L the latitude. Beyond the polar circles the sun may not set (24 h) or
// not rise (0 h): the argument of acos is cut to [-1, 1], a departure from both papers.
//
// Growers ask the other way round: when do days reach ten hours again? `first_day_with` and
// `last_day_with` look through a run of days, both ends included. Where no day of the run is that
// long the answer is none, and in the polar summer it is the run's own first or last day:
//
//     first_day_with(latitude{40.0}, 10.0, make_day(2027, 1, 1), make_day(2027, 6, 30));
//                                                      // 29 Jan 2027
//     last_day_with(latitude{40.0}, 10.0, make_day(2027, 7, 1), make_day(2027, 12, 31));
//                                                      // 15 Nov 2027
#ifndef EPICOTYL_CLOCK_DAY_LENGTH_HPP
#define EPICOTYL_CLOCK_DAY_LENGTH_HPP

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

enum class day_length_model { cbm, fao56 };

/// Angle of the sun's centre below the horizon at sunrise as usually defined, degrees.
inline constexpr double sunrise_angle = 0.8333;

namespace detail {

[[nodiscard]] inline double to_radians(double degrees) {
    return degrees * std::numbers::pi / 180.0;
}

[[nodiscard]] inline double arc_cosine_cut(double x) {
    return std::acos(std::clamp(x, -1.0, 1.0));
}

}  // namespace detail

/// Hours from sunrise to sunset, 0 to 24. `sun_angle` (degrees) is used by `cbm` only. Throws
/// `invalid_input` unless -20 <= sun_angle <= 20.
///
///     day_length(latitude{51.9}, make_day(2027, 6, 21));   // 16.72
[[nodiscard]] inline double day_length(latitude where, day when,
                                       day_length_model model = day_length_model::cbm,
                                       double sun_angle = sunrise_angle) {
    if (!(sun_angle >= -20.0 && sun_angle <= 20.0)) {
        throw invalid_input{{.code = "day_length.sun_angle",
                             .field = "sun_angle",
                             .value = detail::text(sun_angle),
                             .bound = "-20 to 20",
                             .unit = "degrees",
                             .problem = detail::text(sun_angle, " is out of range"),
                             .remedy = "0.8333 is sunrise as usually defined, 6 civil twilight"}};
    }
    double const lat = detail::to_radians(where.value());
    double const j = detail::day_of_year(when);
    if (model == day_length_model::fao56) {
        double const declination = 0.409 * std::sin(2.0 * std::numbers::pi * j / 365.0 - 1.39);
        double const omega = detail::arc_cosine_cut(-std::tan(lat) * std::tan(declination));
        return 24.0 / std::numbers::pi * omega;
    }
    double const theta = 0.2163108 + 2.0 * std::atan(0.9671396 * std::tan(0.00860 * (j - 186.0)));
    double const phi = std::asin(0.39795 * std::cos(theta));
    double const cosine =
        (std::sin(detail::to_radians(sun_angle)) + std::sin(lat) * std::sin(phi)) /
        (std::cos(lat) * std::cos(phi));
    return 24.0 - 24.0 / std::numbers::pi * detail::arc_cosine_cut(cosine);
}

namespace detail {

inline void require_day_length_run(double hours, day from, day until) {
    if (!(hours >= 0.0 && hours <= 24.0)) {
        throw invalid_input{{.code = "day_length.hours",
                             .field = "hours",
                             .value = detail::text(hours),
                             .bound = "0 to 24",
                             .unit = "hours",
                             .problem = detail::text(hours, " is no length of a day"),
                             .remedy = "give hours, such as 10"}};
    }
    if (until < from) {
        throw invalid_input{
            {.code = "day_length.run",
             .field = "until",
             .value = to_iso(until),
             .bound = detail::text(to_iso(from), " or later"),
             .problem = detail::text(to_iso(until), " comes before the first day of the run"),
             .remedy = "give the first day, then the last"}};
    }
}

}  // namespace detail

/// First day from `from` to `until`, both included, of at least so many hours [h]; none when no
/// day of the run is that long. Throws `invalid_input` unless 0 <= hours <= 24 and
/// from <= until, and as `day_length` does.
[[nodiscard]] inline std::optional<day> first_day_with(
    latitude where, double hours, day from, day until,
    day_length_model model = day_length_model::cbm, double sun_angle = sunrise_angle) {
    detail::require_day_length_run(hours, from, until);
    for (day d = from; d <= until; d += days{1}) {
        if (day_length(where, d, model, sun_angle) >= hours) { return d; }
    }
    return std::nullopt;
}

/// Last day from `from` to `until`, both included, of at least so many hours [h]; none when no day
/// of the run is that long. Throws as `first_day_with` does.
[[nodiscard]] inline std::optional<day> last_day_with(
    latitude where, double hours, day from, day until,
    day_length_model model = day_length_model::cbm, double sun_angle = sunrise_angle) {
    detail::require_day_length_run(hours, from, until);
    for (day d = until; d >= from; d -= days{1}) {
        if (day_length(where, d, model, sun_angle) >= hours) { return d; }
    }
    return std::nullopt;
}

}  // namespace epicotyl

#endif
