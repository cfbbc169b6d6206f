#include "catch.hpp"

#include <cmath>
#include <limits>
#include <string>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/filled_record.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();
double const infinite = std::numeric_limits<double>::infinity();

template <class Action>
std::string message_of(Action const& action) {
    try {
        action();
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

}  // namespace

TEST_CASE("a record holds one minimum and one maximum for every day, the end excluded") {
    daily_record const record{
        make_day(2024, 2, 27), {1.0, 2.0, 3.0, 4.0}, {5.0, 6.0, 7.0, 8.0}, "Marlpit"};
    CHECK(record.start() == make_day(2024, 2, 27));
    CHECK(record.end() == make_day(2024, 3, 2));  // 27, 28, 29 February and 1 March
    CHECK(record.size() == 4);
    CHECK(record.tmin()[2] == 3.0);
    CHECK(record.tmax()[3] == 8.0);
    CHECK(record.holds(make_day(2024, 2, 29)));
    CHECK_FALSE(record.holds(record.end()));
    CHECK(record.index_of(make_day(2024, 2, 29)) == 2);
}

TEST_CASE("a copy of a record shares its numbers") {
    daily_record const record{make_day(2024, 1, 1), {1.0}, {5.0}};
    daily_record const copy = record;
    CHECK(copy.tmin().data() == record.tmin().data());
}

TEST_CASE("records are equal when days, values, gaps and name are") {
    daily_record const record{make_day(2024, 1, 1), {1.0, gone}, {5.0, 6.0}, "a"};
    CHECK(record == daily_record{make_day(2024, 1, 1), {1.0, -gone}, {5.0, 6.0}, "a"});
    CHECK(record != daily_record{make_day(2024, 1, 2), {1.0, gone}, {5.0, 6.0}, "a"});
    CHECK(record != daily_record{make_day(2024, 1, 1), {gone, 1.0}, {5.0, 6.0}, "a"});
    CHECK(record != daily_record{make_day(2024, 1, 1), {1.0, gone}, {5.0, gone}, "a"});
    CHECK(record != daily_record{make_day(2024, 1, 1), {1.0}, {5.0}, "a"});
    CHECK(record != daily_record{make_day(2024, 1, 1), {1.0, gone}, {5.0, 6.0}, "b"});
}

TEST_CASE("a record prints its station, its days and its gaps, a run of missing days is one gap") {
    day const start = make_day(1925, 1, 2);
    CHECK(fmt::format("{}", daily_record{start, {1, 2, 3}, {4, 5, 6}, "Marlpit"}) ==
          "Marlpit, 2 Jan 1925 – 4 Jan 1925, no gaps");
    CHECK(fmt::format("{}", daily_record{start, {1, gone, 3}, {4, 5, gone}}) ==
          "2 Jan 1925 – 4 Jan 1925, 1 gap");
    CHECK(fmt::format("{}", daily_record{start, {gone, 2, gone}, {4, 5, 6}, "Marlpit"}) ==
          "Marlpit, 2 Jan 1925 – 4 Jan 1925, 2 gaps");
}

TEST_CASE("a record refuses unequal sizes, no days and infinities, and keeps a wrong minimum") {
    day const start = make_day(2024, 2, 28);
    CHECK(message_of([&] {
              daily_record(start, {1.0, 2.0}, {3.0});
          }) ==
          "tmin, tmax: 2 minima stand against 1 maxima; give one of each for every day, NaN where "
          "there is none");
    CHECK(message_of([&] { daily_record(start, {}, {}); }) ==
          "tmin, tmax: the record holds no day (allowed: 1 or more days); give one minimum and one "
          "maximum for every day");
    CHECK(message_of([&] {
              daily_record(start, {1.0, 2.0}, {3.0, infinite});
          }) ==
          "tmax: inf on 2024-02-29 is not a temperature; give NaN for a value that is missing");
    CHECK(message_of([&] { daily_record(start, {-infinite}, {3.0}); }) ==
          "tmin: -inf on 2024-02-28 is not a temperature; give NaN for a value that is missing");
    CHECK(daily_record(start, {9.0}, {3.0}).tmin()[0] == 9.0);
}

TEST_CASE("short gaps are filled on the straight line between their neighbours, by element") {
    filled_record const filled{
        daily_record{make_day(2024, 1, 1), {4, gone, gone, 7, 8}, {10, 11, gone, 20, 21}}, 2};
    CHECK(filled.tmin()[1] == Approx(5.0));
    CHECK(filled.tmin()[2] == Approx(6.0));
    CHECK(filled.tmax()[1] == 11.0);
    CHECK(filled.tmax()[2] == Approx(15.5));
    CHECK(filled.gaps().empty());
    CHECK(filled.lacks_minimum(1));
    CHECK_FALSE(filled.lacks_maximum(1));
    CHECK(std::isnan(filled.record().tmin()[1]));
}

TEST_CASE("a gap of max_gap days is filled, one of a day more is not") {
    daily_record const record{make_day(2024, 1, 1), {0, gone, gone, gone, 4}, {9, 9, 9, 9, 9}};
    CHECK(filled_record{record, 3}.gaps().empty());
    filled_record const not_filled{record, 2};
    CHECK(std::isnan(not_filled.tmin()[2]));
    REQUIRE(not_filled.gaps().size() == 1);
    CHECK(not_filled.gaps().front() == weather_gap{.element = weather_element::minimum,
                                                   .first = make_day(2024, 1, 2),
                                                   .length = 3});
    CHECK(filled_record{record, 0}.gaps().size() == 1);
}

TEST_CASE("a gap at the edge of the record is not filled, however short") {
    filled_record const filled{daily_record{make_day(2024, 1, 1), {gone, 1, 2}, {5, 6, gone}}, 3};
    REQUIRE(filled.gaps().size() == 2);
    CHECK(filled.gaps()[0].at_edge);
    CHECK(filled.gaps()[0].element == weather_element::minimum);
    CHECK(filled.gaps()[1].first == make_day(2024, 1, 3));
    CHECK(filled.gaps()[1].element == weather_element::maximum);
}

TEST_CASE("a minimum above its maximum is a gap in both elements, an equal one is not") {
    filled_record const filled{daily_record{make_day(2024, 1, 1), {1, 9, 3, 7}, {5, 4, 9, 7}}, 3};
    CHECK(filled.is_inverted(1));
    CHECK(filled.lacks_minimum(1));
    CHECK(filled.lacks_maximum(1));
    CHECK(filled.tmin()[1] == Approx(2.0));
    CHECK(filled.tmax()[1] == Approx(7.0));
    CHECK_FALSE(filled.is_inverted(3));
    CHECK(filled.tmin()[3] == 7.0);
}

TEST_CASE("the longest gap of a run of days counts gaps that only reach into it") {
    // January 2024: minima missing on 3-4 and 8-10, maxima on 8-10 too.
    std::vector<double> low(12, 0.0);
    std::vector<double> high(12, 9.0);
    for (int const d : {3, 4, 8, 9, 10}) { low[d - 1] = gone; }
    for (int const d : {8, 9, 10}) { high[d - 1] = gone; }
    filled_record const filled{daily_record{make_day(2024, 1, 1), low, high}, 1};
    auto const longest = [&](int from, int until, weather_element element) {
        return filled.longest_gap(make_day(2024, 1, from), make_day(2024, 1, until), element);
    };
    CHECK(longest(1, 12, weather_element::both) == weather_gap{.element = weather_element::both,
                                                               .first = make_day(2024, 1, 8),
                                                               .length = 3});
    CHECK(longest(10, 12, weather_element::minimum)->length == 3);
    CHECK(longest(1, 8, weather_element::both)->first == make_day(2024, 1, 3));
    CHECK_FALSE(longest(1, 8, weather_element::maximum));
    CHECK_FALSE(longest(5, 8, weather_element::both));
    CHECK_FALSE(longest(11, 12, weather_element::both));
}

TEST_CASE("a gap is told in a sentence") {
    weather_gap gap{
        .element = weather_element::minimum, .first = make_day(1936, 2, 3), .length = 12};
    CHECK(to_sentence(gap, 3) ==
          "no minimum for 12 days from 3 Feb 1936 (gaps of up to 3 days are filled)");
    CHECK(to_sentence(gap, 1) ==
          "no minimum for 12 days from 3 Feb 1936 (gaps of up to 1 day are filled)");
    gap.element = weather_element::both;
    gap.inverted = 2;
    CHECK(
        to_sentence(gap, 0) ==
        "neither minimum nor maximum for 12 days from 3 Feb 1936 (on 2 of them the minimum stands "
        "above the maximum) (no gap is filled)");
    gap.element = weather_element::maximum;
    gap.length = 1;
    gap.inverted = 1;
    gap.at_edge = true;
    CHECK(to_sentence(gap, 3) ==
          "no maximum on 3 Feb 1936, where the minimum stands above the maximum, at the edge of "
          "the record, with a value on one side only");
}

TEST_CASE("the longest gap to fill is 0 to 31 days") {
    daily_record const record{make_day(2024, 1, 1), {1.0}, {2.0}};
    CHECK(message_of([&] { filled_record(record, 32); }) ==
          "max_gap: gaps of 32 days cannot be filled by a straight line (allowed: 0 to 31 days); "
          "3 days are usual; 0 fills nothing");
    CHECK(message_of([&] { filled_record(record, -1); }) ==
          "max_gap: gaps of -1 days cannot be filled by a straight line (allowed: 0 to 31 days); "
          "3 days are usual; 0 fills nothing");
}
