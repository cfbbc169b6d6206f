// epicotyl: two records made one.
#ifndef EPICOTYL_WEATHER_IMPL_SPLICE_IPP
#define EPICOTYL_WEATHER_IMPL_SPLICE_IPP

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/splice.hpp>

namespace epicotyl {

namespace detail::splice_parts {

[[nodiscard]] EPICOTYL_INLINE std::string called(std::string const& name, char const* otherwise) {
    return name.empty() ? otherwise : name;
}

/// The values of a record from `start` on, `size` of them, NaN outside the record.
[[nodiscard]] EPICOTYL_INLINE std::vector<double> spread(std::span<double const> values, day from,
                                                         day start, std::size_t size) {
    std::vector<double> all(size, detail::missing);
    std::copy(values.begin(), values.end(), all.begin() + (from - start).count());
    return all;
}

[[nodiscard]] EPICOTYL_INLINE spliced_element compare(std::vector<double> const& first,
                                                      std::vector<double> const& second) {
    spliced_element result;
    double sum = 0.0;
    for (std::size_t k = 0; k < first.size(); ++k) {
        bool const in_first = !std::isnan(first[k]);
        bool const in_second = !std::isnan(second[k]);
        if (in_first) {
            ++result.from_first;
        } else {
            ++(in_second ? result.from_second : result.missing);
        }
        if (in_first && in_second) {
            ++result.overlap;
            sum += first[k] - second[k];
        }
    }
    if (result.overlap > 0) {
        result.mean_difference = temperature_span::from_kelvin(sum / result.overlap);
    }
    return result;
}

EPICOTYL_INLINE void match(spliced_element& element, std::vector<double>& second,
                           char const* name) {
    if (element.overlap < least_overlap) {
        throw invalid_input{
            {.code = "splice.overlap",
             .field = name,
             .value = fmt::format("{}", element.overlap),
             .bound = fmt::format("{} or more", least_overlap),
             .unit = "days",
             .problem = fmt::format("the two stations share {} with a {}, too few to match their "
                                    "means",
                                    detail::counted(element.overlap, "day"), name),
             .remedy = "splice without matching means, or take a station that was read beside the "
                       "first for a year"}};
    }
    element.added = *element.mean_difference;
    for (double& value : second) { value += element.added.kelvin(); }
}

[[nodiscard]] EPICOTYL_INLINE std::string line_of(char const* name, spliced_element const& element,
                                                  splice_report const& report) {
    std::string text =
        fmt::format("{}: {} from {}, {} from {}, {} missing;\n    ", name,
                    detail::counted(element.from_first, "day"), called(report.first, "the first"),
                    detail::counted(element.from_second, "day"),
                    called(report.second, "the second"), detail::counted(element.missing, "day"));
    if (!element.mean_difference) { return text + "no day in both"; }
    text += fmt::format("{} in both, first less second {:+.2f} K",
                        detail::counted(element.overlap, "day"), element.mean_difference->kelvin());
    text += element.added == temperature_span{}
                ? ""
                : fmt::format("; {:+.2f} K added to the second", element.added.kelvin());
    return text;
}

}  // namespace detail::splice_parts

EPICOTYL_INLINE spliced_record splice(daily_record const& first, daily_record const& second,
                                      splice_options const& options) {
    day const start = std::min(first.start(), second.start());
    auto const size =
        static_cast<std::size_t>((std::max(first.end(), second.end()) - start).count());
    std::vector<double> tmin =
        detail::splice_parts::spread(first.tmin(), first.start(), start, size);
    std::vector<double> tmax =
        detail::splice_parts::spread(first.tmax(), first.start(), start, size);
    std::vector<double> other_tmin =
        detail::splice_parts::spread(second.tmin(), second.start(), start, size);
    std::vector<double> other_tmax =
        detail::splice_parts::spread(second.tmax(), second.start(), start, size);

    splice_report report;
    report.first = first.name();
    report.second = second.name();
    report.minimum = detail::splice_parts::compare(tmin, other_tmin);
    report.maximum = detail::splice_parts::compare(tmax, other_tmax);
    if (options.match_means) {
        detail::splice_parts::match(report.minimum, other_tmin, "minimum");
        detail::splice_parts::match(report.maximum, other_tmax, "maximum");
    }
    for (std::size_t k = 0; k < size; ++k) {
        bool const own_minimum = !std::isnan(tmin[k]);
        bool const own_maximum = !std::isnan(tmax[k]);
        if (!own_minimum) { tmin[k] = other_tmin[k]; }
        if (!own_maximum) { tmax[k] = other_tmax[k]; }
        bool const mixed = own_minimum != own_maximum && !std::isnan(tmin[k] + tmax[k]);
        report.mixed += mixed ? 1 : 0;
        report.mixed_inverted += mixed && tmin[k] > tmax[k] ? 1 : 0;
    }

    std::string origin = fmt::format("spliced from {} and {}",
                                     detail::splice_parts::called(first.name(), "one station"),
                                     detail::splice_parts::called(second.name(), "another"));
    if (options.match_means) {
        origin += fmt::format(", the second by {:+.2f} K at night and {:+.2f} K by day",
                              report.minimum.added.kelvin(), report.maximum.added.kelvin());
    }
    for (daily_record const* const part : {&first, &second}) {
        if (!part->origin().empty()) {
            origin += fmt::format("; {}: {}",
                                  detail::splice_parts::called(
                                      part->name(), part == &first ? "the first" : "the second"),
                                  part->origin());
        }
    }
    return {daily_record{start, std::move(tmin), std::move(tmax), first.name(), std::move(origin)},
            std::move(report)};
}

EPICOTYL_INLINE std::string to_string(splice_report const& report) {
    std::string text = detail::splice_parts::line_of("minimum", report.minimum, report) + '\n' +
                       detail::splice_parts::line_of("maximum", report.maximum, report);
    if (report.mixed > 0) {
        text += fmt::format(
            "\n{} with one value of each station, {} of them with the minimum above "
            "the maximum",
            detail::counted(report.mixed, "day"), report.mixed_inverted);
    }
    return text;
}

}  // namespace epicotyl

#endif
