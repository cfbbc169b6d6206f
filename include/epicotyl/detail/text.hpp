// epicotyl: short texts put together from words and numbers.
//
// For the messages of headers, which then need no library that formats. A number is written with
// the fewest digits that say it, as `{}` of fmt and of the standard library would.
//
//     text(0.1, " is out of range");        // "0.1 is out of range"
//     text("tmin[", 7, "]");                // "tmin[7]"
#ifndef EPICOTYL_DETAIL_TEXT_HPP
#define EPICOTYL_DETAIL_TEXT_HPP

#include <charconv>
#include <concepts>
#include <string>
#include <string_view>

namespace epicotyl::detail {

inline void append(std::string& to, std::string_view part) {
    to += part;
}
inline void append(std::string& to, double number) {
    double const size = number < 0.0 ? -number : number;
    bool const is_plain = size == 0.0 || (size >= 1e-4 && size < 1e16);
    char digits[32];
    auto const written =
        std::to_chars(digits, digits + sizeof digits, number,
                      is_plain ? std::chars_format::fixed : std::chars_format::scientific);
    to.append(digits, written.ptr);
}
template <std::integral Whole>
void append(std::string& to, Whole number) {
    to += std::to_string(number);
}

template <class... Parts>
[[nodiscard]] std::string text(Parts const&... parts) {
    std::string all;
    (append(all, parts), ...);
    return all;
}

}  // namespace epicotyl::detail

#endif
