// Which none it is, and the sheet of freeze dates.
#include "catch.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/freeze_answer.hpp>
#include <epicotyl/frost/freeze_table.hpp>

using namespace epicotyl;

namespace {

temperature const zero = temperature::from_celsius(0.0);
std::optional<int> const none = std::nullopt;

/// A record from 1 January 2001 with one night of -1 °C in each half, on these offsets from 1
/// January and from 1 August.
daily_record record_of(std::vector<std::pair<std::optional<int>, std::optional<int>>> const& years,
                       double otherwise = 10.0) {
    day const start = make_day(2001, 1, 1);
    auto const count = static_cast<int>(years.size());
    std::vector<double> tmin(
        static_cast<std::size_t>((make_day(2001 + count, 1, 1) - start).count()), otherwise);
    auto const put = [&](day half, std::optional<int> offset) {
        if (offset) { tmin[static_cast<std::size_t>((half - start).count() + *offset)] = -1.0; }
    };
    for (int k = 0; k < count; ++k) {
        put(make_day(2001 + k, 1, 1), years[static_cast<std::size_t>(k)].first);
        put(make_day(2001 + k, 8, 1), years[static_cast<std::size_t>(k)].second);
    }
    return {start, tmin, std::vector<double>(tmin.size(), 20.0), "Marlpit"};
}

freeze_risk risk_of(daily_record const& record, freeze_estimator estimator) {
    return freeze_risk{record, zero, estimator};
}

}  // namespace

TEST_CASE("a place without frost answers none, whatever the chance and estimator") {
    daily_record const record = record_of({{none, none}, {none, none}, {none, none}});
    for (auto const how : {freeze_estimator::empirical, freeze_estimator::fitted}) {
        freeze_risk const risk = risk_of(record, how);
        for (double const p : {0.1, 0.5, 0.9}) {
            CHECK(last_freeze_answer(risk, chance{p}).state == freeze_state::no_frost);
            CHECK(first_freeze_answer(risk, chance{p}).state == freeze_state::no_frost);
            CHECK(frost_free_answer(risk, chance{p}).state == freeze_state::no_frost);
        }
    }
}

TEST_CASE("frost on every night is frost all year, and no day is left between") {
    daily_record const record =
        record_of({{none, none}, {none, none}, {none, none}, {none, none}}, -5.0);
    for (auto const how : {freeze_estimator::empirical, freeze_estimator::fitted}) {
        freeze_risk const risk = risk_of(record, how);
        for (double const p : {0.2, 0.5, 0.8}) {
            CHECK(last_freeze_answer(risk, chance{p}).state == freeze_state::frost_all_year);
            CHECK(first_freeze_answer(risk, chance{p}).state == freeze_state::frost_all_year);
            CHECK(frost_free_answer(risk, chance{p}).state == freeze_state::frost_all_year);
        }
    }
}

TEST_CASE("frost all year in some years only: none of the safe days, the usual ones stand") {
    // 2001 has a freeze on 20 July and one on 10 August: 20 days. Three years are ordinary.
    daily_record const record = record_of({{200, 9}, {90, 80}, {100, 70}, {110, 90}});
    freeze_risk const risk = risk_of(record, freeze_estimator::empirical);
    CHECK(last_freeze_answer(risk, chance{0.2}).state == freeze_state::frost_all_year);
    CHECK(first_freeze_answer(risk, chance{0.25}).state == freeze_state::frost_all_year);
    CHECK(last_freeze_answer(risk, chance{0.4}).is_dated());
    CHECK(last_freeze_answer(risk, chance{0.4}).days == Approx(110.0));
    CHECK(first_freeze_answer(risk, chance{0.4}).days == Approx(70.0));
}

TEST_CASE("no day: years without a freeze are told from years that do not reach so far") {
    // Four years, one spring without a freeze: positions 1/5 ... 4/5.
    daily_record const record = record_of({{90, 80}, {none, 70}, {100, 75}, {110, 90}});
    freeze_risk const empirical = risk_of(record, freeze_estimator::empirical);
    CHECK(last_freeze_answer(empirical, chance{0.1}).state == freeze_state::beyond_record);
    CHECK(last_freeze_answer(empirical, chance{0.8}).state == freeze_state::no_frost);
    CHECK(last_freeze_answer(empirical, chance{0.9}).state == freeze_state::no_frost);
    CHECK(first_freeze_answer(empirical, chance{0.1}).state == freeze_state::beyond_record);
    CHECK(first_freeze_answer(empirical, chance{0.9}).state == freeze_state::beyond_record);
    freeze_risk const fitted = risk_of(record, freeze_estimator::fitted);
    CHECK(last_freeze_answer(fitted, chance{0.1}).is_dated());
    CHECK(last_freeze_answer(fitted, chance{0.74}).is_dated());
    CHECK(last_freeze_answer(fitted, chance{0.75}).state == freeze_state::no_frost);
    CHECK(last_freeze_answer(fitted, chance{0.0}).state == freeze_state::beyond_record);
    CHECK(first_freeze_answer(fitted, chance{1.0}).state == freeze_state::beyond_record);
}

TEST_CASE("an answer that is dated is that of the risk it was taken from") {
    daily_record const record = record_of({{90, 80}, {95, 70}, {100, 75}, {110, 90}});
    for (auto const how : {freeze_estimator::empirical, freeze_estimator::fitted}) {
        freeze_risk const risk = risk_of(record, how);
        for (int tenths = 2; tenths <= 8; ++tenths) {
            chance const p{tenths / 10.0};
            CHECK(last_freeze_answer(risk, p).days == *risk.last_freeze(p));
            CHECK(first_freeze_answer(risk, p).days == *risk.first_freeze(p));
            CHECK(frost_free_answer(risk, p).days == *risk.frost_free_days(p));
        }
    }
}

TEST_CASE("without a whole pair of halves nothing is known, and nothing is thrown") {
    // Spring alone: the record ends on 31 July.
    day const start = make_day(2001, 1, 1);
    std::vector<double> tmin(212, 10.0);
    tmin[90] = -1.0;
    freeze_options options;
    options.years = year_selection::all();
    freeze_risk const risk{daily_record{start, tmin, std::vector<double>(tmin.size(), 20.0)}, zero,
                           freeze_estimator::fitted, options};
    CHECK(last_freeze_answer(risk, chance{0.5}).days == 90.0);
    CHECK(first_freeze_answer(risk, chance{0.5}).state == freeze_state::beyond_record);
    CHECK(frost_free_answer(risk, chance{0.5}).state == freeze_state::beyond_record);
}

TEST_CASE("years are counted on the day itself, with their band") {
    daily_record const record = record_of({{90, 80}, {none, 70}, {100, 75}, {110, 90}});
    freeze_risk const risk = risk_of(record, freeze_estimator::fitted);
    CHECK(counted_later(risk, 100.0) == chance_band(2, 4));
    CHECK(counted_later(risk, 100.5) == chance_band(1, 4));
    CHECK(counted_later(risk, 0.0) == chance_band(3, 4));
    CHECK(counted_earlier(risk, 75.0) == chance_band(2, 4));
    CHECK(counted_earlier(risk, 69.0, band_confidence{0.8}) ==
          chance_band(0, 4, band_confidence{0.8}));
}

TEST_CASE("the sheet is aligned, says its direction in words, and which none is which") {
    daily_record const record = record_of({{200, 9}, {90, 80}, {none, 70}, {110, 90}});
    freeze_table_options options;
    options.estimator = freeze_estimator::empirical;
    options.thresholds = {temperature::from_celsius(2.2), temperature::from_celsius(-6.7)};
    options.chances = {chance{0.1}, chance{0.25}, chance{0.4}, chance{0.8}, chance{0.9}};
    freeze_table const table{record, options};
    // Dates of a common year: 200 is 20 July, 110 is 21 April, 70 from 1 August is 10 October.
    // In order: none, 90, 110, 200; then 9, 70, 80, 90; a chance p is position 5 (1 - p) or 5 p.
    // Lengths, 1 August being day 212, in leap years 213: 20 for 2001, 201 for 2002, none for 2003,
    // 192 for 2004.
    std::string const expected =
        "Marlpit: nights at or below a threshold, 2001 – 2004, 4 years, empirical\n"
        "\n"
        "Last freeze: years in 10 with a freeze on or after the day\n"
        "             1 in 10      25 %   4 in 10   8 in 10   9 in 10\n"
        "    2.2 °C  all year  all year    21 Apr      none      none\n"
        "   -6.7 °C      none      none      none      none      none\n"
        "\n"
        "First freeze: years in 10 with a freeze on or before the day\n"
        "             1 in 10      25 %   4 in 10   8 in 10   9 in 10\n"
        "    2.2 °C  all year  all year    10 Oct    30 Oct         –\n"
        "   -6.7 °C      none      none      none      none      none\n"
        "\n"
        "Frost-free days between the two: years in 10 with as many or more\n"
        "             1 in 10      25 %   4 in 10   8 in 10   9 in 10\n"
        "    2.2 °C  no frost  no frost       201        20         –\n"
        "   -6.7 °C  no frost  no frost  no frost  no frost  no frost\n"
        "\n"
        "none: fewer years than that have such a night\n"
        "no frost: as many years lack one of the two freezes\n"
        "all year: in as many years fewer than 30 days lie between the two\n"
        "–: the years of the record do not reach so far\n"
        "\n"
        "Laid out as the freeze/frost probability tables of the U.S. Climate Normals (NOAA NCEI);\n"
        "the days are worked out from the record named above.\n"
        "\n"
        "caution: Under a clear sky leaves are 1 to 3 °C colder than a station's shelter, 1.2 m "
        "up, "
        "tells.\n"
        "caution: Your garden may be colder than the station, a hollow by several degrees: compare "
        "minima.\n"
        "caution: Counts of past years are no forecast, and thirty years are few.\n";
    CHECK(to_text(table) == expected);
    CHECK(fmt::format("{}", table) == expected);
}

TEST_CASE("in Fahrenheit the six customary thresholds are whole degrees again") {
    std::string const text = to_text(freeze_table{record_of({{90, 80}, {100, 85}, {95, 80}})},
                                     temperature_unit::fahrenheit);
    for (char const* const name : {" 36 °F", " 32 °F", " 28 °F", " 24 °F", " 20 °F", " 16 °F"}) {
        CHECK(text.find(name) != std::string::npos);
    }
    CHECK(text.find("°C") == std::string::npos);
}

TEST_CASE("southern dates of the sheet are those of the southern halves") {
    // 10 September, offset 71 from 1 July; 1 May, offset 89 from 1 February.
    day const start = make_day(2001, 2, 1);
    std::vector<double> tmin(static_cast<std::size_t>((make_day(2007, 2, 1) - start).count()),
                             10.0);
    for (int year = 2001; year < 2007; ++year) {
        for (auto const freeze : {make_day(year, 9, 10), make_day(year, 5, 1)}) {
            tmin[static_cast<std::size_t>((freeze - start).count())] = -1.0;
        }
    }
    freeze_table_options options;
    options.thresholds = {zero};
    options.chances = {chance{0.5}};
    options.freezes.halves = season_halves::for_latitude(latitude{-34.0});
    std::string const text = to_text(
        freeze_table{daily_record{start, tmin, std::vector<double>(tmin.size(), 20.0)}, options});
    CHECK(text.find("    10 Sep\n") != std::string::npos);
    CHECK(text.find("     1 May\n") != std::string::npos);
    CHECK(text.find("       232\n") != std::string::npos);
}

TEST_CASE("a table of nothing is refused") {
    daily_record const record = record_of({{90, 80}});
    freeze_table_options no_thresholds;
    no_thresholds.thresholds.clear();
    CHECK_THROWS_AS((freeze_table{record, no_thresholds}), invalid_input);
    freeze_table_options no_chances;
    no_chances.chances.clear();
    CHECK_THROWS_AS((freeze_table{record, no_chances}), invalid_input);
}
