#include "catch.hpp"

#include <cmath>
#include <limits>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/generator.hpp>

using namespace epicotyl;

namespace {

double const pi = std::numbers::pi;

/// A northern place with an asymmetric next_day.
weather_model_parts northern() {
    return {.minimum = {.mean = {.level = 5.0, .cosine = {-10.0}}, .spread = {.level = 3.0}},
            .maximum = {.mean = {.level = 18.0, .cosine = {-12.0}, .sine = {0.0, 2.0}},
                        .spread = {.level = 4.0}},
            .same_day = 0.6,
            .next_day = {{{0.6, 0.5}, {0.4, 0.6}}},
            .origin = "made from a test's model"};
}

template <class Make>
std::string message_of(Make const& make) {
    try {
        (void)make();
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

std::string message_of(weather_model_parts const& parts) {
    return message_of([&] { return weather_model{parts}; });
}

}  // namespace

TEST_CASE("the phase runs from 0 on 1 January once round each year, leap or not") {
    CHECK(phase_of(make_day(2027, 1, 1)) == 0.0);
    CHECK(phase_of(make_day(2028, 1, 1)) == 0.0);
    CHECK(phase_of(make_day(2027, 7, 1)) == Approx(2.0 * pi * 181 / 365));
    CHECK(phase_of(make_day(2028, 7, 1)) == Approx(2.0 * pi * 182 / 366));
    CHECK(phase_of(make_day(2028, 12, 31)) == Approx(2.0 * pi * 365 / 366));
}

TEST_CASE("a yearly course is the sum of its harmonics") {
    yearly_course const course{.level = 1.0, .cosine = {2.0, 3.0, 4.0}, .sine = {5.0, 6.0, 7.0}};
    CHECK(course.at(0.0) == Approx(1.0 + 2.0 + 3.0 + 4.0));
    CHECK(course.at(pi) == Approx(1.0 - 2.0 + 3.0 - 4.0));
    CHECK(course.at(pi / 2) == Approx(1.0 - 3.0 + 5.0 - 7.0));
}

TEST_CASE("the matrices of a model are those of its correlations, worked by hand") {
    weather_model const model{northern()};
    // M0^-1 = (1 -0.6; -0.6 1) / 0.64; A = M1 M0^-1.
    CHECK(model.carried()[0][0] == Approx((0.6 - 0.30) / 0.64));
    CHECK(model.carried()[0][1] == Approx((0.5 - 0.36) / 0.64));
    CHECK(model.carried()[1][0] == Approx((0.4 - 0.36) / 0.64));
    CHECK(model.carried()[1][1] == Approx((0.6 - 0.24) / 0.64));
    // B B' = M0 - A M1'.
    double const b00 = model.renewed()[0][0];
    double const b10 = model.renewed()[1][0];
    double const b11 = model.renewed()[1][1];
    CHECK(model.renewed()[0][1] == 0.0);
    CHECK(b00 * b00 == Approx(1.0 - (0.46875 * 0.6 + 0.21875 * 0.5)));
    CHECK(b00 * b10 == Approx(0.6 - (0.0625 * 0.6 + 0.5625 * 0.5)));
    CHECK(b10 * b10 + b11 * b11 == Approx(1.0 - (0.0625 * 0.4 + 0.5625 * 0.6)));

    weather_model_parts apart = northern();
    apart.same_day = 0.0;
    apart.next_day = {{{0.5, 0.0}, {0.0, 0.8}}};
    CHECK(weather_model{apart}.carried() == pair_matrix{{{0.5, 0.0}, {0.0, 0.8}}});
    CHECK(weather_model{apart}.renewed()[0][0] == Approx(std::sqrt(0.75)));
    CHECK(weather_model{apart}.renewed()[1][1] == Approx(0.6));
}

TEST_CASE("weather is the same on every machine") {
    // From the same formulas written a second time, in Python with its own Mersenne Twister, which
    // gives the number that the C++ standard states for the engine.
    daily_record const made = generate(weather_model{northern()}, make_day(2028, 2, 28), 4, 2027);
    std::vector<double> const tmin = {-2.24, -1.52, 0.56, -0.18};
    std::vector<double> const tmax = {16.33, 12.84, 14.82, 14.58};
    CHECK(std::vector<double>(made.tmin().begin(), made.tmin().end()) == tmin);
    CHECK(std::vector<double>(made.tmax().begin(), made.tmax().end()) == tmax);
}

TEST_CASE("a longer record begins with the shorter, another seed gives other weather") {
    weather_model const model{northern()};
    day const start = make_day(2001, 1, 1);
    daily_record const shorter = generate(model, start, 300, 7);
    daily_record const longer = generate(model, start, 900, 7);
    CHECK(std::equal(shorter.tmin().begin(), shorter.tmin().end(), longer.tmin().begin()));
    CHECK(std::equal(shorter.tmax().begin(), shorter.tmax().end(), longer.tmax().begin()));
    CHECK(generate(model, start, 300, 7) == shorter);
    CHECK(generate(model, start, 300, 8) != shorter);
}

TEST_CASE("generated weather says where it comes from, has no gap, and goes where it is sent") {
    daily_record const made = generate(weather_model{northern()}, make_day(2001, 3, 1), 800, 1);
    CHECK(made.origin() == "made from a test's model");
    CHECK(made.start() == make_day(2001, 3, 1));
    CHECK(made.size() == 800);
    CHECK(made.gaps() == 0);
    CHECK(fmt::format("{}", made) == "1 Mar 2001 – 9 May 2003, no gaps; made from a test's model");
    CHECK(fmt::format("{}", generate(model_from_normals({}, {}), make_day(2001, 1, 1), 1, 1)) ==
          "1 Jan 2001 – 1 Jan 2001, no gaps; made from normals");
}

TEST_CASE("where the maximum is drawn below the minimum both are their mean, as often as stated") {
    weather_model_parts parts = northern();
    parts.minimum.mean = {.level = 10.0};
    parts.maximum.mean = {.level = 12.0};
    weather_model const model{parts};
    // The range is normal: mean 2, variance 9 + 16 - 2 * 0.6 * 12 = 10.6; P(range < 0), from a
    // table of the normal distribution: Phi(-0.6143) = 0.2695.
    CHECK(model.met_share() == Approx(0.2695).margin(1e-4));
    int const length = 100000;
    daily_record const made = generate(model, make_day(1801, 1, 1), length, 5);
    int met = 0;
    double sum = 0.0;
    for (std::size_t k = 0; k < made.tmin().size(); ++k) {
        REQUIRE(made.tmin()[k] <= made.tmax()[k]);
        met += made.tmin()[k] == made.tmax()[k] ? 1 : 0;
        sum += made.tmin()[k] + made.tmax()[k];
    }
    CHECK(met / static_cast<double>(length) == Approx(0.2695).margin(0.01));
    CHECK(sum / (2.0 * length) == Approx(11.0).margin(0.1));
    parts.maximum.mean = {.level = 40.0};
    CHECK(weather_model{parts}.met_share() < 1e-15);
}

TEST_CASE("a model that is none is refused with what to do") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    auto const changed = [](auto const& change) {
        weather_model_parts parts = northern();
        change(parts);
        return message_of(parts);
    };
    CHECK(changed([&](auto& parts) { parts.minimum.mean.sine[2] = nan; }) ==
          "minimum.mean: nan is not a number that can be used; give a finite number of °C");
    CHECK(changed([](auto& parts) { parts.maximum.spread = {.level = 2.0, .cosine = {-2.5}}; }) ==
          "maximum.spread: the spread falls to -0.50 K on day 1 of the year (allowed: above 0 K); "
          "give a course that stays above 0 the year round");
    CHECK(changed([](auto& parts) { parts.same_day = 1.0; }) ==
          "same_day: 1 is no correlation of two different things (allowed: between -1 and 1); "
          "correlations of daily weather lie between 0.3 and 0.9");
    CHECK(changed([&](auto& parts) {
              parts.next_day[1][0] = nan;
          }).starts_with("next_day[1][0]: nan is no correlation"));
    CHECK(changed([](auto& parts) {
              parts.next_day = {{{0.9, 0.0}, {0.0, 0.9}}};
          }) ==
          "next_day: no weather has these correlations together: what they leave for the new in a "
          "day is not positive; give a next_day further from same_day, or fit a record");
    CHECK(changed([](auto& parts) { parts.origin.clear(); }) ==
          "origin: it is not said where the model comes from; give a few words, such as \"made "
          "from normals\"");
}

TEST_CASE("a number of days that cannot be generated is refused") {
    weather_model const model{northern()};
    CHECK(message_of([&] { return generate(model, make_day(2001, 1, 1), 0, 1); }) ==
          "length: 0 days cannot be generated (allowed: 1 to 4000000 days); 30 years are 10957 "
          "days");
    CHECK(message_of([&] {
              return generate(model, make_day(2001, 1, 1), 4000001, 1);
          }).starts_with("length: 4000001 days"));
}

TEST_CASE("a record too short to be fitted is refused, its years are those asked for") {
    weather_model const model{northern()};
    daily_record const year = generate(model, make_day(2001, 1, 1), 365, 1);
    CHECK(message_of([&] { return fit_weather_model(year); }) ==
          "record: in the fortnight from about 15 Jan the record has 14 days with both minimum and "
          "maximum in the latest 30 years (allowed: 20 or more days); give a record of two years "
          "or more, or start from monthly normals");
    daily_record const ten = generate(model, make_day(2001, 1, 1), 3652, 1);
    CHECK(fit_weather_model(ten).origin() == "made from a model of a record, 2001 – 2010");
    CHECK(fit_weather_model(ten, year_selection::between(2003, 2005)).origin() ==
          "made from a model of a record, 2003 – 2005");
    CHECK(message_of([&] {
              return fit_weather_model(ten, year_selection::between(1990, 1995));
          }).starts_with("record: in the fortnight from about 1 Jan the record has 0 days"));
}

TEST_CASE("gaps and inverted days are passed over when a model is fitted") {
    daily_record const whole = generate(weather_model{northern()}, make_day(2001, 1, 1), 3652, 3);
    std::vector<double> tmin{whole.tmin().begin(), whole.tmin().end()};
    std::vector<double> tmax{whole.tmax().begin(), whole.tmax().end()};
    std::vector<double> gone_min = tmin;
    std::vector<double> gone_max = tmax;
    for (std::size_t k = 5; k < tmin.size(); k += 40) {
        tmin[k] = 900.0;
        gone_min[k] = gone_max[k] = std::numeric_limits<double>::quiet_NaN();
    }
    weather_model const inverted = fit_weather_model({whole.start(), tmin, tmax});
    CHECK(inverted == fit_weather_model({whole.start(), gone_min, gone_max}));
    CHECK(inverted.minimum().mean.level == Approx(5.0).margin(0.5));
}

TEST_CASE("twelve equal normals give a level year") {
    std::array<double, 12> lows;
    std::array<double, 12> highs;
    lows.fill(20.0);
    highs.fill(28.0);
    weather_model const model = model_from_normals(lows, highs);
    for (double const phase : {0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0}) {
        CHECK(model.minimum().mean.at(phase) == Approx(20.0));
        CHECK(model.maximum().mean.at(phase) == Approx(28.0));
    }
}

TEST_CASE("normals of one wave a year give back the wave, its spread widest where it is coldest") {
    for (bool const southern : {false, true}) {
        // January is month 0; the mean over a month of a wave is nearly its middle.
        std::array<double, 12> lows;
        std::array<double, 12> highs;
        double const turned = southern ? -1.0 : 1.0;
        for (std::size_t m = 0; m < 12; ++m) {
            double const wave = std::cos(2.0 * pi * (static_cast<double>(m) + 0.5) / 12.0);
            lows[m] = 5.0 - turned * 10.0 * wave;
            highs[m] = 15.0 - turned * 12.0 * wave;
        }
        weather_model const model = model_from_normals(lows, highs);
        double const coldest = southern ? pi : 0.0;
        CHECK(model.origin() == "made from normals");
        // The mean over a twelfth of a wave is sin(pi / 12) / (pi / 12) = 0.9886 of its middle, so
        // the wave is that much higher than its monthly means.
        CHECK(model.minimum().mean.at(coldest) == Approx(5.0 - 10.0 / 0.9886).margin(0.1));
        CHECK(model.maximum().mean.at(coldest + pi) == Approx(15.0 + 12.0 / 0.9886).margin(0.1));
        CHECK(model.minimum().spread.at(coldest) == Approx(5.1).margin(0.01));
        CHECK(model.minimum().spread.at(coldest + pi) == Approx(2.5).margin(0.01));
        CHECK(model.maximum().spread.at(coldest) == Approx(5.7).margin(0.01));
        CHECK(model.maximum().spread.at(coldest + pi) == Approx(3.5).margin(0.01));
    }
}

TEST_CASE("normals that cannot be right are refused with the month") {
    std::array<double, 12> const lows = {-5, -4, 0, 5, 10, 15, 18, 17, 13, 7, 2, -3};
    std::array<double, 12> highs = {3, 5, 10, 16, 21, 26, 29, 28, 24, 17, 11, 5};
    auto const message = [&] {
        return message_of([&] { return model_from_normals(lows, highs); });
    };
    CHECK(message() == "accepted");
    highs[3] = 3.0;
    CHECK(message() ==
          "lows[3], highs[3]: in Apr the mean low of 5 °C stands above the mean high of 3 °C; give "
          "mean daily minima as lows and mean daily maxima as highs");
    highs[3] = 61.0;  // °F among °C
    CHECK(message().starts_with("highs[3]: 61 °C in Apr does not fit the other months"));
    CHECK(message().ends_with("give January to December in this order, all in °C"));
    highs[3] = std::numeric_limits<double>::infinity();
    CHECK(message() ==
          "highs[3]: inf is not a number that can be used; give a finite number of °C");
}
