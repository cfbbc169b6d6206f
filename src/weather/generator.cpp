#include <epicotyl/weather/generator.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>
#include <span>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/detail/whole.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/filled_record.hpp>

#include "../detail/nearly_nothing.hpp"
#include "normals.hpp"

namespace epicotyl {
namespace {

double constexpr full_turn = 2.0 * std::numbers::pi;
int constexpr parts_of_year = 26;
int constexpr fewest_in_part = 20;
int constexpr longest_generated = 4'000'000;
int constexpr common_year = 2001;

std::size_t constexpr terms = 1 + 2 * yearly_course::harmonics;
using term_vector = std::array<double, terms>;

/// 1, cos, sin, cos 2, sin 2 ... of a phase.
[[nodiscard]] term_vector terms_at(double phase) {
    term_vector values{1.0};
    for (std::size_t h = 0; h < yearly_course::harmonics; ++h) {
        double const angle = static_cast<double>(h + 1) * phase;
        values[1 + 2 * h] = std::cos(angle);
        values[2 + 2 * h] = std::sin(angle);
    }
    return values;
}

[[nodiscard]] yearly_course course_of(term_vector const& weights) {
    yearly_course course{.level = weights[0]};
    for (std::size_t h = 0; h < yearly_course::harmonics; ++h) {
        course.cosine[h] = weights[1 + 2 * h];
        course.sine[h] = weights[2 + 2 * h];
    }
    return course;
}

/// Linear least squares on the terms of a course.
class course_fit {
public:
    void add(term_vector const& x, double y) {
        for (std::size_t i = 0; i < terms; ++i) {
            for (std::size_t j = 0; j <= i; ++j) { matrix_[i][j] += x[i] * x[j]; }
            right_[i] += x[i] * y;
        }
    }

    /// By Cholesky's decomposition. The terms are far from dependent on any data that cover the
    /// year, which the callers see to.
    [[nodiscard]] yearly_course solved() const {
        auto lower = matrix_;
        for (std::size_t i = 0; i < terms; ++i) {
            for (std::size_t j = 0; j <= i; ++j) {
                double sum = matrix_[i][j];
                for (std::size_t k = 0; k < j; ++k) { sum -= lower[i][k] * lower[j][k]; }
                lower[i][j] = i == j ? std::sqrt(sum) : sum / lower[j][j];
            }
        }
        term_vector weights = right_;
        for (std::size_t i = 0; i < terms; ++i) {
            for (std::size_t k = 0; k < i; ++k) { weights[i] -= lower[i][k] * weights[k]; }
            weights[i] /= lower[i][i];
        }
        for (std::size_t i = terms; i-- > 0;) {
            for (std::size_t k = i + 1; k < terms; ++k) { weights[i] -= lower[k][i] * weights[k]; }
            weights[i] /= lower[i][i];
        }
        return course_of(weights);
    }

private:
    std::array<term_vector, terms> matrix_ = {};
    term_vector right_ = {};
};

/// Correlation of numbers whose means are 0 by construction.
class zero_mean_correlation {
public:
    void add(double x, double y) {
        if (std::isnan(x) || std::isnan(y)) { return; }
        xx_ += x * x;
        yy_ += y * y;
        xy_ += x * y;
    }
    [[nodiscard]] double value() const { return xy_ / std::sqrt(xx_ * yy_); }

private:
    double xx_ = 0.0;
    double yy_ = 0.0;
    double xy_ = 0.0;
};

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

[[nodiscard]] std::size_t part_of_year(double phase) {
    auto const part = detail::whole_of<std::size_t>(phase / full_turn * parts_of_year);
    return std::min(part, std::size_t{parts_of_year - 1});
}

/// The chosen years of a record, inverted days as gaps.
struct chosen_days {
    std::vector<double> phase;
    std::array<std::vector<double>, 2> values;  // minimum, maximum
    day first;
    day last;
};

[[nodiscard]] chosen_days days_of(daily_record const& record, year_selection const& years) {
    filled_record const usable{record, 0};
    std::vector<int> const asked =
        years.among(detail::year_of(record.start()), detail::year_of(record.end() - days{1}));
    chosen_days chosen;
    for (int k = 0; k < record.size(); ++k) {
        day const d = record.start() + days{k};
        if (!std::binary_search(asked.begin(), asked.end(), detail::year_of(d))) { continue; }
        auto const at = static_cast<std::size_t>(k);
        if (chosen.phase.empty()) { chosen.first = d; }
        chosen.last = d;
        chosen.phase.push_back(phase_of(d));
        chosen.values[0].push_back(usable.tmin()[at]);
        chosen.values[1].push_back(usable.tmax()[at]);
    }
    std::array<int, parts_of_year> counts = {};
    for (std::size_t i = 0; i < chosen.phase.size(); ++i) {
        bool const whole = !std::isnan(chosen.values[0][i]) && !std::isnan(chosen.values[1][i]);
        counts[part_of_year(chosen.phase[i])] += whole ? 1 : 0;
    }
    auto const* const fewest = std::min_element(counts.begin(), counts.end());
    if (*fewest < fewest_in_part) {
        auto const part = static_cast<int>(fewest - counts.begin());
        day const begins = make_day(common_year, 1, 1) + days{part * 365 / parts_of_year};
        throw invalid_input{
            {.code = "generator.record_too_short",
             .field = "record",
             .value = fmt::format("{}", *fewest),
             .bound = fmt::format("{} or more", fewest_in_part),
             .unit = "days",
             .problem = fmt::format("in the fortnight from about {} the record has {} with both "
                                    "minimum and maximum in {}",
                                    to_day_month(begins), detail::counted(*fewest, "day"), years),
             .remedy = "give a record of two years or more, or start from monthly normals"}};
    }
    return chosen;
}

/// Mean and spread of one element; its values become residuals divided by the spread.
[[nodiscard]] element_course fitted_element(std::vector<double> const& phase,
                                            std::vector<double>& values) {
    course_fit means;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (!std::isnan(values[i])) { means.add(terms_at(phase[i]), values[i]); }
    }
    element_course element{.mean = means.solved(), .spread = {}};
    std::array<double, parts_of_year> squares = {};
    std::array<double, parts_of_year> counts = {};
    for (std::size_t i = 0; i < values.size(); ++i) {
        values[i] -= element.mean.at(phase[i]);
        if (std::isnan(values[i])) { continue; }
        squares[part_of_year(phase[i])] += values[i] * values[i];
        counts[part_of_year(phase[i])] += 1.0;
    }
    course_fit spreads;
    for (std::size_t part = 0; part < squares.size(); ++part) {
        double const middle = full_turn * (static_cast<double>(part) + 0.5) / parts_of_year;
        spreads.add(terms_at(middle), std::sqrt(squares[part] / counts[part]));
    }
    element.spread = spreads.solved();
    for (std::size_t i = 0; i < values.size(); ++i) { values[i] /= element.spread.at(phase[i]); }
    return element;
}

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

weather_model fit_weather_model(daily_record const& record, year_selection const& years) {
    chosen_days chosen = days_of(record, years);
    auto& [minima, maxima] = chosen.values;
    weather_model_parts parts;
    parts.minimum = fitted_element(chosen.phase, minima);
    parts.maximum = fitted_element(chosen.phase, maxima);

    zero_mean_correlation same_day;
    for (std::size_t t = 0; t < minima.size(); ++t) { same_day.add(minima[t], maxima[t]); }
    parts.same_day = same_day.value();
    for (std::size_t i = 0; i < 2; ++i) {
        for (std::size_t j = 0; j < 2; ++j) {
            zero_mean_correlation next_day;
            for (std::size_t t = 1; t < minima.size(); ++t) {
                next_day.add(chosen.values[i][t], chosen.values[j][t - 1]);
            }
            parts.next_day[i][j] = next_day.value();
        }
    }
    parts.origin = fmt::format("made from a model of {}, {} – {}",
                               record.name().empty() ? "a record" : record.name(),
                               detail::year_of(chosen.first), detail::year_of(chosen.last));
    return weather_model{std::move(parts)};
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
