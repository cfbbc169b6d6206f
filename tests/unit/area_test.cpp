// Square metres of bench: read, written, refused, and what containers take of them.
#include "catch.hpp"

#include <limits>
#include <string>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/plan_file.hpp>

using namespace epicotyl;

namespace {

/// One crop in plugs on the mat, in pots on the bench, then in a bed; the bench is in the house.
std::string farm(std::string const& units = "metric") {
    return "format = 1\nunits = \"" + units +
           "\"\nyear = 2027\n[site]\nlatitude = 51.9\n[places]\n"
           "house = { for = [\"store\"] }\n"
           "mat = { for = [\"germinate\"], area = 2.5 }\n"
           "bench = { for = [\"grow\"], trays = 40, area = 10, part_of = \"house\" }\n"
           "beds = { for = [\"field\"], bed = 30 }\n"
           "[containers]\nplug = { cells = 100, medium = 1.6, area = 0.15 }\n"
           "pot = { cells = 1, area = 0.0225 }\nbare = { cells = 1 }\n"
           "[crops.stock]\nstages = [\n"
           "  { begins = \"sow\", where = \"germinate\", container = \"plug\", survives = 0.8,"
           " takes = { days = 10 } },\n"
           "  { begins = \"pot_on\", where = \"grow\", container = \"pot\","
           " takes = { days = 20 } },\n"
           "  { begins = \"transplant\", where = \"field\", spacing = { rows = 4, in_row = 20 },"
           " takes = { days = 40 } },\n]\n"
           "[[succession]]\nname = \"stock 1\"\ncrop = \"stock\"\nplants = 180\n"
           "target = { event = \"transplant\", on = 2027-05-20 }\n";
}

std::string with(std::string text, std::string const& was, std::string const& is) {
    std::size_t const at = text.find(was);
    REQUIRE(at != std::string::npos);
    return text.replace(at, was.size(), is);
}

std::string refusal(std::string const& text) {
    try {
        (void)parse_plan(text, "farm.toml");
    } catch (invalid_input const& fault) {
        CHECK_FALSE(fault.details().remedy.empty());
        return fault.what();
    }
    return "accepted";
}

}  // namespace

TEST_CASE("areas are read in square metres and written as they were read") {
    plan const made = parse_plan(farm());
    CHECK(made.places()[1].area == 2.5);
    CHECK(made.places()[2].area == 10.0);
    CHECK_FALSE(made.places()[3].area);
    CHECK(made.parts().containers[0].area == 0.15);
    CHECK(made.parts().containers[1].area == 0.0225);
    CHECK_FALSE(made.parts().containers[2].area);
    std::string const written = to_toml(made);
    CAPTURE(written);
    CHECK(written.find("area = 0.0225") != std::string::npos);
    CHECK(parse_plan(written) == made);
    CHECK(plan_from_tree(to_tree(made)) == made);
}

TEST_CASE("areas of a plan in US units are square feet") {
    plan const made = parse_plan(farm("us"));
    // 1 ft² = 0.3048² m² = 0.09290304 m², by definition.
    CHECK(*made.places()[2].area == Approx(0.9290304).epsilon(1e-12));
    CHECK(*made.parts().containers[0].area == Approx(0.15 * 0.09290304).epsilon(1e-12));
    plan_tree const tree = to_tree(made);
    CHECK(tree.find_path("places.mat.area")->as_number() == 2.5);
    CHECK(tree.find_path("places.bench.area")->as_number() == 10.0);
    CHECK(tree.find_path("containers.pot.area")->as_number() == 0.0225);
    CHECK(parse_plan(to_toml(made)) == made);
}

TEST_CASE("an area is more than nothing, in the units of the plan") {
    CHECK(refusal(with(farm(), "area = 10", "area = 0")) ==
          "farm.toml:9: places.bench.area: 0 is not above 0 (allowed: more than 0 m²); give the "
          "bench or floor for trays and pots, or leave it out");
    CHECK(refusal(with(farm("us"), "area = 10", "area = -1")) ==
          "farm.toml:9: places.bench.area: -1 is not above 0 (allowed: more than 0 square feet); "
          "give the bench or floor for trays and pots, or leave it out");
    CHECK(refusal(with(farm(), "area = 0.15", "area = -0.15")) ==
          "farm.toml:12: containers.plug.area: -0.15 is not above 0 (allowed: more than 0 m²); "
          "give what one takes on the bench");
    CHECK(refusal(with(farm(), "area = 0.15", "area = inf")) ==
          "farm.toml:12: containers.plug.area: inf is not a number that can be used; give a finite "
          "number of m²");
    // Made in code, a plan is checked alike.
    plan_parts parts = parse_plan(farm()).parts();
    parts.containers[0].area = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(plan{parts}, invalid_input);
}

TEST_CASE("where area is counted every container has to have one") {
    CHECK(refusal(with(farm(), "pot = { cells = 1, area = 0.0225 }", "pot = { cells = 1 }")) ==
          "farm.toml:13: containers.pot: it has no area, and the stage \"pot_on\" of \"stock 1\" "
          "stands in it in \"bench\", where room is counted in m²; give it the area of one, or "
          "leave out that of \"bench\"");
    // The whole counts as well, though the part does not.
    std::string const part = with(farm("us"), "trays = 40, area = 10, ", "");
    std::string const whole = with(part, "[\"store\"]", "[\"store\"], area = 30");
    CHECK(refusal(whole) == "accepted");
    CHECK(refusal(with(whole, "pot = { cells = 1, area = 0.0225 }", "pot = { cells = 1 }")) ==
          "farm.toml:13: containers.pot: it has no area, and the stage \"pot_on\" of \"stock 1\" "
          "stands in it in \"bench\", a part of \"house\", where room is counted in square feet; "
          "give it the area of one, or leave out that of \"house\"");
    // A succession's own change is looked at; a place that counts no area asks for none.
    std::string const changed = farm() + "stage = { pot_on = { container = \"bare\" } }\n";
    CHECK(refusal(changed).find("containers.bare: it has no area") != std::string::npos);
    CHECK(refusal(with(changed, "trays = 40, area = 10, ", "")) == "accepted");
    // A crop that nobody grows stands nowhere.
    std::string const no_batch = farm().substr(0, farm().find("[[succession]]"));
    CHECK(refusal(with(no_batch, "pot = { cells = 1, area = 0.0225 }", "pot = { cells = 1 }")) ==
          "accepted");
}

TEST_CASE("an edit gives a place another area, and none where containers have none") {
    plan const made = parse_plan(farm());
    plan_tree const three = plan_tree::table().set("area", plan_tree{3.5});
    CHECK(with_place_keys(made, "bench", three).places()[2].area == 3.5);
    CHECK_FALSE(with_place_keys(made, "bench", plan_tree::table(), {"area"}).places()[2].area);
    plan const bare = parse_plan(with(with(farm(), "trays = 40, area = 10, ", ""),
                                      "pot = { cells = 1, area = 0.0225 }", "pot = { cells = 1 }"));
    CHECK_THROWS_AS(with_place_keys(bare, "bench", three), invalid_input);
    CHECK_THROWS_AS(with_place_keys(bare, "house", three), invalid_input);
    CHECK(with_place_keys(bare, "mat", three).places()[1].area == 3.5);
}

TEST_CASE("a stage takes whole containers times the area of one, in a bed it takes none") {
    plan const made = parse_plan(farm());
    // 180 plants of 225 seeds: 3 plugs of 100 cells, 180 pots.
    CHECK(*area_filled(made, 0, 0) == Approx(3 * 0.15).epsilon(1e-12));
    CHECK(*area_filled(made, 0, 1) == Approx(180 * 0.0225).epsilon(1e-12));
    CHECK(area_filled(made, 0, 2) == std::nullopt);
    plan const bare = parse_plan(with(farm() + "stage = { pot_on = { container = \"bare\" } }\n",
                                      "trays = 40, area = 10, ", ""));
    CHECK(trays_filled(bare, 0, 1) == 180.0);
    CHECK(area_filled(bare, 0, 1) == std::nullopt);
    CHECK_THROWS_AS(area_filled(made, 0, 3), invalid_input);
}
