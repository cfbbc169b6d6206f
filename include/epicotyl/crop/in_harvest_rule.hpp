// epicotyl: the rule "in harvest from DATE until DATE, in at least a share of the season years".
#ifndef EPICOTYL_CROP_IN_HARVEST_RULE_HPP
#define EPICOTYL_CROP_IN_HARVEST_RULE_HPP

#include <optional>
#include <string>
#include <string_view>

#include <epicotyl/crop/rule_block.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

struct in_harvest_rule {
    day from;
    day until;
    chance share;

    static constexpr std::string_view names[] = {"in_harvest"};
    static constexpr rule_traits traits{
        .for_outcomes = true, .for_harvest_only = true, .is_scanned = true, .has_own_table = true};

    [[nodiscard]] static std::string_view name() { return names[0]; }
    [[nodiscard]] static in_harvest_rule blank() { return {{}, {}, chance{0.0}}; }
    template <class Rule, class Visit>
    static void each_key(Rule& rule, Visit&& visit) {
        using detail::block_key;
        visit(block_key{"from", "give the first day on which there must be a harvest"}, rule.from);
        visit(block_key{"until", "give the last day on which there must be a harvest"}, rule.until);
        visit(
            block_key{"chance", "give the share of years in which there must be one, such as 0.8"},
            rule.share);
    }
    [[nodiscard]] std::optional<input_fault> fault() const {
        if (from <= until) { return std::nullopt; }
        return input_fault{.code = "days.order",
                           .field = ".in_harvest",
                           .value = to_iso(from) + " to " + to_iso(until),
                           .problem = to_iso(from) + " comes after " + to_iso(until),
                           .remedy = "give the earlier day first"};
    }
    [[nodiscard]] day asked_day() const { return from; }
    [[nodiscard]] day last_day() const { return until; }
    template <class Say>
    [[nodiscard]] std::string words(Say const& say) const {
        return "in harvest from " + say(from) + " until " + say(until);
    }
    friend bool operator==(in_harvest_rule const&, in_harvest_rule const&) = default;
};

}  // namespace epicotyl

#endif
