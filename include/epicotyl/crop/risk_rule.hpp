// epicotyl: the rule "risk p": the first day after which nights at or below the plants' limit come
// in at most a share p of the season years.
#ifndef EPICOTYL_CROP_RISK_RULE_HPP
#define EPICOTYL_CROP_RISK_RULE_HPP

#include <optional>
#include <string_view>

#include <epicotyl/crop/rule_block.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {

/// Of plants that are hardened, or whose state nobody knows.
inline constexpr usual usual_limit{{-12.0, 12.0},
                                   "few plants are harmed by nights so mild",
                                   "few plants stand so much cold",
                                   "give the night's low that harms them"};

}  // namespace detail

struct risk_rule {
    chance share;                           ///< largest share of season years with such a night
    std::optional<temperature> limit = {};  ///< none: the limit of the stage the event begins
    std::optional<day> after = {};          ///< take the half that ends well after this day

    static constexpr std::string_view names[] = {"risk"};
    static constexpr rule_traits traits{
        .for_decisions = true, .for_not_before = true, .asks_weather = true};

    [[nodiscard]] static std::string_view name() { return names[0]; }
    [[nodiscard]] static risk_rule blank() { return {.share = chance{0.0}}; }
    template <class Rule, class Visit>
    static void each_key(Rule& rule, Visit&& visit) {
        using detail::block_key;
        visit(block_key{names[0]}, rule.share);
        visit(block_key{"limit", {}, &detail::usual_limit}, rule.limit);
        visit(block_key{"after"}, rule.after);
    }
    [[nodiscard]] static std::optional<input_fault> fault() { return std::nullopt; }
    friend bool operator==(risk_rule const&, risk_rule const&) = default;
};

}  // namespace epicotyl

#endif
