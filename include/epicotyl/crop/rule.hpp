// epicotyl: rules for days. How a grower says when.
//
//   on DATE             exactly then
//   from DATE           then or later
//   by DATE             then or earlier
//   risk p              the first day after which nights at or below the plants' limit come in at
//                       most a share p of the season years
//   before / after the last frost, before the first frost, by so many days
//   in harvest from DATE until DATE, in at least a share of the season years
//
// Decisions (sow, pot on, plant out: what the grower does) take on, from, risk and the frost
// rules; outcomes (emerge, first harvest: what the plant does) and `clear` take by, on and in
// harvest. Bounds take a date, risk (not_before only) or a frost rule.
//
// Each rule says this of itself in a file of its own, see rule_block.hpp for what a new one has to
// say. Here they are one type, and here stands, once, what is asked of any of them.
#ifndef EPICOTYL_CROP_RULE_HPP
#define EPICOTYL_CROP_RULE_HPP

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include <epicotyl/crop/date_rules.hpp>
#include <epicotyl/crop/frost_rule.hpp>
#include <epicotyl/crop/in_harvest_rule.hpp>
#include <epicotyl/crop/risk_rule.hpp>
#include <epicotyl/crop/rule_block.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// The kinds of rules, a block each.
template <rule_block Rule>
requires(Rule::traits.asks_weather || dated_rule<Rule>) using rule_kind = Rule;
template <class... Rules>
using rule_kinds = std::variant<rule_kind<Rules>...>;

/// Every rule is registered here, in the order in which messages list them.
using rule = rule_kinds<by_rule, on_rule, in_harvest_rule, from_rule, risk_rule, frost_rule>;

[[nodiscard]] inline rule_traits const& traits_of(rule const& of) {
    return std::visit([](auto const& one) -> rule_traits const& { return one.traits; }, of);
}
/// Exactly on its day: no bound moves the event.
[[nodiscard]] inline bool asks_exactly(rule const& of) {
    return traits_of(of).is_exact;
}
/// Its sowing is sought by trying every day: more asks of a year than to be in time.
[[nodiscard]] inline bool is_scanned_for(rule const& of) {
    return traits_of(of).is_scanned;
}
/// Another date can be asked for by the same rule, on its day or no later than it.
[[nodiscard]] inline bool keeps_to_date(rule const& of) {
    return traits_of(of).is_exact || traits_of(of).is_deadline;
}
/// The day comes of the records: no date is said.
[[nodiscard]] inline bool asks_weather(rule const& of) {
    return traits_of(of).asks_weather;
}
[[nodiscard]] inline bool moves_with_frost(rule const& of) {
    return traits_of(of).moves_with_frost;
}
/// The day that a rule says, the first of several; none of the weather's.
[[nodiscard]] inline std::optional<day> day_asked(rule const& of) {
    return std::visit(
        []<class Rule>(Rule const& one) -> std::optional<day> {
            if constexpr (Rule::traits.asks_weather) {
                return std::nullopt;
            } else {
                return one.asked_day();
            }
        },
        of);
}
/// The day of a deadline; none of other rules.
[[nodiscard]] inline std::optional<day> day_due(rule const& of) {
    return traits_of(of).is_deadline ? day_asked(of) : std::nullopt;
}
/// The days on which a harvest is asked for; null of other rules.
[[nodiscard]] inline in_harvest_rule const* harvest_asked(rule const& of) {
    return std::get_if<in_harvest_rule>(&of);
}
/// The risk that a rule accepts; null of other rules.
[[nodiscard]] inline risk_rule const* risk_accepted(rule const& of) {
    return std::get_if<risk_rule>(&of);
}
/// A risk at the limit of the stage that its event begins.
[[nodiscard]] inline bool accepts_risk_of_stage(rule const& of) {
    risk_rule const* const risk = risk_accepted(of);
    return risk != nullptr && !risk->limit;
}

/// A bound on one event: `from_rule` holds a plain date in `not_before`, `by_rule` one in
/// `not_after`.
struct event_bound {
    std::string event;
    epicotyl::rule rule;

    friend bool operator==(event_bound const&, event_bound const&) = default;
};

/// The default bound against cold: on with a share of season years, or off.
class risk_setting {
public:
    [[nodiscard]] static risk_setting off() { return risk_setting{std::nullopt}; }
    [[nodiscard]] static risk_setting at(chance share) { return risk_setting{share}; }

    [[nodiscard]] std::optional<chance> const& share() const noexcept { return share_; }

    friend bool operator==(risk_setting const&, risk_setting const&) = default;

private:
    explicit risk_setting(std::optional<chance> share) : share_{share} {}

    std::optional<chance> share_;
};

}  // namespace epicotyl

#endif
