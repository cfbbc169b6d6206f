// epicotyl: reading GHCN-Daily station files.
//
// The Global Historical Climatology Network keeps one fixed-width text file a station (".dly"): a
// line holds one element of one month.
//
//     columns   1-11  station, "USW00094728"          22-26  value of day 1, right-aligned
//              12-15  year                               27  measurement flag (not looked at)
//              16-17  month                              28  quality flag, blank when passed
//              18-21  element, "TMIN", "TMAX", ...       29  source flag (not looked at)
//                                                  30-37, ...  days 2 to 31 in the same way
//
// Source: GHCN-Daily readme.txt, version 3.26, section III; Menne et al. [menne2012].
//
// Read here are TMIN and TMAX, in tenths of a degree Celsius; lines of other elements are passed
// over. A value is a gap where the file says -9999, where its quality flag is not blank, and on
// days of which the file has no line. The record goes from the first to the last day on which
// either element has a value. Months may stand in any order.
//
// The same values come by year, a value a line, many stations in one file (".csv"):
//
//     station,date,element,value,mflag,qflag,sflag,time      USW00094728,20240101,TMAX,89,,,W,2400
//
// Source: the readme-by_year.txt that stands beside these files (from memory). Flags mean what they
// mean above. Lines may stand in any order; a header line "ID,DATE,ELEMENT,..." may stand first.
//
// Which form a file has is seen from its first line. A file compressed by gzip is unpacked first;
// its first bytes say so, whatever its name. Where a file holds several stations, the caller names
// the one to read.
//
// Lines may end in LF or CRLF; blanks at the end of a line may be cut off, and blank lines are
// passed over. On days that the month lacks the file may say -9999 or be blank.
//
// **Whole degrees Fahrenheit.** Stations of the United States wrote whole °F, and the file has them
// rounded to a tenth of a degree Celsius: 28 °F (-2.22 °C) became -2.2 and lies *above* a threshold
// of 28 °F, which misses that night. 32 °F (0 °C) is not concerned. `whole_fahrenheit` takes such
// values back to what was written, so that thresholds in °F mean what they say.
//
// The way back is exact. A value of n tenths comes from F °F, f = F - 32, when it lies within
// rounding of it, |n / 10 - 5 f / 9| <= 0.05, that is |9 n - 50 f| <= 4 in whole numbers (4.5 is
// none, so there are no halves to decide on). Every f has one such n, and an n at most one f, the
// nearest whole number to 9 n / 50. Of all tenths 9 in 50 come from a whole °F; a value that does
// not was not written in whole °F, stays as filed, and is counted in the record's `origin`. Where
// more than half of the values do not, the station was read in another unit and the option is
// refused.
#ifndef EPICOTYL_WEATHER_GHCN_DAILY_HPP
#define EPICOTYL_WEATHER_GHCN_DAILY_HPP

#include <filesystem>
#include <string>
#include <string_view>

#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

/// Lowest and highest air temperature that a reader accepts, in °C. The lowest and the highest
/// ever measured near the ground, -89.2 and 56.7 °C (World Meteorological Organization, archive
/// of weather and climate extremes; from memory), lie inside with room to spare.
inline constexpr double lowest_air_celsius = -95.0;
inline constexpr double highest_air_celsius = 65.0;

struct ghcn_daily_options {
    /// The station to read, "USW00094728"; lines of others are passed over. Empty: the only one.
    std::string station = "";
    /// Takes values that were written in whole °F back to them, see above.
    bool whole_fahrenheit = false;

    friend bool operator==(ghcn_daily_options const&, ghcn_daily_options const&) = default;
};

/// The record of a GHCN-Daily file of either form, named by its station.
///
/// Throws `invalid_input` with file and line: no such file, an empty one, one without a value of
/// TMIN or TMAX; a line of another layout, too short, too long, or with a month or date that is
/// none; a number that cannot be read, or that is no air temperature (-95 to 65 °C); a value on a
/// day that the month lacks; a month, or a day, of an element that comes twice; a second station
/// when none is named, and a file without the one that is; `whole_fahrenheit` for a station most of
/// whose values are no whole °F; a gzip file that is cut off or damaged.
[[nodiscard]] daily_record read_ghcn_daily(std::filesystem::path const& path,
                                           ghcn_daily_options const& options = {});

/// The same for a text already read; `file_name` is for messages only.
[[nodiscard]] daily_record parse_ghcn_daily(std::string_view text, std::string const& file_name,
                                            ghcn_daily_options const& options = {});

}  // namespace epicotyl

#endif
