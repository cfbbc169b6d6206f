// epicotyl: what the block of a rule for days says.
//
// A rule is one struct `..._rule` in a file of its own, compared by `==`, that says of itself what
// anybody asks: the words that name it, its keys, which events take it, how it behaves. `rule.hpp`
// registers it and turns what it says into functions of any rule.
//
//     names, name()   the keys that name the rule, and the one that names this
//     traits          which events take it, and how it behaves
//     each_key        calls visit(block_key, member) for every key in the order of a plan file
//     blank           one to be read into
//     fault           what no day alone tells to be wrong; `field` is what follows the rule's own
//
// A rule that says a day (all but those that ask the weather) has besides
//
//     asked_day       the day it asks for;  last_day  the last of those it speaks of
//     words(say)      how it was asked, "no later than 5 Aug": `say` writes a day
//
// A rule of the weather finds its day in src/season/rows/rule_days.cpp, where the compiler asks for
// it.
//
// Unstable: what is asked of a block may change in any release; the members that hold a rule's
// days and shares do not.
#ifndef EPICOTYL_CROP_RULE_BLOCK_HPP
#define EPICOTYL_CROP_RULE_BLOCK_HPP

#include <concepts>
#include <optional>
#include <string>
#include <string_view>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/block_key.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

/// Which events take a rule, and how it behaves.
struct rule_traits {
    bool for_decisions = false;       ///< as the target of what the grower does
    bool for_outcomes = false;        ///< as the target of what the plants do
    bool for_harvest_only = false;    ///< of these as that of "first_harvest" only
    bool for_not_before = false;      ///< as such a bound
    bool for_not_after = false;       ///< as such a bound
    bool is_exact = false;            ///< on its day, and no bound moves it
    bool is_deadline = false;         ///< on its day or earlier
    bool is_scanned = false;          ///< its sowing is sought by trying every day
    bool asks_weather = false;        ///< its day comes of the records, none is said
    bool moves_with_frost = false;    ///< its day is counted from a frost's
    bool is_plain_in_bounds = false;  ///< a bound is written as its date alone
    bool has_own_table = false;       ///< its keys stand in a table under its name
};

template <class Rule>
concept rule_block = std::equality_comparable<Rule> &&
    requires(Rule rule, Rule const& given, void (*visit)(detail::block_key const&, ...)) {
    { Rule::names[0] } -> std::convertible_to<std::string_view>;
    { given.name() } -> std::same_as<std::string_view>;
    { Rule::traits } -> std::convertible_to<rule_traits>;
    { Rule::blank() } -> std::same_as<Rule>;
    { given.fault() } -> std::same_as<std::optional<input_fault>>;
    Rule::each_key(rule, visit);
};

/// A rule that says its day.
template <class Rule>
concept dated_rule = rule_block<Rule> && !Rule::traits.asks_weather &&
                     requires(Rule const& given, std::string (*say)(day)) {
    { given.asked_day() } -> std::same_as<day>;
    { given.last_day() } -> std::same_as<day>;
    { given.words(say) } -> std::same_as<std::string>;
};

}  // namespace epicotyl

#endif
