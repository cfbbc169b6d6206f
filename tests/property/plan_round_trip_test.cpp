// Random plans, written and read again, are the same plans, in metric and in US units.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include <epicotyl/plan/plan_bytes.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "plan_maker.hpp"

using namespace epicotyl;
using epicotyl::tests::plan_maker;

TEST_CASE("a plan written and read again is the same plan") {
    int in_us_units = 0;
    for (unsigned seed = 1; seed <= 300; ++seed) {
        CAPTURE(seed);
        plan const p{plan_maker{seed}.make()};
        in_us_units += p.parts().units == unit_system::us ? 1 : 0;
        std::string const written = to_toml(p);
        CAPTURE(written);
        REQUIRE(parse_plan(written) == p);
        REQUIRE(plan_from_bytes(to_bytes(p)) == p);
        plan_tree const tree = to_tree(p);
        REQUIRE(plan_from_tree(tree) == p);
        REQUIRE(parse_toml(written) == tree);
    }
    CHECK(in_us_units > 100);
}

TEST_CASE("a metric plan keeps its numbers, one in US units moves none by more than rounding") {
    for (unsigned seed = 1; seed <= 100; ++seed) {
        CAPTURE(seed);
        plan_parts const parts = plan_maker{seed}.make();
        plan const p{parts};
        if (parts.units == unit_system::metric) {
            REQUIRE(p.parts() == parts);
            continue;
        }
        // Made again of its own parts, nothing moves.
        REQUIRE(plan{p.parts()} == p);
        for (std::size_t i = 0; i < parts.crops.size(); ++i) {
            REQUIRE(p.parts().crops[i].limit_tender->celsius() ==
                    Approx(parts.crops[i].limit_tender->celsius()).margin(1e-13).epsilon(1e-15));
        }
        for (std::size_t i = 0; i < parts.places.size(); ++i) {
            REQUIRE(p.parts().places[i].bed.value_or(0.0) ==
                    Approx(parts.places[i].bed.value_or(0.0)).margin(1e-12).epsilon(1e-15));
            REQUIRE(p.parts().places[i].area.value_or(0.0) ==
                    Approx(parts.places[i].area.value_or(0.0)).margin(1e-12).epsilon(1e-15));
        }
    }
}

TEST_CASE("whatever a grower writes in US units is written back as it was") {
    std::mt19937 random{7};
    for (int i = 0; i < 2000; ++i) {
        // Tenths of a degree Fahrenheit, and hundredths now and then.
        int const tenths = std::uniform_int_distribution<int>{-400, 1200}(random);
        double const parts = i % 4 == 0 ? 100.0 : 10.0;
        double const written = tenths / parts;
        // An area is more than nothing.
        double const area = (std::abs(tenths) + 1) / parts;
        plan_tree tree = plan_tree::table();
        tree.set("format", plan_tree{1});
        tree.set("units", plan_tree{"us"});
        tree.set("year", plan_tree{2027});
        tree.set("site", plan_tree::table()
                             .set("latitude", plan_tree{45.0})
                             .set("frost", plan_tree::table().set("at", plan_tree{written})));
        tree.set("places",
                 plan_tree::table().set(
                     "house", plan_tree::table()
                                  .set("for", plan_tree::list({plan_tree{"grow"}}))
                                  .set("warmer_day", plan_tree{std::clamp(written, -100.0, 100.0)})
                                  .set("bed", plan_tree{std::abs(written)})
                                  .set("area", plan_tree{area})));
        plan_tree const again = to_tree(plan_from_tree(tree));
        CAPTURE(written);
        REQUIRE(again.find_path("site.frost.at")->as_number() == written);
        REQUIRE(again.find_path("places.house.bed")->as_number() == std::abs(written));
        REQUIRE(again.find_path("places.house.area")->as_number() == area);
        if (std::clamp(written, -100.0, 100.0) != 0.0) {
            REQUIRE(again.find_path("places.house.warmer_day")->as_number() ==
                    std::clamp(written, -100.0, 100.0));
        }
    }
}
