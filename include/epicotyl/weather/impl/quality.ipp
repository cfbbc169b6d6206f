// epicotyl: what is missing and what is odd in a record.
#ifndef EPICOTYL_WEATHER_IMPL_QUALITY_IPP
#define EPICOTYL_WEATHER_IMPL_QUALITY_IPP

#include <algorithm>
#include <cmath>
#include <span>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/detail/whole_fahrenheit.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/quality.hpp>

namespace epicotyl {

namespace detail::quality_parts {

/// Calendar years that lie within the record from end to end.
[[nodiscard]] EPICOTYL_INLINE int whole_years(daily_record const& record) {
    date::year_month_day const first{record.start()};
    bool const begins_a_year = first.month() == date::January && first.day() == date::day{1};
    int const first_whole = int{first.year()} + (begins_a_year ? 0 : 1);
    return std::max(0, detail::year_of(record.end()) - first_whole);
}

EPICOTYL_INLINE void count_missing(record_quality& into, daily_record const& record) {
    int run = 0;
    for (int k = 0; k < record.size(); ++k) {
        bool const no_minimum = std::isnan(record.tmin()[k]);
        bool const no_maximum = std::isnan(record.tmax()[k]);
        into.missing_minima += no_minimum ? 1 : 0;
        into.missing_maxima += no_maximum ? 1 : 0;
        into.missing_both += no_minimum && no_maximum ? 1 : 0;
        run = no_minimum || no_maximum ? run + 1 : 0;
        into.runs += run == 1 ? 1 : 0;
        if (run > (into.longest_run ? into.longest_run->length : 0)) {
            into.longest_run =
                missing_run{.first = record.start() + days{k - run + 1}, .length = run};
        }
    }
}

[[nodiscard]] EPICOTYL_INLINE int count_not_whole_fahrenheit(std::span<double const> values) {
    return static_cast<int>(std::count_if(values.begin(), values.end(), [](double value) {
        return !std::isnan(value) && !detail::whole_fahrenheit(value);
    }));
}

/// What filling gives of the values that a record lacks, and what it leaves.
EPICOTYL_INLINE void count_filled(record_quality& into, filled_record const& filled) {
    auto const count = [](bool lacks, double value, int& mended, int& left) {
        if (lacks) { ++(std::isnan(value) ? left : mended); }
    };
    for (int k = 0; k < into.size; ++k) {
        into.inverted += filled.is_inverted(k) ? 1 : 0;
        count(filled.lacks_minimum(k), filled.tmin()[k], into.filled_minima, into.unfilled_minima);
        count(filled.lacks_maximum(k), filled.tmax()[k], into.filled_maxima, into.unfilled_maxima);
    }
}

EPICOTYL_INLINE void count_leap_days(record_quality& into, daily_record const& record) {
    int const last = detail::year_of(record.end());
    for (int year = detail::year_of(record.start()); year <= last; ++year) {
        if (!date::year{year}.is_leap()) { continue; }
        day const leap_day = make_day(year, 2, 29);
        if (!record.holds(leap_day)) { continue; }
        int const k = record.index_of(leap_day);
        ++into.leap_days;
        into.missing_leap_days +=
            std::isnan(record.tmin()[k]) && std::isnan(record.tmax()[k]) ? 1 : 0;
    }
}

}  // namespace detail::quality_parts

EPICOTYL_INLINE record_quality quality(daily_record const& record, int max_gap) {
    record_quality result;
    result.name = record.name();
    result.origin = record.origin();
    result.first = record.start();
    result.last = record.end() - days{1};
    result.size = record.size();
    result.max_gap = max_gap;
    result.whole_years = detail::quality_parts::whole_years(record);
    detail::quality_parts::count_missing(result, record);
    result.not_whole_fahrenheit = detail::quality_parts::count_not_whole_fahrenheit(record.tmin()) +
                                  detail::quality_parts::count_not_whole_fahrenheit(record.tmax());
    detail::quality_parts::count_filled(result, filled_record{record, max_gap});
    detail::quality_parts::count_leap_days(result, record);
    return result;
}

EPICOTYL_INLINE std::string to_string(record_quality const& quality) {
    std::string text = fmt::format(
        "{}{}{}: {}, {}{}{}", quality.name, quality.name.empty() ? "" : ", ",
        detail::to_period(quality.first, quality.last), detail::counted(quality.size, "day"),
        detail::counted(quality.whole_years, "whole year"), quality.origin.empty() ? "" : "; ",
        quality.origin);
    auto const line = [&](std::string const& what, int count) {
        text += fmt::format("\n  {:<38}{:>7} {:<4} {:>6.2f} %", what, count,
                            count == 1 ? "day" : "days", 100.0 * quality.share(count));
    };
    line("no minimum", quality.missing_minima);
    line("no maximum", quality.missing_maxima);
    line("neither", quality.missing_both);
    line("minimum above maximum", quality.inverted);
    line(fmt::format("minimum filled (gaps of up to {})", detail::counted(quality.max_gap, "day")),
         quality.filled_minima);
    line(fmt::format("maximum filled (gaps of up to {})", detail::counted(quality.max_gap, "day")),
         quality.filled_maxima);
    line("minimum still missing", quality.unfilled_minima);
    line("maximum still missing", quality.unfilled_maxima);
    if (quality.longest_run) {
        text += fmt::format("\n  {} of missing values; the longest, {}, from {}",
                            detail::counted(quality.runs, "run"),
                            detail::counted(quality.longest_run->length, "day"),
                            to_day_month_year(quality.longest_run->first));
    }
    if (quality.missing_leap_days > 0) {
        text += fmt::format("\n  29 February is missing in {} of {}", quality.missing_leap_days,
                            detail::counted(quality.leap_days, "leap year"));
    }
    return text;
}

}  // namespace epicotyl

#endif
