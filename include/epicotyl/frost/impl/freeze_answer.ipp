// epicotyl: a frost date, or why there is none.
#ifndef EPICOTYL_FROST_IMPL_FREEZE_ANSWER_IPP
#define EPICOTYL_FROST_IMPL_FREEZE_ANSWER_IPP

#include <algorithm>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/frost/freeze_answer.hpp>

namespace epicotyl {

namespace detail::freeze_answer_parts {

// A share of years that was meant to equal the chance asked for differs from it by less.

/// Why there is no value for the chance `p` that one so small (or so great) comes at all.
[[nodiscard]] EPICOTYL_INLINE freeze_answer why_none(freeze_sample const& sample,
                                                     freeze_estimator estimator, double p) {
    bool const too_rare = estimator == freeze_estimator::empirical
                              ? p * (sample.years + 1) < 1.0 - detail::nearly_nothing
                              : p <= 0.0;
    auto const dated = static_cast<int>(sample.values.size());
    if (dated == 0) { return {.state = freeze_state::no_frost}; }
    if (too_rare || dated == sample.years) { return {.state = freeze_state::beyond_record}; }
    return {.state = freeze_state::no_frost};
}

[[nodiscard]] EPICOTYL_INLINE bool is_all_year(freeze_risk const& risk, chance asked) {
    freeze_sample const& lengths = risk.frost_free_sample();
    auto const is_short = [](int length) {
        return length < shortest_season;
    };
    auto const count = std::count_if(lengths.values.begin(), lengths.values.end(), is_short);
    return count > 0 &&
           static_cast<double>(count) >= (asked.value() - detail::nearly_nothing) * lengths.years;
}

}  // namespace detail::freeze_answer_parts

EPICOTYL_INLINE freeze_answer last_freeze_answer(freeze_risk const& risk, chance chance_later) {
    freeze_sample const& sample = risk.last_sample();
    if (sample.years == 0) { return {.state = freeze_state::beyond_record}; }
    if (detail::freeze_answer_parts::is_all_year(risk, chance_later)) {
        return {.state = freeze_state::frost_all_year};
    }
    auto const offset = risk.last_freeze(chance_later);
    if (offset) { return {.state = freeze_state::dated, .days = *offset}; }
    return detail::freeze_answer_parts::why_none(sample, risk.estimator(), chance_later.value());
}

EPICOTYL_INLINE freeze_answer first_freeze_answer(freeze_risk const& risk, chance chance_earlier) {
    freeze_sample const& sample = risk.first_sample();
    if (sample.years == 0) { return {.state = freeze_state::beyond_record}; }
    if (detail::freeze_answer_parts::is_all_year(risk, chance_earlier)) {
        return {.state = freeze_state::frost_all_year};
    }
    auto const offset = risk.first_freeze(chance_earlier);
    if (offset) { return {.state = freeze_state::dated, .days = *offset}; }
    return detail::freeze_answer_parts::why_none(sample, risk.estimator(), chance_earlier.value());
}

EPICOTYL_INLINE freeze_answer frost_free_answer(freeze_risk const& risk, chance chance_longer) {
    freeze_sample const& sample = risk.frost_free_sample();
    if (sample.years == 0) { return {.state = freeze_state::beyond_record}; }
    auto const length = risk.frost_free_days(chance_longer);
    // A year that lacks a freeze is longer than all others: rare are the short ones.
    if (!length) {
        return detail::freeze_answer_parts::why_none(sample, risk.estimator(),
                                                     1.0 - chance_longer.value());
    }
    if (*length < 0.5) { return {.state = freeze_state::frost_all_year}; }
    return {.state = freeze_state::dated, .days = *length};
}

EPICOTYL_INLINE counted_chance counted_later(freeze_risk const& risk, double offset,
                                             band_confidence level) {
    offset = detail::require_finite(offset, "offset", "days");
    freeze_sample const& sample = risk.last_sample();
    auto const count = std::count_if(sample.values.begin(), sample.values.end(),
                                     [&](int value) { return value >= offset; });
    return chance_band(static_cast<int>(count), sample.years, level);
}

EPICOTYL_INLINE counted_chance counted_earlier(freeze_risk const& risk, double offset,
                                               band_confidence level) {
    offset = detail::require_finite(offset, "offset", "days");
    freeze_sample const& sample = risk.first_sample();
    auto const count = std::count_if(sample.values.begin(), sample.values.end(),
                                     [&](int value) { return value <= offset; });
    return chance_band(static_cast<int>(count), sample.years, level);
}

}  // namespace epicotyl

#endif
