#include "say_names.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

namespace epicotyl::detail {

namespace {

struct numbered {
    std::string_view stem;  ///< with the blank before the number
    int number;
};

/// "zinnia 3": zinnia and 3. None for a name that does not end in a number of at most 4 digits.
std::optional<numbered> parts_of(std::string_view name) {
    constexpr std::size_t most_digits = 4;
    std::size_t const blank = name.rfind(' ');
    if (blank == std::string_view::npos) { return std::nullopt; }
    std::string_view const digits = name.substr(blank + 1);
    bool const is_number =
        !digits.empty() && digits.size() <= most_digits && digits.front() != '0' &&
        std::all_of(digits.begin(), digits.end(), [](char c) { return c >= '0' && c <= '9'; });
    if (!is_number) { return std::nullopt; }
    return numbered{name.substr(0, blank + 1), std::stoi(std::string{digits})};
}

bool follows(std::string_view one, std::string_view next) {
    std::optional<numbered> const a = parts_of(one);
    std::optional<numbered> const b = parts_of(next);
    return a && b && a->stem == b->stem && b->number == a->number + 1;
}

}  // namespace

std::string say_names(std::span<std::string const> names) {
    std::string text;
    for (std::size_t i = 0; i < names.size();) {
        std::size_t last = i;
        while (last + 1 < names.size() && follows(names[last], names[last + 1])) { ++last; }
        text += (text.empty() ? "" : ", ") + names[i];
        if (last > i) {
            text +=
                (last == i + 1 ? " and " : " to ") + std::to_string(parts_of(names[last])->number);
        }
        i = last + 1;
    }
    return text;
}

}  // namespace epicotyl::detail
