// epicotyl: how far a quantity may go.
//
// The bounds are wide: they keep out what is no quantity of a farm, not what is unusual (calendars
// warn of that). What they promise is that no sum, product or count of the library leaves the range
// of its type, whatever a plan file or a caller says: `warmer_night = 1e306` is refused where it
// stands, and not met a thousand lines later.
//
// Ranges are closed and in the unit that their name says; a plan names them in its own units.
#ifndef EPICOTYL_BOUNDS_HPP
#define EPICOTYL_BOUNDS_HPP

namespace epicotyl {

/// A closed range.
struct value_range {
    double lowest;
    double highest;

    /// False for NaN.
    [[nodiscard]] constexpr bool holds(double value) const noexcept {
        return value >= lowest && value <= highest;
    }
};

/// Air and soil of places, limits of plants, thresholds of clocks. The lowest and the highest air
/// that were measured are -89.2 and 56.7 °C (from memory).
inline constexpr value_range air_celsius{-90.0, 60.0};
/// What heaters usually hold places at: outside, the number may be one of the other units.
inline constexpr value_range usual_set_point_celsius{-2.0, 30.0};
/// What a place adds to the air outdoors, and what a climate is shifted by.
inline constexpr value_range span_kelvin{-60.0, 60.0};
/// Days of a climate: what a station wrote or code invents may be odd, but sums of it stay finite.
inline constexpr value_range weather_celsius{-1e6, 1e6};
/// How much warmer or colder years a sweep tries: more is a number of the other units.
inline constexpr value_range warming_kelvin{-8.0, 8.0};
/// Air that a station can have measured, the values of a record; wider than `air_celsius` by faults
/// of thermometers.
inline constexpr value_range measured_celsius{-95.0, 65.0};
/// Sums of heat; the longest season at 60 °C above a base of -90 °C has 225,000.
inline constexpr value_range heat_kelvin_days{0.0, 1e6};
/// Waits, holds, what may pass at most: a hundred years.
inline constexpr value_range wait_days{0.0, 36525.0};

/// The most that a plan counts of a thing; of plants, with those lost on the way.
inline constexpr double most_plants_sown = 1e9;
inline constexpr double most_trays = 1e6;
inline constexpr double most_cells = 1e5;
inline constexpr double most_rows = 1000.0;
/// Batches, repeats spelled out, and ends of links, waves spelled out: beyond this a plan is a slip
/// of the pen.
inline constexpr int most_batches = 1'000'000;
inline constexpr int most_link_ends = 1'000'000;
/// The longest bed [m], the largest floor [m²], the furthest in a row [cm], the most in a tray [l].
inline constexpr double longest_bed = 1e6;
inline constexpr double largest_area = 1e6;
inline constexpr double furthest_in_row = 1e4;
inline constexpr double most_medium = 1e4;
/// The highest price of one thing, in any currency, the most hours, and the strongest heater [W].
inline constexpr double highest_price = 1e9;
inline constexpr double strongest_heater = 1e9;
/// The nearest in a row [cm], and the smallest share that survives a stage.
inline constexpr double nearest_in_row = 0.01;
inline constexpr double least_survives = 0.001;

}  // namespace epicotyl

#endif
