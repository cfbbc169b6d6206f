// epicotyl: the door through which numbers in the units of a plan come in and go out.
//
// The core holds degrees Celsius, kelvin, kelvin days, metres, square metres, centimetres and
// litres. A plan in US units is written in degrees Fahrenheit, feet, square feet, inches and
// quarts, and is answered in them. In C++ a function takes and gives a `temperature`, which has no
// unit to be mistaken; what is read from a user or shown to one passes here:
//
//     unit_door const door = door_of(farm);                 // of the plan's units
//     door.temperature_of(50.0)                             // 50 °F of a US plan: 10 °C
//     door.written(farm.parts().frost.at)                   // 32
//     door.unit(quantity::temperature)                      // "°F"
//     door.from_core(quantity::bed, metres)                 // feet
//
// What is written again must read back as the very same core number, so `written` looks for the
// shortest decimal that does. In US units there may be none, because a Fahrenheit number near 32 is
// coarser than a Celsius number near 0; a plan therefore holds core numbers that its units can
// write
// (`snap`), which are never further away than the last digits of a double.
#ifndef EPICOTYL_PLAN_UNIT_DOOR_HPP
#define EPICOTYL_PLAN_UNIT_DOOR_HPP

#include <string_view>

#include <epicotyl/fwd.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// Kinds of numbers that have another unit in each system.
enum class quantity { temperature, span, heat, bed, area, in_row, medium };

class unit_door {
public:
    explicit unit_door(unit_system units) noexcept : us_{units == unit_system::us} {}

    [[nodiscard]] unit_system units() const noexcept {
        return us_ ? unit_system::us : unit_system::metric;
    }
    /// "°F", "feet" ...: the unit in which a plan writes a quantity.
    [[nodiscard]] std::string_view unit(quantity what) const noexcept;
    /// The core's number for a written one.
    [[nodiscard]] double to_core(quantity what, double written) const noexcept;
    /// The shortest number that `to_core` makes `core` of; the nearest where there is none.
    [[nodiscard]] double written(quantity what, double core) const;
    /// The same by plain arithmetic, for many numbers; may differ from `written` in the last digits
    /// of a double.
    [[nodiscard]] double from_core(quantity what, double core) const noexcept;
    /// The core number nearest to `core` that can be written.
    [[nodiscard]] double snap(quantity what, double core) const {
        return us_ ? to_core(what, written(what, core)) : core;
    }

    /// What a written number means. Throws `invalid_input` as the types do.
    [[nodiscard]] temperature temperature_of(double written) const {
        return us_ ? temperature::from_fahrenheit(written) : temperature::from_celsius(written);
    }
    [[nodiscard]] temperature_span span_of(double written) const {
        return us_ ? temperature_span::from_fahrenheit(written)
                   : temperature_span::from_kelvin(written);
    }
    [[nodiscard]] thermal_time heat_of(double written) const {
        return us_ ? thermal_time::from_fahrenheit_days(written)
                   : thermal_time::from_kelvin_days(written);
    }
    [[nodiscard]] double written(temperature of) const {
        return written(quantity::temperature, of.celsius());
    }
    [[nodiscard]] double written(temperature_span of) const {
        return written(quantity::span, of.kelvin());
    }
    [[nodiscard]] double written(thermal_time of) const {
        return written(quantity::heat, of.kelvin_days());
    }

private:
    bool us_;
};

/// The door of a plan's own units.
[[nodiscard]] unit_door door_of(plan const& of);

/// A set point of a heater as it is written. Throws `invalid_input` for one that no air has, and
/// for one that is unusual in these units and would be usual in the other: 50 of a metric plan.
/// `field` names it.
[[nodiscard]] temperature set_point_of(unit_door const& door, double written, char const* field);

}  // namespace epicotyl

#endif
