// The keys of a clock's or rule's block, read from a node and told apart by what they hold. Who
// visits them has an overload for each type, so that a new kind of number is asked for everywhere.
#ifndef EPICOTYL_SRC_PLAN_BLOCK_VALUES_HPP
#define EPICOTYL_SRC_PLAN_BLOCK_VALUES_HPP

#include <concepts>
#include <optional>
#include <string_view>
#include <type_traits>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/block_key.hpp>
#include <epicotyl/units.hpp>

#include "node.hpp"

namespace epicotyl::detail {

/// A choice among words.
template <class Value>
concept word_value = std::is_enum_v<Value>;

/// What is the same in all units of a plan.
template <class Value>
concept unitless_value =
    word_value<Value> || std::same_as<Value, double> || std::same_as<Value, chance> ||
    std::same_as<Value, day> || std::same_as<Value, std::optional<day>>;

/// What a file may leave out.
template <class Value>
inline constexpr bool is_optional = word_value<Value>;
template <class Value>
inline constexpr bool is_optional<std::optional<Value>> = true;

template <class Block>
[[nodiscard]] std::vector<std::string_view> keys_of(Block const& one) {
    std::vector<std::string_view> keys;
    Block::each_key(one, [&](block_key const& key, auto const&) { keys.push_back(key.name); });
    return keys;
}

/// Reads the keys of a block from a table, what is missing first.
class block_reader {
public:
    template <class Block>
    static void read(plan_node const& table, Block& into) {
        Block::each_key(into, [&]<class Value>(block_key const& key, Value const&) {
            if constexpr (!is_optional<Value>) { (void)table.need(key.name, key.missing); }
        });
        Block::each_key(into, [&](block_key const& key, auto& value) {
            if (auto const given = table.get(key.name)) { take(*given, key, value); }
        });
    }

private:
    static void take(plan_node const& from, block_key const&, double& days) {
        days = from.number("days");
    }
    static void take(plan_node const& from, block_key const&, temperature& value) {
        value = from.degrees();
    }
    static void take(plan_node const& from, block_key const&, thermal_time& value) {
        value = from.heat();
    }
    static void take(plan_node const& from, block_key const&, day& value) { value = from.date(); }
    static void take(plan_node const& from, block_key const&, chance& value) {
        value = from.share();
    }
    template <word_value Word>
    static void take(plan_node const& from, block_key const& key, Word& value) {
        value = static_cast<Word>(from.word(key.words, key.choice));
    }
    template <class Value>
    static void take(plan_node const& from, block_key const& key, std::optional<Value>& value) {
        take(from, key, value.emplace());
    }
};

}  // namespace epicotyl::detail

#endif
