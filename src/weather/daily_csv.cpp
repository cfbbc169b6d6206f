#include <epicotyl/weather/daily_csv.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/units.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "text_file.hpp"

namespace epicotyl {
namespace {

double constexpr missing = std::numeric_limits<double>::quiet_NaN();

[[nodiscard]] bool same_word(std::string_view a, std::string_view b) noexcept {
    auto const lower = [](char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    };
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](char x, char y) { return lower(x) == lower(y); });
}

[[nodiscard]] std::optional<temperature_unit> unit_of_ending(std::string_view column) noexcept {
    if (column.size() < 2) { return std::nullopt; }
    std::string_view const ending = column.substr(column.size() - 2);
    if (same_word(ending, "_c")) { return temperature_unit::celsius; }
    if (same_word(ending, "_f")) { return temperature_unit::fahrenheit; }
    return std::nullopt;
}

/// A temperature column: where it stands, what the file calls it, and its unit.
struct temperature_column {
    std::size_t at = 0;
    std::string name;
    temperature_unit unit = temperature_unit::celsius;
};

class daily_csv_reader {
public:
    daily_csv_reader(std::string const& file_name, daily_csv_options const& options)
        : file_name_{file_name}, options_{options} {}

    [[nodiscard]] daily_record read(std::string_view text) {
        if (text.starts_with("\xEF\xBB\xBF")) { text.remove_prefix(3); }
        detail::line_reader lines{text};
        bool has_header = false;
        for (std::string_view line; lines.next(line);) {
            line_ = lines.number();
            std::string_view const trimmed = detail::trimmed(line);
            if (trimmed.empty()) { continue; }
            if (!has_header && trimmed.starts_with('#')) {
                take_comment(trimmed.substr(1));
                continue;
            }
            split(line);
            if (has_header) {
                take_day();
            } else {
                take_header();
                has_header = true;
            }
        }
        line_ = 0;
        if (!has_header) {
            refuse({.code = "daily_csv.empty",
                    .problem = "the file has no header line",
                    .remedy = "name the columns in its first line, such as date,tmin_c,tmax_c"});
        }
        if (tmin_.empty()) {
            refuse({.code = "daily_csv.no_days",
                    .problem = "no line follows the header",
                    .remedy = "give one line for every day"});
        }
        daily_record record = detail::record_between_values(start_, std::move(tmin_),
                                                            std::move(tmax_), name(), file_name_);
        refuse_fahrenheit_as_celsius(record);
        return record;
    }

private:
    [[nodiscard]] std::string name() const {
        if (!options_.name.empty()) { return options_.name; }
        if (!station_.empty()) { return station_; }
        std::filesystem::path file = std::filesystem::path{file_name_}.filename();
        if (same_word(file.extension().string(), ".gz")) { file = file.stem(); }
        return file.stem().string();
    }

    /// "station: Marlpit" names the station.
    void take_comment(std::string_view comment) {
        constexpr std::string_view key = "station:";
        comment = detail::trimmed(comment);
        if (comment.starts_with(key)) { station_ = detail::trimmed(comment.substr(key.size())); }
    }

    /// Looks at every 30 days in a row, where a column is declared °C.
    void refuse_fahrenheit_as_celsius(daily_record const& record) const {
        if (tmin_column_.unit != temperature_unit::celsius &&
            tmax_column_.unit != temperature_unit::celsius) {
            return;
        }
        std::size_t constexpr window = 30;
        int constexpr fewest = 25;
        double sum = 0.0;
        int count = 0;
        auto const add = [&](std::size_t k, int sign) {
            double const mean = (record.tmin()[k] + record.tmax()[k]) / 2.0;
            if (std::isnan(mean)) { return; }
            sum += sign * mean;
            count += sign;
        };
        for (std::size_t k = 0; k < record.tmin().size(); ++k) {
            add(k, 1);
            if (k >= window) { add(k - window, -1); }
            // The sum carries what rounding leaves behind.
            if (count < fewest || sum / count <= hottest_month_celsius + 1e-6) { continue; }
            double const mean = sum / count;
            refuse(
                {.code = "daily_csv.fahrenheit_as_celsius",
                 .field = fmt::format("{}, {}", tmin_column_.name, tmax_column_.name),
                 .value = fmt::format("{:.1f}", mean),
                 .bound = fmt::format("up to {}", hottest_month_celsius),
                 .unit = "°C",
                 .problem = fmt::format(
                     "{} days to {} would have a mean of {:.1f} °C, hotter than a month of any "
                     "place on Earth",
                     window, to_day_month_year(record.start() + days{static_cast<int>(k)}), mean),
                 .remedy = fmt::format("if the values are in °F ({:.1f} °C) say so in the "
                                       "columns' names or in the options",
                                       temperature::from_fahrenheit(mean).celsius())});
        }
    }

    [[noreturn]] void refuse(input_fault fault) const {
        fault.file = file_name_;
        fault.line = line_;
        throw invalid_input{std::move(fault)};
    }

    /// Puts the fields of a line into `fields_`, without their quotes.
    void split(std::string_view line) {
        fields_.clear();
        std::string_view rest = line;
        for (;;) {
            std::string_view const start = detail::trimmed(rest);
            std::size_t comma = rest.find(',');
            if (start.starts_with('"')) {
                std::size_t close = start.find('"', 1);
                while (close != start.npos && start.substr(close + 1).starts_with('"')) {
                    close = start.find('"', close + 2);
                }
                if (close == start.npos) {
                    refuse({.code = "daily_csv.open_quote",
                            .value = std::string{start},
                            .problem = "a field begins with a double quote that is not closed",
                            .remedy = "close it on the same line"});
                }
                auto const after = static_cast<std::size_t>(start.data() - rest.data()) + close + 1;
                comma = rest.find(',', after);
                std::string_view const between =
                    rest.substr(after, std::min(comma, rest.size()) - after);
                if (!detail::trimmed(between).empty()) {
                    refuse({.code = "daily_csv.text_after_quote",
                            .value = std::string{between},
                            .problem = fmt::format("\"{}\" follows a closing double quote",
                                                   detail::trimmed(between)),
                            .remedy = "put the whole field into the quotes; double a quote that "
                                      "belongs to it"});
                }
                fields_.push_back(start.substr(1, close - 1));
            } else {
                fields_.push_back(detail::trimmed(rest.substr(0, comma)));
            }
            if (comma == rest.npos) { return; }
            rest.remove_prefix(comma + 1);
        }
    }

    [[nodiscard]] std::string columns_found() const {
        return fmt::format("{}", fmt::join(fields_, ", "));
    }

    /// Where the column of that name stands; with `endings`, also under the name with its unit.
    [[nodiscard]] std::size_t find_column(std::string const& name, bool endings) const {
        std::optional<std::size_t> found;
        for (std::size_t i = 0; i < fields_.size(); ++i) {
            bool const named =
                same_word(fields_[i], name) || (endings && (same_word(fields_[i], name + "_c") ||
                                                            same_word(fields_[i], name + "_f")));
            if (!named) { continue; }
            if (found) {
                refuse(
                    {.code = "daily_csv.column_twice",
                     .field = name,
                     .value = std::string{fields_[i]},
                     .problem = fmt::format("columns {} ({}) and {} ({}) both answer to \"{}\"",
                                            *found + 1, fields_[*found], i + 1, fields_[i], name),
                     .remedy = "rename one of them"});
            }
            found = i;
        }
        if (!found) {
            bool const other_mark =
                fields_.size() == 1 && fields_[0].find_first_of(";\t|") != std::string_view::npos;
            refuse({.code = "daily_csv.no_column",
                    .field = name,
                    .value = columns_found(),
                    .problem = fmt::format("no column is called \"{}\"; the header has: {}", name,
                                           columns_found()),
                    .remedy = other_mark ? "part the fields with commas, and write decimal points"
                                         : "rename the column, or say in the options what it is "
                                           "called"});
        }
        return *found;
    }

    [[nodiscard]] temperature_column find_temperature(std::string const& name) const {
        std::size_t const at = find_column(name, true);
        std::string const column{fields_[at]};
        std::optional<temperature_unit> const by_ending = unit_of_ending(column);
        if (!by_ending && !options_.unit) {
            refuse({.code = "daily_csv.no_unit",
                    .field = column,
                    .bound = "°C, °F",
                    .problem = "nothing says the unit of this column",
                    .remedy = fmt::format("call the column {0}_c or {0}_f, or state the unit in "
                                          "the options; it is never guessed",
                                          name)});
        }
        if (by_ending && options_.unit && *by_ending != *options_.unit) {
            refuse({.code = "daily_csv.two_units",
                    .field = column,
                    .value = std::string{to_string(*options_.unit)},
                    .problem = fmt::format("the column's name says {}, the options say {}",
                                           to_string(*by_ending), to_string(*options_.unit)),
                    .remedy = "correct the one that is wrong"});
        }
        return {.at = at, .name = column, .unit = by_ending ? *by_ending : *options_.unit};
    }

    void take_header() {
        date_ = find_column(options_.date, false);
        tmin_column_ = find_temperature(options_.tmin);
        tmax_column_ = find_temperature(options_.tmax);
        columns_ = fields_.size();
    }

    void take_day() {
        if (fields_.size() != columns_) {
            refuse(
                {.code = "daily_csv.fields",
                 .value = fmt::format("{}", fields_.size()),
                 .bound = fmt::format("{}", columns_),
                 .unit = "fields",
                 .problem = fmt::format("the line has {}",
                                        detail::counted(static_cast<int>(fields_.size()), "field")),
                 .remedy = fields_.size() > columns_
                               ? "write decimal points, not commas, and no thousands separators"
                               : "give an empty field for a missing value"});
        }
        day const d = read_date(fields_[date_]);
        if (tmin_.empty()) {
            start_ = d;
        } else if (d <= last_) {
            refuse({.code = d == last_ ? "daily_csv.day_twice" : "daily_csv.days_out_of_order",
                    .field = options_.date,
                    .value = to_iso(d),
                    .bound = fmt::format("after {}", to_iso(last_)),
                    .problem = d == last_ ? fmt::format("{} stands in line {} already", to_iso(d),
                                                        last_line_)
                                          : fmt::format("{} follows {} of line {}", to_iso(d),
                                                        to_iso(last_), last_line_),
                    .remedy = d == last_ ? "keep one of the two lines" : "sort the lines by date"});
        }
        auto const at = static_cast<std::size_t>((d - start_).count());
        tmin_.resize(at, missing);
        tmax_.resize(at, missing);
        tmin_.push_back(read_temperature(tmin_column_));
        tmax_.push_back(read_temperature(tmax_column_));
        last_ = d;
        last_line_ = line_;
    }

    [[nodiscard]] day read_date(std::string_view text) const {
        try {
            return parse_iso_day(text);
        } catch (invalid_input const& fault) {
            throw fault.in_field(options_.date).in_file(file_name_, line_);
        }
    }

    [[nodiscard]] double read_temperature(temperature_column const& column) const {
        std::string_view const text = detail::trimmed(fields_[column.at]);
        if (text.empty() || same_word(text, "na") || same_word(text, "nan")) { return missing; }
        std::string_view number = text;
        if (number.starts_with('+')) { number.remove_prefix(1); }
        double value = 0.0;
        auto const [end, trouble] =
            std::from_chars(number.data(), number.data() + number.size(), value);
        bool const read = trouble == std::errc{} && end == number.data() + number.size() &&
                          std::isfinite(value) &&
                          !(text.starts_with('+') && number.starts_with('-'));
        if (!read) {
            bool const has_mark = text.find_first_of(",' ") != std::string_view::npos;
            refuse({.code = "daily_csv.number",
                    .field = column.name,
                    .value = std::string{text},
                    .unit = std::string{to_string(column.unit)},
                    .problem = fmt::format("\"{}\" is not a number", text),
                    .remedy =
                        has_mark ? "write a decimal point, not a comma, and no thousands separators"
                                 : "write a number such as -1.5; leave the field empty, or write "
                                   "NA, when the value is missing"});
        }
        bool const fahrenheit = column.unit == temperature_unit::fahrenheit;
        double const celsius = fahrenheit ? temperature::from_fahrenheit(value).celsius() : value;
        if (!(celsius >= lowest_air_celsius && celsius <= highest_air_celsius)) {
            auto const in_unit = [&](double bound) {
                temperature const t = temperature::from_celsius(bound);
                return fahrenheit ? t.fahrenheit() : t.celsius();
            };
            refuse({.code = "weather.not_air_temperature",
                    .field = column.name,
                    .value = std::string{text},
                    .bound = fmt::format("{:.0f} to {:.0f}", in_unit(lowest_air_celsius),
                                         in_unit(highest_air_celsius)),
                    .unit = std::string{to_string(column.unit)},
                    .problem = fmt::format("{} {} is not an air temperature", text,
                                           to_string(column.unit)),
                    .remedy = fmt::format("check the unit, taken as {}; leave the field empty when "
                                          "the value is missing",
                                          to_string(column.unit))});
        }
        return celsius;
    }

    std::string const& file_name_;
    std::string station_ = {};  ///< as a comment before the header names it
    daily_csv_options const& options_;
    int line_ = 0;
    std::vector<std::string_view> fields_;
    std::size_t columns_ = 0;
    std::size_t date_ = 0;
    temperature_column tmin_column_;
    temperature_column tmax_column_;
    day start_;
    day last_;
    int last_line_ = 0;
    std::vector<double> tmin_;
    std::vector<double> tmax_;
};

}  // namespace

daily_record parse_daily_csv(std::string_view text, std::string const& file_name,
                             daily_csv_options const& options) {
    return daily_csv_reader{file_name, options}.read(text);
}

daily_record read_daily_csv(std::filesystem::path const& path, daily_csv_options const& options) {
    return parse_daily_csv(detail::read_text_file(path), path.string(), options);
}

}  // namespace epicotyl
