#include <epicotyl/weather/generator.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/units.hpp>

#include <epicotyl/detail/nearly_nothing.hpp>
#include "course_fit.hpp"

namespace epicotyl {
namespace {

using detail::full_turn;

int constexpr longest_generated = 4'000'000;

[[nodiscard]] invalid_input bad_model(std::string field, double value, std::string bound,
                                      std::string unit, std::string problem, std::string remedy) {
    return invalid_input{{.code = "generator.model",
                          .field = std::move(field),
                          .value = fmt::format("{}", value),
                          .bound = std::move(bound),
                          .unit = std::move(unit),
                          .problem = std::move(problem),
                          .remedy = std::move(remedy)}};
}

void require_finite_course(yearly_course const& course, std::string const& field,
                           char const* unit) {
    auto const check = [&](double value) {
        try {
            (void)detail::require_finite(value, "course", unit);
        } catch (invalid_input const& fault) { throw fault.in_field(field); }
    };
    check(course.level);
    for (double const value : course.cosine) { check(value); }
    for (double const value : course.sine) { check(value); }
}

void require_spread(yearly_course const& spread, std::string const& field) {
    require_finite_course(spread, field, "K");
    for (int k = 0; k < 366; ++k) {
        double const value = spread.at(full_turn * k / 366.0);
        if (value > 0.0) { continue; }
        throw bad_model(
            field, value, "above 0", "K",
            fmt::format("the spread falls to {:.2f} K on day {} of the year", value, k + 1),
            "give a course that stays above 0 the year round");
    }
}

void require_correlation(double value, std::string const& field) {
    if (value > -1.0 && value < 1.0) { return; }
    throw bad_model(field, value, "between -1 and 1", "",
                    fmt::format("{} is no correlation of two different things", value),
                    "correlations of daily weather lie between 0.3 and 0.9");
}

/// A standard normal deviate from two numbers of the generator, by Box and Muller.
class normal_source {
public:
    explicit normal_source(std::uint64_t seed) : random_{seed} {}

    [[nodiscard]] std::array<double, 2> pair() {
        double const radius = std::sqrt(-2.0 * std::log(1.0 - fraction()));
        double const angle = full_turn * fraction();
        return {radius * std::cos(angle), radius * std::sin(angle)};
    }

private:
    /// From [0, 1): the upper 53 bits, each number exactly a double.
    [[nodiscard]] double fraction() { return static_cast<double>(random_() >> 11U) * 0x1.0p-53; }

    std::mt19937_64 random_;
};

[[nodiscard]] double in_hundredths(double celsius) {
    return std::round(celsius * 100.0) / 100.0 + 0.0;  // no negative zero
}

}  // namespace

double phase_of(day d) noexcept {
    int const year = detail::year_of(d);
    day const first{date::year{year} / date::January / 1};
    double const length = date::year{year}.is_leap() ? 366.0 : 365.0;
    return full_turn * static_cast<double>((d - first).count()) / length;
}

double yearly_course::at(double phase) const noexcept {
    double value = level;
    for (std::size_t h = 0; h < harmonics; ++h) {
        double const angle = static_cast<double>(h + 1) * phase;
        value += cosine[h] * std::cos(angle) + sine[h] * std::sin(angle);
    }
    return value;
}

weather_model::weather_model(weather_model_parts parts) : parts_{std::move(parts)} {
    require_finite_course(parts_.minimum.mean, "minimum.mean", "°C");
    require_finite_course(parts_.maximum.mean, "maximum.mean", "°C");
    require_spread(parts_.minimum.spread, "minimum.spread");
    require_spread(parts_.maximum.spread, "maximum.spread");
    double const r = parts_.same_day;
    pair_matrix const& m1 = parts_.next_day;
    require_correlation(r, "same_day");
    for (std::size_t i = 0; i < 2; ++i) {
        for (std::size_t j = 0; j < 2; ++j) {
            require_correlation(m1[i][j], fmt::format("next_day[{}][{}]", i, j));
        }
    }
    if (parts_.origin.empty()) {
        throw invalid_input{{.code = "generator.no_origin",
                             .field = "origin",
                             .problem = "it is not said where the model comes from",
                             .remedy = "give a few words, such as \"made from normals\""}};
    }

    // A = M1 M0^-1, with M0 = (1 r; r 1).
    double const scale = 1.0 / (1.0 - r * r);
    for (std::size_t i = 0; i < 2; ++i) {
        carried_[i] = {scale * (m1[i][0] - r * m1[i][1]), scale * (m1[i][1] - r * m1[i][0])};
    }
    // B B' = M0 - A M1', and B its lower triangular root.
    auto const rest = [&](std::size_t i, std::size_t j) {
        double const m0 = i == j ? 1.0 : r;
        return m0 - (carried_[i][0] * m1[j][0] + carried_[i][1] * m1[j][1]);
    };
    double const first = rest(0, 0);
    double const across = first > 0.0 ? rest(1, 0) / std::sqrt(first) : detail::missing;
    double const second = rest(1, 1) - across * across;
    if (!(first > 0.0 && second > 0.0)) {
        throw bad_model("next_day", std::min(first, second), "", "",
                        "no weather has these correlations together: what they leave for the new "
                        "in a day is not positive",
                        "give a next_day further from same_day, or fit a record");
    }
    renewed_ = {{{std::sqrt(first), 0.0}, {across, std::sqrt(second)}}};
}

double weather_model::met_share() const {
    double share = 0.0;
    for (int k = 0; k < 365; ++k) {
        double const phase = full_turn * k / 365.0;
        double const low = minimum().spread.at(phase);
        double const high = maximum().spread.at(phase);
        double const spread = std::sqrt(low * low + high * high - 2.0 * same_day() * low * high);
        double const range = maximum().mean.at(phase) - minimum().mean.at(phase);
        share += 0.5 * std::erfc(range / spread / std::numbers::sqrt2) / 365.0;
    }
    return share;
}

daily_record generate(weather_model const& model, day start, int length, std::uint64_t seed) {
    if (length < 1 || length > longest_generated) {
        throw invalid_input{{.code = "generator.length",
                             .field = "length",
                             .value = fmt::format("{}", length),
                             .bound = fmt::format("1 to {}", longest_generated),
                             .unit = "days",
                             .problem = fmt::format("{} days cannot be generated", length),
                             .remedy = "30 years are 10957 days"}};
    }
    normal_source source{seed};
    auto const size = static_cast<std::size_t>(length);
    std::vector<double> tmin(size);
    std::vector<double> tmax(size);
    double const r = model.same_day();
    pair_matrix const& a = model.carried();
    pair_matrix const& b = model.renewed();
    std::array<double, 2> z = {};
    for (std::size_t t = 0; t < size; ++t) {
        auto const [e0, e1] = source.pair();
        z = t == 0 ? std::array{e0, r * e0 + std::sqrt(1.0 - r * r) * e1}
                   : std::array{a[0][0] * z[0] + a[0][1] * z[1] + b[0][0] * e0,
                                a[1][0] * z[0] + a[1][1] * z[1] + b[1][0] * e0 + b[1][1] * e1};
        double const phase = phase_of(start + days{static_cast<int>(t)});
        double low = model.minimum().mean.at(phase) + model.minimum().spread.at(phase) * z[0];
        double high = model.maximum().mean.at(phase) + model.maximum().spread.at(phase) * z[1];
        if (high < low) { low = high = 0.5 * (low + high); }
        tmin[t] = in_hundredths(low);
        tmax[t] = in_hundredths(high);
    }
    return daily_record{start, std::move(tmin), std::move(tmax), "", model.origin()};
}

}  // namespace epicotyl
