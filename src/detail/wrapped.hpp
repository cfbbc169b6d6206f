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

/// A text whose longer lines go on in the next line, four columns further in than they began. A
/// word that is longer than a line stays whole.
[[nodiscard]] std::string wrapped(std::string_view text);

}  // namespace epicotyl::detail

#endif
