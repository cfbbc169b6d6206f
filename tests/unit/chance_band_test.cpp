// Bands on a chance counted in years.
#include "catch.hpp"

#include <cmath>

#include <fmt/format.h>

#include <epicotyl/error.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/chance_band.hpp>

namespace ep = epicotyl;

namespace {

/// Probability of k or fewer of n, term by term.
double at_most(int k, int n, double p) {
    double sum = 0.0;
    for (int i = 0; i <= k; ++i) {
        sum += std::exp(std::lgamma(n + 1.0) - std::lgamma(i + 1.0) - std::lgamma(n - i + 1.0) +
                        i * std::log(p) + (n - i) * std::log1p(-p));
    }
    return sum;
}

}  // namespace

TEST_CASE("bands agree with the tail sums that define them, for every count in thirty years") {
    for (double const level : {0.5, 0.8, 0.9, 0.95, 0.99}) {
        double const tail = (1.0 - level) / 2.0;
        for (int const n : {1, 2, 10, 30}) {
            for (int k = 0; k <= n; ++k) {
                CAPTURE(level, n, k);
                ep::counted_chance const band = ep::chance_band(k, n, ep::band_confidence{level});
                double const low = band.low.value();
                double const high = band.high.value();
                if (k == 0) {
                    CHECK(low == 0.0);
                } else {
                    CHECK(1.0 - at_most(k - 1, n, low) == Approx(tail).epsilon(1e-9));
                }
                if (k == n) {
                    CHECK(high == 1.0);
                } else {
                    CHECK(at_most(k, n, high) == Approx(tail).epsilon(1e-9));
                }
                CHECK(low <= band.share().value());
                CHECK(band.share().value() <= high);
            }
        }
    }
}

TEST_CASE("bands are those of SciPy 1.17, binomtest(k, n).proportion_ci(level, \"exact\")") {
    struct row {
        int counted;
        int years;
        double level;
        double low;
        double high;
    };
    row const rows[] = {{0, 30, 0.95, 0.0, 0.115703308222},
                        {1, 30, 0.95, 0.000843570927, 0.172169455633},
                        {3, 30, 0.95, 0.021117137030, 0.265288450474},
                        {3, 30, 0.80, 0.037307740290, 0.209299465587},
                        {10, 30, 0.95, 0.172874221526, 0.528120044790},
                        {15, 30, 0.80, 0.369696039485, 0.630303960515},
                        {27, 30, 0.95, 0.734711549526, 0.978882862970},
                        {30, 30, 0.80, 0.926118728129, 1.0},
                        {2, 7, 0.95, 0.036692566176, 0.709579136263}};
    for (row const& one : rows) {
        CAPTURE(one.counted, one.years, one.level);
        ep::counted_chance const band =
            ep::chance_band(one.counted, one.years, ep::band_confidence{one.level});
        CHECK(band.low.value() == Approx(one.low).margin(1e-11));
        CHECK(band.high.value() == Approx(one.high).margin(1e-11));
    }
}

TEST_CASE("no year of n, and all of them, have a closed form") {
    // (1 - p)^30 = 0.025, and p^30 = 0.025.
    double const expected = 1.0 - std::pow(0.025, 1.0 / 30.0);
    CHECK(ep::chance_band(0, 30).high.value() == Approx(expected));
    CHECK(ep::chance_band(30, 30).low.value() == Approx(1.0 - expected));
}

TEST_CASE("more years in the same share narrow the band, more confidence widens it") {
    auto const width = [](ep::counted_chance const& band) {
        return band.high.value() - band.low.value();
    };
    for (int tenth = 0; tenth <= 10; ++tenth) {
        double before = 1.1;
        for (int const times : {1, 2, 3, 5, 10}) {
            double const now = width(ep::chance_band(tenth * times, 10 * times));
            CHECK(now < before);
            before = now;
        }
        CHECK(width(ep::chance_band(tenth, 10, ep::band_confidence{0.8})) <
              width(ep::chance_band(tenth, 10, ep::band_confidence{0.99})));
    }
}

TEST_CASE("the band turned round is that of the years without") {
    for (int k = 0; k <= 12; ++k) {
        ep::counted_chance const with = ep::chance_band(k, 12);
        ep::counted_chance const without = ep::chance_band(12 - k, 12);
        CHECK(with.low.value() == Approx(1.0 - without.high.value()).margin(1e-12));
    }
}

TEST_CASE("a band prints its count, its share and its two ends") {
    CHECK(fmt::format("{}", ep::chance_band(3, 30)) ==
          "3 of 30 years: 10 %, 2 to 27 % (95 % band)");
}

TEST_CASE("counts that are none are refused with their bound") {
    CHECK_THROWS_AS(ep::chance_band(0, 0), ep::invalid_input);
    CHECK_THROWS_AS(ep::chance_band(-1, 30), ep::invalid_input);
    CHECK_THROWS_AS(ep::chance_band(31, 30), ep::invalid_input);
    for (double const level : {0.0, 0.49, 1.0, std::nan("")}) {
        CHECK_THROWS_AS(ep::band_confidence{level}, ep::invalid_input);
    }
    try {
        (void)ep::chance_band(31, 30);
        FAIL("accepted");
    } catch (ep::invalid_input const& fault) { CHECK(fault.details().bound == "0 to 30"); }
}
