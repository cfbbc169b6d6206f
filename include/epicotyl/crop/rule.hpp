// epicotyl: rules for days. How a grower says when.
//
//   on DATE             exactly then
//   from DATE           then or later
//   by DATE             then or sooner
//   risk p              the first day after which nights at or below the plants' limit come in at
//                       most a share p of the season years
//   before / after the last frost, before the first frost, by so many days
//   in harvest from DATE until DATE, in at least a share of the season years
//
// Decisions (sow, pot on, plant out: what the grower does) take on, from, risk and the frost
// rules; outcomes (emerge, first harvest: what the plant does) and `clear` take by, on and in
// harvest. Bounds take a date, risk (not_before only) or a frost rule.
#ifndef EPICOTYL_CROP_RULE_HPP
#define EPICOTYL_CROP_RULE_HPP

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

struct on_rule {
    day when;
    friend bool operator==(on_rule const&, on_rule const&) = default;
};

struct from_rule {
    day when;
    friend bool operator==(from_rule const&, from_rule const&) = default;
};

struct by_rule {
    day when;
    friend bool operator==(by_rule const&, by_rule const&) = default;
};

struct risk_rule {
    chance share;                           ///< largest share of season years with such a night
    std::optional<temperature> limit = {};  ///< none: the limit of the stage the event begins
    std::optional<day> after = {};          ///< take the half that ends well after this day

    friend bool operator==(risk_rule const&, risk_rule const&) = default;
};

enum class frost_edge { before_last_frost, after_last_frost, before_first_frost };

inline constexpr std::string_view frost_edge_names[] = {"before_last_frost", "after_last_frost",
                                                        "before_first_frost"};

struct frost_rule {
    frost_edge edge = frost_edge::after_last_frost;
    int days = 0;                   ///< how far from the frost date, >= 0
    std::optional<day> after = {};  ///< take the half that ends well after this day

    friend bool operator==(frost_rule const&, frost_rule const&) = default;
};

struct in_harvest_rule {
    day from;
    day until;
    chance share;

    friend bool operator==(in_harvest_rule const&, in_harvest_rule const&) = default;
};

using rule = std::variant<on_rule, from_rule, by_rule, risk_rule, frost_rule, in_harvest_rule>;

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
