// From a plan to a tree, and from a tree to the text of a plan file.
#ifndef EPICOTYL_SRC_PLAN_WRITER_HPP
#define EPICOTYL_SRC_PLAN_WRITER_HPP

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_tree.hpp>

#include "block_values.hpp"
#include "units.hpp"

namespace epicotyl::detail {

/// A count, written without a point where it is whole.
[[nodiscard]] plan_tree count(double value);

/// Writes numbers in the units of a plan.
class number_writer {
public:
    explicit number_writer(unit_door door) : door_{door} {}

    [[nodiscard]] plan_tree number(temperature value) const {
        return plan_tree{door_.written(quantity::temperature, value.celsius())};
    }
    [[nodiscard]] plan_tree number(temperature_span value) const {
        return plan_tree{door_.written(quantity::span, value.kelvin())};
    }
    [[nodiscard]] plan_tree number(thermal_time value) const {
        return plan_tree{door_.written(quantity::heat, value.kelvin_days())};
    }
    [[nodiscard]] plan_tree number(quantity what, double value) const {
        return plan_tree{door_.written(what, value)};
    }
    /// Adds the keys of a block to a table; `full`: words as well where they are the usual ones.
    template <class Block>
    void set_keys(plan_tree& table, Block const& one, bool full) const {
        Block::each_key(
            one, [&](block_key const& key, auto const& value) { set(table, key, value, full); });
    }

protected:
    unit_door door_;

private:
    void set(plan_tree& table, block_key const& key, double days, bool) const {
        table.set(key.name, count(days));
    }
    void set(plan_tree& table, block_key const& key, day when, bool) const {
        table.set(key.name, plan_tree{when});
    }
    void set(plan_tree& table, block_key const& key, chance share, bool) const {
        table.set(key.name, plan_tree{share.value()});
    }
    void set(plan_tree& table, block_key const& key, temperature value, bool) const {
        table.set(key.name, number(value));
    }
    void set(plan_tree& table, block_key const& key, thermal_time value, bool) const {
        table.set(key.name, number(value));
    }
    void set(plan_tree& table, block_key const& key, word_value auto value, bool full) const {
        std::string_view const word = key.words[static_cast<std::size_t>(value)];
        if (full || word != key.usual_word) { table.set(key.name, plan_tree{word}); }
    }
    template <class Value>
    void set(plan_tree& table, block_key const& key, std::optional<Value> const& value,
             bool full) const {
        if (value) { set(table, key, *value, full); }
    }
};

/// A clock as it is written; `full`: with method and cutoff where they are the usual ones.
[[nodiscard]] plan_tree tree_of(clock const& of, unit_door const& door, bool full);

/// What a tree of a plan says.
enum class extent {
    said,  ///< the plan as it was said; defaults are left out
    full   ///< every value that is used
};

[[nodiscard]] plan_tree tree_of(plan const& of, extent how_much);

/// One part of a plan as it is said there, in the plan's units.
template <class Part>
[[nodiscard]] plan_tree tree_of(plan_parts const& parts, Part const& one);

/// How a tree is laid out in a file.
struct toml_layout {
    /// True when the table or list of tables under these keys (crops, snapdragon, stages) becomes a
    /// section; else it is written on one line, a list of tables on a line for each.
    std::function<bool(std::vector<std::string> const& keys)> is_section;
    /// Comment after the value at a path, empty for none.
    std::function<std::string(std::string const& path, plan_tree const& value)> comment;
};

[[nodiscard]] std::string written_toml(plan_tree const& tree, toml_layout const& layout);

}  // namespace epicotyl::detail

#endif
