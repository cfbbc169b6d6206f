#include <epicotyl/weather/quality.hpp>

#include <algorithm>
#include <cmath>

#include "whole_fahrenheit.hpp"

namespace epicotyl {

record_quality quality(daily_record const& record, int max_gap) {
    filled_record const filled{record, max_gap};
    record_quality result;
    result.name = record.name();
    result.origin = record.origin();
    result.first = record.start();
    result.last = record.end() - days{1};
    result.size = record.size();
    result.max_gap = max_gap;

    date::year_month_day const first{result.first};
    date::year_month_day const end{record.end()};
    bool const begins_a_year = first.month() == date::January && first.day() == date::day{1};
    int const first_whole = int{first.year()} + (begins_a_year ? 0 : 1);
    result.whole_years = std::max(0, int{end.year()} - first_whole);

    int run = 0;
    for (int k = 0; k < record.size(); ++k) {
        bool const no_minimum = std::isnan(record.tmin()[k]);
        bool const no_maximum = std::isnan(record.tmax()[k]);
        result.missing_minima += no_minimum ? 1 : 0;
        result.missing_maxima += no_maximum ? 1 : 0;
        result.missing_both += no_minimum && no_maximum ? 1 : 0;
        result.inverted += filled.is_inverted(k) ? 1 : 0;
        for (double const value : {record.tmin()[k], record.tmax()[k]}) {
            bool const is_other = !std::isnan(value) && !detail::whole_fahrenheit(value);
            result.not_whole_fahrenheit += is_other ? 1 : 0;
        }

        run = no_minimum || no_maximum ? run + 1 : 0;
        result.runs += run == 1 ? 1 : 0;
        if (run > (result.longest_run ? result.longest_run->length : 0)) {
            result.longest_run =
                missing_run{.first = record.start() + days{k - run + 1}, .length = run};
        }

        auto const count = [](bool lacks, double value, int& mended, int& left) {
            if (lacks) { ++(std::isnan(value) ? left : mended); }
        };
        count(filled.lacks_minimum(k), filled.tmin()[k], result.filled_minima,
              result.unfilled_minima);
        count(filled.lacks_maximum(k), filled.tmax()[k], result.filled_maxima,
              result.unfilled_maxima);
    }
    for (int year = int{first.year()}; year <= int{end.year()}; ++year) {
        if (!date::year{year}.is_leap()) { continue; }
        day const leap_day = make_day(year, 2, 29);
        if (!record.holds(leap_day)) { continue; }
        int const k = record.index_of(leap_day);
        ++result.leap_days;
        result.missing_leap_days +=
            std::isnan(record.tmin()[k]) && std::isnan(record.tmax()[k]) ? 1 : 0;
    }
    return result;
}

std::string to_string(record_quality const& quality) {
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
