// Trees of tables as Python has them: dictionaries, lists, dates, numbers and text.
#ifndef EPICOTYL_BINDINGS_TABLES_HPP
#define EPICOTYL_BINDINGS_TABLES_HPP

#include <string>

#include <pybind11/pybind11.h>

#include <epicotyl/plan/plan_tree.hpp>

namespace epicotyl::bindings {

/// A tree made of Python values; dictionaries keep their order. `path` names the value in messages.
/// Throws Python's TypeError for what no plan holds.
[[nodiscard]] plan_tree tree_of(pybind11::handle value, std::string const& path = "");
/// Python values made of a tree.
[[nodiscard]] pybind11::object object_of(plan_tree const& node);

}  // namespace epicotyl::bindings

#endif
