// What the readers of weather files share: a file as one string, its lines by number, and the
// record made of the days between the first and the last value.
#ifndef EPICOTYL_SRC_WEATHER_TEXT_FILE_HPP
#define EPICOTYL_SRC_WEATHER_TEXT_FILE_HPP

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/weather/daily_record.hpp>

#include "gzip.hpp"

namespace epicotyl::detail {

/// The bytes of a file, unpacked when it is compressed by gzip, whatever its name says. Throws
/// `invalid_input` when there is none, when it cannot be read, and when it cannot be unpacked.
[[nodiscard]] inline std::string read_text_file(std::filesystem::path const& path) {
    auto const refuse = [&](char const* code, char const* problem, char const* remedy) {
        throw invalid_input{
            {.code = code, .file = path.string(), .problem = problem, .remedy = remedy}};
    };
    std::error_code trouble;
    if (!std::filesystem::exists(path, trouble)) {
        refuse("file.missing", "there is no such file",
               "check the path; a relative one starts at the folder the program runs in");
    }
    if (std::filesystem::is_directory(path, trouble)) {
        refuse("file.is_folder", "this is a folder", "name a file in it");
    }
    std::ifstream stream{path, std::ios::binary};
    if (!stream) { refuse("file.unreadable", "the file cannot be read", "check who may read it"); }
    std::string text;
    std::vector<char> buffer(std::size_t{1} << 16);
    do {
        stream.read(buffer.data(), static_cast<std::streamsize>(buffer.size()));
        text.append(buffer.data(), static_cast<std::size_t>(stream.gcount()));
    } while (stream);
    return is_gzip(text) ? unpacked_gzip(text, path.string()) : text;
}

/// Lines of a text, without their LF or CRLF, counted from 1.
class line_reader {
public:
    explicit line_reader(std::string_view text) noexcept : rest_{text} {}

    /// Puts the next line into `line`; false after the last one.
    [[nodiscard]] bool next(std::string_view& line) noexcept {
        if (rest_.empty()) { return false; }
        std::size_t const end = std::min(rest_.find('\n'), rest_.size());
        line = rest_.substr(0, end);
        rest_.remove_prefix(std::min(end + 1, rest_.size()));
        if (line.ends_with('\r')) { line.remove_suffix(1); }
        ++number_;
        return true;
    }
    [[nodiscard]] int number() const noexcept { return number_; }

private:
    std::string_view rest_;
    int number_ = 0;
};

[[nodiscard]] inline std::string_view without_trailing_blanks(std::string_view text) noexcept {
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) { text.remove_suffix(1); }
    return text;
}

[[nodiscard]] inline std::string_view trimmed(std::string_view text) noexcept {
    text = without_trailing_blanks(text);
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) {
        text.remove_prefix(1);
    }
    return text;
}

/// A record from the first to the last day on which either element has a value, so that the empty
/// days of a file's last month are not taken for weather still missing. Throws `invalid_input`
/// when no day has one.
[[nodiscard]] inline daily_record record_between_values(day start, std::vector<double> tmin,
                                                        std::vector<double> tmax, std::string name,
                                                        std::string const& file_name) {
    auto const has_value = [&](std::size_t k) {
        return !std::isnan(tmin[k]) || !std::isnan(tmax[k]);
    };
    std::size_t from = 0;
    std::size_t until = tmin.size();
    while (from < until && !has_value(from)) { ++from; }
    while (until > from && !has_value(until - 1)) { --until; }
    if (from == until) {
        throw invalid_input{{.code = "weather.no_values",
                             .file = file_name,
                             .field = "minimum, maximum",
                             .problem = "every value is missing",
                             .remedy = "give a file with daily minimum and maximum temperatures"}};
    }
    auto const cut = [&](std::vector<double>& values) {
        values.erase(values.begin() + static_cast<std::ptrdiff_t>(until), values.end());
        values.erase(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(from));
    };
    cut(tmin);
    cut(tmax);
    return daily_record{start + days{static_cast<int>(from)}, std::move(tmin), std::move(tmax),
                        std::move(name)};
}

}  // namespace epicotyl::detail

#endif
