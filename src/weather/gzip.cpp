#include "gzip.hpp"

#include <algorithm>
#include <limits>
#include <memory>
#include <new>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <zlib.h>

#include <epicotyl/error.hpp>

namespace epicotyl::detail {
namespace {

struct end_inflate {
    void operator()(z_stream* stream) const noexcept { inflateEnd(stream); }
};

[[noreturn]] void refuse(std::string const& file_name, input_fault fault) {
    fault.file = file_name;
    throw invalid_input{std::move(fault)};
}

/// "2 GiB", "100 bytes".
[[nodiscard]] std::string size_text(std::size_t bytes) {
    std::size_t constexpr gib = std::size_t{1} << 30;
    return bytes >= gib && bytes % gib == 0 ? fmt::format("{} GiB", bytes / gib)
                                            : fmt::format("{} bytes", bytes);
}

}  // namespace

std::string unpacked_gzip(std::string_view bytes, std::string const& file_name,
                          std::size_t longest) {
    z_stream stream{};
    int constexpr gzip_window = 15 + 16;  // the largest window, with the header of gzip
    if (inflateInit2(&stream, gzip_window) != Z_OK) { throw std::bad_alloc{}; }
    std::unique_ptr<z_stream, end_inflate> const guard{&stream};

    std::string text;
    std::vector<unsigned char> buffer(std::size_t{1} << 16);
    bool whole = false;
    while (!bytes.empty() || !whole) {
        if (whole) {
            if (!is_gzip(bytes)) {
                refuse(file_name, {.code = "file.gzip_followed",
                                   .value = fmt::format("{}", bytes.size()),
                                   .unit = "bytes",
                                   .problem = fmt::format("{} bytes that are not gzip follow the "
                                                          "compressed data",
                                                          bytes.size()),
                                   .remedy = "fetch the file again"});
            }
            inflateReset(&stream);
            whole = false;
        }
        // zlib counts in 32 bits.
        auto const given = std::min<std::size_t>(bytes.size(), std::numeric_limits<uInt>::max());
        stream.next_in =
            const_cast<unsigned char*>(reinterpret_cast<unsigned char const*>(bytes.data()));
        stream.avail_in = static_cast<uInt>(given);
        stream.next_out = buffer.data();
        stream.avail_out = static_cast<uInt>(buffer.size());
        int const answer = inflate(&stream, Z_NO_FLUSH);
        std::size_t const made = buffer.size() - stream.avail_out;
        bytes.remove_prefix(given - stream.avail_in);
        if (answer == Z_MEM_ERROR) { throw std::bad_alloc{}; }
        if (answer != Z_OK && answer != Z_STREAM_END && answer != Z_BUF_ERROR) {
            refuse(file_name,
                   {.code = "file.gzip_damaged",
                    .problem = fmt::format("the compressed data are damaged ({})",
                                           stream.msg == nullptr ? "no detail" : stream.msg),
                    .remedy = "fetch the file again"});
        }
        if (made > longest - text.size()) {
            refuse(file_name, {.code = "file.gzip_too_long",
                               .bound = fmt::format("up to {}", size_text(longest)),
                               .problem = "the file unpacks to more than is read at once",
                               .remedy = "cut it down, for example to the lines of one station"});
        }
        text.append(reinterpret_cast<char const*>(buffer.data()), made);
        whole = answer == Z_STREAM_END;
        if (!whole && made == 0 && bytes.empty()) {
            refuse(file_name, {.code = "file.gzip_cut_off",
                               .problem = fmt::format("the compressed data end too soon, after {} "
                                                      "unpacked bytes",
                                                      text.size()),
                               .remedy = "fetch the file again"});
        }
    }
    return text;
}

}  // namespace epicotyl::detail
