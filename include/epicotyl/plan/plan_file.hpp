// epicotyl: plan files. TOML, `format = 1`.
//
// A plan file is written in metric or US units, as it says, and is answered in them. Order is that
// of the file and is kept. Unknown keys, events and names are refused with the nearest known word;
// every message has the file, the line, the field, the value and its bound.
//
// Some keys say in short what the plan holds at length:
//
//   year = 2027             the season starts on 1 January, on 1 July south of the equator
//   like = "zinnia"         all that another crop has, but for the keys given; bounds by event
//   weeks = [8, 10]         ready after 56 days, and a hold of 14, which ends where a
//                           succession gives the stage another `takes`; `hold = false` is any
//   days = 30 with at = 15 and base = 5   30 (15 - 5) = 300 K day above 5 °C, without an upper
//                           threshold, by the usual method (single sine). At a steady temperature
//                           every method gives this sum.
//
// A plan is written in full, as it was checked; `expand_plan` also writes the defaults.
//
// The same plan can be given as a tree of tables (`plan_tree`), which is what a scripting language
// has: both doors lead to the same reader, so they accept and refuse the same things.
#ifndef EPICOTYL_PLAN_PLAN_FILE_HPP
#define EPICOTYL_PLAN_PLAN_FILE_HPP

#include <filesystem>
#include <string>
#include <string_view>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_tree.hpp>

namespace epicotyl {

/// Reads a plan file. Throws `invalid_input` with file, line and field.
[[nodiscard]] plan read_plan(std::filesystem::path const& file);
/// Reads a plan from text; `file_name` is used in messages only.
[[nodiscard]] plan parse_plan(std::string_view text, std::string const& file_name = "plan");
/// Reads a plan from a tree of tables with the keys of a plan file.
[[nodiscard]] plan plan_from_tree(plan_tree const& tree, std::string const& file_name = "plan");

/// The plan as a tree of tables, in the plan's own units; `plan_from_tree` gives back an equal
/// plan.
[[nodiscard]] plan_tree to_tree(plan const& of);
/// The plan as a plan file; `parse_plan` gives back an equal plan.
[[nodiscard]] std::string to_toml(plan const& of);
/// The long form of a plan file: every value that is used, with a comment that says where it comes
/// from (a line of the file, the crop it is like, a default).
[[nodiscard]] std::string expand_plan(std::filesystem::path const& file);

}  // namespace epicotyl

#endif
