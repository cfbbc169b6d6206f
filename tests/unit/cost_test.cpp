// What plants cost, bought in or raised, by hand.
#include "catch.hpp"

#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <string>

#include <epicotyl/amounts/cost.hpp>

using namespace epicotyl;

namespace {

/// Trays of 84, boxes of four trays; all of it is invented.
plant_offer lisianthus() {
    return {.plants_a_tray = 84,
            .trays_a_box = 4,
            .breaks = {{1, 31.5}, {9, 27.0}},
            .freight_a_box = 18.5,
            .currency = "EUR"};
}

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

TEST_CASE("a bought tray of 84 plants and boxes of four trays round up to whole trays and boxes") {
    auto const trays_and_boxes = [](std::int64_t plants) {
        auto const cost = landed_cost(plants, lisianthus());
        return std::pair{cost.trays, cost.boxes};
    };
    CHECK(trays_and_boxes(1) == std::pair<std::int64_t, std::int64_t>{1, 1});
    CHECK(trays_and_boxes(84) == std::pair<std::int64_t, std::int64_t>{1, 1});
    CHECK(trays_and_boxes(85) == std::pair<std::int64_t, std::int64_t>{2, 1});
    CHECK(trays_and_boxes(336) == std::pair<std::int64_t, std::int64_t>{4, 1});
    CHECK(trays_and_boxes(337) == std::pair<std::int64_t, std::int64_t>{5, 2});
    CHECK(trays_and_boxes(756) == std::pair<std::int64_t, std::int64_t>{9, 3});
    CHECK(trays_and_boxes(1008) == std::pair<std::int64_t, std::int64_t>{12, 3});
    CHECK(trays_and_boxes(1009) == std::pair<std::int64_t, std::int64_t>{13, 4});

    // 200 plants: 3 trays of 84 in one box, 3 * 31.5 and 18.5.
    auto const cost = landed_cost(200, lisianthus());
    CHECK(cost.plants == 252);
    CHECK(cost.for_plants == 94.5);
    CHECK(cost.for_freight == 18.5);
    CHECK(cost.total == 113.0);
    CHECK(cost.per_plant_bought == Approx(113.0 / 252.0));
    CHECK(cost.per_surviving_plant == Approx(113.0 / 252.0));
    CHECK(cost.per_plant_needed == Approx(113.0 / 200.0));
    CHECK(landed_cost(0, lisianthus()).total == 0.0);
}

TEST_CASE("where plants are lost more are bought, and a survivor costs more") {
    plant_offer offer = lisianthus();
    offer.survives = chance{0.75};  // 315 of 420
    auto const cost = landed_cost(315, offer);
    CHECK(cost.trays == 5);
    CHECK(cost.boxes == 2);
    CHECK(cost.total == 5.0 * 31.5 + 2.0 * 18.5);
    CHECK(cost.per_surviving_plant == Approx(194.5 / 315.0));
    CHECK(cost.per_plant_needed == Approx(194.5 / 315.0));
    offer.survives = chance{0.9};  // 75.6 a tray, and 378 in five: nothing lost to rounding
    CHECK(landed_cost(378, offer).trays == 5);
}

TEST_CASE("a price break makes every tray cheaper, and more trays where they cost less") {
    CHECK(landed_cost(756, lisianthus()).for_plants == 9.0 * 27.0);
    // 8 trays are 252 and 9 are 243, but in a third box: 289 against 298.5, eight stay eight.
    CHECK(landed_cost(672, lisianthus()).trays == 8);
    plant_offer offer = lisianthus();
    offer.breaks[1].price = 24.0;  // 9 trays are 216, with 3 * 18.5 no more than 271.5
    auto const cost = landed_cost(672, offer);
    CHECK(cost.trays == 9);
    CHECK(cost.needed == 672);
    CHECK(cost.total == 216.0 + 55.5);
}

TEST_CASE("the landed cost never falls by more plants") {
    std::mt19937 random{1301};
    for (int round = 0; round < 200; ++round) {
        auto const whole = [&](int low, int high) {
            return std::uniform_int_distribution{low, high}(random);
        };
        plant_offer const offer{
            .plants_a_tray = whole(1, 300),
            .trays_a_box = whole(1, 6),
            .breaks = {{1, 1.0 * whole(10, 60)}, {whole(2, 9), 1.0 * whole(5, 50)}},
            .freight_a_box = 1.0 * whole(0, 40),
            .freight = 1.0 * whole(0, 40),
            .survives = chance{whole(1, 20) / 20.0}};
        double before = 0.0;
        for (std::int64_t plants = 0; plants < 1500; plants += 7) {
            auto const cost = landed_cost(plants, offer);
            if (offer.breaks[1].price <= offer.breaks[0].price) { CHECK(cost.total >= before); }
            CHECK(static_cast<double>(cost.plants) * offer.survives.value() >=
                  static_cast<double>(plants) * (1.0 - 1e-8));
            CHECK(cost.boxes * offer.trays_a_box >= cost.trays);
            CHECK((cost.boxes - 1) * offer.trays_a_box < std::max<std::int64_t>(1, cost.trays));
            before = cost.total;
        }
    }
}

TEST_CASE("raised plants cost what is spent on them, containers by the season") {
    raising const spent{.seed = 12.0,
                        .medium = 9.5,
                        .heat = 30.0,
                        .labour_hours = 4.0,
                        .wage = 16.0,
                        .containers = {{5.0, 4.0, 20.0}, {160.0, 0.1, 1.0}},
                        .other = 2.5,
                        .currency = "EUR"};
    auto const cost = cost_of_raising(spent, 160, chance{0.75});
    CHECK(cost.labour == 64.0);
    CHECK(cost.containers == 1.0 + 16.0);
    CHECK(cost.total == 135.0);
    CHECK(cost.per_plant == Approx(135.0 / 160.0));
    CHECK(cost.per_usable_plant == Approx(135.0 / 120.0));
    CHECK(to_string(cost) ==
          "135.00 EUR for 160 plants raised, 75 in 100 of them good enough to use\n"
          "  seed               12.00 EUR\n"
          "  medium              9.50 EUR\n"
          "  heat               30.00 EUR\n"
          "  labour             64.00 EUR\n"
          "  containers         17.00 EUR\n"
          "  other               2.50 EUR\n"
          "  each plant raised  0.844 EUR\n"
          "  each usable plant  1.125 EUR\n");
}

TEST_CASE("raising breaks even where as many are usable as buying would give") {
    // 135 for 160 plants: at 0.9 a plant, 150 must be usable.
    CHECK(*break_even_usable(135.0, 160, 0.9) == Approx(150.0 / 160.0));
    CHECK(break_even_usable(135.0, 160, 0.8) == std::nullopt);
    CHECK(*break_even_usable(0.0, 160, 0.8) == 0.0);
    for (double price : {0.9, 1.0, 1.7, 30.0}) {
        double const share = *break_even_usable(135.0, 160, price);
        CHECK(cost_of_raising({.other = 135.0}, 160, chance{share}).per_usable_plant ==
              Approx(price).epsilon(1e-12));
    }
}

TEST_CASE("costs are told with trays, boxes and currency") {
    CHECK(to_string(landed_cost(200, lisianthus())) ==
          "113.00 EUR for 200 plants: 3 trays in 1 box, 252 plants\n"
          "  3 trays at 31.50       94.50 EUR\n"
          "  freight for 1 box      18.50 EUR\n"
          "  each plant bought      0.448 EUR\n"
          "  each plant that lives  0.448 EUR\n"
          "  each plant you need    0.565 EUR\n");
    CHECK(to_string(landed_cost(0, lisianthus())) == "no plants, no cost\n");
}

TEST_CASE("costs out of range are refused with all parts") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    auto const offered = [](auto const& change) {
        return fault([&] {
            plant_offer offer = lisianthus();
            change(offer);
            return landed_cost(100, offer);
        });
    };
    CHECK(fault([] { return landed_cost(-1, lisianthus()); }) == "cost.count plants");
    CHECK(offered([](plant_offer& o) { o.plants_a_tray = 0; }) == "cost.count plants_a_tray");
    CHECK(offered([](plant_offer& o) { o.trays_a_box = 0; }) == "cost.count trays_a_box");
    CHECK(offered([](plant_offer& o) { o.breaks.clear(); }) == "cost.first_break breaks");
    CHECK(offered([](plant_offer& o) { o.breaks[0].from_trays = 2; }) == "cost.first_break breaks");
    CHECK(offered([](plant_offer& o) { o.breaks[1].from_trays = 1; }) ==
          "cost.break_order breaks[2].from_trays");
    CHECK(offered([&](plant_offer& o) { o.breaks[1].price = nan; }) ==
          "cost.price breaks[2].price");
    CHECK(offered([](plant_offer& o) { o.freight_a_box = -1.0; }) == "cost.price freight_a_box");
    CHECK(offered([&](plant_offer& o) { o.freight = nan; }) == "cost.price freight");
    CHECK(offered([](plant_offer& o) { o.survives = chance{0.0}; }) == "cost.none_left survives");
    CHECK(fault([] { return cost_of_raising({}, 0, chance{1.0}); }) == "cost.count plants");
    CHECK(fault([] { return cost_of_raising({}, 1, chance{0.0}); }) == "cost.none_left usable");
    CHECK(fault([] { return cost_of_raising({.wage = -1.0}, 1, chance{1.0}); }) ==
          "cost.price wage");
    CHECK(fault([] {
              return cost_of_raising({.containers = {{1.0, 1.0, 0.5}}}, 1, chance{1.0});
          }) == "cost.seasons containers[1].seasons");
    CHECK(fault([] { return break_even_usable(1.0, 1, 0.0); }) == "cost.price price");
    CHECK(fault([&] { return break_even_usable(nan, 1, 1.0); }) == "cost.price total");
}
