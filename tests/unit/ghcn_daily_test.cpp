#include "catch.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

using namespace epicotyl;

namespace {

/// A line as the readme lays it out: 31 times five columns of value and three flags.
std::string line_of(std::string const& head, std::vector<int> const& values,
                    std::string const& flags = "  Z") {
    std::string line = head;
    for (std::size_t k = 0; k < 31; ++k) {
        bool const given = k < values.size() && values[k] != -9999;
        line += fmt::format("{:5}", given ? values[k] : -9999) + (given ? flags : "   ");
    }
    return line + '\n';
}

std::string const january = "USW00094728202401";
std::string const february = "USW00094728202402";

/// The line with some of its columns (counted from 1) written over.
std::string with(std::string line, std::size_t column, std::string const& text) {
    line.replace(column - 1, text.size(), text);
    return line;
}

}  // namespace

TEST_CASE("TMIN and TMAX are read in tenths of a degree, other elements are passed over") {
    daily_record const record = parse_ghcn_daily(line_of(january + "TMAX", {-17, -28, 17}) +
                                                     line_of(january + "TMIN", {-72, -61, -28}) +
                                                     line_of(january + "PRCP", {99999, 3}),
                                                 "f.dly");
    CHECK(record ==
          daily_record{make_day(2024, 1, 1), {-7.2, -6.1, -2.8}, {-1.7, -2.8, 1.7}, "USW00094728"});
}

TEST_CASE(
    "a value of -9999, a failed quality flag and an absent month are gaps, other flags are not") {
    std::string text = line_of(january + "TMIN", {-10, -9999, -30, -40});
    text = with(text, 28, "I");              // day 1: quality flag
    text = with(text, 21 + 8 * 2 + 6, "H");  // day 3: measurement flag
    text += line_of("USW00094728202403TMIN", {50});
    daily_record const record = parse_ghcn_daily(text, "f.dly");
    CHECK(record.start() == make_day(2024, 1, 3));  // the first day with a value
    CHECK(record.end() == make_day(2024, 3, 2));
    CHECK(record.tmin()[0] == -3.0);
    CHECK(record.tmin()[1] == -4.0);
    CHECK(std::isnan(record.tmin()[2]));
    CHECK(record.tmin().back() == 5.0);
    CHECK(std::isnan(record.tmax()[0]));
    CHECK(record.gaps() == 1);
}

TEST_CASE("29 February is a day of a leap year and none of a common one") {
    std::vector<int> const values(29, 10);
    CHECK(parse_ghcn_daily(line_of(february + "TMIN", values), "f.dly").size() == 29);
    CHECK_THROWS_AS(parse_ghcn_daily(line_of("USW00094728202302TMIN", values), "f.dly"),
                    invalid_input);
}

TEST_CASE("months may stand in any order, and a record may go over new year") {
    daily_record const record =
        parse_ghcn_daily(line_of(january + "TMIN", {10}) +
                             line_of("USW00094728202312TMIN", std::vector<int>(31, -20)),
                         "f.dly");
    CHECK(record.start() == make_day(2023, 12, 1));
    CHECK(record.size() == 32);
    CHECK(record.tmin()[31] == 1.0);
}

TEST_CASE("CRLF, blanks cut off at line ends, and blank lines change nothing") {
    std::string const line = line_of(january + "TMIN", std::vector<int>(31, 12), "   ");
    daily_record const plain = parse_ghcn_daily(line, "f.dly");
    std::string const cut = line.substr(0, line.find_last_not_of(" \n") + 1);
    CHECK(parse_ghcn_daily(cut, "f.dly") == plain);
    CHECK(parse_ghcn_daily("\r\n" + cut + "\r\n  \r\n", "f.dly") == plain);
    CHECK(plain.size() == 31);

    // February with blanks where the month has no days.
    std::string const whole = line_of(february + "TMIN", std::vector<int>(29, 12), "   ");
    std::string const short_month = whole.substr(0, 21 + 28 * 8 + 5);
    CHECK(parse_ghcn_daily(short_month, "f.dly") == parse_ghcn_daily(whole, "f.dly"));
}

TEST_CASE("a GHCN-Daily file that cannot be used is refused with file, line and remedy") {
    std::string const good = line_of(january + "TMIN", {-17, -28});
    std::string const other_line = line_of(january + "TMAX", {17, 28});
    struct bad_file {
        char const* what;
        std::string text;
        char const* message;
    };
    std::vector<bad_file> const files = {
        {"empty", "", "f.dly: the file is empty; fetch it again"},
        {"blank lines only", "\n  \n", "f.dly: the file is empty; fetch it again"},
        {"a table with a header", "date,tmin_c,tmax_c\n2024-01-01,1,2\n",
         "f.dly:1: \"date,tmin_c,tmax_c\" is not the start of a GHCN-Daily line; give a station "
         "file (.dly): station, year, month and element in columns 1 to 21; tables with a header "
         "are read by read_daily_csv"},
        {"a year that is no number", good + with(other_line, 12, "20x4"),
         "f.dly:2: \"USW0009472820x401TMAX\" is not the start of a GHCN-Daily line; give a station "
         "file (.dly): station, year, month and element in columns 1 to 21; tables with a header "
         "are read by read_daily_csv"},
        {"month 13", good + with(other_line, 16, "13"),
         "f.dly:2: month: 13 is no month (allowed: 1 to 12); check columns 16 and 17, or fetch the "
         "file again"},
        {"month 0", with(good, 16, "00"),
         "f.dly:1: month: 0 is no month (allowed: 1 to 12); check columns 16 and 17, or fetch the "
         "file again"},
        {"two stations", good + "\n" + with(other_line, 1, "USC00102707"),
         "f.dly:3: station: USC00102707 follows USW00094728 of line 1; give each station a file of "
         "its own, or name the one to read in the options"},
        {"no temperature", line_of(january + "PRCP", {1}),
         "f.dly: element: station USW00094728 has no line of TMIN or TMAX; give a station that "
         "measures temperature"},
        {"nothing but gaps", line_of(january + "TMIN", {}),
         "f.dly: minimum, maximum: every value is missing; give a file with daily minimum and "
         "maximum temperatures"},
        {"a line cut off", good.substr(0, 100),
         "f.dly:1: TMIN 2024-01: the line ends after 98 characters, before day 31 of the month "
         "(allowed: 266 or more characters); the file was cut off; fetch it again"},
        {"two months in one line", good.substr(0, 269) + other_line,
         "f.dly:1: TMIN 2024-01: the line has 535 characters (allowed: up to 269 characters); give "
         "each month and element a line of its own"},
        {"a letter in a number", with(good, 30, " 1o.0"),
         "f.dly:1: TMIN 2024-01-02: \" 1o.0\" is not a whole number; give tenths of a degree "
         "Celsius in columns 30 to 34, -9999 for a missing value"},
        {"a blank value", with(good, 22, "     "),
         "f.dly:1: TMIN 2024-01-01: \"     \" is not a whole number; give tenths of a degree "
         "Celsius in columns 22 to 26, -9999 for a missing value"},
        {"a sign alone", with(good, 22, "    -"),
         "f.dly:1: TMIN 2024-01-01: \"    -\" is not a whole number; give tenths of a degree "
         "Celsius in columns 22 to 26, -9999 for a missing value"},
        {"columns shifted by one", january + "TMIN" + " " + good.substr(21, 247) + "\n",
         "f.dly:1: TMIN 2024-01-02: \"Z  -2\" is not a whole number; give tenths of a degree "
         "Celsius in columns 30 to 34, -9999 for a missing value"},
        {"hotter than any air", with(good, 22, "  651"),
         "f.dly:1: TMIN 2024-01-01: 65.1 °C is not an air temperature (allowed: -95 to 65 °C); "
         "give "
         "tenths of a degree Celsius, or a quality flag that says the value failed"},
        {"a value on 30 February", line_of(february + "TMIN", std::vector<int>(30, 5)),
         "f.dly:1: TMIN 2024-02: there is a value, 5, on day 30 of a month of 29 days; give -9999 "
         "on days that the month lacks; check year and month"},
        {"the same month twice", good + other_line + good,
         "f.dly:3: TMIN 2024-01: line 1 has the same month; keep one of the two lines"},
    };
    for (bad_file const& file : files) {
        INFO(file.what);
        try {
            (void)parse_ghcn_daily(file.text, "f.dly");
            FAIL("accepted");
        } catch (invalid_input const& fault) {
            CHECK(std::string{fault.what()} == file.message);
            CHECK_FALSE(fault.code().empty());
        }
    }
}

TEST_CASE("a value that failed its quality check is not looked at, however hot") {
    std::string text = with(line_of(january + "TMIN", {-17, -28}), 22, " 9990");
    text = with(text, 28, "X");
    daily_record const record = parse_ghcn_daily(text, "f.dly");
    CHECK(record.start() == make_day(2024, 1, 2));
    CHECK(record.size() == 1);
}

TEST_CASE("a GHCN-Daily file is read from disk, a missing one and a folder are refused") {
    std::filesystem::path const folder =
        std::filesystem::temp_directory_path() / "epicotyl_ghcn_daily_test";
    std::filesystem::create_directory(folder);
    std::filesystem::path const path = folder / "f.dly";
    std::string const text = line_of(january + "TMIN", {-17, -28});
    std::ofstream{path, std::ios::binary} << text;
    CHECK(read_ghcn_daily(path) == parse_ghcn_daily(text, "f.dly"));

    auto const message = [](std::filesystem::path const& file) {
        try {
            (void)read_ghcn_daily(file);
        } catch (invalid_input const& fault) { return std::string{fault.what()}; }
        return std::string{"accepted"};
    };
    CHECK(message(folder / "none.dly") ==
          (folder / "none.dly").string() +
              ": there is no such file; check the path; a relative one starts at the folder the "
              "program runs in");
    CHECK(message(folder) == folder.string() + ": this is a folder; name a file in it");
    std::filesystem::remove_all(folder);
}

TEST_CASE("a hundred years are read whole") {
    std::string text;
    for (int year = 1900; year < 2000; ++year) {
        for (int month = 1; month <= 12; ++month) {
            auto const length =
                static_cast<unsigned>((date::year{year} / month / date::last).day());
            for (char const* const element : {"TMAX", "TMIN"}) {
                text += line_of(fmt::format("USW00094728{}{:02}{}", year, month, element),
                                std::vector<int>(length, month));
            }
        }
    }
    daily_record const record = parse_ghcn_daily(text, "f.dly");
    CHECK(record.size() == 36524);
    CHECK(record.gaps() == 0);
}
