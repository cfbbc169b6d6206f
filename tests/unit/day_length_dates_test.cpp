// The days on which a day length is reached.
#include "catch.hpp"

#include <limits>
#include <optional>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/days.hpp>

namespace ep = epicotyl;

namespace {

// The winter in question, and its two halves.
ep::day const before = ep::make_day(2026, 7, 1);
ep::day const turn = ep::make_day(2026, 12, 21);
ep::day const after = ep::make_day(2027, 6, 20);

}  // namespace

TEST_CASE("days under ten hours begin and end as grower's tables say, parallel by parallel") {
    // First and last day under 10 h by Forsythe et al. 1995 with 0.8333 degrees, reckoned apart
    // from this library: 35 N 1 Dec - 12 Jan, 40 N 16 Nov - 28 Jan, and so on.
    struct row {
        double north;
        ep::day first_short;
        ep::day last_short;
    };
    row const rows[] = {{35.0, ep::make_day(2026, 12, 1), ep::make_day(2027, 1, 12)},
                        {40.0, ep::make_day(2026, 11, 16), ep::make_day(2027, 1, 28)},
                        {45.0, ep::make_day(2026, 11, 6), ep::make_day(2027, 2, 6)},
                        {50.0, ep::make_day(2026, 10, 30), ep::make_day(2027, 2, 13)},
                        {55.0, ep::make_day(2026, 10, 24), ep::make_day(2027, 2, 19)},
                        {60.0, ep::make_day(2026, 10, 19), ep::make_day(2027, 2, 24)}};
    for (row const& one : rows) {
        CAPTURE(one.north);
        ep::latitude const where{one.north};
        CHECK(ep::last_day_with(where, 10.0, before, turn) == one.first_short - ep::days{1});
        CHECK(ep::first_day_with(where, 10.0, turn, after) == one.last_short + ep::days{1});
    }
}

TEST_CASE("at 30 and 32 degrees no day is under ten hours") {
    for (double const north : {30.0, 32.0}) {
        ep::latitude const where{north};
        CHECK(ep::last_day_with(where, 10.0, before, turn) == turn);
        CHECK(ep::first_day_with(where, 10.0, turn, after) == turn);
    }
}

TEST_CASE("no day of the run that long: none, and for sun that does not set: the ends of the run") {
    ep::latitude const north{70.0};
    ep::day const june = ep::make_day(2027, 6, 10);
    ep::day const december = ep::make_day(2027, 12, 10);
    CHECK(ep::first_day_with(north, 24.0, june, june + ep::days{20}) == june);
    CHECK(ep::last_day_with(north, 24.0, june, june + ep::days{20}) == june + ep::days{20});
    CHECK_FALSE(ep::first_day_with(north, 0.1, december, december + ep::days{20}));
    CHECK_FALSE(ep::last_day_with(north, 0.1, december, december + ep::days{20}));
    // In the south the same days are the others'.
    CHECK(ep::first_day_with(ep::latitude{-70.0}, 24.0, december, december) == december);
}

TEST_CASE("the answer is that long, and the day beyond it is not") {
    for (double north = -60.0; north <= 60.0; north += 7.5) {
        for (double hours = 8.0; hours <= 16.0; hours += 0.5) {
            for (auto const model : {ep::day_length_model::cbm, ep::day_length_model::fao56}) {
                ep::latitude const where{north};
                std::optional<ep::day> const first =
                    ep::first_day_with(where, hours, before, after, model);
                std::optional<ep::day> const last =
                    ep::last_day_with(where, hours, before, after, model);
                REQUIRE(first.has_value() == last.has_value());
                if (!first) { continue; }
                CHECK(*first <= *last);
                CHECK(ep::day_length(where, *first, model) >= hours);
                CHECK(ep::day_length(where, *last, model) >= hours);
                if (*first > before) {
                    CHECK(ep::day_length(where, *first - ep::days{1}, model) < hours);
                }
                if (*last < after) {
                    CHECK(ep::day_length(where, *last + ep::days{1}, model) < hours);
                }
            }
        }
    }
}

TEST_CASE("a run of one day is a run, one that ends before it begins is refused") {
    ep::latitude const where{45.0};
    CHECK(ep::first_day_with(where, 8.0, turn, turn) == turn);
    CHECK_THROWS_AS(ep::first_day_with(where, 8.0, turn, turn - ep::days{1}), ep::invalid_input);
    CHECK_THROWS_AS(ep::last_day_with(where, 8.0, turn, turn - ep::days{1}), ep::invalid_input);
    double const nan = std::numeric_limits<double>::quiet_NaN();
    for (double const hours : {-0.1, 24.1, nan}) {
        CHECK_THROWS_AS(ep::first_day_with(where, hours, before, after), ep::invalid_input);
    }
    try {
        (void)ep::last_day_with(where, 25.0, before, after);
        FAIL("accepted");
    } catch (ep::invalid_input const& fault) {
        CHECK(fault.code() == "day_length.hours");
        CHECK(fault.details().bound == "0 to 24");
    }
}
