// What a grower reads fits on a page: lines of at most 100 columns.
#ifndef EPICOTYL_SRC_DETAIL_WRAPPED_HPP
#define EPICOTYL_SRC_DETAIL_WRAPPED_HPP

#include <cstddef>
#include <string>
#include <string_view>

namespace epicotyl::detail {

constexpr std::size_t page_columns = 100;

/// Columns that a text takes; the later bytes of a UTF-8 letter take none.
[[nodiscard]] std::size_t columns_of(std::string_view text);

/// A text with blanks behind it, up to so many columns.
[[nodiscard]] std::string padded(std::string text, std::size_t width);

/// A text whose longer lines go on in the next line, four columns further in than they began. A
/// word that is longer than a line stays whole, and so does a number with the word behind it, and
/// the parts of a date: "6 Sep 2027".
[[nodiscard]] std::string wrapped(std::string_view text);

/// One line that begins with `head`, and goes on below the end of that head where it is too long:
///
///     why: planted out 28 Apr: wanted 5 Apr; later, because on any earlier day
///          more than 3 of 30 years had a frost
[[nodiscard]] std::string hanging(std::string_view head, std::string_view text);

}  // namespace epicotyl::detail

#endif
