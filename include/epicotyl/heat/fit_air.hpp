// epicotyl: how much warmer a place is - measured, or guessed from its layers.
//
// **Measured.** Two thermometers that log minima and maxima, one inside and one outside, say what
// no formula can: `fit_air` takes the nights on which both have a value, and the gain of each,
// inside less outside. From n gains with mean m and standard deviation s:
//
//     gain            m, with the standard error s / sqrt(n); not known from one night
//     middle          the median; its standard error 1.2533 * 1.4826 * MAD / sqrt(n), the large-
//                     sample value for normal gains (from memory)
//     slope           of inside on outside by least squares, with its standard error: below 1, the
//                     gain shrinks as nights get warmer, and a constant gain understates cold ones
//
// The mean is the gain that degree-days want. The median is the robust choice: a night with the
// door left open, or with a thermometer in the sun, moves it little. Where the two differ by more
// than their errors, look for such nights. Standard errors suppose that nights do not depend on one
// another; cold spells make them too small, so log for weeks, not days.
//
//     air_fit const night = fit_air(inside_minima, outside_minima);
//     place.air.warmer_night = night.gain;
//
// **Guessed.** `guess_night_gain` adds up what layers are said to give on a still, clear night. It
// is an estimate with a wide range, for the first season, until something is logged:
//
//     layer            low   usual  high  K, and whence
//     single_film      0.0   1.0    3.0   from memory; a Nebraska extension sheet: next to nothing
//     double_film      1.0   2.78   4.0   5 °F, common practice, no source; range from memory
//     inner_cover      2.0   2.5    3.0   one more cover inside, from memory
//     light_fabric     1.0   2.0    3.0   2 to 5 °F in trade pages; bounds 1 to 5 K [snyder2005]
//     heavy_fabric     3.0   3.9    5.0   6 to 8 °F in trade pages, weak; bounds as above
//
// Wind takes most of it away. Nothing here holds plants alive: see the cautions (cautions.hpp),
// which are printed with it.
#ifndef EPICOTYL_HEAT_FIT_AIR_HPP
#define EPICOTYL_HEAT_FIT_AIR_HPP

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <epicotyl/units.hpp>

namespace epicotyl {

/// A measured gain.
struct air_fit {
    int nights = 0;                                     ///< on which both have a value
    temperature_span gain = {};                         ///< mean
    std::optional<temperature_span> error = {};         ///< its standard error
    temperature_span middle = {};                       ///< median
    std::optional<temperature_span> middle_error = {};  ///< its standard error
    std::optional<double> slope = {};                   ///< of inside on outside
    std::optional<double> slope_error = {};             ///< its standard error, from 3 nights on

    friend bool operator==(air_fit const&, air_fit const&) = default;
};

/// The gain of logged minima, or maxima: °C, one a night, NaN where there is none. The slope is
/// none where the outside never changes. Throws `invalid_input` for rows of different length, for
/// infinite values, and where no night has both.
[[nodiscard]] air_fit fit_air(std::span<double const> inside, std::span<double const> outside);

/// Gain and errors in a sentence, and the cautions.
[[nodiscard]] std::string to_string(air_fit const& of, unit_system units = unit_system::metric);

/// Layers between plants and the sky.
enum class night_layer { single_film, double_film, inner_cover, light_fabric, heavy_fabric };

inline constexpr std::array<std::string_view, 5> night_layer_names = {
    "single_film", "double_film", "inner_cover", "light_fabric", "heavy_fabric"};

/// A gain that is not measured.
struct guessed_gain {
    temperature_span low = {};
    temperature_span usual = {};
    temperature_span high = {};

    friend bool operator==(guessed_gain const&, guessed_gain const&) = default;
};

/// What layers are said to give together on a still night: the table above, added up.
[[nodiscard]] guessed_gain guess_night_gain(std::span<night_layer const> layers);

/// The three in a sentence, and the cautions.
[[nodiscard]] std::string to_string(guessed_gain const& of,
                                    unit_system units = unit_system::metric);

}  // namespace epicotyl

#endif
