// The door through which the units of a plan come in and go out.
//
// The core holds degrees Celsius, kelvin, kelvin days, metres, square metres, centimetres and
// litres. A plan in US units is written in degrees Fahrenheit, feet, square feet, inches and
// quarts. What is written again must read back as the very same core number, so `written` looks for
// the shortest decimal that does. In US units there may be none, because a Fahrenheit number near
// 32 is coarser than a Celsius number near 0; a plan therefore holds core numbers that its units
// can write (`snap`), which are never further away than the last digits of a double.
#ifndef EPICOTYL_SRC_PLAN_UNITS_HPP
#define EPICOTYL_SRC_PLAN_UNITS_HPP

#include <string>
#include <string_view>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

enum class quantity { temperature, span, heat, bed, area, in_row, medium };

class unit_door {
public:
    explicit unit_door(unit_system units) noexcept : us_{units == unit_system::us} {}

    /// "°F", "°F warmer" ...: the unit in which a plan writes a quantity.
    [[nodiscard]] std::string_view unit(quantity what) const noexcept;
    /// The core's number for a written one.
    [[nodiscard]] double to_core(quantity what, double written) const noexcept;
    /// The shortest number that `to_core` makes `core` of; the nearest where there is none.
    [[nodiscard]] double written(quantity what, double core) const;
    /// The core number nearest to `core` that can be written.
    [[nodiscard]] double snap(quantity what, double core) const {
        return us_ ? to_core(what, written(what, core)) : core;
    }

private:
    bool us_;
};

/// Makes every number of a plan one that the plan's units can write.
void snap_to_units(plan_parts& parts);

}  // namespace epicotyl::detail

#endif
