// What a plan says that may well be meant, and seldom is.
//
// What no farm can be is refused when a plan is made (bounds.hpp). Short of that there are numbers
// at which a reader stops: a limit of 32 °C, a frost at 10 °C, a cover that gives 15 K. They may be
// so, and the calendar goes by them; but it says so, with what is usual, and where the number would
// be sound in the other unit it asks whether that was meant. A plan in US units can be asked about
// numbers that are too cold, one in metric units about those that are too warm: nothing else is
// mistaken by writing the other unit.
//
// The latitude is held against the weather, which knows nothing of it: a record whose July is
// colder than its January was not measured far north of the equator. So a longitude that was given
// as latitude shows, as far as it can. Nothing else says where a station stands: neither a file of
// GHCN-Daily nor a table of days holds its position.
//
// Notes that differ in nothing but what they speak of are one, with a count. Where three kinds of
// numbers ask for the other unit they are one note too: the whole plan is meant in it.
#ifndef EPICOTYL_SRC_SEASON_DAYS_SUSPICIONS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_SUSPICIONS_HPP

#include <string>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>

namespace epicotyl::detail {

/// A note for each kind of number that is seldom meant, in plan order.
[[nodiscard]] std::vector<std::string> suspicions_of(plan const& of);

/// A note where the seasons of the weather are not those of the latitude; else none.
[[nodiscard]] std::vector<std::string> latitude_misfit(plan const& of, climate const& under);

}  // namespace epicotyl::detail

#endif
