// epicotyl: what the block of a clock says.
//
// A clock is one struct `..._wait` in a file of its own, compared by `==`, that says of itself all
// that anybody asks: its keys, its rate, its amount, what it needs of the air, what it refuses.
// `clock.hpp` registers it; plan files, checks, units and tables then know it from its block.
//
//     key            the key of a plan file that names the clock; each_key shows it first
//     each_key       calls visit(block_key, member) for every key in the order of a plan file
//     needs_air      true when the rate depends on air or soil; then there is a member `soil`
//     is_divisible   true when a share of the amount is a wait that means something
//     needed         the amount to be run up, in the clock's own unit; set_needed changes it
//     rates          what a day adds to it, >= 0, from the day's lows and highs [°C]
//     validate       throws `invalid_input` in the core's units
//     plan_fault     the same of a plan file, none where it is sound: `written` gives the number of
//                    a key as the file has it. `field` is a key, empty for the whole; a `unit` of
//                    °C is said in the plan's
//
// Unstable: what is asked of a block may change in any release; the members that hold a clock's
// numbers do not.
#ifndef EPICOTYL_CLOCK_WAIT_BLOCK_HPP
#define EPICOTYL_CLOCK_WAIT_BLOCK_HPP

#include <array>
#include <charconv>
#include <cmath>
#include <concepts>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <epicotyl/detail/block_key.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

template <class Wait>
concept simple_wait = std::equality_comparable<Wait> &&
    requires(Wait wait, Wait const& given, std::span<double const> air, std::span<double> out,
             double amount, std::string (*written)(std::string_view),
             void (*visit)(detail::block_key const&, ...)) {
    { Wait::key } -> std::convertible_to<std::string_view>;
    { Wait::needs_air } -> std::convertible_to<bool>;
    { Wait::is_divisible } -> std::convertible_to<bool>;
    { given.needed() } -> std::same_as<double>;
    wait.set_needed(amount);
    given.rates(air, air, out);
    given.validate();
    { given.plan_fault(written) } -> std::same_as<std::optional<input_fault>>;
    Wait::each_key(wait, visit);
};

namespace detail {

/// True for a clock of the soil.
template <simple_wait Wait>
[[nodiscard]] bool is_of_soil(Wait const& wait) {
    if constexpr (Wait::needs_air) { return wait.soil; }
    return false;
}

/// "0.1", "30", "1e+06": at most six digits.
[[nodiscard]] inline std::string short_number(double value) {
    std::array<char, 32> text{};
    auto const written =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::general, 6);
    return {text.data(), written.ptr};
}

/// Throws `invalid_input` unless so many days can be waited.
inline void require_days(double amount) {
    if (amount >= 0.0 && std::isfinite(amount)) { return; }
    throw invalid_input{{.code = "clock.days",
                         .field = "days",
                         .value = short_number(amount),
                         .bound = "0 or more",
                         .unit = "days",
                         .problem = short_number(amount) + " days cannot be waited",
                         .remedy = "give the number of days to wait"}};
}

}  // namespace detail

}  // namespace epicotyl

#endif
