// Seed, cells, trays and medium of a whole plan, by hand.
#include "catch.hpp"

#include <functional>
#include <string>

#include <epicotyl/amounts/quantities.hpp>
#include <epicotyl/crop/cell_volume.hpp>
#include <epicotyl/plan/plan_file.hpp>

using namespace epicotyl;

namespace {

/// Stocks in plugs, then blocks, then a bed; cornflowers sown in the bed; dahlias in pots.
plan farm(std::string const& successions, std::string const& units = "metric") {
    bool const us = units == "us";
    return parse_plan(
        "format = 1\ntitle = \"Invented\"\nunits = \"" + units +
            "\"\n[site]\nlatitude = 51.9\nseason_start = 2027-01-01\n"
            "monthly_low = [40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40]\n"
            "monthly_high = [50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50, 50]\n"
            "[places]\nbench = { for = [\"germinate\", \"grow\"] }\nbeds = { for = [\"field\"] }\n"
            "[containers]\n\"plug 104\" = { cells = 104, medium = 1.6 }\n"
            "\"block 20\" = { cells = 20, medium = 2.5 }\n\"pot\" = { cells = 1 }\n"
            "[crops.stock]\nid = \"st\"\nstages = [\n"
            "  { begins = \"sow\", where = \"germinate\", container = \"plug 104\","
            " takes = { days = 10 }, survives = 0.80 },\n"
            "  { begins = \"emerge\", where = \"grow\", container = \"plug 104\","
            " takes = { days = 20 }, survives = 0.95 },\n"
            "  { begins = \"pot_on\", where = \"grow\", container = \"block 20\","
            " takes = { days = 20 } },\n"
            "  { begins = \"transplant\", where = \"field\", spacing = { rows = 4, in_row = " +
            std::string{us ? "9.0" : "23.0"} +
            " }, takes = { days = 40 } },\n]\n"
            "[crops.cornflower]\nstages = [\n"
            "  { begins = \"sow\", where = \"field\", takes = { days = 10 }, survives = 0.6 },\n"
            "  { begins = \"emerge\", where = \"field\", spacing = { rows = 2, in_row = 20.0 },"
            " takes = { days = 50 } },\n]\n"
            "[crops.dahlia]\nstages = [\n"
            "  { begins = \"plant\", where = \"grow\", container = \"pot\","
            " takes = { days = 30 }, survives = 0.9 },\n"
            "  { begins = \"transplant\", where = \"field\", takes = { days = 50 } },\n]\n" +
            successions,
        "");
}

std::string batch(std::string const& crop, std::string const& name, std::string const& amount,
                  std::string const& event) {
    return "[[succession]]\ncrop = \"" + crop + "\"\nname = \"" + name + "\"\n" + amount +
           "\nrisk = false\ntarget = { event = \"" + event + "\", on = 2027-05-20 }\n";
}

plan_quantities of_stock(std::string const& amount, std::string const& event,
                         quantity_options const& options = {}) {
    return quantities(farm(batch("stock", "stock 1", amount, event)), options);
}

std::string fault(quantity_options const& options) {
    try {
        (void)of_stock("plants = 380", "transplant", options);
    } catch (invalid_input const& refused) {
        CHECK_FALSE(refused.details().remedy.empty());
        CHECK_FALSE(refused.details().bound.empty());
        return refused.code() + " " + refused.details().field;
    }
    return "accepted";
}

}  // namespace

TEST_CASE("seeds give the plants wanted in 95 sowings of 100, and fill cells and trays") {
    auto const all = of_stock("plants = 380", "transplant");
    REQUIRE(all.successions.size() == 1);
    auto const& one = all.successions[0];
    CHECK(one.plants == 380);
    CHECK(one.at == "transplant");
    CHECK(one.germination == 0.8);
    CHECK(one.usable == Approx(0.95).epsilon(1e-12));
    // The fewest n with P(Binomial(n, 0.76) >= 380) >= 0.95, by another statistics library.
    CHECK(one.seeds == 521);
    CHECK(one.cells == 521);
    CHECK(one.average_seeds == Approx(500.0).epsilon(1e-12));
    CHECK(one.stages.at(0).trays == 6.0);  // 521 cells of 104, where 500 are 5
    CHECK(one.stages.at(1).trays == 4.0);
    CHECK(one.stages.at(2).trays == 19.0);
    CHECK(one.stages.at(3).bed == Approx(380.0 * 23.0 / 400.0).epsilon(1e-12));
    // Plugs are filled at the sowing, blocks are pressed at potting on; a fifth more is ordered.
    CHECK(*one.medium == Approx((6.0 * 1.6 + 19.0 * 2.5) * 1.2).epsilon(1e-12));
}

TEST_CASE("trays are sown full, and a target of seeds takes no more than it says") {
    auto const full = of_stock("trays = 3", "transplant").successions[0];
    CHECK(full.seeds == 312);
    CHECK(full.plants == 312);
    CHECK(full.at == "sow");
    CHECK(full.stages[0].trays == 3.0);
    CHECK(of_stock("plants = 100", "sow").successions[0].seeds == 100);
}

TEST_CASE("what comes up of a seed does not depend on where the batch is counted") {
    // 0.8 come up, and 0.95 of these live to be planted out, of full trays and of seeds counted.
    for (auto const& [amount, event] :
         {std::pair{"trays = 3", "transplant"}, std::pair{"plants = 380", "transplant"},
          std::pair{"plants = 380", "pot_on"}}) {
        auto const one = of_stock(amount, event).successions[0];
        CHECK(one.germination == 0.8);
        CHECK(one.usable == Approx(0.95).epsilon(1e-12));
    }
    auto const sown = of_stock("plants = 100", "sow").successions[0];
    CHECK(sown.germination == 0.8);
    CHECK(sown.usable == 1.0);
    // A lot's own figure is told of full trays too, and sows them no fuller.
    seed_lot const lot{.crop = "stock", .germination = chance{0.9}};
    auto const full = of_stock("trays = 3", "transplant", {.lots = {lot}}).successions[0];
    CHECK(full.germination == 0.9);
    CHECK(full.germination_from == figure_of::lot);
    CHECK(full.seeds == 312);
}

TEST_CASE("seed is ordered by what is expected, and what the standard would take is said beside") {
    auto const with = [](std::string const& key, quantity_options const& options = {}) {
        plan_parts parts = farm(batch("stock", "stock 1", "plants = 380", "transplant") +
                                batch("stock", "stock 2", "trays = 1", "transplant") +
                                batch("dahlia", "dahlia", "plants = 9", "transplant"))
                               .parts();
        if (key == "standard") { parts.crops[0].germination_standard = 0.6; }
        if (key == "tuber") { parts.crops[2].starts_as = start_form::tuber; }
        return quantities(plan{parts}, options);
    };
    CHECK_FALSE(with("").seed_order[0].standard.has_value());
    auto const order = with("standard").seed_order[0];
    CHECK(order.seeds == 521 + 104);
    CHECK(order.germination == Approx(0.8).epsilon(1e-12));
    CHECK(order.standard == 0.6);
    CHECK(order.seeds_at_standard == 704 + 104);  // P(Binomial(704, 0.57) >= 380) >= 0.95
    seed_lot const lot{.crop = "stock", .germination = chance{0.9}};
    CHECK_FALSE(with("standard", {.lots = {lot}}).seed_order[0].seeds_at_standard.has_value());
    CHECK(with("").seed_order[0].starts_as == "seed");
    CHECK(with("").seed_order[1].starts_as == "piece");
    CHECK(with("tuber").seed_order[1].starts_as == "tuber");
    CHECK(with("tuber").successions[2].seeds == with("").successions[2].seeds);
}

TEST_CASE("metres of bed are planted full") {
    // 23 m of 4 rows at 23 cm hold 400 plants.
    auto const one = of_stock("bed = 23", "sow").successions[0];
    CHECK(one.plants == 400);
    CHECK(one.at == "transplant");
    CHECK(one.seeds == 548);  // P(Binomial(548, 0.76) >= 400) >= 0.95
}

TEST_CASE("a lot of seed says better what comes up of it") {
    seed_lot lot{.crop = "stock", .germination = chance{0.6}};
    CHECK(of_stock("plants = 380", "transplant", {.lots = {lot}}).successions[0].seeds == 704);
    lot = {.crop = "st", .germination = chance{0.8}, .seeds_a_cell = 2};
    auto const two = of_stock("plants = 380", "transplant", {.lots = {lot}}).successions[0];
    CHECK(two.cells == 427);  // filled with 0.96, usable 0.95
    CHECK(two.seeds == 854);
    CHECK(two.stages[0].trays == 5.0);
    lot = {.crop = "stock", .tested = germination_spread{8e7, 2e7}};
    CHECK(of_stock("plants = 380", "transplant", {.lots = {lot}}).successions[0].seeds == 521);
    lot = {.crop = "stock", .tested = germination_spread::from_test(40, 50)};
    CHECK(of_stock("plants = 380", "transplant", {.lots = {lot}}).successions[0].seeds > 521);
    // Half of all sowings are enough for less.
    CHECK(
        of_stock("plants = 380", "transplant", {.confidence = chance{0.5}}).successions[0].seeds ==
        500);
}

TEST_CASE("the order adds up the seed of a crop, and the trays of a container") {
    auto const all =
        quantities(farm(batch("stock", "stock 1", "plants = 380", "transplant") +
                        batch("cornflower", "blue", "plants = 50", "sow") +
                        batch("stock", "stock 2", "trays = 2", "transplant") +
                        batch("dahlia", "dahlia", "plants = 9", "plant")),
                   {.compactions = {{"block 20", 1.5}},
                    .lots = {{.crop = "stock",
                              .seeds_per_gram = 700.0,
                              .packets = {{"small", 250, 3.0}, {"large", 500, 5.0}}}}});
    REQUIRE(all.seed_order.size() == 3);
    CHECK(all.seed_order[0].crop == "stock");
    CHECK(all.seed_order[0].seeds == 521 + 208);
    CHECK(*all.seed_order[0].grams == Approx(729.0 / 700.0).epsilon(1e-12));
    CHECK(all.seed_order[0].packets == std::vector<std::string>{"1 small", "1 large"});
    CHECK(all.seed_order[1].begins == "sow");
    CHECK(all.seed_order[1].seeds == 50);
    CHECK(all.seed_order[2].begins == "plant");
    CHECK_FALSE(all.successions[1].cells.has_value());

    REQUIRE(all.trays.size() == 3);
    // stock 2: 208 cells in 2 plug trays; 208 * 0.76 = 158.08 plants in 8 blocks of 20.
    CHECK(all.trays[0] == tray_line{"plug 104", 104, 8.0, 8.0, all.trays[0].medium});
    CHECK(*all.trays[0].medium == Approx(8.0 * 1.6 * 1.2).epsilon(1e-12));
    CHECK(all.trays[1].trays == 19.0 + 8.0);
    CHECK(*all.trays[1].medium == Approx(27.0 * 2.5 * 2.5).epsilon(1e-12));
    CHECK(all.trays[2].trays == 9.0);
    CHECK_FALSE(all.trays[2].medium.has_value());
    CHECK(all.medium == Approx(8.0 * 1.6 * 1.2 + 27.0 * 2.5 * 2.5).epsilon(1e-12));
    CHECK(all.notes ==
          std::vector<std::string>{"the plan does not say how much medium \"pot\" takes"});

    std::string const text = to_string(all);
    CHECK(text.find("Enough for each succession in 95 sowings of 100.") != std::string::npos);
    CHECK(text.find("380 at transplant") != std::string::npos);
    CHECK(text.find("9 planted      9 pieces") != std::string::npos);
    CHECK(text.find("6 plug 104, 19 block 20\n") != std::string::npos);
    CHECK(text.find("8.00  1 small, 1 large\n") != std::string::npos);
    CHECK(text.find("\nnote: the plan does not say how much medium \"pot\" takes\n") !=
          std::string::npos);
}

TEST_CASE("a plan in US units tells gallons and feet") {
    plan const of = farm(batch("stock", "stock 1", "bed = 100", "transplant"), "us");
    auto const all = quantities(of);
    // 100 ft = 30.48 m of 4 rows at 9 in = 22.86 cm: 533.3 plants, to be 534.
    CHECK(all.successions[0].plants == 534);
    CHECK(to_string(all).find("stock 1     100.0 ft\n") != std::string::npos);
    CHECK(to_string(all).find(" gallons") != std::string::npos);
    double const quarts = all.medium / 0.946352946;
    double const expected =
        1.2 * (1.6 * all.successions[0].stages[0].trays + 2.5 * all.successions[0].stages[2].trays);
    CHECK(quarts == Approx(expected).epsilon(1e-9));
}

TEST_CASE("an empty plan needs nothing") {
    auto const all = quantities(farm(""));
    CHECK(all.successions.empty());
    CHECK(all.seed_order.empty());
    CHECK(all.trays.empty());
    CHECK(all.medium == 0.0);
    CHECK_FALSE(to_string(all).empty());
}

TEST_CASE("options of quantities out of range are refused with all parts") {
    CHECK(fault({.confidence = chance{1.0}}) == "seeds.confidence confidence");
    CHECK(fault({.compaction = -0.1}) == "medium.compaction compaction");
    CHECK(fault({.compactions = {{"plug 104", 9.0}}}) == "medium.compaction compactions.plug 104");
    CHECK(fault({.compactions = {{"plug 105", 1.0}}}) == "container.unknown compactions.plug 105");
    CHECK(fault({.lots = {{.crop = "stok"}}}) == "crop.unknown lots.stok");
    CHECK(fault({.lots = {{.crop = "stock",
                           .germination = chance{0.5},
                           .tested = germination_spread{1.0, 1.0}}}}) ==
          "seed_lot.two_ways lots.stock");
    CHECK(fault({.lots = {{.crop = "stock",
                           .tested = germination_spread{1.0, 1.0},
                           .seeds_a_cell = 2}}}) == "seed_lot.two_ways lots.stock");
    CHECK(fault({.lots = {{.crop = "stock", .seeds_a_cell = 0}}}) == "seeds.a_cell seeds_a_cell");
}

TEST_CASE("blocks are cubes and cells are frusta") {
    CHECK(cube_litres(5.0) == Approx(0.125).epsilon(1e-12));
    CHECK(cube_litres(10.0) == Approx(1.0).epsilon(1e-12));
    CHECK(frustum_litres(10.0, 10.0, 10.0) == Approx(1.0).epsilon(1e-12));
    // 4.5 / 3 * (14.44 + 9.5 + 6.25) = 45.285 cubic centimetres
    CHECK(frustum_litres(3.8, 2.5, 4.5) == Approx(0.045285).epsilon(1e-12));
    CHECK_THROWS_AS(cube_litres(0.0), invalid_input);
    CHECK_THROWS_AS(frustum_litres(1.0, 1.0, -1.0), invalid_input);
}
