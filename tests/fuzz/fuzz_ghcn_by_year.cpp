// Any lines after the header of the form by year are a station's values or are refused with
// epicotyl::error, whether a station is named or not; nothing else may happen.
#include <cstddef>
#include <cstdint>
#include <string>

#include <epicotyl/error.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
    // With its header a text is never taken for the other form.
    std::string text = "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n";
    text.append(reinterpret_cast<char const*>(data), size);
    for (char const* const station : {"", "XX000000001"}) {
        try {
            static_cast<void>(epicotyl::parse_ghcn_daily(text, "fuzz.csv", {.station = station}));
        } catch (epicotyl::error const&) {  // refused, as it should be
        }
    }
    return 0;
}
