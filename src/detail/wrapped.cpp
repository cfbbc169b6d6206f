#include "wrapped.hpp"

#include <algorithm>

namespace epicotyl::detail {

std::size_t columns_of(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    }));
}

std::string wrapped(std::string_view text) {
    std::string made;
    made.reserve(text.size());
    while (!text.empty()) {
        std::size_t const end = std::min(text.find('\n'), text.size());
        std::string_view line = text.substr(0, end);
        std::size_t const indent = std::min(line.find_first_not_of(' '), line.size());
        line.remove_prefix(indent);
        std::string begin(indent, ' ');
        while (begin.size() + columns_of(line) > page_columns) {
            // The last blank that leaves a line short enough, or the first of a longer word.
            std::size_t at = line.find(' ');
            for (std::size_t next = at; next != std::string_view::npos;
                 next = line.find(' ', next + 1)) {
                if (begin.size() + columns_of(line.substr(0, next)) > page_columns) { break; }
                at = next;
            }
            if (at == std::string_view::npos) { break; }
            made.append(begin).append(line.substr(0, at)).append("\n");
            line.remove_prefix(at + 1);
            begin.assign(indent + 4, ' ');
        }
        made.append(begin).append(line);
        if (end < text.size()) { made += '\n'; }
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return made;
}

}  // namespace epicotyl::detail
