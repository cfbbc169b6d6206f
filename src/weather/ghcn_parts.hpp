// What the two forms of GHCN-Daily files share.
#ifndef EPICOTYL_SRC_WEATHER_GHCN_PARTS_HPP
#define EPICOTYL_SRC_WEATHER_GHCN_PARTS_HPP

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/error.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

namespace epicotyl::detail::ghcn {

inline constexpr std::size_t station_width = 11;
inline constexpr std::size_t value_width = 5;
inline constexpr int no_value = -9999;

[[noreturn]] inline void refuse(input_fault fault, std::string const& file_name, int line = 0) {
    fault.file = file_name;
    fault.line = line;
    throw invalid_input{std::move(fault)};
}

/// A number of at most nine digits and nothing else; -1 when it is none.
[[nodiscard]] inline int digits_of(std::string_view text) noexcept {
    if (text.size() > 9) { return -1; }
    int value = 0;
    for (char const c : text) {
        if (c < '0' || c > '9') { return -1; }
        value = 10 * value + (c - '0');
    }
    return value;
}

/// A right-aligned whole number with a sign at most; false when it is none.
[[nodiscard]] inline bool read_value(std::string_view field, int& value) noexcept {
    while (!field.empty() && field.front() == ' ') { field.remove_prefix(1); }
    bool const negative = field.starts_with('-');
    if (negative) { field.remove_prefix(1); }
    value = field.empty() ? -1 : digits_of(field);
    if (value < 0) { return false; }
    if (negative) { value = -value; }
    return true;
}

[[nodiscard]] inline bool is_station(std::string_view id) noexcept {
    return std::all_of(id.begin(), id.end(), [](char c) {
        return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ||
               c == '-' || c == '_';
    });
}

/// Tenths of a degree as °C. Throws when that is no temperature of the air; `field` makes the
/// name of the value for the message.
template <class Field>
[[nodiscard]] double air_of_tenths(int tenths, Field const& field, std::string const& file_name,
                                   int line) {
    double const celsius = tenths / 10.0;
    if (!(celsius >= lowest_air_celsius && celsius <= highest_air_celsius)) {
        refuse({.code = "weather.not_air_temperature",
                .field = field(),
                .value = fmt::format("{}", celsius),
                .bound = fmt::format("{} to {}", lowest_air_celsius, highest_air_celsius),
                .unit = "°C",
                .problem = fmt::format("{} °C is not an air temperature", celsius),
                .remedy = "give tenths of a degree Celsius, or a quality flag that says "
                          "the value failed"},
               file_name, line);
    }
    return celsius;
}

/// A few of the stations of a file, for messages.
class station_list {
public:
    void see(std::string_view id) {
        if (id == last_) { return; }
        last_ = id;
        if (std::find(seen_.begin(), seen_.end(), id) != seen_.end()) { return; }
        if (seen_.size() < listed) {
            seen_.emplace_back(id);
        } else {
            more_ = true;
        }
    }
    [[nodiscard]] bool empty() const noexcept { return seen_.empty(); }
    /// "USC00102707, USW00094728 and others", in the order of the file.
    [[nodiscard]] std::string to_string() const {
        return fmt::format("{}{}", fmt::join(seen_, ", "), more_ ? " and others" : "");
    }

private:
    static constexpr std::size_t listed = 5;

    std::string last_;
    std::vector<std::string> seen_;
    bool more_ = false;
};

[[noreturn]] inline void refuse_empty(std::string const& file_name) {
    refuse({.code = "ghcn_daily.empty", .problem = "the file is empty", .remedy = "fetch it again"},
           file_name);
}

[[noreturn]] inline void refuse_no_such_station(std::string const& file_name,
                                                std::string const& wanted,
                                                station_list const& stations) {
    refuse({.code = "ghcn_daily.no_such_station",
            .field = "station",
            .value = wanted,
            .problem =
                fmt::format("the file has no line of {}; it has {}", wanted, stations.to_string()),
            .remedy = "name a station of the file, or give the file that holds this one"},
           file_name);
}

[[noreturn]] inline void refuse_no_temperature(std::string const& file_name,
                                               std::string const& station) {
    refuse({.code = "ghcn_daily.no_temperature",
            .field = "element",
            .problem = fmt::format("station {} has no line of TMIN or TMAX", station),
            .remedy = "give a station that measures temperature"},
           file_name);
}

}  // namespace epicotyl::detail::ghcn

#endif
