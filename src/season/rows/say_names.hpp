// A list of names as people say it: "onion 1, lettuce 1 to 3, sweet pea 1 and 2".
#ifndef EPICOTYL_SRC_SEASON_ROWS_SAY_NAMES_HPP
#define EPICOTYL_SRC_SEASON_ROWS_SAY_NAMES_HPP

#include <span>
#include <string>

namespace epicotyl::detail {

/// Names by commas. Those that follow one another and differ by their numbers alone, each one more
/// than the last, are told together.
[[nodiscard]] std::string say_names(std::span<std::string const> names);

}  // namespace epicotyl::detail

#endif
