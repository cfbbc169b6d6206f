#include "catch.hpp"

#include <algorithm>
#include <random>
#include <vector>

#include <epicotyl/clock/ready_map.hpp>

namespace epicotyl {
namespace {

/// Rates as weather gives them: runs of nothing, runs of little, some days of much.
std::vector<double> random_rates(std::mt19937_64& random, int size) {
    std::uniform_real_distribution<double> share{0.0, 1.0};
    std::vector<double> rates(static_cast<std::size_t>(size));
    double level = share(random);
    for (double& rate : rates) {
        if (share(random) < 0.2) { level = share(random) < 0.4 ? 0.0 : 12.0 * share(random); }
        rate = level;
    }
    return rates;
}

/// The definition, day by day: counting in exact quarters, so that no rounding is involved.
int ready_by_loop(std::vector<double> const& rates, double amount, int start) {
    double sum = 0.0;
    int const last = static_cast<int>(rates.size());
    for (int e = start; e <= last; ++e) {
        if (sum >= amount) { return e; }
        if (e < last) { sum += rates[static_cast<std::size_t>(e)]; }
    }
    return never;
}

}  // namespace

TEST_CASE("ready equals the definition, counted day by day") {
    std::mt19937_64 random{20270101};
    for (int trial = 0; trial < 500; ++trial) {
        int const size = std::uniform_int_distribution<int>{1, 60}(random);
        std::vector<double> rates = random_rates(random, size);
        for (double& rate : rates) { rate = std::floor(rate * 4.0) / 4.0; }
        double const amount = std::uniform_int_distribution<int>{0, 400}(random) / 4.0;
        ready_map const map{rates, amount};
        for (int s = 0; s <= size; ++s) {
            INFO("size " << size << ", amount " << amount << ", start " << s);
            REQUIRE(map(s) == ready_by_loop(rates, amount, s));
        }
    }
}

TEST_CASE("ready, latest_start and earliest_start are Galois pairs and monotone") {
    std::mt19937_64 random{20270102};
    for (int trial = 0; trial < 500; ++trial) {
        int const size = std::uniform_int_distribution<int>{1, 50}(random);
        double const amount = std::uniform_real_distribution<double>{0.0, 90.0}(random);
        ready_map const map{random_rates(random, size), amount};
        std::vector<int> chain;
        for (int d = 0; d <= size; ++d) { chain.push_back(d); }
        chain.push_back(never);
        for (int const e : chain) {
            std::optional<int> const latest = map.latest_start(e);
            int const earliest = map.earliest_start(e);
            for (int const s : chain) {
                INFO("size " << size << ", amount " << amount << ", s " << s << ", e " << e);
                REQUIRE((map(s) <= e) == (latest.has_value() && s <= *latest));
                REQUIRE((map(s) >= e) == (s >= earliest));
            }
        }
        for (std::size_t i = 1; i < chain.size(); ++i) {
            REQUIRE(map(chain[i - 1]) <= map(chain[i]));
            REQUIRE(map.latest_start(chain[i - 1]).value_or(-1) <=
                    map.latest_start(chain[i]).value_or(-1));
            REQUIRE(map.earliest_start(chain[i - 1]) <= map.earliest_start(chain[i]));
        }
    }
}

TEST_CASE("more warmth on any day never makes a stage ready later, a larger amount never sooner") {
    std::mt19937_64 random{20270103};
    for (int trial = 0; trial < 300; ++trial) {
        int const size = std::uniform_int_distribution<int>{1, 50}(random);
        std::vector<double> const rates = random_rates(random, size);
        double const amount = std::uniform_real_distribution<double>{0.0, 60.0}(random);
        ready_map const map{rates, amount};
        std::vector<double> warmer = rates;
        warmer[static_cast<std::size_t>(trial % size)] += 3.0;
        ready_map const sooner{warmer, amount};
        ready_map const later{rates, amount + 5.0};
        for (int s = 0; s <= size; ++s) {
            REQUIRE(sooner(s) <= map(s));
            REQUIRE(later(s) >= map(s));
            REQUIRE(map(s) >= s);
        }
    }
}

}  // namespace epicotyl
