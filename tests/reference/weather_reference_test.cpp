// Station files of GHCN-Daily against published freeze normals, single dates stated in public, and
// tables made by other code from the same files.
//
// New York Central Park: USW00094728; Dubois Experiment Station, Idaho: USC00102707.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "reference_data.hpp"

using namespace epicotyl;

namespace {

char const* const central_park = "USW00094728";
char const* const dubois = "USC00102707";

daily_record record_of(std::string const& file) {
    return parse_ghcn_daily(reference::unpacked(reference::data_file(file)), file);
}

/// The observations were whole degrees Fahrenheit, filed in tenths of a degree Celsius; this puts
/// them back.
daily_record in_whole_fahrenheit(daily_record const& record) {
    auto const put_back = [](std::span<double const> values) {
        std::vector<double> whole;
        for (double const celsius : values) {
            whole.push_back(std::isnan(celsius) ? celsius
                                                : temperature::from_fahrenheit(
                                                      std::round(celsius * 9.0 / 5.0 + 32.0))
                                                      .celsius());
        }
        return whole;
    };
    return {record.start(), put_back(record.tmin()), put_back(record.tmax()), record.name()};
}

daily_record observations_of(std::string const& station) {
    return in_whole_fahrenheit(record_of(station == central_park
                                             ? "USW00094728_TMAX_TMIN_1869-2020.dly.gz"
                                             : "USC00102707_TMAX_TMIN_1925-2019.dly.gz"));
}

freeze_options const normal_years{.years = year_selection::between(1981, 2010)};

/// Days from 1 January to a day printed "04/01" in a common year.
double offset_in_common_year(std::string const& month_and_day) {
    day const d = make_day(2001, static_cast<unsigned>(std::stoi(month_and_day.substr(0, 2))),
                           static_cast<unsigned>(std::stoi(month_and_day.substr(3, 2))));
    return static_cast<double>((d - make_day(2001, 1, 1)).count());
}

/// A first freeze counted from 1 January of a common year.
std::optional<double> first_from_january(freeze_risk const& risk, double p) {
    auto const first = risk.first_freeze(chance{p});
    if (!first) { return std::nullopt; }
    return *first + static_cast<double>((make_day(2001, 8, 1) - make_day(2001, 1, 1)).count());
}

}  // namespace

// Layout: GHCN-Daily readme.txt 3.26, section III.
TEST_CASE("the first line of Central Park's file is January 1869, in tenths of a degree") {
    if (reference::is_missing()) { return; }
    daily_record const record = record_of("USW00094728_TMAX_TMIN_1869-2020.dly.gz");
    CHECK(record.name() == central_park);
    CHECK(record.start() == make_day(1869, 1, 1));
    CHECK(record.end() == make_day(2020, 1, 4));
    std::vector<double> const highest{record.tmax().begin(), record.tmax().begin() + 5};
    CHECK(highest == std::vector<double>{-1.7, -2.8, 1.7, 2.8, 6.1});
    std::vector<double> const lowest{record.tmin().begin(), record.tmin().begin() + 5};
    CHECK(lowest == std::vector<double>{-7.2, -6.1, -2.8, 1.1, 2.8});
    // The file is complete for the years of the 1981-2010 normals.
    climate const normals{
        record,
        latitude{40.78},
        {.season_days = 365, .max_gap = 0, .years = year_selection::between(1981, 2010)}};
    CHECK(normals.size() == 30);
    CHECK(normals.left_out().empty());
    CHECK(normals.filled() == filled_days{});
}

TEST_CASE("a file with rain, snow and weather types gives its temperatures") {
    if (reference::is_missing()) { return; }
    daily_record const record = record_of("USC00368449_2000-2009.dly.gz");
    CHECK(record.name() == "USC00368449");
    CHECK(record.start() == make_day(2000, 1, 1));
    CHECK(record.tmax()[0] == 6.7);
    CHECK(record.tmin()[0] == -5.0);
    CHECK(record.tmin()[3] == 12.2);
}

// checks/frost_by_year.csv: computed by other code, minima in whole °F, flagged values dropped,
// missing nights passed over.
TEST_CASE("every year's freeze dates agree to the day, four thresholds, two stations, 30 years") {
    if (reference::is_missing()) { return; }
    std::map<std::string, daily_record> const records = {
        {central_park, observations_of(central_park)}, {dubois, observations_of(dubois)}};
    auto rows = reference::rows_of(reference::check_file("frost_by_year.csv"));
    rows.erase(rows.begin());
    REQUIRE(rows.size() == 240);
    int halves_left_out = 0;
    int after_new_year = 0;
    for (auto const& row : rows) {
        INFO(row[0] << ' ' << row[1] << ", " << row[2] << " °F");
        int const year = std::stoi(row[1]);
        freeze_dates const dates{records.at(row[0]),
                                 temperature::from_fahrenheit(std::stod(row[2])), normal_years};
        freeze_year const& found = dates.years()[static_cast<std::size_t>(year - 1981)];
        REQUIRE(found.year == year);
        CHECK(found.cold_to_warm.missing + found.warm_to_cold.missing == std::stoi(row[6]));
        CHECK(found.last() == parse_iso_day(row[3]));
        if (row[0] == dubois && year == 2008) {
            // 22 nights in October were not observed: no first freeze is stated.
            CHECK_FALSE(found.warm_to_cold.used);
            REQUIRE(dates.left_out().size() == 1);
            CHECK(dates.left_out()[0].first == make_day(2008, 10, 10));
            CHECK(dates.left_out()[0].length == 22);
            ++halves_left_out;
            continue;
        }
        day const first = parse_iso_day(row[4]);
        if (first >= found.warm_to_cold.span.end) {
            // The table looks on after New Year; here a half ends with the year and has no freeze.
            CHECK_FALSE(found.first());
            ++after_new_year;
            continue;
        }
        CHECK(found.first() == first);
        auto const spans = dates.frost_free();
        auto const span = std::find_if(spans.begin(), spans.end(), [&](frost_free_span const& one) {
            return one.year == year;
        });
        REQUIRE(span != spans.end());
        CHECK(span->length == std::stoi(row[5]));
    }
    CHECK(halves_left_out == 4);
    CHECK(after_new_year == 1);  // Central Park 1984, 24 °F: 8 January 1985
}

// NCEI 1981-2010 normals, files ann-tmin-prblst, prbfst and prbgsl, 32 °F, P50 and P90. They rest
// on homogenised minima, so dates agree to days, not to the day.
TEST_CASE("freeze dates and frost-free days stand near the official normals of 1981-2010") {
    if (reference::is_missing()) { return; }
    struct official {
        char const* station;
        char const* last[2];
        char const* first[2];
        double length[2];
        double days;         // tolerance of a date
        double length_days;  // tolerance of a length
    };
    official const stations[] = {
        {central_park, {"04/01", "03/18"}, {"11/18", "12/03"}, {230.0, 211.0}, 5.0, 8.0},
        {dubois, {"05/28", "05/12"}, {"09/22", "10/05"}, {116.0, 91.0}, 7.0, 12.0},
    };
    double const levels[] = {0.5, 0.9};
    for (official const& station : stations) {
        daily_record const record = observations_of(station.station);
        for (auto const estimator : {freeze_estimator::empirical, freeze_estimator::fitted}) {
            INFO(station.station << ' ' << to_string(estimator));
            freeze_risk const risk{record, temperature::from_fahrenheit(32.0), estimator,
                                   normal_years};
            for (int k = 0; k < 2; ++k) {
                CHECK(std::abs(*risk.last_freeze(chance{levels[k]}) -
                               offset_in_common_year(station.last[k])) <= station.days);
                CHECK(std::abs(*first_from_january(risk, levels[k]) -
                               offset_in_common_year(station.first[k])) <= station.days);
                CHECK(std::abs(*risk.frost_free_days(chance{levels[k]}) - station.length[k]) <=
                      station.length_days);
            }
            // The spread does not depend on the level of the minima.
            double const spread = *risk.last_freeze(chance{0.5}) - *risk.last_freeze(chance{0.9});
            double const published =
                offset_in_common_year(station.last[0]) - offset_in_common_year(station.last[1]);
            CHECK(std::abs(spread - published) <= 5.0);
        }
    }
}

// checks/frost_computed_vs_ncei_1981-2010.csv: the same estimators by other code, from days of the
// year. A first freeze is counted here from 1 August, there from 1 January: in leap years, 7 of
// these 30, that is one day less.
TEST_CASE("both estimators agree with other code at nine levels and four thresholds") {
    if (reference::is_missing()) { return; }
    std::map<std::string, daily_record> const records = {
        {central_park, observations_of(central_park)}, {dubois, observations_of(dubois)}};
    auto rows = reference::rows_of(reference::check_file("frost_computed_vs_ncei_1981-2010.csv"));
    rows.erase(rows.begin());
    int compared = 0;
    for (auto const& row : rows) {
        // The station's name holds a comma: two cells.
        std::string const& quantity = row[5];
        bool const last = quantity == "prblst";
        bool const autumn_missing = row[0] == dubois && !last;
        // One autumn fewer here (22 nights were not observed), one autumn without a freeze of 24 °F
        // (it came after New Year).
        bool const freeze_after_new_year = row[0] == central_park && row[4] == "24" && !last;
        if (autumn_missing || freeze_after_new_year) { continue; }
        INFO(row[0] << ' ' << row[4] << " °F " << quantity << ' ' << row[6]);
        auto const risk_by = [&](freeze_estimator estimator) {
            return freeze_risk{records.at(row[0]), temperature::from_fahrenheit(std::stod(row[4])),
                               estimator, normal_years};
        };
        freeze_risk const fitted = risk_by(freeze_estimator::fitted);
        freeze_risk const empirical = risk_by(freeze_estimator::empirical);
        double const p = std::stod(row[6]) / 100.0;
        if (quantity == "prbgsl") {
            CHECK(std::abs(*fitted.frost_free_days(chance{p}) - std::stod(row[8])) <= 0.06);
            CHECK(std::abs(*empirical.frost_free_days(chance{p}) - std::stod(row[9])) <= 0.06);
        } else if (last) {
            CHECK(std::abs(*fitted.last_freeze(chance{p}) - offset_in_common_year(row[8])) <= 0.51);
            CHECK(std::abs(*empirical.last_freeze(chance{p}) - offset_in_common_year(row[9])) <=
                  0.51);
            // Day of the year 1 is offset 0.
            CHECK(std::abs(fitted.last_sample().mean + 1.0 - std::stod(row[12])) <= 0.006);
            CHECK(std::abs(fitted.last_sample().sd - std::stod(row[13])) <= 0.006);
        } else {
            CHECK(std::abs(*first_from_january(fitted, p) - offset_in_common_year(row[8])) <= 1.51);
            CHECK(std::abs(*first_from_january(empirical, p) - offset_in_common_year(row[9])) <=
                  1.51);
        }
        ++compared;
    }
    // Nine levels each of: last freezes at both stations, four thresholds; the other two quantities
    // at Central Park, three thresholds.
    CHECK(compared == 9 * (2 * 4 + 2 * 3));
}

// weathergamut.com, 13 December 2011, on Central Park's first freeze of a season.
TEST_CASE("single dates stated in public are in the record to the day") {
    if (reference::is_missing()) { return; }
    freeze_dates const dates{observations_of(central_park),
                             temperature::from_fahrenheit(32.0),
                             {.years = year_selection::all()}};
    std::map<int, day> first;
    for (freeze_year const& year : dates.years()) {
        if (year.first()) { first[year.year] = *year.first(); }
    }
    CHECK(first.at(2011) == make_day(2011, 12, 10));
    CHECK(first.at(1940) == make_day(1940, 10, 19));
    CHECK(first.at(1974) == make_day(1974, 10, 19));
    CHECK(first.at(1998) == make_day(1998, 12, 22));
    CHECK(first.at(1876) == make_day(1876, 10, 15));
    // The latest first freeze of the years to 2018.
    for (auto const& [year, d] : first) {
        day const new_year{date::year{year} / 1 / 1};
        if (year >= 1870 && year <= 2018) { CHECK(d - new_year <= date::days{355}); }
    }
}

// The method of Climatography of the United States No. 20 worked by hand: 30 years, 27 of them with
// a freeze, mean day of the year 95, standard deviation 12, so q = 0.9.
// p = 0.5: F = 1 - 0.5/0.9 = 0.44444, day 93.32; p = 0.1: F = 0.88889, day 109.65.
TEST_CASE("a normal mixed with the share of years with a freeze gives the days worked by hand") {
    // 13 years on day 83, 13 on day 107, one on day 95: mean 95, sum of squares 26 x 144 = 26 sd².
    std::vector<int> days_of_year(13, 83);
    days_of_year.insert(days_of_year.end(), 13, 107);
    days_of_year.push_back(95);
    day const start = make_day(1981, 1, 1);
    auto const size = static_cast<std::size_t>((make_day(2011, 1, 1) - start).count());
    std::vector<double> tmin(size, 10.0);
    for (std::size_t k = 0; k < days_of_year.size(); ++k) {
        day const new_year = make_day(1981 + static_cast<int>(k), 1, 1);
        tmin[static_cast<std::size_t>((new_year - start).count() + days_of_year[k] - 1)] = -1.0;
    }
    freeze_risk const risk{daily_record{start, tmin, std::vector<double>(size, 20.0)},
                           temperature::from_celsius(0.0), freeze_estimator::fitted};
    CHECK(risk.last_sample().years == 30);
    CHECK(risk.last_sample().mean + 1.0 == Approx(95.0));
    CHECK(risk.last_sample().sd == Approx(12.0));
    CHECK(std::abs(*risk.last_freeze(chance{0.5}) + 1.0 - 93.32) <= 0.1);
    CHECK(std::abs(*risk.last_freeze(chance{0.1}) + 1.0 - 109.65) <= 0.1);
    CHECK_FALSE(risk.last_freeze(chance{0.9}));
    CHECK_FALSE(risk.last_freeze(chance{0.95}));
}
