// epicotyl: the heater of a plan, the house it stands in and its watts are one thing.
//
// A plan says of a heated place how far its heater can lift it above what it would be without
// (`heat_lift`, K). A described structure loses so many W for each K. So a lift is a heater of so
// many watts in that house, and the other way round:
//
//     watts = loss per kelvin * lift
//
// Who gives all three can contradict himself: a plan that counts on 10 K, in a house where its
// heater holds 6 K, has days that no real plant will keep. `heater_match` says what the plan's lift
// takes there, and whether a heater of so many watts is it:
//
//     heater_match const here = match_heater(p, "house", house, 3000.0);
//     here.needs();      // 5000 W
//     here.holds();      // 6.0 K
//     here.agrees();     // false; to_string(here) says what to do
//
// They agree where what the watts lift is the plan's lift but for rounding, 0.05 K or 2 in 100: a
// heater's plate says no more. `with_heater` is the edit after which they do.
//
// Nothing is repaired: days, bill and damage go by the plan's lift, whatever the watts are.
#ifndef EPICOTYL_HEAT_HEATER_HPP
#define EPICOTYL_HEAT_HEATER_HPP

#include <optional>
#include <string>
#include <string_view>

#include <epicotyl/fwd.hpp>
#include <epicotyl/heat/heat.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// A plan's heater in a structure.
struct heater_match {
    double loss = 0.0;                          ///< of the structure [W/K]
    std::optional<temperature_span> lift = {};  ///< that the plan counts on; none: always enough
    std::optional<double> watts = {};           ///< of the heater; none: not told
    unit_system units = unit_system::metric;    ///< of the text; numbers here are metric

    /// What the plan's lift takes here [W]; none where it has no bound.
    [[nodiscard]] std::optional<double> needs() const;
    /// How far the heater lifts this structure; none where no watts are told.
    [[nodiscard]] std::optional<temperature_span> holds() const;
    /// The watts are those that the plan counts on, or none are told.
    [[nodiscard]] bool agrees() const;

    friend bool operator==(heater_match const&, heater_match const&) = default;
};

/// The heater of an air in a structure. Throws `invalid_input` as `loss_per_kelvin` and `lift_of`.
[[nodiscard]] heater_match match_heater(structure const& of, air const& place,
                                        std::optional<double> watts = {});
/// Of a place of a plan. Throws for an unknown place and one without `heat_to`, too.
[[nodiscard]] heater_match match_heater(plan const& of, std::string_view place,
                                        structure const& made_of, std::optional<double> watts = {});

/// One line: what the plan's lift takes, or "note: " and how the two disagree, and what to do.
[[nodiscard]] std::string to_string(heater_match const& of);

/// The plan with a heater of so many watts in a place that is made like that: its `heat_lift` is
/// what they lift, to a hundredth of a degree of the plan's units. Throws `invalid_input` for an
/// unknown place, watts that lift less than that or more than a plan may say, a place without
/// `heat_to`, and one that holds day and night temperatures. The cautions of heaters (cautions.hpp)
/// go with it.
[[nodiscard]] plan with_heater(plan const& of, std::string_view place, structure const& made_of,
                               double watts);

}  // namespace epicotyl

#endif
