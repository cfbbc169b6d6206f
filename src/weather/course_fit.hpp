// Least squares on the terms of a yearly course.
#ifndef EPICOTYL_SRC_WEATHER_COURSE_FIT_HPP
#define EPICOTYL_SRC_WEATHER_COURSE_FIT_HPP

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include <epicotyl/weather/generator.hpp>

namespace epicotyl::detail {

inline constexpr double full_turn = 2.0 * std::numbers::pi;
/// A year without 29 February, whose days stand for those of any.
inline constexpr int common_year = 2001;

inline constexpr std::size_t terms = 1 + 2 * yearly_course::harmonics;
using term_vector = std::array<double, terms>;

/// 1, cos, sin, cos 2, sin 2 ... of a phase.
[[nodiscard]] inline term_vector terms_at(double phase) {
    term_vector values{1.0};
    for (std::size_t h = 0; h < yearly_course::harmonics; ++h) {
        double const angle = static_cast<double>(h + 1) * phase;
        values[1 + 2 * h] = std::cos(angle);
        values[2 + 2 * h] = std::sin(angle);
    }
    return values;
}

[[nodiscard]] inline yearly_course course_of(term_vector const& weights) {
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

}  // namespace epicotyl::detail

#endif
