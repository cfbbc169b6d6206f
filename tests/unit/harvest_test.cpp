// What ends a harvest, in years that differ on one day. Expected days are reckoned by hand.
#include "catch.hpp"
#include "plot_with_harvest.hpp"

#include <epicotyl/season/harvest/harvest.hpp>

namespace ep = epicotyl;
using plot::in_2027;

namespace {

ep::harvest_span only(plot::odd_year year, ep::harvest_options const& options = {}) {
    return ep::harvest_spans(plot::prospect_of({year}), "bean 1", options).front();
}

}  // namespace

TEST_CASE("A harvest runs from first_harvest to the day its clock ends it") {
    ep::harvest_span const one = only({});
    CHECK(one.begin == in_2027(6, 30));
    CHECK(one.end == in_2027(7, 20));
    CHECK(one.ended_by == ep::harvest_end::clock);
    CHECK(one.days() == 20);
}

TEST_CASE("The first night at or below the limit after it began ends a harvest as frost") {
    ep::harvest_span const one = only({.cold = 190});
    CHECK(one.end == in_2027(7, 10));
    CHECK(one.ended_by == ep::harvest_end::frost);
}

TEST_CASE("A cold night on the day it begins does not end a harvest") {
    CHECK(only({.cold = 180}) == only({}));
}

TEST_CASE("A cold night on the very day the clock ends it counts as frost") {
    ep::harvest_span const one = only({.cold = 200});
    CHECK(one.end == in_2027(7, 20));
    CHECK(one.ended_by == ep::harvest_end::frost);
    CHECK(only({.cold = 201}) == only({}));
}

TEST_CASE("A day too hot ends the picking and not the stay") {
    ep::prospect const hot = plot::prospect_of({{.hot = 185}});
    ep::harvest_span const one = ep::harvest_spans(hot, "bean 1").front();
    CHECK(one.end == in_2027(7, 5));
    CHECK(one.ended_by == ep::harvest_end::heat);
    CHECK(hot.days("bean 1", "clear").front() == in_2027(7, 20));
    CHECK(only({.hot = 185}, {.heat_stops = false}) == only({}));
    CHECK(only({.hot = 180}) == only({}));
}

TEST_CASE("Of frost and heat the first one ends a harvest") {
    CHECK(only({.cold = 190, .hot = 185}).ended_by == ep::harvest_end::heat);
    CHECK(only({.cold = 185, .hot = 190}).ended_by == ep::harvest_end::frost);
}

TEST_CASE("A harvest that nothing ended runs to the end of the season") {
    std::string const shorter = plot::changed(plot::text, "season_days = 365", "season_days = 190");
    ep::harvest_span const one =
        ep::harvest_spans(plot::prospect_of({{}}, shorter, 190), "bean 1").front();
    CHECK(one.end == in_2027(7, 10));
    CHECK(one.ended_by == ep::harvest_end::season);
}

TEST_CASE("There is no harvest where the season ends before it") {
    std::string const shorter = plot::changed(plot::text, "season_days = 365", "season_days = 170");
    ep::harvest_span const one =
        ep::harvest_spans(plot::prospect_of({{}}, shorter, 170), "bean 1").front();
    CHECK(one == ep::harvest_span{});
    CHECK(one.days() == 0);
}

TEST_CASE("A succession that is never harvested has no harvest to ask about") {
    ep::prospect const of = plot::prospect_of({{}});
    CHECK_THROWS_AS(ep::harvest_spans(of, "leek"), ep::invalid_input);
    CHECK_THROWS_AS(ep::harvest_spans(of, "been 1"), ep::invalid_input);
}

TEST_CASE("What ends a harvest has a word") {
    CHECK(ep::to_string(ep::harvest_end::frost) == "frost");
    CHECK(ep::to_string(ep::harvest_end::season) == "season");
}
