// Shapes of a harvest against their integrals, and weeks against sums by hand. Bean 1 has 125
// plants at its sowing, of which 100 live at the first harvest, on Wednesday 30 June 2027.
#include "catch.hpp"
#include "plot_with_harvest.hpp"

#include <cmath>
#include <limits>
#include <numeric>

#include <epicotyl/season/harvest/yield.hpp>

namespace ep = epicotyl;
using Catch::Matchers::WithinAbs;
using plot::in_2027;

namespace {

std::vector<ep::yield_shape> const shapes = {
    ep::yield_shape::box(20.0),          ep::yield_shape::trapezoid(7.0, 14.0, 10.5),
    ep::yield_shape::trapezoid(0, 5, 0), ep::yield_shape::trapezoid(12.0, 0.0, 3.0),
    ep::yield_shape::trapezoid(0, 0, 9), ep::yield_shape::weibull(1.0, 9.0),
    ep::yield_shape::weibull(2.5, 15.0)};

/// Units of the weeks with any, from the first such week on.
std::vector<double> weeks_of(ep::yield_by_week const& of, int year) {
    std::vector<double> found;
    for (int w = 0; w < static_cast<int>(of.weeks.size()); ++w) {
        if (of.at(year, w) > 0.0 || !found.empty()) { found.push_back(of.at(year, w)); }
    }
    while (!found.empty() && found.back() == 0.0) { found.pop_back(); }
    return found;
}

}  // namespace

TEST_CASE("The area under a shape is 1, and its running share is that area") {
    for (ep::yield_shape const& shape : shapes) {
        // Midpoints, far beyond the tail of the Weibulls.
        double const step = 0.01;
        double area = 0.0;
        for (int k = 0; k < 20'000; ++k) {
            double const x = (k + 0.5) * step;
            area += shape.density(x) * step;
            if (k % 500 == 0) {
                CHECK_THAT(shape.cumulative(x + step / 2.0), WithinAbs(area, 1e-3));
            }
        }
        CHECK_THAT(area, WithinAbs(1.0, 1e-3));
        CHECK(shape.cumulative(0.0) == 0.0);
        CHECK(shape.cumulative(-3.0) == 0.0);
        CHECK(shape.density(-3.0) == 0.0);
        CHECK(shape.cumulative(1e6) == 1.0);
        CHECK(std::isnan(shape.cumulative(std::numeric_limits<double>::quiet_NaN())));
    }
}

TEST_CASE("A trapezoid has picked its triangles and its middle in proportion") {
    ep::yield_shape const shape = ep::yield_shape::trapezoid(7.0, 14.0, 7.0);
    CHECK_THAT(shape.cumulative(7.0), WithinAbs(3.5 / 21.0, 1e-12));
    CHECK_THAT(shape.cumulative(21.0), WithinAbs(17.5 / 21.0, 1e-12));
    CHECK(shape.cumulative(28.0) == 1.0);
    CHECK_THAT(shape.density(10.0), WithinAbs(1.0 / 21.0, 1e-12));
}

TEST_CASE("A shape without extent is refused") {
    CHECK_THROWS_AS(ep::yield_shape::box(0.0), ep::invalid_input);
    CHECK_THROWS_AS(ep::yield_shape::box(std::nan("")), ep::invalid_input);
    CHECK_THROWS_AS(ep::yield_shape::trapezoid(0.0, 0.0, 0.0), ep::invalid_input);
    CHECK_THROWS_AS(ep::yield_shape::trapezoid(-1.0, 2.0, 3.0), ep::invalid_input);
    CHECK_THROWS_AS(ep::yield_shape::weibull(0.0, 1.0), ep::invalid_input);
    CHECK_THROWS_AS(ep::yield_shape::weibull(1.0, -1.0), ep::invalid_input);
}

TEST_CASE("An even harvest of 20 days gives a twentieth on each, week by week") {
    ep::prospect const of = plot::prospect_of({{}, {.cold = 190}, {.hot = 185}});
    ep::harvest_yield const gives{
        .shape = ep::yield_shape::box(20.0), .units_per_plant = 2.0, .unit = "kg"};
    ep::yield_by_week const found = ep::expected_yield(of, "bean 1", gives);
    CHECK(found.plants == 100.0);
    CHECK(found.possible == 200.0);
    // The season starts on Friday 1 January, in the week of Monday 28 December.
    CHECK(found.weeks.front() == ep::make_day(2026, 12, 28));
    CHECK(found.weeks.size() == 53);
    CHECK(found.weeks[26] == in_2027(6, 28));
    // 5, 7, 7 and 1 days; then 10 days; then 5.
    auto const near = [](std::vector<double> const& a, std::vector<double> const& b) {
        REQUIRE(a.size() == b.size());
        for (std::size_t k = 0; k < a.size(); ++k) { CHECK_THAT(a[k], WithinAbs(b[k], 1e-9)); }
    };
    near(weeks_of(found, 0), {50.0, 70.0, 70.0, 10.0});
    near(weeks_of(found, 1), {50.0, 50.0});
    near(weeks_of(found, 2), {50.0});
    near(found.totals, {200.0, 100.0, 50.0});
    // Middle and highest of the three years.
    CHECK_THAT(found.quantile(ep::quantile_level{0.5})[27], WithinAbs(50.0, 1e-9));
    CHECK_THAT(found.quantile(ep::quantile_level{1.0})[27], WithinAbs(70.0, 1e-9));
    CHECK(found.quantile(ep::quantile_level{0.3})[27] == 0.0);
    CHECK_THAT(found.mean()[27], WithinAbs(40.0, 1e-9));
}

TEST_CASE("A harvest that is longer than the shape gives nothing at its end") {
    ep::yield_by_week const found =
        ep::expected_yield(plot::prospect_of({{}}), "bean 1", {.shape = ep::yield_shape::box(5.0)});
    CHECK(weeks_of(found, 0).size() == 1);
    CHECK_THAT(found.totals.front(), WithinAbs(100.0, 1e-9));
}

TEST_CASE("Over heat, days give what their degree-days are of the shape") {
    // Means of 15 °C above 5 °C: 10 K day a day, and 15.5 on the day of 36 °C. The harvest stops
    // in heat that day.
    ep::degree_day_rule const heat{.base = 5.0, .method = ep::degree_day_method::average};
    ep::harvest_yield const gives{.shape = ep::yield_shape::box(200.0), .heat = heat};
    ep::prospect const of = plot::prospect_of({{}, {.hot = 185}});
    CHECK_THAT(ep::expected_yield(of, "bean 1", gives).totals[0], WithinAbs(100.0, 1e-9));
    CHECK_THAT(ep::expected_yield(of, "bean 1", gives).totals[1], WithinAbs(25.0, 1e-9));
    ep::yield_by_week const on = ep::expected_yield(of, "bean 1", gives, {.heat_stops = false});
    CHECK_THAT(weeks_of(on, 1)[1], WithinAbs((7.0 * 10.0 + 5.5) / 2.0, 1e-9));
}

TEST_CASE("Years without a harvest give nothing") {
    std::string const shorter = plot::changed(plot::text, "season_days = 365", "season_days = 170");
    ep::yield_by_week const found =
        ep::expected_yield(plot::prospect_of({{}}, shorter, 170), "bean 1",
                           {.shape = ep::yield_shape::weibull(2.0, 10.0)});
    CHECK(found.totals == std::vector<double>{0.0});
    CHECK(std::accumulate(found.values.begin(), found.values.end(), 0.0) == 0.0);
}

TEST_CASE("Units that are no number are refused") {
    ep::prospect const of = plot::prospect_of({{}});
    ep::harvest_yield gives{.shape = ep::yield_shape::box(5.0), .units_per_plant = -1.0};
    CHECK_THROWS_AS(ep::expected_yield(of, "bean 1", gives), ep::invalid_input);
    gives.units_per_plant = std::nan("");
    CHECK_THROWS_AS(ep::expected_yield(of, "bean 1", gives), ep::invalid_input);
    gives.units_per_plant = 1.0;
    gives.heat = ep::degree_day_rule{.base = 10.0, .upper = 5.0};
    CHECK_THROWS_AS(ep::expected_yield(of, "bean 1", gives), ep::invalid_input);
}
