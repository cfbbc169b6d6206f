// epicotyl: a key of a clock or rule, as its block says it.
//
// The block of a clock or rule shows its keys one after another, each with the member that holds
// its value (`each_key`). What kind of number it is the member's type says: a temperature is
// written in the units of the plan, checked against the range of air and snapped to the units; a
// day must lie in the season; what is `std::optional`, and a word, may be left out.
#ifndef EPICOTYL_DETAIL_BLOCK_KEY_HPP
#define EPICOTYL_DETAIL_BLOCK_KEY_HPP

#include <span>
#include <string_view>

#include <epicotyl/bounds.hpp>

namespace epicotyl::detail {

/// What is usual of a kind of number [°C, or K], and what to do about another. The bounds are
/// common practice, without a source, and wide: they are to catch slips.
struct usual {
    value_range range;
    std::string_view too_much;    ///< why more is seldom meant
    std::string_view too_little;  ///< why less is
    std::string_view remedy;
};

struct block_key {
    std::string_view name;                         ///< as a plan file has it
    std::string_view missing = {};                 ///< what to do where it has to be given
    usual const* common = nullptr;                 ///< what is usual; null: anything may be meant
    std::span<std::string_view const> words = {};  ///< of a choice
    std::string_view choice = {};                  ///< what is chosen: "degree-day method"
    std::string_view usual_word = {};              ///< is left out where it is chosen
};

}  // namespace epicotyl::detail

#endif
