// Words that stand for the values of an enumeration.
#ifndef EPICOTYL_BINDINGS_WORDS_HPP
#define EPICOTYL_BINDINGS_WORDS_HPP

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl::bindings {

/// The value of an enumeration whose values are numbered from 0 in the order of `words`. Throws
/// `invalid_input` with the words that may stand there and the nearest of them.
template <class Enum>
[[nodiscard]] Enum enum_of(std::string const& word, std::span<std::string_view const> words,
                           char const* field) {
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (word == words[i]) { return static_cast<Enum>(i); }
    }
    throw invalid_input{{.code = "word.unknown",
                         .field = field,
                         .value = word,
                         .bound = fmt::format("{}", fmt::join(words.begin(), words.end(), ", ")),
                         .problem = fmt::format("\"{}\" is not known here", word),
                         .remedy = fmt::format("the nearest is \"{}\"",
                                               *epicotyl::detail::nearest_word(word, words))}};
}

}  // namespace epicotyl::bindings

#endif
