// Counts of seeds, against sums of the distributions written out, and what they must do as their
// arguments rise; packets against every combination.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <tuple>
#include <vector>

#include <epicotyl/amounts/seed_packets.hpp>
#include <epicotyl/crop/seed_count.hpp>

using namespace epicotyl;

namespace {

/// P(Binomial(n, p) >= k), term by term from the triangle of the number of ways.
long double tail(int n, int k, long double p) {
    std::vector<long double> row(static_cast<std::size_t>(n) + 1);
    row[0] = 1.0L;
    for (int seeds = 1; seeds <= n; ++seeds) {
        for (int up = seeds; up >= 0; --up) {
            auto const at = static_cast<std::size_t>(up);
            row[at] = row[at] * (1.0L - p) + (up > 0 ? row[at - 1] * p : 0.0L);
        }
    }
    long double sum = 0.0L;
    for (int up = n; up >= k; --up) { sum += row[static_cast<std::size_t>(up)]; }
    return sum;
}

}  // namespace

TEST_CASE("seeds are the first number whose binomial tail is large enough") {
    std::mt19937 random{1201};
    for (int round = 0; round < 150; ++round) {
        int const plants = std::uniform_int_distribution{1, 25}(random);
        double const share = std::uniform_real_distribution{0.15, 1.0}(random);
        double const sure = std::uniform_real_distribution{0.02, 0.999}(random);
        int n = plants;
        while (tail(n, plants, share) < sure) { ++n; }
        CAPTURE(plants, share, sure);
        CHECK(seeds_needed(plants, chance{share}, chance{1.0}, chance{sure}) == n);
        CHECK(chance_of_plants(plants, n, chance{share}) ==
              Approx(static_cast<double>(tail(n, plants, share))).epsilon(1e-12));
    }
}

TEST_CASE("seeds never fall as plants or confidence rise, nor rise with germination") {
    std::mt19937 random{1202};
    for (int round = 0; round < 120; ++round) {
        std::int64_t const plants = std::uniform_int_distribution{1, 2000}(random);
        std::uniform_real_distribution<double> shares{0.05, 0.999};
        double const share = shares(random);
        double const sure = shares(random);
        double const usable = shares(random);
        auto const spread = germination_spread::from_mean(share, 40.0);
        auto const of = [&](std::int64_t k, double g, double u, double c) {
            return seeds_needed(k, chance{g}, chance{u}, chance{c});
        };
        auto const base = of(plants, share, usable, sure);
        CAPTURE(plants, share, usable, sure);
        CHECK(base >= plants);
        CHECK(of(plants + 1, share, usable, sure) > base);
        CHECK(of(plants, std::min(1.0, share + 0.01), usable, sure) <= base);
        CHECK(of(plants, share, std::min(1.0, usable + 0.01), sure) <= base);
        CHECK(of(plants, share, usable, sure + 0.0005) >= base);
        CHECK(cells_needed(plants, 2, chance{share}, chance{usable}, chance{sure}) <= base);
        CHECK(cells_needed(plants, 3, chance{share}, chance{usable}, chance{sure}) <=
              cells_needed(plants, 2, chance{share}, chance{usable}, chance{sure}));
        CHECK(chance_of_plants(plants, base, chance{share}, chance{usable}) >= sure - 1e-12);
        CHECK(chance_of_plants(plants, base - 1, chance{share}, chance{usable}) < sure);

        auto const unsure = seeds_needed(plants, spread, chance{usable}, chance{0.9});
        CHECK(chance_of_plants(plants, unsure, spread, chance{usable}) >= 0.9 - 1e-9);
        CHECK(chance_of_plants(plants, unsure - 1, spread, chance{usable}) < 0.9 + 1e-9);
        CHECK(seeds_needed(plants + 1, spread, chance{usable}, chance{0.9}) > unsure);
    }
}

TEST_CASE("the less is known of a lot, the more of its seeds are needed to be sure") {
    for (double mean : {0.5, 0.8, 0.95}) {
        std::int64_t before = seeds_needed(200, chance{mean});
        for (double concentration : {3000.0, 300.0, 100.0, 30.0}) {
            auto const now = seeds_needed(200, germination_spread::from_mean(mean, concentration));
            CHECK(now >= before);
            before = now;
        }
    }
}

TEST_CASE("packets are as good as the best of all combinations") {
    std::mt19937 random{1203};
    auto const whole = [&](int low, int high) {
        return std::uniform_int_distribution{low, high}(random);
    };
    for (int round = 0; round < 400; ++round) {
        std::vector<seed_packet> kinds(static_cast<std::size_t>(whole(1, 3)));
        for (seed_packet& one : kinds) { one = {"", whole(1, 12), 0.25 * whole(0, 20)}; }
        std::int64_t const seeds = whole(0, 60);
        for (packet_choice choice : {packet_choice::cheapest, packet_choice::fewest}) {
            using order = std::tuple<double, double, std::int64_t>;
            auto const order_of = [&](double price, std::int64_t count, std::int64_t held) {
                auto const number = static_cast<double>(count);
                return choice == packet_choice::cheapest ? order{price, number, held}
                                                         : order{number, price, held};
            };
            order best{1e9, 1e9, 0};
            auto const try_all = [&](auto const& self, std::size_t kind, double price,
                                     std::int64_t count, std::int64_t held) -> void {
                if (kind == kinds.size()) {
                    if (held >= seeds) { best = std::min(best, order_of(price, count, held)); }
                    return;
                }
                for (std::int64_t packets = 0;; ++packets) {
                    std::int64_t const now = held + packets * kinds[kind].seeds;
                    self(self, kind + 1, price + static_cast<double>(packets) * kinds[kind].price,
                         count + packets, now);
                    if (now >= seeds) { break; }
                }
            };
            try_all(try_all, 0, 0.0, 0, 0);
            bought_seed const bought = buy_seed(seeds, kinds, choice);
            CHECK(order_of(bought.price, bought.count, bought.seeds) == best);
        }
    }
}
