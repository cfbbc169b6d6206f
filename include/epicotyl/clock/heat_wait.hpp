// epicotyl: heat as a clock: the degree-days of the air, or of the soil, see degree_days.hpp.
#ifndef EPICOTYL_CLOCK_HEAT_WAIT_HPP
#define EPICOTYL_CLOCK_HEAT_WAIT_HPP

#include <optional>
#include <span>
#include <string_view>

#include <epicotyl/clock/degree_days.hpp>
#include <epicotyl/clock/wait_block.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {

/// Also of germination, which counts from a base too.
inline constexpr usual usual_base{{-5.0, 20.0},
                                  "few plants wait for so much warmth before they grow at all",
                                  "no plant grows in such cold",
                                  "give the temperature at which growth begins"};
inline constexpr usual usual_upper{{10.0, 45.0},
                                   "no plant gains by so much heat",
                                   "few plants have enough so soon",
                                   "give the temperature above which warmth gains nothing"};

}  // namespace detail

/// So many degree-days.
struct heat_wait {
    thermal_time amount = {};
    temperature base = {};
    std::optional<temperature> upper = {};
    degree_day_method method = degree_day_method::single_sine;
    degree_day_cutoff cutoff = degree_day_cutoff::horizontal;
    bool soil = false;  ///< of the soil, estimated as the mean air of the last 10 days

    static constexpr std::string_view key = "heat";
    static constexpr bool needs_air = true;
    static constexpr bool is_divisible = true;
    static constexpr std::string_view base_missing =
        "give the temperature below which nothing develops; a sum of heat means nothing without it";

    template <class Wait, class Visit>
    static void each_key(Wait& wait, Visit&& visit) {
        using detail::block_key;
        visit(block_key{key}, wait.amount);
        visit(block_key{"base", base_missing, &detail::usual_base}, wait.base);
        visit(block_key{"upper", {}, &detail::usual_upper}, wait.upper);
        visit(block_key{.name = "method",
                        .words = degree_day_method_names,
                        .choice = "degree-day method",
                        .usual_word = to_string(degree_day_method::single_sine)},
              wait.method);
        visit(block_key{.name = "cutoff",
                        .words = degree_day_cutoff_names,
                        .choice = "degree-day cutoff",
                        .usual_word = to_string(degree_day_cutoff::horizontal)},
              wait.cutoff);
    }
    [[nodiscard]] double needed() const { return amount.kelvin_days(); }
    void set_needed(double kelvin_days) { amount = thermal_time::from_kelvin_days(kelvin_days); }

    /// How its degree-days are worked out, in °C.
    [[nodiscard]] degree_day_rule reckoned_by() const {
        degree_day_rule rule{.base = base.celsius(), .method = method, .cutoff = cutoff};
        if (upper) { rule.upper = upper->celsius(); }
        return rule;
    }
    void rates(std::span<double const> low, std::span<double const> high,
               std::span<double> out) const {
        degree_days(low, high, reckoned_by(), out);
    }
    void validate() const { epicotyl::validate(reckoned_by()); }
    template <class Written>
    [[nodiscard]] std::optional<input_fault> plan_fault(Written const& written) const {
        if (!upper || *upper > base) { return std::nullopt; }
        return input_fault{.code = "degree_days.upper",
                           .field = "upper",
                           .bound = "more than the base, " + written("base"),
                           .unit = "°C",
                           .problem = written("upper") + " is not above the base",
                           .remedy = "give an upper threshold above the base, or none"};
    }
    friend bool operator==(heat_wait const&, heat_wait const&) = default;
};

}  // namespace epicotyl

#endif
