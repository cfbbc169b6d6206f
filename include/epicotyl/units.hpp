// epicotyl: temperatures, spans, thermal time, chances.
//
// A temperature is a point on a scale; a temperature span is a difference between two of them.
// They are different types, because they convert differently: a night of 5 degrees Fahrenheit is
// -15 degrees Celsius, but a house that is 5 degrees Fahrenheit warmer than outdoors is 2.78 K
// warmer. Only these combinations compile:
//
//     temperature      - temperature      -> temperature_span
//     temperature      + temperature_span -> temperature
//     temperature_span + temperature_span -> temperature_span
//     temperature_span * number           -> temperature_span
//
// What they make is finite, or `invalid_input` is thrown, as by the factories.
//
// Thermal time is the product of a span and days. It has no zero to shift either: a sum of 1250
// degree-days Fahrenheit is 1250 / 1.8 = 694.4 K day; 32 is never subtracted.
//
// Units enter once, at the door. Inside, everything is held in degrees Celsius, kelvin, days and
// kelvin days, and the accessors name the unit they return:
//
//     temperature::from_fahrenheit(28.0).celsius()        // -2.22
//     temperature_span::from_fahrenheit(5.0).kelvin()     //  2.78
//     thermal_time::from_fahrenheit_days(1250.0).kelvin_days()  // 694.4
//
// Chances, reliabilities and quantiles are plain numbers between 0 and 1 that are easily swapped,
// so each has its own type; so has a latitude. Their constructors are explicit and reject values
// out of range, NaN included.
#ifndef EPICOTYL_UNITS_HPP
#define EPICOTYL_UNITS_HPP

#include <cmath>
#include <compare>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

/// Units in which a plan is written and answered, dates in text in their order: 9 Feb, Feb 9. The
/// library computes in metric units always; `unit_door` (plan/unit_door.hpp) leads in and out.
enum class unit_system { metric, us };

inline constexpr double fahrenheit_per_kelvin = 1.8;
inline constexpr double fahrenheit_at_zero_celsius = 32.0;

/// Temperatures that differ by no more than this are the same one, K. Records, offsets and limits
/// are tenths of a degree, and sums of their doubles are not: -0.9 + 1.1 lies above 0.2 by 3e-17.
inline constexpr double same_temperature_kelvin = 1e-6;

/// True where a night of so many °C is at or below a limit in °C; one of exactly the limit is.
[[nodiscard]] constexpr bool is_at_or_below(double celsius, double limit) noexcept {
    return celsius <= limit + same_temperature_kelvin;
}
/// True where a day of so many °C is at or above a limit in °C; one of exactly the limit is.
[[nodiscard]] constexpr bool is_at_or_above(double celsius, double limit) noexcept {
    return celsius >= limit - same_temperature_kelvin;
}

namespace detail {

[[nodiscard]] inline double require_finite(double value, char const* thing, char const* unit) {
    if (!std::isfinite(value)) {
        throw invalid_input{{.code = "number.not_finite",
                             .field = thing,
                             .value = detail::text(value),
                             .unit = unit,
                             .problem = detail::text(value, " is not a number that can be used"),
                             .remedy = detail::text("give a finite number of ", unit)}};
    }
    return value;
}

/// Of a number outside the range that it must lie in.
[[nodiscard]] inline invalid_input out_of_range(double value, double lowest, double highest,
                                                char const* name, char const* unit,
                                                char const* remedy) {
    return invalid_input{{.code = text(name, ".out_of_range"),
                          .field = name,
                          .value = text(value),
                          .bound = text(lowest, " to ", highest),
                          .unit = unit,
                          .problem = text(value, " is out of range"),
                          .remedy = remedy}};
}

/// What operators make: they keep the promise of the factories.
[[nodiscard]] constexpr double still_finite(double value, char const* thing, char const* unit) {
    return value - value == 0.0 ? value : require_finite(value, thing, unit);
}

}  // namespace detail

/// Difference of two temperatures, in kelvin. May be negative.
class temperature_span {
public:
    constexpr temperature_span() = default;  ///< 0 K

    /// Throws `invalid_input` unless finite.
    [[nodiscard]] static temperature_span from_kelvin(double kelvin) {
        return temperature_span{detail::require_finite(kelvin, "temperature span", "K")};
    }
    /// A difference read on a Fahrenheit scale: 5 becomes 2.78 K.
    [[nodiscard]] static temperature_span from_fahrenheit(double span) {
        return temperature_span{detail::require_finite(span, "temperature span", "°F") /
                                fahrenheit_per_kelvin};
    }

    [[nodiscard]] constexpr double kelvin() const noexcept { return kelvin_; }
    [[nodiscard]] constexpr double fahrenheit() const noexcept {
        return kelvin_ * fahrenheit_per_kelvin;
    }

    friend constexpr auto operator<=>(temperature_span, temperature_span) = default;
    friend constexpr temperature_span operator+(temperature_span a, temperature_span b) {
        return made(a.kelvin_ + b.kelvin_);
    }
    friend constexpr temperature_span operator-(temperature_span a, temperature_span b) {
        return made(a.kelvin_ - b.kelvin_);
    }
    friend constexpr temperature_span operator-(temperature_span a) noexcept {
        return temperature_span{-a.kelvin_};
    }
    friend constexpr temperature_span operator*(temperature_span a, double factor) {
        return made(a.kelvin_ * factor);
    }
    friend constexpr temperature_span operator*(double factor, temperature_span a) {
        return a * factor;
    }

private:
    friend class temperature;
    explicit constexpr temperature_span(double kelvin) noexcept : kelvin_{kelvin} {}
    [[nodiscard]] static constexpr temperature_span made(double kelvin) {
        return temperature_span{detail::still_finite(kelvin, "temperature span", "K")};
    }

    double kelvin_ = 0.0;
};

/// A temperature, held in degrees Celsius.
class temperature {
public:
    constexpr temperature() = default;  ///< 0 °C

    /// Throws `invalid_input` unless finite.
    [[nodiscard]] static temperature from_celsius(double celsius) {
        return temperature{detail::require_finite(celsius, "temperature", "°C")};
    }
    /// Throws `invalid_input` unless finite.
    [[nodiscard]] static temperature from_fahrenheit(double fahrenheit) {
        return temperature{
            (detail::require_finite(fahrenheit, "temperature", "°F") - fahrenheit_at_zero_celsius) /
            fahrenheit_per_kelvin};
    }

    [[nodiscard]] constexpr double celsius() const noexcept { return celsius_; }
    [[nodiscard]] constexpr double fahrenheit() const noexcept {
        return celsius_ * fahrenheit_per_kelvin + fahrenheit_at_zero_celsius;
    }

    friend constexpr auto operator<=>(temperature, temperature) = default;
    [[nodiscard]] constexpr temperature_span operator-(temperature b) const {
        return temperature_span::made(celsius_ - b.celsius_);
    }
    friend constexpr temperature operator+(temperature a, temperature_span b) {
        return made(a.celsius_ + b.kelvin());
    }
    friend constexpr temperature operator-(temperature a, temperature_span b) {
        return made(a.celsius_ - b.kelvin());
    }

private:
    explicit constexpr temperature(double celsius) noexcept : celsius_{celsius} {}
    [[nodiscard]] static constexpr temperature made(double celsius) {
        return temperature{detail::still_finite(celsius, "temperature", "°C")};
    }

    double celsius_ = 0.0;
};

/// Accumulated warmth, in kelvin days. Never negative.
class thermal_time {
public:
    constexpr thermal_time() = default;  ///< 0 K day

    /// Throws `invalid_input` unless finite and >= 0.
    [[nodiscard]] static thermal_time from_kelvin_days(double amount) {
        return thermal_time{require_amount(amount, "K day")};
    }
    /// A sum of degree-days Fahrenheit: 1250 becomes 694.4 K day.
    [[nodiscard]] static thermal_time from_fahrenheit_days(double amount) {
        return thermal_time{require_amount(amount, "°F day") / fahrenheit_per_kelvin};
    }

    [[nodiscard]] constexpr double kelvin_days() const noexcept { return kelvin_days_; }
    [[nodiscard]] constexpr double fahrenheit_days() const noexcept {
        return kelvin_days_ * fahrenheit_per_kelvin;
    }

    friend constexpr auto operator<=>(thermal_time, thermal_time) = default;
    friend constexpr thermal_time operator+(thermal_time a, thermal_time b) {
        return thermal_time{
            detail::still_finite(a.kelvin_days_ + b.kelvin_days_, "thermal time", "K day")};
    }

private:
    explicit constexpr thermal_time(double kelvin_days) noexcept : kelvin_days_{kelvin_days} {}

    [[nodiscard]] static double require_amount(double amount, char const* unit) {
        if (!(detail::require_finite(amount, "thermal time", unit) >= 0.0)) {
            throw invalid_input{{.code = "thermal_time.negative",
                                 .field = "thermal time",
                                 .value = detail::text(amount),
                                 .bound = "0 or more",
                                 .unit = unit,
                                 .problem = detail::text(amount, " is negative"),
                                 .remedy = "give the sum above the base"}};
        }
        return amount;
    }

    double kelvin_days_ = 0.0;
};

namespace detail {

/// A number with a closed range of its own. `Kind` names the thing, its bounds and its unit.
template <class Kind>
class bounded_number {
public:
    /// Throws `invalid_input` outside the range, and for NaN.
    explicit bounded_number(double value) : value_{value} {
        if (!(value >= Kind::lowest && value <= Kind::highest)) {
            throw out_of_range(value, Kind::lowest, Kind::highest, Kind::name, Kind::unit,
                               Kind::remedy);
        }
    }

    [[nodiscard]] double value() const noexcept { return value_; }
    friend auto operator<=>(bounded_number, bounded_number) = default;

private:
    double value_;
};

struct chance_kind {
    static constexpr char const* name = "chance";
    static constexpr double lowest = 0.0;
    static constexpr double highest = 1.0;
    static constexpr char const* unit = "";
    static constexpr char const* remedy = "give a share of years, such as 0.1 for 1 year in 10";
};
struct reliability_kind {
    static constexpr char const* name = "reliability";
    static constexpr double lowest = 0.5;
    static constexpr double highest = 1.0;
    static constexpr char const* unit = "";
    static constexpr char const* remedy =
        "give the share of years in which the target is to be met, such as 0.8";
};
struct quantile_kind {
    static constexpr char const* name = "quantile";
    static constexpr double lowest = 0.0;
    static constexpr double highest = 1.0;
    static constexpr char const* unit = "";
    static constexpr char const* remedy = "give a share of years, such as 0.5 for the usual day";
};
struct latitude_kind {
    static constexpr char const* name = "latitude";
    static constexpr double lowest = -90.0;
    static constexpr double highest = 90.0;
    static constexpr char const* unit = "degrees north";
    static constexpr char const* remedy = "give degrees, negative south of the equator";
};

}  // namespace detail

/// A share of years, 0 to 1: 0.1 is "1 year in 10".
using chance = detail::bounded_number<detail::chance_kind>;
/// The share of season years in which a target is to be met, 0.5 to 1.
using reliability = detail::bounded_number<detail::reliability_kind>;
/// A level of a distribution over season years, 0 to 1: 0.5 is the usual day.
using quantile_level = detail::bounded_number<detail::quantile_kind>;
/// Degrees north of the equator, -90 to 90.
using latitude = detail::bounded_number<detail::latitude_kind>;

}  // namespace epicotyl

#endif
