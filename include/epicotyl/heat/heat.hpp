// epicotyl: what a heated place loses, and the cold that its heater can stand against.
//
// In steady state, on a long still night, a place loses what goes through its surfaces and what
// goes out with its air, in proportion to how much warmer it is than outdoors:
//
//     Q = (sum of U A * (1 + allowance) + 0.33 n V) * (inside - outside)        [W]
//
// U [W/(m2 K)] and area A [m2] of each surface [worley2009]; n changes of air an hour, volume V
// [m3]. Air holds 1.2 kg/m3 * 1005 J/(kg K) = 0.335 Wh/(m3 K), printed as 0.33. Where air changes
// are not known, `allowance` adds a share for leaks to the surfaces, 0.15 for example, instead.
//
//     structure const house{.surfaces = {{"film", 250.0, u_of(glazing::double_polyethylene)}},
//                           .volume = 300.0, .air_changes = 0.75};
//     heat_loss(house, temperature::from_celsius(5.0), temperature::from_celsius(-12.0));  // W
//     coldest_outdoors(house, temperature::from_celsius(5.0), 6000.0);
//
// The values of U are those of a standard [asae2003] as others quote it; the standard itself was
// not seen. Not in the formula: wind, wet film, a clear sky, the warmth of soil and thermal mass. A
// heater that is just large enough on paper is too small.
//
// **Cautions** (cautions.hpp) belong beside every number here. Functions that give a bare number
// have it in words as well, cautions below: `coldest_outdoors_text`.
#ifndef EPICOTYL_HEAT_HEAT_HPP
#define EPICOTYL_HEAT_HEAT_HPP

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/cautions.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

// --- units, exact by their definitions (from memory) ---

/// Joules of a British thermal unit (International Table).
inline constexpr double joules_per_btu = 1055.05585262;
inline constexpr double watts_per_btu_an_hour = joules_per_btu / 3600.0;
inline constexpr double square_metres_per_square_foot = 0.3048 * 0.3048;
inline constexpr double cubic_metres_per_cubic_foot = 0.3048 * 0.3048 * 0.3048;
/// W/(m2 K) of 1 Btu/(h ft2 °F): 5.678263.
inline constexpr double u_per_us_u =
    watts_per_btu_an_hour / square_metres_per_square_foot * fahrenheit_per_kelvin;

/// Wh that warm a cubic metre of air by a kelvin.
inline constexpr double air_watt_hours = 0.33;

// --- structures ---

/// Glazings with a U value to begin with.
enum class glazing { single_glass, double_polyethylene, twin_wall_8mm, triple_wall };

inline constexpr std::array<std::string_view, 4> glazing_names = {
    "single_glass", "double_polyethylene", "twin_wall_8mm", "triple_wall"};

/// U [W/(m2 K)], from 1.13, 0.70, 0.58 and 0.38 Btu/(h ft2 °F) [asae2003].
[[nodiscard]] constexpr double u_of(glazing what) noexcept {
    constexpr std::array<double, 4> us_values = {1.13, 0.70, 0.58, 0.38};
    return us_values[static_cast<std::size_t>(what)] * u_per_us_u;
}

/// One surface of a structure.
struct surface {
    std::string name;
    double area = 0.0;  ///< m2, 0 to 1,000,000
    double u = 0.0;     ///< W/(m2 K), 0 to 100

    friend bool operator==(surface const&, surface const&) = default;
};

/// What a heated place is made of.
struct structure {
    std::vector<surface> surfaces = {};
    double volume = 0.0;       ///< m3, 0 to 10,000,000
    double air_changes = 0.0;  ///< an hour, 0 to 100; new glass 0.75 to 1.5 (from memory)
    double allowance = 0.0;    ///< share for leaks where air changes are not known, 0 to 5

    friend bool operator==(structure const&, structure const&) = default;
};

/// Loss for each kelvin that it is warmer inside [W/K]. Throws `invalid_input` for a part out of
/// range, and where nothing is lost at all.
[[nodiscard]] double loss_per_kelvin(structure const& of);

/// Loss in steady state [W]; 0 where outdoors is warmer. It is the heater's output that holds
/// `inside`.
[[nodiscard]] double heat_loss(structure const& of, temperature inside, temperature outside);

/// The coldest outdoor night in which a heater of so many watts holds `inside`. Throws
/// `invalid_input` unless watts >= 0, finite.
[[nodiscard]] temperature coldest_outdoors(structure const& of, temperature inside, double watts);

/// What a heater of so many watts can lift the place above what it would be without.
[[nodiscard]] temperature_span lift_of(structure const& of, double watts);

/// The heater [W] that lifts the place so far: the other way round.
[[nodiscard]] double watts_for(structure const& of, temperature_span lift);

// --- the same in words, with the cautions that belong to each (cautions.hpp) ---

[[nodiscard]] std::string loss_text(structure const& of, unit_system units = unit_system::metric);
[[nodiscard]] std::string heat_loss_text(structure const& of, temperature inside,
                                         temperature outside,
                                         unit_system units = unit_system::metric);
[[nodiscard]] std::string coldest_outdoors_text(structure const& of, temperature inside,
                                                double watts,
                                                unit_system units = unit_system::metric);
[[nodiscard]] std::string lift_text(structure const& of, double watts,
                                    unit_system units = unit_system::metric);
[[nodiscard]] std::string watts_text(structure const& of, temperature_span lift,
                                     unit_system units = unit_system::metric);

/// "850 W", "3.96 kW": three digits, which is more than a heater's plate is good for.
[[nodiscard]] std::string say_watts(double watts);

}  // namespace epicotyl

#endif
