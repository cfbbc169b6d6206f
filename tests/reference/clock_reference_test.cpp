// Clocks against published tables. Sources stand beside each check.
#include "catch.hpp"

#include <cmath>
#include <map>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include <date/date.h>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/clock/degree_days.hpp>
#include <epicotyl/days.hpp>

#include "reference_data.hpp"

namespace ep = epicotyl;

namespace {

using method = ep::degree_day_method;
using cutoff = ep::degree_day_cutoff;

struct column {
    char const* name;
    method how;
    cutoff above;
    double yearly_sum;
};

}  // namespace

TEST_CASE("a calculator of the University of California: 366 days by twelve methods") {
    if (reference::is_missing()) { return; }
    // UC Statewide IPM Program web calculator, lower 50 °F, upper 70 °F, Esparto 2020, retrieved 2
    // August 2022; compiled in UCANR-IGIS/degree-day-challenge (MIT). Two decimals, so 0.0051 a
    // day; yearly sums of the printed values within 0.05.
    // Three days of the calculator's intermediate sine disagree with its own formula elsewhere.
    std::vector<column> const columns = {
        {"sngsine_horiz", method::single_sine, cutoff::horizontal, 4011.14},
        {"sngsine_vert", method::single_sine, cutoff::vertical, 1645.45},
        {"sngsine_intrmd", method::single_sine, cutoff::intermediate, 2537.83},
        {"dblsine_horiz", method::double_sine, cutoff::horizontal, 4012.03},
        {"dblsine_vert", method::double_sine, cutoff::vertical, 1647.29},
        {"dblsine_intrmd", method::double_sine, cutoff::intermediate, 2540.92},
        {"sngtri_horiz", method::single_triangle, cutoff::horizontal, 4093.86},
        {"sngtri_vert", method::single_triangle, cutoff::vertical, 1679.44},
        {"sngtri_intrmd", method::single_triangle, cutoff::intermediate, 2808.60},
        {"dbltri_horiz", method::double_triangle, cutoff::horizontal, 4095.40},
        {"dbltri_vert", method::double_triangle, cutoff::vertical, 1680.73},
        {"dbltri_intrmd", method::double_triangle, cutoff::intermediate, 2811.57}};
    std::map<std::string, std::vector<std::string>> const excepted = {
        {"sngsine_intrmd", {"7/11/2020", "8/15/2020"}},
        {"dblsine_intrmd", {"7/11/2020", "8/15/2020", "9/6/2020"}}};

    auto const rows =
        reference::rows_of(reference::data_file("degree_days/ucipm_low50_high70_all.csv"));
    REQUIRE(rows.size() == 367);
    std::vector<double> low;
    std::vector<double> high;
    for (std::size_t r = 1; r < rows.size(); ++r) {
        low.push_back(std::stod(rows[r][1]));
        high.push_back(std::stod(rows[r][2]));
    }
    for (std::size_t c = 0; c < columns.size(); ++c) {
        column const& one = columns[c];
        REQUIRE(rows[0][c + 3] == one.name);
        std::vector<double> ours(low.size());
        ep::degree_days(low, high,
                        {.base = 50, .upper = 70, .method = one.how, .cutoff = one.above}, ours);
        double sum = 0.0;
        double published_sum = 0.0;
        int days_off = 0;
        for (std::size_t d = 0; d < ours.size(); ++d) {
            double const published = std::stod(rows[d + 1][c + 3]);
            published_sum += published;
            bool except = false;
            if (auto const days = excepted.find(one.name); days != excepted.end()) {
                for (std::string const& day : days->second) { except |= rows[d + 1][0] == day; }
            }
            if (except) {
                ++days_off;
                sum += published;
                CHECK(std::abs(ours[d] - published) > 0.0051);
                continue;
            }
            INFO(one.name << " on " << rows[d + 1][0]);
            CHECK(std::abs(ours[d] - published) <= 0.0051);
            // The calculator prints two decimals, and its sums are of what it prints.
            sum += std::round(ours[d] * 100.0) / 100.0;
        }
        CHECK(published_sum == Approx(one.yearly_sum).margin(0.005));
        CHECK(sum == Approx(one.yearly_sum).margin(0.05));
        CHECK(days_off ==
              (excepted.contains(one.name) ? static_cast<int>(excepted.at(one.name).size()) : 0));
    }
}

TEST_CASE("Zalom et al. 1983, table 7, every row: lower 55 °F, upper 90 °F, horizontal") {
    if (reference::is_missing()) { return; }
    // Read second-hand in cran/degday, tests/testthat/zalom83_tbl7.RData. One misprint: row 9's
    // double triangle, 24.88 for 27.125, which degday's own test leaves out too.
    auto const rows = reference::rows_of(reference::check_file("degree_days_zalom1983_table7.csv"));
    method const methods[] = {method::single_triangle, method::double_triangle, method::single_sine,
                              method::double_sine};
    int compared = 0;
    for (std::size_t r = 1; r < rows.size(); ++r) {
        for (std::size_t m = 0; m < 4; ++m) {
            if (rows[r][4 + m] == "24.88") { continue; }
            INFO("row " << r << ", " << ep::to_string(methods[m]));
            CHECK(ep::degree_days(std::stod(rows[r][1]), std::stod(rows[r][2]),
                                  std::stod(rows[r][3]),
                                  {.base = 55, .upper = 90, .method = methods[m]}) ==
                  Approx(std::stod(rows[r][4 + m])).margin(0.0051));
            ++compared;
        }
    }
    CHECK(compared == 47);
}

TEST_CASE("the printed numbers of degday 0.4.0: Esparto 2020, lower 55, upper 93.9 °F") {
    // README of the R package degday: single triangle, single sine, double triangle, double sine.
    struct row {
        double low, high, next, values[4];
    };
    method const methods[] = {method::single_triangle, method::single_sine, method::double_triangle,
                              method::double_sine};
    for (row const& one :
         {row{36, 67, 33, {2.32, 3.31, 2.22, 3.23}}, row{38, 63, 36, {1.28, 1.99, 1.23, 1.95}}}) {
        for (int m = 0; m < 4; ++m) {
            CHECK(ep::degree_days(one.low, one.high, one.next,
                                  {.base = 55, .upper = 93.9, .method = methods[m]}) ==
                  Approx(one.values[m]).margin(0.0051));
        }
    }
}

TEST_CASE("McMaster and Wilhelm 1997, table 1, every row: base 0 °C") {
    if (reference::is_missing()) { return; }
    // Read second-hand in cran/degday, tests/testthat/mcmaster97_tbl1.RData: method 1 cuts the mean
    // at the base, method 2 cuts maximum and minimum first. Exact. By the paper's abstract the two
    // differ only where the minimum is below the base, and then method 1 gives less.
    auto const rows =
        reference::rows_of(reference::check_file("degree_days_mcmaster_wilhelm1997_table1.csv"));
    REQUIRE(rows.size() == 11);
    for (std::size_t r = 1; r < rows.size(); ++r) {
        double const high = std::stod(rows[r][0]);
        double const low = std::stod(rows[r][1]);
        INFO("row " << r << ": " << low << " to " << high << " °C");
        double const mean_cut = ep::degree_days(low, high, low, {.method = method::average});
        double const both_cut =
            ep::degree_days(low, high, low, {.method = method::average_floored});
        CHECK(mean_cut == std::stod(rows[r][2]));
        CHECK(both_cut == std::stod(rows[r][3]));
        if (low >= 0.0) {
            CHECK(mean_cut == both_cut);
        } else {
            CHECK(mean_cut <= both_cut);
        }
    }
}

TEST_CASE("the 86/50 rule for maize: each published day, three days together, the most a day has") {
    // Exact. Maximum, minimum, degree-days, °F. Waushara Argus, 25 April 2018, extension column
    // (three days: 43.0); Ohio State University Extension, Karhoff 2023; Iowa State University,
    // Agron 541, lesson 2b (36 is the most).
    struct row {
        double high, low, sum;
    };
    ep::degree_day_rule const maize{.base = 50, .upper = 86, .method = method::average_floored};
    for (row const& one : {row{90, 65, 25.5}, row{72, 46, 11.0}, row{63, 42, 6.5},
                           row{87, 63, 24.5}, row{70, 50, 10.0}, row{110, 95, 36.0}}) {
        INFO(one.low << " to " << one.high << " °F");
        CHECK(ep::degree_days(one.low, one.high, one.low, maize) == one.sum);
    }
    std::vector<double> const low = {65, 46, 42};
    std::vector<double> const high = {90, 72, 63};
    std::vector<double> sums(3);
    ep::degree_days(low, high, maize, sums);
    CHECK(sums[0] + sums[1] + sums[2] == 43.0);
}

TEST_CASE("the four cases of a meteorological office are the triangle in straight pieces") {
    // met.ie/climate/data03.asp, and the same rule for days above the base in metcalc2.php of
    // Rothamsted-Ecoinformatics/old-era: m - B where the minimum is at or above the base B; 0 where
    // the maximum is at or below it; between, (max - B) / 2 - (B - min) / 4 where the mean m is
    // above the base, (max - B) / 4 where it is below.
    auto const four_cases = [](double low, double high, double base) {
        double const mean = (low + high) / 2.0;
        if (low >= base) { return mean - base; }
        if (high <= base) { return 0.0; }
        return mean > base ? (high - base) / 2.0 - (base - low) / 4.0 : (high - base) / 4.0;
    };
    CHECK(four_cases(1.0, 12.0, 5.0) == 2.5);
    CHECK(four_cases(0.0, 8.0, 5.0) == 0.75);

    // With u = (B - min) / range, the triangle has range · (1 - u)² / 2 and the four cases are its
    // chords between u = 0, 1/2 and 1: alike there, above it elsewhere, by range / 32 at most.
    ep::degree_day_rule const triangle{.base = 5.0, .method = method::single_triangle};
    for (double range = 0.5; range <= 25.0; range += 0.5) {
        for (int step = -8; step <= 24; ++step) {
            double const low = 5.0 - range * step / 16.0;
            double const high = low + range;
            double const by_cases = four_cases(low, high, 5.0);
            double const found = ep::degree_days(low, high, low, triangle);
            CAPTURE(low, high, by_cases, found);
            CHECK(found <= by_cases + 1e-12);
            CHECK(found >= by_cases - range / 32.0 - 1e-12);
            if (step <= 0 || step == 8 || step >= 16) { CHECK(found == Approx(by_cases)); }
            // The bound is met half-way along each chord.
            if (step == 4 || step == 12) { CHECK(found == Approx(by_cases - range / 32.0)); }
        }
    }
}

TEST_CASE("FAO-56 day length at fourteen latitudes through the year, as NCL computes it") {
    if (reference::is_missing()) { return; }
    // Produced by NCAR's NCL (daylight_fao56), from NCAR/geocat-comp, test data, Apache-2.0.
    auto const rows = reference::rows_of(reference::check_file("daylight_fao56_ncl.csv"));
    REQUIRE(rows.size() > 100);
    ep::day const new_year = ep::make_day(2027, 1, 1);
    for (std::size_t r = 1; r < rows.size(); ++r) {
        ep::day const when = new_year + ep::days{std::stoi(rows[r][0]) - 1};
        double const where = std::stod(rows[r][1]);
        // Agreement within 1e-4 h is claimed for |latitude| <= 65.
        if (std::abs(where) > 65.0) { continue; }
        INFO("day " << rows[r][0] << ", latitude " << where);
        CHECK(ep::day_length(ep::latitude{where}, when, ep::day_length_model::fao56) ==
              Approx(std::stod(rows[r][2])).margin(1e-4));
    }
}

TEST_CASE("FAO-56 examples 8 and 9: 3 September at 20 degrees south") {
    // Allen et al. 1998, read second-hand in PyETo tests/test_fao.py, which cites pages 80 and 83:
    // day 246, sunset hour angle 1.527, 11.7 h, each to half of its last digit. Unrounded 11.66559
    // in the documentation of NCL's daylight_fao56.
    double const hours =
        ep::day_length(ep::latitude{-20.0}, ep::make_day(2027, 9, 3), ep::day_length_model::fao56);
    CHECK(ep::detail::day_of_year(ep::make_day(2027, 9, 3)) == 246);
    CHECK(hours == Approx(11.7).margin(0.05));
    CHECK(hours * std::numbers::pi / 24.0 == Approx(1.527).margin(0.0005));
    CHECK(hours == Approx(11.66559).margin(1e-4));
}

TEST_CASE("day length at the solstices from 60 degrees south to 80 north, without refraction") {
    // Ouranosinc/xclim, tests/test_helpers.py: 21 June, two decimals; 21 December is its mirror
    // image. Tolerance 0.01 h by the method used there, 0.05 h by FAO-56; ours keep the closer one.
    std::pair<double, double> const june[] = {{-60.0, 5.51}, {-45.0, 8.57}, {-30.0, 10.07},
                                              {0.0, 12.00},  {30.0, 13.93}, {45.0, 15.43},
                                              {60.0, 18.49}, {80.0, 24.0},  {-80.0, 0.0}};
    for (auto const& [north, hours] : june) {
        CAPTURE(north);
        for (auto const& [where, when] : {std::pair{north, ep::make_day(1993, 6, 21)},
                                          std::pair{-north, ep::make_day(1993, 12, 21)}}) {
            CHECK(ep::day_length(ep::latitude{where}, when, ep::day_length_model::fao56) ==
                  Approx(hours).margin(0.01));
            CHECK(ep::day_length(ep::latitude{where}, when, ep::day_length_model::cbm, 0.0) ==
                  Approx(hours).margin(0.01));
        }
    }
}

TEST_CASE("Keisling 1982: 33.4 degrees north, day 201, the sun 1.54 degrees below the horizon") {
    // Keisling, Agronomy Journal 74:758-759, equations 1 to 6, read in
    // soilwater/pynotes-agriscience, exercises/photoperiod.ipynb, which prints the paper's own
    // example. Tolerance 1e-3.
    auto const radians = [](double degrees) {
        return degrees * std::numbers::pi / 180.0;
    };
    auto const hours = [&](double below, double declination) {
        double const north = radians(33.4);
        double const cosine =
            std::cos(radians(90.0 + below)) / (std::cos(north) * std::cos(declination)) -
            std::tan(north) * std::tan(declination);
        return 24.0 / std::numbers::pi * std::acos(cosine);
    };
    double const below = -4.76 - 1.03 * std::log(2.206e-3);
    double const anomaly = 0.9856 * 201 - 3.251;
    double const along = anomaly + 1.916 * std::sin(radians(anomaly)) +
                         0.020 * std::sin(radians(2.0 * anomaly)) + 282.565;
    double const declination = std::asin(std::sin(radians(23.44)) * std::sin(radians(along)));
    CHECK(below == Approx(1.540072).margin(1e-3));
    CHECK(anomaly == Approx(194.8546).margin(1e-3));
    CHECK(along == Approx(476.93831).margin(1e-3));
    CHECK(declination == Approx(radians(20.77055)).margin(radians(1e-3)));
    CHECK(hours(below, declination) == Approx(14.2040).margin(1e-3));

    // The library has the models of Forsythe and of FAO-56, not this one. What the angle below the
    // horizon adds to the day is the same function and agrees to the same 1e-3; the declination is
    // that of an orbit of their own (20.83 degrees here), a third of a day's movement away, which
    // at this latitude is 0.006 h.
    ep::day const when = ep::make_day(2027, 7, 20);
    ep::latitude const where{33.4};
    REQUIRE(ep::detail::day_of_year(when) == 201);
    auto const cbm = [&](ep::day on, double angle) {
        return ep::day_length(where, on, ep::day_length_model::cbm, angle);
    };
    CHECK(cbm(when, below) - cbm(when, 0.0) ==
          Approx(hours(below, declination) - hours(0.0, declination)).margin(1e-3));
    CHECK(cbm(when, below) > 14.2040);
    CHECK(cbm(when + ep::days{1}, below) < 14.2040);
    CHECK(cbm(when, below) == Approx(14.2040).margin(0.0065));
}

TEST_CASE("monthly mean day length at Los Angeles, US Naval Observatory") {
    // 34°05' N; read second-hand in PyETo tests/test_thornthwaite.py, citing aa.usno.navy.mil.
    double const published[] = {10.182, 10.973, 11.985, 13.046, 13.940, 14.388,
                                14.163, 13.404, 12.374, 11.320, 10.401, 9.928};
    ep::latitude const where{34.0 + 5.0 / 60.0};
    for (unsigned month = 1; month <= 12; ++month) {
        ep::day const first = ep::make_day(2027, month, 1);
        ep::day const next =
            month == 12 ? ep::make_day(2028, 1, 1) : ep::make_day(2027, month + 1, 1);
        double cbm = 0.0;
        double fao56 = 0.0;
        for (ep::day d = first; d < next; d += ep::days{1}) {
            cbm += ep::day_length(where, d);
            fao56 += ep::day_length(where, d, ep::day_length_model::fao56);
        }
        double const count = static_cast<double>((next - first).count());
        CHECK(cbm / count == Approx(published[month - 1]).margin(0.06));
        CHECK(fao56 / count == Approx(published[month - 1]).margin(0.24));
    }
}

TEST_CASE("ISO weeks at every turn of the year from 1970 to 2100") {
    if (reference::is_missing()) { return; }
    // Python's datetime.isocalendar.
    auto const rows = reference::rows_of(reference::check_file("iso8601_week_edges_1970-2100.csv"));
    REQUIRE(rows.size() > 1000);
    for (std::size_t r = 1; r < rows.size(); ++r) {
        ep::iso_week_date const week = ep::iso_week_of(ep::parse_iso_day(rows[r][0]));
        CHECK(week == ep::iso_week_date{std::stoi(rows[r][1]), std::stoi(rows[r][2]),
                                        std::stoi(rows[r][3])});
    }
}

TEST_CASE("ISO weeks stated in texts, and the years of 53 weeks") {
    // ISO 8601:2000, 5.2.3.1, Kuhn's summary and the encyclopaedia's article, all by Python's
    // datetime too.
    std::pair<char const*, ep::iso_week_date> const stated[] = {
        {"1977-01-01", {1976, 53, 6}},
        {"1977-01-02", {1976, 53, 7}},
        {"1977-12-31", {1977, 52, 6}},
        {"1978-01-01", {1977, 52, 7}},
        {"1978-01-02", {1978, 1, 1}},
        {"2006-12-31", {2006, 52, 7}},
        {"1996-12-30", {1997, 1, 1}},
        {"1997-01-05", {1997, 1, 7}},
        {"1985-04-12", {1985, 15, 5}},
        // One page of the web says 2023-W01-6.
        {"2022-12-31", {2022, 52, 6}}};
    for (auto const& [day, week] : stated) {
        CAPTURE(day);
        CHECK(ep::iso_week_of(ep::parse_iso_day(day)) == week);
    }
    std::vector<int> long_years;
    for (int year = 2001; year <= 2050; ++year) {
        // 28 December is always in the last week.
        if (ep::iso_week_of(ep::make_day(year, 12, 28)).week == 53) { long_years.push_back(year); }
    }
    CHECK(long_years == std::vector<int>{2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048});
}
