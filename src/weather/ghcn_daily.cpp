#include <epicotyl/weather/ghcn_daily.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/units.hpp>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/detail/whole_fahrenheit.hpp>
#include "ghcn_by_year.hpp"
#include "ghcn_parts.hpp"
#include "text_file.hpp"

namespace epicotyl {
namespace {

using namespace detail::ghcn;

// Columns of the layout, from 0.
std::size_t constexpr year_at = 11;
std::size_t constexpr month_at = 15;
std::size_t constexpr element_at = 17;
std::size_t constexpr first_value_at = 21;
std::size_t constexpr quality_flag_at = 6;  // from the start of the value
std::size_t constexpr day_width = 8;
std::size_t constexpr line_width = first_value_at + 31 * day_width;

/// One element of one month, and the line it came from (0: none).
struct month_values {
    std::array<double, 31> values;
    int line = 0;
};
struct month_of_both {
    month_values tmin;
    month_values tmax;
};

/// First day of the month with this index, 12 a year.
[[nodiscard]] day first_day(int index) {
    return day{date::year{index / 12} / static_cast<int>(index % 12 + 1) / 1};
}

/// A line: one element of one month, a column for each of 31 days.
struct month_line {
    std::string_view text;
    std::string_view element;
    int year;
    int month;
    int index = 12 * year + month - 1;
    std::size_t days = static_cast<std::size_t>((first_day(index + 1) - first_day(index)).count());

    [[nodiscard]] std::string field() const {
        return fmt::format("{} {:04}-{:02}", element, year, month);
    }
    [[nodiscard]] std::string field(std::size_t k) const {
        return fmt::format("{}-{:02}", field(), k + 1);
    }
    [[nodiscard]] std::string_view value(std::size_t k) const {
        std::size_t const from = first_value_at + k * day_width;
        return from < text.size() ? text.substr(from, value_width) : std::string_view{};
    }
    /// True for a value that the quality checks of the network let pass.
    [[nodiscard]] bool passed(std::size_t k) const {
        std::size_t const flag_at = first_value_at + k * day_width + quality_flag_at;
        return flag_at >= text.size() || text[flag_at] == ' ';
    }
};

class ghcn_daily_reader {
public:
    ghcn_daily_reader(std::string const& file_name, ghcn_daily_options const& options)
        : file_name_{file_name}, wanted_{options.station} {}

    void take_line(std::string_view line, int number) {
        line = detail::without_trailing_blanks(line);
        if (line.empty()) { return; }
        number_ = number;
        std::string_view const id = line.substr(0, year_at);
        int const year = line.size() < first_value_at ? -1 : digits_of(line.substr(year_at, 4));
        int const month = line.size() < first_value_at ? -1 : digits_of(line.substr(month_at, 2));
        if (year < 1 || month < 0 || !is_station(id)) {
            refuse({.code = "ghcn_daily.layout",
                    .value = std::string{line.substr(0, first_value_at)},
                    .problem = fmt::format("\"{}\" is not the start of a GHCN-Daily line",
                                           line.substr(0, first_value_at)),
                    .remedy = "give a station file (.dly): station, year, month and element in "
                              "columns 1 to 21; tables with a header are read by read_daily_csv"},
                   file_name_, number_);
        }
        if (month < 1 || month > 12) {
            refuse({.code = "ghcn_daily.month",
                    .field = "month",
                    .value = fmt::format("{}", month),
                    .bound = "1 to 12",
                    .problem = fmt::format("{} is no month", month),
                    .remedy = "check columns 16 and 17, or fetch the file again"},
                   file_name_, number_);
        }
        if (!wanted_.empty() && id != wanted_) {
            others_.see(id);
            return;
        }
        if (station_.empty()) {
            station_ = id;
            station_line_ = number_;
        } else if (station_ != id) {
            refuse({.code = "ghcn_daily.two_stations",
                    .field = "station",
                    .value = std::string{id},
                    .problem = fmt::format("{} follows {} of line {}", id, station_, station_line_),
                    .remedy = "give each station a file of its own, or name the one to read in the "
                              "options"},
                   file_name_, number_);
        }
        std::string_view const element = line.substr(element_at, 4);
        if (element == "TMIN" || element == "TMAX") { take_month({line, element, year, month}); }
    }

    [[nodiscard]] daily_record finish() {
        if (station_.empty()) {
            if (others_.empty()) { refuse_empty(file_name_); }
            refuse_no_such_station(file_name_, wanted_, others_);
        }
        if (months_.empty()) { refuse_no_temperature(file_name_, station_); }
        day const start = first_day(months_.begin()->first);
        day const end = first_day(months_.rbegin()->first + 1);
        std::vector<double> tmin(static_cast<std::size_t>((end - start).count()), detail::missing);
        std::vector<double> tmax = tmin;
        for (auto const& [index, month] : months_) {
            auto const at = (first_day(index) - start).count();
            auto const length = (first_day(index + 1) - first_day(index)).count();
            auto const put = [&](month_values const& from, std::vector<double>& to) {
                if (from.line > 0) { std::copy_n(from.values.begin(), length, to.begin() + at); }
            };
            put(month.tmin, tmin);
            put(month.tmax, tmax);
        }
        return detail::record_between_values(start, std::move(tmin), std::move(tmax), station_,
                                             file_name_);
    }

private:
    void take_month(month_line const& of) {
        require_length(of);
        month_of_both& both = months_[of.index];
        month_values& into = of.element == "TMIN" ? both.tmin : both.tmax;
        if (into.line > 0) {
            refuse({.code = "ghcn_daily.month_twice",
                    .field = of.field(),
                    .problem = fmt::format("line {} has the same month", into.line),
                    .remedy = "keep one of the two lines"},
                   file_name_, number_);
        }
        into.line = number_;
        for (std::size_t k = 0; k < 31; ++k) {
            std::optional<int> const tenths = tenths_of(of, k);
            if (k < of.days) {
                auto const field = [&] {
                    return of.field(k);
                };
                into.values[k] = tenths && of.passed(k)
                                     ? air_of_tenths(*tenths, field, file_name_, number_)
                                     : detail::missing;
            } else if (tenths) {
                refuse({.code = "ghcn_daily.day_beyond_month",
                        .field = of.field(),
                        .value = fmt::format("{}", *tenths),
                        .problem = fmt::format("there is a value, {}, on day {} of a month of {} "
                                               "days",
                                               *tenths, k + 1, of.days),
                        .remedy = "give -9999 on days that the month lacks; check year and month"},
                       file_name_, number_);
            }
        }
    }

    void require_length(month_line const& of) const {
        std::size_t const size = of.text.size();
        std::size_t const needed = first_value_at + (of.days - 1) * day_width + value_width;
        if (size < needed) {
            refuse({.code = "ghcn_daily.short_line",
                    .field = of.field(),
                    .value = fmt::format("{}", size),
                    .bound = fmt::format("{} or more", needed),
                    .unit = "characters",
                    .problem = fmt::format("the line ends after {} characters, before day {} of "
                                           "the month",
                                           size, of.days),
                    .remedy = "the file was cut off; fetch it again"},
                   file_name_, number_);
        }
        if (size > line_width) {
            refuse({.code = "ghcn_daily.long_line",
                    .field = of.field(),
                    .value = fmt::format("{}", size),
                    .bound = fmt::format("up to {}", line_width),
                    .unit = "characters",
                    .problem = fmt::format("the line has {} characters", size),
                    .remedy = "give each month and element a line of its own"},
                   file_name_, number_);
        }
    }

    /// The value of a day; none where it is missing, and where a day that the month lacks is left
    /// blank.
    [[nodiscard]] std::optional<int> tenths_of(month_line const& of, std::size_t k) const {
        std::string_view const text = of.value(k);
        if (k >= of.days && detail::trimmed(text).empty()) { return std::nullopt; }
        int tenths = 0;
        if (text.size() < value_width || !read_value(text, tenths)) {
            std::size_t const from = first_value_at + k * day_width;
            refuse({.code = "ghcn_daily.number",
                    .field = of.field(k),
                    .value = std::string{text},
                    .unit = "0.1 °C",
                    .problem = fmt::format("\"{}\" is not a whole number", text),
                    .remedy = fmt::format("give tenths of a degree Celsius in columns {} to "
                                          "{}, -9999 for a missing value",
                                          from + 1, from + value_width)},
                   file_name_, number_);
        }
        return tenths == no_value ? std::nullopt : std::optional{tenths};
    }

    std::string const& file_name_;
    std::string const& wanted_;  // empty: the only one
    detail::ghcn::station_list others_;
    int number_ = 0;
    std::string station_;
    int station_line_ = 0;
    std::map<int, month_of_both> months_;
};

/// The record with every value that came from a whole °F taken back to it.
[[nodiscard]] daily_record in_whole_fahrenheit(daily_record const& filed,
                                               std::string const& file_name) {
    int values = 0;
    int others = 0;
    auto const restored = [&](std::span<double const> celsius) {
        std::vector<double> all{celsius.begin(), celsius.end()};
        for (double& value : all) {
            if (std::isnan(value)) { continue; }
            ++values;
            if (auto const degrees = detail::whole_fahrenheit(value)) {
                value = temperature::from_fahrenheit(*degrees).celsius();
            } else {
                ++others;
            }
        }
        return all;
    };
    std::vector<double> tmin = restored(filed.tmin());
    std::vector<double> tmax = restored(filed.tmax());
    if (2 * others > values) {
        refuse({.code = "ghcn_daily.not_whole_fahrenheit",
                .field = "whole_fahrenheit",
                .value = fmt::format("{}", others),
                .bound = fmt::format("at most half of {}", values),
                .unit = "values",
                .problem = fmt::format("{} of {} values of {} come from no whole °F", others,
                                       values, filed.name()),
                .remedy = "leave whole_fahrenheit out; the station was not read in whole °F"},
               file_name);
    }
    std::string origin = "in whole °F";
    if (others > 0) {
        origin += fmt::format(", but for {} of {} values, which stand as filed", others, values);
    }
    return daily_record{filed.start(), std::move(tmin), std::move(tmax), filed.name(),
                        std::move(origin)};
}

[[nodiscard]] daily_record parse_as_filed(std::string_view text, std::string const& file_name,
                                          ghcn_daily_options const& options) {
    if (detail::is_ghcn_by_year(text)) {
        return detail::parse_ghcn_by_year(text, file_name, options);
    }
    ghcn_daily_reader reader{file_name, options};
    detail::line_reader lines{text};
    for (std::string_view line; lines.next(line);) { reader.take_line(line, lines.number()); }
    return reader.finish();
}

}  // namespace

daily_record parse_ghcn_daily(std::string_view text, std::string const& file_name,
                              ghcn_daily_options const& options) {
    daily_record const filed = parse_as_filed(text, file_name, options);
    return options.whole_fahrenheit ? in_whole_fahrenheit(filed, file_name) : filed;
}

daily_record read_ghcn_daily(std::filesystem::path const& path, ghcn_daily_options const& options) {
    return parse_ghcn_daily(detail::read_text_file(path), path.string(), options);
}

}  // namespace epicotyl
