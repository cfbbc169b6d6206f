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

/// Trays of 125, boxes of three trays (common practice, no source); prices are invented.
plant_offer lisianthus() {
    return {.plants_a_tray = 125,
            .trays_a_box = 3,
            .breaks = {{1, 38.0}, {6, 34.0}},
            .freight_a_box = 22.0,
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

TEST_CASE(
    "a bought tray of 125 plants and boxes of three trays round up to whole trays and boxes") {
    auto const trays_and_boxes = [](std::int64_t plants) {
        auto const cost = landed_cost(plants, lisianthus());
        return std::pair{cost.trays, cost.boxes};
    };
    CHECK(trays_and_boxes(1) == std::pair<std::int64_t, std::int64_t>{1, 1});
    CHECK(trays_and_boxes(125) == std::pair<std::int64_t, std::int64_t>{1, 1});
    CHECK(trays_and_boxes(126) == std::pair<std::int64_t, std::int64_t>{2, 1});
    CHECK(trays_and_boxes(375) == std::pair<std::int64_t, std::int64_t>{3, 1});
    CHECK(trays_and_boxes(376) == std::pair<std::int64_t, std::int64_t>{4, 2});
    CHECK(trays_and_boxes(750) == std::pair<std::int64_t, std::int64_t>{6, 2});
    CHECK(trays_and_boxes(751) == std::pair<std::int64_t, std::int64_t>{7, 3});

    auto const cost = landed_cost(130, lisianthus());
    CHECK(cost.plants == 250);
    CHECK(cost.for_plants == 76.0);
    CHECK(cost.for_freight == 22.0);
    CHECK(cost.total == 98.0);
    CHECK(cost.per_plant_bought == Approx(98.0 / 250.0));
    CHECK(cost.per_surviving_plant == Approx(98.0 / 250.0));
    CHECK(cost.per_plant_needed == Approx(98.0 / 130.0));
    CHECK(landed_cost(0, lisianthus()).total == 0.0);
}

TEST_CASE("where plants are lost more are bought, and a survivor costs more") {
    plant_offer offer = lisianthus();
    offer.survives = chance{0.75};  // 375 of 500
    auto const cost = landed_cost(375, offer);
    CHECK(cost.trays == 4);
    CHECK(cost.boxes == 2);
    CHECK(cost.total == 4.0 * 38.0 + 2.0 * 22.0);
    CHECK(cost.per_surviving_plant == Approx(196.0 / 375.0));
    CHECK(cost.per_plant_needed == Approx(196.0 / 375.0));
    offer.survives = chance{0.9};  // 112.5 a tray, and 225 in two: nothing lost to rounding
    CHECK(landed_cost(225, offer).trays == 2);
}

TEST_CASE("a price break makes every tray cheaper, and more trays where they cost less") {
    CHECK(landed_cost(750, lisianthus()).for_plants == 6.0 * 34.0);
    // 5 trays are 190, 6 are 204: five stay five.
    CHECK(landed_cost(625, lisianthus()).trays == 5);
    plant_offer offer = lisianthus();
    offer.breaks[1].price = 30.0;  // 6 trays are 180, in the same two boxes
    auto const cost = landed_cost(625, offer);
    CHECK(cost.trays == 6);
    CHECK(cost.needed == 625);
    CHECK(cost.total == 180.0 + 44.0);
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
    CHECK(to_string(cost).find("a usable plant  1.125 EUR") != std::string::npos);
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
    std::string const text = to_string(landed_cost(130, lisianthus()));
    CHECK(text.find("98.00 EUR for 130 plants: 2 trays in 1 box, 250 plants") != std::string::npos);
    CHECK(text.find("a plant bought") != std::string::npos);
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
