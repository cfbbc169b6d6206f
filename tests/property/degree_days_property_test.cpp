// What holds of degree-days on every day, whatever the method.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include <epicotyl/clock/degree_days.hpp>

namespace ep = epicotyl;

namespace {

using method = ep::degree_day_method;
using cutoff = ep::degree_day_cutoff;

constexpr int tries = 4000;

std::vector<ep::degree_day_rule> rules(double base, double upper) {
    std::vector<ep::degree_day_rule> all;
    for (int m = 0; m < 6; ++m) {
        for (int c = 0; c < 3; ++c) {
            ep::degree_day_rule const rule{base, upper, static_cast<method>(m),
                                           static_cast<cutoff>(c)};
            // The 86/50 rule has no other cutoff.
            if (rule.method == method::average_floored && rule.cutoff != cutoff::horizontal) {
                continue;
            }
            all.push_back(rule);
        }
    }
    return all;
}

/// A run of one day: the next minimum is its own.
double one(double low, double high, ep::degree_day_rule const& rule) {
    double sum = 0.0;
    ep::degree_days({&low, 1}, {&high, 1}, rule, {&sum, 1});
    return sum;
}

class days_at_random {
public:
    double between(double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(engine_);
    }

private:
    std::mt19937_64 engine_{20270303};
};

}  // namespace

TEST_CASE("degree-days of a day are never negative, never more than the thresholds are apart") {
    days_at_random random;
    for (int k = 0; k < tries; ++k) {
        double const low = random.between(-30.0, 40.0);
        double const high = low + random.between(0.0, 30.0);
        double const base = random.between(-5.0, 15.0);
        double const width = random.between(0.5, 25.0);
        for (auto const& rule : rules(base, base + width)) {
            double const sum = one(low, high, rule);
            CAPTURE(low, high, base, width, to_string(rule.method), to_string(rule.cutoff), sum);
            REQUIRE(sum >= 0.0);
            REQUIRE(sum <= width + 1e-9);
            if (high <= base) { REQUIRE(sum == 0.0); }
        }
    }
}

TEST_CASE("below the upper threshold a warmer night or afternoon never gives less") {
    days_at_random random;
    for (int k = 0; k < tries; ++k) {
        double const base = random.between(-5.0, 15.0);
        double const upper = base + random.between(0.5, 25.0);
        double const high = std::min(random.between(-20.0, 40.0), upper);
        double const low = high - random.between(0.0, 30.0);
        double const warmer_high = std::min(high + random.between(0.0, 10.0), upper);
        double const warmer_low = std::min(low + random.between(0.0, 10.0), high);
        for (auto const& rule : rules(base, upper)) {
            double const sum = one(low, high, rule);
            CAPTURE(low, high, base, upper, to_string(rule.method), to_string(rule.cutoff), sum);
            REQUIRE(one(low, warmer_high, rule) >= sum - 1e-9);
            REQUIRE(one(warmer_low, high, rule) >= sum - 1e-9);
        }
    }
}

TEST_CASE("the horizontal cutoff is the most, and never falls at any temperature") {
    days_at_random random;
    for (int k = 0; k < tries; ++k) {
        double const low = random.between(-30.0, 40.0);
        double const high = low + random.between(0.0, 30.0);
        double const base = random.between(-5.0, 15.0);
        double const upper = base + random.between(0.5, 25.0);
        for (auto const& rule : rules(base, upper)) {
            ep::degree_day_rule horizontal = rule;
            horizontal.cutoff = cutoff::horizontal;
            double const most = one(low, high, horizontal);
            CAPTURE(low, high, base, upper, to_string(rule.method), to_string(rule.cutoff), most);
            REQUIRE(one(low, high, rule) <= most + 1e-9);
            REQUIRE(one(low, high + random.between(0.0, 10.0), horizontal) >= most - 1e-9);
            REQUIRE(one(random.between(low, high), high, horizontal) >= most - 1e-9);
        }
    }
}

TEST_CASE("nothing jumps where an extreme passes a threshold") {
    // Horizontal and intermediate sums follow the temperature at most one for one. The vertical one
    // follows the share of the day above the threshold, which near a crest goes with the root of
    // the step. An average with the vertical cutoff stops at once, and must jump.
    days_at_random random;
    constexpr double step = 1e-8;
    for (int k = 0; k < tries; ++k) {
        double const range = random.between(1.0, 30.0);
        double const base = random.between(-5.0, 15.0);
        double const upper = base + random.between(0.5, 25.0);
        for (auto const& rule : rules(base, upper)) {
            bool const vertical = rule.cutoff == cutoff::vertical;
            if (vertical && rule.method == method::average) { continue; }
            double const allowed =
                2.0 * step + 1e-11 + (vertical ? (upper - base) * std::sqrt(step) : 0.0);
            for (double const border : {base, upper}) {
                CAPTURE(range, base, upper, border, to_string(rule.method), to_string(rule.cutoff));
                double const crest = one(border - range, border, rule);
                double const foot = one(border, border + range, rule);
                for (double const moved : {border - step, border + step}) {
                    REQUIRE(std::abs(one(border - range, moved, rule) - crest) < allowed);
                    REQUIRE(std::abs(one(moved, border + range, rule) - foot) < allowed);
                }
            }
        }
    }
}
