// Sweeps against the same single calls, on one thread and on several.
#include "catch.hpp"
#include "plot_with_harvest.hpp"

#include <array>
#include <string>
#include <thread>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/edit.hpp>
#include <epicotyl/season/what_if/sweep.hpp>

namespace ep = epicotyl;

namespace {

ep::climate ten_years() {
    std::vector<plot::odd_year> years;
    for (int k = 0; k < 10; ++k) { years.push_back({.cold = 150 + 9 * k, .hot = 260 - 8 * k}); }
    return plot::weather(years);
}

std::vector<ep::sweep_axis> three_axes() {
    auto const later = [](int by) {
        return ep::changed_plan(fmt::format("{} days later", by), [by](ep::plan const& of) {
            return ep::with_target_moved(of, "bean 1", ep::days{by});
        });
    };
    std::array<ep::temperature_span, 12> july{};
    july[6] = ep::temperature_span::from_kelvin(20.0);
    return {{"target", {ep::as_it_is(), later(5), later(12)}},
            {"reliability",
             {ep::planned_for(ep::reliability{0.5}), ep::planned_for(ep::reliability{1.0})}},
            {"weather",
             {ep::as_it_is(), ep::warmer(ep::temperature_span::from_kelvin(-6.0)),
              ep::warmer("hot July", july)}}};
}

}  // namespace

TEST_CASE("Every cell of a sweep is what single calls give, on any number of threads") {
    ep::plan const of = ep::parse_plan(plot::text);
    ep::climate const under = ten_years();
    ep::sweep_result const found = ep::sweep(of, under, three_axes(), {.threads = 1});
    REQUIRE(found.is_complete());
    REQUIRE(found.rows.size() == 18);
    CHECK(ep::sweep(of, under, three_axes(), {.threads = 4}) == found);

    std::array<ep::temperature_span, 12> july{};
    july[6] = ep::temperature_span::from_kelvin(20.0);
    std::vector<ep::climate> const climates = {
        under, under.shifted(ep::temperature_span::from_kelvin(-6.0)), under.shifted(july)};
    std::size_t cell = 0;
    for (int const later : {0, 5, 12}) {
        ep::plan const moved = ep::with_target_moved(of, "bean 1", ep::days{later});
        for (double const share : {0.5, 1.0}) {
            for (ep::climate const& climate : climates) {
                ep::calendar const planned = ep::schedule(moved, climate, ep::reliability{share});
                ep::prospect const becomes = ep::simulate(planned, climate, 1);
                ep::sweep_row const& row = found.rows[cell++];
                REQUIRE(row.successions.size() == 3);
                CHECK(row.refused.empty());
                CHECK(row.years == 10);
                for (ep::swept_succession const& one : row.successions) {
                    CHECK(one.sowing == planned.date(one.name, "sow"));
                    CHECK(one.target == planned.date(one.name, "sow"));
                    CHECK(one.event == (one.name == "leek" ? "sow" : "first_harvest"));
                    CHECK(one.quantiles[2] ==
                          becomes.quantile(one.name, one.event, ep::quantile_level{0.9}));
                    CHECK(one.damaged == becomes.damage(one.name).damaged);
                    CHECK(one.damaged_cover_off == becomes.damage(one.name).damaged_cover_off);
                    CHECK(one.too_hot == becomes.too_hot(one.name).damaged);
                    CHECK(one.good == planned.claim(one.name)->good);
                }
            }
        }
    }
}

TEST_CASE("Cells stand in the order of the grid, whose last axis turns fastest") {
    ep::sweep_result const found =
        ep::sweep(ep::parse_plan(plot::text), ten_years(), three_axes(), {.threads = 3});
    CHECK(found.rows[0].choice == std::vector<int>{0, 0, 0});
    CHECK(found.rows[1].choice == std::vector<int>{0, 0, 1});
    CHECK(found.rows[5].choice == std::vector<int>{0, 1, 2});
    CHECK(found.rows[17].choice == std::vector<int>{2, 1, 2});
}

TEST_CASE("A combination that cannot be made is a row that says why, and the others go on") {
    auto const unheated =
        ep::changed_plan("off", [](ep::plan const& of) { return ep::without_heater(of, "beds"); });
    ep::sweep_result const found = ep::sweep(ep::parse_plan(plot::text), ten_years(),
                                             {{"heater", {unheated, ep::as_it_is()}}});
    REQUIRE(found.is_complete());
    CHECK(found.rows[0].refused.find("beds") != std::string::npos);
    CHECK(found.rows[0].successions.empty());
    CHECK(found.rows[1].refused.empty());
}

TEST_CASE("A sweep that is told to stop gives the cells that are done") {
    ep::plan const of = ep::parse_plan(plot::text);
    int told = 0;
    ep::sweep_options options{.threads = 1};
    options.progress = [&](int done, int cells) {
        CHECK(cells == 18);
        told = done;
        return done < 4;
    };
    ep::sweep_result const found = ep::sweep(of, ten_years(), three_axes(), options);
    CHECK(told == 4);
    CHECK(found.rows.size() == 4);
    CHECK(!found.is_complete());
    std::vector<ep::sweep_row> first = ep::sweep(of, ten_years(), three_axes()).rows;
    first.resize(4);
    CHECK(found.rows == first);
}

TEST_CASE("Progress is told by the thread that called, and to the end") {
    std::thread::id const here = std::this_thread::get_id();
    int last = 0;
    ep::sweep_options options{.threads = 4};
    options.progress = [&](int done, int) {
        CHECK(std::this_thread::get_id() == here);
        CHECK(done > last);
        last = done;
        return true;
    };
    CHECK(ep::sweep(ep::parse_plan(plot::text), ten_years(), three_axes(), options).is_complete());
    CHECK(last == 18);
}

TEST_CASE("Cases made already are numbered, and without axes there is one cell") {
    ep::plan const of = ep::parse_plan(plot::text);
    std::vector<ep::sweep_case> const cases(3, ep::sweep_case{.of = of, .under = ten_years()});
    ep::sweep_result const found = ep::sweep_cases(cases);
    REQUIRE(found.rows.size() == 3);
    CHECK(found.rows[2].choice == std::vector<int>{2});
    ep::sweep_result const alone = ep::sweep(of, ten_years(), {});
    REQUIRE(alone.rows.size() == 1);
    CHECK(alone.rows[0].successions == found.rows[2].successions);
    CHECK(ep::sweep_cases({}).is_complete());
}

TEST_CASE("What is no sweep is refused") {
    ep::plan const of = ep::parse_plan(plot::text);
    CHECK_THROWS_AS(ep::sweep(of, ten_years(), {{"nothing", {}}}), ep::invalid_input);
    CHECK_THROWS_AS(ep::sweep(of, ten_years(), {}, {.event = "harvest"}), ep::invalid_input);
    CHECK_THROWS_AS(ep::sweep(of, ten_years(), {}, {.threads = -1}), ep::invalid_input);
    std::vector<ep::sweep_change> const many(1001, ep::as_it_is());
    CHECK_THROWS_AS(ep::sweep(of, ten_years(), {{"a", many}, {"b", many}}), ep::invalid_input);
}
