// Season years that a shorter season would keep.
//
// A season year is used when its whole length lies in the record without a long gap. A length of
// 550 days, which a plan gets when it asks for none, costs the record's last year, and each year
// before a gap as well as that of the gap. Where that leaves fewer years than could be had, and the
// plan is over earlier, a note says which length would do.
#ifndef EPICOTYL_SRC_SEASON_DAYS_SEASON_LENGTH_HPP
#define EPICOTYL_SRC_SEASON_DAYS_SEASON_LENGTH_HPP

#include <string>
#include <vector>

#include "calendar_data.hpp"

namespace epicotyl::detail {

/// The note, where there is one to make. The calendar's days are settled.
[[nodiscard]] std::vector<std::string> season_length_note(calendar_data const& of);

}  // namespace epicotyl::detail

#endif
