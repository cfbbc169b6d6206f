// epicotyl: how good a record is.
//
// Before a date is taken from a record, look at what the record lacks. Its quality counts the days
// without a minimum or a maximum, the runs they come in, the days whose minimum stands above the
// maximum, and what filling short gaps (weather/filled_record.hpp) would mend:
//
//     Marlpit, 2 Jan 1925 – 28 Feb 2019: 34391 days, 93 whole years
//       no minimum               412 days   1.2 %
//       no maximum               398 days   1.2 %
//       minimum above maximum      3 days   0.0 %
//       ...
//
// Nothing is changed by looking.
#ifndef EPICOTYL_WEATHER_QUALITY_HPP
#define EPICOTYL_WEATHER_QUALITY_HPP

#include <optional>
#include <string>

#include <epicotyl/days.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/filled_record.hpp>

namespace epicotyl {

/// A run of days on which the minimum, the maximum or both are missing.
struct missing_run {
    day first;       ///< first day of the run
    int length = 0;  ///< days

    friend bool operator==(missing_run const&, missing_run const&) = default;
};

/// What a record holds and lacks; all counts are days unless they say otherwise.
struct record_quality {
    std::string name;     ///< the station
    std::string origin;   ///< how the values were made; empty when they were measured
    day first;            ///< first day
    day last;             ///< last day
    int size = 0;         ///< from the first to the last, both included
    int whole_years = 0;  ///< calendar years that lie within the record from end to end

    int missing_minima = 0;                       ///< without a minimum
    int missing_maxima = 0;                       ///< without a maximum
    int missing_both = 0;                         ///< without either; counted in both above, too
    int runs = 0;                                 ///< runs of days that lack either or both
    std::optional<missing_run> longest_run = {};  ///< the earliest of the longest; none: no run
    int inverted = 0;                             ///< minimum above maximum
    int leap_days = 0;                            ///< 29 February
    int missing_leap_days = 0;                    ///< 29 February without either value
    /// Minima and maxima (not days) that come from no whole °F, even allowing for a rounding to a
    /// tenth of a degree Celsius: about 8 in 10 of a station read in °C, hardly any of one read in
    /// °F (`ghcn_daily_options::whole_fahrenheit`).
    int not_whole_fahrenheit = 0;

    int max_gap = 0;          ///< longest gap that is filled [days]
    int filled_minima = 0;    ///< minima that filling gives, those of inverted days included
    int filled_maxima = 0;    ///< maxima that filling gives, those of inverted days included
    int unfilled_minima = 0;  ///< still without a minimum that can be used
    int unfilled_maxima = 0;  ///< still without a maximum that can be used

    /// A count as a share of the record's days, 0 to 1.
    [[nodiscard]] double share(int count) const noexcept {
        return static_cast<double>(count) / size;
    }

    friend bool operator==(record_quality const&, record_quality const&) = default;
};

/// Looks a record over.
///
/// max_gap   longest gap that is filled [days], 0 to 31
///
/// Throws `invalid_input` when `max_gap` is out of range.
[[nodiscard]] record_quality quality(daily_record const& record, int max_gap = usual_max_gap);

/// A line for the record, then one for each count with its share; the last without a line end.
[[nodiscard]] std::string to_string(record_quality const& quality);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/weather/impl/quality.ipp>
#endif

#endif
