#include <array>

#include <fmt/format.h>

#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "check.hpp"
#include "units.hpp"
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

class tree_writer : number_writer {
public:
    /// Writes what the parts say.
    explicit tree_writer(plan_parts const& parts)
        : number_writer{unit_door{parts.units}}, parts_{parts}, full_{false} {}

    tree_writer(plan const& of, extent how_much)
        : number_writer{unit_door{of.parts().units}},
          parts_{of.parts()},
          full_{how_much == extent::full} {
        for (resolved_succession const& one : of.successions()) {
            if (static_cast<std::size_t>(one.source) == first_member_.size()) {
                first_member_.push_back(&one);
            }
        }
    }

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

    static void set_text(plan_tree& table, char const* key, std::string const& text) {
        if (!text.empty()) { table.set(key, plan_tree{text}); }
    }

    [[nodiscard]] plan_tree months(std::array<temperature, 12> const& of) const {
        plan_tree list = plan_tree::list();
        for (temperature const mean : of) { list.append(number(mean)); }
        return list;
    }

    [[nodiscard]] plan_tree site() const {
        plan_tree table = plan_tree::table();
        table.set("latitude", plan_tree{parts_.where.value()});
        table.set("season_start", plan_tree{parts_.window.start()});
        table.set("season_days", plan_tree{parts_.window.length()});
        set_text(table, "weather", parts_.weather);
        set_text(table, "station", parts_.station);
        if (parts_.whole_fahrenheit) { table.set("whole_fahrenheit", plan_tree{true}); }
        if (parts_.years || full_) {
            table.set("years", written(parts_.years.value_or(year_selection{})));
        }
        if (parts_.max_gap || full_) {
            table.set("max_gap", plan_tree{parts_.max_gap.value_or(usual_max_gap)});
        }
        if (parts_.normals) {
            table.set("monthly_low", months(parts_.normals->low));
            table.set("monthly_high", months(parts_.normals->high));
            table.set("normal_years", plan_tree{parts_.normals->years});
            table.set("normal_seed", plan_tree{parts_.normals->seed});
        }
        plan_tree frost = plan_tree::table();
        frost.set("at", number(parts_.frost.at));
        frost.set("chance", plan_tree{parts_.frost.share.value()});
        table.set("frost", std::move(frost));
        return table;
    }

    void set_air(plan_tree& table, air const& of) const {
        if (of.steady) {
            table.set("day", number(of.steady->day));
            table.set("night", number(of.steady->night));
        }
        if (of.warmer_night != temperature_span{}) {
            table.set("warmer_night", number(of.warmer_night));
        }
        if (of.warmer_day != temperature_span{}) { table.set("warmer_day", number(of.warmer_day)); }
        set_some(table, "heat_to", of.heat_to);
        set_some(table, "heat_lift", of.heat_lift);
        set_some(table, "vent_above", of.vent_above);
        if (of.nights) {
            plan_tree nights = plan_tree::table();
            set_some(nights, "below", of.nights->below);
            nights.set("warmer", number(of.nights->warmer));
            table.set("cold_nights", std::move(nights));
        }
    }

    [[nodiscard]] plan_tree tree(place const& of) const {
        plan_tree table = plan_tree::table();
        set_text(table, "id", of.id);
        plan_tree jobs = plan_tree::list();
        for (job const what : of.jobs) { jobs.append(plan_tree{to_string(what)}); }
        table.set("for", std::move(jobs));
        set_air(table, of.air);
        if (of.trays) { table.set("trays", count(*of.trays)); }
        if (of.bed) { table.set("bed", number(quantity::bed, *of.bed)); }
        if (of.area) { table.set("area", number(quantity::area, *of.area)); }
        if (of.open) {
            table.set("open",
                      plan_tree::list({plan_tree{of.open->from}, plan_tree{of.open->until}}));
        }
        set_text(table, "part_of", of.part_of);
        if (of.lamps) {
            plan_tree lit = plan_tree::table();
            lit.set("hours", plan_tree{of.lamps->hours});
            lit.set("from", plan_tree{of.lamps->from});
            lit.set("until", plan_tree{of.lamps->until});
            if (of.lamps->trays) { lit.set("trays", count(*of.lamps->trays)); }
            table.set("lamps", std::move(lit));
        }
        return table;
    }

    [[nodiscard]] plan_tree tree(container const& of) const {
        plan_tree table = plan_tree::table();
        table.set("cells", plan_tree{of.cells});
        if (of.medium) { table.set("medium", number(quantity::medium, *of.medium)); }
        if (of.area) { table.set("area", number(quantity::area, *of.area)); }
        return table;
    }

    [[nodiscard]] plan_tree tree(clock const& of) const { return tree_of(of, door_, full_); }

    [[nodiscard]] plan_tree tree(spacing const& of) const {
        plan_tree table = plan_tree::table();
        table.set("rows", plan_tree{of.rows});
        table.set("in_row", number(quantity::in_row, of.in_row));
        return table;
    }

    [[nodiscard]] static plan_tree where(std::vector<std::string> const& of) {
        return of.size() == 1 ? plan_tree{of[0]} : texts(of);
    }
    [[nodiscard]] static plan_tree who(performer of) {
        return plan_tree{of == performer::plant ? "plant" : "grower"};
    }

    [[nodiscard]] plan_tree tree(stage const& of) const {
        plan_tree table = plan_tree::table();
        table.set("begins", plan_tree{of.begins});
        if (of.who || full_) {
            table.set("who", who(is_outcome(of) ? performer::plant : performer::grower));
        }
        table.set("where", where(of.where));
        set_text(table, "container", of.container);
        if (of.spacing) { table.set("spacing", tree(*of.spacing)); }
        table.set("takes", tree(of.takes));
        if (of.survives != 1.0 || full_) { table.set("survives", plan_tree{of.survives}); }
        if (of.hold) { table.set("hold", count(*of.hold)); }
        set_some(table, "limit", of.limit);
        set_some(table, "too_hot", of.too_hot);
        set_loss(table, of.lost_at);
        return table;
    }

    [[nodiscard]] plan_tree tree(stage_change const& of) const {
        plan_tree table = plan_tree::table();
        if (of.who) { table.set("who", who(*of.who)); }
        if (of.where) { table.set("where", where(*of.where)); }
        if (of.container) { table.set("container", plan_tree{*of.container}); }
        if (of.spacing) { table.set("spacing", tree(*of.spacing)); }
        if (of.takes) { table.set("takes", tree(*of.takes)); }
        if (of.survives) { table.set("survives", plan_tree{*of.survives}); }
        if (of.hold) {
            table.set("hold", *of.hold == any_hold ? plan_tree{false} : count(*of.hold));
        }
        set_some(table, "limit", of.limit);
        set_some(table, "too_hot", of.too_hot);
        set_loss(table, of.lost_at);
        return table;
    }

    static void set_preference(plan_tree& table, std::optional<preference> of) {
        if (of) { table.set("prefer", plan_tree{std::string{to_string(*of)}}); }
    }

    void set_loss(plan_tree& table, std::optional<loss_setting> const& of) const {
        if (!of) { return; }
        table.set("lost_at", of->limit() ? number(*of->limit()) : plan_tree{false});
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

    void set_bounds(plan_tree& table, char const* key,
                    std::vector<event_bound> const& bounds) const {
        if (bounds.empty()) { return; }
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
        table.set(key, std::move(all));
    }

    [[nodiscard]] plan_tree tree(crop const& of) const {
        plan_tree table = plan_tree::table();
        set_text(table, "id", of.id);
        set_some(table, "limit_tender", of.limit_tender);
        set_some(table, "limit_hardened", of.limit_hardened);
        if (of.risk) { table.set("risk", written(*of.risk)); }
        set_bounds(table, "not_before", of.not_before);
        set_bounds(table, "not_after", of.not_after);
        set_loss(table, of.lost_at);
        set_preference(table, of.prefer);
        set_text(table, "caution", of.caution);
        plan_tree stages = plan_tree::list();
        for (stage const& one : of.stages) { stages.append(tree(one)); }
        table.set("stages", std::move(stages));
        return table;
    }

    void set_amount(plan_tree& table, amount const& of) const {
        switch (of.what) {
            case amount::measure::plants:
                table.set("plants", count(of.value));
                return;
            case amount::measure::trays:
                table.set("trays", count(of.value));
                return;
            case amount::measure::bed:
                table.set("bed", number(quantity::bed, of.value));
                return;
        }
    }

    /// One of the plan's, with what it takes from its crop and the defaults written out: as the
    /// first of the resolved successions that it became has it.
    [[nodiscard]] succession spelled_out(succession const& of) const {
        auto const number = static_cast<std::size_t>(&of - parts_.successions.data());
        resolved_succession const& used = *first_member_[number];
        succession spelled = of;
        if (of.name.empty()) { spelled.name = used.grown->name; }
        spelled.not_before = used.not_before;
        spelled.not_after = used.not_after;
        spelled.reliability = used.reliability;
        spelled.risk = used.risk;
        spelled.prefer = used.prefer;
        return spelled;
    }

    [[nodiscard]] plan_tree tree(succession const& one) const {
        succession const of = full_ ? spelled_out(one) : one;
        plan_tree table = plan_tree::table();
        set_text(table, "name", of.name);
        set_text(table, "id", of.id);
        table.set("crop", plan_tree{of.crop});
        set_amount(table, of.amount);
        set_text(table, "wave", of.wave);
        plan_tree aim = plan_tree::table();
        aim.set("event", plan_tree{of.target.event});
        set_rule(aim, of.target.rule);
        table.set("target", std::move(aim));
        set_bounds(table, "not_before", of.not_before);
        set_bounds(table, "not_after", of.not_after);
        if (of.reliability) { table.set("reliability", plan_tree{of.reliability->value()}); }
        if (of.risk) { table.set("risk", written(*of.risk)); }
        set_preference(table, of.prefer);
        if (of.repeat) {
            plan_tree again = plan_tree::table();
            again.set("times", plan_tree{of.repeat->times});
            again.set("harvest_every", plan_tree{of.repeat->harvest_every});
            table.set("repeat", std::move(again));
        }
        set_text(table, "follows", of.follows);
        if (of.gap != 0 || (full_ && !of.follows.empty())) { table.set("gap", plan_tree{of.gap}); }
        if (!of.changes.empty()) {
            plan_tree changes = plan_tree::table();
            for (stage_change const& one : of.changes) { changes.set(one.begins, tree(one)); }
            table.set("stage", std::move(changes));
        }
        return table;
    }

    [[nodiscard]] plan_tree tree(link_end const& of, bool is_first) const {
        plan_tree table = plan_tree::table();
        set_text(table, "succession", of.succession);
        set_text(table, "wave", of.wave);
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
            plan_tree after = tree(of.after);
            set_text(after, "place", of.place);
            table.set("after", std::move(after));
        }
        if (of.within) { table.set("within", plan_tree::table().set("days", count(*of.within))); }
        return table;
    }

    plan_parts const& parts_;
    bool full_;
    std::vector<resolved_succession const*> first_member_;
};

}  // namespace

plan_tree tree_of(plan const& of, extent how_much) {
    return tree_writer{of, how_much}.write();
}

plan_tree tree_of(plan_parts const& parts, succession const& one) {
    return tree_writer{parts}.write(one);
}
plan_tree tree_of(plan_parts const& parts, stage_change const& one) {
    return tree_writer{parts}.write(one);
}
plan_tree tree_of(plan_parts const& parts, place const& one) {
    return tree_writer{parts}.write(one);
}
plan_tree tree_of(plan_parts const& parts, crop const& one) {
    return tree_writer{parts}.write(one);
}

}  // namespace detail

plan_tree to_tree(plan const& of) {
    return detail::tree_of(of, detail::extent::said);
}

}  // namespace epicotyl
