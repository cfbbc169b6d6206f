// Station files of GHCN-Daily read as they are published, compressed, against the program gzip.
#include "catch.hpp"

#include <string>

#include <epicotyl/weather/ghcn_daily.hpp>

#include "reference_data.hpp"

using namespace epicotyl;

TEST_CASE("a compressed station file gives the record that the unpacked one gives") {
    if (reference::is_missing()) { return; }
    for (std::string const name :
         {"USW00094728_TMAX_TMIN_1869-2020.dly.gz", "USC00102707_TMAX_TMIN_1925-2019.dly.gz"}) {
        INFO(name);
        std::filesystem::path const path = reference::data_file(name);
        CHECK(read_ghcn_daily(path) == parse_ghcn_daily(reference::unpacked(path), name));
    }
}
