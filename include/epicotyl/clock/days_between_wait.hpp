// epicotyl: days within a band as a clock: 1 on days whose mean lies in [low, high], else 0. For
// chill, stratification, storage.
#ifndef EPICOTYL_CLOCK_DAYS_BETWEEN_WAIT_HPP
#define EPICOTYL_CLOCK_DAYS_BETWEEN_WAIT_HPP

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <epicotyl/clock/wait_block.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {

inline constexpr usual usual_band_low{{-10.0, 30.0},
                                      "few days are so warm",
                                      "few days are so cold",
                                      "give the coldest day's mean that counts"};
inline constexpr usual usual_band_high{{-2.0, 45.0},
                                       "no day is so hot",
                                       "days so cold count for little",
                                       "give the warmest day's mean that counts"};

}  // namespace detail

/// So many days with a mean temperature in [low, high].
struct days_between_wait {
    double days = 0.0;
    temperature low = {};
    temperature high = {};
    bool soil = false;

    static constexpr std::string_view key = "days_between";
    static constexpr bool needs_air = true;
    static constexpr bool is_divisible = false;

    template <class Wait, class Visit>
    static void each_key(Wait& wait, Visit&& visit) {
        using detail::block_key;
        visit(block_key{key}, wait.days);
        visit(block_key{"low", "give the lowest mean temperature that counts",
                        &detail::usual_band_low},
              wait.low);
        visit(block_key{"high", "give the highest mean temperature that counts",
                        &detail::usual_band_high},
              wait.high);
    }
    [[nodiscard]] double needed() const { return days; }
    void set_needed(double amount) { days = amount; }
    void rates(std::span<double const> lows, std::span<double const> highs,
               std::span<double> out) const {
        for (std::size_t i = 0; i < out.size(); ++i) {
            double const mean = (lows[i] + highs[i]) / 2.0;
            out[i] = mean >= low.celsius() && mean <= high.celsius() ? 1.0 : 0.0;
        }
    }
    void validate() const {
        detail::require_days(days);
        if (low <= high) { return; }
        std::string const most = detail::short_number(high.celsius());
        std::string const given = detail::short_number(low.celsius());
        throw invalid_input{{.code = "clock.band",
                             .field = "low",
                             .value = given,
                             .bound = "at most high, " + most,
                             .unit = "°C",
                             .problem = "low " + given + " °C is above high " + most + " °C",
                             .remedy = "exchange them"}};
    }
    template <class Written>
    [[nodiscard]] std::optional<input_fault> plan_fault(Written const& written) const {
        if (low <= high) { return std::nullopt; }
        return input_fault{.code = "clock.band",
                           .field = "low",
                           .bound = "at most high, " + written("high"),
                           .unit = "°C",
                           .problem = "low " + written("low") + " is above high " + written("high"),
                           .remedy = "exchange them"};
    }
    friend bool operator==(days_between_wait const&, days_between_wait const&) = default;
};

}  // namespace epicotyl

#endif
