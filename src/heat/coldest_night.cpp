#include <epicotyl/heat/coldest_night.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <date/date.h>
#include <fmt/format.h>
#include <boost/math/special_functions/beta.hpp>

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/error.hpp>

#include <epicotyl/cautions.hpp>
#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/weather/daily_record.hpp>

#include "say.hpp"

namespace epicotyl {

namespace {

constexpr double percent_of_one = 100.0;

void require(extreme_options const& options, double in_years) {
    if (!(in_years >= 1.0 && std::isfinite(in_years))) {
        throw invalid_input{{.code = "extreme.in_years",
                             .field = "in_years",
                             .value = fmt::format("{}", in_years),
                             .bound = "1 or more",
                             .unit = "years",
                             .problem = fmt::format("{} is no number of years", in_years),
                             .remedy = "10 asks for the coldest night in ten years"}};
    }
    if (options.years < 0) {
        throw invalid_input{
            {.code = "extreme.years",
             .field = "years",
             .value = fmt::format("{}", options.years),
             .bound = "0 or more",
             .unit = "winters",
             .problem = fmt::format("{} winters cannot be looked at", options.years),
             .remedy = "give how many of the latest winters count, 0 for all"}};
    }
    constexpr int whole_year = 366;
    if (options.max_missing < 0 || options.max_missing > whole_year) {
        throw invalid_input{{.code = "extreme.max_missing",
                             .field = "max_missing",
                             .value = fmt::format("{}", options.max_missing),
                             .bound = fmt::format("0 to {}", whole_year),
                             .unit = "days",
                             .problem = fmt::format("{} is out of range", options.max_missing),
                             .remedy = "give how many minima of a winter may be missing"}};
    }
}

std::vector<winter_low> winters_of(daily_record const& record, latitude site, int max_missing) {
    unsigned const first_month = site.value() >= 0.0 ? 7 : 1;
    std::vector<winter_low> winters;
    int year = int{date::year_month_day{record.start()}.year()} - 1;
    for (;; ++year) {
        day const from = make_day(year, first_month, 1);
        day const until = make_day(year + 1, first_month, 1);
        if (from >= record.end()) { return winters; }
        int missing = static_cast<int>((until - from).count());
        double low = std::numeric_limits<double>::infinity();
        for (day d = std::max(from, record.start()); d < std::min(until, record.end());
             d += days{1}) {
            double const minimum = record.tmin()[static_cast<std::size_t>(record.index_of(d))];
            if (std::isnan(minimum)) { continue; }
            --missing;
            low = std::min(low, minimum);
        }
        if (missing <= max_missing && std::isfinite(low)) {
            winters.push_back({year, temperature::from_celsius(low)});
        }
    }
}

/// P(Binomial(n, p) <= k).
double at_most(int k, int n, double p) {
    if (k < 0) { return 0.0; }
    if (k >= n) { return 1.0; }
    return boost::math::ibetac(static_cast<double>(k + 1), static_cast<double>(n - k), p);
}

}  // namespace

cold_extreme coldest_night(daily_record const& record, latitude site, double in_years,
                           extreme_options const& options) {
    require(options, in_years);
    std::vector<winter_low> winters = winters_of(record, site, options.max_missing);
    if (winters.empty()) {
        throw invalid_input{
            {.code = "extreme.no_winter",
             .field = "record",
             .value = "0",
             .bound = "1 or more",
             .unit = "winters",
             .problem = fmt::format("no winter of the record lacks at most {} minima",
                                    options.max_missing),
             .remedy = "take a longer record, or let more days be missing"}};
    }
    auto const wanted = static_cast<std::size_t>(options.years);
    if (options.years > 0 && winters.size() > wanted) {
        winters.erase(winters.begin(), winters.end() - options.years);
    }
    std::vector<temperature> lows;
    for (winter_low const& one : winters) { lows.push_back(one.low); }
    std::sort(lows.begin(), lows.end());

    int const n = static_cast<int>(lows.size());
    double const p = 1.0 / in_years;
    auto const at = [&](int place) -> std::optional<temperature> {
        if (place < 1 || place > n) { return std::nullopt; }
        return lows[static_cast<std::size_t>(place - 1)];
    };
    // The winters at or below the true quantile are B of n: it lies below the l-th when B < l, and
    // at or above the u-th when B >= u.
    double const tail = (1.0 - options.level.value()) / 2.0;
    int from = 0;
    while (from < n && at_most(from, n, p) <= tail) { ++from; }
    int until = n + 1;
    while (until > 1 && 1.0 - at_most(until - 2, n, p) <= tail) { --until; }
    int const place = detail::whole_of(std::floor((n + 1) * p + detail::nearly_nothing));
    return {.in_years = in_years,
            .night = at(std::min(place, n)),
            .low = at(from),
            .high = at(until),
            .level = options.level.value(),
            .winters = std::move(winters)};
}

std::string to_string(cold_extreme const& of, unit_system units) {
    auto const end = [&](std::optional<temperature> const& at) {
        return at ? detail::say_degrees(*at, units) : std::string{"open"};
    };
    std::string const winters = detail::counted(static_cast<int>(of.winters.size()), "winter");
    std::string const line =
        of.night
            ? fmt::format("the coldest night in {:g} years: {} ({:g} % interval: {} to {}; {})",
                          of.in_years, detail::say_degrees(*of.night, units),
                          percent_of_one * of.level, end(of.low), end(of.high), winters)
            : fmt::format("the coldest night in {:g} years: not known; {} are too few", of.in_years,
                          winters);
    return line + "\n" + cautions_text(told_by::coldest_night, units);
}

}  // namespace epicotyl
