#include "catch.hpp"

#include <array>
#include <vector>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/clock/ready_map.hpp>

namespace epicotyl {
namespace {

day_conditions steady(std::vector<double> const& low, std::vector<double> const& high,
                      std::vector<double> const& hours) {
    return {.tmin = low, .tmax = high, .day_length = hours};
}

temperature celsius(double t) {
    return temperature::from_celsius(t);
}
thermal_time kelvin_days(double amount) {
    return thermal_time::from_kelvin_days(amount);
}

}  // namespace

TEST_CASE("seven calendar days from s are s + 7, amount 0 is s, beyond the season is never") {
    std::vector<double> const rates(10, 1.0);
    ready_map const week{rates, 7.0};
    CHECK(week(0) == 7);
    CHECK(week(3) == 10);
    CHECK(week(4) == never);
    CHECK(week(never) == never);
    ready_map const none{rates, 0.0};
    CHECK(none(4) == 4);
    CHECK(none(10) == 10);
    CHECK(ready_map{10} == none);
}

TEST_CASE("a running sum forgives rounding: thirty days of 0.1 are 3") {
    std::vector<double> const rates(40, 0.1);
    CHECK(ready_map(rates, 3.0)(0) == 30);
}

TEST_CASE("latest_start is none before ready(0), earliest_start of never is the first never") {
    std::vector<double> const rates(10, 1.0);
    ready_map const week{rates, 7.0};
    CHECK(week.latest_start(6) == std::nullopt);
    CHECK(week.latest_start(7) == 0);
    CHECK(week.latest_start(10) == 3);
    CHECK(week.latest_start(never) == never);
    CHECK(week.earliest_start(0) == 0);
    CHECK(week.earliest_start(9) == 2);
    CHECK(week.earliest_start(never) == 4);
}

TEST_CASE("germination rises to the optimum and falls to nothing at the ceiling") {
    germination_wait const wait{.amount = kelvin_days(1.0),
                                .base = celsius(4.0),
                                .optimum = celsius(22.0),
                                .ceiling = celsius(32.0)};
    CHECK(germination_rate(3.0, wait) == 0.0);
    CHECK(germination_rate(14.0, wait) == 10.0);
    CHECK(germination_rate(22.0, wait) == 18.0);
    CHECK(germination_rate(27.0, wait) == 9.0);
    CHECK(germination_rate(32.0, wait) == 0.0);
}

TEST_CASE("onion needs 80 K day above 2.5 degrees: 4 days at 22.5, 16 days at 7.5") {
    // Harrington 1962, in a textbook on vegetable Alliums (days to 50 % germination).
    clock const onion = clock::germination({.amount = kelvin_days(80.0),
                                            .base = celsius(2.5),
                                            .optimum = celsius(25.0),
                                            .ceiling = celsius(35.0)});
    for (auto const& [at, days_taken] : {std::pair{22.5, 4}, std::pair{7.5, 16}}) {
        std::vector<double> const air(30, at);
        std::vector<double> const hours(30, 12.0);
        CHECK(make_ready_map(onion, steady(air, air, hours))(0) == days_taken);
    }
}

TEST_CASE("days between counts the days whose mean lies in the closed band") {
    std::vector<double> const low{1.0, 1.0, 2.0, 8.0, 4.0};
    std::vector<double> const high{3.0, 2.9, 12.0, 20.0, 14.0};  // means 2, 1.95, 7, 14, 9
    std::vector<double> const hours(5, 12.0);
    clock const chill =
        clock::days_between({.days = 3.0, .low = celsius(2.0), .high = celsius(9.0)});
    CHECK(daily_rates(chill, steady(low, high, hours)) ==
          std::vector<double>{1.0, 0.0, 1.0, 0.0, 1.0});
    CHECK(make_ready_map(chill, steady(low, high, hours))(0) == 5);
}

TEST_CASE("a gate slows the clock while days are short, or while they are long") {
    std::vector<double> const air(6, 15.0);
    std::vector<double> const hours{9.0, 9.9, 10.0, 11.0, 12.0, 13.0};
    auto const rates = [&](day_length_gate gate) {
        return daily_rates(clock::days(1.0).gated(gate), steady(air, air, hours));
    };
    CHECK(rates({.hours = 10.0, .otherwise = 0.5}) ==
          std::vector<double>{0.5, 0.5, 1.0, 1.0, 1.0, 1.0});
    CHECK(rates({.hours = 11.0, .at_least = false}) ==
          std::vector<double>{1.0, 1.0, 1.0, 1.0, 0.0, 0.0});
}

TEST_CASE("a gate on a group goes to each member, and only one gate may apply") {
    clock const group = clock::all_of({clock::days(2.0), clock::days(3.0)});
    clock const gated = group.gated({.hours = 10.0});
    for (clock const& member : std::get<clock_group>(gated.what()).members) {
        REQUIRE(member.gate());
        CHECK(member.gate()->hours == 10.0);
    }
    CHECK_THROWS_AS(gated.gated({.hours = 11.0}), invalid_input);
}

TEST_CASE("all of several clocks is the later, any of them the earlier") {
    std::vector<double> const air(30, 14.0);
    std::vector<double> const hours(30, 12.0);
    clock const eight_days = clock::days(8.0);
    clock const heat =
        clock::heat({.amount = kelvin_days(40.0), .base = celsius(4.0)});  // 10 a day: 4 days
    CHECK(make_ready_map(clock::all_of({eight_days, heat}), steady(air, air, hours))(5) == 13);
    CHECK(make_ready_map(clock::any_of({eight_days, heat}), steady(air, air, hours))(5) == 9);
}

TEST_CASE("soil is the mean of the last ten days' mean air, the first days use what there is") {
    std::vector<double> low;
    std::vector<double> high;
    for (int i = 0; i < 12; ++i) {
        low.push_back(i);
        high.push_back(i + 2.0);  // means 1, 2, 3 ... 12
    }
    auto const soil = soil_temperature(low, high);
    CHECK(soil[0] == Approx(1.0));
    CHECK(soil[1] == Approx(1.5));
    CHECK(soil[9] == Approx(5.5));
    CHECK(soil[11] == Approx(7.5));  // 3 ... 12
}

TEST_CASE("a harvest ends on the first cold night after it began") {
    std::vector<double> const rates(20, 1.0);
    std::array<int, 2> const cold{5, 12};
    ready_map const harvest = ready_map(rates, 10.0).ended_by(cold);
    CHECK(harvest(0) == 5);
    CHECK(harvest(5) == 12);  // the night of the first day does not end it
    CHECK(harvest(11) == 12);
    CHECK(harvest(12) == never);
}

TEST_CASE("clocks refuse what would not be monotone or makes no sense") {
    CHECK_THROWS_AS(clock::days(-1.0), invalid_input);
    CHECK_THROWS_AS(clock::all_of({}), invalid_input);
    CHECK_THROWS_AS(
        clock::heat({.amount = kelvin_days(1.0), .base = celsius(10.0), .upper = celsius(10.0)}),
        invalid_input);
    CHECK_THROWS_AS(clock::days_between({.days = 1.0, .low = celsius(9.0), .high = celsius(2.0)}),
                    invalid_input);
    CHECK_THROWS_AS(clock::germination({.amount = kelvin_days(1.0),
                                        .base = celsius(9.0),
                                        .optimum = celsius(9.0),
                                        .ceiling = celsius(20.0)}),
                    invalid_input);
    CHECK_THROWS_AS(clock::days(1.0).gated({.hours = 25.0}), invalid_input);
}

TEST_CASE("the sun stays up or down for whole days beyond the polar circles") {
    CHECK(day_length(latitude{80.0}, make_day(2027, 6, 21)) == 24.0);
    CHECK(day_length(latitude{80.0}, make_day(2027, 12, 21)) == 0.0);
    CHECK(day_length(latitude{90.0}, make_day(2027, 6, 21)) == 24.0);
    CHECK(day_length(latitude{-90.0}, make_day(2027, 6, 21)) == 0.0);
}

TEST_CASE("FAO-56 example 9: 3 September at 20 degrees south has 11.7 hours") {
    // Allen et al. 1998, example 9; 11.66559 from the NCL daylight_fao56 documentation.
    CHECK(day_length(latitude{-20.0}, make_day(2027, 9, 3), day_length_model::fao56) ==
          Approx(11.66559).margin(1e-4));
}

}  // namespace epicotyl
