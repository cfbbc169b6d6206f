#include <epicotyl/heat/fit_air.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/cautions.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/weather/daily_record.hpp>

#include "../detail/wrapped.hpp"
#include "say.hpp"

namespace epicotyl {

namespace {

/// Standard deviation of a normal over its median absolute deviation, and standard error of a
/// median over that of a mean.
constexpr double deviation_of_mad = 1.4826;
constexpr double error_of_median = 1.2533;

double mean_of(std::vector<double> const& values) {
    double sum = 0.0;
    for (double const one : values) { sum += one; }
    return sum / static_cast<double>(values.size());
}

double median_of(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    std::size_t const half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2.0;
}

/// Sum of (a - mean a)(b - mean b).
double product_of(std::vector<double> const& a, std::vector<double> const& b) {
    double const mean_a = mean_of(a);
    double const mean_b = mean_of(b);
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) { sum += (a[i] - mean_a) * (b[i] - mean_b); }
    return sum;
}

void require_values(std::span<double const> values, char const* field) {
    for (double const one : values) {
        if (!std::isinf(one)) { continue; }
        throw invalid_input{{.code = "fit_air.infinite",
                             .field = field,
                             .value = fmt::format("{}", one),
                             .bound = "finite, or NaN for none",
                             .unit = "°C",
                             .problem = fmt::format("{} is no temperature", one),
                             .remedy = "leave a gap as NaN"}};
    }
}

temperature_span kelvin(double value) {
    return temperature_span::from_kelvin(value);
}

}  // namespace

air_fit fit_air(std::span<double const> inside, std::span<double const> outside) {
    if (inside.size() != outside.size()) {
        throw invalid_input{{.code = "fit_air.lengths",
                             .field = "outside",
                             .value = fmt::format("{}", outside.size()),
                             .bound = fmt::format("{}", inside.size()),
                             .unit = "nights",
                             .problem = "inside and outside are not the same nights",
                             .remedy = "give a value, or NaN, for every night of both"}};
    }
    require_values(inside, "inside");
    require_values(outside, "outside");
    std::vector<double> in;
    std::vector<double> out;
    std::vector<double> gains;
    for (std::size_t i = 0; i < inside.size(); ++i) {
        if (std::isnan(inside[i]) || std::isnan(outside[i])) { continue; }
        in.push_back(inside[i]);
        out.push_back(outside[i]);
        gains.push_back(inside[i] - outside[i]);
    }
    if (gains.empty()) {
        throw invalid_input{{.code = "fit_air.no_night",
                             .field = "inside",
                             .value = "0",
                             .bound = "1 or more",
                             .unit = "nights",
                             .problem = "no night has a value inside and outside",
                             .remedy = "log both on the same nights"}};
    }
    auto const n = static_cast<double>(gains.size());
    double const middle = median_of(gains);
    air_fit found{.nights = static_cast<int>(gains.size()),
                  .gain = kelvin(mean_of(gains)),
                  .middle = kelvin(middle)};
    if (gains.size() < 2) { return found; }
    found.error = kelvin(std::sqrt(product_of(gains, gains) / (n - 1.0) / n));
    std::vector<double> away = gains;
    for (double& one : away) { one = std::abs(one - middle); }
    found.middle_error =
        kelvin(error_of_median * deviation_of_mad * median_of(away) / std::sqrt(n));
    double const spread = product_of(out, out);
    if (spread > 0.0) {
        double const slope = product_of(out, in) / spread;
        found.slope = slope;
        if (gains.size() > 2) {
            double const left = std::max(0.0, product_of(in, in) - slope * product_of(out, in));
            found.slope_error = std::sqrt(left / (n - 2.0) / spread);
        }
    }
    return found;
}

std::string to_string(air_fit const& of, unit_system units) {
    auto const with_error = [&](temperature_span gain, std::optional<temperature_span> error) {
        std::string const said = detail::say_degrees(gain, units);
        return error
                   ? fmt::format("{} (standard error {})", said, detail::say_degrees(*error, units))
                   : said;
    };
    std::string line = fmt::format(
        "warmer by {} on average of {}, by {} in the middle", with_error(of.gain, of.error),
        detail::counted(of.nights, "night"), with_error(of.middle, of.middle_error));
    if (of.slope) { line += fmt::format("; slope {:.2f}", *of.slope); }
    return detail::wrapped(line + "\n") + cautions_text(told_by::fit_air, units);
}

std::string to_string(guessed_gain const& of, unit_system units) {
    return fmt::format("a guess: warmer by {} on a still night, {} to {}\n",
                       detail::say_degrees(of.usual, units), detail::say_degrees(of.low, units),
                       detail::say_degrees(of.high, units)) +
           cautions_text(told_by::guess_night_gain, units);
}

guessed_gain guess_night_gain(std::span<night_layer const> layers) {
    struct row {
        double low;
        double usual;
        double high;
    };
    static constexpr std::array<row, 5> table = {{{0.0, 1.0, 3.0},
                                                  {1.0, 5.0 / fahrenheit_per_kelvin, 4.0},
                                                  {2.0, 2.5, 3.0},
                                                  {1.0, 2.0, 3.0},
                                                  {3.0, 3.9, 5.0}}};
    guessed_gain sum;
    for (night_layer const one : layers) {
        row const& gives = table.at(static_cast<std::size_t>(one));
        sum.low = sum.low + kelvin(gives.low);
        sum.usual = sum.usual + kelvin(gives.usual);
        sum.high = sum.high + kelvin(gives.high);
    }
    return sum;
}

}  // namespace epicotyl
