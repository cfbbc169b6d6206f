// epicotyl: a month and a day of every year, without the year: checked, printed, and put into a
// year.
#ifndef EPICOTYL_DETAIL_MONTH_DAY_HPP
#define EPICOTYL_DETAIL_MONTH_DAY_HPP

#include <string>

#include <date/date.h>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl::detail {

/// "1 Jan".
[[nodiscard]] inline std::string to_day_month(date::month_day md) {
    return detail::text(unsigned{md.day()}, " ", month_names[unsigned{md.month()} - 1]);
}

[[nodiscard]] inline day day_in_year(int year, date::month_day md) {
    return day{date::year{year} / md};
}

/// Refuses what some year lacks: 31 April, 29 February. `field` names the parameter, `thing` says
/// what it is the day of ("a season start").
inline void require_yearly(date::month_day md, std::string const& field, std::string const& thing) {
    bool const leap_day = md == date::February / 29;
    if (md.ok() && !leap_day) { return; }
    unsigned const month{md.month()};
    unsigned const day_of_month{md.day()};
    std::string const written =
        text(month < 10 ? "0" : "", month, "-", day_of_month < 10 ? "0" : "", day_of_month);
    throw invalid_input{
        {.code = leap_day ? "month_day.leap_day" : "month_day.not_in_calendar",
         .field = field,
         .value = written,
         .problem = leap_day ? detail::text(thing, " cannot be 29 February, which most years lack")
                             : detail::text(written, " is not a month and day of the calendar"),
         .remedy = "give a day that every year has, such as 28 February or 1 March"}};
}

}  // namespace epicotyl::detail

#endif
