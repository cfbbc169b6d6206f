// epicotyl: the rules that count days before or after the last frost, or before the first.
#ifndef EPICOTYL_CROP_FROST_RULE_HPP
#define EPICOTYL_CROP_FROST_RULE_HPP

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include <epicotyl/crop/rule_block.hpp>
#include <epicotyl/days.hpp>

namespace epicotyl {

enum class frost_edge { before_last_frost, after_last_frost, before_first_frost };

inline constexpr std::string_view frost_edge_names[] = {"before_last_frost", "after_last_frost",
                                                        "before_first_frost"};

struct frost_rule {
    frost_edge edge = frost_edge::after_last_frost;
    int days = 0;                   ///< how far from the frost date, >= 0
    std::optional<day> after = {};  ///< take the half that ends well after this day

    static constexpr auto& names = frost_edge_names;
    static constexpr rule_traits traits{.for_decisions = true,
                                        .for_not_before = true,
                                        .for_not_after = true,
                                        .asks_weather = true,
                                        .moves_with_frost = true};

    /// Days and weeks are one rule: it is told by its edge.
    [[nodiscard]] std::string_view name() const { return names[static_cast<std::size_t>(edge)]; }
    [[nodiscard]] static frost_rule blank() { return {}; }
    /// Edge and days are one key, "weeks_after_last_frost", which its reader and writer spell.
    template <class Rule, class Visit>
    static void each_key(Rule& rule, Visit&& visit) {
        visit(detail::block_key{"after"}, rule.after);
    }
    [[nodiscard]] std::optional<input_fault> fault() const {
        if (days >= 0 && days <= longest_season) { return std::nullopt; }
        return input_fault{.code = "rule.frost_days",
                           .value = std::to_string(days),
                           .bound = "0 to " + std::to_string(longest_season),
                           .unit = "days",
                           .problem = std::to_string(days) + " days cannot be counted from a frost",
                           .remedy = "before and after the frost have rules of their own"};
    }
    friend bool operator==(frost_rule const&, frost_rule const&) = default;
};

}  // namespace epicotyl

#endif
