// From a tree to the parts of a plan: what each table of a plan file becomes. What can be wrong
// with a value by itself (its kind, its key, its word) is refused here; what can be wrong with a
// plan, however it was made, is refused by `plan`.
#ifndef EPICOTYL_SRC_PLAN_READERS_HPP
#define EPICOTYL_SRC_PLAN_READERS_HPP

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "node.hpp"

namespace epicotyl::detail {

/// A wait as it is written. `weeks = [8, 10]` is a clock of 8 weeks and a hold of 14 days.
struct written_wait {
    clock takes;
    std::optional<double> hold = {};
};

/// The clock of a stage, which alone may give a hold.
[[nodiscard]] written_wait read_stage_wait(plan_node const& node);
/// The clock of a link; `place`, the key beside it, is left to the caller.
[[nodiscard]] clock read_link_wait(plan_node const& node);

[[nodiscard]] stage read_stage(plan_node const& node);
[[nodiscard]] stage_change read_stage_change(std::string event, plan_node const& node);

/// A rule; keys `beside` it may stand there too.
[[nodiscard]] rule read_rule(plan_node const& node, std::vector<std::string_view> const& beside);
/// Bounds by event; a plain date becomes a rule `from` in `not_before` and `by` in `not_after`.
[[nodiscard]] std::vector<event_bound> read_bounds(plan_node const& node, bool not_before);
[[nodiscard]] risk_setting read_risk(plan_node const& node);
[[nodiscard]] loss_setting read_loss(plan_node const& node);
[[nodiscard]] preference read_preference(plan_node const& node);
[[nodiscard]] amount read_amount(plan_node const& succession);
/// `remedy`: how a target is written.
[[nodiscard]] target read_target(plan_node const& node, std::string_view remedy);
[[nodiscard]] succession read_succession(plan_node const& node);
[[nodiscard]] link read_link(plan_node const& node);

[[nodiscard]] open_days read_open(plan_node const& node);
[[nodiscard]] year_selection read_years(plan_node const& node);
[[nodiscard]] std::array<temperature, 12> read_months(plan_node const& node);
/// True where a site says its weather by normals. What says more of them may not stand alone.
[[nodiscard]] bool has_normals(plan_node const& site);

[[nodiscard]] place read_place(std::string name, plan_node const& node);
[[nodiscard]] std::vector<crop> read_crops(plan_node const& node);

/// True where a stage of a crop gives its wait as a pair of weeks, or the crop that it is like
/// does. `crops` is the table of crops, which is known to be sound.
[[nodiscard]] bool waits_by_a_pair(plan_tree const& crops, std::string const& name,
                                   std::string_view begins);

/// The whole of a plan.
[[nodiscard]] plan_parts read_parts(plan_tree const& tree);

}  // namespace epicotyl::detail

#endif
