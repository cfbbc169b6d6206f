#include "catch.hpp"

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/freeze_dates.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();
temperature const zero = temperature::from_celsius(0.0);

/// A record without frost (every minimum 10 °C) into which nights are written.
class mild_days {
public:
    mild_days(day from, day until)
        : start_{from}, tmin_(static_cast<std::size_t>((until - from).count()), 10.0) {}
    mild_days& night(int year, unsigned month, unsigned day_of_month, double celsius) {
        tmin_[(make_day(year, month, day_of_month) - start_).count()] = celsius;
        return *this;
    }
    mild_days& nights(day from, int count, double celsius) {
        for (int k = 0; k < count; ++k) { tmin_[(from - start_).count() + k] = celsius; }
        return *this;
    }
    [[nodiscard]] daily_record record() const {
        return {start_, tmin_, std::vector<double>(tmin_.size(), 20.0), "Marlpit"};
    }

private:
    day start_;
    std::vector<double> tmin_;
};

mild_days two_years() {
    return {make_day(2023, 1, 1), make_day(2025, 1, 1)};
}

std::string message_of(daily_record const& record, freeze_options const& options) {
    try {
        (void)freeze_dates{record, zero, options};
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

}  // namespace

TEST_CASE("the last freeze to 31 July and the first from 1 August are kept of every year") {
    daily_record const record = two_years()
                                    .night(2023, 1, 1, -5.0)
                                    .night(2023, 4, 12, -0.5)
                                    .night(2023, 10, 20, -1.0)
                                    .night(2023, 12, 31, -5.0)
                                    .night(2024, 7, 31, -1.0)
                                    .night(2024, 8, 1, -1.0)
                                    .record();
    freeze_dates const dates{record, zero};
    REQUIRE(dates.years().size() == 2);
    CHECK(dates.years()[0].year == 2023);
    CHECK(dates.years()[0].last() == make_day(2023, 4, 12));
    CHECK(dates.years()[0].first() == make_day(2023, 10, 20));
    CHECK(dates.years()[1].last() == make_day(2024, 7, 31));
    CHECK(dates.years()[1].first() == make_day(2024, 8, 1));
    CHECK(dates.left_out().empty());
    // 12 April is offset 31 + 28 + 31 + 11; 31 July of a leap year 212.
    CHECK(dates.last_offsets() == std::vector<std::optional<int>>{101, 212});
    CHECK(dates.first_offsets() == std::vector<std::optional<int>>{80, 0});
    CHECK(fmt::format("{}", dates) == "Marlpit: nights at or below 0.0 °C, 2023 – 2024");
}

TEST_CASE("frost-free days are those strictly between the two freezes") {
    daily_record const record = two_years()
                                    .night(2023, 4, 12, -0.5)
                                    .night(2023, 4, 15, -1.0)
                                    .night(2024, 7, 31, -1.0)
                                    .record();
    // 2024: last on 31 July, no first. With a first on 1 August there would be 0 days between.
    std::vector<frost_free_span> const spans = freeze_dates{record, zero}.frost_free();
    CHECK(spans == std::vector<frost_free_span>{{2023, std::nullopt}, {2024, std::nullopt}});
    daily_record const closed = two_years()
                                    .night(2023, 7, 30, -0.5)
                                    .night(2023, 8, 2, -1.0)
                                    .night(2024, 7, 31, -1.0)
                                    .night(2024, 8, 1, -1.0)
                                    .record();
    CHECK(freeze_dates{closed, zero}.frost_free() ==
          std::vector<frost_free_span>{{2023, 2}, {2024, 0}});
}

TEST_CASE("a night at the threshold counts unless only nights below it are asked for") {
    daily_record const record = two_years().night(2023, 3, 1, -1.0).night(2023, 4, 1, 0.0).record();
    CHECK(freeze_dates{record, zero}.years()[0].last() == make_day(2023, 4, 1));
    freeze_dates const below{record, zero, {.counts_when = comparison::below}};
    CHECK(below.years()[0].last() == make_day(2023, 3, 1));
    CHECK(fmt::format("{}", below) == "Marlpit: nights below 0.0 °C, 2023 – 2024");
}

TEST_CASE(
    "no frost is none in every half, frost all year is the last and the first day of a half") {
    freeze_dates const mild{two_years().record(), zero};
    CHECK(mild.years()[1].cold_to_warm.used);
    CHECK_FALSE(mild.years()[1].last());
    CHECK_FALSE(mild.years()[1].first());
    CHECK(mild.last_offsets() == std::vector<std::optional<int>>{std::nullopt, std::nullopt});

    daily_record const cold = two_years().nights(make_day(2023, 1, 1), 731, -3.0).record();
    freeze_dates const frozen{cold, zero};
    CHECK(frozen.years()[0].last() == make_day(2023, 7, 31));
    CHECK(frozen.years()[0].first() == make_day(2023, 8, 1));
    CHECK(frozen.frost_free() == std::vector<frost_free_span>{{2023, 0}, {2024, 0}});
}

TEST_CASE("in the south a half belongs to the year in which it begins") {
    season_halves const halves = season_halves::for_latitude(latitude{-43.5});
    mild_days days{make_day(2021, 2, 1), make_day(2023, 7, 1)};
    daily_record const record = days.night(2021, 5, 20, -1.0)  // first of 2021
                                    .night(2021, 10, 3, -1.0)  // last of 2021
                                    .night(2022, 4, 30, -1.0)  // first of 2022
                                    .night(2023, 1, 31, -1.0)  // last of 2022
                                    .night(2023, 2, 1, -1.0)   // first of 2023
                                    .record();
    freeze_dates const dates{record, zero, {.halves = halves, .years = year_selection::all()}};
    REQUIRE(dates.years().size() == 3);
    CHECK(dates.years()[0].year == 2021);
    CHECK(dates.years()[0].first() == make_day(2021, 5, 20));
    CHECK(dates.years()[0].last() == make_day(2021, 10, 3));
    CHECK(dates.years()[1].first() == make_day(2022, 4, 30));
    CHECK(dates.years()[1].last() == make_day(2023, 1, 31));
    CHECK(dates.years()[2].first() == make_day(2023, 2, 1));
    CHECK_FALSE(dates.years()[2].cold_to_warm.used);
    // From the last freeze of a spring to the first of the autumn after it: 3 October 2021 to 30
    // April 2022 has 28 + 30 + 31 + 31 + 28 + 31 + 29 days between.
    CHECK(dates.frost_free() == std::vector<frost_free_span>{{2021, 208}, {2022, 0}});
    // 2021 and 2022 have both halves, 2023 has one.
    freeze_dates const latest{record, zero, {.halves = halves}};
    CHECK(latest.years().size() == 2);
    CHECK(latest.left_out().empty());
    CHECK(fmt::format("{}", halves) == "cold to warm 1 Jul – 31 Jan");
}

TEST_CASE("halves part every year without gap or overlap, wherever the line is drawn") {
    std::vector<season_halves> const all = {
        season_halves{},
        season_halves::for_latitude(latitude{-10.0}),
        season_halves{date::July / 24, date::January / 23},
        season_halves{date::January / 1, date::February / 28},
        season_halves{date::March / 1, date::February / 27},
        season_halves{date::June / 1, date::December / 31},
        season_halves{date::February / 1, date::December / 31},
    };
    for (season_halves const& halves : all) {
        INFO(fmt::format("{}", halves));
        for (int year = 1999; year < 2030; ++year) {
            day_range const warming = halves.cold_to_warm(year);
            day_range const cooling = halves.warm_to_cold(year);
            CHECK(detail::year_of(warming.begin) == year);
            CHECK(detail::year_of(cooling.begin) == year);
            CHECK(warming.length() > 0);
            CHECK(cooling.length() > 0);
            // The half after the cold-to-warm one begins where it ends, in this year or the next.
            CHECK((halves.warm_to_cold(year).begin == warming.end ||
                   halves.warm_to_cold(year + 1).begin == warming.end));
            CHECK((halves.cold_to_warm(year).begin == cooling.end ||
                   halves.cold_to_warm(year + 1).begin == cooling.end));
        }
    }
}

TEST_CASE("halves that leave nothing for the other, or end on a day some years lack, are refused") {
    auto const message = [](date::month_day begin, date::month_day end) {
        try {
            (void)season_halves{begin, end};
        } catch (invalid_input const& fault) { return std::string{fault.what()}; }
        return std::string{"accepted"};
    };
    CHECK(message(date::January / 1, date::December / 31) ==
          "cold_to_warm_begin, cold_to_warm_end: 1 Jan – 31 Dec leaves no day for the warm-to-cold "
          "half; 1 Jan – 31 Jul is usual in the north, 1 Jul – 31 Jan in the south");
    CHECK(message(date::March / 1, date::February / 28) ==
          "cold_to_warm_begin, cold_to_warm_end: 1 Mar – 28 Feb leaves no day for the warm-to-cold "
          "half; 1 Jan – 31 Jul is usual in the north, 1 Jul – 31 Jan in the south");
    CHECK(message(date::February / 29, date::July / 31) ==
          "cold_to_warm_begin: the first day of a half cannot be 29 February, which most years "
          "lack; give a day that every year has, such as 28 February or 1 March");
    CHECK(message(date::January / 1, date::June / 31) ==
          "cold_to_warm_end: 06-31 is not a month and day of the calendar; give a day that every "
          "year has, such as 28 February or 1 March");
}

TEST_CASE("short gaps are filled and counted, a longer one takes its half out of use") {
    daily_record const record = two_years()
                                    .night(2023, 3, 9, -2.0)
                                    .nights(make_day(2023, 3, 10), 3, gone)
                                    .night(2023, 3, 13, 2.0)
                                    .nights(make_day(2023, 10, 10), 4, gone)
                                    .night(2023, 9, 1, -1.0)
                                    .record();
    freeze_dates const dates{record, zero};
    // -2, (-1, 0, 1), 2: the second of the filled nights is the last at or below 0.
    CHECK(dates.years()[0].last() == make_day(2023, 3, 11));
    CHECK(dates.years()[0].cold_to_warm.missing == 3);
    CHECK_FALSE(dates.years()[0].warm_to_cold.used);
    CHECK_FALSE(dates.years()[0].first());
    CHECK(dates.years()[0].warm_to_cold.missing == 4);
    REQUIRE(dates.left_out().size() == 1);
    CHECK(dates.left_out()[0] ==
          left_out_half{.year = 2023,
                        .cold_to_warm = false,
                        .first = make_day(2023, 10, 10),
                        .length = 4,
                        .sentence = "2023, 1 Aug – 31 Dec: no minimum for 4 days from 10 Oct 2023 "
                                    "(gaps of up to 3 days are filled)"});
    CHECK(dates.first_offsets().size() == 1);  // 2024 only
    CHECK(freeze_dates(record, zero, {.max_gap = 4}).years()[0].first() == make_day(2023, 9, 1));
}

TEST_CASE("missing maxima take no half out of use") {
    std::vector<double> const low(731, 5.0);
    std::vector<double> const high(731, gone);
    freeze_dates const dates{daily_record{make_day(2023, 1, 1), low, high}, zero};
    CHECK(dates.left_out().empty());
    CHECK(dates.last_offsets().size() == 2);
}

TEST_CASE("a record ending in autumn gives its last spring when all years are asked for") {
    mild_days days{make_day(2023, 1, 1), make_day(2024, 11, 30)};
    daily_record const record = days.night(2024, 5, 1, -1.0).record();
    CHECK(freeze_dates{record, zero}.years().size() == 1);
    freeze_dates const all{record, zero, {.years = year_selection::all()}};
    REQUIRE(all.years().size() == 2);
    CHECK(all.years()[1].last() == make_day(2024, 5, 1));
    CHECK_FALSE(all.years()[1].warm_to_cold.used);
    CHECK(all.years()[1].warm_to_cold.missing == 32);
    REQUIRE(all.left_out().size() == 1);
    CHECK(all.left_out()[0].sentence ==
          "2024, 1 Aug – 31 Dec: 32 of its 153 days are not in the record, which holds 1 Jan 2023 "
          "– 29 Nov 2024");
    CHECK(all.left_out()[0].first == make_day(2024, 11, 30));
    freeze_dates const named{record, zero, {.years = year_selection::between(2022, 2023)}};
    CHECK(named.left_out().size() == 2);
    CHECK(named.left_out()[0].first == make_day(2022, 1, 1));
    CHECK(named.left_out()[0].length == 212);
    CHECK(named.last_offsets().size() == 1);
}

TEST_CASE("freeze dates of no half at all are refused") {
    CHECK(
        message_of(mild_days{make_day(2023, 1, 1), make_day(2023, 7, 31)}.record(), {}) ==
        "record: of the latest 30 years no half can be used; the record holds 1 Jan 2023 – 30 Jul "
        "2023 (allowed: 1 or more halves); give a longer record or one with fewer gaps, other "
        "years, or a larger max_gap");
    CHECK(
        message_of(two_years()
                       .nights(make_day(2023, 3, 1), 9, gone)
                       .nights(make_day(2023, 9, 1), 5, gone)
                       .record(),
                   {.years = year_selection::between(2023, 2023)}) ==
        "record: of the year 2023 no half can be used; longest gap: 2023, 1 Jan – 31 Jul: no "
        "minimum for 9 days from 1 Mar 2023 (gaps of up to 3 days are filled) (allowed: 1 or more "
        "halves); give a longer record or one with fewer gaps, other years, or a larger max_gap");
    CHECK(message_of(two_years().record(), {.max_gap = -1}) ==
          "max_gap: gaps of -1 days cannot be filled by a straight line (allowed: 0 to 31 days); 3 "
          "days are usual; 0 fills nothing");
}

TEST_CASE("freeze dates are equal when made alike") {
    daily_record const record = two_years().night(2023, 4, 12, -0.5).record();
    CHECK(freeze_dates{record, zero} == freeze_dates{record, zero});
    CHECK(freeze_dates{record, zero} != freeze_dates{record, temperature::from_celsius(-1.0)});
}
