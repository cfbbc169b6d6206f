// The official normals of 1981-2010 and 1991-2020: warmth of a year, a full row of freeze dates,
// and how the length of a season is counted.
//
// Source of all normals here: National Centers for Environmental Information, U.S. Climate Normals
// [ncei2011], station by station where it is named.
#include "catch.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <map>
#include <span>
#include <string>
#include <vector>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/clock/degree_days.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "reference_data.hpp"

using namespace epicotyl;

namespace {

char const* const central_park = "USW00094728_TMAX_TMIN_1869-2020.dly.gz";
char const* const dubois = "USC00102707_TMAX_TMIN_1925-2019.dly.gz";

/// Degree-days above a base [°F day] of a calendar year, and on how many days they rest.
struct year_of_warmth {
    double sum = 0.0;
    int days = 0;
};

std::map<int, year_of_warmth> warmth_of_years(daily_record const& record, double base) {
    auto const in_fahrenheit = [](std::span<double const> celsius) {
        std::vector<double> result;
        // Observed in whole °F, filed in tenths of a degree Celsius.
        for (double const value : celsius) {
            result.push_back(std::round(value * 9.0 / 5.0 + 32.0));
        }
        return result;
    };
    std::vector<double> low = in_fahrenheit(record.tmin());
    std::vector<double> high = in_fahrenheit(record.tmax());
    for (std::size_t k = 0; k < low.size(); ++k) {
        if (low[k] > high[k]) { low[k] = high[k] = std::numeric_limits<double>::quiet_NaN(); }
    }
    std::vector<double> sums(low.size());
    degree_days(low, high, {.base = base, .method = degree_day_method::average}, sums);
    std::map<int, year_of_warmth> years;
    for (std::size_t k = 0; k < sums.size(); ++k) {
        date::year_month_day const on{record.start() + days{static_cast<int>(k)}};
        year_of_warmth& year = years[int{on.year()}];
        if (std::isnan(sums[k])) { continue; }
        year.sum += sums[k];
        ++year.days;
    }
    return years;
}

/// Mean of the years of 1981-2010 that have 360 days or more.
double mean_warmth(daily_record const& record, double base, int& years_used) {
    double sum = 0.0;
    years_used = 0;
    for (auto const& [year, warmth] : warmth_of_years(record, base)) {
        if (year < 1981 || year > 2010 || warmth.days < 360) { continue; }
        sum += warmth.sum;
        ++years_used;
    }
    return sum / years_used;
}

constexpr std::array<double, 6> thresholds = {16.0, 20.0, 24.0, 28.0, 32.0, 36.0};
constexpr std::array<int, 9> levels = {10, 20, 30, 40, 50, 60, 70, 80, 90};

/// One threshold's nine levels, as days from 1 January of a common year and as days.
struct official_row {
    std::array<int, 9> last;
    std::array<int, 9> first;
    std::array<double, 9> season;
};

int offset_in_common_year(std::string const& month_and_day) {
    day const on = make_day(2001, static_cast<unsigned>(std::stoi(month_and_day.substr(0, 2))),
                            static_cast<unsigned>(std::stoi(month_and_day.substr(3, 2))));
    return static_cast<int>((on - make_day(2001, 1, 1)).count());
}

/// Lebanon, New Hampshire, USW00094765, by period and threshold [°F].
std::map<std::string, std::map<double, official_row>> lebanon() {
    // Files annualseasonal of both periods, in stactools-packages/noaa-climate-normals, test data.
    auto rows = reference::rows_of(reference::check_file("ncei_lebanon_nh_freeze_normals.csv"));
    REQUIRE(rows.size() == 1 + 2 * 6 * 3 * 9);
    rows.erase(rows.begin());
    std::map<std::string, std::map<double, official_row>> found;
    for (auto const& row : rows) {
        REQUIRE(row[0] == "USW00094765");
        official_row& into = found[row[1]][std::stod(row[2])];
        auto const level = static_cast<std::size_t>(std::stoi(row[4]) / 10 - 1);
        if (row[3] == "PRBLST") { into.last[level] = offset_in_common_year(row[5]); }
        if (row[3] == "PRBFST") { into.first[level] = offset_in_common_year(row[5]); }
        if (row[3] == "PRBGSL") { into.season[level] = std::stod(row[5]); }
    }
    return found;
}

/// Days from 1 January to 1 August of a common year, from where first freezes are counted.
constexpr int to_august = 212;

}  // namespace

TEST_CASE("degree-days of a year above 40 and 50 °F stand near the normals of 1981-2010") {
    if (reference::is_missing()) { return; }
    // Files ann-grdd-base40 and -base50: max(0, (maximum + minimum) / 2 - base), summed. They rest
    // on homogenised days: within 3 % at Central Park, 8 % at Dubois, where the normals took the
    // afternoon observer's bias out. Beside them what other code made of the same station files.
    struct official {
        char const* file;
        double base;
        double published;
        double share;
        double by_other_code;
        int years;
    };
    official const normals[] = {{central_park, 40.0, 6177.0, 0.03, 6300.3, 30},
                                {central_park, 50.0, 3668.0, 0.03, 3759.2, 30},
                                {dubois, 40.0, 3523.0, 0.08, 3692.4, 29},
                                {dubois, 50.0, 1814.0, 0.08, 1932.2, 29}};
    for (official const& normal : normals) {
        INFO(normal.file << ", base " << normal.base << " °F");
        int years = 0;
        double const mean =
            mean_warmth(read_ghcn_daily(reference::data_file(normal.file)), normal.base, years);
        fmt::print("{:.11}, above {} °F: {:.1f} °F day a year, official {}, {:+.1f} %\n",
                   normal.file, normal.base, mean, normal.published,
                   100.0 * (mean / normal.published - 1.0));
        CHECK(years == normal.years);
        CHECK(std::abs(mean / normal.published - 1.0) <= normal.share);
        CHECK(mean == Approx(normal.by_other_code).margin(0.05));
    }
}

TEST_CASE("an official row of freeze dates keeps the order that every result here keeps") {
    if (reference::is_missing()) { return; }
    for (auto const& [period, rows] : lebanon()) {
        REQUIRE(rows.size() == thresholds.size());
        for (double const threshold : thresholds) {
            INFO(period << ", " << threshold << " °F");
            official_row const& row = rows.at(threshold);
            for (std::size_t k = 0; k + 1 < levels.size(); ++k) {
                CHECK(row.last[k] > row.last[k + 1]);
                CHECK(row.first[k] < row.first[k + 1]);
                CHECK(row.season[k] > row.season[k + 1]);
            }
            if (threshold == thresholds.front()) { continue; }
            official_row const& colder = rows.at(threshold - 4.0);
            for (std::size_t k = 0; k < levels.size(); ++k) {
                CHECK(colder.last[k] < row.last[k]);
                CHECK(colder.first[k] > row.first[k]);
                CHECK(colder.season[k] > row.season[k]);
            }
        }
    }
    // The row of 32 °F, 1981-2010, P10 to P90, as it is printed.
    official_row const row = lebanon().at("1981-2010").at(32.0);
    char const* const last[] = {"05/24", "05/19", "05/15", "05/12", "05/09",
                                "05/06", "05/03", "04/30", "04/26"};
    char const* const first[] = {"09/25", "09/29", "10/01", "10/03", "10/05",
                                 "10/07", "10/09", "10/12", "10/15"};
    double const season[] = {165, 159, 154, 150, 147, 143, 140, 135, 129};
    for (std::size_t k = 0; k < levels.size(); ++k) {
        CHECK(row.last[k] == offset_in_common_year(last[k]));
        CHECK(row.first[k] == offset_in_common_year(first[k]));
        CHECK(row.season[k] == season[k]);
    }
}

TEST_CASE("nine years on the nine dates of an official row give that row back, level by level") {
    if (reference::is_missing()) { return; }
    // The i-th of nine years stands at i / 10: its date is the official one of that chance, if both
    // mean the same by it. P10 of the last freeze is a late date, P10 of the first an early one.
    for (auto const& [period, rows] : lebanon()) {
        for (auto const& [threshold, row] : rows) {
            INFO(period << ", " << threshold << " °F");
            day const start = make_day(1981, 1, 1);
            auto const size = static_cast<std::size_t>((make_day(1990, 1, 1) - start).count());
            std::vector<double> tmin(size, 20.0);
            temperature const limit = temperature::from_fahrenheit(threshold);
            for (std::size_t k = 0; k < levels.size(); ++k) {
                date::year const year{1981 + static_cast<int>(k)};
                day const last = day{year / 1 / 1} + days{row.last[k]};
                day const first = day{year / 8 / 1} + days{row.first[k] - to_august};
                for (day const freeze : {last, first}) {
                    tmin[static_cast<std::size_t>((freeze - start).count())] = limit.celsius();
                }
            }
            freeze_risk const risk{daily_record{start, tmin, std::vector<double>(size, 30.0)},
                                   limit, freeze_estimator::empirical};
            for (std::size_t k = 0; k < levels.size(); ++k) {
                INFO("P" << levels[k]);
                chance const p{levels[k] / 100.0};
                CHECK(*risk.last_freeze(p) == Approx(row.last[k]));
                CHECK(*risk.first_freeze(p) == Approx(row.first[k] - to_august));
            }
        }
    }
}

TEST_CASE("a season is the days strictly between two freezes, here as in official tables") {
    if (reference::is_missing()) { return; }
    // First less last less season, each at P50: over 5,312 stations of the 1981-2010 normals with a
    // last freeze by July and a first from August the mean is 0.92 and the median 1. So it must be
    // over a mean of rows, within 0.5.
    double official = 0.0;
    int rows = 0;
    for (auto const& [period, by_threshold] : lebanon()) {
        for (auto const& [threshold, row] : by_threshold) {
            official += row.first[4] - row.last[4] - row.season[4];
            ++rows;
        }
    }
    CHECK(rows == 12);
    CHECK(official / rows == Approx(1.0).margin(0.5));

    // Medians of 30 years do not add up, so ours are asked year by year, by days of the year, and
    // by the fitted P50, a mean. First freezes are counted from 1 August: in leap years, 7 of these
    // 30, a day less than from 1 January.
    for (char const* const file : {central_park, dubois}) {
        daily_record const record = read_ghcn_daily(reference::data_file(file));
        double ours = 0.0;
        int spans = 0;
        for (double const threshold : thresholds) {
            // Half a tenth for whole °F filed in tenths of a degree Celsius.
            freeze_risk const risk{
                record,
                temperature::from_fahrenheit(threshold) + temperature_span::from_kelvin(0.05),
                freeze_estimator::fitted,
                {.years = year_selection::between(1981, 2010)}};
            for (frost_free_span const& span : risk.dates().frost_free()) {
                if (!span.length) { continue; }
                freeze_year const& year =
                    risk.dates().years()[static_cast<std::size_t>(span.year - 1981)];
                REQUIRE(year.year == span.year);
                ours += static_cast<double>((*year.first() - *year.last()).count()) - *span.length;
                ++spans;
            }
            if (risk.frost_free_sample().values.size() < 30) { continue; }
            INFO(file << ", " << threshold << " °F");
            chance const half{0.5};
            CHECK(*risk.first_freeze(half) + to_august + 7.0 / 30.0 - *risk.last_freeze(half) -
                      *risk.frost_free_days(half) ==
                  Approx(1.0).margin(0.5));
        }
        CHECK(spans > 120);
        CHECK(ours / spans == Approx(1.0).margin(1e-12));
    }
}
