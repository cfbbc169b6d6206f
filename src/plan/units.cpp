#include "units.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>

#include "block_values.hpp"
#include "keys.hpp"

namespace epicotyl {

namespace detail {

namespace {

// By definition: 1 foot = 12 inches = 0.3048 m; 1 US liquid quart = 57.75 cubic inches.
constexpr double metres_per_foot = 0.3048;
constexpr double centimetres_per_inch = 2.54;
constexpr double litres_per_quart = 0.946352946;

constexpr std::array<std::string_view, 7> metric_names = {"°C", "°C", "°C days", "m",
                                                          "m²", "cm", "litres"};
constexpr std::array<std::string_view, 7> us_names = {"°F",          "°F",     "°F days", "feet",
                                                      "square feet", "inches", "quarts"};

/// Core units in one written unit; temperatures are shifted as well.
[[nodiscard]] double size_of(quantity what) noexcept {
    switch (what) {
        case quantity::bed:
            return metres_per_foot;
        case quantity::area:
            return metres_per_foot * metres_per_foot;
        case quantity::in_row:
            return centimetres_per_inch;
        case quantity::medium:
            return litres_per_quart;
        default:
            return 1.0 / fahrenheit_per_kelvin;
    }
}

[[nodiscard]] double with_digits(double value, int digits) {
    std::string const text = fmt::format("{:.{}g}", value, digits);
    double read = value;
    std::from_chars(text.data(), text.data() + text.size(), read);
    return read;
}

}  // namespace

}  // namespace detail

std::string_view unit_door::unit(quantity what) const noexcept {
    return (us_ ? detail::us_names : detail::metric_names)[static_cast<std::size_t>(what)];
}

double unit_door::to_core(quantity what, double written) const noexcept {
    if (!us_) { return written; }
    switch (what) {
        // The same arithmetic as the types of units.hpp, which must agree to the last digit.
        case quantity::temperature:
            return (written - fahrenheit_at_zero_celsius) / fahrenheit_per_kelvin;
        case quantity::span:
        case quantity::heat:
            return written / fahrenheit_per_kelvin;
        default:
            return written * detail::size_of(what);
    }
}

double unit_door::written(quantity what, double core) const {
    if (!us_ || !std::isfinite(core)) { return core; }
    bool const shifted = what == quantity::temperature;
    double const guess =
        core / detail::size_of(what) + (shifted ? fahrenheit_at_zero_celsius : 0.0);
    // Rounding may have taken the guess a few steps past the number looked for. Below 32 °F the
    // shift makes numbers indistinguishable that differ by less than the last digit of 32.
    double const scale = shifted ? std::max(std::abs(guess), 31.0) : std::abs(guess);
    double const step = std::nextafter(scale, std::numeric_limits<double>::infinity()) - scale;
    double nearest = guess;
    for (int const steps : {0, 1, -1, 2, -2, 3, -3, 4, -4}) {
        double const near = guess + steps * step;
        for (int digits = 1; digits <= 17; ++digits) {
            double const candidate = detail::with_digits(near, digits);
            if (to_core(what, candidate) == core) { return candidate; }
        }
        if (std::abs(to_core(what, near) - core) < std::abs(to_core(what, nearest) - core)) {
            nearest = near;
        }
    }
    return nearest;
}

double unit_door::from_core(quantity what, double core) const noexcept {
    if (!us_) { return core; }
    double const value = core / detail::size_of(what) +
                         (what == quantity::temperature ? fahrenheit_at_zero_celsius : 0.0);
    // 121.92 m are 400 feet, and not 400.00000000000006.
    constexpr double parts = 1e9;
    constexpr double last_digits = 5e-16;
    double const rounded = std::round(value * parts) / parts;
    return std::abs(rounded - value) <= last_digits * std::abs(value) ? rounded : value;
}

unit_door door_of(plan const& of) {
    return unit_door{of.parts().units};
}

temperature set_point_of(unit_door const& door, double written, char const* field) {
    constexpr quantity what = quantity::temperature;
    double const celsius = door.to_core(what, written);
    unit_door const other{door.units() == unit_system::us ? unit_system::metric : unit_system::us};
    double const meant = other.to_core(what, written);
    bool const is_in_other =
        !usual_set_point_celsius.holds(celsius) && usual_set_point_celsius.holds(meant);
    if (air_celsius.holds(celsius) && !is_in_other) { return door.temperature_of(written); }
    value_range const& range = is_in_other ? usual_set_point_celsius : air_celsius;
    bool const is_more = celsius > range.highest;
    throw invalid_input{
        {.code = "heater.set_point",
         .field = field,
         .value = fmt::format("{:g}", written),
         .bound = fmt::format("{:g} to {:g}", door.written(what, range.lowest),
                              door.written(what, range.highest)),
         .unit = std::string{door.unit(what)},
         .problem = fmt::format("{:g} {} is {} than heaters hold places for plants", written,
                                door.unit(what), is_more ? "warmer" : "colder"),
         .remedy = is_in_other
                       ? fmt::format("did you mean {0}? {1:g} {0} are {2:.1f} {3}, and the plan is "
                                     "in {3}",
                                     other.unit(what), written, door.written(what, meant),
                                     door.unit(what))
                       : fmt::format("give it in {}, the unit of the plan", door.unit(what))}};
}

namespace detail {

namespace {

/// Walks a plan and snaps what it finds.
class snapper {
public:
    explicit snapper(unit_system units) : door_{units} {}

    void snap(temperature& value) const {
        value = temperature::from_celsius(door_.snap(quantity::temperature, value.celsius()));
    }
    void snap(temperature_span& value) const {
        value = temperature_span::from_kelvin(door_.snap(quantity::span, value.kelvin()));
    }
    void snap(thermal_time& value) const {
        value = thermal_time::from_kelvin_days(door_.snap(quantity::heat, value.kelvin_days()));
    }
    template <class Value>
    void snap(std::optional<Value>& value) const {
        if (value) { snap(*value); }
    }
    void snap(loss_setting& of) const {
        if (!of.limit()) { return; }
        temperature limit = *of.limit();
        snap(limit);
        of = loss_setting::at(limit);
    }

    void snap(clock& of) const {
        clock const snapped = std::visit(overloaded{[&](clock_group group) {
                                                        for (clock& member : group.members) {
                                                            snap(member);
                                                        }
                                                        return clock::of(std::move(group));
                                                    },
                                                    [&](simple_wait auto wait) {
                                                        snap_keys(wait);
                                                        return clock::of(std::move(wait));
                                                    }},
                                         of.what());
        of = of.gate() ? snapped.gated(*of.gate()) : snapped;
    }

    void snap(target& of) const { snap(of.rule); }
    void snap(rule& of) const {
        std::visit([&](rule_block auto& one) { snap_keys(one); }, of);
    }
    void snap(event_bound& of) const { snap(of.rule); }
    void snap(link& of) const { snap(of.after); }
    void snap(plain_value auto&) const {}
    template <class One>
    void snap(std::vector<One>& many) const {
        for (One& one : many) { snap(one); }
    }
    void snap(std::array<temperature, 12>& months) const {
        for (temperature& mean : months) { snap(mean); }
    }
    void snap(keyed_part auto& of) const {
        each_key(of, [&]<class Value>(plan_key const& key, Value& member) { snap(key, member); });
    }

private:
    void snap(plan_key const&, auto& member) const { snap(member); }
    void snap(plan_key const& key, double& member) const {
        if (key.what) { member = door_.snap(*key.what, member); }
    }
    void snap(plan_key const& key, std::optional<double>& member) const {
        if (member) { snap(key, *member); }
    }
    void snap(plan_key const&, amount& member) const { snap(key_of(member), member.value); }

    template <class Block>
    void snap_keys(Block& one) const {
        Block::each_key(one, overloaded{[](block_key const&, unitless_value auto&) {},
                                        [&](block_key const&, temperature& value) { snap(value); },
                                        [&](block_key const&, thermal_time& value) { snap(value); },
                                        [&](block_key const&, std::optional<temperature>& value) {
                                            snap(value);
                                        }});
    }

    unit_door door_;
};

}  // namespace

void snap_to_units(plan_parts& parts) {
    if (parts.units == unit_system::metric) { return; }
    snapper const all{parts.units};
    all.snap(parts);
    all.snap(parts.places);
    all.snap(parts.containers);
    all.snap(parts.crops);
    all.snap(parts.successions);
    all.snap(parts.links);
}

}  // namespace detail

}  // namespace epicotyl
