// What is drawn from a model and fitted again is the model. Tolerances are four standard errors of
// the estimates, with the persistence of the residuals taken into account: a mean of n days whose
// neighbours correlate by q has the variance of n (1 - q) / (1 + q) independent ones.
#include "catch.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <date/date.h>

#include <epicotyl/weather/generator.hpp>

using namespace epicotyl;

namespace {

weather_model_parts const models[] = {
    {.minimum = {.mean = {.level = 9.0, .cosine = {-10.5, 0.1, 0.1}, .sine = {-4.5, 0.1, -0.4}},
                 .spread = {.level = 3.8, .cosine = {1.2, 0.1}, .sine = {0.4, 0.1}}},
     .maximum = {.mean = {.level = 21.0, .cosine = {-11.8, -0.4, 0.1}, .sine = {-4.2, 0.1, -0.4}},
                 .spread = {.level = 4.6, .cosine = {0.8, 0.0, 0.1}, .sine = {0.8, -0.1}}},
     .same_day = 0.78,
     .next_day = {{{0.69, 0.63}, {0.54, 0.60}}}},
    {.minimum = {.mean = {.level = -2.0, .cosine = {8.0, 1.0}, .sine = {2.0, -1.0}},
                 .spread = {.level = 2.5, .cosine = {-0.5}}},
     .maximum = {.mean = {.level = 14.0, .cosine = {7.0}, .sine = {3.0, 0.5}},
                 .spread = {.level = 3.0, .sine = {0.6}}},
     .same_day = 0.3,
     .next_day = {{{0.5, 0.2}, {0.1, 0.7}}}},
};

int constexpr years = 100;
double constexpr drawn_days = 365.25 * years;

void compare(yearly_course const& found, yearly_course const& drawn, double margin) {
    CHECK(found.level == Approx(drawn.level).margin(margin));
    for (std::size_t h = 0; h < yearly_course::harmonics; ++h) {
        CHECK(found.cosine[h] == Approx(drawn.cosine[h]).margin(margin * std::sqrt(2.0)));
        CHECK(found.sine[h] == Approx(drawn.sine[h]).margin(margin * std::sqrt(2.0)));
    }
}

}  // namespace

TEST_CASE("generated weather, refitted, returns its model within four standard errors") {
    for (weather_model_parts const& parts : models) {
        weather_model const drawn{parts};
        REQUIRE(drawn.met_share() < 0.002);
        for (std::uint64_t seed = 1; seed <= 3; ++seed) {
            INFO("seed " << seed);
            daily_record const record =
                generate(drawn, make_day(1901, 1, 1), static_cast<int>(drawn_days), seed);
            weather_model const found = fit_weather_model(record, year_selection::all());
            auto const element = [&](element_course const& a, element_course const& b, double q) {
                double const independent = drawn_days * (1.0 - q) / (1.0 + q);
                double const widest = b.spread.level + 1.5;
                compare(a.mean, b.mean, 4.0 * widest / std::sqrt(independent));
                // The spread of n normal numbers has a relative error of 1 / sqrt(2 n); their
                // squares correlate by q * q. 0.03 K: parts of a fortnight have one spread.
                double const squares = drawn_days * (1.0 - q * q) / (1.0 + q * q);
                compare(a.spread, b.spread, 4.0 * widest / std::sqrt(2.0 * squares) + 0.03);
            };
            element(found.minimum(), parts.minimum, parts.next_day[0][0]);
            element(found.maximum(), parts.maximum, parts.next_day[1][1]);
            CHECK(found.same_day() == Approx(parts.same_day).margin(0.03));
            for (std::size_t i = 0; i < 2; ++i) {
                for (std::size_t j = 0; j < 2; ++j) {
                    CHECK(found.next_day()[i][j] == Approx(parts.next_day[i][j]).margin(0.03));
                }
            }
        }
    }
}

TEST_CASE("monthly means of 200 years made from normals are the normals within half a degree") {
    // An invented continental place whose months do not jump, and the same turned to the south.
    std::array<double, 12> const lows = {-6, -5, -1, 5, 10, 15, 18, 17, 13, 7, 2, -3};
    std::array<double, 12> const highs = {4, 6, 11, 17, 22, 27, 30, 29, 25, 18, 12, 6};
    for (std::size_t const turn : {0, 6}) {
        std::array<double, 12> asked_low;
        std::array<double, 12> asked_high;
        for (std::size_t m = 0; m < 12; ++m) {
            asked_low[m] = lows[(m + turn) % 12];
            asked_high[m] = highs[(m + turn) % 12];
        }
        daily_record const record =
            generate(model_from_normals(asked_low, asked_high), make_day(1801, 1, 1), 73048, 11);
        std::array<double, 12> low_sums = {};
        std::array<double, 12> high_sums = {};
        std::array<double, 12> counts = {};
        for (int k = 0; k < record.size(); ++k) {
            date::year_month_day const ymd{record.start() + days{k}};
            std::size_t const m = unsigned{ymd.month()} - 1;
            low_sums[m] += record.tmin()[static_cast<std::size_t>(k)];
            high_sums[m] += record.tmax()[static_cast<std::size_t>(k)];
            counts[m] += 1.0;
        }
        for (std::size_t m = 0; m < 12; ++m) {
            INFO("month " << m + 1);
            CHECK(low_sums[m] / counts[m] == Approx(asked_low[m]).margin(0.5));
            CHECK(high_sums[m] / counts[m] == Approx(asked_high[m]).margin(0.5));
        }
    }
}
