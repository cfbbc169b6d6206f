// epicotyl: a plan as bytes, to be kept or sent where nobody reads it.
//
// A plan file is for people, and reading one costs several times what its days cost. The bytes hold
// the same tree of keys and values (`to_tree`), so that whatever a plan file says they say, a plan
// of an earlier release is read as its file would be, and everything is checked as a file is.
//
//     std::string const kept = to_bytes(farm);
//     plan_from_bytes(kept) == farm;               // true
//
// They begin with what they are and a check sum of the rest: bytes that were changed on the way are
// refused, not read as another plan. The first letters name the form; another has others.
#ifndef EPICOTYL_PLAN_PLAN_BYTES_HPP
#define EPICOTYL_PLAN_PLAN_BYTES_HPP

#include <string>
#include <string_view>

#include <epicotyl/plan/plan.hpp>

namespace epicotyl {

/// The plan as bytes, the same on every machine.
[[nodiscard]] std::string to_bytes(plan const& of);
/// An equal plan, as one made in code: it knows no file. Throws `invalid_input` for bytes that are
/// no plan or were changed.
[[nodiscard]] plan plan_from_bytes(std::string_view bytes);

}  // namespace epicotyl

#endif
