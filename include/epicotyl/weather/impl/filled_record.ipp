// epicotyl: short gaps of a record filled.
#ifndef EPICOTYL_WEATHER_IMPL_FILLED_RECORD_IPP
#define EPICOTYL_WEATHER_IMPL_FILLED_RECORD_IPP

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/filled_record.hpp>

namespace epicotyl {
EPICOTYL_INLINE std::string to_sentence(weather_gap const& gap, int max_gap) {
    std::string text = gap.element == weather_element::both
                           ? std::string{"neither minimum nor maximum "}
                           : fmt::format("no {} ", to_string(gap.element));
    text += gap.length == 1
                ? fmt::format("on {}", to_day_month_year(gap.first))
                : fmt::format("for {} days from {}", gap.length, to_day_month_year(gap.first));
    if (gap.inverted == gap.length) {
        text += ", where the minimum stands above the maximum";
    } else if (gap.inverted > 0) {
        text += fmt::format(
            " ({} the minimum stands above the maximum)",
            gap.inverted == 1 ? "on 1 of them" : fmt::format("on {} of them", gap.inverted));
    }
    if (gap.at_edge) { return text + ", at the edge of the record, with a value on one side only"; }
    return text + (max_gap == 0 ? std::string{" (no gap is filled)"}
                                : fmt::format(" (gaps of up to {} are filled)",
                                              detail::counted(max_gap, "day")));
}

EPICOTYL_INLINE filled_record::filled_record(daily_record record, int max_gap)
    : record_{std::move(record)}, max_gap_{max_gap} {
    if (max_gap < 0 || max_gap > longest_max_gap) {
        throw invalid_input{
            {.code = "weather.max_gap",
             .field = "max_gap",
             .value = fmt::format("{}", max_gap),
             .bound = fmt::format("0 to {}", longest_max_gap),
             .unit = "days",
             .problem = fmt::format("gaps of {} days cannot be filled by a straight line", max_gap),
             .remedy = "3 days are usual; 0 fills nothing"}};
    }
    tmin_.assign(record_.tmin().begin(), record_.tmin().end());
    tmax_.assign(record_.tmax().begin(), record_.tmax().end());
    int const size = record_.size();
    for (int k = 0; k < size; ++k) {
        if (is_inverted(k)) { tmin_[k] = tmax_[k] = detail::missing; }
    }
    auto const fill = [&](std::vector<double>& values, weather_element element) {
        for (int from = 0; from < size; ++from) {
            if (!std::isnan(values[from])) { continue; }
            int until = from;
            int inverted = 0;
            for (; until < size && std::isnan(values[until]); ++until) {
                inverted += is_inverted(until) ? 1 : 0;
            }
            bool const at_edge = from == 0 || until == size;
            int const length = until - from;
            if (at_edge || length > max_gap_) {
                gaps_.push_back({.element = element,
                                 .first = record_.start() + days{from},
                                 .length = length,
                                 .at_edge = at_edge,
                                 .inverted = inverted});
            } else {
                double const before = values[from - 1];
                double const step = (values[until] - before) / (length + 1);
                for (int k = from; k < until; ++k) { values[k] = before + (k - from + 1) * step; }
            }
            from = until;
        }
    };
    fill(tmin_, weather_element::minimum);
    fill(tmax_, weather_element::maximum);
    std::stable_sort(gaps_.begin(), gaps_.end(),
                     [](weather_gap const& a, weather_gap const& b) { return a.first < b.first; });
}

EPICOTYL_INLINE bool filled_record::is_inverted(int k) const noexcept {
    return record_.tmin()[k] > record_.tmax()[k];  // false where one of them is missing
}

EPICOTYL_INLINE bool filled_record::lacks_minimum(int k) const noexcept {
    return std::isnan(record_.tmin()[k]) || is_inverted(k);
}

EPICOTYL_INLINE bool filled_record::lacks_maximum(int k) const noexcept {
    return std::isnan(record_.tmax()[k]) || is_inverted(k);
}

EPICOTYL_INLINE std::optional<weather_gap> filled_record::longest_gap(
    day from, day until, weather_element element) const {
    std::optional<weather_gap> found;
    for (weather_gap const& gap : gaps_) {
        bool const counts = element == weather_element::both || gap.element == element;
        if (!counts || gap.first >= until || gap.first + days{gap.length} <= from) { continue; }
        if (!found || gap.length > found->length) {
            found = gap;
        } else if (gap.length == found->length && gap.first == found->first) {
            found->element = weather_element::both;
        }
    }
    return found;
}

}  // namespace epicotyl

#endif
