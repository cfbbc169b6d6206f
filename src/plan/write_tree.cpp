#include <array>
#include <ranges>

#include <fmt/format.h>

#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/weather/filled_record.hpp>

#include "keys.hpp"
#include "writer.hpp"

namespace epicotyl {

namespace detail {

namespace {

[[nodiscard]] plan_tree texts(std::vector<std::string> const& all) {
    plan_tree list = plan_tree::list();
    for (std::string const& one : all) { list.append(plan_tree{one}); }
    return list;
}

[[nodiscard]] plan_tree written(risk_setting const& risk) {
    return risk.share() ? plan_tree{risk.share()->value()} : plan_tree{false};
}

[[nodiscard]] plan_tree written(year_selection const& years) {
    if (years == year_selection::all()) { return plan_tree{"all"}; }
    std::vector<int> const run = years.among(1, 9999);
    if (!years.names_years()) { return plan_tree{static_cast<int>(run.size())}; }
    return plan_tree::list({plan_tree{run.front()}, plan_tree{run.back()}});
}

/// What a plan says, with what is taken from crops and defaults written out. A succession has it as
/// the first of the resolved ones that it became.
[[nodiscard]] plan_parts spelled_out(plan const& of) {
    plan_parts parts = of.parts();
    if (!parts.years) { parts.years = year_selection{}; }
    if (!parts.max_gap) { parts.max_gap = usual_max_gap; }
    for (crop& grown : parts.crops) {
        for (stage& one : grown.stages) {
            one.who = is_outcome(one) ? performer::plant : performer::grower;
        }
    }
    for (resolved_succession const& used : of.successions()) {
        if (used.repeat_of) { continue; }
        succession& one = parts.successions[static_cast<std::size_t>(used.source)];
        if (one.name.empty()) { one.name = used.grown->name; }
        one.not_before = used.not_before;
        one.not_after = used.not_after;
        one.reliability = used.reliability;
        one.risk = used.risk;
        one.prefer = used.prefer;
    }
    return parts;
}

class tree_writer : number_writer {
public:
    /// `full`: with what is usual.
    tree_writer(plan_parts const& parts, bool full)
        : number_writer{unit_door{parts.units}}, parts_{parts}, full_{full} {}

    [[nodiscard]] plan_tree write() const {
        plan_tree root = plan_tree::table();
        root.set("format", plan_tree{1});
        root.set("units", plan_tree{parts_.units == unit_system::us ? "us" : "metric"});
        if (!parts_.title.empty()) { root.set("title", plan_tree{parts_.title}); }
        if (!parts_.events.empty()) { root.set("events", texts(parts_.events)); }
        plan_tree defaults = plan_tree::table();
        defaults.set("risk", written(parts_.risk));
        defaults.set("reliability", plan_tree{parts_.reliability.value()});
        root.set("defaults", std::move(defaults));
        root.set("site", site());
        add_named(root, "places", parts_.places);
        add_named(root, "containers", parts_.containers);
        add_named(root, "crops", parts_.crops);
        add_list(root, "succession", parts_.successions);
        add_list(root, "link", parts_.links);
        return root;
    }

    template <class Part>
    [[nodiscard]] plan_tree write(Part const& one) const {
        return tree(one);
    }

private:
    using key = plan_key const&;

    template <class Part>
    void add_named(plan_tree& root, char const* key, std::vector<Part> const& parts) const {
        if (parts.empty()) { return; }
        plan_tree table = plan_tree::table();
        for (Part const& one : parts) { table.set(one.name, tree(one)); }
        root.set(key, std::move(table));
    }

    template <class Part>
    void add_list(plan_tree& root, char const* key, std::vector<Part> const& parts) const {
        if (parts.empty()) { return; }
        plan_tree list = plan_tree::list();
        for (Part const& one : parts) { list.append(tree(one)); }
        root.set(key, std::move(list));
    }

    // --- parts, by the rows of keys.hpp: a function for each kind of member ---

    template <keyed_part Part>
    [[nodiscard]] plan_tree tree(Part const& of) const {
        plan_tree table = plan_tree::table();
        add_keys(table, of);
        return table;
    }
    template <keyed_part Part>
    void add_keys(plan_tree& table, Part const& of) const {
        for (int const turn : turns) {
            each_key(of, [&](plan_key const& key, auto const& member) {
                if (key.written == turn) { set(table, key, member); }
            });
        }
    }

    void set(plan_tree& table, key of, auto const& member) const {
        if (!is_left_out(table, of, member)) { table.set(of.name, value(of, member)); }
    }
    template <class Value>
    void set(plan_tree& table, key of, std::optional<Value> const& member) const {
        if (member) { table.set(of.name, value(of, *member)); }
    }
    template <keyed_part Part>
    void set(plan_tree& table, key of, std::optional<Part> const& member) const {
        if (member && of.name.empty()) {
            add_keys(table, *member);
        } else if (member) {
            table.set(of.name, tree(*member));
        }
    }
    void set(plan_tree& table, key, amount const& member) const {
        table.set(key_of(member).name, value(key_of(member), member.value));
    }

    /// What is not there, or is usual.
    template <class Value>
    [[nodiscard]] bool is_left_out(plan_tree const& table, key of, Value const& member) const {
        if constexpr (one_of<Value, int, double>) {
            bool const may_be_said = of.beside.empty() || table.find(of.beside) != nullptr;
            return member == of.usual && !(full_ && may_be_said);
        } else if constexpr (one_of<Value, bool, temperature_span>) {
            return member == Value{};
        } else if constexpr (requires { member.empty(); }) {
            return member.empty();
        }
        return false;
    }

    [[nodiscard]] plan_tree value(key of, double member) const {
        if (member == any_hold) { return plan_tree{false}; }
        if (of.what) { return number(*of.what, member); }
        return of.is_share ? plan_tree{member} : count(member);
    }
    [[nodiscard]] plan_tree value(key, bool of) const { return plan_tree{of}; }
    [[nodiscard]] plan_tree value(key, int of) const { return plan_tree{of}; }
    [[nodiscard]] plan_tree value(key, day of) const { return plan_tree{of}; }
    [[nodiscard]] plan_tree value(key, std::string const& of) const { return plan_tree{of}; }
    [[nodiscard]] plan_tree value(key, temperature of) const { return number(of); }
    [[nodiscard]] plan_tree value(key, temperature_span of) const { return number(of); }
    [[nodiscard]] plan_tree value(key, chance of) const { return plan_tree{of.value()}; }
    [[nodiscard]] plan_tree value(key, reliability of) const { return plan_tree{of.value()}; }
    [[nodiscard]] plan_tree value(key, risk_setting const& of) const { return written(of); }
    [[nodiscard]] plan_tree value(key, year_selection const& of) const { return written(of); }
    [[nodiscard]] plan_tree value(key, preference of) const { return plan_tree{to_string(of)}; }
    [[nodiscard]] plan_tree value(key, start_form of) const { return plan_tree{to_string(of)}; }
    [[nodiscard]] plan_tree value(key, job of) const { return plan_tree{to_string(of)}; }
    [[nodiscard]] plan_tree value(key, performer of) const {
        return plan_tree{of == performer::plant ? "plant" : "grower"};
    }
    [[nodiscard]] plan_tree value(key, loss_setting const& of) const {
        return of.limit() ? number(*of.limit()) : plan_tree{false};
    }
    [[nodiscard]] plan_tree value(key, open_days const& of) const {
        return plan_tree::list({plan_tree{of.from}, plan_tree{of.until}});
    }
    [[nodiscard]] plan_tree value(key, std::vector<std::string> const& where) const {
        return where.size() == 1 ? plan_tree{where[0]} : texts(where);
    }
    [[nodiscard]] plan_tree value(key, clock const& of) const { return tree_of(of, door_, full_); }
    [[nodiscard]] plan_tree value(key, target const& of) const {
        plan_tree aim = plan_tree::table();
        aim.set("event", plan_tree{of.event});
        set_rule(aim, of.rule);
        return aim;
    }
    [[nodiscard]] plan_tree value(key, std::vector<event_bound> const& bounds) const {
        plan_tree all = plan_tree::table();
        for (event_bound const& bound : bounds) {
            if (traits_of(bound.rule).is_plain_in_bounds) {
                all.set(bound.event, plan_tree{*day_asked(bound.rule)});
                continue;
            }
            plan_tree one = plan_tree::table();
            set_rule(one, bound.rule);
            all.set(bound.event, std::move(one));
        }
        return all;
    }
    [[nodiscard]] plan_tree value(key, std::vector<stage_change> const& all) const {
        plan_tree changes = plan_tree::table();
        for (stage_change const& one : all) { changes.set(one.begins, tree(one)); }
        return changes;
    }
    [[nodiscard]] plan_tree value(key, keyed_part auto const& of) const { return tree(of); }
    /// Jobs, monthly means, stages.
    [[nodiscard]] plan_tree value(key of, std::ranges::range auto const& all) const {
        plan_tree list = plan_tree::list();
        for (auto const& one : all) { list.append(value(of, one)); }
        return list;
    }

    /// Adds the keys of a rule to a table.
    void set_rule(plan_tree& table, rule const& of) const {
        std::visit(overloaded{[&](frost_rule const& frost) {
                                  bool const in_weeks = frost.days > 0 && frost.days % 7 == 0;
                                  table.set(fmt::format("{}_{}", in_weeks ? "weeks" : "days",
                                                        frost.name()),
                                            plan_tree{in_weeks ? frost.days / 7 : frost.days});
                                  set_keys(table, frost, full_);
                              },
                              [&](rule_block auto const& one) {
                                  if (!one.traits.has_own_table) {
                                      set_keys(table, one, full_);
                                      return;
                                  }
                                  plan_tree own = plan_tree::table();
                                  set_keys(own, one, full_);
                                  table.set(one.name(), std::move(own));
                              }},
                   of);
    }

    [[nodiscard]] plan_tree site() const {
        plan_tree table = plan_tree::table();
        table.set("latitude", plan_tree{parts_.where.value()});
        table.set("season_start", plan_tree{parts_.window.start()});
        table.set("season_days", plan_tree{parts_.window.length()});
        add_keys(table, parts_);
        return table;
    }

    [[nodiscard]] plan_tree tree(link_end const& of, bool is_first) const {
        plan_tree table = plan_tree::table();
        set(table, plan_key{"succession"}, of.succession);
        set(table, plan_key{"wave"}, of.wave);
        table.set("event", plan_tree{of.event});
        if (of.of == link_end::which::first) {
            table.set("of", plan_tree{"first"});
        } else if (full_ && is_first && !of.wave.empty()) {
            table.set("of", plan_tree{"all"});
        }
        return table;
    }

    [[nodiscard]] plan_tree tree(link const& of) const {
        plan_tree table = plan_tree::table();
        table.set("first", tree(of.first, true));
        table.set("then", tree(of.then, false));
        if (of.after != clock::days(0.0) || !of.place.empty() || full_) {
            plan_tree after = tree_of(of.after, door_, full_);
            set(after, plan_key{"place"}, of.place);
            table.set("after", std::move(after));
        }
        if (of.within) { table.set("within", plan_tree::table().set("days", count(*of.within))); }
        return table;
    }

    plan_parts const& parts_;
    bool full_;
};

}  // namespace

plan_tree tree_of(plan const& of, extent how_much) {
    return how_much == extent::full ? tree_writer{spelled_out(of), true}.write()
                                    : tree_writer{of.parts(), false}.write();
}

template <class Part>
plan_tree tree_of(plan_parts const& parts, Part const& one) {
    return tree_writer{parts, false}.write(one);
}
template plan_tree tree_of(plan_parts const&, succession const&);
template plan_tree tree_of(plan_parts const&, stage_change const&);
template plan_tree tree_of(plan_parts const&, place const&);
template plan_tree tree_of(plan_parts const&, crop const&);

}  // namespace detail

plan_tree to_tree(plan const& of) {
    return detail::tree_of(of, detail::extent::said);
}

}  // namespace epicotyl
