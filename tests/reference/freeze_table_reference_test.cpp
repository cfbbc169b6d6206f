// The sheet of freeze dates on two stations of 1981 to 2010.
#include "catch.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/frost/freeze_table.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "reference_data.hpp"

using namespace epicotyl;

namespace {

daily_record station(char const* name) {
    return read_ghcn_daily(reference::data_file(name));
}

freeze_table normals(daily_record const& record, freeze_estimator estimator) {
    freeze_table_options options;
    options.estimator = estimator;
    options.freezes.years = year_selection::between(1981, 2010);
    return freeze_table{record, options};
}

char const* const stations[] = {"USW00094728_TMAX_TMIN_1869-2020.dly.gz",
                                "USC00102707_TMAX_TMIN_1925-2019.dly.gz"};

/// Left is not later than right, where both are dates.
void check_order(freeze_answer const& left, freeze_answer const& right) {
    if (left.is_dated() && right.is_dated()) { CHECK(left.days <= right.days); }
}

}  // namespace

TEST_CASE("a colder threshold and a greater chance never give a later last freeze, and so on") {
    if (reference::is_missing()) { return; }
    // The orderings of every official table: with the chance the last date goes earlier, the first
    // later, the season shorter; with the cold the last goes earlier, the first later, the season
    // longer.
    for (char const* const name : stations) {
        CAPTURE(name);
        freeze_table const table = normals(station(name), freeze_estimator::empirical);
        std::size_t const columns = table.chances().size();
        for (std::size_t r = 0; r < table.rows().size(); ++r) {
            freeze_table_row const& row = table.rows()[r];
            for (std::size_t c = 0; c + 1 < columns; ++c) {
                check_order(row.last[c + 1], row.last[c]);
                check_order(row.first[c], row.first[c + 1]);
                check_order(row.frost_free[c + 1], row.frost_free[c]);
            }
            if (r == 0) { continue; }
            freeze_table_row const& warmer = table.rows()[r - 1];
            for (std::size_t c = 0; c < columns; ++c) {
                check_order(row.last[c], warmer.last[c]);
                check_order(warmer.first[c], row.first[c]);
                check_order(warmer.frost_free[c], row.frost_free[c]);
            }
        }
    }
}

TEST_CASE("the sheet's usual dates at 32 °F lie within the tolerance of the official ones") {
    if (reference::is_missing()) { return; }
    // Freeze normals 1981-2010 at 32 °F, P50 and P90 (P90 stands for the early spring date), from
    // the files ann-tmin-prblst, prbfst and prbgsl. Normals rest on homogenised days: Central Park
    // within 5 days and 8 of the season, Dubois within 7 and 12.
    struct row {
        int last_50, last_90, first_50, first_90;  // days from 1 January, from 1 August
        int season_50, season_90, dates_within, season_within;
    };
    // Central Park: 1 April, 18 March, 18 November, 3 December. Dubois: 28 May, 12 May, 22
    // September, 5 October.
    row const published[] = {{90, 76, 109, 124, 230, 211, 5, 8},
                             {147, 131, 52, 65, 116, 91, 7, 12}};
    for (std::size_t s = 0; s < 2; ++s) {
        CAPTURE(stations[s]);
        freeze_table const table = normals(station(stations[s]), freeze_estimator::empirical);
        freeze_table_row const& at_32 = table.rows()[1];
        row const& wanted = published[s];
        CHECK(at_32.last[4].days == Approx(wanted.last_50).margin(wanted.dates_within));
        CHECK(at_32.last[8].days == Approx(wanted.last_90).margin(wanted.dates_within));
        CHECK(at_32.first[4].days == Approx(wanted.first_50).margin(wanted.dates_within));
        CHECK(at_32.first[8].days == Approx(wanted.first_90).margin(wanted.dates_within));
        CHECK(at_32.frost_free[4].days == Approx(wanted.season_50).margin(wanted.season_within));
        CHECK(at_32.frost_free[8].days == Approx(wanted.season_90).margin(wanted.season_within));
    }
}

TEST_CASE("the sheet prints in both units, every line of a part as wide as its heading") {
    if (reference::is_missing()) { return; }
    daily_record const record = station(stations[0]);
    freeze_table const table = normals(record, freeze_estimator::fitted);
    fmt::print("{}\n{}", to_text(table), to_text(table, temperature_unit::fahrenheit));
    CHECK(to_text(table).find("Last freeze: years in 10 with a freeze on or after the day") !=
          std::string::npos);
    CHECK(to_text(table, temperature_unit::fahrenheit).find("\n     32 °F") != std::string::npos);
}
