// epicotyl: days, and the season they belong to.
//
// A day is a date of the proleptic Gregorian calendar, held as a count of days
// (`date::sys_days` of Howard Hinnant's library). There is no time of day, no time zone and no
// hidden "today". Differences are `date::days`. Months and years are never added: "31 January plus
// one month" has three answers, so a caller who wants one writes it with the date library.
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

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>

#include <date/date.h>
#include <date/iso_week.h>
#include <fmt/format.h>

#include <epicotyl/error.hpp>

namespace epicotyl {

/// A date, as a count of days.
using day = date::sys_days;
/// A difference of two dates.
using date::days;

/// Offset of an event that does not happen within its season. Greater than every offset.
inline constexpr int never = std::numeric_limits<std::int16_t>::max();

/// Longest season that can be asked for, in days. Keeps offsets within 16 bits.
inline constexpr int longest_season = 1500;
/// Length of a season when none is asked for, in days.
inline constexpr int usual_season = 550;

/// The day with this year, month and day of month. Throws `invalid_input` when the calendar has no
/// such day (30 February; 29 February of a common year).
[[nodiscard]] inline day make_day(int year, unsigned month, unsigned day_of_month) {
    date::year_month_day const ymd{date::year{year}, date::month{month}, date::day{day_of_month}};
    if (!ymd.ok()) {
        std::string const written = fmt::format("{:04}-{:02}-{:02}", year, month, day_of_month);
        throw invalid_input{{.code = "day.not_in_calendar",
                             .field = "date",
                             .value = written,
                             .problem = fmt::format("{} is not a day of the calendar", written),
                             .remedy = "give year, month 1 to 12 and a day that the month has"}};
    }
    return day{ymd};
}

/// "2027-03-01".
[[nodiscard]] inline std::string to_iso(day d) {
    date::year_month_day const ymd{d};
    return fmt::format("{:04}-{:02}-{:02}", int{ymd.year()}, unsigned{ymd.month()},
                       unsigned{ymd.day()});
}

/// Reads "2027-03-01" (ISO 8601, extended form, nothing before or after). Throws `invalid_input`.
[[nodiscard]] inline day parse_iso_day(std::string_view text) {
    auto const digits = [&](std::size_t from, std::size_t count) {
        int value = 0;
        for (std::size_t i = from; i < from + count; ++i) {
            if (text[i] < '0' || text[i] > '9') { return -1; }
            value = 10 * value + (text[i] - '0');
        }
        return value;
    };
    bool const shaped = text.size() == 10 && text[4] == '-' && text[7] == '-';
    int const year = shaped ? digits(0, 4) : -1;
    int const month = shaped ? digits(5, 2) : -1;
    int const day_of_month = shaped ? digits(8, 2) : -1;
    if (year < 0 || month < 0 || day_of_month < 0) {
        throw invalid_input{{.code = "day.not_iso",
                             .field = "date",
                             .value = std::string{text},
                             .problem = fmt::format("\"{}\" is not an ISO date", text),
                             .remedy = "write year-month-day, such as 2027-03-01"}};
    }
    return make_day(year, static_cast<unsigned>(month), static_cast<unsigned>(day_of_month));
}

/// Year, week 1 to 53 and weekday 1 (Monday) to 7 (Sunday) of ISO 8601.
struct iso_week_date {
    int year;
    int week;
    int weekday;

    friend bool operator==(iso_week_date const&, iso_week_date const&) = default;
};

[[nodiscard]] inline iso_week_date iso_week_of(day d) {
    iso_week::year_weeknum_weekday const ywd{d};
    return {.year = int{ywd.year()},
            .week = static_cast<int>(unsigned{ywd.weeknum()}),
            .weekday = static_cast<int>(unsigned{ywd.weekday()})};
}

/// The Monday on or before a day.
[[nodiscard]] inline day monday_of(day d) {
    return d - days{iso_week_of(d).weekday - 1};
}

namespace detail {

inline constexpr std::string_view month_names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                   "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
inline constexpr std::string_view weekday_names[] = {"Mon", "Tue", "Wed", "Thu",
                                                     "Fri", "Sat", "Sun"};

}  // namespace detail

/// "8 Mar".
[[nodiscard]] inline std::string to_day_month(day d) {
    date::year_month_day const ymd{d};
    return fmt::format("{} {}", unsigned{ymd.day()},
                       detail::month_names[unsigned{ymd.month()} - 1]);
}

/// "8 Mar 2027".
[[nodiscard]] inline std::string to_day_month_year(day d) {
    return fmt::format("{} {}", to_day_month(d), int{date::year_month_day{d}.year()});
}

/// "Mon 8 Mar".
[[nodiscard]] inline std::string to_weekday_day_month(day d) {
    return fmt::format("{} {}", detail::weekday_names[iso_week_of(d).weekday - 1], to_day_month(d));
}

/// "week of Mon 8 Mar (week 10)".
[[nodiscard]] inline std::string to_week(day d) {
    day const monday = monday_of(d);
    return fmt::format("week of {} (week {})", to_weekday_day_month(monday),
                       iso_week_of(monday).week);
}

/// A run of days: offset 0 is `start()`, offset `length()` the end.
class season {
public:
    /// Throws `invalid_input` unless 1 <= length <= 1500.
    explicit season(day start, int length = usual_season) : start_{start}, length_{length} {
        if (length < 1 || length > longest_season) {
            throw invalid_input{{.code = "season.length",
                                 .field = "season_days",
                                 .value = fmt::format("{}", length),
                                 .bound = fmt::format("1 to {}", longest_season),
                                 .unit = "days",
                                 .problem = fmt::format("{} days is no season", length),
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

#endif
