// epicotyl: clocks. Every wait is a clock, and every clock is monotone.
//
// A stage lasts until a clock has run up an amount. A clock has a daily rate r(d) >= 0 that
// depends on the day - its weather, its length, the calendar - and never on when the stage began.
// That one restriction is what makes dates solvable: start later, and you are never ready sooner.
//
//   calendar      1 a day                                              amount in days
//   heat          degree-days of the air (or soil), see degree_days    amount in K day
//   days between  1 on days whose mean lies in [low, high], else 0     amount in days
//                 (chill, stratification, storage)
//   germination   cardinal temperatures at the mean T: T - base up to the optimum, then falling
//                 in a straight line to 0 at the ceiling               amount in K day
//   all of        ready when the last member is
//   any of        ready when the first member is
//
// Any of them can be gated by day length: while days (lamps included) are shorter than `hours`
// (or longer), the rate is only `otherwise` times itself. A gate on "all of" or "any of" goes to
// each member.
//
//     clock const emerge = clock::germination({.amount = thermal_time::from_kelvin_days(110.0),
//                                              .base = temperature::from_celsius(4.0),
//                                              .optimum = temperature::from_celsius(22.0),
//                                              .ceiling = temperature::from_celsius(32.0)});
//     clock const harden = clock::all_of({clock::days(8.0), clock::heat(...)});
//
// What cannot be said: an amount that depends on the day the stage began ("60 days if sown in
// March, 45 if in May"). It would not be monotone. Say instead what makes May faster, as a rate
// (heat, or a gate), or split the stage in two.
//
// A clock is a description. `ready_map` (ready_map.hpp) is what it becomes for one place and one
// season year.
#ifndef EPICOTYL_CLOCK_CLOCK_HPP
#define EPICOTYL_CLOCK_CLOCK_HPP

#include <cmath>
#include <optional>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/clock/degree_days.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// Slows or stops a clock by day length.
struct day_length_gate {
    double hours = 0.0;      ///< threshold, 0 to 24 h
    bool at_least = true;    ///< open while day length >= hours; false: while <= hours
    double otherwise = 0.0;  ///< factor on the rate while shut, 0 to 1

    friend bool operator==(day_length_gate const&, day_length_gate const&) = default;
};

/// So many days of the calendar.
struct calendar_wait {
    double days = 0.0;
    friend bool operator==(calendar_wait const&, calendar_wait const&) = default;
};

/// So many degree-days.
struct heat_wait {
    thermal_time amount = {};
    temperature base = {};
    std::optional<temperature> upper = {};
    degree_day_method method = degree_day_method::single_sine;
    degree_day_cutoff cutoff = degree_day_cutoff::horizontal;
    bool soil = false;  ///< of the soil, estimated as the mean air of the last 10 days

    friend bool operator==(heat_wait const&, heat_wait const&) = default;
};

/// So many days with a mean temperature in [low, high].
struct days_between_wait {
    double days = 0.0;
    temperature low = {};
    temperature high = {};
    bool soil = false;

    friend bool operator==(days_between_wait const&, days_between_wait const&) = default;
};

/// So much thermal time by cardinal temperatures.
struct germination_wait {
    thermal_time amount = {};
    temperature base = {};
    temperature optimum = {};
    temperature ceiling = {};
    bool soil = false;

    friend bool operator==(germination_wait const&, germination_wait const&) = default;
};

class clock;

/// Several clocks, and which of them decides.
struct clock_group {
    enum class decides { last, first };
    decides which = decides::last;
    std::vector<clock> members;

    friend bool operator==(clock_group const&, clock_group const&);
};

/// A wait: what is counted and how much of it. See the head of this file.
class clock {
public:
    using kind =
        std::variant<calendar_wait, heat_wait, days_between_wait, germination_wait, clock_group>;

    /// `amount` days of the calendar; a week is 7. Throws `invalid_input` unless finite and >= 0.
    [[nodiscard]] static clock days(double amount) {
        require_days(amount);
        return clock{calendar_wait{amount}};
    }
    /// Throws `invalid_input` unless base < upper and the cutoff fits the method.
    [[nodiscard]] static clock heat(heat_wait wait) {
        validate(rule_of(wait));
        return clock{wait};
    }
    /// Throws `invalid_input` unless low <= high and days >= 0.
    [[nodiscard]] static clock days_between(days_between_wait wait) {
        require_days(wait.days);
        if (wait.low > wait.high) {
            throw invalid_input{
                {.code = "clock.band",
                 .field = "low",
                 .value = fmt::format("{:g}", wait.low.celsius()),
                 .bound = fmt::format("at most high, {:g}", wait.high.celsius()),
                 .unit = "°C",
                 .problem = fmt::format("low {:g} is above high {:g}", wait.low, wait.high),
                 .remedy = "exchange them"}};
        }
        return clock{wait};
    }
    /// Throws `invalid_input` unless base < optimum < ceiling.
    [[nodiscard]] static clock germination(germination_wait wait) {
        if (!(wait.base < wait.optimum && wait.optimum < wait.ceiling)) {
            throw invalid_input{
                {.code = "clock.cardinal_temperatures",
                 .field = "base, optimum, ceiling",
                 .value = fmt::format("{:g}, {:g}, {:g}", wait.base.celsius(),
                                      wait.optimum.celsius(), wait.ceiling.celsius()),
                 .bound = "base < optimum < ceiling",
                 .unit = "°C",
                 .problem = "cardinal temperatures do not rise",
                 .remedy = "give the temperature where germination begins, where it is fastest "
                           "and where it ends"}};
        }
        return clock{wait};
    }
    /// Ready when the last of the members is. Throws `invalid_input` without members.
    [[nodiscard]] static clock all_of(std::vector<clock> members) {
        return clock{group(clock_group::decides::last, std::move(members), "all")};
    }
    /// Ready when the first of the members is. Throws `invalid_input` without members.
    [[nodiscard]] static clock any_of(std::vector<clock> members) {
        return clock{group(clock_group::decides::first, std::move(members), "any")};
    }

    /// The same clock behind a gate; a group hands it to each member. Throws `invalid_input`
    /// unless 0 <= hours <= 24 and 0 <= otherwise <= 1, and when there is a gate already.
    [[nodiscard]] clock gated(day_length_gate gate) const {
        if (!(gate.hours >= 0.0 && gate.hours <= 24.0)) {
            throw invalid_input{
                {.code = "gate.hours",
                 .field = gate.at_least ? "day_length_at_least" : "day_length_at_most",
                 .value = fmt::format("{:g}", gate.hours),
                 .bound = "0 to 24",
                 .unit = "hours",
                 .problem = fmt::format("no day has {:g} hours", gate.hours),
                 .remedy = "give the day length that opens the gate"}};
        }
        if (!(gate.otherwise >= 0.0 && gate.otherwise <= 1.0)) {
            throw invalid_input{
                {.code = "gate.otherwise",
                 .field = "otherwise",
                 .value = fmt::format("{:g}", gate.otherwise),
                 .bound = "0 to 1",
                 .problem = fmt::format("{:g} is no share of the rate", gate.otherwise),
                 .remedy = "give 0 for a clock that stops, 0.5 for one that runs at half speed"}};
        }
        if (gate_) {
            throw invalid_input{{.code = "gate.twice",
                                 .field = "gate",
                                 .problem = "the clock has a gate already",
                                 .remedy = "give the gate to the group or to its members, not "
                                           "to both"}};
        }
        clock copy = *this;
        if (auto* several = std::get_if<clock_group>(&copy.kind_)) {
            for (clock& member : several->members) { member = member.gated(gate); }
        } else {
            copy.gate_ = gate;
        }
        return copy;
    }

    [[nodiscard]] kind const& what() const noexcept { return kind_; }
    /// None for a group, whose members carry the gate.
    [[nodiscard]] std::optional<day_length_gate> const& gate() const noexcept { return gate_; }

    /// True when the rate depends on the air or soil of a place, and not on the calendar alone.
    [[nodiscard]] bool needs_air() const {
        if (auto const* several = std::get_if<clock_group>(&kind_)) {
            for (clock const& member : several->members) {
                if (member.needs_air()) { return true; }
            }
            return false;
        }
        return !std::holds_alternative<calendar_wait>(kind_);
    }

    friend bool operator==(clock const&, clock const&) = default;

    /// The degree-day rule of a heat clock, in °C.
    [[nodiscard]] static degree_day_rule rule_of(heat_wait const& wait) {
        degree_day_rule rule{
            .base = wait.base.celsius(), .method = wait.method, .cutoff = wait.cutoff};
        if (wait.upper) { rule.upper = wait.upper->celsius(); }
        return rule;
    }

private:
    explicit clock(kind what) : kind_{std::move(what)} {}

    static void require_days(double amount) {
        if (!(amount >= 0.0 && std::isfinite(amount))) {
            throw invalid_input{{.code = "clock.days",
                                 .field = "days",
                                 .value = fmt::format("{:g}", amount),
                                 .bound = "0 or more",
                                 .unit = "days",
                                 .problem = fmt::format("{:g} days cannot be waited", amount),
                                 .remedy = "give the number of days to wait"}};
        }
    }

    static clock_group group(clock_group::decides which, std::vector<clock> members,
                             char const* name) {
        if (members.empty()) {
            throw invalid_input{{.code = "clock.no_members",
                                 .field = name,
                                 .value = "[]",
                                 .bound = "1 or more",
                                 .unit = "clocks",
                                 .problem = fmt::format("\"{}\" of no clocks", name),
                                 .remedy = "list the clocks to be combined"}};
        }
        return clock_group{which, std::move(members)};
    }

    kind kind_;
    std::optional<day_length_gate> gate_ = {};
};

inline bool operator==(clock_group const& a, clock_group const& b) {
    return a.which == b.which && a.members == b.members;
}

}  // namespace epicotyl

#endif
