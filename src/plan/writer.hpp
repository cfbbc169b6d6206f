// From a plan to a tree, and from a tree to the text of a plan file.
#ifndef EPICOTYL_SRC_PLAN_WRITER_HPP
#define EPICOTYL_SRC_PLAN_WRITER_HPP

#include <functional>
#include <string>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_tree.hpp>

namespace epicotyl::detail {

/// What a tree of a plan says.
enum class extent {
    said,  ///< the plan as it was said; defaults are left out
    full   ///< every value that is used
};

[[nodiscard]] plan_tree tree_of(plan const& of, extent how_much);

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
