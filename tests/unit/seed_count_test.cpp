// How many seeds, cells and packets: values from tables and by hand, and what is refused.
#include "catch.hpp"

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <epicotyl/amounts/seed_packets.hpp>
#include <epicotyl/crop/seed_count.hpp>

using namespace epicotyl;

namespace {

/// Code and field of the fault that `asked` throws.
template <class Asked>
std::string fault(Asked const& asked) {
    try {
        (void)asked();
    } catch (invalid_input const& refused) {
        CHECK_FALSE(refused.details().remedy.empty());
        CHECK_FALSE(refused.details().bound.empty());
        return refused.code() + " " + refused.details().field;
    }
    return "accepted";
}

}  // namespace

// Worked out from the binomial distribution by a general-purpose statistics library.
TEST_CASE("seeds are enough in 95 sowings of 100") {
    CHECK(seeds_needed(100, chance{0.80}) == 135);
    CHECK(seeds_needed(250, chance{0.80}) == 327);
    CHECK(seeds_needed(100, chance{0.55}) == 203);
    CHECK(seeds_needed(10, chance{0.70}, chance{1.0}, chance{0.90}) == 18);
    CHECK(seeds_needed(1, chance{0.70}) == 3);  // 1 - 0.3^2 = 0.91, 1 - 0.3^3 = 0.973
}

TEST_CASE("usable and germination count alike") {
    CHECK(seeds_needed(100, chance{0.8}, chance{1.0}) ==
          seeds_needed(100, chance{1.0}, chance{0.8}));
    CHECK(seeds_needed(100, chance{0.5}, chance{0.5}) == seeds_needed(100, chance{0.25}));
}

TEST_CASE("seed that all comes up is needed one for one, and no plants need none") {
    CHECK(seeds_needed(100, chance{1.0}) == 100);
    CHECK(seeds_needed(0, chance{0.5}) == 0);
    CHECK(seeds_needed(0, germination_spread{1.0, 1.0}) == 0);
    CHECK(cells_needed(0, 2, chance{0.5}) == 0);
}

TEST_CASE("a confidence that is just reached is reached") {
    // 3 of 4 pairs of seeds at one half have one that comes up, 7 of 8 threes, 15 of 16 fours.
    CHECK(seeds_needed(1, chance{0.5}, chance{1.0}, chance{0.5}) == 1);
    CHECK(seeds_needed(1, chance{0.5}, chance{1.0}, chance{0.75}) == 2);
    CHECK(seeds_needed(1, chance{0.5}, chance{1.0}, chance{0.875}) == 3);
    // 2 or more of 3: 1/2. 2 or more of 5: 26/32.
    CHECK(seeds_needed(2, chance{0.5}, chance{1.0}, chance{0.5}) == 3);
    CHECK(seeds_needed(2, chance{0.5}, chance{1.0}, chance{0.8125}) == 5);
}

TEST_CASE("of several seeds in a cell one is enough") {
    // One seed at 1 - 0.2^2 = 0.96 fills as many cells as two at 0.8.
    CHECK(cells_needed(100, 2, chance{0.8}) == seeds_needed(100, chance{0.96}));
    CHECK(cells_needed(100, 1, chance{0.8}) == 135);
    CHECK(cells_needed(50, 3, chance{0.5}, chance{0.9}) ==
          seeds_needed(50, chance{0.875}, chance{0.9}));
    CHECK(cells_needed(50, 1000, chance{0.5}) == 50);
}

TEST_CASE("after a test that tells nothing every number is as likely as another") {
    // Beta(1, 1) makes 0 ... n come up with 1 / (n + 1) each: k or more with (n + 1 - k) / (n + 1).
    // k = 1 at 0.9: n + 1 >= 10. k = 3 at 0.75: n + 1 >= 12.
    germination_spread const unknown{1.0, 1.0};
    CHECK(seeds_needed(1, unknown, chance{1.0}, chance{0.9}) == 9);
    CHECK(seeds_needed(3, unknown, chance{1.0}, chance{0.75}) == 11);
    CHECK(chance_of_plants(3, 11, unknown) == Approx(0.75).epsilon(1e-12));
    // Half of what comes up is usable: of 2 seeds none is with (1 + 1/2 + 1/4) / 3.
    CHECK(chance_of_plants(1, 2, unknown, chance{0.5}) == Approx(5.0 / 12.0).epsilon(1e-12));
}

TEST_CASE("a test counts what came up and what did not, each from one") {
    auto const tested = germination_spread::from_test(40, 50);
    CHECK(tested == germination_spread{41.0, 11.0});
    CHECK(tested.mean() == Approx(41.0 / 52.0));
    CHECK(tested.concentration() == 52.0);
    auto const told = germination_spread::from_mean(0.75, 40.0);
    CHECK(told == germination_spread{30.0, 10.0});
}

TEST_CASE("a share known as well as can be is a share") {
    CHECK(seeds_needed(100, germination_spread{8e7, 2e7}) == 135);
    CHECK(seeds_needed(250, germination_spread{8e7, 2e7}) == 327);
    CHECK(seeds_needed(100, germination_spread{8e7, 2e7}, chance{0.6875}) == 203);
}

TEST_CASE("counts of seeds out of range are refused with all parts") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(fault([] { return seeds_needed(-1, chance{0.5}); }) == "seeds.plants plants");
    CHECK(fault([] { return seeds_needed(most_plants + 1, chance{0.5}); }) ==
          "seeds.plants plants");
    CHECK(fault([] { return seeds_needed(1, chance{0.0}); }) == "seeds.germination germination");
    CHECK(fault([] { return seeds_needed(1, chance{1e-7}); }) == "seeds.germination germination");
    CHECK(fault([] { return seeds_needed(1, chance{0.5}, chance{0.0}); }) == "seeds.usable usable");
    for (double certain : {0.0, 1.0}) {
        CHECK(fault([&] { return seeds_needed(1, chance{0.5}, chance{1.0}, chance{certain}); }) ==
              "seeds.confidence confidence");
    }
    CHECK(fault([] { return chance{55.0}; }) == "chance.out_of_range chance");
    CHECK(fault([&] { return chance{nan}; }) == "chance.out_of_range chance");
    CHECK(fault([] { return cells_needed(1, 0, chance{0.5}); }) == "seeds.a_cell seeds_a_cell");
    CHECK(fault([] { return cells_needed(1, 1001, chance{0.5}); }) == "seeds.a_cell seeds_a_cell");
    CHECK(fault([] { return chance_of_plants(1, -1, chance{0.5}); }) == "seeds.negative seeds");
    CHECK(fault([&] {
              return germination_spread{nan, 1.0};
          }) == "germination_spread.out_of_range a");
    CHECK(fault([] {
              return germination_spread{1.0, 0.0};
          }) == "germination_spread.out_of_range b");
    CHECK(fault([] { return germination_spread::from_test(11, 10); }) == "germination_test.up up");
    CHECK(fault([] { return germination_spread::from_test(0, 0); }) ==
          "germination_test.sown sown");
    CHECK(fault([] { return germination_spread::from_mean(1.0, 10.0); }) ==
          "germination_spread.mean mean");
    CHECK(fault([] { return germination_spread::from_mean(0.5, 0.0); }) ==
          "germination_spread.concentration concentration");
    CHECK(fault([] {
              return seeds_needed(100, germination_spread{0.01, 1.0});
          }) == "seeds.too_many confidence");
    CHECK(fault([] {
              return seeds_needed(100'001, germination_spread{1.0, 1.0});
          }) == "seeds.plants plants");
}

TEST_CASE("packets are the cheapest or the fewest that hold the seeds") {
    std::vector<seed_packet> const kinds = {{"small", 100, 2.5}, {"large", 500, 9.0}};
    CHECK(buy_seed(117, kinds) == bought_seed{{2, 0}, 2, 200, 5.0});
    CHECK(buy_seed(117, kinds, packet_choice::fewest) == bought_seed{{0, 1}, 1, 500, 9.0});
    CHECK(buy_seed(327, kinds) == bought_seed{{0, 1}, 1, 500, 9.0});    // four small ones are 10
    CHECK(buy_seed(817, kinds) == bought_seed{{0, 2}, 2, 1000, 18.0});  // or 9 + 4 * 2.5 = 19
    CHECK(buy_seed(701, kinds) == bought_seed{{3, 1}, 4, 800, 16.5});
    CHECK(buy_seed(0, kinds) == bought_seed{{0, 0}, 0, 0, 0.0});
}

TEST_CASE("of equally cheap packets the fewest are bought, and no more seed than need be") {
    CHECK(buy_seed(1000, {{"tens", 10, 1.0}, {"hundreds", 100, 10.0}}) ==
          bought_seed{{0, 10}, 10, 1000, 100.0});
    CHECK(buy_seed(250, {{"300", 300, 4.0}, {"400", 400, 4.0}}) ==
          bought_seed{{1, 0}, 1, 300, 4.0});
    CHECK(buy_seed(250, {{"dear", 250, 5.0}, {"cheap", 250, 4.0}}, packet_choice::fewest) ==
          bought_seed{{0, 1}, 1, 250, 4.0});
}

TEST_CASE("hundreds of millions of seeds are bought at once") {
    auto const bought = buy_seed(999'999'999, {{"small", 100, 2.5}, {"large", 500, 9.0}});
    CHECK(bought.packets == std::vector<std::int64_t>{0, 2'000'000});
    CHECK(bought.price == 18e6);
}

TEST_CASE("seed is weighed in grams and ounces") {
    // About 4000 seeds an ounce is 141 a gram.
    CHECK(seeds_per_gram_of_ounce(4000.0) == Approx(141.0958).epsilon(1e-6));
    CHECK(seeds_in(2.0, 141.1) == 282);
    CHECK(seeds_in(0.3, 10.0) == 3);
    CHECK(seeds_in(0.0, 10.0) == 0);
    CHECK(seeds_in(grams_per_ounce, seeds_per_gram_of_ounce(4000.0)) == 4000);
    CHECK(grams_of(300, 150.0) == 2.0);
}

TEST_CASE("packets and weights out of range are refused with all parts") {
    std::vector<seed_packet> const kinds = {{"small", 100, 2.5}};
    CHECK(fault([&] { return buy_seed(-1, kinds); }) == "seed_packet.wanted seeds");
    CHECK(fault([] { return buy_seed(1, {}); }) == "seed_packet.none packets");
    CHECK(fault([] {
              return buy_seed(1, {{"", 0, 1.0}});
          }) == "seed_packet.seeds packets[1].seeds");
    CHECK(fault([] {
              return buy_seed(1, {{"", 1, 1.0}, {"", 1, -1.0}});
          }) == "seed_packet.price packets[2].price");
    CHECK(fault([] {
              return buy_seed(1, {{"", 1, std::nan("")}});
          }) == "seed_packet.price packets[1].price");
    CHECK(fault([] {
              return buy_seed(900'000'000, {{"", 9'999'991, 1.0}, {"", 9'999'973, 1.0}});
          }) == "seed_packet.no_common_measure packets");
    CHECK(fault([] { return seeds_in(-1.0, 1.0); }) == "seed_weight.grams grams");
    CHECK(fault([] { return seeds_in(1.0, 0.0); }) == "seed_weight.not_positive seeds_per_gram");
    CHECK(fault([] { return grams_of(1, -1.0); }) == "seed_weight.not_positive seeds_per_gram");
    CHECK(fault([] { return seeds_per_gram_of_ounce(std::nan("")); }) ==
          "seed_weight.not_positive seeds_per_ounce");
}
