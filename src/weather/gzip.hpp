// Unpacking of gzip files.
#ifndef EPICOTYL_SRC_WEATHER_GZIP_HPP
#define EPICOTYL_SRC_WEATHER_GZIP_HPP

#include <cstddef>
#include <string>
#include <string_view>

namespace epicotyl::detail {

/// Most bytes that a file may unpack to. One year of every station of GHCN-Daily has some 1.3 GB
/// (from memory); a small file made to unpack without end stops here.
inline constexpr std::size_t longest_unpacked = std::size_t{1} << 31;

/// True for bytes that begin as a gzip file does (RFC 1952, section 2.3.1).
[[nodiscard]] inline bool is_gzip(std::string_view bytes) noexcept {
    return bytes.starts_with("\x1f\x8b");
}

/// What a gzip file holds, all of its members one after the other. Throws `invalid_input` when it
/// is cut off or damaged, when something follows the last member, and when it holds more than
/// `longest` bytes; `file_name` is for messages.
[[nodiscard]] std::string unpacked_gzip(std::string_view bytes, std::string const& file_name,
                                        std::size_t longest = longest_unpacked);

}  // namespace epicotyl::detail

#endif
