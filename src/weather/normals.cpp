#include "normals.hpp"

#include <cmath>
#include <string>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/generator.hpp>

#include "course_fit.hpp"

namespace epicotyl {
namespace {

using detail::common_year;
using detail::course_fit;
using detail::term_vector;
using detail::terms;
using detail::terms_at;

/// The course through twelve monthly means, and how it follows each of them.
struct normals_fit {
    yearly_course course;
    std::array<double, 12> followed = {};
};

/// `without` is a month that is not looked at.
[[nodiscard]] normals_fit fitted_normals(std::array<double, 12> const& normals,
                                         std::optional<std::size_t> without = {}) {
    std::array<term_vector, 12> monthly = {};
    for (unsigned month = 1; month <= 12; ++month) {
        day const first = make_day(common_year, month, 1);
        day const end =
            month == 12 ? make_day(common_year + 1, 1, 1) : make_day(common_year, month + 1, 1);
        for (day d = first; d < end; d += days{1}) {
            term_vector const values = terms_at(phase_of(d));
            for (std::size_t i = 0; i < terms; ++i) {
                monthly[month - 1][i] += values[i] / static_cast<double>((end - first).count());
            }
        }
    }
    course_fit fit;
    for (std::size_t m = 0; m < 12; ++m) {
        if (m != without) { fit.add(monthly[m], normals[m]); }
    }
    normals_fit found{.course = fit.solved()};
    for (std::size_t m = 0; m < 12; ++m) {
        double followed = found.course.level;
        for (std::size_t h = 0; h < yearly_course::harmonics; ++h) {
            followed += found.course.cosine[h] * monthly[m][1 + 2 * h];
            followed += found.course.sine[h] * monthly[m][2 + 2 * h];
        }
        found.followed[m] = followed;
    }
    return found;
}

[[nodiscard]] yearly_course course_of_normals(std::array<double, 12> const& normals,
                                              std::string const& field) {
    auto const misfit = detail::find_normals_misfit(normals);
    if (!misfit) { return fitted_normals(normals).course; }
    double const value = normals[misfit->month];
    throw invalid_input{{.code = "generator.normals_jump",
                         .field = fmt::format("{}[{}]", field, misfit->month),
                         .value = fmt::format("{}", value),
                         .bound = fmt::format("{:.1f} to {:.1f}", misfit->lowest, misfit->highest),
                         .unit = "°C",
                         .problem = fmt::format("{} °C in {} does not fit the other months", value,
                                                detail::month_names[misfit->month]),
                         .remedy = "give January to December in this order, all in °C"}};
}

/// One wave from coldest to warmest.
[[nodiscard]] yearly_course spread_wave(yearly_course const& mean, double coldest, double warmest) {
    yearly_course wave{.level = 0.5 * (coldest + warmest)};
    double const size = std::hypot(mean.cosine[0], mean.sine[0]);
    if (size > 0.0) {
        wave.cosine[0] = -0.5 * (coldest - warmest) * mean.cosine[0] / size;
        wave.sine[0] = -0.5 * (coldest - warmest) * mean.sine[0] / size;
    }
    return wave;
}

}  // namespace

std::optional<detail::normals_misfit> detail::find_normals_misfit(
    std::array<double, 12> const& normals) {
    normals_fit const fit = fitted_normals(normals);
    auto const off = [&](std::size_t m) {
        return std::abs(normals[m] - fit.followed[m]);
    };
    std::size_t worst = 0;
    for (std::size_t m = 1; m < 12; ++m) { worst = off(m) > off(worst) ? m : worst; }
    if (off(worst) <= largest_normals_misfit) { return std::nullopt; }
    // The wrong month has drawn the year towards itself; the other eleven say where it belongs, and
    // by how much more than the misfit it may leave them.
    double const by_others = fitted_normals(normals, worst).followed[worst];
    double const room = largest_normals_misfit * std::abs(normals[worst] - by_others) / off(worst);
    return normals_misfit{.month = worst, .lowest = by_others - room, .highest = by_others + room};
}

weather_model model_from_normals(std::array<double, 12> const& lows,
                                 std::array<double, 12> const& highs,
                                 normals_options const& options) {
    for (std::size_t m = 0; m < 12; ++m) {
        for (auto const& [value, field] : {std::pair{lows[m], "lows"}, {highs[m], "highs"}}) {
            try {
                (void)detail::require_finite(value, "normals", "°C");
            } catch (invalid_input const& fault) {
                throw fault.in_field(fmt::format("{}[{}]", field, m));
            }
        }
        if (lows[m] <= highs[m]) { continue; }
        throw invalid_input{
            {.code = "generator.normals_inverted",
             .field = fmt::format("lows[{}], highs[{}]", m, m),
             .value = fmt::format("{}, {}", lows[m], highs[m]),
             .unit = "°C",
             .problem = fmt::format("in {} the mean low of {} °C stands above the mean high of {} "
                                    "°C",
                                    detail::month_names[m], lows[m], highs[m]),
             .remedy = "give mean daily minima as lows and mean daily maxima as highs"}};
    }
    weather_model_parts parts{.minimum = {.mean = course_of_normals(lows, "lows"), .spread = {}},
                              .maximum = {.mean = course_of_normals(highs, "highs"), .spread = {}},
                              .same_day = options.same_day,
                              .next_day = options.next_day,
                              .origin = "made from normals"};
    parts.minimum.spread = spread_wave(parts.minimum.mean, options.minimum_spread_coldest,
                                       options.minimum_spread_warmest);
    parts.maximum.spread = spread_wave(parts.maximum.mean, options.maximum_spread_coldest,
                                       options.maximum_spread_warmest);
    return weather_model{std::move(parts)};
}

}  // namespace epicotyl
