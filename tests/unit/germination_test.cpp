// How many seeds have germinated.
#include "catch.hpp"

#include <cmath>
#include <limits>
#include <optional>
#include <vector>

#include <epicotyl/clock/germination.hpp>

using namespace epicotyl;

namespace {

thermal_time kelvin_days(double amount) {
    return thermal_time::from_kelvin_days(amount);
}
temperature celsius(double value) {
    return temperature::from_celsius(value);
}

// 0 up to 4 °C, 18 K at 22 °C, 0 again from 32 °C.
germination_wait const cardinal{.amount = kelvin_days(100.0),
                                .base = celsius(4.0),
                                .optimum = celsius(22.0),
                                .ceiling = celsius(32.0)};
germination_curve const curve{kelvin_days(100.0), 4.0};
maximum_germination const everywhere{{{celsius(20.0), 1.0}}};

template <class Action>
std::string code_of(Action const& action) {
    try {
        action();
    } catch (invalid_input const& fault) { return fault.code(); }
    return "accepted";
}

}  // namespace

TEST_CASE("half of those that can are up after the middle seed's thermal time") {
    CHECK(curve.share_up(kelvin_days(0.0)) == 0.0);
    CHECK(curve.share_up(kelvin_days(100.0)) == 0.5);
    // (100 / 200)^4 = 1/16, so 16/17; (100 / 50)^4 = 16, so 1/17.
    CHECK(curve.share_up(kelvin_days(200.0)) == Approx(16.0 / 17.0));
    CHECK(curve.share_up(kelvin_days(50.0)) == Approx(1.0 / 17.0));
    CHECK(curve.share_up(kelvin_days(1e9)) == Approx(1.0));
}

TEST_CASE("the thermal time for a share is the share's own inverse") {
    CHECK(curve.needed_for(0.5).kelvin_days() == Approx(100.0));
    CHECK(curve.needed_for(16.0 / 17.0).kelvin_days() == Approx(200.0));
    CHECK(curve.needed_for(0.75).kelvin_days() == Approx(100.0 * std::pow(3.0, 0.25)));
    for (double share = 0.01; share < 1.0; share += 0.01) {
        CHECK(curve.share_up(curve.needed_for(share)) == Approx(share));
    }
    // The example of the header: 52.9 · 9^(1/6).
    germination_curve const lettuce{kelvin_days(52.9), 6.0};
    CHECK(lettuce.needed_for(0.9).kelvin_days() == Approx(76.3).margin(0.05));
}

TEST_CASE("a share of all seeds sown is never reached when fewer than that can germinate") {
    CHECK(curve.needed_for(0.4, chance{0.8})->kelvin_days() == Approx(100.0));
    CHECK_FALSE(curve.needed_for(0.8, chance{0.8}));
    CHECK_FALSE(curve.needed_for(0.5, chance{0.12}));
    CHECK(curve.needed_for(0.5, chance{1.0}) == curve.needed_for(0.5));
}

TEST_CASE("two counts of a tray give back the steepness of its curve") {
    double const b = steepness_between(curve.share_up(kelvin_days(80.0)), kelvin_days(80.0),
                                       curve.share_up(kelvin_days(130.0)), kelvin_days(130.0));
    CHECK(b == Approx(4.0));
    CHECK(code_of([] { (void)steepness_between(0.6, kelvin_days(80), 0.4, kelvin_days(90)); }) ==
          "germination.counts");
    CHECK(code_of([] { (void)steepness_between(0.4, kelvin_days(90), 0.6, kelvin_days(90)); }) ==
          "germination.counts");
    CHECK(code_of([] { (void)steepness_between(0.0, kelvin_days(80), 0.6, kelvin_days(90)); }) ==
          "germination.share");
}

TEST_CASE("the maximum runs straight between published points and is unknown beyond them") {
    // Harrington and Minges 1954: lettuce 99 % at 25 °C, 12 % at 30 °C.
    maximum_germination const lettuce{{{celsius(25.0), 0.99}, {celsius(30.0), 0.12}}};
    CHECK(lettuce.at(celsius(25.0)) == 0.99);
    CHECK(lettuce.at(celsius(30.0)) == 0.12);
    CHECK(*lettuce.at(celsius(27.5)) == Approx(0.555));
    CHECK_FALSE(lettuce.at(celsius(24.9)));
    CHECK_FALSE(lettuce.at(celsius(30.1)));
    CHECK(lettuce.held(celsius(5.0)) == 0.99);
    CHECK(lettuce.held(celsius(40.0)) == 0.12);
    // The same authors: spinach 91 % at 10 °C, 28 % at 25 °C. At 15 °C a third of the way.
    maximum_germination const spinach{{{celsius(10.0), 0.91}, {celsius(25.0), 0.28}}};
    CHECK(*spinach.at(celsius(15.0)) == Approx(0.70));
}

TEST_CASE("at a constant temperature the course is the maximum times the curve") {
    maximum_germination const some{{{celsius(10.0), 0.4}, {celsius(20.0), 0.9}}};
    std::vector<double> const means(40, 14.0);
    auto const shares = germinated_by_day(means, cardinal, curve, some);
    REQUIRE(shares.size() == 40);
    for (std::size_t d = 0; d < shares.size(); ++d) {
        double const sum = 10.0 * static_cast<double>(d + 1);
        CHECK(shares[d] == Approx(0.6 * curve.share_up(kelvin_days(sum))));
    }
}

TEST_CASE("a cold mat is slow and poor, and a hot one poor and slow again") {
    maximum_germination const some{
        {{celsius(6.0), 0.3}, {celsius(14.0), 0.8}, {celsius(22.0), 0.95}, {celsius(31.0), 0.1}}};
    auto const course = [&](double mean) {
        return germinated_by_day(std::vector<double>(400, mean), cardinal, curve, some);
    };
    auto const cold = course(7.0);
    auto const good = course(22.0);
    auto const hot = course(30.0);
    for (std::size_t d = 0; d < cold.size(); ++d) {
        CHECK(cold[d] < good[d]);
        CHECK(hot[d] < good[d]);
    }
    auto const first_with = [](std::vector<double> const& shares, double part) {
        std::size_t d = 0;
        while (shares[d] < part * shares.back()) { ++d; }
        return d;
    };
    CHECK(first_with(cold, 0.5) > 3 * first_with(good, 0.5));
    CHECK(cold.back() == Approx(0.3625).margin(0.001));  // 0.3 + 0.5 / 8
}

TEST_CASE("what is up stays up, no more come up than were sown, and frozen days add nothing") {
    std::vector<double> means;
    for (int d = 0; d < 60; ++d) { means.push_back(18.0 + 20.0 * std::sin(0.7 * d)); }
    maximum_germination const some{{{celsius(5.0), 0.2}, {celsius(20.0), 1.0}, {celsius(35.0), 0}}};
    auto const shares = germinated_by_day(means, cardinal, curve, some);
    double before = 0.0;
    for (std::size_t d = 0; d < shares.size(); ++d) {
        CHECK(shares[d] >= before);
        CHECK(shares[d] <= 1.0);
        if (means[d] <= 4.0 || means[d] >= 32.0) { CHECK(shares[d] == before); }
        before = shares[d];
    }
    CHECK(germinated_by_day(std::vector<double>(5, 0.0), cardinal, curve, everywhere) ==
          std::vector<double>(5, 0.0));
    CHECK(germinated_by_day({}, cardinal, curve, everywhere).empty());
}

TEST_CASE("curves and points that are none are refused by name") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(code_of([] { germination_curve{thermal_time{}, 4.0}; }) == "germination.half");
    for (double const b : {0.0, -1.0, nan, std::numeric_limits<double>::infinity()}) {
        CHECK(code_of([&] { germination_curve{kelvin_days(50.0), b}; }) == "germination.steepness");
    }
    for (double const share : {0.0, 1.0, nan}) {
        CHECK(code_of([&] { (void)curve.needed_for(share); }) == "germination.share");
    }
    CHECK(code_of([] { maximum_germination{{}}; }) == "germination.no_points");
    CHECK(code_of([] { maximum_germination{{{celsius(20.0), 55.0}}}; }) == "germination.point");
    CHECK(code_of([] {
              maximum_germination{{{celsius(20.0), 0.5}, {celsius(20.0), 0.6}}};
          }) == "germination.points_order");
}
