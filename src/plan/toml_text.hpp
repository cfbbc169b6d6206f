// The same TOML document in ASCII.
//
// toml++ 3.3 asks of letters in many places whether they are blanks, and its table of blanks has a
// hole: for most letters from U+00A0 to U+0499 (every accented one is among them) what it does is
// undefined. It looks ahead from a number into the quotes behind it, and in a text that goes on
// after a backslash at the end of a line. So it is shown the document in ASCII:
//
//     name = "Möhre"        name = "M\u00F6hre"
//     name = 'C:\é'         name = "C:\\\u00E9"      a literal text has no escapes
//     # Möhre               # M?hre
//
// Lines keep their numbers. Outside of quotes and comments TOML 1.0 knows no letter beyond ASCII,
// and it is refused.
#ifndef EPICOTYL_SRC_PLAN_TOML_TEXT_HPP
#define EPICOTYL_SRC_PLAN_TOML_TEXT_HPP

#include <string>
#include <string_view>

namespace epicotyl::detail {

/// The same document in ASCII. Bytes that are no UTF-8 stay as they are within quotes and comments,
/// where toml++ refuses them. Throws `invalid_input` (`toml.syntax`, with the line) for a letter
/// beyond ASCII outside of quotes or behind a backslash, and for quotes that are not closed.
[[nodiscard]] std::string toml_in_ascii(std::string_view text, std::string const& file_name);

}  // namespace epicotyl::detail

#endif
