// epicotyl: edits in the words of a plan file.
//
// A change is a table of keys with their new values, in the plan's own units, and a list of keys to
// leave out; what is not named stays. So a scripting language can change one key of a place without
// knowing the others, and the reader of plan files refuses what it would refuse in a file.
//
//     plan_tree more = plan_tree::table();
//     more.set("trays", plan_tree{40});
//     with_place_keys(farm, "glasshouse", more, {"heat_to", "heat_lift"});
//
// A value takes the place of the whole value of its key: `cold_nights` as a table, `target` with
// its event and rule. Of keys that exclude each other the new one wins: plants, trays and bed;
// container and spacing of a stage.
#ifndef EPICOTYL_PLAN_EDIT_KEYS_HPP
#define EPICOTYL_PLAN_EDIT_KEYS_HPP

#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_tree.hpp>

namespace epicotyl {

/// Keys of a succession changed. Throws `invalid_input` as a plan file would be refused, and for a
/// name that is not known.
[[nodiscard]] plan with_succession_keys(plan const& of, std::string_view name,
                                        plan_tree const& keys,
                                        std::vector<std::string> const& without = {});
/// One more succession, from all of its keys.
[[nodiscard]] plan with_added_succession_keys(plan const& of, plan_tree const& keys);
/// The rule of a target changed: `event` may be left out and stays, all else is replaced.
[[nodiscard]] plan with_target_keys(plan const& of, std::string_view name, plan_tree const& keys);
/// Bounds changed, by event; `without` names events whose bound is to go.
[[nodiscard]] plan with_not_before_keys(plan const& of, std::string_view name,
                                        plan_tree const& bounds,
                                        std::vector<std::string> const& without = {});
[[nodiscard]] plan with_not_after_keys(plan const& of, std::string_view name,
                                       plan_tree const& bounds,
                                       std::vector<std::string> const& without = {});
/// Keys of the change that a succession makes in the stage which `begins` begins. Another `takes`
/// ends a hold that came with a pair of weeks, as in a file.
[[nodiscard]] plan with_stage_change_keys(plan const& of, std::string_view name,
                                          std::string_view begins, plan_tree const& keys,
                                          std::vector<std::string> const& without = {});
/// Keys of a place changed.
[[nodiscard]] plan with_place_keys(plan const& of, std::string_view name, plan_tree const& keys,
                                   std::vector<std::string> const& without = {});
/// Keys of a crop changed; `stages` as a whole.
[[nodiscard]] plan with_crop_keys(plan const& of, std::string_view name, plan_tree const& keys,
                                  std::vector<std::string> const& without = {});

}  // namespace epicotyl

#endif
