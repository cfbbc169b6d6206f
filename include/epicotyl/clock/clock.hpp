// epicotyl: clocks. Every wait is a clock, and every clock is monotone.
//
// A stage lasts until a clock has run up an amount. A clock has a daily rate r(d) >= 0 that
// depends on the day - its weather, its length, the calendar - and never on when the stage began.
// That one restriction is what makes dates solvable: start later, and you are never ready earlier.
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
// A clock is a description, one file for each (calendar_wait.hpp, heat_wait.hpp ...), see
// wait_block.hpp for what a new one has to say. `ready_map` (ready_map.hpp) is what it becomes for
// one place and one season year.
#ifndef EPICOTYL_CLOCK_CLOCK_HPP
#define EPICOTYL_CLOCK_CLOCK_HPP

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <epicotyl/clock/calendar_wait.hpp>
#include <epicotyl/clock/days_between_wait.hpp>
#include <epicotyl/clock/germination_wait.hpp>
#include <epicotyl/clock/heat_wait.hpp>
#include <epicotyl/clock/wait_block.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

/// Slows or stops a clock by day length.
struct day_length_gate {
    double hours = 0.0;      ///< threshold, 0 to 24 h
    bool at_least = true;    ///< open while day length >= hours; false: while <= hours
    double otherwise = 0.0;  ///< factor on the rate while shut, 0 to 1

    friend bool operator==(day_length_gate const&, day_length_gate const&) = default;
};

class clock;

/// Several clocks, and which of them decides.
struct clock_group {
    enum class decides { last, first };
    decides which = decides::last;
    std::vector<clock> members;

    /// The key of a plan file.
    [[nodiscard]] char const* key() const noexcept {
        return which == decides::last ? "all" : "any";
    }
    friend bool operator==(clock_group const&, clock_group const&);
};

/// The kinds of clocks: a block each, and groups of them.
template <simple_wait Wait>
using clock_kind = Wait;
template <class... Waits>
using clock_kinds = std::variant<clock_kind<Waits>..., clock_group>;

/// A wait: what is counted and how much of it. See the head of this file.
class clock {
public:
    /// Every clock is registered here, in the order in which messages list their keys.
    using kind = clock_kinds<calendar_wait, heat_wait, days_between_wait, germination_wait>;

    /// From the numbers of any clock. Throws `invalid_input` where they make no sense, see each.
    template <simple_wait Wait>
    [[nodiscard]] static clock of(Wait wait) {
        wait.validate();
        return clock{std::move(wait)};
    }
    /// `amount` days of the calendar; a week is 7. Throws `invalid_input` unless finite and >= 0.
    [[nodiscard]] static clock days(double amount) { return of(calendar_wait{amount}); }
    /// Throws `invalid_input` unless base < upper and the cutoff fits the method.
    [[nodiscard]] static clock heat(heat_wait wait) { return of(wait); }
    /// Throws `invalid_input` unless low <= high and days >= 0.
    [[nodiscard]] static clock days_between(days_between_wait wait) { return of(wait); }
    /// Throws `invalid_input` unless base < optimum < ceiling.
    [[nodiscard]] static clock germination(germination_wait wait) { return of(wait); }
    /// Ready when the last of the members is. Throws `invalid_input` without members.
    [[nodiscard]] static clock all_of(std::vector<clock> members) {
        return of({clock_group::decides::last, std::move(members)});
    }
    /// Ready when the first of the members is. Throws `invalid_input` without members.
    [[nodiscard]] static clock any_of(std::vector<clock> members) {
        return of({clock_group::decides::first, std::move(members)});
    }
    /// Throws `invalid_input` without members.
    [[nodiscard]] static clock of(clock_group group) {
        if (!group.members.empty()) { return clock{std::move(group)}; }
        std::string const name{group.key()};
        throw invalid_input{{.code = "clock.no_members",
                             .field = name,
                             .value = "[]",
                             .bound = "1 or more",
                             .unit = "clocks",
                             .problem = '"' + name + "\" of no clocks",
                             .remedy = "list the clocks to be combined"}};
    }

    /// The same clock behind a gate; a group hands it to each member. Throws `invalid_input`
    /// unless 0 <= hours <= 24 and 0 <= otherwise <= 1, and when there is a gate already.
    [[nodiscard]] clock gated(day_length_gate gate) const {
        if (!(gate.hours >= 0.0 && gate.hours <= 24.0)) {
            throw invalid_input{
                {.code = "gate.hours",
                 .field = gate.at_least ? "day_length_at_least" : "day_length_at_most",
                 .value = detail::short_number(gate.hours),
                 .bound = "0 to 24",
                 .unit = "hours",
                 .problem = "no day has " + detail::short_number(gate.hours) + " hours",
                 .remedy = "give the day length that opens the gate"}};
        }
        if (!(gate.otherwise >= 0.0 && gate.otherwise <= 1.0)) {
            throw invalid_input{
                {.code = "gate.otherwise",
                 .field = "otherwise",
                 .value = detail::short_number(gate.otherwise),
                 .bound = "0 to 1",
                 .problem = detail::short_number(gate.otherwise) + " is no share of the rate",
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
    /// The group that it is; null for a clock by itself.
    [[nodiscard]] clock_group const* group() const noexcept {
        return std::get_if<clock_group>(&kind_);
    }
    /// The days of a clock of the calendar; none of others.
    [[nodiscard]] std::optional<double> calendar_days() const {
        auto const* wait = std::get_if<calendar_wait>(&kind_);
        return wait == nullptr ? std::nullopt : std::optional{wait->days};
    }

    /// True when the rate depends on the air or soil of a place, and not on the calendar alone.
    [[nodiscard]] bool needs_air() const {
        return std::visit(detail::overloaded{[](clock_group const& group) {
                                                 return std::ranges::any_of(
                                                     group.members, [](clock const& member) {
                                                         return member.needs_air();
                                                     });
                                             },
                                             []<simple_wait Wait>(Wait const&) {
                                                 return Wait::needs_air;
                                             }},
                          kind_);
    }

    friend bool operator==(clock const&, clock const&) = default;

private:
    explicit clock(kind what) : kind_{std::move(what)} {}

    kind kind_;
    std::optional<day_length_gate> gate_ = {};
};

inline bool operator==(clock_group const& a, clock_group const& b) {
    return a.which == b.which && a.members == b.members;
}

}  // namespace epicotyl

#endif
