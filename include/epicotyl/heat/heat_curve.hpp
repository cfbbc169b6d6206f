// epicotyl: what another set point does to ready days, damage and the bill together.
//
// A lower set point saves heat, and plants grow more slowly. `heat_curve` asks the whole plan, once
// for every set point of one place, two questions:
//
// - **Sown on the same days, when is it ready?** Every succession is sown on the day that the plan
//   as it stands has planned, and its target is followed without bounds, links or opening days: the
//   day on which the plants are ready, whatever frost then says. Lowering the set point never makes
//   it earlier.
// - **Planned anew, when must it be sown, and is it damaged?** The plan with the other set point is
//   scheduled and simulated: sowings move earlier where growth is slower. Damage by cold is counted
//   in the years of the record twice, with the heater working and with it off.
//
// The bill is that of the days asked about (heat/heat_season.hpp). It never falls as the set point
// rises, and rises faster the higher it is.
//
//     heat_curve_result const curve = heat_curve(p, climate, "house", house,
//         {celsius(2), celsius(5), celsius(8)}, make_day(2027, 1, 10), make_day(2027, 4, 30));
//     curve.points[0].heat.usual().kwh;
//     curve.points[0].batches[3].ready;     // each season year
#ifndef EPICOTYL_HEAT_HEAT_CURVE_HPP
#define EPICOTYL_HEAT_HEAT_CURVE_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/heat/heat_season.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl {

/// One succession at one set point.
struct heated_batch {
    std::string succession;
    std::string event;  ///< its target
    /// Day on which it is ready when sown as planned at first, one a season year; none: never.
    /// Empty where the plan as it stands has no day for the sowing.
    std::vector<std::optional<day>> ready = {};
    std::optional<day> usual_ready = {};  ///< the middle one
    std::optional<day> sow = {};          ///< planned anew; none: unresolved
    int years = 0;                        ///< season years
    int damaged = 0;             ///< of them, planned anew, the heater working; 0: unresolved
    int damaged_heater_off = 0;  ///< had it been off

    friend bool operator==(heated_batch const&, heated_batch const&) = default;
};

/// One set point.
struct heat_point {
    temperature heat_to;
    season_heat heat;
    std::vector<heated_batch> batches = {};  ///< successions that stand in the place, plan order

    friend bool operator==(heat_point const&, heat_point const&) = default;
};

struct heat_curve_result {
    std::string place;
    unit_system units = unit_system::metric;
    std::vector<heat_point> points = {};  ///< in the order asked for
    heater_match heater = {};             ///< the plan's lift in this structure

    friend bool operator==(heat_curve_result const&, heat_curve_result const&) = default;
};

/// Throws `invalid_input` for an unknown place, one that holds day and night temperatures, no set
/// point at all, and what `schedule` and `heat_of_season` refuse. `watts` are those of the heater:
/// where they are not what the place's `heat_lift` takes, the text says so.
[[nodiscard]] heat_curve_result heat_curve(plan const& of, climate const& years,
                                           std::string_view place, structure const& made_of,
                                           std::vector<temperature> const& set_points, day from,
                                           day until, heat_price const& price = {},
                                           std::optional<double> watts = {});

/// A table of set points, and the cautions.
[[nodiscard]] std::string to_string(heat_curve_result const& of);

}  // namespace epicotyl

#endif
