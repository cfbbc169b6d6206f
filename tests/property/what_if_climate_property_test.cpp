// Climates made from a climate, over random weather.
#include "catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/generator.hpp>

using namespace epicotyl;

namespace {

daily_record weather(std::uint64_t seed) {
    weather_model const model{
        {.minimum = {.mean = {.level = 4.0, .cosine = {-9.0}}, .spread = {.level = 4.0}},
         .maximum = {.mean = {.level = 13.0, .cosine = {-11.0}}, .spread = {.level = 4.5}},
         .same_day = 0.7,
         .next_day = {{{0.7, 0.6}, {0.5, 0.6}}}}};
    return generate(model, make_day(1990, 1, 1), 4400, seed);
}

}  // namespace

TEST_CASE("a shift and its opposite give back the numbers, and shifts add") {
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        climate const here{weather(seed), latitude{45.0}};
        auto const by = [](double k) {
            return temperature_span::from_kelvin(k);
        };
        climate const back = here.shifted(by(1.7)).shifted(by(-1.7));
        climate const twice = here.shifted(by(1.0)).shifted(by(0.5));
        climate const once = here.shifted(by(1.5));
        for (int i = 0; i < here.size(); ++i) {
            for (std::size_t k = 0; k < here.tmin(i).size(); ++k) {
                REQUIRE(back.tmin(i)[k] == Approx(here.tmin(i)[k]).margin(1e-12));
                REQUIRE(twice.tmax(i)[k] == Approx(once.tmax(i)[k]).margin(1e-12));
            }
        }
    }
}

TEST_CASE("a season year given its own first days is unchanged") {
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        climate const here{weather(seed), latitude{45.0}};
        for (int i = 0; i < here.size(); ++i) {
            for (int const length : {1, 90, here.season_days()}) {
                auto const head = [&](std::span<double const> run) {
                    return std::vector<double>{run.begin(), run.begin() + length};
                };
                climate const now =
                    here.given({here.season_of(i).start(), head(here.tmin(i)), head(here.tmax(i))});
                CHECK(std::equal(now.tmin(i).begin(), now.tmin(i).end(), here.tmin(i).begin()));
                CHECK(std::equal(now.tmax(i).begin(), now.tmax(i).end(), here.tmax(i).begin()));
                // Every year begins as this one did; nothing is left of a year given a whole one.
                for (int other = 0; other < here.size(); ++other) {
                    CHECK(std::equal(now.tmin(other).begin(), now.tmin(other).begin() + length,
                                     here.tmin(i).begin()));
                    CHECK(std::equal(now.tmin(other).begin() + length, now.tmin(other).end(),
                                     here.tmin(other).begin() + length));
                }
            }
        }
    }
}

TEST_CASE("the years of a climate, chosen one by one, are the climate") {
    climate const here{weather(9), latitude{45.0}};
    for (int i = 0; i < here.size(); ++i) {
        climate const one = here.only({here.years()[static_cast<std::size_t>(i)]});
        REQUIRE(one.size() == 1);
        CHECK(one.season_of(0) == here.season_of(i));
        CHECK(std::equal(one.tmin(0).begin(), one.tmin(0).end(), here.tmin(i).begin()));
        CHECK(std::equal(one.tmax(0).begin(), one.tmax(0).end(), here.tmax(i).begin()));
    }
}
