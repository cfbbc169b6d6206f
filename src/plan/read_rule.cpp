#include <algorithm>
#include <cmath>
#include <concepts>
#include <iterator>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/detail/whole.hpp>

#include "block_values.hpp"
#include "key_reader.hpp"
#include "readers.hpp"

namespace epicotyl::detail {

namespace {

constexpr std::array<std::string_view, 2> frost_units = {"days", "weeks"};
constexpr std::array<int, 2> days_of_frost_unit = {1, 7};

[[nodiscard]] std::string frost_key(std::size_t unit, std::size_t edge) {
    return fmt::format("{}_{}", frost_units[unit], frost_edge_names[edge]);
}

[[nodiscard]] std::optional<day> read_after(plan_node const& node) {
    auto const after = node.get("after");
    return after ? std::optional<day>{after->date()} : std::nullopt;
}

/// "weeks_after_last_frost = 1" and its like.
[[nodiscard]] rule read_frost_rule(plan_node const& node, std::string_view key) {
    for (std::size_t unit = 0; unit < frost_units.size(); ++unit) {
        for (std::size_t edge = 0; edge < std::size(frost_edge_names); ++edge) {
            if (frost_key(unit, edge) != key) { continue; }
            plan_node const amount = node.need(key, "");
            double const days = days_of_frost_unit[unit] * amount.number(frost_units[unit]);
            if (!(days >= 0.0 && days <= longest_season) || days != std::floor(days)) {
                amount.refuse("rule.frost_days",
                              fmt::format("{} {} is no number of days that can be counted from a "
                                          "frost",
                                          amount.written(), frost_units[unit]),
                              "give whole days of 0 or more; before and after have keys of their "
                              "own",
                              fmt::format("0 to {} days in whole days", longest_season));
            }
            return frost_rule{static_cast<frost_edge>(edge), whole_of(days), read_after(node)};
        }
    }
    throw std::logic_error{"not a frost rule"};
}

/// The keys that name a rule.
template <rule_block Rule>
[[nodiscard]] std::vector<std::string> naming_keys() {
    if constexpr (!std::same_as<Rule, frost_rule>) {
        return {std::begin(Rule::names), std::end(Rule::names)};
    }
    std::vector<std::string> keys;
    for (std::size_t edge = 0; edge < std::size(frost_edge_names); ++edge) {
        keys.push_back(frost_key(1, edge));
        keys.push_back(frost_key(0, edge));
    }
    return keys;
}

/// A kind of rule as a plan file has it.
struct written_rule {
    std::vector<std::string> names;
    std::vector<std::string_view> more;  ///< keys that may stand beside its name
    rule_traits traits;
    rule (*read)(plan_node const& node, std::string_view name);
};

template <rule_block Rule>
[[nodiscard]] rule read_one(plan_node const& node, std::string_view name) {
    if constexpr (std::same_as<Rule, frost_rule>) { return read_frost_rule(node, name); }
    Rule read = Rule::blank();
    plan_node const table = Rule::traits.has_own_table ? node.need(name, "") : node;
    if (Rule::traits.has_own_table) { table.allow(keys_of(read)); }
    block_reader::read(table, read);
    return read;
}

/// Every rule: first those for what the grower does, then those for what the plants do, then those
/// that count from a frost.
[[nodiscard]] std::vector<written_rule> written_rules() {
    std::vector<written_rule> all;
    each_alternative(std::type_identity<rule>{}, [&]<class Rule>(std::type_identity<Rule>) {
        written_rule one{naming_keys<Rule>(), {}, Rule::traits, read_one<Rule>};
        if (!one.traits.has_own_table) { one.more = keys_of(Rule::blank()); }
        std::erase_if(one.more, [&](std::string_view key) {
            return std::ranges::find(one.names, key) != one.names.end();
        });
        all.push_back(std::move(one));
    });
    std::ranges::stable_sort(all, {}, [](written_rule const& one) {
        return one.traits.moves_with_frost ? 2 : one.traits.for_decisions ? 0 : 1;
    });
    return all;
}

struct known_rules {
    std::vector<written_rule> rules = written_rules();
    std::vector<std::string_view> names = {};
    std::vector<std::string_view> keys = {};  ///< names first, then what may stand beside one

    known_rules() {
        for (written_rule const& one : rules) {
            names.insert(names.end(), one.names.begin(), one.names.end());
        }
        keys.insert(keys.end(), names.begin(), names.end());
        for (written_rule const& one : rules) {
            std::ranges::copy_if(one.more, std::back_inserter(keys), [&](std::string_view key) {
                return std::ranges::find(keys, key) == keys.end();
            });
        }
    }
};

[[nodiscard]] link_end read_link_end(plan_node const& node, bool is_first) {
    static constexpr std::string_view members[] = {"all", "first"};
    if (is_first) {
        node.allow({"succession", "wave", "event", "of"});
    } else {
        node.allow({"succession", "wave", "event"});
    }
    link_end read;
    std::string_view const by = node.choose({"succession", "wave"}, "whose event it is");
    (by == "wave" ? read.wave : read.succession) = node.need(by, "").name();
    read.event = node.need("event", "name the event, such as \"transplant\"").name();
    if (auto const of = node.get("of")) {
        if (by != "wave") {
            of->refuse("link.of", "a single succession has no first and no last member",
                       "leave of out, or name a wave");
        }
        read.of = static_cast<link_end::which>(of->word(members, "choice"));
    }
    return read;
}

void require_follows(std::optional<plan_node> const& gap, succession const& of) {
    if (!gap || !of.follows.empty()) { return; }
    gap->refuse("succession.gap", "there is nothing that it follows",
                "name the succession whose bed it takes in follows, or leave gap out");
}

}  // namespace

rule read_rule(plan_node const& node, std::vector<std::string_view> const& beside) {
    static known_rules const known;
    node.allow(known.keys, beside);
    std::string_view const what = node.choose(known.names, "on which day");
    written_rule const& found = *std::ranges::find_if(known.rules, [&](written_rule const& one) {
        return std::ranges::find(one.names, what) != one.names.end();
    });
    std::vector<std::string_view> own{what};
    own.insert(own.end(), found.more.begin(), found.more.end());
    node.allow(beside, own);
    return found.read(node, what);
}

std::vector<event_bound> read_bounds(plan_node const& node, bool not_before) {
    std::vector<event_bound> bounds;
    for (auto const& [event, value] : node.entries()) {
        if (value.is(plan_tree::kind::table)) {
            bounds.push_back({event, read_rule(value, {})});
        } else if (not_before) {
            bounds.push_back({event, from_rule{value.date()}});
        } else {
            bounds.push_back({event, by_rule{value.date()}});
        }
    }
    return bounds;
}

risk_setting read_risk(plan_node const& node) {
    if (node.is(plan_tree::kind::boolean)) {
        if (node.flag()) {
            node.refuse("plan.risk_true", "true does not say how large a risk",
                        "give a share of years, such as 0.1 for 1 year in 10, or false for none");
        }
        return risk_setting::off();
    }
    return risk_setting::at(node.share());
}

loss_setting read_loss(plan_node const& node) {
    if (node.is(plan_tree::kind::boolean)) {
        if (node.flag()) {
            node.refuse("stage.lost_at_true", "true does not say how cold a night it takes",
                        "give the night's low at or below which plants are lost, false where they "
                        "never are, or leave it out where the limit is that low");
        }
        return loss_setting::off();
    }
    return loss_setting::at(node.degrees());
}

preference read_preference(plan_node const& node) {
    static constexpr std::string_view words[] = {to_string(preference::late),
                                                 to_string(preference::early)};
    return static_cast<preference>(node.word(words, "preference"));
}

amount read_amount(plan_node const& succession) {
    static std::vector<std::string_view> const names = {amount_keys[0].name, amount_keys[1].name,
                                                        amount_keys[2].name};
    std::string_view const what = succession.choose(names, "how much there is to be");
    auto const at = std::ranges::find(amount_keys, what, &plan_key::name);
    amount read{static_cast<amount::measure>(at - std::begin(amount_keys))};
    key_reader::take(succession, *at, read.value);
    return read;
}

target read_target(plan_node const& node, std::string_view remedy) {
    if (!node.is(plan_tree::kind::table)) {
        node.refuse(
            "plan.wrong_kind",
            fmt::format("{} is {}, not a table", node.written(), kind_name(node.tree().what())),
            std::string{remedy});
    }
    std::string event =
        node.need("event", "name the event aimed at, such as \"transplant\"").name();
    static std::vector<std::string_view> const beside{"event"};
    return {std::move(event), read_rule(node, beside)};
}

succession read_succession(plan_node const& node) {
    node.allow(keys_of<succession>());
    succession read;
    for (int const turn : {-1, 0}) {
        each_key(read, [&](plan_key const& key, auto& member) {
            if (key.read != turn) { return; }
            key_reader::take(node, key, member);
            if (key.name == "gap") { require_follows(node.get("gap"), read); }
        });
    }
    return read;
}

link read_link(plan_node const& node) {
    node.allow({"first", "then", "after", "within"});
    link read{.first = read_link_end(node.need("first", "say which event is waited for"), true),
              .then = read_link_end(node.need("then", "say which event waits"), false)};
    if (auto const after = node.get("after")) {
        read.after = read_link_wait(*after);
        if (auto const place = after->get("place")) { read.place = place->name(); }
    }
    if (auto const within = node.get("within")) {
        within->allow({"days"});
        read.within = within->need("days", "give the days, such as { days = 120 }").number("days");
    }
    return read;
}

}  // namespace epicotyl::detail
