// epicotyl: the library's types, printed by fmt.
//
// The one public header that brings fmt; no other includes it. A number with a unit takes the
// format specification of a number, everything else that of a text, which `to_string` gives as
// well:
//
//     fmt::print("{:.1f}\n", epicotyl::temperature::from_celsius(-2.2));   // -2.2 °C
//     fmt::print("{}\n", record);   // Marlpit, 2 Jan 1925 – 28 Feb 2019, 12 gaps
#ifndef EPICOTYL_FMT_HPP
#define EPICOTYL_FMT_HPP

#include <concepts>
#include <string>

#include <fmt/format.h>

#include <epicotyl/fwd.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl::detail {

template <class Type, class... Types>
concept any_of_these = (std::same_as<Type, Types> || ...);

/// What prints as the text that it has. Its own header need not be read for that.
template <class Type>
concept has_text =
    any_of_these<Type, daily_record, year_selection, record_quality, splice_report, climate,
                 season_halves, counted_chance, freeze_dates, freeze_risk, freeze_table, walk,
                 calendar, covering_sowings, staggered, occupancy, space_fit>;

template <class Type>
[[nodiscard]] std::string text_of(Type const& value) {
    if constexpr (requires { value.to_string(); }) {
        return value.to_string();
    } else if constexpr (requires { to_text(value); }) {
        return to_text(value);
    } else {
        return to_string(value);
    }
}

}  // namespace epicotyl::detail

/// Prints "-2.2 °C"; the format specification applies to the number.
template <>
struct fmt::formatter<epicotyl::temperature> : fmt::formatter<double> {
    template <class Context>
    auto format(epicotyl::temperature value, Context& context) const {
        return fmt::format_to(fmt::formatter<double>::format(value.celsius(), context), " °C");
    }
};
/// Prints "2.78 K".
template <>
struct fmt::formatter<epicotyl::temperature_span> : fmt::formatter<double> {
    template <class Context>
    auto format(epicotyl::temperature_span value, Context& context) const {
        return fmt::format_to(fmt::formatter<double>::format(value.kelvin(), context), " K");
    }
};
/// Prints "380 K day".
template <>
struct fmt::formatter<epicotyl::thermal_time> : fmt::formatter<double> {
    template <class Context>
    auto format(epicotyl::thermal_time value, Context& context) const {
        return fmt::format_to(fmt::formatter<double>::format(value.kelvin_days(), context),
                              " K day");
    }
};
/// Chances, reliabilities, levels and latitudes are plain numbers.
template <class Kind>
struct fmt::formatter<epicotyl::detail::bounded_number<Kind>> : fmt::formatter<double> {
    template <class Context>
    auto format(epicotyl::detail::bounded_number<Kind> value, Context& context) const {
        return fmt::formatter<double>::format(value.value(), context);
    }
};
template <epicotyl::detail::has_text Type>
struct fmt::formatter<Type> : fmt::formatter<std::string> {
    template <class Context>
    auto format(Type const& value, Context& context) const {
        return fmt::formatter<std::string>::format(epicotyl::detail::text_of(value), context);
    }
};

#endif
