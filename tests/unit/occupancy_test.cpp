// What stands where on which day, and what is too much.
#include "catch.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/open_season.hpp>
#include <epicotyl/space/occupancy.hpp>

using namespace epicotyl;

namespace {

std::string const head =
    "format = 1\nunits = \"metric\"\ntitle = \"Tunnel\"\ndefaults = { risk = false }\n"
    "[site]\nlatitude = 51.9\nseason_start = 2027-01-01\nseason_days = 300\nnormal_years = 12\n"
    "monthly_low = [5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5]\n"
    "monthly_high = [9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9]\n"
    "[containers]\nplug = { cells = 100 }\npot = { cells = 20 }\n";

calendar planned(std::string const& rest) {
    plan const made = parse_plan(head + rest, "");
    calendar const found = schedule(made, climate_from_normals(made));
    found.require();
    return found;
}

std::size_t offset(int month, int day) {
    return static_cast<std::size_t>((make_day(2027, month, day) - make_day(2027, 1, 1)).count());
}

/// Ten days as seeds on the mat, thirty in plugs and twenty in pots on the bench, then a bed.
std::string const stock =
    "[crops.stock]\nstages = [\n"
    "  { begins = \"sow\", where = \"mat\", container = \"plug\", takes = { days = 10 },"
    " survives = 0.8 },\n"
    "  { begins = \"emerge\", where = \"bench\", container = \"plug\", takes = { days = 30 } },\n"
    "  { begins = \"pot_on\", where = \"bench\", container = \"pot\", takes = { days = 20 } },\n"
    "  { begins = \"transplant\", where = \"beds\", spacing = { rows = 4, in_row = 20.0 },"
    " takes = { days = 40 } } ]\n";

std::string stock_batch(std::string const& name, std::string const& day) {
    return "[[succession]]\nname = \"" + name +
           "\"\ncrop = \"stock\"\nplants = 160\n"
           "target = { event = \"transplant\", on = " +
           day + " }\n";
}

std::string const places =
    "[places]\nmat = { for = [\"germinate\"], trays = 4 }\n"
    "bench = { for = [\"grow\"], trays = 9 }\nbeds = { for = [\"field\"], bed = 10 }\n";

}  // namespace

TEST_CASE("trays jump on the day of potting on, and a place is left on the day of the next event") {
    // 160 plants from 200 seeds: 2 trays of 100, 2 of plugs, 8 of pots, 160 * 20 / 400 = 8 m.
    occupancy const filled{planned(places + stock + stock_batch("one", "2027-05-01"))};
    std::vector<double> const mat = filled.space("mat", room_kind::trays);
    std::vector<double> const bench = filled.space("bench", room_kind::trays);
    std::vector<double> const beds = filled.space("beds", room_kind::bed);
    REQUIRE(bench.size() == 300);
    // Sown 60 days before 1 May: 2 March. Up on 12 March, potted on on 11 April.
    CHECK(mat[offset(3, 1)] == 0);
    CHECK(mat[offset(3, 2)] == 2);
    CHECK(mat[offset(3, 11)] == 2);
    CHECK(mat[offset(3, 12)] == 0);
    CHECK(bench[offset(3, 11)] == 0);
    CHECK(bench[offset(3, 12)] == 2);
    CHECK(bench[offset(4, 10)] == 2);
    CHECK(bench[offset(4, 11)] == 8);
    CHECK(bench[offset(4, 30)] == 8);
    CHECK(bench[offset(5, 1)] == 0);
    CHECK(beds[offset(5, 1)] == Approx(8.0).epsilon(1e-9));
    CHECK(beds[offset(6, 10)] == 0);
    CHECK(filled.overflows().empty());
    CHECK(filled.years().empty());
}

TEST_CASE("where two batches overlap there is too much, from the first day to the worst") {
    // The second is potted on on 16 April and stands with the first until 1 May: 16 trays for 9.
    occupancy const filled{planned(places + stock + stock_batch("one", "2027-05-01") +
                                   stock_batch("two", "2027-05-06"))};
    std::vector<overflow> const found = filled.overflows();
    REQUIRE(found.size() == 2);
    overflow const& bench = found[0];
    CHECK(bench.place == "bench");
    CHECK(bench.what == overflow_of::room);
    CHECK(bench.room == 9);
    CHECK(bench.most == 16);
    CHECK(bench.first == make_day(2027, 4, 11));  // 8 and the 2 of plugs
    CHECK(bench.worst == make_day(2027, 4, 16));
    CHECK(bench.days_over == 20);
    REQUIRE(bench.there.size() == 2);
    CHECK(bench.there[0].succession == "one");
    CHECK(bench.there[0].from == make_day(2027, 4, 11));
    CHECK(bench.there[1].event == "pot_on");
    CHECK(bench.last_in == std::vector<std::string>{"two"});
    CHECK(bench.sentence ==
          "bench: 16 trays on 16 Apr, room for 9; too much on 20 days, first on 11 Apr; latest "
          "arrivals: two");
    // 16 m from 6 May to 9 June, 10 m have room.
    CHECK(found[1].place == "beds");
    CHECK(found[1].kind == room_kind::bed);
    CHECK(found[1].days_over == 35);
}

TEST_CASE("a prospect has a row for each season year, and counts the years with too much") {
    calendar const of = planned(places + stock + stock_batch("one", "2027-05-01") +
                                stock_batch("two", "2027-05-06"));
    occupancy const filled{simulate(of, of.climate())};
    CHECK(filled.years().size() == 12);
    CHECK(filled.rows() == 12);
    CHECK(filled.space("bench", room_kind::trays).size() == 12 * 300);
    overflow const bench = filled.overflows().front();
    // Every wait is in days: all years are alike.
    CHECK(bench.years == 12);
    CHECK(bench.years_over == 12);
    CHECK(bench.worst_year == filled.years().front());
    CHECK(filled.quantile("bench", room_kind::trays, quantile_level{0.5})[offset(4, 16)] == 16);
    CHECK(
        filled.there("bench", room_kind::trays, make_day(2027, 4, 16), filled.years()[3]).size() ==
        2);
    CHECK_THROWS_AS(filled.there("bench", room_kind::trays, make_day(2027, 4, 16)), invalid_input);
    CHECK_THROWS_AS(filled.there("bench", room_kind::trays, make_day(2028, 4, 16), 1),
                    invalid_input);
    CHECK_THROWS_AS(filled.space("barn", room_kind::trays), invalid_input);
}

TEST_CASE("a tunnel divided by a sheet is a whole until that day and two parts from it on") {
    // The sheet is hung on 1 April: what stands in the tunnel goes into its heated or cold half.
    occupancy const filled{planned(
        "[places]\nmat = { for = [\"germinate\"] }\n"
        "tunnel = { for = [\"grow\"], trays = 12, open = [2027-01-01, 2027-03-31] }\n"
        "\"warm half\" = { for = [\"grow\"], trays = 6, heat_to = 10.0, part_of = \"tunnel\","
        " open = [2027-04-01, 2027-05-31] }\n"
        "\"cold half\" = { for = [\"harden\"], trays = 6, part_of = \"tunnel\","
        " open = [2027-04-01, 2027-05-31] }\n"
        "beds = { for = [\"field\"] }\n"
        "[crops.tender]\nstages = [\n"
        "  { begins = \"sow\", where = \"mat\", container = \"plug\", takes = { days = 10 } },\n"
        "  { begins = \"emerge\", where = \"tunnel\", container = \"plug\", takes = { days = 20 } "
        "},\n"
        "  { begins = \"pot_on\", where = \"warm half\", container = \"pot\", takes = { days = 20 "
        "} "
        "},\n"
        "  { begins = \"transplant\", where = \"beds\", takes = { days = 40 } } ]\n"
        "[crops.hardy]\nstages = [\n"
        "  { begins = \"sow\", where = \"mat\", container = \"plug\", takes = { days = 10 } },\n"
        "  { begins = \"emerge\", where = \"tunnel\", container = \"plug\", takes = { days = 25 } "
        "},\n"
        "  { begins = \"harden_off\", where = \"cold half\", container = \"plug\", takes = { days "
        "= "
        "10 } },\n"
        "  { begins = \"transplant\", where = \"beds\", takes = { days = 40 } } ]\n"
        "[[succession]]\nname = \"tender\"\ncrop = \"tender\"\nplants = 100\n"
        "target = { event = \"transplant\", on = 2027-04-21 }\n"
        "[[succession]]\nname = \"hardy\"\ncrop = \"hardy\"\nplants = 300\n"
        "target = { event = \"transplant\", on = 2027-04-11 }\n")};
    std::vector<double> const whole = filled.space("tunnel", room_kind::trays);
    std::vector<double> const warm = filled.space("warm half", room_kind::trays);
    std::vector<double> const cold = filled.space("cold half", room_kind::trays);
    // Up on 12 March (20 days before the sheet) and on 7 March (25 days before).
    CHECK(whole[offset(3, 6)] == 0);
    CHECK(whole[offset(3, 7)] == 3);
    CHECK(whole[offset(3, 12)] == 4);
    CHECK(whole[offset(3, 31)] == 4);
    CHECK(warm[offset(3, 31)] == 0);
    // 100 plants are 5 trays of pots, 300 hardy ones 3 trays; both halves fill the whole.
    CHECK(warm[offset(4, 1)] == 5);
    CHECK(cold[offset(4, 1)] == 3);
    CHECK(whole[offset(4, 1)] == 8);
    CHECK(whole[offset(4, 11)] == 5);
    // What stands in the halves is not in the tunnel after it closed.
    CHECK(filled.overflows().empty());
}

TEST_CASE("what stays after a place has closed is reported, and moves in wait for its opening") {
    occupancy const filled{planned(
        "[places]\nmat = { for = [\"germinate\"] }\n"
        "frame = { for = [\"grow\"], trays = 6, open = [2027-03-15, 2027-04-10] }\n"
        "beds = { for = [\"field\"] }\n"
        "[crops.stock]\nstages = [\n"
        "  { begins = \"sow\", where = \"mat\", container = \"plug\", takes = { days = 10 } },\n"
        "  { begins = \"prick_out\", where = \"frame\", container = \"plug\", takes = { days = 30 "
        "} "
        "},\n"
        "  { begins = \"transplant\", where = \"beds\", takes = { days = 40 } } ]\n"
        "[[succession]]\ncrop = \"stock\"\nplants = 100\n"
        "target = { event = \"transplant\", on = 2027-04-20 }\n")};
    CHECK(filled.space("frame", room_kind::trays)[offset(3, 20)] == 0);
    std::vector<overflow> const found = filled.overflows();
    REQUIRE(found.size() == 1);
    CHECK(found[0].what == overflow_of::closed);
    CHECK(found[0].first == make_day(2027, 4, 11));
    CHECK(found[0].days_over == 9);
    CHECK(found[0].sentence ==
          "frame: 1 tray on 11 Apr, when it is closed; too much on 9 days, first on 11 Apr; "
          "latest arrivals: stock");
}

TEST_CASE("more trays than the lamps light are too much while they are lit") {
    occupancy const filled{
        planned("[places]\nmat = { for = [\"germinate\"] }\n"
                "bench = { for = [\"grow\"], trays = 20, lamps = { hours = 14.0, from = 2027-01-05,"
                " until = 2027-04-20, trays = 5 } }\nbeds = { for = [\"field\"] }\n" +
                stock + stock_batch("one", "2027-05-01"))};
    std::vector<overflow> const found = filled.overflows();
    REQUIRE(found.size() == 1);
    // 8 trays of pots from 11 April; the last lit day is 20 April.
    CHECK(found[0].what == overflow_of::lit);
    CHECK(found[0].room == 5);
    CHECK(found[0].most == 8);
    CHECK(found[0].days_over == 10);
}

TEST_CASE("trays and metres of bed in one place do not take each other's room") {
    occupancy const filled{
        planned("[places]\nmat = { for = [\"germinate\"] }\n"
                "bench = { for = [\"grow\", \"field\"], trays = 9, bed = 9 }\n" +
                std::string{stock}.replace(stock.find("\"beds\""), 6, "\"bench\"") +
                stock_batch("one", "2027-05-01") + stock_batch("two", "2027-06-20"))};
    CHECK(filled.space("bench", room_kind::trays)[offset(6, 5)] == 8);
    CHECK(filled.space("bench", room_kind::bed)[offset(6, 5)] == Approx(8.0).epsilon(1e-9));
    std::vector<overflow> const found = filled.overflows();
    CHECK(std::none_of(found.begin(), found.end(),
                       [](overflow const& one) { return one.kind == room_kind::trays; }));
}

namespace {

/// A plug takes 0.15 m², a tray of pots 0.25.
calendar planned_with_areas(std::string const& rest) {
    std::string text = head + rest;
    for (auto const& [was, is] : {std::pair{"cells = 100", "cells = 100, area = 0.15"},
                                  std::pair{"cells = 20", "cells = 20, area = 0.25"}}) {
        text.replace(text.find(was), std::string_view{was}.size(), is);
    }
    plan const made = parse_plan(text, "");
    calendar const found = schedule(made, climate_from_normals(made));
    found.require();
    return found;
}

std::string const area_places =
    "[places]\nmat = { for = [\"germinate\"] }\n"
    "bench = { for = [\"grow\"], area = 2.2 }\nbeds = { for = [\"field\"], area = 50 }\n";

}  // namespace

TEST_CASE("square metres are those of whole containers, and what is too much is told in them") {
    calendar const of = planned_with_areas(area_places + stock + stock_batch("one", "2027-05-01") +
                                           stock_batch("two", "2027-05-06"));
    occupancy const filled{of};
    std::vector<double> const bench = filled.space("bench", room_kind::area);
    // 2 plugs from 12 March, 8 trays of pots from 11 April; the other batch five days later.
    CHECK(bench[offset(3, 11)] == 0);
    CHECK(bench[offset(3, 12)] == Approx(0.3).margin(1e-8));
    CHECK(bench[offset(3, 17)] == Approx(0.6).margin(1e-8));
    CHECK(bench[offset(4, 11)] == Approx(2.3).margin(1e-8));
    CHECK(bench[offset(4, 16)] == Approx(4.0).margin(1e-8));
    CHECK(bench[offset(5, 1)] == Approx(2.0).margin(1e-8));
    CHECK(bench[offset(5, 6)] == 0);
    // The mat counts no area, but what stands there has one; what stands in a bed has none.
    CHECK(filled.space("mat", room_kind::area)[offset(3, 2)] == Approx(0.3).margin(1e-8));
    CHECK(filled.room("mat", room_kind::area) == std::nullopt);
    CHECK(filled.room("bench", room_kind::area) == 2.2);
    CHECK(filled.room("bench", room_kind::trays) == std::nullopt);
    CHECK(filled.space("beds", room_kind::area)[offset(5, 20)] == 0);
    CHECK(filled.space("bench", room_kind::trays)[offset(4, 16)] == 16);
    std::vector<overflow> const found = filled.overflows();
    REQUIRE(found.size() == 1);
    CHECK(found[0].kind == room_kind::area);
    CHECK(found[0].room == 2.2);
    CHECK(found[0].days_over == 20);
    REQUIRE(found[0].there.size() == 2);
    CHECK(found[0].there[1].amount == Approx(2.0).margin(1e-8));
    CHECK(found[0].last_in == std::vector<std::string>{"two"});
    CHECK(found[0].sentence ==
          "bench: 4 m² on 16 Apr, room for 2.2 m²; too much on 20 days, first on 11 Apr; latest "
          "arrivals: two");
    CHECK(to_string(filled).find("\nbench: at most 4 m² on 16 Apr; room for 2.2 m²\n"
                                 "beds: empty; room for 50 m²\n") != std::string::npos);
    occupancy const by_year{simulate(of, of.climate())};
    CHECK(by_year.quantile("bench", room_kind::area, quantile_level{0.5})[offset(4, 16)] ==
          Approx(4.0).margin(1e-8));
    CHECK(by_year.overflows().front().years_over == 12);
}

TEST_CASE("the area of what stands in parts fills the whole") {
    occupancy const filled{planned_with_areas(
        "[places]\nhouse = { for = [\"store\"], area = 2.25 }\n"
        "mat = { for = [\"germinate\"], part_of = \"house\" }\n"
        "bench = { for = [\"grow\"], area = 2.5, part_of = \"house\" }\n"
        "beds = { for = [\"field\"] }\n" +
        stock + stock_batch("one", "2027-05-01") + stock_batch("two", "2027-06-10"))};
    // The second is sown on 11 April, the day on which the first is potted on: 0.3 and 2 m². Up on
    // 21 April, it stands beside the first until 1 May.
    CHECK(filled.space("mat", room_kind::area)[offset(4, 11)] == Approx(0.3).margin(1e-8));
    CHECK(filled.space("bench", room_kind::area)[offset(4, 11)] == Approx(2.0).margin(1e-8));
    CHECK(filled.space("house", room_kind::area)[offset(4, 11)] == Approx(2.3).margin(1e-8));
    CHECK(filled.space("bench", room_kind::area)[offset(4, 21)] == Approx(2.3).margin(1e-8));
    std::vector<overflow> const found = filled.overflows();
    REQUIRE(found.size() == 1);
    CHECK(found[0].sentence ==
          "house: 2.3 m² on 11 Apr, room for 2.25 m²; too much on 20 days, first on 11 Apr; "
          "latest arrivals: two");
}

TEST_CASE("what stands in a closed place is told once, in what the place is counted by") {
    auto const found_with = [](std::string const& room) {
        return occupancy{
            planned_with_areas(
                "[places]\nmat = { for = [\"germinate\"] }\nbeds = { for = [\"field\"] }\n"
                "frame = { for = [\"grow\"], open = [2027-03-15, 2027-04-10], " +
                room +
                " }\n[crops.stock]\nstages = [\n"
                "  { begins = \"sow\", where = \"mat\", container = \"plug\","
                " takes = { days = 10 } },\n"
                "  { begins = \"prick_out\", where = \"frame\", container = \"plug\","
                " takes = { days = 30 } },\n"
                "  { begins = \"transplant\", where = \"beds\", takes = { days = 40 } } ]\n"
                "[[succession]]\ncrop = \"stock\"\nplants = 100\n"
                "target = { event = \"transplant\", on = 2027-04-20 }\n")}
            .overflows();
    };
    std::vector<overflow> const by_area = found_with("area = 1");
    REQUIRE(by_area.size() == 1);
    CHECK(by_area[0].what == overflow_of::closed);
    CHECK(by_area[0].sentence ==
          "frame: 0.15 m² on 11 Apr, when it is closed; too much on 9 days, first on 11 Apr; "
          "latest arrivals: stock");
    std::vector<overflow> const by_trays = found_with("area = 1, trays = 6");
    REQUIRE(by_trays.size() == 1);
    CHECK(by_trays[0].kind == room_kind::trays);
}

TEST_CASE("in US units areas are told in square feet, and a few pots are not nothing") {
    plan const made = parse_plan(
        "format = 1\nunits = \"us\"\ndefaults = { risk = false }\n"
        "[site]\nlatitude = 51.9\nseason_start = 2027-01-01\nseason_days = 300\n"
        "normal_years = 12\nmonthly_low = [41, 41, 41, 41, 41, 41, 41, 41, 41, 41, 41, 41]\n"
        "monthly_high = [48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48, 48]\n"
        "[containers]\nplug = { cells = 100, area = 0.0625 }\npot = { cells = 20, area = 2.5 }\n"
        "[places]\nmat = { for = [\"germinate\"], area = 1.44 }\n"
        "bench = { for = [\"grow\"], area = 22 }\nbeds = { for = [\"field\"] }\n" +
            stock + stock_batch("one", "2027-05-01") + stock_batch("two", "2027-05-06"),
        "");
    calendar const of = schedule(made, climate_from_normals(made));
    of.require();
    occupancy const filled{of};
    // 16 trays of pots are 40 ft² = 40 * 0.09290304 m².
    CHECK(filled.space("bench", room_kind::area)[offset(4, 16)] == Approx(3.7161216).margin(1e-7));
    std::vector<overflow> const found = filled.overflows();
    REQUIRE(found.size() == 1);
    CHECK(found[0].sentence.starts_with("bench: 40 ft² on Apr 16, room for 22 ft²"));
    // Both batches are on the mat from 7 to 11 March: 4 plugs are 0.25 ft².
    CHECK(to_string(filled).find("\nmat: at most 0.25 ft² on Mar 7; room for 1.4 ft²\n") !=
          std::string::npos);
}
