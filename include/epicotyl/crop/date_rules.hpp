// epicotyl: the rules of one date: exactly then (on), then or later (from), then or earlier (by).
#ifndef EPICOTYL_CROP_DATE_RULES_HPP
#define EPICOTYL_CROP_DATE_RULES_HPP

#include <optional>
#include <string>
#include <string_view>

#include <epicotyl/crop/rule_block.hpp>
#include <epicotyl/days.hpp>

namespace epicotyl {

struct on_rule {
    day when;

    static constexpr std::string_view names[] = {"on"};
    static constexpr rule_traits traits{
        .for_decisions = true, .for_outcomes = true, .is_exact = true};

    [[nodiscard]] static std::string_view name() { return names[0]; }
    [[nodiscard]] static on_rule blank() { return {}; }
    template <class Rule, class Visit>
    static void each_key(Rule& rule, Visit&& visit) {
        visit(detail::block_key{names[0]}, rule.when);
    }
    [[nodiscard]] static std::optional<input_fault> fault() { return std::nullopt; }
    [[nodiscard]] day asked_day() const { return when; }
    [[nodiscard]] day last_day() const { return when; }
    template <class Say>
    [[nodiscard]] std::string words(Say const& say) const {
        return "wanted on " + say(when);
    }
    friend bool operator==(on_rule const&, on_rule const&) = default;
};

struct from_rule {
    day when;

    static constexpr std::string_view names[] = {"from"};
    static constexpr rule_traits traits{
        .for_decisions = true, .for_not_before = true, .is_plain_in_bounds = true};

    [[nodiscard]] static std::string_view name() { return names[0]; }
    [[nodiscard]] static from_rule blank() { return {}; }
    template <class Rule, class Visit>
    static void each_key(Rule& rule, Visit&& visit) {
        visit(detail::block_key{names[0]}, rule.when);
    }
    [[nodiscard]] static std::optional<input_fault> fault() { return std::nullopt; }
    [[nodiscard]] day asked_day() const { return when; }
    [[nodiscard]] day last_day() const { return when; }
    template <class Say>
    [[nodiscard]] std::string words(Say const& say) const {
        return "not before " + say(when);
    }
    friend bool operator==(from_rule const&, from_rule const&) = default;
};

struct by_rule {
    day when;

    static constexpr std::string_view names[] = {"by"};
    static constexpr rule_traits traits{.for_outcomes = true,
                                        .for_not_after = true,
                                        .is_deadline = true,
                                        .is_plain_in_bounds = true};

    [[nodiscard]] static std::string_view name() { return names[0]; }
    [[nodiscard]] static by_rule blank() { return {}; }
    template <class Rule, class Visit>
    static void each_key(Rule& rule, Visit&& visit) {
        visit(detail::block_key{names[0]}, rule.when);
    }
    [[nodiscard]] static std::optional<input_fault> fault() { return std::nullopt; }
    [[nodiscard]] day asked_day() const { return when; }
    [[nodiscard]] day last_day() const { return when; }
    template <class Say>
    [[nodiscard]] std::string words(Say const& say) const {
        return "no later than " + say(when);
    }
    friend bool operator==(by_rule const&, by_rule const&) = default;
};

}  // namespace epicotyl

#endif
