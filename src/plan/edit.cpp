#include <epicotyl/plan/edit.hpp>

#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>

#include "check.hpp"
#include "editor.hpp"

namespace epicotyl {

namespace detail {

namespace {

constexpr std::string_view target_key = ".target";

/// A plan with one succession changed by `change`, which is given the succession. `key` is the key
/// of what it changes, with a point before it.
template <class Change>
[[nodiscard]] plan edited_succession(plan const& of, std::string_view name, std::string_view key,
                                     Change const& change) {
    plan_editor editor{of};
    int const index = editor.succession_index(name);
    change(editor.succession_at(index), succession_field(index));
    editor.changed_succession(index, key);
    return std::move(editor).made();
}

/// The rule of a target, so many days later.
class moved_rule {
public:
    moved_rule(days later, std::string field) : later_{later}, field_{std::move(field)} {}

    template <dated_rule Rule>
    [[nodiscard]] rule operator()(Rule one) const {
        Rule::each_key(one, overloaded{[](block_key const&, auto&) {},
                                       [&](block_key const&, day& when) {
                                           when += later_;
                                       }});
        return one;
    }
    [[nodiscard]] rule operator()(risk_rule const& one) const {
        refuse_part("edit.no_day_to_move", field_ + ".risk", fmt::format("{}", one.share.value()),
                    "a risk says how rare cold nights are to be, and has no day to move",
                    "give the target a day with from or on, or another risk; a bound not_before "
                    "holds the event until a day");
    }
    /// Days after the frost, negative before it. Before the last frost and after it are one count.
    [[nodiscard]] rule operator()(frost_rule one) const {
        bool const is_before = one.edge != frost_edge::after_last_frost;
        int const after = (is_before ? -one.days : one.days) + static_cast<int>(later_.count());
        bool const is_first = one.edge == frost_edge::before_first_frost;
        if (is_first && after > 0) {
            refuse_part("edit.after_first_frost", field_ + ".before_first_frost",
                        fmt::format("{}", one.days),
                        fmt::format("{} days later than {} days before the first frost lies after "
                                    "it, and no rule counts days from there",
                                    later_.count(), one.days),
                        "give the target a day with from or on", fmt::format("up to {}", one.days),
                        "days later");
        }
        // On the day of the last frost itself the side it was counted from stays.
        if (!is_first && after != 0) {
            one.edge = after > 0 ? frost_edge::after_last_frost : frost_edge::before_last_frost;
        }
        one.days = std::abs(after);
        return one;
    }

private:
    days later_;
    std::string field_;
};

/// What a change does not say is taken from the change before it. A container takes the place of a
/// spacing, and the other way round.
[[nodiscard]] stage_change merged(stage_change change, stage_change before) {
    if (change.container || change.spacing) {
        before.container.reset();
        before.spacing.reset();
    }
    auto const keep = [](auto& now, auto& earlier) {
        if (!now) { now = std::move(earlier); }
    };
    keep(change.who, before.who);
    keep(change.where, before.where);
    keep(change.takes, before.takes);
    keep(change.container, before.container);
    keep(change.spacing, before.spacing);
    keep(change.survives, before.survives);
    keep(change.hold, before.hold);
    keep(change.limit, before.limit);
    keep(change.too_hot, before.too_hot);
    keep(change.lost_at, before.lost_at);
    return change;
}

[[nodiscard]] std::vector<stage_change>::iterator change_of(succession& one,
                                                            std::string_view begins) {
    return std::find_if(one.changes.begin(), one.changes.end(),
                        [&](stage_change const& other) { return other.begins == begins; });
}

/// A plan with the air of a place changed by `change`.
template <class Change>
[[nodiscard]] plan edited_air(plan const& of, std::string_view name, Change const& change) {
    plan_editor editor{of};
    int const index = editor.place_index(name);
    place& one = editor.parts().places[static_cast<std::size_t>(index)];
    change(one, editor);
    return std::move(editor).made();
}

}  // namespace

}  // namespace detail

// --- the whole plan ---

plan with_reliability(plan const& of, reliability share) {
    detail::plan_editor editor{of};
    editor.parts().reliability = share;
    editor.changed("defaults.reliability");
    return std::move(editor).made();
}

plan with_risk(plan const& of, risk_setting risk) {
    detail::plan_editor editor{of};
    editor.parts().risk = risk;
    editor.changed("defaults.risk");
    return std::move(editor).made();
}

plan with_season(plan const& of, season window) {
    detail::plan_editor editor{of};
    if (window.start() != of.window().start()) {
        editor.changed("site.season_start");
        editor.changed("year");
    }
    if (window.length() != of.window().length()) { editor.changed("site.season_days"); }
    editor.parts().window = window;
    return std::move(editor).made();
}

plan with_units(plan const& of, unit_system units) {
    detail::plan_editor editor{of};
    editor.parts().units = units;
    return std::move(editor).made();
}

plan with_season_start(plan const& of, day start) {
    return with_season(of, season{start, of.window().length()});
}

// --- successions ---

plan with_succession(plan const& of, succession one) {
    detail::plan_editor editor{of};
    int const index = editor.succession_index(one.name.empty() ? one.crop : one.name);
    editor.changed_succession(index);
    editor.succession_at(index) = std::move(one);
    return std::move(editor).made();
}

plan with_added_succession(plan const& of, succession one) {
    detail::plan_editor editor{of};
    editor.add_succession(std::move(one));
    return std::move(editor).made();
}

plan without_succession(plan const& of, std::string_view name) {
    detail::plan_editor editor{of};
    editor.remove_succession(editor.succession_index(name));
    return std::move(editor).made();
}

plan with_reliability(plan const& of, std::string_view name, std::optional<reliability> share) {
    return detail::edited_succession(
        of, name, ".reliability",
        [&](succession& one, std::string const&) { one.reliability = share; });
}

plan with_risk(plan const& of, std::string_view name, std::optional<risk_setting> risk) {
    return detail::edited_succession(of, name, ".risk",
                                     [&](succession& one, std::string const&) { one.risk = risk; });
}

plan with_amount(plan const& of, std::string_view name, amount how_much) {
    detail::plan_editor editor{of};
    int const index = editor.succession_index(name);
    editor.succession_at(index).amount = how_much;
    for (char const* const key : {".plants", ".trays", ".bed"}) {
        editor.changed_succession(index, key);
    }
    return std::move(editor).made();
}

plan with_target(plan const& of, std::string_view name, target aim) {
    return detail::edited_succession(
        of, name, detail::target_key,
        [&](succession& one, std::string const&) { one.target = std::move(aim); });
}

plan with_target_moved(plan const& of, std::string_view name, days later) {
    if (later > days{longest_season} || later < days{-longest_season}) {
        detail::refuse_part("edit.too_far", "later", fmt::format("{}", later.count()),
                            fmt::format("{} days lead out of every season", later.count()),
                            "give the days by which the target is to come later",
                            fmt::format("{} to {}", -longest_season, longest_season), "days");
    }
    return detail::edited_succession(
        of, name, detail::target_key, [&](succession& one, std::string const& field) {
            std::string const own = field + std::string{detail::target_key};
            one.target.rule = std::visit(detail::moved_rule{later, own}, one.target.rule);
        });
}

plan with_not_before(plan const& of, std::string_view name, std::string_view event,
                     std::optional<rule> no_sooner) {
    std::string const key = ".not_before." + written_key(event);
    return detail::edited_succession(of, name, key, [&](succession& one, std::string const& field) {
        detail::set_bound(one.not_before, event, no_sooner, field + key, name);
    });
}

plan with_not_after(plan const& of, std::string_view name, std::string_view event,
                    std::optional<rule> no_later) {
    std::string const key = ".not_after." + written_key(event);
    return detail::edited_succession(of, name, key, [&](succession& one, std::string const& field) {
        detail::set_bound(one.not_after, event, no_later, field + key, name);
    });
}

plan with_stage_change(plan const& of, std::string_view name, stage_change change) {
    std::string const key = ".stage." + written_key(change.begins);
    return detail::edited_succession(of, name, key, [&](succession& one, std::string const&) {
        auto const before = detail::change_of(one, change.begins);
        if (before == one.changes.end()) {
            one.changes.push_back(std::move(change));
        } else {
            *before = detail::merged(std::move(change), std::move(*before));
        }
    });
}

plan without_stage_change(plan const& of, std::string_view name, std::string_view begins) {
    std::string const key = ".stage." + written_key(begins);
    return detail::edited_succession(of, name, key, [&](succession& one, std::string const& field) {
        auto const found = detail::change_of(one, begins);
        if (found == one.changes.end()) {
            std::vector<std::string> known;
            for (stage_change const& other : one.changes) { known.push_back(other.begins); }
            detail::refuse_unknown("stage that it changes:", begins, field + key, known,
                                   "it grows as its crop does");
        }
        one.changes.erase(found);
    });
}

// --- places and crops ---

plan with_place(plan const& of, place one) {
    detail::plan_editor editor{of};
    int const index = editor.place_index(one.name);
    place& old = editor.parts().places[static_cast<std::size_t>(index)];
    editor.changed(detail::place_field(old));
    old = std::move(one);
    return std::move(editor).made();
}

plan without_heater(plan const& of, std::string_view name) {
    return detail::edited_air(of, name, [](place& one, detail::plan_editor& editor) {
        std::string const field = detail::place_field(one);
        if (!one.air.heat_to) {
            detail::refuse_part("edit.no_heater", field + ".heat_to", one.name,
                                fmt::format("\"{}\" has no heater to leave off", one.name),
                                "name a place with heat_to");
        }
        one.air.heat_to.reset();
        one.air.heat_lift.reset();
        editor.changed(field + ".heat_to");
        editor.changed(field + ".heat_lift");
    });
}

plan without_cover(plan const& of, std::string_view name) {
    return detail::edited_air(of, name, [](place& one, detail::plan_editor& editor) {
        std::string const field = detail::place_field(one);
        if (!one.air.nights) {
            detail::refuse_part("edit.no_cover", field + ".cold_nights", one.name,
                                fmt::format("nothing is done in \"{}\" on cold nights", one.name),
                                "name a place with cold_nights");
        }
        one.air.nights.reset();
        editor.changed(field + ".cold_nights");
    });
}

plan with_crop(plan const& of, crop one) {
    detail::plan_editor editor{of};
    int const index = editor.crop_index(one.name);
    crop& old = editor.parts().crops[static_cast<std::size_t>(index)];
    editor.changed(detail::crop_field(old));
    old = std::move(one);
    return std::move(editor).made();
}

}  // namespace epicotyl
