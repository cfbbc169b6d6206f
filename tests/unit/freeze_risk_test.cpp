#include "catch.hpp"

#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/freeze_risk.hpp>

using namespace epicotyl;

namespace {

temperature const zero = temperature::from_celsius(0.0);
std::optional<int> const none = std::nullopt;

/// A record from 1 January 2001 whose only freezes are, year by year, on these offsets from 1
/// January (spring) and from 1 August (autumn).
daily_record record_of(std::vector<std::optional<int>> const& last,
                       std::vector<std::optional<int>> const& first) {
    day const start = make_day(2001, 1, 1);
    auto const years = static_cast<int>(last.size());
    auto const size = static_cast<std::size_t>((make_day(2001 + years, 1, 1) - start).count());
    std::vector<double> tmin(size, 10.0);
    for (int k = 0; k < years; ++k) {
        if (last[k]) { tmin[(make_day(2001 + k, 1, 1) - start).count() + *last[k]] = -1.0; }
        if (first[k]) { tmin[(make_day(2001 + k, 8, 1) - start).count() + *first[k]] = -1.0; }
    }
    return {start, tmin, std::vector<double>(size, 20.0), "Marlpit"};
}

/// Four years; one spring and two autumns have no freeze.
daily_record four_years() {
    return record_of({90, none, 100, 110}, {70, none, 90, none});
}

freeze_risk empirical(daily_record const& record) {
    return freeze_risk{record, zero, freeze_estimator::empirical};
}
freeze_risk fitted(daily_record const& record) {
    return freeze_risk{record, zero, freeze_estimator::fitted};
}

template <class Action>
std::string message_of(Action const& action) {
    try {
        action();
    } catch (invalid_input const& fault) { return fault.what(); }
    return "accepted";
}

}  // namespace

TEST_CASE("empirical: the i-th of n years stands at i / (n + 1), with a straight line between") {
    freeze_risk const risk = empirical(four_years());
    // In order: none, 90, 100, 110 at positions 1 to 4; a chance p later is position 5 (1 - p).
    CHECK(*risk.last_freeze(chance{0.2}) == Approx(110.0));
    CHECK(*risk.last_freeze(chance{0.3}) == Approx(105.0));
    CHECK(*risk.last_freeze(chance{0.4}) == Approx(100.0));
    CHECK(*risk.last_freeze(chance{0.6}) == Approx(90.0));
    // In order: 70, 90, none, none; a chance p earlier is position 5 p.
    CHECK(*risk.first_freeze(chance{0.2}) == Approx(70.0));
    CHECK(*risk.first_freeze(chance{0.3}) == Approx(80.0));
    CHECK(*risk.first_freeze(chance{0.4}) == Approx(90.0));
}

TEST_CASE("empirical: no day beyond the first and last of n, nor beside a year without a freeze") {
    freeze_risk const risk = empirical(four_years());
    CHECK_FALSE(risk.last_freeze(chance{0.19}));
    CHECK_FALSE(risk.last_freeze(chance{0.0}));
    CHECK_FALSE(risk.last_freeze(chance{0.61}));
    CHECK_FALSE(risk.last_freeze(chance{0.8}));
    CHECK_FALSE(risk.last_freeze(chance{1.0}));
    CHECK_FALSE(risk.first_freeze(chance{0.19}));
    CHECK_FALSE(risk.first_freeze(chance{0.41}));
    CHECK_FALSE(risk.first_freeze(chance{0.6}));
}

TEST_CASE("a day of a given year is the nearest to the offset, leap years included") {
    freeze_risk const risk = empirical(four_years());
    // Offset 100 is 11 April, in a leap year 10 April; 104.6 rounds to 105.
    CHECK(risk.last_freeze(chance{0.4}, date::year{2027}) == make_day(2027, 4, 11));
    CHECK(risk.last_freeze(chance{0.4}, date::year{2028}) == make_day(2028, 4, 10));
    CHECK(risk.last_freeze(chance{0.308}, date::year{2027}) == make_day(2027, 4, 16));
    CHECK_FALSE(risk.last_freeze(chance{0.8}, date::year{2027}));
    // Offset 80 from 1 August is 20 October in every year.
    CHECK(risk.first_freeze(chance{0.3}, date::year{2027}) == make_day(2027, 10, 20));
    CHECK(risk.first_freeze(chance{0.3}, date::year{2028}) == make_day(2028, 10, 20));
}

TEST_CASE("empirical chances are those whose day is asked for, and whole shares beyond the dates") {
    freeze_risk const risk = empirical(four_years());
    CHECK(risk.chance_later(105.0).value() == Approx(0.3));
    CHECK(risk.chance_later(90.0).value() == Approx(0.6));
    CHECK(risk.chance_later(110.0).value() == Approx(0.2));
    CHECK(risk.chance_later(89.0).value() == Approx(0.75));  // 3 years of 4 had a later one
    CHECK(risk.chance_later(111.0).value() == 0.0);
    CHECK(risk.chance_earlier(80.0).value() == Approx(0.3));
    CHECK(risk.chance_earlier(69.0).value() == 0.0);
    CHECK(risk.chance_earlier(91.0).value() == Approx(0.5));
    // By day: 11 April of a common year is offset 100, 20 October offset 80 from 1 August.
    CHECK(risk.chance_later(make_day(2027, 4, 11)).value() == Approx(0.4));
    CHECK(risk.chance_earlier(make_day(2027, 10, 20)).value() == Approx(0.3));
}

TEST_CASE("years with the same date count together") {
    freeze_risk const risk = empirical(record_of({90, 100, 100, 110}, {70, 80, 80, 90}));
    CHECK(*risk.last_freeze(chance{0.4}) == Approx(100.0));
    CHECK(*risk.last_freeze(chance{0.6}) == Approx(100.0));
    // On or after: both years of that date are among them.
    CHECK(risk.chance_later(100.0).value() == Approx(0.6));
    CHECK(risk.chance_earlier(80.0).value() == Approx(0.6));
}

TEST_CASE("fitted: a normal of the dates, mixed with the share of years that had one") {
    // Last: dates 90, 100, 110 in 3 years of 4: q = 0.75, mean 100, sd 10.
    freeze_risk const risk = fitted(four_years());
    CHECK(risk.last_sample().share() == 0.75);
    CHECK(risk.last_sample().mean == Approx(100.0));
    CHECK(risk.last_sample().sd == Approx(10.0));
    // Half of the 3 years in 4: the mean. One standard deviation: 15.87 % of them (tables).
    CHECK(*risk.last_freeze(chance{0.375}) == Approx(100.0));
    CHECK(*risk.last_freeze(chance{0.75 * 0.158655254}) == Approx(110.0));
    CHECK(risk.chance_later(110.0).value() == Approx(0.75 * 0.158655254));
    CHECK(risk.chance_later(90.0).value() == Approx(0.75 * 0.841344746));
    CHECK_FALSE(risk.last_freeze(chance{0.75}));
    CHECK_FALSE(risk.last_freeze(chance{0.9}));
    CHECK_FALSE(risk.last_freeze(chance{0.0}));
    // First: 70 and 90 in 2 years of 4: q = 0.5, mean 80, sd sqrt(200).
    CHECK(risk.first_sample().sd == Approx(14.1421356));
    CHECK(*risk.first_freeze(chance{0.25}) == Approx(80.0));
    CHECK(risk.chance_earlier(80.0).value() == Approx(0.25));
    CHECK(*risk.first_freeze(chance{0.5 * 0.158655254}) == Approx(80.0 - 14.1421356));
    CHECK_FALSE(risk.first_freeze(chance{0.5}));
}

TEST_CASE("a site without frost has no freeze day and no chance of one, by either estimator") {
    daily_record const mild = record_of({none, none, none}, {none, none, none});
    for (freeze_risk const& risk : {empirical(mild), fitted(mild)}) {
        for (double const p : {0.0, 0.1, 0.25, 0.5, 0.75, 1.0}) {
            CHECK_FALSE(risk.last_freeze(chance{p}));
            CHECK_FALSE(risk.first_freeze(chance{p}));
            CHECK_FALSE(risk.frost_free_days(chance{p}));
        }
        CHECK(risk.chance_later(0.0).value() == 0.0);
        CHECK(risk.chance_earlier(152.0).value() == 0.0);
    }
}

TEST_CASE("a freeze on the same day every year is that day, by either estimator") {
    daily_record const regular = record_of({100, 100, 100}, {70, 70, 70});
    for (freeze_risk const& risk : {empirical(regular), fitted(regular)}) {
        CHECK(*risk.last_freeze(chance{0.5}) == 100.0);
        CHECK(*risk.first_freeze(chance{0.5}) == 70.0);
        CHECK(risk.chance_later(101.0).value() == 0.0);
        CHECK(risk.chance_later(99.0).value() == 1.0);
        CHECK(risk.chance_earlier(69.0).value() == 0.0);
        CHECK(risk.chance_earlier(71.0).value() == 1.0);
    }
    CHECK(fitted(regular).chance_later(100.0).value() == 1.0);
    CHECK(empirical(regular).chance_later(100.0).value() == Approx(0.75));
}

TEST_CASE("a single freeze is fitted by its own day") {
    freeze_risk const risk = fitted(record_of({100, none, none}, {none, none, none}));
    CHECK(*risk.last_freeze(chance{0.2}) == 100.0);
    CHECK_FALSE(risk.last_freeze(chance{1.0 / 3.0}));
    CHECK(risk.chance_later(100.0).value() == Approx(1.0 / 3.0));
}

TEST_CASE("frost-free days are longer for a smaller chance, a year without frost longer than all") {
    // 1 January + 90 to 1 August + 70 in 2001: 212 + 70 - 90 - 1 = 191 days; 2003: 201.
    // 2002 has neither, 2004 (a leap year) no first freeze.
    freeze_risk const risk = empirical(four_years());
    CHECK(risk.frost_free_sample().values == std::vector<int>{191, 201});
    CHECK(risk.frost_free_sample().years == 4);
    CHECK(*risk.frost_free_days(chance{0.8}) == Approx(191.0));
    CHECK(*risk.frost_free_days(chance{0.7}) == Approx(196.0));
    CHECK(*risk.frost_free_days(chance{0.6}) == Approx(201.0));
    CHECK_FALSE(risk.frost_free_days(chance{0.5}));
    CHECK_FALSE(risk.frost_free_days(chance{0.9}));
}

TEST_CASE("southern chances are asked by southern days") {
    // Two years; last freezes on 1 and 11 September, first ones on 1 May.
    day const start = make_day(2001, 2, 1);
    std::vector<double> tmin(static_cast<std::size_t>((make_day(2003, 2, 1) - start).count()), 9.0);
    for (day const d : {make_day(2001, 9, 1), make_day(2002, 9, 11), make_day(2001, 5, 1),
                        make_day(2002, 5, 1)}) {
        tmin[(d - start).count()] = -1.0;
    }
    daily_record const record{start, tmin, std::vector<double>(tmin.size(), 20.0)};
    freeze_risk const risk{record,
                           zero,
                           freeze_estimator::empirical,
                           {.halves = season_halves::for_latitude(latitude{-40.0})}};
    CHECK(*risk.last_freeze(chance{0.5}) == Approx(67.0));  // 1 July + 67 = 6 September
    CHECK(risk.last_freeze(chance{0.5}, date::year{2026}) == make_day(2026, 9, 6));
    CHECK(risk.chance_later(make_day(2026, 9, 6)).value() == Approx(0.5));
    CHECK(risk.chance_later(make_day(2027, 1, 15)).value() == 0.0);  // the half of 2026
    CHECK(risk.first_freeze(chance{0.5}, date::year{2027}) == make_day(2027, 5, 1));
}

TEST_CASE("few years, and few dates under a curve, give warnings") {
    CHECK(empirical(four_years()).warnings() ==
          std::vector<std::string>{"last freezes of 4 years only: chances counted in so few years "
                                   "are rough; 10 or more are wanted, 30 are usual",
                                   "first freezes of 4 years only: chances counted in so few years "
                                   "are rough; 10 or more are wanted, 30 are usual"});
    std::vector<std::optional<int>> springs(12, 100);
    std::vector<std::optional<int>> autumns(12, none);
    autumns[3] = 80;
    daily_record const record = record_of(springs, autumns);
    CHECK(empirical(record).warnings().empty());
    CHECK(fitted(record).warnings() ==
          std::vector<std::string>{"first freezes in 1 of 12 years only: a curve fitted to so few "
                                   "dates is rough"});
}

TEST_CASE("what was never seen, and days of the other half, are refused") {
    // Every autumn has a hole of a week.
    std::vector<double> tmin(365, 5.0);
    for (int k = 250; k < 257; ++k) { tmin[k] = std::numeric_limits<double>::quiet_NaN(); }
    freeze_risk const spring_only =
        empirical({make_day(2001, 1, 1), tmin, std::vector<double>(365, 20.0)});
    CHECK_FALSE(spring_only.last_freeze(chance{0.5}));
    CHECK(
        message_of([&] { (void)spring_only.first_freeze(chance{0.5}); }) ==
        "record: no warm-to-cold half can be used; first left out: 2001, 1 Aug – 31 Dec: no "
        "minimum for 7 days from 8 Sep 2001 (gaps of up to 3 days are filled) (allowed: 1 or more "
        "years); give a longer record or one with fewer gaps, other years, or a larger max_gap");
    CHECK(message_of([&] {
              (void)spring_only.frost_free_days(chance{0.5});
          }).starts_with("record: no pair of halves can be used; "));
    freeze_risk const risk = empirical(four_years());
    CHECK(message_of([&] { (void)risk.chance_later(make_day(2027, 8, 1)); }) ==
          "day: 2027-08-01 lies outside the cold-to-warm half (allowed: 1 Jan to 31 Jul); ask for "
          "the other half's chance, or part the year elsewhere");
    CHECK(message_of([&] { (void)risk.chance_earlier(make_day(2027, 7, 31)); }) ==
          "day: 2027-07-31 lies outside the warm-to-cold half (allowed: 1 Aug to 31 Dec); ask for "
          "the other half's chance, or part the year elsewhere");
    CHECK(message_of([&] { (void)risk.chance_later(std::numeric_limits<double>::quiet_NaN()); }) ==
          "offset: nan is not a number that can be used; give a finite number of days");
}

TEST_CASE(
    "a rule's last frost is at position (1 - chance)(n + 1), rounded up, a first rounds down") {
    std::vector<std::optional<int>> const last = {90, none, 100, 110};
    // Positions 1 to 4: none, 90, 100, 110.
    CHECK(empirical_offset_last(last, chance{0.2}) == 110);
    CHECK(empirical_offset_last(last, chance{0.3}) == 110);  // 3.5
    CHECK(empirical_offset_last(last, chance{0.4}) == 100);  // 3
    CHECK(empirical_offset_last(last, chance{0.5}) == 100);  // 2.5
    CHECK(empirical_offset_last(last, chance{0.6}) == 90);   // 2
    CHECK_FALSE(empirical_offset_last(last, chance{0.1}));   // 4.5 is past the last
    CHECK_FALSE(empirical_offset_last(last, chance{0.8}));   // 1: a year without one
    CHECK_FALSE(empirical_offset_last(last, chance{1.0}));   // 0
    std::vector<std::optional<int>> const first = {90, none, 70, 80};
    CHECK(empirical_offset_first(first, chance{0.2}) == 70);
    CHECK(empirical_offset_first(first, chance{0.5}) == 80);  // 2.5
    CHECK(empirical_offset_first(first, chance{0.6}) == 90);
    CHECK(empirical_offset_first(first, chance{0.7}) == 90);  // 3.5
    CHECK_FALSE(empirical_offset_first(first, chance{0.1}));  // 0.5
    CHECK_FALSE(empirical_offset_first(first, chance{0.8}));  // 4: a year without one
    CHECK_FALSE(empirical_offset_first(first, chance{1.0}));  // 5
    CHECK_FALSE(empirical_offset_last({}, chance{0.5}));
    CHECK_FALSE(empirical_offset_first({}, chance{0.5}));
    // 29 years, chance 0.1: position 27 exactly, although 0.9 x 30 is not exact in binary.
    std::vector<std::optional<int>> counted;
    for (int k = 1; k <= 29; ++k) { counted.emplace_back(k); }
    CHECK(empirical_offset_last(counted, chance{0.1}) == 27);
    CHECK(empirical_offset_first(counted, chance{0.1}) == 3);
    CHECK(empirical_offset_first(counted, chance{0.7}) == 21);
}

TEST_CASE("a risk prints what it is of, and equals one made alike") {
    CHECK(fmt::format("{}", fitted(four_years())) ==
          "Marlpit: nights at or below 0.0 °C, 2001 – 2004, fitted");
    CHECK(fitted(four_years()) == fitted(four_years()));
    CHECK(fitted(four_years()) != empirical(four_years()));
    CHECK(fitted(four_years()).dates() == freeze_dates{four_years(), zero});
}

TEST_CASE("a chance next to none has a day far out, and no error of another library") {
    freeze_risk const risk = fitted(record_of({90, 95, 100, 110}, {70, 80, 90, 95}));
    for (double const tiny : {5e-324, 1e-300, 1e-17}) {
        CAPTURE(tiny);
        CHECK(*risk.last_freeze(chance{tiny}) > *risk.last_freeze(chance{1e-12}));
        CHECK(*risk.first_freeze(chance{tiny}) < *risk.first_freeze(chance{1e-12}));
        CHECK(std::abs(*risk.first_freeze(chance{tiny})) < 1000.0);
    }
}
