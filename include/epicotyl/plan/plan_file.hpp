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
// A site names its weather file, and says how it is read where that is not plain:
//
//   [site]
//   weather = "2024.csv.gz"       a GHCN-Daily file or a table of days, sought from the plan's
//   folder station = "USW00094728"       the one to read of a GHCN-Daily file of several
//   whole_fahrenheit = true       values are taken back to the whole °F they were written in, so
//                                 that a limit of 28 °F finds a night of 28 °F, filed as -2.2 °C
//
// A site without a weather file gives monthly normals, January to December, in the plan's unit:
//
//   [site]
//   monthly_low = [27, 29, 35, 44, 54, 63, 69, 68, 61, 50, 41, 32]    mean daily minima
//   monthly_high = [38, 42, 50, 61, 71, 79, 84, 83, 76, 64, 53, 43]   mean daily maxima
//   normal_years = 30       how many season years are made of them, 1 to 1000; 30 when not given
//   normal_seed = 1         another seed makes other years; 0 to 1000000000; 1 when not given
//
// Twelve means do not say how far days stray from them and how long a cold spell lasts. That is
// taken from a station with a continental winter, New York Central Park: minima with a standard
// deviation of 5.1 K around the mean in the coldest time and 2.5 K in the warmest, maxima with 5.7
// and 3.5 K, and each day leaning on the day before with a correlation of 0.69 (minima) and 0.60
// (maxima); see `normals_options` in weather/generator.hpp, which has the source.
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
[[nodiscard]] plan plan_from_tree(plan_tree tree, std::string const& file_name = "plan");

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
