// epicotyl: how many seeds have germinated, not only when half of them have.
//
// The germination clock (clock/clock.hpp) says when a sowing is up. A tray comes up over days, and
// a mat that is too cold or too hot makes it slow **and** poor: lettuce gives 99 % at 25 °C and
// 12 % at 30 °C, spinach 91 % at 10 °C and 28 % at 25 °C [harrington1954]. Two things are therefore
// kept apart:
//
//   spread    every seed has a thermal time of its own; over a lot they are log-logistic
//             [chen2021] (the best of five distributions in 13 of 15 species):
//               F(theta) = 1 / (1 + (theta50 / theta)^b),  F(0) = 0
//             theta50 [K day] is the time of the middle seed, b the steepness (no unit): a quarter
//             is up at theta50 3^(-1/b), three quarters at theta50 3^(1/b)
//   maximum   the share that can germinate at a temperature, G_max(T), published as a few points
//             with straight lines between them
//
//   G(theta) = G_max F(theta)
//
//     germination_curve const lettuce{thermal_time::from_kelvin_days(52.9), 6.0};
//     lettuce.share_up(thermal_time::from_kelvin_days(52.9));    // 0.5 of those that can
//     lettuce.needed_for(0.9);                                   // 76.3 K day
//
//     maximum_germination const some{{{temperature::from_celsius(25.0), 0.99},
//                                     {temperature::from_celsius(30.0), 0.12}}};
//     some.at(temperature::from_celsius(27.5));                  // 0.555
//     some.at(temperature::from_celsius(10.0));                  // none: nothing published there
//
// Where temperature changes from day to day a seed meets G_max on the day its own time comes:
// `germinated_by_day` adds G_max(T_d) (F(theta_d) - F(theta_{d-1})) a day. What is up stays up, and
// a seed whose day was too hot is lost, which leaves out that some wait for a better one (a
// simplification of this library; at a constant temperature it is the formula above).
//
// The spread is of one seed lot: b is rarely on a packet. It can be had from two counts of one's
// own tray, `steepness_between`.
#ifndef EPICOTYL_CLOCK_GERMINATION_HPP
#define EPICOTYL_CLOCK_GERMINATION_HPP

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/rate.hpp>
#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {

/// Throws `invalid_input` unless 0 < share < 1.
inline void require_open_share(double share, char const* field) {
    if (share > 0.0 && share < 1.0) { return; }
    throw invalid_input{{.code = "germination.share",
                         .field = field,
                         .value = detail::text(share),
                         .bound = "more than 0 and less than 1",
                         .problem = detail::text(share, " is no such share of the seeds"),
                         .remedy = "give a share of those that germinate, such as 0.5"}};
}

}  // namespace detail

/// The thermal times of the seeds of a lot, log-logistic.
class germination_curve {
public:
    /// half        thermal time of the middle seed [K day], more than 0
    /// steepness   b, more than 0; 4 to 12 is usual (from memory), more is more at once
    ///
    /// Throws `invalid_input` unless both are more than 0 and finite.
    germination_curve(thermal_time half, double steepness) : half_{half}, steepness_{steepness} {
        if (!(half.kelvin_days() > 0.0)) {
            throw invalid_input{{.code = "germination.half",
                                 .field = "half",
                                 .value = detail::text(half.kelvin_days()),
                                 .bound = "more than 0",
                                 .unit = "K day",
                                 .problem = "half of the seeds cannot be up at once",
                                 .remedy = "give the thermal time in which half come up"}};
        }
        if (!(steepness > 0.0 && std::isfinite(steepness))) {
            throw invalid_input{{.code = "germination.steepness",
                                 .field = "steepness",
                                 .value = detail::text(steepness),
                                 .bound = "more than 0",
                                 .problem = detail::text(steepness, " is no steepness"),
                                 .remedy = "6 spreads a lot by about a fifth either way"}};
        }
    }

    [[nodiscard]] thermal_time half() const noexcept { return half_; }
    [[nodiscard]] double steepness() const noexcept { return steepness_; }

    /// Share, of the seeds that can germinate, that is up after so much thermal time: F(theta).
    [[nodiscard]] double share_up(thermal_time sum) const noexcept {
        if (!(sum.kelvin_days() > 0.0)) { return 0.0; }
        return 1.0 / (1.0 + std::pow(half_.kelvin_days() / sum.kelvin_days(), steepness_));
    }

    /// Thermal time after which this share of the seeds that can germinate is up:
    /// theta50 (g / (1 - g))^(1/b). Throws `invalid_input` unless 0 < share < 1.
    [[nodiscard]] thermal_time needed_for(double share) const {
        detail::require_open_share(share, "share");
        return thermal_time::from_kelvin_days(half_.kelvin_days() *
                                              std::pow(share / (1.0 - share), 1.0 / steepness_));
    }

    /// The same for a share of all seeds sown, of which `maximum` can germinate; none when so many
    /// never do. Throws `invalid_input` unless 0 < share < 1.
    [[nodiscard]] std::optional<thermal_time> needed_for(double share, chance maximum) const {
        detail::require_open_share(share, "share");
        if (share >= maximum.value()) { return std::nullopt; }
        return needed_for(share / maximum.value());
    }

    friend bool operator==(germination_curve const&, germination_curve const&) = default;

private:
    thermal_time half_;
    double steepness_;
};

/// The steepness b of a curve that has the share `less` up at one thermal time and `more` at a
/// later one: ln(odds(more) / odds(less)) / ln(later / sooner), odds(g) = g / (1 - g). Throws
/// `invalid_input` unless 0 < less < more < 1 and 0 < sooner < later.
[[nodiscard]] inline double steepness_between(double less, thermal_time sooner, double more,
                                              thermal_time later) {
    detail::require_open_share(less, "less");
    detail::require_open_share(more, "more");
    if (!(less < more && sooner > thermal_time{} && sooner < later)) {
        throw invalid_input{{.code = "germination.counts",
                             .field = "less, more",
                             .value = detail::text(less, " at ", sooner.kelvin_days(), " K day, ",
                                                   more, " at ", later.kelvin_days(), " K day"),
                             .problem = "the second count is not the later and greater one",
                             .remedy = "give two counts of one tray, the later one greater"}};
    }
    double const odds = (more / (1.0 - more)) / (less / (1.0 - less));
    return std::log(odds) / std::log(later.kelvin_days() / sooner.kelvin_days());
}

/// The share of seeds that can germinate, by temperature: published points, straight lines between.
class maximum_germination {
public:
    struct point {
        temperature at;
        double share;  ///< 0 to 1

        friend bool operator==(point const&, point const&) = default;
    };

    /// Throws `invalid_input` when there is no point, unless temperatures ascend, and unless every
    /// share lies within 0 to 1.
    explicit maximum_germination(std::vector<point> points) : points_{std::move(points)} {
        if (points_.empty()) {
            throw invalid_input{{.code = "germination.no_points",
                                 .field = "points",
                                 .value = "0",
                                 .bound = "1 or more",
                                 .problem = "no point is given",
                                 .remedy = "give the share that germinated at a temperature"}};
        }
        for (std::size_t i = 0; i < points_.size(); ++i) {
            double const share = points_[i].share;
            if (!(share >= 0.0 && share <= 1.0)) {
                throw invalid_input{{.code = "germination.point",
                                     .field = detail::text("points[", i, "].share"),
                                     .value = detail::text(share),
                                     .bound = "0 to 1",
                                     .problem = detail::text(share, " is no share of the seeds"),
                                     .remedy = "write 99 % as 0.99"}};
            }
            if (i > 0 && !(points_[i - 1].at < points_[i].at)) {
                throw invalid_input{
                    {.code = "germination.points_order",
                     .field = detail::text("points[", i, "].at"),
                     .value = detail::text(points_[i].at.celsius()),
                     .bound = detail::text("more than ", points_[i - 1].at.celsius()),
                     .unit = "°C",
                     .problem = "the points do not ascend in temperature",
                     .remedy = "give each temperature once, the coldest first"}};
            }
        }
    }

    [[nodiscard]] std::vector<point> const& points() const noexcept { return points_; }

    /// G_max at a temperature; none outside the published points, which say nothing there.
    [[nodiscard]] std::optional<double> at(temperature where) const noexcept {
        if (where < points_.front().at || where > points_.back().at) { return std::nullopt; }
        return held(where);
    }

    /// The same, with the first and the last point's share held beyond them: an assumption, not a
    /// publication, for whoever needs a number on every day.
    [[nodiscard]] double held(temperature where) const noexcept {
        auto const upper = std::find_if(points_.begin(), points_.end(),
                                        [&](point const& one) { return one.at >= where; });
        if (upper == points_.end()) { return points_.back().share; }
        if (upper == points_.begin()) { return upper->share; }
        auto const lower = upper - 1;
        double const part = (where - lower->at).kelvin() / (upper->at - lower->at).kelvin();
        return lower->share + part * (upper->share - lower->share);
    }

    friend bool operator==(maximum_germination const&, maximum_germination const&) = default;

private:
    std::vector<point> points_;
};

/// Share of all seeds sown that is up at the end of each day, from the days' mean temperatures
/// [°C], the sowing on the first. Thermal time runs by the cardinal temperatures of `cardinal`, see
/// `germination_rate`; its amount is not used, the curve's `half` is. Beyond the published points
/// `maximum` is held. Never falls.
[[nodiscard]] inline std::vector<double> germinated_by_day(std::span<double const> means,
                                                           germination_wait const& cardinal,
                                                           germination_curve const& curve,
                                                           maximum_germination const& maximum) {
    std::vector<double> shares(means.size());
    double sum = 0.0;
    double up = 0.0;
    double due_before = 0.0;
    for (std::size_t d = 0; d < means.size(); ++d) {
        sum += germination_rate(means[d], cardinal);
        double const due = curve.share_up(thermal_time::from_kelvin_days(sum));
        up += maximum.held(temperature::from_celsius(means[d])) * (due - due_before);
        due_before = due;
        shares[d] = up;
    }
    return shares;
}

}  // namespace epicotyl

#endif
