// epicotyl: chances of a freeze before or after a day.
#ifndef EPICOTYL_FROST_IMPL_FREEZE_RISK_IPP
#define EPICOTYL_FROST_IMPL_FREEZE_RISK_IPP

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <boost/math/distributions/normal.hpp>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/detail/whole.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/freeze_risk.hpp>

namespace epicotyl {

namespace detail::freeze_risk_parts {

/// Where years without a freeze stand among the others.
enum class blanks { before, after };

// Positions are products of a decimal fraction and a small whole number. What is this close to a
// whole number was meant to be one.

[[nodiscard]] EPICOTYL_INLINE double snapped(double position) noexcept {
    double const whole = std::round(position);
    return std::abs(position - whole) < detail::nearly_nothing ? whole : position;
}

/// The value at a position 1 ... n of n years, none when a year without one stands there.
[[nodiscard]] EPICOTYL_INLINE std::optional<int> value_at(std::vector<int> const& values, int years,
                                                          blanks where, int position) noexcept {
    auto const count = static_cast<int>(values.size());
    int const at = where == blanks::before ? position - 1 - (years - count) : position - 1;
    if (position < 1 || position > years || at < 0 || at >= count) { return std::nullopt; }
    return values[static_cast<std::size_t>(at)];
}

[[nodiscard]] EPICOTYL_INLINE std::optional<double> value_between(freeze_sample const& sample,
                                                                  blanks where,
                                                                  double position) noexcept {
    position = snapped(position);
    if (position < 1.0 || position > sample.years) { return std::nullopt; }
    int const below = detail::whole_of(position);
    double const beyond = position - below;
    auto const lower = value_at(sample.values, sample.years, where, below);
    if (beyond == 0.0 || !lower) { return lower; }
    auto const upper = value_at(sample.values, sample.years, where, below + 1);
    if (!upper) { return std::nullopt; }
    return *lower + beyond * (*upper - *lower);
}

/// The value of the fitted normal below which a share of its dates lies.
[[nodiscard]] EPICOTYL_INLINE double fitted_quantile(freeze_sample const& sample, double share) {
    if (sample.sd == 0.0) { return sample.mean; }
    // Boost throws where a share is too near to 0 or 1 for a double.
    constexpr double nearest = 1e-300;
    share = std::clamp(share, nearest, 1.0 - std::numeric_limits<double>::epsilon());
    return boost::math::quantile(boost::math::normal{sample.mean, sample.sd}, share);
}

/// Value for a chance that it, or a smaller one, comes; years without one have none that small.
[[nodiscard]] EPICOTYL_INLINE std::optional<double> value_for_smaller(freeze_sample const& sample,
                                                                      freeze_estimator estimator,
                                                                      double p) {
    if (estimator == freeze_estimator::empirical) {
        return value_between(sample, blanks::after, p * (sample.years + 1));
    }
    double const q = sample.share();
    if (!(p > 0.0 && p < q)) { return std::nullopt; }
    return fitted_quantile(sample, p / q);
}

/// Value for a chance that it, or a greater one, comes; years without one have none that great.
[[nodiscard]] EPICOTYL_INLINE std::optional<double> value_for_greater(freeze_sample const& sample,
                                                                      freeze_estimator estimator,
                                                                      double p) {
    if (estimator == freeze_estimator::empirical) {
        return value_between(sample, blanks::before, (1.0 - p) * (sample.years + 1));
    }
    double const q = sample.share();
    if (!(p > 0.0 && p < q)) { return std::nullopt; }
    return fitted_quantile(sample, 1.0 - p / q);
}

[[nodiscard]] EPICOTYL_INLINE double empirical_chance_smaller(freeze_sample const& sample,
                                                              double offset) {
    std::vector<int> const& values = sample.values;
    if (values.empty() || offset < values.front()) { return 0.0; }
    if (offset > values.back()) { return sample.share(); }
    // The last value that is not greater, and the way to the next.
    auto const next = std::upper_bound(values.begin(), values.end(), offset,
                                       [](double x, int value) { return x < value; });
    double position = static_cast<double>(next - values.begin());
    int const value = *(next - 1);
    if (next != values.end()) { position += (offset - value) / (*next - value); }
    return position / (sample.years + 1);
}

[[nodiscard]] EPICOTYL_INLINE double empirical_chance_greater(freeze_sample const& sample,
                                                              double offset) {
    // Read backwards in time, the last freeze is the first.
    freeze_sample mirrored = sample;
    std::reverse(mirrored.values.begin(), mirrored.values.end());
    for (int& value : mirrored.values) { value = -value; }
    return empirical_chance_smaller(mirrored, -offset);
}

[[nodiscard]] EPICOTYL_INLINE freeze_sample
sample_of(std::vector<std::optional<int>> const& offsets) {
    freeze_sample sample;
    sample.years = static_cast<int>(offsets.size());
    double sum = 0.0;
    for (std::optional<int> const& offset : offsets) {
        if (!offset) { continue; }
        sample.values.push_back(*offset);
        sum += *offset;
    }
    std::sort(sample.values.begin(), sample.values.end());
    auto const count = static_cast<double>(sample.values.size());
    if (count > 0.0) { sample.mean = sum / count; }
    double squares = 0.0;
    for (int const value : sample.values) {
        squares += (value - sample.mean) * (value - sample.mean);
    }
    if (count > 1.0) { sample.sd = std::sqrt(squares / (count - 1.0)); }
    return sample;
}

[[nodiscard]] EPICOTYL_INLINE std::vector<std::optional<int>> lengths_of(
    freeze_dates const& dates) {
    std::vector<std::optional<int>> lengths;
    for (frost_free_span const& one : dates.frost_free()) { lengths.push_back(one.length); }
    return lengths;
}

/// A chance counted in no year at all would look like "no frost here".
EPICOTYL_INLINE void require_years(freeze_sample const& sample, freeze_dates const& dates,
                                   char const* kind) {
    if (sample.years > 0) { return; }
    throw invalid_input{
        {.code = "freeze_risk.no_half",
         .field = "record",
         .value = "0",
         .bound = "1 or more",
         .unit = "years",
         .problem = fmt::format(
             "no {} can be used{}{}", kind, dates.left_out().empty() ? "" : "; first left out: ",
             dates.left_out().empty() ? std::string{} : dates.left_out().front().sentence),
         .remedy = "give a longer record or one with fewer gaps, other years, or a larger "
                   "max_gap"}};
}

inline constexpr char const* cold_to_warm_kind = "cold-to-warm half";
inline constexpr char const* warm_to_cold_kind = "warm-to-cold half";

[[nodiscard]] EPICOTYL_INLINE std::optional<day> rounded(day begin, std::optional<double> offset) {
    if (!offset) { return std::nullopt; }
    return begin + days{detail::whole_of(std::round(*offset))};
}

/// Days from the begin of the half that holds `d`; `half` gives the one that begins in a year.
template <class Half>
[[nodiscard]] double offset_in(day d, Half const& half, char const* kind) {
    int const year = detail::year_of(d);
    for (int const candidate : {year, year - 1}) {
        day_range const span = half(candidate);
        if (span.holds(d)) { return static_cast<double>((d - span.begin).count()); }
    }
    day_range const nearest = half(year);
    std::string const bound = fmt::format("{} to {}", epicotyl::to_day_month(nearest.begin),
                                          epicotyl::to_day_month(nearest.end - days{1}));
    throw invalid_input{{.code = "freeze_risk.other_half",
                         .field = "day",
                         .value = to_iso(d),
                         .bound = bound,
                         .problem = fmt::format("{} lies outside the {}", to_iso(d), kind),
                         .remedy = "ask for the other half's chance, or part the year elsewhere"}};
}

EPICOTYL_INLINE void warn(std::vector<std::string>& warnings, freeze_sample const& sample,
                          freeze_estimator estimator, char const* what) {
    auto const count = static_cast<int>(sample.values.size());
    if (sample.years < few_years) {
        warnings.push_back(fmt::format(
            "{} of {} only: chances counted in so few years are rough; {} or more are wanted, {} "
            "are usual",
            what, detail::counted(sample.years, "year"), few_years, usual_years));
    } else if (estimator == freeze_estimator::fitted && count > 0 && count < few_years) {
        warnings.push_back(
            fmt::format("{} in {} of {} years only: a curve fitted to so few dates is rough", what,
                        count, sample.years));
    }
}

}  // namespace detail::freeze_risk_parts

EPICOTYL_INLINE freeze_risk::freeze_risk(freeze_dates dates, freeze_estimator estimator)
    : dates_{std::move(dates)},
      estimator_{estimator},
      last_{detail::freeze_risk_parts::sample_of(dates_.last_offsets())},
      first_{detail::freeze_risk_parts::sample_of(dates_.first_offsets())},
      frost_free_{
          detail::freeze_risk_parts::sample_of(detail::freeze_risk_parts::lengths_of(dates_))} {
    detail::freeze_risk_parts::warn(warnings_, last_, estimator_, "last freezes");
    detail::freeze_risk_parts::warn(warnings_, first_, estimator_, "first freezes");
}

EPICOTYL_INLINE std::optional<double> freeze_risk::last_freeze(chance chance_later) const {
    detail::freeze_risk_parts::require_years(last_, dates_,
                                             detail::freeze_risk_parts::cold_to_warm_kind);
    return detail::freeze_risk_parts::value_for_greater(last_, estimator_, chance_later.value());
}

EPICOTYL_INLINE std::optional<day> freeze_risk::last_freeze(chance chance_later,
                                                            date::year year) const {
    return detail::freeze_risk_parts::rounded(dates_.options().halves.cold_to_warm(int{year}).begin,
                                              last_freeze(chance_later));
}

EPICOTYL_INLINE std::optional<double> freeze_risk::first_freeze(chance chance_earlier) const {
    detail::freeze_risk_parts::require_years(first_, dates_,
                                             detail::freeze_risk_parts::warm_to_cold_kind);
    return detail::freeze_risk_parts::value_for_smaller(first_, estimator_, chance_earlier.value());
}

EPICOTYL_INLINE std::optional<day> freeze_risk::first_freeze(chance chance_earlier,
                                                             date::year year) const {
    return detail::freeze_risk_parts::rounded(dates_.options().halves.warm_to_cold(int{year}).begin,
                                              first_freeze(chance_earlier));
}

EPICOTYL_INLINE std::optional<double> freeze_risk::frost_free_days(chance chance_longer) const {
    detail::freeze_risk_parts::require_years(frost_free_, dates_, "pair of halves");
    return detail::freeze_risk_parts::value_for_smaller(frost_free_, estimator_,
                                                        1.0 - chance_longer.value());
}

EPICOTYL_INLINE chance freeze_risk::chance_later(double offset) const {
    detail::freeze_risk_parts::require_years(last_, dates_,
                                             detail::freeze_risk_parts::cold_to_warm_kind);
    offset = detail::require_finite(offset, "offset", "days");
    if (estimator_ == freeze_estimator::empirical) {
        return chance{detail::freeze_risk_parts::empirical_chance_greater(last_, offset)};
    }
    if (last_.sd == 0.0) { return chance{offset <= last_.mean ? last_.share() : 0.0}; }
    boost::math::normal const fit{last_.mean, last_.sd};
    return chance{last_.share() * boost::math::cdf(boost::math::complement(fit, offset))};
}

EPICOTYL_INLINE chance freeze_risk::chance_later(day d) const {
    return chance_later(detail::freeze_risk_parts::offset_in(
        d, [&](int year) { return dates_.options().halves.cold_to_warm(year); },
        detail::freeze_risk_parts::cold_to_warm_kind));
}

EPICOTYL_INLINE chance freeze_risk::chance_earlier(double offset) const {
    detail::freeze_risk_parts::require_years(first_, dates_,
                                             detail::freeze_risk_parts::warm_to_cold_kind);
    offset = detail::require_finite(offset, "offset", "days");
    if (estimator_ == freeze_estimator::empirical) {
        return chance{detail::freeze_risk_parts::empirical_chance_smaller(first_, offset)};
    }
    if (first_.sd == 0.0) { return chance{offset >= first_.mean ? first_.share() : 0.0}; }
    boost::math::normal const fit{first_.mean, first_.sd};
    return chance{first_.share() * boost::math::cdf(fit, offset)};
}

EPICOTYL_INLINE chance freeze_risk::chance_earlier(day d) const {
    return chance_earlier(detail::freeze_risk_parts::offset_in(
        d, [&](int year) { return dates_.options().halves.warm_to_cold(year); },
        detail::freeze_risk_parts::warm_to_cold_kind));
}

EPICOTYL_INLINE std::optional<int> empirical_offset_last(
    std::span<std::optional<int> const> offsets, chance chance_later) {
    freeze_sample const sample =
        detail::freeze_risk_parts::sample_of({offsets.begin(), offsets.end()});
    double const position =
        detail::freeze_risk_parts::snapped((1.0 - chance_later.value()) * (sample.years + 1));
    return detail::freeze_risk_parts::value_at(sample.values, sample.years,
                                               detail::freeze_risk_parts::blanks::before,
                                               detail::whole_of(std::ceil(position)));
}

EPICOTYL_INLINE std::optional<int> empirical_offset_first(
    std::span<std::optional<int> const> offsets, chance chance_earlier) {
    freeze_sample const sample =
        detail::freeze_risk_parts::sample_of({offsets.begin(), offsets.end()});
    double const position =
        detail::freeze_risk_parts::snapped(chance_earlier.value() * (sample.years + 1));
    return detail::freeze_risk_parts::value_at(sample.values, sample.years,
                                               detail::freeze_risk_parts::blanks::after,
                                               detail::whole_of(std::floor(position)));
}

EPICOTYL_INLINE std::string to_string(freeze_risk const& risk) {
    return detail::text(to_string(risk.dates()), ", ", to_string(risk.estimator()));
}

}  // namespace epicotyl

#endif
