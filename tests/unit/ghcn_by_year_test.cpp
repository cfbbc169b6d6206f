// The form of GHCN-Daily by year: station, date, element, value, three flags, time.
#include "catch.hpp"

#include <cmath>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

using namespace epicotyl;

namespace {

std::string const park = "USW00094728";
std::string const two_days =
    "USW00094728,20240101,TMAX,-17,,,W,2400\n"
    "USW00094728,20240101,TMIN,-72,,,W,2400\n"
    "USW00094728,20240101,PRCP,3,,,W,2400\n"
    "USW00094728,20240102,TMAX,-28,,,W,2400\n"
    "USW00094728,20240102,TMIN,-61,,,W,2400\n";
std::string const other = "USC00102707,20240101,TMAX,50,,,7,0700\n";

daily_record const record{make_day(2024, 1, 1), {-7.2, -6.1}, {-1.7, -2.8}, "USW00094728"};

std::string message_of(std::string const& text, ghcn_daily_options const& options = {}) {
    try {
        (void)parse_ghcn_daily(text, "2024.csv", options);
    } catch (invalid_input const& fault) {
        CHECK_FALSE(fault.code().empty());
        return fault.what();
    }
    return "accepted";
}

}  // namespace

TEST_CASE("a file by year is known by its first line, with a header or without") {
    CHECK(parse_ghcn_daily(two_days, "2024.csv") == record);
    CHECK(parse_ghcn_daily(two_days, "named.dly") == record);
    CHECK(parse_ghcn_daily("\r\n \n" + two_days, "2024.csv") == record);
    CHECK(parse_ghcn_daily("ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n" + two_days,
                           "2024.csv") == record);
}

TEST_CASE("by year, lines may stand in any order, end in CRLF and have no time") {
    CHECK(parse_ghcn_daily("USW00094728,20240102,TMIN,-61,,,W,\r\n"
                           "USW00094728,20240101,TMAX,-17,,,W,\r\n"
                           "USW00094728,20240102,TMAX,  -28,,,W,\r\n"
                           "USW00094728,20240101,TMIN,-72,,,W,",
                           "2024.csv") == record);
}

TEST_CASE("by year, -9999, a failed quality flag and an absent day are gaps, other flags are not") {
    daily_record const read = parse_ghcn_daily(
        "USW00094728,20240101,TMAX,9990,,X,W,2400\n"  // failed, and not looked at
        "USW00094728,20240102,TMAX,-28,H,,W,2400\n"
        "USW00094728,20240102,TMIN,-9999,,,W,2400\n"
        "USW00094728,20240104,TMAX,10,,I,W,2400\n"
        "USW00094728,20240104,TMIN,-10,,,W,2400\n",
        "2024.csv");
    CHECK(read.start() == make_day(2024, 1, 2));
    CHECK(read.size() == 3);
    CHECK(read.tmax()[0] == -2.8);
    CHECK(std::isnan(read.tmin()[0]));
    CHECK(std::isnan(read.tmin()[1]));
    CHECK(read.tmin()[2] == -1.0);
    CHECK(std::isnan(read.tmax()[2]));
}

TEST_CASE("29 February and new year are days like others in a file by year") {
    daily_record const read = parse_ghcn_daily(
        "USW00094728,20231231,TMIN,1,,,W,\n"
        "USW00094728,20240229,TMIN,2,,,W,\n"
        "USW00094728,20240301,TMIN,3,,,W,\n",
        "f.csv");
    CHECK(read.size() == 62);  // 1 + 31 + 29 + 1
    CHECK(read.tmin()[60] == 0.2);
}

TEST_CASE("of several stations the one named is read, in either form") {
    CHECK(parse_ghcn_daily(other + two_days, "2024.csv", {.station = park}) == record);
    CHECK(parse_ghcn_daily(two_days + other, "2024.csv", {.station = "USC00102707"}).tmax()[0] ==
          5.0);
    // Values of other stations are not looked at.
    CHECK(parse_ghcn_daily("USC00102707,20240101,TMAX,hot,,,7,\n" + two_days, "2024.csv",
                           {.station = park}) == record);

    auto const month = [](std::string const& station, int tenths) {
        std::string line = station + "202401TMIN";
        for (int k = 0; k < 31; ++k) { line += fmt::format("{:5}   ", tenths); }
        return line + "\n";
    };
    std::string const both = month(park, 10) + month("USC00102707", 20);
    CHECK(parse_ghcn_daily(both, "f.dly", {.station = "USC00102707"}) ==
          parse_ghcn_daily(month("USC00102707", 20), "f.dly"));
    CHECK(message_of(both, {.station = "USC00000001"}) ==
          "2024.csv: station: the file has no line of USC00000001; it has USW00094728, "
          "USC00102707; name a station of the file, or give the file that holds this one");
}

TEST_CASE("a file by year that cannot be used is refused with file, line and remedy") {
    std::string many;
    for (int k = 1; k <= 7; ++k) { many += fmt::format("USC0000000{},20240101,TMAX,1,,,7,\n", k); }
    struct bad_file {
        std::string text;
        char const* message;
        ghcn_daily_options options = {};
    };
    std::string const layout =
        " is not a line of GHCN-Daily by year; give eight fields parted by commas: station, date, "
        "element, value, three flags, time; flags and time may be empty";
    std::vector<bad_file> const files = {
        {"ID,DATE,ELEMENT,DATA_VALUE\n", "2024.csv: the file is empty; fetch it again"},
        {two_days + other,
         "2024.csv:6: station: the file holds several stations (USW00094728, USC00102707), and "
         "none is named; name the one to read in the options"},
        {many,
         "2024.csv:2: station: the file holds several stations (USC00000001, USC00000002, "
         "USC00000003, USC00000004, USC00000005 and others), and none is named; name the one to "
         "read in the options"},
        {two_days + other,
         "2024.csv: station: the file has no line of XX; it has USW00094728, USC00102707; name a "
         "station of the file, or give the file that holds this one",
         {.station = "XX"}},
        {"USW00094728,20240101,PRCP,3,,,W,2400\n",
         "2024.csv: element: station USW00094728 has no line of TMIN or TMAX; give a station that "
         "measures temperature"},
        {"USW00094728,20240101,TMAX,3,,I,W,2400\n",
         "2024.csv: minimum, maximum: every value is missing; give a file with daily minimum and "
         "maximum temperatures"},
        {two_days + "USW00094728,20240101,TMIN,-72,,,W,2400\n",
         "2024.csv:6: TMIN 2024-01-01: line 2 has the same day; keep one of the two lines"},
        {two_days + "USW00094728,20240102,TMAX,99,,I,W,2400\n",
         "2024.csv:6: TMAX 2024-01-02: line 4 has the same day; keep one of the two lines"},
        {"USW00094728,20230229,TMIN,1,,,W,\n",
         "2024.csv:1: date: \"20230229\" is not a day of the calendar; write year, month and day "
         "as eight digits, such as 20270301"},
        {"USW00094728,2024-01-01,TMIN,1,,,W,\n",
         "2024.csv:1: date: \"2024-01-01\" is not a day of the calendar; write year, month and day "
         "as eight digits, such as 20270301"},
        {"USW00094728,20240101,TMIN,1.5,,,W,\n",
         "2024.csv:1: TMIN 2024-01-01: \"1.5\" is not a whole number of up to 5 characters; give "
         "tenths of a degree Celsius, -9999 for a missing value"},
        {"USW00094728,20240101,TMIN,12345678901234567890,,,W,\n",
         "2024.csv:1: TMIN 2024-01-01: \"12345678901234567890\" is not a whole number of up to 5 "
         "characters; give tenths of a degree Celsius, -9999 for a missing value"},
        {"USW00094728,20240101,TMIN,,,,W,\n",
         "2024.csv:1: TMIN 2024-01-01: \"\" is not a whole number of up to 5 characters; give "
         "tenths of a degree Celsius, -9999 for a missing value"},
        {"USW00094728,20240101,TMAX,651,,,W,\n",
         "2024.csv:1: TMAX 2024-01-01: 65.1 °C is not an air temperature (allowed: -95 to 65 °C); "
         "give tenths of a degree Celsius, or a quality flag that says the value failed"},
    };
    for (bad_file const& file : files) {
        INFO(file.text);
        CHECK(message_of(file.text, file.options) == file.message);
    }
    CHECK(message_of(two_days + "USW00094728,20240103,TMIN,1\n") ==
          "2024.csv:6: \"USW00094728,20240103,TMIN,1\"" + layout);
    CHECK(message_of(two_days + "USW00094728,20240103,TMIN,1,,,W,0700,9\n") ==
          "2024.csv:6: \"USW00094728,20240103,TMIN,1,,,W,0700,9\"" + layout);
    CHECK(message_of(two_days + "USW94728,20240103,TMIN,1,,,W,0700,and so on, and on\n") ==
          "2024.csv:6: \"USW94728,20240103,TMIN,1,,,W,0700,and so...\"" + layout);
}

TEST_CASE("both forms of the same months give the same record") {
    std::string fixed;
    std::string by_year;
    unsigned state = 7;
    for (int year = 2019; year <= 2020; ++year) {
        for (unsigned month = 1; month <= 12; ++month) {
            for (char const* const element : {"TMAX", "TMIN"}) {
                fixed += fmt::format("{}{}{:02}{}", park, year, month, element);
                auto const length =
                    static_cast<unsigned>((date::year{year} / month / date::last).day());
                for (unsigned k = 1; k <= 31; ++k) {
                    state = state * 1103515245U + 12345U;
                    int const tenths = static_cast<int>(state >> 16U) % 400 - 200;
                    bool const absent = k > length || (state >> 8U) % 10 == 0;
                    char const flag = (state >> 4U) % 13 == 0 ? 'S' : ' ';
                    fixed += absent ? "-9999   " : fmt::format("{:5} {}W", tenths, flag);
                    if (!absent) {
                        by_year +=
                            fmt::format("{},{}{:02}{:02},{},{},,{},W,2400\n", park, year, month, k,
                                        element, tenths, flag == ' ' ? "" : std::string(1, flag));
                    }
                }
                fixed += '\n';
            }
        }
    }
    daily_record const read = parse_ghcn_daily(fixed, "f.dly");
    CHECK(read.gaps() > 50);
    CHECK(parse_ghcn_daily(by_year, "f.csv") == read);
    CHECK(parse_ghcn_daily(other + by_year, "f.csv", {.station = park}) == read);
}
