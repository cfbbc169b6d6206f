// epicotyl: explain, of planting windows. What holds both ends of a window.
//
// Of planting windows it tells both ends: what keeps the event from being earlier in that season
// year, event by event back to the bound that begins it, and then what keeps it from being later,
// on to the bound that ends it.
//
//     explain(windows, "tomato 1", "pot_on")
//     // window                 "pot on 6 Mar to 8 Apr in 2012: 33 days of room"
//     // window.earliest.stage  "pot on no earlier than 6 Mar: the time it takes after emerge in
//     mat"
//     // window.latest.stage    "pot on no later than 8 Apr: what must pass before harden off ..."
//     // window.latest.target   "transplant no later than 6 May: wanted 6 May"
#ifndef EPICOTYL_SEASON_WINDOWS_EXPLAIN_WINDOWS_HPP
#define EPICOTYL_SEASON_WINDOWS_EXPLAIN_WINDOWS_HPP

#include <string_view>
#include <vector>

#include <epicotyl/season/rows/reason.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>

namespace epicotyl {

/// Why the window of an event is what it is, in the season year of the windows. Throws
/// `invalid_input` for names the plan does not have.
///
/// The first reason, "window", has the days `earliest` and `latest` (absent where nothing keeps the
/// event within the season), their distance `slack` and the season year `year`. Those that follow
/// are "window.earliest.KIND" and then "window.latest.KIND", KIND a word of `requirement_kind`,
/// each of one event: its `day`, and the `field` (and, of a plan read from a file, the `line`) that
/// says so; `from_succession`, `from_event` and `from_day` of the neighbour that holds it, absent
/// for a bound.
///
/// Of an event that the season does not reach: "window.not_in_season", and why the last event
/// before it that is reached comes no earlier. Where the requirements cannot all be met: the
/// conflict of its group, "conflict.KIND" step by step and "conflict.broken". Left out: its
/// obstacle.
[[nodiscard]] std::vector<reason> explain(planting_windows const& of, std::string_view succession,
                                          std::string_view event);

}  // namespace epicotyl

#endif
