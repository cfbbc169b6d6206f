// GHCN-Daily files tenths of °C what United States stations wrote in whole °F; the way back.
#include "catch.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include <epicotyl/units.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>
#include <epicotyl/weather/quality.hpp>

using namespace epicotyl;

namespace {

/// Tenths of a degree Celsius of -60, -59 ... 130 °F, by 50 (F - 32) / 9 in fractions, halves
/// (there are none) away from 0.
std::array<int, 191> constexpr tenths_of_whole_fahrenheit{
    -511, -506, -500, -494, -489, -483, -478, -472, -467, -461, -456, -450, -444, -439, -433, -428,
    -422, -417, -411, -406, -400, -394, -389, -383, -378, -372, -367, -361, -356, -350, -344, -339,
    -333, -328, -322, -317, -311, -306, -300, -294, -289, -283, -278, -272, -267, -261, -256, -250,
    -244, -239, -233, -228, -222, -217, -211, -206, -200, -194, -189, -183, -178, -172, -167, -161,
    -156, -150, -144, -139, -133, -128, -122, -117, -111, -106, -100, -94,  -89,  -83,  -78,  -72,
    -67,  -61,  -56,  -50,  -44,  -39,  -33,  -28,  -22,  -17,  -11,  -6,   0,    6,    11,   17,
    22,   28,   33,   39,   44,   50,   56,   61,   67,   72,   78,   83,   89,   94,   100,  106,
    111,  117,  122,  128,  133,  139,  144,  150,  156,  161,  167,  172,  178,  183,  189,  194,
    200,  206,  211,  217,  222,  228,  233,  239,  244,  250,  256,  261,  267,  272,  278,  283,
    289,  294,  300,  306,  311,  317,  322,  328,  333,  339,  344,  350,  356,  361,  367,  372,
    378,  383,  389,  394,  400,  406,  411,  417,  422,  428,  433,  439,  444,  450,  456,  461,
    467,  472,  478,  483,  489,  494,  500,  506,  511,  517,  522,  528,  533,  539,  544};

day const first = make_day(2001, 1, 1);

/// A line of the form by year.
std::string line(int k, char const* element, int tenths) {
    std::string iso = to_iso(first + days{k});
    iso.erase(std::remove(iso.begin(), iso.end(), '-'), iso.end());
    return fmt::format("USW00000001,{},{},{},,,W,\n", iso, element, tenths);
}

ghcn_daily_options const whole{.whole_fahrenheit = true};

}  // namespace

TEST_CASE("every whole °F from -60 to 130 comes back from its tenths to the last digit") {
    std::string text;
    for (int k = 0; k < 191; ++k) {
        text += line(k, "TMIN", tenths_of_whole_fahrenheit[static_cast<std::size_t>(k)]);
    }
    daily_record const filed = parse_ghcn_daily(text, "f.csv");
    daily_record const read = parse_ghcn_daily(text, "f.csv", whole);
    int missed = 0;
    for (int k = 0; k < 191; ++k) {
        auto const at = static_cast<std::size_t>(k);
        CAPTURE(k - 60);
        temperature const written = temperature::from_fahrenheit(k - 60.0);
        CHECK(read.tmin()[at] == written.celsius());
        CHECK(std::abs(read.tmin()[at] - filed.tmin()[at]) < 0.05);
        missed += filed.tmin()[at] > written.celsius() ? 1 : 0;
    }
    // Of 9 whole °F 4 are rounded up, 4 down and 1 (32 °F, 41 °F ...) not at all.
    CHECK(missed == 85);
    CHECK(read.origin() == "in whole °F");
    CHECK(filed.origin().empty());
    CHECK(std::isnan(read.tmax()[0]));
}

TEST_CASE("a night of 28 °F meets a limit of 28 °F once it is taken back") {
    std::string const text = line(0, "TMIN", -22) + line(1, "TMIN", -17);
    double const limit = temperature::from_fahrenheit(28.0).celsius();
    CHECK(parse_ghcn_daily(text, "f.csv").tmin()[0] > limit);
    CHECK(parse_ghcn_daily(text, "f.csv", whole).tmin()[0] <= limit);
    CHECK(parse_ghcn_daily(text, "f.csv", whole).tmin()[1] > limit);
}

TEST_CASE("a tenth that no whole °F gives stays as filed and is counted") {
    // Every tenth from -51.1 to 54.4 as a minimum, and 0 °C (32 °F) as maximum.
    std::string text;
    int others = 0;
    for (int tenths = -511; tenths <= 544; ++tenths) {
        text += line(tenths + 511, "TMIN", tenths) + line(tenths + 511, "TMAX", 0);
        others += std::binary_search(tenths_of_whole_fahrenheit.begin(),
                                     tenths_of_whole_fahrenheit.end(), tenths)
                      ? 0
                      : 1;
    }
    CHECK(others == 1056 - 191);
    daily_record const read = parse_ghcn_daily(text, "f.csv", whole);
    for (int tenths = -511; tenths <= 544; ++tenths) {
        double const value = read.tmin()[static_cast<std::size_t>(tenths + 511)];
        CAPTURE(tenths);
        if (std::binary_search(tenths_of_whole_fahrenheit.begin(), tenths_of_whole_fahrenheit.end(),
                               tenths)) {
            double const fahrenheit = value * 1.8 + 32.0;
            CHECK(fahrenheit == Approx(std::round(fahrenheit)).margin(1e-9));
        } else {
            CHECK(value == tenths / 10.0);
        }
    }
    CHECK(read.origin() == "in whole °F, but for 865 of 2112 values, which stand as filed");
    CHECK(quality(read).not_whole_fahrenheit == 865);
    CHECK(quality(parse_ghcn_daily(text, "f.csv")).not_whole_fahrenheit == 865);
    CHECK(to_string(quality(read)).find("; in whole °F, but for 865 of 2112 values") !=
          std::string::npos);
}

TEST_CASE("a station most of whose values are no whole °F was not read in °F and is refused") {
    std::string text;
    for (int k = 0; k < 50; ++k) { text += line(k, "TMIN", k); }
    try {
        (void)parse_ghcn_daily(text, "f.csv", whole);
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(fault.code() == "ghcn_daily.not_whole_fahrenheit");
        // 0, 0.6, 1.1, 1.7, 2.2, 2.8, 3.3, 3.9 and 4.4 °C are 32 ... 40 °F.
        CHECK(std::string{fault.what()} ==
              "f.csv: whole_fahrenheit: 41 of 50 values of USW00000001 come from no whole °F "
              "(allowed: at most half of 50 values); leave whole_fahrenheit out; the station was "
              "not read in whole °F");
    }
    // Just half is taken.
    CHECK(parse_ghcn_daily(line(0, "TMIN", -22) + line(1, "TMIN", -21), "f.csv", whole).origin() ==
          "in whole °F, but for 1 of 2 values, which stand as filed");
}

TEST_CASE("values of both forms are taken back alike") {
    std::string fixed = "USW00000001200101TMIN";
    for (int const tenths : {-22, -17, -11}) { fixed += fmt::format("{:5}   ", tenths); }
    for (int k = 3; k < 31; ++k) { fixed += "-9999   "; }
    std::string const by_year = line(0, "TMIN", -22) + line(1, "TMIN", -17) + line(2, "TMIN", -11);
    CHECK(parse_ghcn_daily(fixed, "f.dly", whole) == parse_ghcn_daily(by_year, "f.csv", whole));
    CHECK(parse_ghcn_daily(fixed, "f.dly", whole).size() == 3);
}
