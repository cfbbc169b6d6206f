#include <epicotyl/weather/climate.hpp>

#include <algorithm>
#include <utility>

#include <epicotyl/detail/month_day.hpp>

namespace epicotyl {
namespace {

/// The first and last year whose whole season lies within the record; first > last when none does.
struct year_range {
    int first;
    int last;
};

[[nodiscard]] year_range years_within(daily_record const& record, date::month_day start,
                                      int length) {
    int first = detail::year_of(record.start());
    if (detail::day_in_year(first, start) < record.start()) { ++first; }
    int last = detail::year_of(record.end());
    while (last >= first && detail::day_in_year(last, start) + days{length} > record.end()) {
        --last;
    }
    return {first, last};
}

/// Why a year that the caller named cannot be cut from the record.
[[nodiscard]] left_out_year outside(daily_record const& record, int year, day start, int length) {
    day const end = start + days{length};
    // The days that are not in the record are at one end of the season, or at both.
    int const before = std::clamp(static_cast<int>((record.start() - start).count()), 0, length);
    int const after = std::clamp(static_cast<int>((end - record.end()).count()), 0, length);
    int const missing = std::min(before + after, length);
    return {.year = year,
            .element = weather_element::both,
            .first = before > 0 ? start : end - days{after},
            .length = missing,
            .sentence = fmt::format("{}: {} of its {} days from {} {} not in the record, which "
                                    "holds {}",
                                    year, missing, length, to_day_month_year(start),
                                    missing == 1 ? "is" : "are",
                                    detail::to_period(record.start(), record.end() - days{1}))};
}

[[nodiscard]] invalid_input no_candidate(daily_record const& record, date::month_day start,
                                         int length) {
    return invalid_input{
        {.code = "climate.record_too_short",
         .field = "record",
         .value = fmt::format("{}", record.size()),
         .unit = "days",
         .problem = fmt::format("no season year of {} days from {} fits in the record, which holds "
                                "{}",
                                length, detail::to_day_month(start),
                                detail::to_period(record.start(), record.end() - days{1})),
         .remedy = "give a longer record, or a shorter season"}};
}

[[nodiscard]] invalid_input no_usable_year(std::vector<left_out_year> const& left_out,
                                           year_selection const& selection) {
    auto const worst = std::max_element(
        left_out.begin(), left_out.end(),
        [](left_out_year const& a, left_out_year const& b) { return a.length < b.length; });
    return invalid_input{
        {.code = "climate.no_season_year",
         .field = "record",
         .value = "0",
         .bound = "1 or more",
         .unit = "season years",
         .problem =
             fmt::format("of {} nothing can be used; longest gap: {}", selection, worst->sentence),
         .remedy = "give a record with fewer gaps, other years, a shorter season, or a larger "
                   "max_gap"}};
}

[[nodiscard]] std::vector<std::string> warnings_for(std::vector<int> const& years,
                                                    filled_days const& filled) {
    std::vector<std::string> warnings;
    auto const count = static_cast<int>(years.size());
    if (count < few_years) {
        warnings.push_back(
            fmt::format("{} only: chances counted in so few years are rough; {} or more are "
                        "wanted, {} are usual",
                        detail::counted(count, "season year"), few_years, usual_years));
    }
    if (filled.inverted > 0) {
        warnings.push_back(fmt::format(
            "on {} of the season years the record has a minimum above its maximum; both were taken "
            "as missing and filled",
            detail::counted(filled.inverted, "day")));
    }
    return warnings;
}

}  // namespace

date::month_day usual_season_start(latitude site) noexcept {
    using namespace date::literals;
    return site.value() >= 0.0 ? date::January / 1 : date::July / 1;
}

climate::climate(daily_record const& record, latitude site, climate_options const& options) {
    date::month_day const start = options.season_start.value_or(usual_season_start(site));
    detail::require_yearly(start, "season_start", "a season start");
    int const length = season{record.start(), options.season_days}.length();  // checks its range
    filled_record const filled{record, options.max_gap};

    year_range const fitting = years_within(record, start, length);
    std::vector<int> const asked = options.years.among(fitting.first, fitting.last);
    if (asked.empty()) { throw no_candidate(record, start, length); }

    contents made{.record = record,
                  .site = site,
                  .season_start = start,
                  .season_days = length,
                  .max_gap = options.max_gap,
                  .years = {},
                  .left_out = {},
                  .tmin = {},
                  .tmax = {},
                  .filled = {},
                  .warnings = {}};
    std::vector<bool> used(static_cast<std::size_t>(record.size()), false);
    for (int const year : asked) {
        day const first = detail::day_in_year(year, start);
        day const end = first + days{length};
        if (year < fitting.first || year > fitting.last) {
            made.left_out.push_back(outside(record, year, first, length));
            continue;
        }
        if (auto const gap = filled.longest_gap(first, end, weather_element::both)) {
            made.left_out.push_back(
                {.year = year,
                 .element = gap->element,
                 .first = gap->first,
                 .length = gap->length,
                 .sentence = fmt::format("{}: {}", year, to_sentence(*gap, options.max_gap))});
            continue;
        }
        made.years.push_back(year);
        auto const at = record.index_of(first);
        auto const append = [&](std::vector<double>& to, std::span<double const> from) {
            auto const run =
                from.subspan(static_cast<std::size_t>(at), static_cast<std::size_t>(length));
            to.insert(to.end(), run.begin(), run.end());
        };
        append(made.tmin, filled.tmin());
        append(made.tmax, filled.tmax());
        std::fill_n(used.begin() + at, length, true);
    }
    if (made.years.empty()) { throw no_usable_year(made.left_out, options.years); }

    for (int k = 0; k < record.size(); ++k) {
        if (!used[static_cast<std::size_t>(k)]) { continue; }
        made.filled.minimum += filled.lacks_minimum(k) ? 1 : 0;
        made.filled.maximum += filled.lacks_maximum(k) ? 1 : 0;
        made.filled.inverted += filled.is_inverted(k) ? 1 : 0;
    }
    made.warnings = warnings_for(made.years, made.filled);
    held_ = std::make_shared<contents const>(std::move(made));
}

season climate::season_of(int i) const {
    return season{detail::day_in_year(years()[static_cast<std::size_t>(i)], season_start()),
                  season_days()};
}

std::string climate::year_note() const {
    std::string note = detail::counted(size(), "season year");
    note += size() == 1 ? fmt::format(", {}", years().front())
                        : fmt::format(", {} – {}", years().front(), years().back());
    if (left_out().empty()) { return note + "; none left out"; }
    note += fmt::format("; {} left out (", left_out().size());
    std::size_t constexpr most_named = 6;
    for (std::size_t i = 0; i < left_out().size() && i < most_named; ++i) {
        note += fmt::format("{}{}", i == 0 ? "" : ", ", left_out()[i].year);
    }
    return note + (left_out().size() > most_named ? ", …)" : ")");
}

}  // namespace epicotyl
