// How many plants are alive at each stage of a succession, and what they fill.
#include "catch.hpp"

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/plan/plan_file.hpp>

using namespace epicotyl;

namespace {

/// One crop that is sown in trays of 104, stands in blocks of 20 and goes into a bed.
std::string farm(std::string const& successions, std::string const& units = "metric") {
    std::string const in_row = units == "us" ? "9.0" : "23.0";
    return "format = 1\nunits = \"" + units +
           "\"\n[site]\nlatitude = 51.9\nseason_start = 2027-01-01\n"
           "monthly_low = [5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5]\n"
           "monthly_high = [9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9]\n"
           "[places]\nbench = { for = [\"germinate\", \"grow\"] }\nbeds = { for = [\"field\"] }\n"
           "[containers]\n\"plug 104\" = { cells = 104 }\n\"block 20\" = { cells = 20 }\n"
           "[crops.stock]\nlimit_tender = -2\nlimit_hardened = -2\nstages = [\n"
           "  { begins = \"sow\", where = \"germinate\", container = \"plug 104\","
           " takes = { days = 10 }, survives = 0.80 },\n"
           "  { begins = \"emerge\", where = \"grow\", container = \"plug 104\","
           " takes = { days = 20 }, survives = 0.95 },\n"
           "  { begins = \"pot_on\", where = \"grow\", container = \"block 20\","
           " takes = { days = 20 } },\n"
           "  { begins = \"transplant\", where = \"field\", spacing = { rows = 4, in_row = " +
           in_row +
           " }, takes = { days = 40 }, survives = 0.5 },\n"
           "  { begins = \"first_harvest\", where = \"field\", takes = { days = 30 } },\n]\n" +
           successions;
}

plan one(std::string const& amount, std::string const& event, std::string const& units = "metric") {
    std::string const rule = event == "first_harvest" ? "by" : "on";
    return parse_plan(
        farm("[[succession]]\ncrop = \"stock\"\n" + amount + "\ntarget = { event = \"" + event +
                 "\", " + rule + " = 2027-05-20 }\n",
             units),
        "");
}

void check_counts(plan const& of, std::vector<double> const& expected) {
    std::vector<double> const alive = alive_counts(of, 0);
    REQUIRE(alive.size() == expected.size());
    for (std::size_t i = 0; i < alive.size(); ++i) {
        CHECK(alive[i] == Approx(expected[i]).epsilon(1e-12));
        CHECK(alive_at(of, 0, static_cast<int>(i)) == alive[i]);
    }
}

}  // namespace

TEST_CASE("plants are alive at the target, more before it and fewer after") {
    // 380 / 0.95 = 400, 400 / 0.8 = 500; half of 380 is 190.
    check_counts(one("plants = 380", "transplant"), {500, 400, 380, 380, 190, 190});
    check_counts(one("plants = 190", "first_harvest"), {500, 400, 380, 380, 190, 190});
}

TEST_CASE("plants are sown where the sowing is the target") {
    check_counts(one("plants = 500", "sow"), {500, 400, 380, 380, 190, 190});
}

TEST_CASE("trays are those of the first stage with every cell sown") {
    // 5 trays of 104 cells are 520.
    check_counts(one("trays = 5", "transplant"), {520, 416, 395.2, 395.2, 197.6, 197.6});
    check_counts(one("trays = 0.5", "transplant"), {52, 41.6, 39.52, 39.52, 19.76, 19.76});
}

TEST_CASE("bed is that of the first stage with a spacing") {
    // 4 rows, 23 cm: 400 / 23 plants a metre; 23 m hold 400.
    check_counts(one("bed = 23", "first_harvest"), {400 / 0.76, 400 / 0.95, 400, 400, 200, 200});
}

TEST_CASE("a stage fills whole trays of its own container") {
    plan const of = one("plants = 380", "transplant");
    CHECK(trays_filled(of, 0, 0) == 5.0);   // 500 / 104 = 4.81
    CHECK(trays_filled(of, 0, 1) == 4.0);   // 400 / 104 = 3.85
    CHECK(trays_filled(of, 0, 2) == 19.0);  // 380 / 20 exactly
    CHECK(trays_filled(of, 0, 3) == std::nullopt);
    CHECK(trays_filled(of, 0, 4) == std::nullopt);
    CHECK(container_of(of, 0, 2)->name == "block 20");
    CHECK(container_of(of, 0, 3) == nullptr);
}

TEST_CASE("a stage with a spacing fills metres of bed") {
    plan const of = one("plants = 380", "transplant");
    CHECK(bed_filled(of, 0, 2) == std::nullopt);
    CHECK(*bed_filled(of, 0, 3) == Approx(380.0 * 23.0 / 400.0).epsilon(1e-12));
    CHECK(bed_filled(of, 0, 4) == std::nullopt);
    // What is asked for in metres is filled in metres; in feet, too: 9 in are 22.86 cm.
    CHECK(*bed_filled(one("bed = 23", "first_harvest"), 0, 3) == Approx(23.0).epsilon(1e-12));
    CHECK(*bed_filled(one("bed = 100", "transplant", "us"), 0, 3) == Approx(30.48).epsilon(1e-12));
    CHECK(alive_at(one("bed = 100", "transplant", "us"), 0, 3) ==
          Approx(100.0 * 12.0 * 4.0 / 9.0).epsilon(1e-12));
}

TEST_CASE("a tray that lacks a billionth of a cell is full, one that is a plant over is another") {
    CHECK(containers_for(0.0, 104) == 0.0);
    CHECK(containers_for(1.0, 104) == 1.0);
    CHECK(containers_for(104.0, 104) == 1.0);
    CHECK(containers_for(104.0 * (1.0 + 0.9e-9), 104) == 1.0);
    CHECK(containers_for(105.0, 104) == 2.0);
    CHECK(containers_for(0.1 + 0.2 - 0.3, 1) == 0.0);  // 5.6e-17 of a plant
    CHECK(containers_for(208.0, 104) == 2.0);
}

TEST_CASE("what the plan does not have is refused with its bound") {
    plan const of = one("plants = 380", "transplant");
    auto const code_of = [](auto const& asked) {
        try {
            (void)asked();
        } catch (invalid_input const& refused) {
            CHECK_FALSE(refused.details().remedy.empty());
            CHECK_FALSE(refused.details().bound.empty());
            return refused.code() + " " + refused.details().field;
        }
        return std::string{"accepted"};
    };
    CHECK(code_of([&] { return alive_at(of, 1, 0); }) == "index.out_of_range succession");
    CHECK(code_of([&] { return alive_counts(of, -1); }) == "index.out_of_range succession");
    CHECK(code_of([&] { return alive_at(of, 0, 6); }) == "index.out_of_range event");
    CHECK(code_of([&] { return trays_filled(of, 0, 5); }) == "index.out_of_range stage");
    CHECK(code_of([&] { return bed_filled(of, 0, -1); }) == "index.out_of_range stage");
    CHECK(code_of([] { return containers_for(-1.0, 10); }) == "amount.negative alive");
    CHECK(code_of([] { return containers_for(std::nan(""), 10); }) == "amount.negative alive");
    CHECK(code_of([] { return containers_for(std::numeric_limits<double>::infinity(), 10); }) ==
          "amount.negative alive");
    CHECK(code_of([] { return containers_for(1.0, 0); }) == "container.cells cells");
}
