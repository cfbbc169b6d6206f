// epicotyl: days and weeks of the calendar, by Howard Hinnant's date library.
#ifndef EPICOTYL_IMPL_DAYS_IPP
#define EPICOTYL_IMPL_DAYS_IPP

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <type_traits>

#include <date/date.h>
#include <date/iso_week.h>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

static_assert(std::is_same_v<day, date::sys_days> && std::is_same_v<days, date::days>);

namespace detail {

/// "2027-03-01", whether the calendar has such a day or not.
EPICOTYL_INLINE std::string iso_text(int year, unsigned month, unsigned day_of_month) {
    std::string const digits = std::to_string(year < 0 ? -year : year);
    std::size_t const width = year < 0 ? 3 : 4;
    std::string written = year < 0 ? "-" : "";
    written.append(width - std::min(width, digits.size()), '0').append(digits);
    for (unsigned const number : {month, day_of_month}) {
        written += number < 10 ? "-0" : "-";
        written += std::to_string(number);
    }
    return written;
}

EPICOTYL_INLINE int year_of(day d) {
    return int{date::year_month_day{d}.year()};
}

EPICOTYL_INLINE int day_of_year(day d) {
    auto const year = date::year_month_day{d}.year();
    return static_cast<int>((d - day{year / date::January / 1}).count()) + 1;
}

}  // namespace detail

EPICOTYL_INLINE day make_day(int year, unsigned month, unsigned day_of_month) {
    date::year_month_day const ymd{date::year{year}, date::month{month}, date::day{day_of_month}};
    if (!ymd.ok()) {
        std::string const written = detail::iso_text(year, month, day_of_month);
        throw invalid_input{{.code = "day.not_in_calendar",
                             .field = "date",
                             .value = written,
                             .problem = detail::text(written, " is not a day of the calendar"),
                             .remedy = "give year, month 1 to 12 and a day that the month has"}};
    }
    return day{ymd};
}

EPICOTYL_INLINE std::string to_iso(day d) {
    date::year_month_day const ymd{d};
    return detail::iso_text(int{ymd.year()}, unsigned{ymd.month()}, unsigned{ymd.day()});
}

EPICOTYL_INLINE day parse_iso_day(std::string_view text) {
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
                             .problem = detail::text("\"", text, "\" is not an ISO date"),
                             .remedy = "write year-month-day, such as 2027-03-01"}};
    }
    return make_day(year, static_cast<unsigned>(month), static_cast<unsigned>(day_of_month));
}

EPICOTYL_INLINE iso_week_date iso_week_of(day d) {
    iso_week::year_weeknum_weekday const ywd{d};
    return {.year = int{ywd.year()},
            .week = static_cast<int>(unsigned{ywd.weeknum()}),
            .weekday = static_cast<int>(unsigned{ywd.weekday()})};
}

EPICOTYL_INLINE day monday_of(day d) {
    return d - days{iso_week_of(d).weekday - 1};
}

EPICOTYL_INLINE std::string to_day_month(day d, unit_system units) {
    date::year_month_day const ymd{d};
    unsigned const of_month{ymd.day()};
    std::string_view const month = detail::month_names[unsigned{ymd.month()} - 1];
    return units == unit_system::us ? detail::text(month, " ", of_month)
                                    : detail::text(of_month, " ", month);
}

EPICOTYL_INLINE std::string to_day_month_year(day d, unit_system units) {
    return detail::text(to_day_month(d, units), units == unit_system::us ? ", " : " ",
                        detail::year_of(d));
}

EPICOTYL_INLINE std::string to_weekday_day_month(day d, unit_system units) {
    return detail::text(detail::weekday_names[iso_week_of(d).weekday - 1], " ",
                        to_day_month(d, units));
}

EPICOTYL_INLINE std::string to_week(day d, unit_system units) {
    day const monday = monday_of(d);
    return detail::text("week of ", to_weekday_day_month(monday, units), " (week ",
                        iso_week_of(monday).week, ")");
}

}  // namespace epicotyl

#endif
