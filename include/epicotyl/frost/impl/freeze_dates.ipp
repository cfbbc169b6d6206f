// epicotyl: each year's last and first freeze.
#ifndef EPICOTYL_FROST_IMPL_FREEZE_DATES_IPP
#define EPICOTYL_FROST_IMPL_FREEZE_DATES_IPP

#include <algorithm>

#include <fmt/format.h>

#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/freeze_dates.hpp>

namespace epicotyl {

namespace detail::freeze_dates_parts {

[[nodiscard]] EPICOTYL_INLINE bool lies_within(day_range const& span,
                                               daily_record const& record) noexcept {
    return record.start() <= span.begin && span.end <= record.end();
}

/// The years to look at: the record's own, or the ones the caller named.
[[nodiscard]] EPICOTYL_INLINE std::vector<int> asked_years(daily_record const& record,
                                                           freeze_options const& options) {
    bool const one_half_is_enough = options.years == year_selection::all();
    int first = 1;
    int last = 0;
    // A half that ends in the record's first year began the year before at the earliest.
    for (int year = detail::year_of(record.start()) - 1; year <= detail::year_of(record.end());
         ++year) {
        bool const one = lies_within(options.halves.cold_to_warm(year), record);
        bool const other = lies_within(options.halves.warm_to_cold(year), record);
        if (one_half_is_enough ? one || other : one && other) {
            if (first > last) { first = year; }
            last = year;
        }
    }
    return options.years.among(first, last);
}

/// "2008, 1 Aug – 31 Dec".
[[nodiscard]] EPICOTYL_INLINE std::string name_of(int year, day_range const& span) {
    return fmt::format("{}, {} – {}", year, epicotyl::to_day_month(span.begin),
                       epicotyl::to_day_month(span.end - days{1}));
}

[[nodiscard]] EPICOTYL_INLINE int days_not_held(day_range const& span,
                                                daily_record const& record) noexcept {
    day const from = std::max(span.begin, record.start());
    day const until = std::min(span.end, record.end());
    return span.length() - (from < until ? static_cast<int>((until - from).count()) : 0);
}

[[nodiscard]] EPICOTYL_INLINE left_out_half outside(int year, bool cold_to_warm,
                                                    day_range const& span,
                                                    daily_record const& record) {
    int const missing = days_not_held(span, record);
    bool const from_start = span.begin < record.start() || span.begin >= record.end();
    return {.year = year,
            .cold_to_warm = cold_to_warm,
            .first = from_start ? span.begin : record.end(),
            .length = missing,
            .sentence = fmt::format("{}: {} of its {} days {} not in the record, which holds {}",
                                    name_of(year, span), missing, span.length(),
                                    missing == 1 ? "is" : "are",
                                    detail::to_period(record.start(), record.end() - days{1}))};
}

[[nodiscard]] EPICOTYL_INLINE std::vector<std::optional<int>> offsets(
    std::span<freeze_year const> years, freeze_half freeze_year::*half) {
    std::vector<std::optional<int>> found;
    for (freeze_year const& year : years) {
        freeze_half const& one = year.*half;
        if (!one.used) { continue; }
        found.emplace_back();
        if (one.freeze) { found.back() = static_cast<int>((*one.freeze - one.span.begin).count()); }
    }
    return found;
}

/// Finds the freeze of one half after another, and says why one cannot be used.
class half_reader {
public:
    half_reader(daily_record const& record, temperature threshold, freeze_options const& options)
        : record_{record},
          limit_{threshold.celsius()},
          options_{options},
          filled_{record, options.max_gap} {}

    [[nodiscard]] freeze_half read(int year, bool cold_to_warm,
                                   std::vector<left_out_half>& left_out) const {
        freeze_half half{.span = cold_to_warm ? options_.halves.cold_to_warm(year)
                                              : options_.halves.warm_to_cold(year),
                         .used = false,
                         .missing = 0,
                         .freeze = std::nullopt};
        half.missing = days_without_minimum(half.span);
        if (auto why = why_not_used(year, cold_to_warm, half.span)) {
            left_out.push_back(std::move(*why));
            return half;
        }
        half.used = true;
        for (int k = 0; k < half.span.length() && !half.freeze; ++k) {
            day const d = cold_to_warm ? half.span.end - days{k + 1} : half.span.begin + days{k};
            if (freezes(d)) { half.freeze = d; }
        }
        return half;
    }

private:
    [[nodiscard]] bool freezes(day d) const {
        double const minimum = filled_.tmin()[static_cast<std::size_t>(record_.index_of(d))];
        return options_.counts_when == comparison::below ? !is_at_or_above(minimum, limit_)
                                                         : is_at_or_below(minimum, limit_);
    }

    [[nodiscard]] int days_without_minimum(day_range const& span) const {
        int missing = days_not_held(span, record_);
        day const end = std::min(span.end, record_.end());
        for (day d = std::max(span.begin, record_.start()); d < end; d += days{1}) {
            missing += filled_.lacks_minimum(record_.index_of(d)) ? 1 : 0;
        }
        return missing;
    }

    [[nodiscard]] std::optional<left_out_half> why_not_used(int year, bool cold_to_warm,
                                                            day_range const& span) const {
        if (!lies_within(span, record_)) { return outside(year, cold_to_warm, span, record_); }
        auto const gap = filled_.longest_gap(span.begin, span.end, weather_element::minimum);
        if (!gap) { return std::nullopt; }
        return left_out_half{.year = year,
                             .cold_to_warm = cold_to_warm,
                             .first = gap->first,
                             .length = gap->length,
                             .sentence = fmt::format("{}: {}", name_of(year, span),
                                                     to_sentence(*gap, options_.max_gap))};
    }

    daily_record const& record_;
    double limit_;
    freeze_options const& options_;
    filled_record filled_;
};

[[noreturn]] EPICOTYL_INLINE void refuse_no_half(daily_record const& record,
                                                 freeze_options const& options,
                                                 std::vector<left_out_half> const& left_out) {
    auto const worst =
        std::max_element(left_out.begin(), left_out.end(),
                         [](auto const& a, auto const& b) { return a.length < b.length; });
    std::string const because =
        worst == left_out.end()
            ? "the record holds " + detail::to_period(record.start(), record.end() - days{1})
            : "longest gap: " + worst->sentence;
    throw invalid_input{
        {.code = "freeze_dates.no_half",
         .field = "record",
         .value = "0",
         .bound = "1 or more",
         .unit = "halves",
         .problem = fmt::format("of {} no half can be used; {}", options.years, because),
         .remedy =
             "give a longer record or one with fewer gaps, other years, or a larger max_gap"}};
}

}  // namespace detail::freeze_dates_parts

EPICOTYL_INLINE freeze_dates::freeze_dates(daily_record const& record, temperature threshold,
                                           freeze_options const& options)
    : name_{record.name()}, threshold_{threshold}, options_{options} {
    detail::freeze_dates_parts::half_reader const reader{record, threshold, options};
    bool any_used = false;
    for (int const year : detail::freeze_dates_parts::asked_years(record, options)) {
        freeze_year& made = years_.emplace_back();
        made.year = year;
        made.cold_to_warm = reader.read(year, true, left_out_);
        made.warm_to_cold = reader.read(year, false, left_out_);
        any_used = any_used || made.cold_to_warm.used || made.warm_to_cold.used;
    }
    if (!any_used) { detail::freeze_dates_parts::refuse_no_half(record, options, left_out_); }
}

EPICOTYL_INLINE std::vector<std::optional<int>> freeze_dates::last_offsets() const {
    return detail::freeze_dates_parts::offsets(years_, &freeze_year::cold_to_warm);
}

EPICOTYL_INLINE std::vector<std::optional<int>> freeze_dates::first_offsets() const {
    return detail::freeze_dates_parts::offsets(years_, &freeze_year::warm_to_cold);
}

EPICOTYL_INLINE std::vector<frost_free_span> freeze_dates::frost_free() const {
    std::vector<frost_free_span> spans;
    for (freeze_year const& spring : years_) {
        // The half that follows begins in the same year or, in the south, in the next.
        auto const autumn = std::find_if(years_.begin(), years_.end(), [&](freeze_year const& y) {
            return y.warm_to_cold.span.begin == spring.cold_to_warm.span.end;
        });
        if (autumn == years_.end() || !spring.cold_to_warm.used || !autumn->warm_to_cold.used) {
            continue;
        }
        std::optional<int> length;
        if (spring.last() && autumn->first()) {
            length = static_cast<int>((*autumn->first() - *spring.last()).count()) - 1;
        }
        spans.push_back({.year = spring.year, .length = length});
    }
    return spans;
}

EPICOTYL_INLINE std::string to_string(freeze_dates const& dates) {
    int const first = dates.years().front().year;
    int const last = dates.years().back().year;
    return fmt::format("{}{}nights {} {:.1f}, {}", dates.name(), dates.name().empty() ? "" : ": ",
                       to_string(dates.options().counts_when), dates.threshold(),
                       first == last ? detail::text(first) : detail::text(first, " – ", last));
}

}  // namespace epicotyl

#endif
