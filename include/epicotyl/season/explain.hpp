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
//
// A requirement is named when the day moves without it. Those that only tie, so that none alone
// moves the day but together they do, are all named and have the value "tied". The codes:
//
//     sow.latest  sow.others_wait  sow.season_ends  sow.most_often_in_harvest
//                         a planned sowing, and the claim that one day later would break
//     sow.earliest  sow.earliest_in_harvest
//                         a planned sowing that is kept early; what holds it from being earlier
//                         follows, "sow.spring" (the spring it is for begins) among it
//     bound.not_after     an end that one day later would break
//     rule.*  bound.*  target.ready
//                         the day of a decision aimed at, or what bounds an event
//     decision.ready  outcome.usual
//                         an event that comes when its clock says
//     link.waits          an event that waits for another ("after", "after_event")
//     planned.order       not planned before the planned day of the event before
//     stage.takes         behind a day: what must pass after the event before
//     sowing.planned  target.planned
//                         behind a day: a planned day, whose own reason follows
//     season.start        behind a day: the season starts
//     event.never         reached in too few years to have a day
//     damage.beyond_risk  years.origin
//                         what else should be known
//
// Every count in a sentence is among the values. Of a sowing "breaks_target" and
// "breaks_not_after_EVENT" say in how many years, good as planned, a day later would fail at which.
// Beside a day that something has moved, "asked_rule" and the values "asked_..." are those of the
// rule that asked for another. Days of a harvest, and of what comes behind it, are those of the
// batch as if it lived; "lost_years" is how often cold takes it before.
//
// Of planting windows it tells both ends: what keeps the event from being earlier in that season
// year, event by event back to the bound that begins it, and then what keeps it from being later,
// on to the bound that ends it.
//
//     explain(windows, "tomato 1", "pot_on")
//     // window                 "pot on 6 Mar to 8 Apr in 2012: 33 days of room"
//     // window.earliest.stage  "pot on no sooner than 6 Mar: what must pass after emerge in mat"
//     // window.latest.stage    "pot on no later than 8 Apr: what must pass before harden off ..."
//     // window.latest.target   "transplant no later than 6 May: asked 6 May"
#ifndef EPICOTYL_SEASON_EXPLAIN_HPP
#define EPICOTYL_SEASON_EXPLAIN_HPP

#include <string_view>
#include <vector>

#include <epicotyl/season/calendar.hpp>
#include <epicotyl/season/planting_windows.hpp>
#include <epicotyl/season/reason.hpp>

namespace epicotyl {

/// Why an event is planned for its day, or why it has none. Throws `invalid_input` for names the
/// plan does not have.
[[nodiscard]] std::vector<reason> explain(calendar const& of, std::string_view succession,
                                          std::string_view event);

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
/// before it that is reached comes no sooner. Where the requirements cannot all be met: the
/// conflict of its group, "conflict.KIND" step by step and "conflict.broken". Left out: its
/// obstacle.
[[nodiscard]] std::vector<reason> explain(planting_windows const& of, std::string_view succession,
                                          std::string_view event);

}  // namespace epicotyl

#endif
