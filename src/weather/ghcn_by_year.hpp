// The form of GHCN-Daily by year: a value a line, many stations in one file.
#ifndef EPICOTYL_SRC_WEATHER_GHCN_BY_YEAR_HPP
#define EPICOTYL_SRC_WEATHER_GHCN_BY_YEAR_HPP

#include <string>
#include <string_view>

#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

namespace epicotyl::detail {

/// True when the first line that is not blank is one of the form by year: its header, or a line
/// in which a comma parts the station from a date.
[[nodiscard]] bool is_ghcn_by_year(std::string_view text) noexcept;

/// The record of a text of that form.
[[nodiscard]] daily_record parse_ghcn_by_year(std::string_view text, std::string const& file_name,
                                              ghcn_daily_options const& options);

}  // namespace epicotyl::detail

#endif
