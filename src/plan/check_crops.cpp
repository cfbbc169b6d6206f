#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan_tree.hpp>

#include "check.hpp"

namespace epicotyl::detail {

namespace {

/// The name of a rule. Frost rules are told by their edge: days and weeks are one rule.
[[nodiscard]] std::string_view rule_key(rule const& of) {
    return std::visit([](rule_block auto const& one) { return one.name(); }, of);
}

/// The names of the rules that fit: "by, on".
template <class Fits>
[[nodiscard]] std::string rules_that(Fits const& fits) {
    std::vector<std::string_view> names;
    each_alternative(std::type_identity<rule>{}, [&]<class Rule>(std::type_identity<Rule>) {
        if (!fits(Rule::traits)) { return; }
        names.insert(names.end(), std::begin(Rule::names), std::end(Rule::names));
    });
    return fmt::format("{}", fmt::join(names, ", "));
}

[[nodiscard]] int index_of_event(crop const& of, std::string const& event,
                                 std::string const& field) {
    std::optional<int> const index = event_index(of, event);
    if (!index) { refuse_event(of.name, of, event, field); }
    return *index;
}

}  // namespace

std::vector<event_bound> merged_bounds(std::vector<event_bound> general,
                                       std::vector<event_bound> const& own) {
    for (event_bound const& bound : own) {
        auto const same = std::find_if(general.begin(), general.end(), [&](event_bound const& one) {
            return one.event == bound.event;
        });
        if (same == general.end()) {
            general.push_back(bound);
        } else {
            same->rule = bound.rule;
        }
    }
    return general;
}

void part_checker::check_crops() {
    for (std::size_t i = 0; i < parts_.crops.size(); ++i) {
        crop const& one = parts_.crops[i];
        add_name(crops_, one.name, one.id, static_cast<int>(i), crop_field(one), "crops");
    }
    for (crop const& one : parts_.crops) {
        std::string const field = crop_field(one);
        check_text(one.caution, field + ".caution");
        check_standard(one, field);
        if (one.stages.empty()) {
            refuse_part("crop.no_stages", field + ".stages", "[]",
                        fmt::format("\"{}\" has no stages", one.name), "list its stages in order",
                        "at least 1", "stages");
        }
        for (std::size_t i = 0; i < one.stages.size(); ++i) {
            std::string const own = stage_field(one, static_cast<int>(i));
            check_stage(one.stages[i], own);
            if (event_index(one, one.stages[i].begins) != static_cast<int>(i)) {
                refuse_part("crop.event_twice", own + ".begins", one.stages[i].begins,
                            fmt::format("two stages begin with \"{}\"", one.stages[i].begins),
                            "use another event for one of them");
            }
        }
        check_first(one.stages[0], stage_field(one, 0));
        check_limits(one, field);
        check_losses(
            one, [&](int j) { return stage_field(one, j); }, std::nullopt);
        check_bounds(one.not_before, one, true, field + ".not_before");
        check_bounds(one.not_after, one, false, field + ".not_after");
    }
}

void part_checker::check_standard(crop const& one, std::string const& field) {
    if (!one.germination_standard) { return; }
    std::string const own = field + ".germination_standard";
    std::string const value = fmt::format("{}", *one.germination_standard);
    if (!(*one.germination_standard > 0.0 && *one.germination_standard <= 1.0)) {
        refuse_part("crop.germination_standard", own, value,
                    fmt::format("germination_standard must be between 0 and 1, not {}", value),
                    "give the lowest share that seed may be sold with, such as 0.75",
                    "more than 0 to 1");
    }
    if (started_as(one) == "seed") { return; }
    refuse_part("crop.standard_without_seed", own, value,
                fmt::format("\"{}\" starts from a {}: only seed has a germination standard",
                            one.name, started_as(one)),
                "leave it out, or say starts_as = \"seed\"");
}

void part_checker::check_begins(stage const& one, std::string const& field) const {
    if (one.begins == "clear") {
        refuse_part("stage.clear", field + ".begins", "clear",
                    "\"clear\" begins no stage: it is the end of the last",
                    "leave it out, or use another event");
    }
    if (!events_.contains(one.begins)) {
        std::vector<std::string> known(known_events.begin(), known_events.end());
        known.insert(known.end(), parts_.events.begin(), parts_.events.end());
        refuse_part("plan.unknown_event", field + ".begins", one.begins,
                    fmt::format("there is no event \"{}\"", one.begins),
                    fmt::format("the nearest is \"{}\"; declare a new one with events = [\"...\"]",
                                *nearest_word(one.begins, known)));
    }
}

void part_checker::check_where(stage const& one, std::string const& field) const {
    if (one.where.empty()) {
        refuse_part("stage.nowhere", field + ".where", "[]",
                    fmt::format("the stage that \"{}\" begins stands nowhere", one.begins),
                    "name a place or a job");
    }
    for (std::string const& word : one.where) {
        bool const is_job = std::find(job_names.begin(), job_names.end(), word) != job_names.end();
        if (is_job || places_.contains(word)) { continue; }
        std::vector<std::string> known = names_of(parts_.places);
        known.insert(known.end(), job_names.begin(), job_names.end());
        refuse_unknown("place or job", word, field + ".where", known, "");
    }
}

void part_checker::check_container(stage const& one, std::string const& field) const {
    if (!one.container.empty() && !containers_.contains(one.container)) {
        std::vector<std::string> known;
        for (container const& of : parts_.containers) { known.push_back(of.name); }
        refuse_unknown("container", one.container, field + ".container", known,
                       "add it to [containers]");
    }
    if (!one.container.empty() && one.spacing) {
        refuse_part("stage.container_and_spacing", field + ".spacing", "",
                    "plants stand in a container or in a bed, not in both",
                    "leave one of container and spacing out");
    }
}

void part_checker::check_spacing(spacing const& of, std::string const& field) const {
    if (of.rows < 1) {
        refuse_part("stage.rows", field + ".spacing.rows", fmt::format("{}", of.rows),
                    fmt::format("{} rows hold no plants", of.rows), "give the rows across the bed",
                    "1 or more", "rows");
    }
    double const in_row = door_.written(quantity::in_row, of.in_row);
    if (!(in_row > 0.0 && std::isfinite(in_row))) {
        refuse_part("stage.in_row", field + ".spacing.in_row", fmt::format("{}", in_row),
                    fmt::format("{} is no distance between plants", in_row),
                    "give the distance between the plants of a row", "more than 0",
                    door_.unit(quantity::in_row));
    }
}

void part_checker::check_stage(stage const& one, std::string const& field) const {
    check_begins(one, field);
    check_where(one, field);
    check_container(one, field);
    if (one.spacing) { check_spacing(*one.spacing, field); }
    if (!(one.survives > 0.0 && one.survives <= 1.0)) {
        refuse_part("stage.survives", field + ".survives", fmt::format("{}", one.survives),
                    fmt::format("survives must be between 0 and 1, not {}", one.survives),
                    "give the share alive at the end of the stage, such as 0.9",
                    "more than 0 to 1");
    }
    if (one.hold && !(*one.hold >= 0.0 && std::isfinite(*one.hold))) {
        refuse_part("stage.hold", field + ".hold", fmt::format("{}", *one.hold),
                    fmt::format("ready plants cannot wait {} days", *one.hold),
                    "give the days that they may wait, or leave it out for any", "0 or more",
                    "days");
    }
    if (one.limit && one.too_hot && *one.limit >= *one.too_hot) {
        double const limit = door_.written(quantity::temperature, one.limit->celsius());
        double const too_hot = door_.written(quantity::temperature, one.too_hot->celsius());
        refuse_part("stage.too_hot", field + ".too_hot", fmt::format("{}", too_hot),
                    fmt::format("{} is not above the limit of cold", too_hot),
                    "limit is the night's low that harms, too_hot the day's high",
                    fmt::format("more than {}", limit), door_.unit(quantity::temperature));
    }
}

void part_checker::check_limits(crop const& of, std::string const& field) const {
    if (!of.limit_tender || !of.limit_hardened || *of.limit_hardened <= *of.limit_tender) {
        return;
    }
    double const hardened = door_.written(quantity::temperature, of.limit_hardened->celsius());
    double const tender = door_.written(quantity::temperature, of.limit_tender->celsius());
    std::string_view const unit = door_.unit(quantity::temperature);
    refuse_part(
        "crop.limits", field + ".limit_hardened", fmt::format("{}", hardened),
        fmt::format("hardened plants would be harmed by {} {}, which tender ones stand down "
                    "to {} {}",
                    hardened, unit, tender, unit),
        "hardened plants stand more cold: exchange limit_tender and limit_hardened, or "
        "mend one of them",
        fmt::format("{} or less", tender), unit);
}

void part_checker::check_losses(crop const& of, std::function<std::string(int)> const& field_of,
                                std::optional<bool> starts_in_field) const {
    for (int j = 0; j < static_cast<int>(of.stages.size()); ++j) {
        stage const& one = of.stages[static_cast<std::size_t>(j)];
        bool const in_field = starts_in_field.value_or(false);
        std::optional<temperature> const limit = stage_limit(of, j, in_field);
        bool const is_known = starts_in_field || limit == stage_limit(of, j, !in_field);
        // A crop's setting counts where plants can be lost, a stage's own wherever it is given.
        std::optional<temperature> const lost =
            one.lost_at ? one.lost_at->limit() : stage_lost_at(of, j, in_field);
        if (!is_known || !limit || !lost || *lost <= *limit) { continue; }
        double const above = door_.written(quantity::temperature, lost->celsius());
        double const most = door_.written(quantity::temperature, limit->celsius());
        std::string_view const unit = door_.unit(quantity::temperature);
        refuse_part(
            "stage.lost_at", (one.lost_at ? field_of(j) : crop_field(of)) + ".lost_at",
            fmt::format("{}", above),
            fmt::format(
                "the stage that \"{}\" begins would be lost at or below {} {}, where nothing "
                "is hurt above its limit of {} {}",
                one.begins, above, unit, most, unit),
            "give a colder lost_at, false where plants are hurt and never lost, or leave it out "
            "where they are lost at the limit",
            fmt::format("{} or less", most), unit);
    }
}

void part_checker::check_first(stage const& one, std::string const& field) {
    if (!is_outcome(one)) { return; }
    refuse_part(
        "crop.begins_by_itself", field, one.begins,
        fmt::format("\"{}\" comes by itself and cannot be planned as the first event", one.begins),
        "begin with what the grower does, such as \"sow\" or \"plant\"");
}

void part_checker::check_in_season(day when, std::string const& field) const {
    season const& window = parts_.window;
    if (window.holds(when)) { return; }
    refuse_part("day.outside_season", field, to_iso(when),
                fmt::format("{} is outside the season", to_iso(when)),
                "check the year, or change the start or the days of the season",
                fmt::format("{} to {}", to_iso(window.start()),
                            to_iso(window.start() + days{window.length()})));
}

void part_checker::check_rule_days(rule const& one, std::string const& field) const {
    std::visit(
        [&]<rule_block Rule>(Rule const& of) {
            std::string const own =
                Rule::traits.has_own_table ? fmt::format("{}.{}.", field, of.name()) : field + '.';
            Rule::each_key(of, overloaded{[](block_key const&, auto const&) {},
                                          [&](block_key const& key, day when) {
                                              check_in_season(when, own + std::string{key.name});
                                          },
                                          [&](block_key const& key, std::optional<day> when) {
                                              if (!when) { return; }
                                              check_in_season(*when, own + std::string{key.name});
                                          }});
            if (auto const fault = of.fault()) {
                refuse_part(fault->code, field + fault->field, fault->value, fault->problem,
                            fault->remedy, fault->bound, fault->unit);
            }
        },
        one);
}

void part_checker::check_bounds(std::vector<event_bound> const& bounds, crop const& of,
                                bool not_before, std::string const& field) const {
    char const* const name = not_before ? "not_before" : "not_after";
    for (auto at = bounds.begin(); at != bounds.end(); ++at) {
        std::string const own = field + '.' + written_key(at->event);
        int const event = index_of_event(of, at->event, own);
        if (std::any_of(bounds.begin(), at,
                        [&](event_bound const& one) { return one.event == at->event; })) {
            refuse_part("bound.twice", own, at->event,
                        fmt::format("\"{}\" has two such bounds", at->event), "keep one");
        }
        if (not_before && is_outcome(of, event)) {
            refuse_part(
                "bound.outcome", own, at->event,
                fmt::format("\"{}\" comes when the plants are ready and cannot wait", at->event),
                "give the bound to what the grower does before it");
        }
        auto const fits = [not_before](rule_traits const& of) {
            return not_before ? of.for_not_before : of.for_not_after;
        };
        if (!fits(traits_of(at->rule))) {
            refuse_part("bound.rule", own, std::string{rule_key(at->rule)},
                        fmt::format("\"{}\" does not fit {}", rule_key(at->rule), name),
                        "give a date or one of these rules", rules_that(fits));
        }
        check_rule_days(at->rule, own);
    }
}

void part_checker::check_target(target const& aim, crop const& of, std::string const& field) const {
    int const event = index_of_event(of, aim.event, field + ".event");
    std::string_view const key = rule_key(aim.rule);
    auto const refuse_rule = [&](char const* whose, std::string bound) {
        refuse_part("target.rule", field + '.' + std::string{key}, std::string{key},
                    fmt::format("\"{}\" does not fit \"{}\", {}", key, aim.event, whose),
                    "give one of these rules", std::move(bound));
    };
    auto const for_decisions = [](rule_traits const& one) {
        return one.for_decisions;
    };
    auto const for_outcomes = [](rule_traits const& one) {
        return one.for_outcomes;
    };
    auto const for_harvest_only = [](rule_traits const& one) {
        return one.for_harvest_only;
    };
    auto const for_any_outcome = [](rule_traits const& one) {
        return one.for_outcomes && !one.for_harvest_only;
    };
    if (!is_outcome(of, event)) {
        if (!for_decisions(traits_of(aim.rule))) {
            refuse_rule("which the grower does", rules_that(for_decisions));
        }
    } else if (!for_outcomes(traits_of(aim.rule))) {
        refuse_rule("which comes when the plants are ready", rules_that(for_outcomes));
    } else if (for_harvest_only(traits_of(aim.rule)) && aim.event != "first_harvest") {
        refuse_rule("which is no harvest",
                    fmt::format("{}; {} for \"first_harvest\"", rules_that(for_any_outcome),
                                rules_that(for_harvest_only)));
    }
    check_rule_days(aim.rule, field);
}

}  // namespace epicotyl::detail
