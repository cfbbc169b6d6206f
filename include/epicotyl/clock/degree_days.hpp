// epicotyl: degree-days of one day, from its minimum and maximum.
//
// A degree-day sum measures the warmth above a base at which a plant begins to develop, and, with
// an upper threshold, discounts the warmth above it. Only the day's two extremes are known, so a
// method must say how the temperature ran between them and a cutoff what happens above the upper
// threshold. The same plant has different sums under different methods, by up to 83 %
// [mcmaster1997]: a base or an amount is valid only with the method it was published
// with, which is why both are named in every rule here.
//
//   average          the mean of the two, above the base
//   average_floored  both temperatures cut at base and upper first, then averaged; the "86/50"
//                    rule for maize is this one (horizontal only)
//   single_triangle  straight lines up to the maximum and down to the same minimum
//   double_triangle  the second half of the day falls to the next day's minimum
//   single_sine      a sine wave between the two [baskerville1969]
//   double_sine      the second half of the day falls to the next day's minimum
//
//   horizontal       development goes on at the upper threshold's rate
//   intermediate     it slows by as much as the temperature passes the threshold; never below 0
//   vertical         it stops while the temperature is above the threshold
//
// With A(T) the mean excess over T during the day and F(T) the share of the day above T:
//
//   horizontal    A(base) - A(upper)
//   vertical      A(base) - A(upper) - F(upper) (upper - base)
//   intermediate  max(0, A(base) - 2 A(upper))
//
//   triangle  A(T) = (max - T)^2 / (2 (max - min)),  F(T) = (max - T) / (max - min)
//   sine      A(T) = ((m - T)(pi/2 - theta) + a cos theta) / pi,  F(T) = (pi/2 - theta) / pi
//             with m the mean, a half the range, theta = asin((T - m) / a)
//
// for min < T < max; A = 0, F = 0 where max <= T, and A = m - T, F = 1 where min >= T.
// Sources: Zalom, Goodell, Wilson, Barnett and Bentley [zalom1983]; the sine Baskerville and Emin
// [baskerville1969].
//
// Any unit will do as long as temperatures, base and upper agree. NaN in, NaN out.
#ifndef EPICOTYL_CLOCK_DEGREE_DAYS_HPP
#define EPICOTYL_CLOCK_DEGREE_DAYS_HPP

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <span>
#include <string_view>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

enum class degree_day_method {
    average,
    average_floored,
    single_triangle,
    double_triangle,
    single_sine,
    double_sine
};

enum class degree_day_cutoff { horizontal, intermediate, vertical };

inline constexpr std::string_view degree_day_method_names[] = {"average",         "average_floored",
                                                               "single_triangle", "double_triangle",
                                                               "single_sine",     "double_sine"};
inline constexpr std::string_view degree_day_cutoff_names[] = {"horizontal", "intermediate",
                                                               "vertical"};

[[nodiscard]] constexpr std::string_view to_string(degree_day_method method) noexcept {
    return degree_day_method_names[static_cast<int>(method)];
}
[[nodiscard]] constexpr std::string_view to_string(degree_day_cutoff cutoff) noexcept {
    return degree_day_cutoff_names[static_cast<int>(cutoff)];
}

/// How degree-days are worked out: thresholds in the unit of the temperatures.
struct degree_day_rule {
    double base = 0.0;
    double upper = std::numeric_limits<double>::infinity();  ///< infinity: no upper threshold
    degree_day_method method = degree_day_method::single_sine;
    degree_day_cutoff cutoff = degree_day_cutoff::horizontal;

    friend bool operator==(degree_day_rule const&, degree_day_rule const&) = default;
};

/// Throws `invalid_input` unless base < upper, both numbers, and the cutoff fits the method.
inline void validate(degree_day_rule const& rule) {
    if (!std::isfinite(rule.base)) {
        throw invalid_input{{.code = "degree_days.base",
                             .field = "base",
                             .value = detail::text(rule.base),
                             .problem = detail::text(rule.base, " is no base temperature"),
                             .remedy = "give the temperature below which nothing develops"}};
    }
    if (!(rule.upper > rule.base)) {
        throw invalid_input{{.code = "degree_days.upper",
                             .field = "upper",
                             .value = detail::text(rule.upper),
                             .bound = detail::text("more than the base, ", rule.base),
                             .problem = detail::text(rule.upper, " is not above the base"),
                             .remedy = "give an upper threshold above the base, or none"}};
    }
    if (rule.method == degree_day_method::average_floored &&
        rule.cutoff != degree_day_cutoff::horizontal) {
        throw invalid_input{
            {.code = "degree_days.cutoff",
             .field = "cutoff",
             .value = std::string{to_string(rule.cutoff)},
             .bound = "horizontal",
             .problem = detail::text("average_floored has no ", to_string(rule.cutoff), " cutoff"),
             .remedy = "use the horizontal cutoff, or another method"}};
    }
}

namespace detail {

/// Mean excess over a threshold during a day, and the share of the day above it.
struct excess {
    double area;
    double share;
};

[[nodiscard]] inline excess average_excess(double mean, double threshold) {
    return mean > threshold ? excess{mean - threshold, 1.0} : excess{0.0, 0.0};
}

[[nodiscard]] inline excess triangle_excess(double low, double high, double threshold) {
    if (high <= threshold) { return {0.0, 0.0}; }
    if (low >= threshold) { return {(low + high) / 2.0 - threshold, 1.0}; }
    double const over = high - threshold;
    double const range = high - low;
    return {over * over / (2.0 * range), over / range};
}

[[nodiscard]] inline excess sine_excess(double low, double high, double threshold) {
    double const mean = (low + high) / 2.0;
    if (high <= threshold) { return {0.0, 0.0}; }
    if (low >= threshold) { return {mean - threshold, 1.0}; }
    double const amplitude = (high - low) / 2.0;
    // Rounding can push the ratio just past 1 when the threshold is next to an extreme.
    double const theta = std::asin(std::clamp((threshold - mean) / amplitude, -1.0, 1.0));
    double const above = std::numbers::pi / 2.0 - theta;
    return {((mean - threshold) * above + amplitude * std::cos(theta)) / std::numbers::pi,
            above / std::numbers::pi};
}

[[nodiscard]] inline double apply_cutoff(excess over_base, excess over_upper,
                                         degree_day_rule const& rule) {
    switch (rule.cutoff) {
        case degree_day_cutoff::horizontal:
            return over_base.area - over_upper.area;
        case degree_day_cutoff::intermediate:
            return std::max(0.0, over_base.area - 2.0 * over_upper.area);
        case degree_day_cutoff::vertical: {
            double const lost =
                over_upper.share > 0.0 ? over_upper.share * (rule.upper - rule.base) : 0.0;
            return std::max(0.0, over_base.area - over_upper.area - lost);
        }
    }
    return 0.0;
}

template <class Excess>
[[nodiscard]] double half_cycle(Excess const& excess_over, double low, double high,
                                degree_day_rule const& rule) {
    return apply_cutoff(excess_over(low, high, rule.base), excess_over(low, high, rule.upper),
                        rule);
}

}  // namespace detail

/// Degree-days of one day. `next_low` is the next day's minimum, used by the double methods only.
/// Expects a valid rule and low <= high; NaN gives NaN.
///
///     degree_days(5.0, 25.0, 5.0, {.base = 10.0});   // 6.09 by the single sine
[[nodiscard]] inline double degree_days(double low, double high, double next_low,
                                        degree_day_rule const& rule) {
    if (std::isnan(low) || std::isnan(high)) { return std::numeric_limits<double>::quiet_NaN(); }
    auto const averaged = [&](double mean) {
        return detail::apply_cutoff(detail::average_excess(mean, rule.base),
                                    detail::average_excess(mean, rule.upper), rule);
    };
    switch (rule.method) {
        case degree_day_method::average:
            return averaged((low + high) / 2.0);
        case degree_day_method::average_floored:
            return averaged(
                (std::clamp(low, rule.base, rule.upper) + std::clamp(high, rule.base, rule.upper)) /
                2.0);
        case degree_day_method::single_triangle:
            return detail::half_cycle(detail::triangle_excess, low, high, rule);
        case degree_day_method::single_sine:
            return detail::half_cycle(detail::sine_excess, low, high, rule);
        // The next minimum may lie above today's maximum: then the falling half is flat.
        case degree_day_method::double_triangle:
            return (detail::half_cycle(detail::triangle_excess, low, high, rule) +
                    detail::half_cycle(detail::triangle_excess, std::min(next_low, high), high,
                                       rule)) /
                   2.0;
        case degree_day_method::double_sine:
            return (detail::half_cycle(detail::sine_excess, low, high, rule) +
                    detail::half_cycle(detail::sine_excess, std::min(next_low, high), high, rule)) /
                   2.0;
    }
    return 0.0;
}

/// Degree-days of a run of days, into `out`. All spans have the same length; the last day's next
/// minimum is its own. Throws `invalid_input` on unequal lengths, an invalid rule, or a day whose
/// minimum is above its maximum.
inline void degree_days(std::span<double const> tmin, std::span<double const> tmax,
                        degree_day_rule const& rule, std::span<double> out) {
    validate(rule);
    if (tmin.size() != tmax.size() || tmin.size() != out.size()) {
        throw invalid_input{{.code = "degree_days.lengths",
                             .field = "tmin, tmax",
                             .value = detail::text(tmin.size(), " and ", tmax.size(), " days"),
                             .problem = "minimum and maximum have different lengths",
                             .remedy = "give one minimum and one maximum for every day"}};
    }
    for (std::size_t i = 0; i < tmin.size(); ++i) {
        if (tmin[i] > tmax[i]) {
            throw invalid_input{
                {.code = "degree_days.order",
                 .field = detail::text("tmin[", i, "]"),
                 .value = detail::text(tmin[i]),
                 .bound = detail::text("at most tmax[", i, "] = ", tmax[i]),
                 .problem = detail::text("minimum ", tmin[i], " is above maximum ", tmax[i]),
                 .remedy = "set both to NaN where a day is not to be trusted"}};
        }
        out[i] = degree_days(tmin[i], tmax[i], i + 1 < tmin.size() ? tmin[i + 1] : tmin[i], rule);
    }
}

}  // namespace epicotyl

#endif
