#include "catch.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/daily_csv.hpp>

using namespace epicotyl;

namespace {

daily_csv_options const celsius{.unit = temperature_unit::celsius};
daily_csv_options const fahrenheit{.unit = temperature_unit::fahrenheit};

daily_record const two_days{make_day(2026, 1, 1), {-1.5, 0.5}, {4.0, 6.0}, "marlpit"};

}  // namespace

TEST_CASE("a table is read by the names of its columns, in any order and case") {
    CHECK(parse_daily_csv("date,tmin_c,tmax_c\n2026-01-01,-1.5,4.0\n2026-01-02,0.5,6\n",
                          "marlpit.csv") == two_days);
    CHECK(parse_daily_csv("Rain, TMAX_C ,Tmin_C,DATE\n0, 4.0 ,-1.5,2026-01-01\n,+6,.5,2026-01-02",
                          "marlpit.csv") == two_days);
    daily_csv_options const named{.date = "Datum",
                                  .tmin = "low",
                                  .tmax = "high",
                                  .unit = temperature_unit::celsius,
                                  .name = "marlpit"};
    CHECK(parse_daily_csv("Datum,low,high\n2026-01-01,-1.5,4.0\n2026-01-02,0.5,6\n", "x.csv",
                          named) == two_days);
}

TEST_CASE("a unit is stated by the caller or by the column's ending, and both may agree") {
    // 14 °F is -10 °C, 50 °F is 10 °C.
    std::string const rows = "2026-01-01,14,50\n";
    daily_record const record{make_day(2026, 1, 1), {-10.0}, {10.0}, "f"};
    CHECK(parse_daily_csv("date,tmin,tmax\n" + rows, "f.csv", fahrenheit) == record);
    CHECK(parse_daily_csv("date,tmin_f,tmax_F\n" + rows, "f.csv") == record);
    CHECK(parse_daily_csv("date,tmin_f,tmax\n" + rows, "f.csv", fahrenheit) == record);
    // Each column states its own.
    CHECK(parse_daily_csv("date,tmin_c,tmax_f\n2026-01-01,-10,50\n", "f.csv") == record);
    // An ending given with the name is an ending too.
    daily_csv_options named;
    named.tmin = "low_f";
    named.tmax = "high_f";
    CHECK(parse_daily_csv("date,low_f,high_f\n" + rows, "f.csv", named) == record);
}

TEST_CASE("empty cells, NA, NaN and absent days are gaps, the ends are days with a value") {
    daily_record const record = parse_daily_csv(
        "date,tmin,tmax\n"
        "2026-01-01,,NA\n"
        "2026-01-02,na,3\n"
        "2026-01-05,\" \",NaN\n"
        "2026-01-06,1,nan\n"
        "2026-01-07,NAN,\n",
        "f.csv", celsius);
    CHECK(record.start() == make_day(2026, 1, 2));
    CHECK(record.end() == make_day(2026, 1, 7));
    CHECK(std::isnan(record.tmin()[0]));
    CHECK(record.tmax()[0] == 3.0);
    CHECK(std::isnan(record.tmax()[2]));
    CHECK(record.tmin()[4] == 1.0);
    CHECK(record.gaps() == 1);
}

TEST_CASE("comments before the header, quotes, CRLF, blank lines and a byte order mark") {
    CHECK(parse_daily_csv("\xEF\xBB\xBF# by the pond, \"screen\"\r\n"
                          "\r\n"
                          "  # 2026\r\n"
                          "\"date\",\"tmin_c\" , \"tmax_c\",\"note, or \"\"remark\"\"\"\r\n"
                          "\"2026-01-01\",-1.5,\"4.0\",\"snow, then \"\"sun\"\"\"\r\n"
                          "\r\n"
                          "2026-01-02,0.5,6.0,\r\n",
                          "marlpit.csv") == two_days);
}

TEST_CASE("a comment before the header names the station, and the caller's name wins over it") {
    std::string const text =
        "# by the pond\n#  station:  Marlpit, the pond \ndate,tmin_c,tmax_c\n"
        "2026-01-01,-1.5,4.0\n";
    CHECK(parse_daily_csv(text, "folder/weather.csv").name() == "Marlpit, the pond");
    daily_csv_options named;
    named.name = "Quoin";
    CHECK(parse_daily_csv(text, "folder/weather.csv", named).name() == "Quoin");
    CHECK(parse_daily_csv("# station:\ndate,tmin_c,tmax_c\n2026-01-01,-1.5,4.0\n",
                          "folder/weather.csv")
              .name() == "weather");
}

TEST_CASE("29 February and new year are days like others") {
    daily_record const record = parse_daily_csv(
        "date,tmin,tmax\n2023-12-31,1,2\n2024-01-01,1,2\n2024-02-29,1,2\n2024-03-01,1,2\n", "f.csv",
        celsius);
    CHECK(record.size() == 62);  // 1 + 31 + 29 + 1
    CHECK(record.tmin()[60] == 1.0);
}

TEST_CASE("a table of days that cannot be used is refused with file, line and remedy") {
    std::string const header = "date,tmin_c,tmax_c\n";
    std::string const first = header + "2026-01-01,1,2\n";
    struct bad_file {
        std::string text;
        daily_csv_options options;
        char const* message;
    };
    daily_csv_options other_name;
    other_name.date = "day";
    std::vector<bad_file> const files = {
        {"",
         {},
         "f.csv: the file has no header line; name the columns in its first line, such as "
         "date,tmin_c,tmax_c"},
        {"# only a comment\n",
         {},
         "f.csv: the file has no header line; name the columns in its first line, such as "
         "date,tmin_c,tmax_c"},
        {header, {}, "f.csv: no line follows the header; give one line for every day"},
        {header + "2026-01-01,,NA\n",
         {},
         "f.csv: minimum, maximum: every value is missing; give a file with daily minimum and "
         "maximum temperatures"},
        {"date,tmin_c,high\n2026-01-01,1,2\n",
         {},
         "f.csv:1: tmax: no column is called \"tmax\"; the header has: date, tmin_c, high; rename "
         "the column, or say in the options what it is called"},
        {first, other_name,
         "f.csv:1: day: no column is called \"day\"; the header has: date, tmin_c, tmax_c; rename "
         "the column, or say in the options what it is called"},
        {"date;tmin_c;tmax_c\n2026-01-01;1,5;2\n",
         {},
         "f.csv:1: date: no column is called \"date\"; the header has: date;tmin_c;tmax_c; part "
         "the "
         "fields with commas, and write decimal points"},
        {"date,tmin,tmin_c,tmax_c\n2026-01-01,1,1,2\n",
         {},
         "f.csv:1: tmin: columns 2 (tmin) and 3 (tmin_c) both answer to \"tmin\"; rename one of "
         "them"},
        {"date,Date,tmin_c,tmax_c\n",
         {},
         "f.csv:1: date: columns 1 (date) and 2 (Date) both answer to \"date\"; rename one of "
         "them"},
        {"# screen\ndate,tmin,tmax\n2026-01-01,1,2\n",
         {},
         "f.csv:2: tmin: nothing says the unit of this column (allowed: °C, °F); call the column "
         "tmin_c or tmin_f, or state the unit in the options; it is never guessed"},
        {"date,tmin_c,tmax\n2026-01-01,1,2\n",
         {},
         "f.csv:1: tmax: nothing says the unit of this column (allowed: °C, °F); call the column "
         "tmax_c or tmax_f, or state the unit in the options; it is never guessed"},
        {first, fahrenheit,
         "f.csv:1: tmin_c: the column's name says °C, the options say °F; correct the one that is "
         "wrong"},
        {first + "2026-01-02,1,5,2,0\n",
         {},
         "f.csv:3: the line has 5 fields (allowed: 3 fields); write decimal points, not commas, "
         "and "
         "no thousands separators"},
        {first + "2026-01-02,1\n",
         {},
         "f.csv:3: the line has 2 fields (allowed: 3 fields); give an empty field for a missing "
         "value"},
        {first + "2026-01-02,\"1,5\",2\n",
         {},
         "f.csv:3: tmin_c: \"1,5\" is not a number; write a decimal point, not a comma, and no "
         "thousands separators"},
        {first + "2026-01-02,1,1'200\n",
         {},
         "f.csv:3: tmax_c: \"1'200\" is not a number; write a decimal point, not a comma, and no "
         "thousands separators"},
        {first + "2026-01-02,cold,2\n",
         {},
         "f.csv:3: tmin_c: \"cold\" is not a number; write a number such as -1.5; leave the field "
         "empty, or write NA, when the value is missing"},
        {first + "2026-01-02,+-1,2\n",
         {},
         "f.csv:3: tmin_c: \"+-1\" is not a number; write a number such as -1.5; leave the field "
         "empty, or write NA, when the value is missing"},
        {first + "2026-01-02,-inf,2\n",
         {},
         "f.csv:3: tmin_c: \"-inf\" is not a number; write a number such as -1.5; leave the field "
         "empty, or write NA, when the value is missing"},
        {first + "2026-01-02,1,75\n",
         {},
         "f.csv:3: tmax_c: 75 °C is not an air temperature (allowed: -95 to 65 °C); check the "
         "unit, "
         "taken as °C; leave the field empty when the value is missing"},
        {"date,tmin,tmax\n2026-01-01,-9999,50\n", fahrenheit,
         "f.csv:2: tmin: -9999 °F is not an air temperature (allowed: -139 to 149 °F); check the "
         "unit, taken as °F; leave the field empty when the value is missing"},
        {first + "\n2026-01-01,1,2\n",
         {},
         "f.csv:4: date: 2026-01-01 stands in line 2 already (allowed: after 2026-01-01); keep one "
         "of the two lines"},
        {first + "2025-12-31,1,2\n",
         {},
         "f.csv:3: date: 2025-12-31 follows 2026-01-01 of line 2 (allowed: after 2026-01-01); sort "
         "the lines by date"},
        {first + "02/01/2026,1,2\n",
         {},
         "f.csv:3: date: \"02/01/2026\" is not an ISO date; write year-month-day, such as "
         "2027-03-01"},
        {first + "2026-02-29,1,2\n",
         {},
         "f.csv:3: date: 2026-02-29 is not a day of the calendar; give year, month 1 to 12 and a "
         "day that the month has"},
        {first + ",1,2\n",
         {},
         "f.csv:3: date: \"\" is not an ISO date; write year-month-day, such as 2027-03-01"},
        {first + "# a remark\n",
         {},
         "f.csv:3: the line has 1 field (allowed: 3 fields); give an empty field for a missing "
         "value"},
        {first + "2026-01-02,\"1,2\n",
         {},
         "f.csv:3: a field begins with a double quote that is not closed; close it on the same "
         "line"},
        {first + "2026-01-02,\"1\" degree,2\n",
         {},
         "f.csv:3: \"degree\" follows a closing double quote; put the whole field into the quotes; "
         "double a quote that belongs to it"},
    };
    for (bad_file const& file : files) {
        INFO(file.text);
        try {
            (void)parse_daily_csv(file.text, "f.csv", file.options);
            FAIL("accepted");
        } catch (invalid_input const& fault) {
            CHECK(std::string{fault.what()} == file.message);
            CHECK_FALSE(fault.code().empty());
        }
    }
}

namespace {

/// A table of days with the same two values on each.
std::string steady(char const* header, day first, int count, double tmin, double tmax) {
    std::string text = std::string{header} + "\n";
    for (int k = 0; k < count; ++k) {
        text += fmt::format("{},{},{}\n", to_iso(first + days{k}), tmin, tmax);
    }
    return text;
}

}  // namespace

TEST_CASE("a month in a °C column that is hotter than any place betrays °F and is refused") {
    day const first = make_day(2026, 4, 1);
    auto const message = [](std::string const& text) {
        try {
            (void)parse_daily_csv(text, "f.csv");
        } catch (invalid_input const& fault) { return std::string{fault.what()}; }
        return std::string{"accepted"};
    };
    char const* const in_celsius = "date,tmin_c,tmax_c";
    // An April in New York: 45 to 61 °F.
    CHECK(message(steady(in_celsius, first, 30, 45.0, 61.0)) ==
          "f.csv: tmin_c, tmax_c: 30 days to 25 Apr 2026 would have a mean of 53.0 °C, hotter than "
          "a month of any place on Earth (allowed: up to 45 °C); if the values are in °F (11.7 °C) "
          "say so in the columns' names or in the options");
    // A month is 30 days of which 25 have both values.
    CHECK(message(steady(in_celsius, first, 24, 45.0, 61.0)) == "accepted");
    CHECK(message(steady("date,tmin_f,tmax_f", first, 30, 45.0, 61.0)) == "accepted");
    CHECK(message(steady("date,tmin_f,tmax_c", first, 30, 149.0, 60.0)).find("hotter") !=
          std::string::npos);
    // The hottest month measured, Death Valley in July 2024: mean 42.5 °C.
    CHECK(message(steady(in_celsius, first, 31, 35.0, 50.0)) == "accepted");
    CHECK(message(steady(in_celsius, first, 300, 40.0, 50.0)) == "accepted");
    CHECK(message(steady(in_celsius, first, 300, 40.0, 50.2)).find("45.1 °C") != std::string::npos);
}

TEST_CASE("°F that begin in the middle of a °C column are found, whatever went before") {
    std::string text = steady("date,tmin_c,tmax_c", make_day(2025, 1, 1), 365, -2.0, 9.0);
    std::string const spring = steady("", make_day(2026, 4, 1), 60, 45.0, 61.0);
    CHECK_NOTHROW(parse_daily_csv(text, "f.csv"));
    text += spring.substr(1);
    CHECK_THROWS_AS(parse_daily_csv(text, "f.csv"), invalid_input);
}

TEST_CASE("a table is read from disk and named by its file, a missing one is refused") {
    std::filesystem::path const folder =
        std::filesystem::temp_directory_path() / "epicotyl_daily_csv_test";
    std::filesystem::create_directory(folder);
    std::ofstream{folder / "marlpit.csv"}
        << "date,tmin_c,tmax_c\n2026-01-01,-1.5,4.0\n2026-01-02,0.5,6\n";
    CHECK(read_daily_csv(folder / "marlpit.csv") == two_days);
    CHECK_THROWS_AS(read_daily_csv(folder / "other.csv"), invalid_input);
    std::filesystem::remove_all(folder);
}
