#include "wrapped.hpp"

#include <algorithm>

#include <epicotyl/days.hpp>

namespace epicotyl::detail {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// False at the blank inside a date, or between a number and what it counts.
bool may_break_at(std::string_view line, std::size_t blank) {
    std::string_view const before = line.substr(0, blank);
    std::string_view const word = before.substr(before.find_last_of(" (") + 1);
    bool const goes_on = blank + 1 < line.size();
    if (!word.empty() && std::all_of(word.begin(), word.end(), is_digit)) { return !goes_on; }
    bool const is_month =
        std::find(std::begin(month_names), std::end(month_names), word) != std::end(month_names);
    return !(is_month && goes_on && is_digit(line[blank + 1]));
}

/// Appends a line, and what does not fit on it below with its own indent.
void append_wrapped(std::string& made, std::string begin, std::string_view line,
                    std::size_t indent) {
    while (columns_of(begin) + columns_of(line) > page_columns) {
        // The last blank that leaves a line short enough, or the first of a longer word.
        std::size_t at = std::string_view::npos;
        for (std::size_t next = line.find(' '); next != std::string_view::npos;
             next = line.find(' ', next + 1)) {
            if (!may_break_at(line, next)) { continue; }
            bool const fits = columns_of(begin) + columns_of(line.substr(0, next)) <= page_columns;
            if (!fits && at != std::string_view::npos) { break; }
            at = next;
            if (!fits) { break; }
        }
        if (at == std::string_view::npos) { break; }
        made.append(begin).append(line.substr(0, at)).append("\n");
        line.remove_prefix(at + 1);
        begin.assign(indent, ' ');
    }
    made.append(begin).append(line);
}

}  // namespace

std::size_t columns_of(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    }));
}

std::string padded(std::string text, std::size_t width) {
    std::size_t const have = columns_of(text);
    if (have < width) { text.append(width - have, ' '); }
    return text;
}

std::string wrapped(std::string_view text) {
    std::string made;
    made.reserve(text.size());
    while (!text.empty()) {
        std::size_t const end = std::min(text.find('\n'), text.size());
        std::string_view line = text.substr(0, end);
        std::size_t const indent = std::min(line.find_first_not_of(' '), line.size());
        line.remove_prefix(indent);
        append_wrapped(made, std::string(indent, ' '), line, indent + 4);
        if (end < text.size()) { made += '\n'; }
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return made;
}

std::string hanging(std::string_view head, std::string_view text) {
    std::string made;
    append_wrapped(made, std::string{head}, text, columns_of(head));
    return made + '\n';
}

}  // namespace epicotyl::detail
