// Any bytes are a station file or are refused with epicotyl::error; nothing else may happen.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include <epicotyl/error.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
    std::string_view const text{reinterpret_cast<char const*>(data), size};
    try {
        static_cast<void>(epicotyl::parse_ghcn_daily(text, "fuzz.dly"));
    } catch (epicotyl::error const&) {  // refused, as it should be
    }
    return 0;
}
