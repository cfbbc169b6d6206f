// Any bytes are a gzip file or are refused with epicotyl::error, and no more is unpacked than the
// bound allows. And what was packed, in two members, comes back as it was: damage that mutation
// makes rarely survives the check sum, so this is the way to long and odd texts.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include <zlib.h>

#include <epicotyl/error.hpp>

#include "../../src/weather/gzip.hpp"

namespace {

std::size_t constexpr longest = std::size_t{1} << 22;

void require(bool holds) {
    if (!holds) { std::abort(); }
}

std::string packed(std::string_view text) {
    z_stream stream{};
    int constexpr gzip_window = 15 + 16;
    require(deflateInit2(&stream, 1, Z_DEFLATED, gzip_window, 8, Z_DEFAULT_STRATEGY) == Z_OK);
    std::string bytes(deflateBound(&stream, text.size()), '\0');
    stream.next_in =
        const_cast<unsigned char*>(reinterpret_cast<unsigned char const*>(text.data()));
    stream.avail_in = static_cast<uInt>(text.size());
    stream.next_out = reinterpret_cast<unsigned char*>(bytes.data());
    stream.avail_out = static_cast<uInt>(bytes.size());
    require(deflate(&stream, Z_FINISH) == Z_STREAM_END);
    bytes.resize(stream.total_out);
    deflateEnd(&stream);
    return bytes;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
    std::string_view const bytes{reinterpret_cast<char const*>(data), size};
    try {
        require(epicotyl::detail::unpacked_gzip(bytes, "fuzz.gz", longest).size() <= longest);
    } catch (epicotyl::error const&) {  // refused, as it should be
    }
    std::size_t const half = size == 0 ? 0 : std::min<std::size_t>(data[0], size);
    std::string const two = packed(bytes.substr(0, half)) + packed(bytes.substr(half));
    require(epicotyl::detail::unpacked_gzip(two, "two.gz", longest) == bytes);
    if (size == 0) { return 0; }
    try {
        static_cast<void>(epicotyl::detail::unpacked_gzip(two, "two.gz", size - 1));
        require(false);
    } catch (epicotyl::error const&) {  // one byte more than the bound
    }
    return 0;
}
