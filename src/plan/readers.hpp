// From a tree to the parts of a plan: what each table of a plan file becomes. What can be wrong
// with a value by itself (its kind, its key, its word) is refused here; what can be wrong with a
// plan, however it was made, is refused by `plan`.
#ifndef EPICOTYL_SRC_PLAN_READERS_HPP
#define EPICOTYL_SRC_PLAN_READERS_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "node.hpp"

namespace epicotyl::detail {

/// Keys of the tables that edits change one by one.
inline constexpr std::string_view succession_keys[] = {
    "name",        "id",   "crop", "plants", "trays",   "bed", "target", "not_before", "not_after",
    "reliability", "risk", "wave", "repeat", "follows", "gap", "stage",  "prefer"};
inline constexpr std::string_view stage_change_keys[] = {
    "who",      "where", "takes", "container", "spacing",
    "survives", "hold",  "limit", "too_hot",   "lost_at"};
inline constexpr std::string_view place_keys[] = {
    "id",      "for",       "day",        "night",       "warmer_night", "warmer_day",
    "heat_to", "heat_lift", "vent_above", "cold_nights", "trays",        "bed",
    "area",    "open",      "part_of",    "lamps"};
inline constexpr std::string_view crop_keys[] = {
    "like",       "id",        "stages",  "limit_tender", "limit_hardened", "risk",
    "not_before", "not_after", "caution", "lost_at",      "prefer"};

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

/// A rule; `more` are keys that may stand beside it.
[[nodiscard]] rule read_rule(plan_node const& node, std::vector<std::string_view> more);
/// Bounds by event; a plain date becomes a rule `from` in `not_before` and `by` in `not_after`.
[[nodiscard]] std::vector<event_bound> read_bounds(plan_node const& node, bool not_before);
[[nodiscard]] risk_setting read_risk(plan_node const& node);
[[nodiscard]] loss_setting read_loss(plan_node const& node);
[[nodiscard]] preference read_preference(plan_node const& node);
[[nodiscard]] succession read_succession(plan_node const& node);
[[nodiscard]] link read_link(plan_node const& node);

[[nodiscard]] place read_place(std::string name, plan_node const& node);
[[nodiscard]] container read_container(std::string name, plan_node const& node);
[[nodiscard]] std::vector<crop> read_crops(plan_node const& node);

/// True where a stage of a crop gives its wait as a pair of weeks, or the crop that it is like
/// does. `crops` is the table of crops, which is known to be sound.
[[nodiscard]] bool waits_by_a_pair(plan_tree const& crops, std::string const& name,
                                   std::string_view begins);

/// The whole of a plan.
[[nodiscard]] plan_parts read_parts(plan_tree const& tree);

}  // namespace epicotyl::detail

#endif
