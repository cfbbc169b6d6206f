// epicotyl: germination as a clock, by cardinal temperatures at the mean T: T - base up to the
// optimum, then falling in a straight line to 0 at the ceiling.
#ifndef EPICOTYL_CLOCK_GERMINATION_WAIT_HPP
#define EPICOTYL_CLOCK_GERMINATION_WAIT_HPP

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include <epicotyl/clock/heat_wait.hpp>
#include <epicotyl/clock/wait_block.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {

inline constexpr usual usual_optimum{{5.0, 45.0},
                                     "no seed comes up best in such heat",
                                     "no seed comes up best in such cold",
                                     "give the temperature at which the seed comes up soonest"};
inline constexpr usual usual_ceiling{{15.0, 55.0},
                                     "no seed comes up in such heat",
                                     "few seeds fail in air so cool",
                                     "give the temperature above which no seed comes up"};

}  // namespace detail

/// So much thermal time by cardinal temperatures.
struct germination_wait {
    thermal_time amount = {};
    temperature base = {};
    temperature optimum = {};
    temperature ceiling = {};
    bool soil = false;

    static constexpr std::string_view key = "germination";
    static constexpr bool needs_air = true;
    static constexpr bool is_divisible = false;

    template <class Wait, class Visit>
    static void each_key(Wait& wait, Visit&& visit) {
        using detail::block_key;
        visit(block_key{key}, wait.amount);
        visit(
            block_key{"base", "give the temperature where germination begins", &detail::usual_base},
            wait.base);
        visit(block_key{"optimum", "give the temperature where germination is fastest",
                        &detail::usual_optimum},
              wait.optimum);
        visit(block_key{"ceiling", "give the temperature where germination ends",
                        &detail::usual_ceiling},
              wait.ceiling);
    }
    [[nodiscard]] double needed() const { return amount.kelvin_days(); }
    void set_needed(double kelvin_days) { amount = thermal_time::from_kelvin_days(kelvin_days); }
    void rates(std::span<double const> low, std::span<double const> high,
               std::span<double> out) const;
    void validate() const {
        if (rises()) { return; }
        std::string const numbers = detail::short_number(base.celsius()) + ", " +
                                    detail::short_number(optimum.celsius()) + ", " +
                                    detail::short_number(ceiling.celsius());
        throw invalid_input{
            of_order("base, optimum, ceiling", numbers, "cardinal temperatures do not rise")};
    }
    template <class Written>
    [[nodiscard]] std::optional<input_fault> plan_fault(Written const& written) const {
        if (rises()) { return std::nullopt; }
        return of_order("", "",
                        "base " + written("base") + ", optimum " + written("optimum") +
                            " and ceiling " + written("ceiling") + " do not rise");
    }
    friend bool operator==(germination_wait const&, germination_wait const&) = default;

private:
    [[nodiscard]] bool rises() const { return base < optimum && optimum < ceiling; }
    [[nodiscard]] static input_fault of_order(std::string field, std::string value,
                                              std::string problem) {
        return {.code = "clock.cardinal_temperatures",
                .field = std::move(field),
                .value = std::move(value),
                .bound = "base < optimum < ceiling",
                .unit = "°C",
                .problem = std::move(problem),
                .remedy =
                    "give the temperature where germination begins, where it is fastest and "
                    "where it ends"};
    }
};

/// Rate of germination at a mean temperature, K: T - base up to the optimum, then a straight line
/// to 0 at the ceiling. After Garcia-Huidobro, Monteith and Squire [garciahuidobro1982], written as
/// thermal time a day.
[[nodiscard]] inline double germination_rate(double mean, germination_wait const& wait) {
    double const base = wait.base.celsius();
    double const optimum = wait.optimum.celsius();
    double const ceiling = wait.ceiling.celsius();
    if (mean <= base || mean >= ceiling) { return 0.0; }
    if (mean <= optimum) { return mean - base; }
    return (optimum - base) * (ceiling - mean) / (ceiling - optimum);
}

inline void germination_wait::rates(std::span<double const> low, std::span<double const> high,
                                    std::span<double> out) const {
    for (std::size_t i = 0; i < out.size(); ++i) {
        out[i] = germination_rate((low[i] + high[i]) / 2.0, *this);
    }
}

}  // namespace epicotyl

#endif
