// epicotyl: season years cut from a record.
#ifndef EPICOTYL_WEATHER_IMPL_CLIMATE_IPP
#define EPICOTYL_WEATHER_IMPL_CLIMATE_IPP

#include <algorithm>
#include <cstddef>
#include <utility>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/climate.hpp>

namespace epicotyl {

namespace detail::climate_parts {

/// The first and last year whose whole season lies within the record; first > last when none does.
struct year_range {
    int first;
    int last;
};

[[nodiscard]] EPICOTYL_INLINE year_range years_within(daily_record const& record,
                                                      date::month_day start, int length) {
    int first = detail::year_of(record.start());
    if (detail::day_in_year(first, start) < record.start()) { ++first; }
    int last = detail::year_of(record.end());
    while (last >= first && detail::day_in_year(last, start) + days{length} > record.end()) {
        --last;
    }
    return {first, last};
}

/// Why a year that the caller named cannot be cut from the record.
[[nodiscard]] EPICOTYL_INLINE left_out_year outside(daily_record const& record, int year, day start,
                                                    int length) {
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

[[nodiscard]] EPICOTYL_INLINE invalid_input no_candidate(daily_record const& record,
                                                         date::month_day start, int length) {
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

[[nodiscard]] EPICOTYL_INLINE invalid_input
no_usable_year(std::vector<left_out_year> const& left_out, year_selection const& selection) {
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

[[nodiscard]] EPICOTYL_INLINE std::vector<std::string> warnings_for(std::vector<int> const& years,
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

/// The gap for which a season year is left out. One in its first twelve months is the year's own
/// and is told before a longer one of the year after, into which long seasons run on.
[[nodiscard]] EPICOTYL_INLINE std::optional<left_out_year> gap_of(filled_record const& filled,
                                                                  int year, day first,
                                                                  day next_year, int length) {
    day const end = first + days{length};
    auto gap = filled.longest_gap(first, std::min(end, next_year), weather_element::both);
    bool const is_own = gap.has_value();
    if (!is_own) { gap = filled.longest_gap(first, end, weather_element::both); }
    if (!gap) { return std::nullopt; }
    std::string const which = is_own ? fmt::format("{}", year)
                                     : fmt::format("{}, whose season of {} days runs on to {}",
                                                   year, length, to_day_month_year(end - days{1}));
    return left_out_year{
        .year = year,
        .element = gap->element,
        .first = gap->first,
        .length = gap->length,
        .sentence = fmt::format("{}: {}", which, to_sentence(*gap, filled.max_gap()))};
}

/// This season so far: what was observed and the forecast in one, short gaps filled.
[[nodiscard]] EPICOTYL_INLINE filled_record joined(daily_record const& observed,
                                                   std::optional<daily_record> const& forecast,
                                                   int max_gap) {
    std::vector<double> low{observed.tmin().begin(), observed.tmin().end()};
    std::vector<double> high{observed.tmax().begin(), observed.tmax().end()};
    if (forecast) {
        low.insert(low.end(), forecast->tmin().begin(), forecast->tmin().end());
        high.insert(high.end(), forecast->tmax().begin(), forecast->tmax().end());
    }
    return filled_record{daily_record{observed.start(), std::move(low), std::move(high)}, max_gap};
}

[[nodiscard]] EPICOTYL_INLINE invalid_input not_the_start(day observed, date::month_day start) {
    return invalid_input{
        {.code = "climate.given_start",
         .field = "observed",
         .value = to_iso(observed),
         .bound = detail::to_day_month(start),
         .problem =
             fmt::format("what was observed begins on {}, not on the first day of the season",
                         to_day_month_year(observed)),
         .remedy = "give the days from the season's start on, NaN where a few are missing"}};
}

[[nodiscard]] EPICOTYL_INLINE invalid_input not_the_next_day(day forecast, day next) {
    bool const overlaps = forecast < next;
    return invalid_input{
        {.code = overlaps ? "climate.given_overlap" : "climate.given_apart",
         .field = "forecast",
         .value = to_iso(forecast),
         .bound = to_iso(next),
         .problem =
             fmt::format("the forecast begins on {}, but the day after the last one observed is "
                         "{}",
                         to_day_month_year(forecast), to_day_month_year(next)),
         .remedy = overlaps ? "cut the days that were observed off the forecast"
                            : "give the days between, NaN where a few are missing"}};
}

}  // namespace detail::climate_parts

EPICOTYL_INLINE date::month_day usual_season_start(latitude site) noexcept {
    return site.value() >= 0.0 ? date::January / 1 : date::July / 1;
}

EPICOTYL_INLINE climate::climate(daily_record const& record, latitude site,
                                 climate_options const& options) {
    date::month_day const start = options.season_start.value_or(usual_season_start(site));
    detail::require_yearly(start, "season_start", "a season start");
    int const length = season{record.start(), options.season_days}.length();  // checks its range
    filled_record const filled{record, options.max_gap};

    detail::climate_parts::year_range const fitting =
        detail::climate_parts::years_within(record, start, length);
    std::vector<int> const asked = options.years.among(fitting.first, fitting.last);
    if (asked.empty()) { throw detail::climate_parts::no_candidate(record, start, length); }

    contents made{.record = record,
                  .site = site,
                  .season_start = start,
                  .season_days = length,
                  .max_gap = options.max_gap,
                  .years = {},
                  .left_out = {},
                  .chosen = false,
                  .observed = {},
                  .forecast = {},
                  .tmin = {},
                  .tmax = {},
                  .filled = {},
                  .warnings = {}};
    for (int const year : asked) {
        day const first = detail::day_in_year(year, start);
        if (year < fitting.first || year > fitting.last) {
            made.left_out.push_back(detail::climate_parts::outside(record, year, first, length));
            continue;
        }
        if (auto gap = detail::climate_parts::gap_of(
                filled, year, first, detail::day_in_year(year + 1, start), length)) {
            made.left_out.push_back(*std::move(gap));
            continue;
        }
        made.years.push_back(year);
    }
    if (made.years.empty()) {
        throw detail::climate_parts::no_usable_year(made.left_out, options.years);
    }

    lay_out(made);
    held_ = std::make_shared<contents const>(std::move(made));
}

namespace detail::climate_parts {

/// Days of season years must be days of some place on Earth: sums of them stay finite.
EPICOTYL_INLINE void require_weather(std::span<double const> values, char const* field) {
    for (double const celsius : values) {
        if (weather_celsius.holds(celsius)) { continue; }
        throw invalid_input{{.code = "weather.out_of_range",
                             .field = field,
                             .value = fmt::format("{}", celsius),
                             .bound = fmt::format("{:.0f} to {:.0f}", weather_celsius.lowest,
                                                  weather_celsius.highest),
                             .unit = "°C",
                             .problem = fmt::format("{} °C is no air of any place", celsius),
                             .remedy = "give the record in °C, NaN where a value is missing, and "
                                       "shift it by less"}};
    }
}

}  // namespace detail::climate_parts

EPICOTYL_INLINE void climate::lay_out(contents& of) {
    daily_record const& record = of.record;
    filled_record const filled{record, of.max_gap};
    auto const length = static_cast<std::size_t>(of.season_days);
    std::vector<bool> used(static_cast<std::size_t>(record.size()), false);
    of.tmin.clear();
    of.tmax.clear();
    for (int const year : of.years) {
        int const first = record.index_of(detail::day_in_year(year, of.season_start));
        auto const append = [&](std::vector<double>& to, std::span<double const> from) {
            auto const run = from.subspan(static_cast<std::size_t>(first), length);
            to.insert(to.end(), run.begin(), run.end());
        };
        append(of.tmin, filled.tmin());
        append(of.tmax, filled.tmax());
        std::fill_n(used.begin() + first, of.season_days, true);
    }
    of.filled = {};
    for (int k = 0; k < record.size(); ++k) {
        if (!used[static_cast<std::size_t>(k)]) { continue; }
        of.filled.minimum += filled.lacks_minimum(k) ? 1 : 0;
        of.filled.maximum += filled.lacks_maximum(k) ? 1 : 0;
        of.filled.inverted += filled.is_inverted(k) ? 1 : 0;
    }
    of.warnings = detail::climate_parts::warnings_for(of.years, of.filled);
    detail::climate_parts::require_weather(of.tmin, "tmin");
    detail::climate_parts::require_weather(of.tmax, "tmax");

    if (!of.observed) { return; }
    filled_record const season_so_far =
        detail::climate_parts::joined(*of.observed, of.forecast, of.max_gap);
    for (std::size_t i = 0; i < of.years.size(); ++i) {
        auto const at = static_cast<std::ptrdiff_t>(i * length);
        std::copy(season_so_far.tmin().begin(), season_so_far.tmin().end(), of.tmin.begin() + at);
        std::copy(season_so_far.tmax().begin(), season_so_far.tmax().end(), of.tmax.begin() + at);
    }
    detail::climate_parts::require_weather(season_so_far.tmin(), "observed, forecast");
    detail::climate_parts::require_weather(season_so_far.tmax(), "observed, forecast");
}

EPICOTYL_INLINE climate climate::shifted(temperature_span by, unit_system units) const {
    std::array<temperature_span, 12> by_month;
    by_month.fill(by);
    return shifted(by_month, units);
}

EPICOTYL_INLINE climate climate::shifted(std::array<temperature_span, 12> const& by_month,
                                         unit_system units) const {
    bool const metric = units == unit_system::metric;
    char const* const unit = metric ? "K" : "°F";
    auto const said = [&](double kelvin) {
        return metric ? kelvin : kelvin * fahrenheit_per_kelvin;
    };
    auto const [least, most] = std::minmax_element(by_month.begin(), by_month.end());
    for (temperature_span const& one : by_month) {
        if (span_kelvin.holds(one.kelvin())) { continue; }
        throw invalid_input{
            {.code = "climate.shift",
             .field = "by",
             .value = fmt::format("{}", said(one.kelvin())),
             .bound = fmt::format("{} to {}", said(span_kelvin.lowest), said(span_kelvin.highest)),
             .unit = unit,
             .problem = fmt::format("a climate cannot be {} {} warmer", said(one.kelvin()), unit),
             .remedy = "give the difference to the record, such as 2 for a warmer year"}};
    }
    if (*least == temperature_span{} && *most == temperature_span{}) { return *this; }
    auto const moved = [&](std::span<double const> values) {
        std::vector<double> all{values.begin(), values.end()};
        for (std::size_t k = 0; k < all.size(); ++k) {
            date::year_month_day const ymd{record().start() + days{static_cast<int>(k)}};
            all[k] += by_month[unsigned{ymd.month()} - 1].kelvin();
        }
        return all;
    };
    std::string from = record().origin();
    if (!from.empty()) { from += "; "; }
    from += *least == *most ? fmt::format("shifted by {:+.3g} {}", said(least->kelvin()), unit)
                            : fmt::format("shifted month by month by {:+.3g} to {:+.3g} {}",
                                          said(least->kelvin()), said(most->kelvin()), unit);
    contents made = *held_;
    made.record = daily_record{record().start(), moved(record().tmin()), moved(record().tmax()),
                               record().name(), std::move(from)};
    lay_out(made);
    return climate{std::move(made)};
}

EPICOTYL_INLINE climate climate::only(std::vector<int> chosen) const {
    std::sort(chosen.begin(), chosen.end());
    auto const refused = [&](std::string value, std::string problem) {
        return invalid_input{
            {.code = "climate.only",
             .field = "years",
             .value = std::move(value),
             .bound = fmt::format("season years of this climate, which are {}", year_note()),
             .problem = std::move(problem),
             .remedy = "name each of the wanted years once"}};
    };
    if (chosen.empty()) { throw refused("", "no season year is named"); }
    auto const twice = std::adjacent_find(chosen.begin(), chosen.end());
    if (twice != chosen.end()) {
        throw refused(fmt::format("{}", *twice), fmt::format("{} is named twice", *twice));
    }
    for (int const year : chosen) {
        if (std::binary_search(years().begin(), years().end(), year)) { continue; }
        throw refused(fmt::format("{}", year),
                      fmt::format("{} is not among the season years", year));
    }
    contents made = *held_;
    made.chosen = true;
    made.years = std::move(chosen);
    lay_out(made);
    return climate{std::move(made)};
}

EPICOTYL_INLINE climate climate::given(daily_record const& observed,
                                       std::optional<daily_record> const& forecast) const {
    date::year_month_day const first{observed.start()};
    if (first.month() / first.day() != season_start()) {
        throw detail::climate_parts::not_the_start(observed.start(), season_start());
    }
    if (forecast && forecast->start() != observed.end()) {
        throw detail::climate_parts::not_the_next_day(forecast->start(), observed.end());
    }
    int const length = observed.size() + (forecast ? forecast->size() : 0);
    if (length > season_days()) {
        throw invalid_input{
            {.code = "climate.given_too_long",
             .field = forecast ? "observed, forecast" : "observed",
             .value = fmt::format("{}", length),
             .bound = fmt::format("1 to {}", season_days()),
             .unit = "days",
             .problem = fmt::format("{} days are given of a season of {}", length, season_days()),
             .remedy = "give this season only, or make season years longer"}};
    }
    filled_record const season_so_far =
        detail::climate_parts::joined(observed, forecast, max_gap());
    if (auto const gap = season_so_far.longest_gap(
            observed.start(), observed.start() + days{length}, weather_element::both)) {
        throw invalid_input{{.code = "climate.given_gap",
                             .field = gap->first < observed.end() ? "observed" : "forecast",
                             .value = fmt::format("{}", gap->length),
                             .bound = fmt::format("0 to {}", max_gap()),
                             .unit = "days",
                             .problem = to_sentence(*gap, max_gap()),
                             .remedy = "give the missing days, from a station nearby or a "
                                       "forecast; leave off days at the end that have no value"}};
    }
    contents made = *held_;
    made.observed = observed;
    made.forecast = forecast;
    lay_out(made);
    return climate{std::move(made)};
}

EPICOTYL_INLINE std::string climate::origin(unit_system units) const {
    std::vector<std::string> parts;
    if (!record().origin().empty()) { parts.push_back(record().origin()); }
    if (is_chosen()) { parts.emplace_back("only chosen years"); }
    if (observed()) {
        std::string so_far =
            fmt::format("observed to {}", to_day_month_year(observed()->end() - days{1}, units));
        if (forecast()) {
            so_far += fmt::format(", forecast to {}",
                                  to_day_month_year(forecast()->end() - days{1}, units));
        }
        parts.push_back(std::move(so_far));
    }
    return fmt::format("{}", fmt::join(parts, "; "));
}

EPICOTYL_INLINE season climate::season_of(int i) const {
    return season{detail::day_in_year(years()[static_cast<std::size_t>(i)], season_start()),
                  season_days()};
}

EPICOTYL_INLINE std::string climate::year_note(unit_system units) const {
    std::string note = detail::counted(size(), "season year");
    note += size() == 1 ? fmt::format(", {}", years().front())
                        : fmt::format(", {} – {}", years().front(), years().back());
    if (left_out().empty()) {
        note += "; none left out";
    } else {
        note += fmt::format("; {} left out (", left_out().size());
        std::size_t constexpr most_named = 6;
        for (std::size_t i = 0; i < left_out().size() && i < most_named; ++i) {
            note += fmt::format("{}{}", i == 0 ? "" : ", ", left_out()[i].year);
        }
        note += left_out().size() > most_named ? ", …)" : ")";
    }
    std::string const from = origin(units);
    return from.empty() ? note : note + "; " + from;
}

EPICOTYL_INLINE std::string to_string(climate const& of, unit_system units) {
    std::string const& name = of.record().name();
    return name.empty() ? of.year_note(units) : name + ": " + of.year_note(units);
}

}  // namespace epicotyl

#endif
