// epicotyl: the calendar as a clock: 1 a day, whatever the weather.
#ifndef EPICOTYL_CLOCK_CALENDAR_WAIT_HPP
#define EPICOTYL_CLOCK_CALENDAR_WAIT_HPP

#include <algorithm>
#include <optional>
#include <span>
#include <string_view>

#include <epicotyl/clock/wait_block.hpp>

namespace epicotyl {

/// So many days of the calendar.
struct calendar_wait {
    double days = 0.0;

    static constexpr std::string_view key = "days";
    static constexpr bool needs_air = false;
    static constexpr bool is_divisible = true;

    template <class Wait, class Visit>
    static void each_key(Wait& wait, Visit&& visit) {
        visit(detail::block_key{key}, wait.days);
    }
    [[nodiscard]] double needed() const { return days; }
    void set_needed(double amount) { days = amount; }
    static void rates(std::span<double const>, std::span<double const>, std::span<double> out) {
        std::ranges::fill(out, 1.0);
    }
    void validate() const { detail::require_days(days); }
    template <class Written>
    [[nodiscard]] static std::optional<input_fault> plan_fault(Written const&) {
        return std::nullopt;
    }
    friend bool operator==(calendar_wait const&, calendar_wait const&) = default;
};

}  // namespace epicotyl

#endif
