#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/detail/whole.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/filled_record.hpp>
#include <epicotyl/weather/generator.hpp>

#include "course_fit.hpp"

namespace epicotyl {
namespace {

using detail::common_year;
using detail::course_fit;
using detail::full_turn;
using detail::terms_at;

/// Fortnights, over which a spread is taken.
int constexpr parts_of_year = 26;
int constexpr fewest_in_part = 20;

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

}  // namespace

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

}  // namespace epicotyl
