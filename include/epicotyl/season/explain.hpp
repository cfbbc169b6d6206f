// epicotyl: explain. The chain of reasons behind a planned day.
//
// The first reason is the one that binds the day asked about; those that follow lead back from it:
// from a sowing to the day it aims at, from a harvest to its planting, through links to the
// succession that was waited for. Where the season years counted are not simply those of a station
// (`calendar::origin`) the last reason says so, with the code "years.origin".
//
//     explain(calendar, "snapdragon 1", "transplant")[0].sentence
//     // "transplant 12 May: on any earlier day more than 3 of 30 years had a night at or below
//     //  -2.2 °C still to come in beds; ready since 3 May in 24 of 30 years; 9 days to spare"
#ifndef EPICOTYL_SEASON_EXPLAIN_HPP
#define EPICOTYL_SEASON_EXPLAIN_HPP

#include <string_view>
#include <vector>

#include <epicotyl/season/calendar.hpp>
#include <epicotyl/season/reason.hpp>

namespace epicotyl {

/// Why an event is planned for its day, or why it has none. Throws `invalid_input` for names the
/// plan does not have.
[[nodiscard]] std::vector<reason> explain(calendar const& of, std::string_view succession,
                                          std::string_view event);

}  // namespace epicotyl

#endif
