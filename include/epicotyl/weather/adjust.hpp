// epicotyl: a record moved to where, and when, it belongs.
//
// A station is seldom where the garden is, and its observer may read the instruments at breakfast.
// Two adjustments are common enough to have names. Each gives a new record whose `origin` says what
// was done, and everything cut from it repeats that; nothing is adjusted unasked.
//
//     with_elevation_difference(record, 300.0)   // the garden lies 300 m above the station: 1.95 K
//                                                // colder, day and night
//     morning_reader(record)                     // the maximum read on a morning is yesterday's
#ifndef EPICOTYL_WEATHER_ADJUST_HPP
#define EPICOTYL_WEATHER_ADJUST_HPP

#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

/// Fall of temperature with height [K/km] in the standard atmosphere up to 11 km: [iso1975],
/// Standard atmosphere; ICAO Doc 7488 (from memory). It is a mean over the world and the year.
/// Clear calm nights often have it the other way round: cold air runs down, and the garden in the
/// valley is the colder one.
inline constexpr double standard_lapse_rate = 6.5;

/// The record of a place above or below the station.
///
/// metres       height of the place over the station [m], negative below it; -5000 to 5000
/// lapse_rate   fall of temperature with height [K/km], negative where it is colder below; -20 to
/// 20
///
/// Both elements change by -`metres` / 1000 · `lapse_rate` kelvin; gaps stay gaps. Throws
/// `invalid_input` when a number is out of range or NaN.
[[nodiscard]] daily_record with_elevation_difference(daily_record const& record, double metres,
                                                     double lapse_rate = standard_lapse_rate);

/// The record of an observer who reads in the morning and files both values under that day: the
/// minimum is of the night just past and stays, the maximum was reached the afternoon before and
/// moves to the day before.
///
/// Where the first day has a maximum the record begins a day earlier, without a minimum; its last
/// day is left without a maximum. Only the caller knows when a station was read: a record that was
/// shifted already would be shifted again, and its `origin` says so.
[[nodiscard]] daily_record morning_reader(daily_record const& record);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/weather/impl/adjust.ipp>
#endif

#endif
