// epicotyl: edits. A plan like another but for one thing.
//
// "What if the heater stays off, what if the zinnias come a week later?" A plan is immutable, so an
// edit answers with a new plan; the old one stays as it was, and the two can be compared.
//
//     plan const colder = without_heater(farm, "glasshouse");
//     plan const later = with_target_moved(farm, "zinnia 1", days{7});
//     calendar const after = schedule(later, weather, {});
//
// An edit gives the plan that one would get by typing the change into the plan's file: it is
// checked as every plan is, refused for the same reasons with the same fields, and keeps the order.
// An equal plan answers equally. Where a plan knows the file that it was read from, `line_of` goes
// on to tell the lines of what stands there still, and 0 for what an edit has changed.
//
// A `name` is that of a succession or place, as the plan was written with it, or an id. A `repeat`
// is one succession: "zinnia" can be edited, "zinnia 2" alone cannot. What is replaced must be
// there, so that a slip of the pen is no new place; the message names the nearest known name.
//
// `edit_keys.hpp` has the same in the words of a plan file, for part of a place or of a crop.
#ifndef EPICOTYL_PLAN_EDIT_HPP
#define EPICOTYL_PLAN_EDIT_HPP

#include <optional>
#include <string_view>

#include <epicotyl/crop/crop.hpp>
#include <epicotyl/crop/place.hpp>
#include <epicotyl/crop/rule.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/succession.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

// --- the whole plan ---

/// Another reliability where a succession has none of its own.
[[nodiscard]] plan with_reliability(plan const& of, reliability share);
/// Another risk of the default bound where neither crop nor succession has one of its own.
[[nodiscard]] plan with_risk(plan const& of, risk_setting risk);
/// Another season. Throws `invalid_input` for a date of the plan that it no longer holds. A climate
/// for it must be cut anew.
[[nodiscard]] plan with_season(plan const& of, season window);
/// The season begun on another day, as long as before.
[[nodiscard]] plan with_season_start(plan const& of, day start);

/// The same farm written and answered in other units. Numbers are the nearest that these can write,
/// which differ in the last digits of a double at most; days and counts stay.
[[nodiscard]] plan with_units(plan const& of, unit_system units);

// --- successions ---

/// The succession of this name (that of its crop where it has none) replaced by this one.
[[nodiscard]] plan with_succession(plan const& of, succession one);
/// One more succession, after all others. Its name must be new.
[[nodiscard]] plan with_added_succession(plan const& of, succession one);
/// One succession less. Throws `invalid_input` where a link or another succession names it.
[[nodiscard]] plan without_succession(plan const& of, std::string_view name);

/// Its own reliability; none: the plan's.
[[nodiscard]] plan with_reliability(plan const& of, std::string_view name,
                                    std::optional<reliability> share);
/// Its own risk of the default bound; none: the crop's, else the plan's.
[[nodiscard]] plan with_risk(plan const& of, std::string_view name,
                             std::optional<risk_setting> risk);
/// Another amount, of another measure too.
[[nodiscard]] plan with_amount(plan const& of, std::string_view name, amount how_much);
/// Another target: event and rule.
[[nodiscard]] plan with_target(plan const& of, std::string_view name, target aim);
/// The target so many days later (sooner where negative, up to 1500): an `on`, `from` or `by` date,
/// both dates of `in_harvest`, or the days from a frost, which pass from before the last frost to
/// after it. What can be moved is the day asked for; bounds stay, and may hold it where it was.
/// Throws `invalid_input` for a rule without such a day: `risk` says how rare frost is to be, not
/// when, and nothing counts days after the first frost.
[[nodiscard]] plan with_target_moved(plan const& of, std::string_view name, days later);
/// An event no earlier than a rule's day: `from_rule` for a date, `risk_rule`, `frost_rule`. None:
/// without the succession's own bound on it, so that the crop's or the default bound holds; throws
/// `invalid_input` where it has none.
[[nodiscard]] plan with_not_before(plan const& of, std::string_view name, std::string_view event,
                                   std::optional<rule> no_sooner);
/// An event no later than a rule's day: `by_rule` for a date, `frost_rule`. None: without it.
[[nodiscard]] plan with_not_after(plan const& of, std::string_view name, std::string_view event,
                                  std::optional<rule> no_later);
/// One stage in another place or container, by another clock, with another limit. What the change
/// says takes the place of what an earlier change of that stage said; the rest of it stays. A
/// `hold` that is not given stays: with another clock it may have to go (`any_hold`).
[[nodiscard]] plan with_stage_change(plan const& of, std::string_view name, stage_change change);
/// One stage as its crop has it. Throws `invalid_input` where it is not changed.
[[nodiscard]] plan without_stage_change(plan const& of, std::string_view name,
                                        std::string_view begins);

// --- places and crops ---

/// The place of this name replaced: another air, more room for trays.
[[nodiscard]] plan with_place(plan const& of, place one);
/// The heater off: the place's air without `heat_to` and `heat_lift`. Throws `invalid_input` where
/// there is no heater. What this asks is how warm the place would be; a real heater that protects
/// plants is switched off by who has weighed that.
[[nodiscard]] plan without_heater(plan const& of, std::string_view name);
/// The cover off: the place's air without `cold_nights`. Throws `invalid_input` where nothing is
/// done on cold nights.
[[nodiscard]] plan without_cover(plan const& of, std::string_view name);
/// The crop of this name replaced: other limits, other stages. Crops that a file describes as
/// `like` it stay as they are: in a plan, every crop has all of its own.
[[nodiscard]] plan with_crop(plan const& of, crop one);

}  // namespace epicotyl

#endif
