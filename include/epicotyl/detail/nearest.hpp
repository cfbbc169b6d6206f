// epicotyl: the known word nearest to an unknown one, for messages that say what was meant.
#ifndef EPICOTYL_DETAIL_NEAREST_HPP
#define EPICOTYL_DETAIL_NEAREST_HPP

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace epicotyl::detail {

/// A letter as it counts in a comparison of words: small and capital letters of ASCII are one, and
/// so are the marks that join words ("harden off", "harden-off", "harden_off").
[[nodiscard]] constexpr char plain_letter(char letter) noexcept {
    if (letter >= 'A' && letter <= 'Z') { return static_cast<char>(letter - 'A' + 'a'); }
    return letter == '-' || letter == ' ' ? '_' : letter;
}

/// Least number of letters to insert, drop, change or swap with their neighbour to make one word
/// of the other, no letter being touched twice (optimal string alignment, after Damerau
/// [damerau1964]). Words are compared byte by byte as `plain_letter` sees them.
[[nodiscard]] inline int edit_distance(std::string_view a, std::string_view b) {
    std::size_t const width = b.size() + 1;
    std::vector<int> before(width);
    std::vector<int> above(width);
    std::vector<int> row(width);
    for (std::size_t j = 0; j < width; ++j) { above[j] = static_cast<int>(j); }
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = static_cast<int>(i);
        for (std::size_t j = 1; j < width; ++j) {
            char const x = plain_letter(a[i - 1]);
            char const y = plain_letter(b[j - 1]);
            int best = above[j - 1] + (x == y ? 0 : 1);
            best = std::min({best, above[j] + 1, row[j - 1] + 1});
            if (i > 1 && j > 1 && x == plain_letter(b[j - 2]) && y == plain_letter(a[i - 2])) {
                best = std::min(best, before[j - 2] + 1);
            }
            row[j] = best;
        }
        before.swap(above);
        above.swap(row);
    }
    return above[b.size()];
}

/// The word of `known` with the smallest distance from `word`, the first of several; none when
/// nothing is known. `known` is any range of strings. A word of which the other is a whole part
/// ("sine" of "single_sine") is never further than two letters away.
template <class Words>
[[nodiscard]] std::optional<std::string> nearest_word(std::string_view word, Words const& known) {
    std::optional<std::string> nearest;
    int least = 0;
    auto const is_part = [](std::string_view part, std::string_view whole) {
        return part.size() > 2 && whole.find(part) != std::string_view::npos;
    };
    for (auto const& one : known) {
        int distance = edit_distance(word, one);
        if (is_part(word, one) || is_part(one, word)) { distance = std::min(distance, 2); }
        if (!nearest || distance < least) {
            nearest = std::string{one};
            least = distance;
        }
    }
    return nearest;
}

}  // namespace epicotyl::detail

#endif
