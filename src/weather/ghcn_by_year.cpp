#include "ghcn_by_year.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/days.hpp>

#include "ghcn_parts.hpp"
#include "text_file.hpp"

namespace epicotyl::detail {
namespace {

using namespace ghcn;

std::string_view constexpr header = "ID,DATE,ELEMENT,";

class by_year_reader {
public:
    by_year_reader(std::string const& file_name, ghcn_daily_options const& options)
        : file_name_{file_name},
          names_station_{!options.station.empty()},
          station_{options.station} {}

    void take_line(std::string_view line, int number) {
        line = without_trailing_blanks(line);
        if (line.empty()) { return; }
        number_ = number;
        bool const is_header = stations_.empty() && line.starts_with(header);
        if (is_header) { return; }
        if (!split(line) || fields_[id].size() != station_width || !is_station(fields_[id])) {
            std::size_t constexpr shown = 40;
            std::string const start =
                fmt::format("{}{}", line.substr(0, shown), line.size() > shown ? "..." : "");
            refuse({.code = "ghcn_daily.layout",
                    .value = start,
                    .problem = fmt::format("\"{}\" is not a line of GHCN-Daily by year", start),
                    .remedy = "give eight fields parted by commas: station, date, element, value, "
                              "three flags, time; flags and time may be empty"},
                   file_name_, number_);
        }
        stations_.see(fields_[id]);
        if (station_.empty()) { station_ = fields_[id]; }
        if (fields_[id] != station_) {
            if (second_station_at_ == 0) { second_station_at_ = number_; }
            return;
        }
        found_ = true;
        if (fields_[element] == "TMIN") {
            take_value(tmin_);
        } else if (fields_[element] == "TMAX") {
            take_value(tmax_);
        }
    }

    [[nodiscard]] daily_record finish() {
        if (stations_.empty()) { refuse_empty(file_name_); }
        if (!names_station_ && second_station_at_ > 0) {
            refuse({.code = "ghcn_daily.several_stations",
                    .field = "station",
                    .value = stations_.to_string(),
                    .problem = fmt::format("the file holds several stations ({}), and none is "
                                           "named",
                                           stations_.to_string()),
                    .remedy = "name the one to read in the options"},
                   file_name_, second_station_at_);
        }
        if (!found_) { refuse_no_such_station(file_name_, station_, stations_); }
        if (tmin_.empty() && tmax_.empty()) { refuse_no_temperature(file_name_, station_); }
        put_in_order(tmin_, "TMIN");
        put_in_order(tmax_, "TMAX");
        day start = day::max();
        day last = day::min();
        for (std::vector<day_value> const* const values : {&tmin_, &tmax_}) {
            if (values->empty()) { continue; }
            start = std::min(start, values->front().on);
            last = std::max(last, values->back().on);
        }
        auto const spread = [&](std::vector<day_value> const& values) {
            std::vector<double> all(static_cast<std::size_t>((last - start).count()) + 1,
                                    std::numeric_limits<double>::quiet_NaN());
            for (day_value const& one : values) {
                all[static_cast<std::size_t>((one.on - start).count())] = one.celsius;
            }
            return all;
        };
        return record_between_values(start, spread(tmin_), spread(tmax_), station_, file_name_);
    }

private:
    enum column : std::size_t { id, date_of_day, element, value, mflag, qflag, sflag, time, count };

    struct day_value {
        day on;
        int line;
        double celsius;  // NaN where the file says that there is none, or that it failed
    };

    /// Puts the fields of a line into `fields_`; false when they are not eight.
    [[nodiscard]] bool split(std::string_view line) noexcept {
        for (std::size_t k = 0; k < count; ++k) {
            std::size_t const comma = line.find(',');
            bool const is_last = k + 1 == count;
            if ((comma == line.npos) != is_last) { return false; }
            fields_[k] = trimmed(line.substr(0, comma));
            if (!is_last) { line.remove_prefix(comma + 1); }
        }
        return true;
    }

    void take_value(std::vector<day_value>& into) {
        std::string_view const written = fields_[date_of_day];
        int const digits = written.size() == 8 ? digits_of(written) : -1;
        date::year_month_day const ymd{date::year{digits / 10000},
                                       date::month{static_cast<unsigned>(digits / 100 % 100)},
                                       date::day{static_cast<unsigned>(digits % 100)}};
        if (digits < 0 || digits / 10000 < 1 || !ymd.ok()) {
            refuse({.code = "ghcn_daily.date",
                    .field = "date",
                    .value = std::string{written},
                    .problem = fmt::format("\"{}\" is not a day of the calendar", written),
                    .remedy = "write year, month and day as eight digits, such as 20270301"},
                   file_name_, number_);
        }
        day const on{ymd};
        auto const field = [&] {
            return fmt::format("{} {}", fields_[element], to_iso(on));
        };
        int tenths = 0;
        if (fields_[value].size() > value_width || !read_value(fields_[value], tenths)) {
            refuse({.code = "ghcn_daily.number",
                    .field = field(),
                    .value = std::string{fields_[value]},
                    .unit = "0.1 °C",
                    .problem = fmt::format("\"{}\" is not a whole number of up to {} characters",
                                           fields_[value], value_width),
                    .remedy = "give tenths of a degree Celsius, -9999 for a missing value"},
                   file_name_, number_);
        }
        bool const known = tenths != no_value && fields_[qflag].empty();
        double const celsius = known ? air_of_tenths(tenths, field, file_name_, number_)
                                     : std::numeric_limits<double>::quiet_NaN();
        into.push_back({.on = on, .line = number_, .celsius = celsius});
    }

    void put_in_order(std::vector<day_value>& values, char const* name) const {
        std::stable_sort(values.begin(), values.end(),
                         [](day_value const& a, day_value const& b) { return a.on < b.on; });
        auto const twice =
            std::adjacent_find(values.begin(), values.end(),
                               [](day_value const& a, day_value const& b) { return a.on == b.on; });
        if (twice == values.end()) { return; }
        refuse({.code = "ghcn_daily.day_twice",
                .field = fmt::format("{} {}", name, to_iso(twice->on)),
                .problem = fmt::format("line {} has the same day", twice->line),
                .remedy = "keep one of the two lines"},
               file_name_, std::next(twice)->line);
    }

    std::string const& file_name_;
    bool names_station_;
    std::string station_;  // the one named, or else that of the first line
    bool found_ = false;
    int second_station_at_ = 0;  // line
    station_list stations_;
    int number_ = 0;
    std::array<std::string_view, count> fields_;
    std::vector<day_value> tmin_;
    std::vector<day_value> tmax_;
};

}  // namespace

bool is_ghcn_by_year(std::string_view text) noexcept {
    line_reader lines{text};
    for (std::string_view line; lines.next(line);) {
        line = without_trailing_blanks(line);
        if (line.empty()) { continue; }
        // A table of days may have its first comma in this column, but no date after it.
        bool const has_date =
            line.size() > station_width + 1 && digits_of(line.substr(station_width + 1, 1)) >= 0;
        return line.starts_with(header) || (line.find(',') == station_width && has_date &&
                                            is_station(line.substr(0, station_width)));
    }
    return false;
}

daily_record parse_ghcn_by_year(std::string_view text, std::string const& file_name,
                                ghcn_daily_options const& options) {
    by_year_reader reader{file_name, options};
    line_reader lines{text};
    for (std::string_view line; lines.next(line);) { reader.take_line(line, lines.number()); }
    return reader.finish();
}

}  // namespace epicotyl::detail
