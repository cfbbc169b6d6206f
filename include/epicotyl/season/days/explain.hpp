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
#ifndef EPICOTYL_SEASON_DAYS_EXPLAIN_HPP
#define EPICOTYL_SEASON_DAYS_EXPLAIN_HPP

#include <string_view>
#include <vector>

#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/rows/reason.hpp>

namespace epicotyl {

/// Why an event is planned for its day, or why it has none. Throws `invalid_input` for names the
/// plan does not have.
[[nodiscard]] std::vector<reason> explain(calendar const& of, std::string_view succession,
                                          std::string_view event);

}  // namespace epicotyl

#endif
