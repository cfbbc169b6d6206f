// Stations of the United States, filed in tenths of °C, are taken back to the whole °F that their
// observers wrote.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

#include <epicotyl/units.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>
#include <epicotyl/weather/quality.hpp>

#include "reference_data.hpp"

using namespace epicotyl;

namespace {

int nights_at_or_below(daily_record const& record, double celsius) {
    return static_cast<int>(std::count_if(record.tmin().begin(), record.tmin().end(),
                                          [&](double value) { return value <= celsius; }));
}

}  // namespace

TEST_CASE("nearly every value of three stations comes from a whole °F, and limits then hold") {
    if (reference::is_missing()) { return; }
    for (char const* const name :
         {"USW00094728_TMAX_TMIN_1869-2020.dly.gz", "USC00102707_TMAX_TMIN_1925-2019.dly.gz",
          "USC00368449_2000-2009.dly.gz"}) {
        CAPTURE(name);
        std::filesystem::path const path = reference::data_file(name);
        daily_record const filed = read_ghcn_daily(path);
        daily_record const read = read_ghcn_daily(path, {.whole_fahrenheit = true});
        CHECK(quality(filed).not_whole_fahrenheit < filed.size() / 100);
        CHECK(quality(read).not_whole_fahrenheit == quality(filed).not_whole_fahrenheit);
        for (int fahrenheit : {20, 24, 28, 32, 36}) {
            CAPTURE(fahrenheit);
            double const limit = temperature::from_fahrenheit(fahrenheit).celsius();
            // A limit between two whole °F tells apart what was written, however it is rounded.
            double const apart = temperature::from_fahrenheit(fahrenheit + 0.5).celsius();
            CHECK(std::abs(nights_at_or_below(read, limit) - nights_at_or_below(filed, apart)) <=
                  quality(filed).not_whole_fahrenheit);
        }
        // 28 °F is filed as -2.2 and lies above the limit: as filed, those nights are missed.
        double const limit = temperature::from_fahrenheit(28.0).celsius();
        auto const just_28 = std::count(filed.tmin().begin(), filed.tmin().end(), -2.2);
        CHECK(just_28 > 0);
        CHECK(nights_at_or_below(read, limit) - nights_at_or_below(filed, limit) == just_28);
    }
}
