// What to move so that the room suffices.
#include "catch.hpp"

#include <string>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/open_season.hpp>
#include <epicotyl/space/fit/fit.hpp>

using namespace epicotyl;

namespace {

/// Ten days on the mat, thirty on a bench with room for five trays, ten in the frame. Each batch
/// stands in four trays of fifty cells; both are planted out on 20 May.
std::string two_batches_text(std::string const& second, std::string const& bench) {
    std::string const batch =
        "crop = \"stock\"\nplants = 200\n"
        "target = { event = \"transplant\", from = 2027-05-20 }\n";
    return "format = 1\nunits = \"metric\"\ntitle = \"Bench\"\ndefaults = { risk = false }\n"
           "[site]\nlatitude = 51.9\nseason_start = 2027-01-01\nseason_days = 300\n"
           "normal_years = 12\n"
           "monthly_low = [5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5]\n"
           "monthly_high = [9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9]\n"
           "[containers]\n\"cell 50\" = { cells = 50 }\n\"cell 100\" = { cells = 100 }\n"
           "\"cell 200\" = { cells = 200 }\n"
           "[places]\nmat = { for = [\"germinate\"] }\nbench = { for = [\"grow\"], trays = 5 }\n"
           "frame = { for = [\"harden\"] }\nbeds = { for = [\"field\"] }\n"
           "[crops.stock]\nlimit_tender = -30.0\nlimit_hardened = -30.0\nstages = [\n"
           "  { begins = \"sow\", where = \"mat\", container = \"cell 50\", takes = { days = 10 } "
           "},\n"
           "  { begins = \"prick_out\", where = " +
           bench +
           ", container = \"cell 50\", takes = { days = 30 } },\n"
           "  { begins = \"harden_off\", where = \"frame\", takes = { days = 10 } },\n"
           "  { begins = \"transplant\", where = \"beds\", takes = { days = 40 } } ]\n"
           "[[succession]]\nname = \"one\"\n" +
           batch + "[[succession]]\nname = \"two\"\n" + batch + second;
}

plan two_batches(std::string const& second = "", std::string const& bench = "\"bench\"") {
    return parse_plan(two_batches_text(second, bench), "");
}

/// The same with texts in it replaced by others.
plan two_batches_with(std::vector<std::pair<std::string, std::string>> const& changes,
                      std::string const& bench = "\"bench\"") {
    std::string text = two_batches_text("", bench);
    for (auto const& [was, is] : changes) {
        std::size_t const found = text.find(was);
        REQUIRE(found != std::string::npos);
        text.replace(found, was.size(), is);
    }
    return parse_plan(text, "");
}

space_fit fitted(plan const& of, fit_options const& options) {
    return fit_to_space(of, climate_from_normals(of), options);
}

}  // namespace

TEST_CASE("a batch goes into the denser of two containers where that is all there is") {
    // Both in trays of 100 cells are 2 and 2; one of them is enough: 4 and 2 are too many for 5.
    space_fit const fit = fitted(
        two_batches(),
        {.most_shift = 0, .places = false, .early = false, .splits = false, .leave_out = false});
    REQUIRE(fit.moves.size() == 2);
    CHECK(fit.moves[0].what == fit_move_kind::container);
    CHECK(fit.moves[0].to == "cell 100");
    CHECK(fit.cost == 16.0);
    CHECK(fit.bound == 16.0);
    CHECK(fit.fits());
    CHECK(fit.moves[0].sentence ==
          "one: cell 100 instead of cell 50 from sow, 2 trays instead of 4");
}

TEST_CASE("the last part of a stage is spent where it will harden") {
    // Three quarters of 30 days early leave 8 days of overlap; so both cannot be cured by that
    // alone, and another place is the answer.
    space_fit const fit = fitted(two_batches("", "[\"bench\", \"frame\"]"), {.containers = false});
    REQUIRE(fit.moves.size() == 1);
    CHECK(fit.moves[0].what == fit_move_kind::place);
    CHECK(fit.moves[0].to == "frame");
    CHECK(fit.moves[0].trays == 4.0);
    CHECK(fit.moves[0].sentence ==
          "4 trays of one stand in frame instead of bench from 10 Apr (prick out): safe from cold "
          "there in 12 of 12 years");
}

TEST_CASE("going out early and giving way together part two batches") {
    // Eight days on the bench instead of thirty, and a target 8 days later: 5 trays suffice.
    space_fit const fit =
        fitted(two_batches(), {.places = false, .containers = false, .leave_out = false});
    REQUIRE(fit.fits());
    bool early = false;
    for (fit_move const& one : fit.moves) {
        early = early || one.what == fit_move_kind::early;
        CHECK(one.cost > 0.0);
    }
    CHECK(early);
    CHECK(occupancy{fit.after}.overflows().empty());
}

TEST_CASE("a target on a day does not give way") {
    space_fit const fit =
        fitted(two_batches("not_after = { transplant = 2027-05-20 }\n"), {.places = false,
                                                                          .early = false,
                                                                          .containers = false,
                                                                          .splits = false,
                                                                          .leave_out = false});
    // The first may still be moved, by 14 days of the 30 on which both stand on the bench.
    CHECK_FALSE(fit.fits());
    CHECK(fit.moves.empty());
    REQUIRE(fit.short_of.size() == 2);
    CHECK(fit.short_of[0].shortage == 3.0);
    CHECK(fit.short_of[0].first == make_day(2027, 4, 10));
    CHECK(fit.short_of[0].last == make_day(2027, 5, 9));
    CHECK(fit.short_of[0].sentence ==
          "no room for one: 3 trays short in bench from 10 Apr to 9 May");
}

TEST_CASE("containers fit by their area where the bench has square metres") {
    // 4 trays of 50 cells are 0.8 m², 2 of 100 cells 0.4: of 1 m², both have to be the denser.
    space_fit const fit = fitted(
        two_batches_with({{"cells = 50", "cells = 50, area = 0.2"},
                          {"cells = 100", "cells = 100, area = 0.2"},
                          {"trays = 5", "area = 1.0"}}),
        {.most_shift = 0, .places = false, .early = false, .splits = false, .leave_out = false});
    REQUIRE(fit.moves.size() == 2);
    CHECK(fit.fits());
    CHECK(fit.cost == 16.0);
    CHECK(fit.moves[0].sentence ==
          "one: cell 100 instead of cell 50 from sow, 2 trays instead of 4, 0.4 m² instead of "
          "0.8 m²");
    CHECK(occupancy{fit.after}.overflows().empty());
    // A denser container that takes more of the bench is no cure.
    CHECK_FALSE(fitted(two_batches_with({{"cells = 50", "cells = 50, area = 0.2"},
                                         {"cells = 100", "cells = 100, area = 0.4"},
                                         {"trays = 5", "area = 1.0"}}),
                       {.most_shift = 0, .places = false, .early = false, .leave_out = false})
                    .fits());
}

TEST_CASE("a container without an area is not put where area is counted") {
    fit_options const only_containers{
        .most_shift = 0, .places = false, .early = false, .splits = false, .leave_out = false};
    space_fit const dense = fitted(
        two_batches_with({{"cells = 50", "cells = 50, area = 0.2"}, {"trays = 5", "area = 1.0"}}),
        only_containers);
    CHECK(dense.tried == 0);
    REQUIRE(dense.short_of.size() == 2);
    CHECK(dense.short_of[0].kind == room_kind::area);
    CHECK(dense.short_of[0].shortage == Approx(0.6).margin(1e-8));
    CHECK(dense.short_of[0].sentence ==
          "no room for one: 0.6 m² short in bench from 10 Apr to 9 May");
    // Neither another place nor out early: the frame counts area, the trays have none.
    fit_options const only_places{
        .most_shift = 0, .containers = false, .splits = false, .leave_out = false};
    std::string const both = "[\"bench\", \"frame\"]";
    std::string const frame = "frame = { for = [\"harden\"]";
    CHECK(fitted(two_batches_with({{frame, frame + ", area = 9"}}, both), only_places).tried == 0);
    CHECK(fitted(two_batches_with({{frame, frame + ", part_of = \"yard\""},
                                   {"[places]\n",
                                    "[places]\nyard = { for = [\"store\"], area = 9"
                                    " }\n"}},
                                  both),
                 only_places)
              .tried == 0);
    CHECK(
        fitted(two_batches_with(
                   {{frame, frame + ", area = 9"}, {"cells = 50", "cells = 50, area = 0.2"}}, both),
               only_places)
            .fits());
}

TEST_CASE("0.15 square metres that are left out cost as much as a tray") {
    // One batch takes 0.8 m² of 1: half of it leaves 1.2, so all of it is bought in.
    space_fit const fit = fitted(
        two_batches_with({{"cells = 50", "cells = 50, area = 0.2"}, {"trays = 5", "area = 1.0"}}),
        {.most_shift = 0, .places = false, .early = false, .containers = false});
    REQUIRE(fit.moves.size() == 1);
    CHECK(fit.moves[0].what == fit_move_kind::left_out);
    CHECK(fit.moves[0].trays == Approx(0.8 / 0.15).margin(1e-6));
    CHECK(fit.cost == Approx(60.0 + 10.0 * 0.8 / 0.15).margin(1e-6));
}

TEST_CASE("prices and limits out of range are refused") {
    CHECK_THROWS_AS(fitted(two_batches(), {.weights = {.place = -1.0}}), invalid_input);
    CHECK_THROWS_AS(fitted(two_batches(), {.most_shift = 61}), invalid_input);
    CHECK_THROWS_AS(fitted(two_batches(), {.seconds = -1.0}), invalid_input);
}
