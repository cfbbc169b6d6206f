// epicotyl: days, and the season they belong to.
//
// A day is a date of the proleptic Gregorian calendar, held as a count of days: the `sys_days` of
// the standard library, and of Howard Hinnant's date, with which it mixes. There is no time of day,
// no time zone and no hidden "today". Differences are `days`. Months and years are never added: "31
// January plus one month" has three answers, so a caller who wants one writes it with the date
// library (`<date/date.h>`, which this header does not bring).
//
// Inside the engine a day is an `int` offset from the first day of a season: offset 0 is the
// season's start, offset N its end. Events may fall on 0 ... N; rates and weather exist for
// 0 ... N-1. What comes later is `never`, an offset greater than every day, which compares as
// such and prints as "never".
//
//     season s{make_day(2027, 1, 1), 550};
//     s.offset_of(make_day(2027, 3, 1));   // 59
//     s.day_at(59);                        // 2027-03-01
//
// Weeks are those of ISO 8601 [iso2019]: Monday first, week 1 has the year's first Thursday.
#ifndef EPICOTYL_DAYS_HPP
#define EPICOTYL_DAYS_HPP

#include <chrono>
#include <cstdint>
#include <limits>
#include <optional>
#include <ratio>
#include <string>
#include <string_view>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// A difference of two dates.
using days = std::chrono::duration<int, std::ratio<86400>>;
/// A date, as a count of days.
using day = std::chrono::time_point<std::chrono::system_clock, days>;

/// Offset of an event that does not happen within its season. Greater than every offset.
inline constexpr int never = std::numeric_limits<std::int16_t>::max();

/// Longest season that can be asked for, in days. Keeps offsets within 16 bits.
inline constexpr int longest_season = 1500;
/// Length of a season when none is asked for, in days.
inline constexpr int usual_season = 550;

/// The day with this year, month and day of month. Throws `invalid_input` when the calendar has no
/// such day (30 February; 29 February of a common year).
[[nodiscard]] day make_day(int year, unsigned month, unsigned day_of_month);

/// "2027-03-01".
[[nodiscard]] std::string to_iso(day d);

/// Reads "2027-03-01" (ISO 8601, extended form, nothing before or after). Throws `invalid_input`.
[[nodiscard]] day parse_iso_day(std::string_view text);

/// Year, week 1 to 53 and weekday 1 (Monday) to 7 (Sunday) of ISO 8601.
struct iso_week_date {
    int year;
    int week;
    int weekday;

    friend bool operator==(iso_week_date const&, iso_week_date const&) = default;
};

[[nodiscard]] iso_week_date iso_week_of(day d);

/// The Monday on or before a day.
[[nodiscard]] day monday_of(day d);

/// "8 Mar"; in US units "Mar 8".
[[nodiscard]] std::string to_day_month(day d, unit_system units = unit_system::metric);

/// "8 Mar 2027"; in US units "Mar 8, 2027".
[[nodiscard]] std::string to_day_month_year(day d, unit_system units = unit_system::metric);

/// "Mon 8 Mar"; in US units "Mon Mar 8".
[[nodiscard]] std::string to_weekday_day_month(day d, unit_system units = unit_system::metric);

/// "week of Mon 8 Mar (week 10)"; in US units "week of Mon Mar 8 (week 10)".
[[nodiscard]] std::string to_week(day d, unit_system units = unit_system::metric);

namespace detail {

inline constexpr std::string_view month_names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                   "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
inline constexpr std::string_view weekday_names[] = {"Mon", "Tue", "Wed", "Thu",
                                                     "Fri", "Sat", "Sun"};

/// The year that a day lies in.
[[nodiscard]] int year_of(day d);
/// 1 for 1 January.
[[nodiscard]] int day_of_year(day d);

}  // namespace detail

/// A run of days: offset 0 is `start()`, offset `length()` the end.
class season {
public:
    /// Throws `invalid_input` unless 1 <= length <= 1500.
    explicit season(day start, int length = usual_season) : start_{start}, length_{length} {
        if (length < 1 || length > longest_season) {
            throw invalid_input{{.code = "season.length",
                                 .field = "season_days",
                                 .value = detail::text(length),
                                 .bound = detail::text("1 to ", longest_season),
                                 .unit = "days",
                                 .problem = detail::text(length, " days is no season"),
                                 .remedy = "550 days see a sown year and the spring after it; "
                                           "give 730 for plans with a winter in them"}};
        }
    }

    [[nodiscard]] day start() const noexcept { return start_; }
    [[nodiscard]] int length() const noexcept { return length_; }

    /// Offset of a day, which may lie outside the season (negative before it).
    [[nodiscard]] int offset_of(day d) const noexcept {
        return static_cast<int>((d - start_).count());
    }
    /// The day at an offset; none for `never`.
    [[nodiscard]] std::optional<day> day_at(int offset) const noexcept {
        if (offset >= never) { return std::nullopt; }
        return start_ + days{offset};
    }
    /// True when an event can fall on this day: offsets 0 ... length, both included.
    [[nodiscard]] bool holds(day d) const noexcept {
        int const offset = offset_of(d);
        return offset >= 0 && offset <= length_;
    }

    friend bool operator==(season const&, season const&) = default;

private:
    day start_;
    int length_;
};

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/impl/days.ipp>
#endif

#endif
