// epicotyl: reading daily weather tables.
//
// A table has a header line that names its columns, then one line a day, in order:
//
//     # station: Marlpit                (comments before the header; this one names the station)
//     date,tmin_c,tmax_c,rain
//     2026-01-01,-1.5,4.0,0
//     2026-01-02,,3.5,2.4               (no minimum)
//     2026-01-05,0.5,6.0,0              (3 and 4 January: gaps)
//
// Three columns are looked for by name, in any order and any case; others are passed over. A column
// asked for as "tmin" is also found as "tmin_c" or "tmin_f", and the ending then says its unit.
//
// **A unit is never guessed.** Either the caller states it, or the column's ending does. When both
// do they must agree; when neither does the file is refused.
//
// A table in °F declared as °C is mostly betrayed by its first summer day above 65. A cooler one is
// refused when 30 days in a row, 25 of them with both values, have a mean above 45: no place is so
// hot, and as °F it would be a spring of 7.2 °C. A table of winter months alone can pass. The other
// way round nothing is refused: °C taken as °F look like a cold place, and there are cold places.
//
// A table compressed by gzip is unpacked first; its first bytes say so, whatever its name.
//
// Fields are parted by commas and may stand in double quotes (RFC 4180; no line breaks inside).
// Dates are ISO 8601, numbers have a decimal point. An empty cell, NA or NaN (any case) is a gap,
// and so is a day without a line. Lines end in LF or CRLF; blank lines, and a byte order mark
// before the first, are passed over. The record goes from the first to the last day on which either
// element has a value.
#ifndef EPICOTYL_WEATHER_DAILY_CSV_HPP
#define EPICOTYL_WEATHER_DAILY_CSV_HPP

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

/// Highest mean temperature of 30 days that a table declared °C may have, in °C. The mean of the
/// daily means, (minimum + maximum) / 2, was 42.5 °C in the hottest month measured (Death Valley,
/// July 2024; from memory).
inline constexpr double hottest_month_celsius = 45.0;

enum class temperature_unit { celsius, fahrenheit };

/// "°C" or "°F".
[[nodiscard]] constexpr std::string_view to_string(temperature_unit unit) noexcept {
    return unit == temperature_unit::celsius ? "°C" : "°F";
}

/// What a table calls its columns.
struct daily_csv_options {
    std::string date = "date";                  ///< column of the ISO date
    std::string tmin = "tmin";                  ///< column of the day's lowest temperature
    std::string tmax = "tmax";                  ///< column of the day's highest temperature
    std::optional<temperature_unit> unit = {};  ///< unit of both; none: the columns' endings say it
    std::string name = {};                      ///< empty: as the file says, or its name, no ending

    friend bool operator==(daily_csv_options const&, daily_csv_options const&) = default;
};

/// The record of a table of days.
///
/// Throws `invalid_input` with file and line: no such file, an empty one, one without a value; a
/// column that is not there or comes twice; a unit not stated or stated in two ways; a line with
/// more or fewer fields than the header, or with a quote left open; a date that is not ISO, that
/// repeats or goes back; a number that cannot be read (thousands separators and decimal commas
/// included), or that is no air temperature (-95 to 65 °C, mostly a sign of a wrong unit); a month
/// hotter than any place has, in columns declared °C; a gzip file that is cut off or damaged.
[[nodiscard]] daily_record read_daily_csv(std::filesystem::path const& path,
                                          daily_csv_options const& options = {});

/// The same for a text already read; `file_name` is for messages, and for the record's name when
/// `options` gives none.
[[nodiscard]] daily_record parse_daily_csv(std::string_view text, std::string const& file_name,
                                           daily_csv_options const& options = {});

}  // namespace epicotyl

#endif
