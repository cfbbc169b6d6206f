// A plan's tree as bytes. Numbers have their lowest byte first, counts seven bits to a byte; a key
// is spelled out where it stands first, and is a number after that.
#ifndef EPICOTYL_SRC_PLAN_TREE_BYTES_HPP
#define EPICOTYL_SRC_PLAN_TREE_BYTES_HPP

#include <string>
#include <string_view>

#include <epicotyl/plan/plan_tree.hpp>

namespace epicotyl::detail {

[[nodiscard]] std::string bytes_of(plan_tree const& tree);
/// Any bytes are a tree or are refused with `invalid_input`.
[[nodiscard]] plan_tree tree_of_bytes(std::string_view bytes);

/// With the name of the form and a check sum before them.
[[nodiscard]] std::string sealed(std::string_view bytes);
/// Without; throws `invalid_input` where the bytes are not those that were sealed.
[[nodiscard]] std::string_view unsealed(std::string_view bytes);

}  // namespace epicotyl::detail

#endif
