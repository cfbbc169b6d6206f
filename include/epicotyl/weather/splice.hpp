// epicotyl: two stations joined.
//
// Stations move, close, and miss months. Where a neighbour wrote what the first did not, the two
// can stand as one record: the first wherever it has a value, else the second, each element by
// itself.
//
//     first      3.0   NaN   4.0   5.0
//     second           2.5   3.5   4.0   4.5   5.0
//     spliced    3.0   2.5   4.0   5.0   4.5   5.0
//
// Two thermometers differ, and a join can look like a change of climate. Where both have values for
// a year's worth of days, the second can be brought to the level of the first: with `match_means`
// the mean difference of each element over the days that both have is added to the second. It is
// one number for all seasons, which is coarse.
//
// The result comes with a report of what was taken from where. The record's `origin` names both
// stations and the differences added.
#ifndef EPICOTYL_WEATHER_SPLICE_HPP
#define EPICOTYL_WEATHER_SPLICE_HPP

#include <optional>
#include <string>

#include <epicotyl/days.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

/// Fewest days that both stations must have before one is brought to the level of the other: a
/// whole year, so that every season speaks.
inline constexpr int least_overlap = 365;

struct splice_options {
    /// Add to the second station the mean difference of the two.
    bool match_means = false;

    friend bool operator==(splice_options const&, splice_options const&) = default;
};

/// Where the values of one element came from; counts are days.
struct spliced_element {
    int from_first = 0;
    int from_second = 0;
    int missing = 0;  ///< neither has a value
    int overlap = 0;  ///< both have one; the first's was taken
    /// First less second, mean over the overlap; none when there is no such day.
    std::optional<temperature_span> mean_difference = {};
    temperature_span added = {};  ///< added to the second's values; 0 unless asked for

    friend bool operator==(spliced_element const&, spliced_element const&) = default;
};

struct splice_report {
    std::string first;   ///< the station
    std::string second;  ///< the station
    spliced_element minimum;
    spliced_element maximum;
    int mixed = 0;  ///< days with one value of each station
    /// Those of the mixed days whose minimum stands above the maximum; they count as gaps.
    int mixed_inverted = 0;

    friend bool operator==(splice_report const&, splice_report const&) = default;
};

struct spliced_record {
    daily_record record;
    splice_report report;

    friend bool operator==(spliced_record const&, spliced_record const&) = default;
};

/// Joins two records, from the earlier start to the later end. The result is named by the first.
///
/// Throws `invalid_input` when means are to be matched and the two share fewer than 365 days of an
/// element.
[[nodiscard]] spliced_record splice(daily_record const& first, daily_record const& second,
                                    splice_options const& options = {});

/// A line for each element and one for mixed days, when there are some; the last without a line
/// end.
[[nodiscard]] std::string to_string(splice_report const& report);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/weather/impl/splice.ipp>
#endif

#endif
