#include "suspicions.hpp"

#include <algorithm>
#include <concepts>
#include <optional>
#include <string_view>
#include <variant>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>

#include "../../plan/block_values.hpp"
#include "../../plan/check.hpp"
#include "../../plan/units.hpp"
#include "../rows/say.hpp"

namespace epicotyl::detail {

namespace {

constexpr usual tender_limit{{-6.0, 12.0},
                             "few plants are harmed by nights so mild",
                             "few plants stand so much cold before they are hardened",
                             "give the night's low that harms them"};
constexpr usual frost_at{{-9.0, 5.0},
                         "nights so mild are no frost",
                         "that is far below a frost",
                         "give the night's low that is to count as frost"};
constexpr usual steady{{-2.0, 40.0},
                       "no place is held so warm for plants",
                       "no place is held so cold for plants",
                       "give what the place is held at"};
constexpr usual heat_to{usual_set_point_celsius, "few places are heated so far",
                        "a heater that comes on so late saves few plants",
                        "give the temperature that the heater is to hold"};
constexpr usual vent_above{{5.0, 45.0},
                           "few plants stand so much heat before anybody opens",
                           "a place that is opened so soon gains nothing",
                           "give the temperature at which the place is opened"};
constexpr usual acts_below{{-15.0, 12.0},
                           "nights so mild need no cover",
                           "few plants stand so much cold before they are covered",
                           "give the night's low at which you act"};
constexpr usual too_hot{{15.0, 60.0},
                        "no day is so hot",
                        "no plant suffers from a day so cool",
                        "give the day's high that harms"};
constexpr usual summer_high{{10.0, 60.0},
                            "no place is so hot",
                            "where summer is so cold nothing is grown",
                            "give the mean daily maxima, January to December"};
constexpr usual cover{{0.0, 6.0},
                      "fleece, mats and covers seldom hold so much on a clear night",
                      "",
                      "give what yours was measured to give, or a heater as heat_to"};
constexpr usual heat_lift{{0.0, 30.0},
                          "few heaters can raise the air so far",
                          "",
                          "give what yours can, or leave it out where it always suffices"};

/// Collects numbers that are seldom meant, alike ones together.
class suspicion_list {
public:
    explicit suspicion_list(plan const& of)
        : metric_{of.parts().units == unit_system::metric}, door_{of.parts().units} {}

    void add(usual const& what, temperature value, std::string const& field) {
        add(what, quantity::temperature, value.celsius(), field);
    }
    void add(usual const& what, temperature_span value, std::string const& field) {
        add(what, quantity::span, value.kelvin(), field);
    }
    template <class Value>
    void add(usual const& what, std::optional<Value> const& value, std::string const& field) {
        if (value) { add(what, *value, field); }
    }

    [[nodiscard]] std::vector<std::string> notes() const {
        std::vector<std::string> all;
        bool const is_whole_plan = asks_for_other_unit() >= kinds_of_a_whole_plan;
        if (is_whole_plan) { all.push_back(whole_plan_note()); }
        for (found const& one : found_) {
            if (is_whole_plan && one.asks_for_unit) { continue; }
            all.push_back(fmt::format("{}{}: {}; {}", one.head, say_so_more("is", "are", one.alike),
                                      one.is_more ? one.what->too_much : one.what->too_little,
                                      one.remedy));
        }
        return all;
    }

private:
    struct found {
        usual const* what;
        bool is_more;
        std::string head;
        std::string remedy;
        bool asks_for_unit;                   ///< the remedy asks whether the other unit was meant
        std::vector<std::string> alike = {};  ///< fields with their numbers
    };

    void add(usual const& what, quantity unit, double core, std::string const& field) {
        bool const is_more = core > what.range.highest + exactly_at;
        if (!is_more && core >= what.range.lowest - exactly_at) { return; }
        std::string const meant = other_unit(what, unit, core, is_more);
        // Too little is asked about only where it would be sound in the other unit: what stands
        // through a northern winter has limits that look like slips.
        if (!is_more && meant.empty()) { return; }
        auto const same = std::find_if(found_.begin(), found_.end(), [&](found const& one) {
            return one.is_more == is_more && (is_more ? one.what->too_much == what.too_much
                                                      : one.what->too_little == what.too_little);
        });
        if (same != found_.end()) {
            same->alike.push_back(fmt::format("{} {}", field, say(unit, core)));
            return;
        }
        double const bound = is_more ? what.range.highest : what.range.lowest;
        found_.push_back({.what = &what,
                          .is_more = is_more,
                          .head = fmt::format("{} is {}, {} than {}", field, say(unit, core),
                                              is_more ? "more" : "less", say(unit, bound)),
                          .remedy = meant.empty() ? std::string{what.remedy} : meant,
                          .asks_for_unit = !meant.empty()});
    }

    [[nodiscard]] std::ptrdiff_t asks_for_other_unit() const {
        return std::count_if(found_.begin(), found_.end(),
                             [](found const& one) { return one.asks_for_unit; });
    }

    /// So many kinds of numbers are no slips: the plan is in the other units.
    [[nodiscard]] std::string whole_plan_note() const {
        std::size_t numbers = 0;
        std::string heads;
        int named = 0;
        for (found const& one : found_) {
            if (!one.asks_for_unit) { continue; }
            numbers += 1 + one.alike.size();
            if (named++ < 2) { heads += one.head + "; "; }
        }
        unit_door const other{metric_ ? unit_system::us : unit_system::metric};
        return fmt::format(
            "{0} numbers are unusual in {1} and would be usual in {2} ({3}…): did "
            "you mean units = \"{4}\"? Else give each in {1}",
            numbers, door_.unit(quantity::temperature), other.unit(quantity::temperature), heads,
            metric_ ? "us" : "metric");
    }

    [[nodiscard]] std::string say(quantity unit, double core) const {
        return fmt::format("{} {}", say_number(door_.written(unit, core)), door_.unit(unit));
    }

    /// A question whether the written number was meant in the other unit; empty where it would be
    /// no usual one there either.
    [[nodiscard]] std::string other_unit(usual const& what, quantity unit, double core,
                                         bool is_more) const {
        // In degrees Fahrenheit numbers are larger.
        if (is_more != metric_) { return {}; }
        double const written = door_.written(unit, core);
        unit_door const other{metric_ ? unit_system::us : unit_system::metric};
        double const meant = other.to_core(unit, written);
        if (!what.range.holds(meant)) { return {}; }
        std::string_view const warmer = unit == quantity::span ? " warmer" : "";
        return fmt::format("did you mean {0}? {1} {0}{2} are {3} {4}{2}, and the plan is in {4}",
                           other.unit(unit), say_number(written), warmer,
                           say_number(door_.written(unit, meant)), door_.unit(unit));
    }

    /// Kinds of numbers that ask for the other unit when the whole plan does.
    static constexpr int kinds_of_a_whole_plan = 3;
    /// Degrees converted from °F miss a bound by their last digits.
    static constexpr double exactly_at = 1e-6;

    bool metric_;
    unit_door door_;
    std::vector<found> found_;
};

/// Shows every number of a plan to a list.
class plan_reader {
public:
    /// Fields have names only where `with_names` asks for them: without them it is a quick look.
    plan_reader(plan const& of, bool with_names)
        : parts_{of.parts()}, with_names_{with_names}, list_{of} {}

    [[nodiscard]] std::vector<std::string> notes() {
        list_.add(frost_at, parts_.frost.at, "site.frost.at");
        if (parts_.normals) {
            auto const& high = parts_.normals->high;
            auto const warmest = std::max_element(high.begin(), high.end());
            list_.add(summer_high, *warmest,
                      fmt::format("site.monthly_high[{}]", warmest - high.begin() + 1));
        }
        for (place const& one : parts_.places) { read(one, with_names_ ? place_field(one) : ""); }
        for (crop const& one : parts_.crops) { read(one, with_names_ ? crop_field(one) : ""); }
        for (std::size_t i = 0; i < parts_.successions.size(); ++i) {
            read(parts_.successions[i], with_names_ ? succession_field(static_cast<int>(i)) : "");
        }
        return list_.notes();
    }

private:
    [[nodiscard]] std::string in(std::string const& field, std::string_view key) const {
        return with_names_ ? field + std::string{key} : std::string{};
    }

    void read(place const& one, std::string const& field) {
        air const& of = one.air;
        // Seed and tubers are stored at any cold.
        bool const is_store = one.jobs == std::vector<job>{job::store};
        if (of.steady && !is_store) {
            list_.add(steady, of.steady->day, in(field, ".day"));
            list_.add(steady, of.steady->night, in(field, ".night"));
        }
        list_.add(heat_to, of.heat_to, in(field, ".heat_to"));
        list_.add(heat_lift, of.heat_lift, in(field, ".heat_lift"));
        list_.add(vent_above, of.vent_above, in(field, ".vent_above"));
        if (!of.nights) { return; }
        list_.add(acts_below, of.nights->below, in(field, ".cold_nights.below"));
        list_.add(cover, of.nights->warmer, in(field, ".cold_nights.warmer"));
    }

    void read(clock const& of, std::string const& field) {
        std::visit(overloaded{[&](clock_group const& group) {
                                  for (std::size_t i = 0; i < group.members.size(); ++i) {
                                      read(group.members[i],
                                           with_names_
                                               ? fmt::format("{}.{}[{}]", field, group.key(), i + 1)
                                               : "");
                                  }
                              },
                              [&](simple_wait auto const& wait) {
                                  read_keys(wait, field);
                              }},
                   of.what());
    }

    /// The temperatures of a clock or rule of which something is usual.
    template <class Block>
    void read_keys(Block const& one, std::string const& field) {
        Block::each_key(one, [&]<class Value>(block_key const& key, Value const& value) {
            if constexpr (!unitless_value<Value> && !std::same_as<Value, thermal_time>) {
                if (key.common == nullptr) { return; }
                list_.add(*key.common, value,
                          with_names_ ? fmt::format("{}.{}", field, key.name) : "");
            }
        });
    }

    /// Limits of stages may be a winter's: only their upper bound says something.
    void read_limit(std::optional<temperature> const& limit, std::string const& field) {
        if (limit && limit->celsius() > usual_limit.range.highest) {
            list_.add(usual_limit, *limit, in(field, ".limit"));
        }
    }

    void read(rule const& of, std::string const& field) {
        std::visit([&](rule_block auto const& one) { read_keys(one, field); }, of);
    }

    void read(std::vector<event_bound> const& bounds, std::string const& field) {
        for (event_bound const& bound : bounds) { read(bound.rule, in(field, '.' + bound.event)); }
    }

    void read(crop const& one, std::string const& field) {
        list_.add(tender_limit, one.limit_tender, in(field, ".limit_tender"));
        // Beside a tender limit that is sound, even a great cold is in the plan's unit.
        bool const tender_is_sound =
            one.limit_tender && tender_limit.range.holds(one.limit_tender->celsius());
        if (!tender_is_sound) {
            list_.add(usual_limit, one.limit_hardened, in(field, ".limit_hardened"));
        }
        for (std::size_t j = 0; j < one.stages.size(); ++j) {
            stage const& of = one.stages[j];
            std::string const own = with_names_ ? stage_field(one, static_cast<int>(j)) : "";
            read(of.takes, in(own, ".takes"));
            read_limit(of.limit, own);
            list_.add(too_hot, of.too_hot, in(own, ".too_hot"));
        }
        read(one.not_before, in(field, ".not_before"));
    }

    void read(succession const& one, std::string const& field) {
        read(one.target.rule, in(field, ".target"));
        read(one.not_before, in(field, ".not_before"));
        for (stage_change const& change : one.changes) {
            std::string const own = in(field, ".stage." + change.begins);
            if (change.takes) { read(*change.takes, in(own, ".takes")); }
            read_limit(change.limit, own);
            list_.add(too_hot, change.too_hot, in(own, ".too_hot"));
        }
    }

    plan_parts const& parts_;
    bool with_names_;
    suspicion_list list_;
};

}  // namespace

std::vector<std::string> suspicions_of(plan const& of) {
    if (plan_reader{of, false}.notes().empty()) { return {}; }
    return plan_reader{of, true}.notes();
}

}  // namespace epicotyl::detail
