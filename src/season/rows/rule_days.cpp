#include "rule_days.hpp"

#include <algorithm>
#include <cmath>
#include <variant>

#include <fmt/format.h>

#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/unit_door.hpp>

#include "say.hpp"

namespace epicotyl::detail {

namespace {

resolved_succession const& succession_of(season_model const& model, int index) {
    return model.planned.successions()[at(index)];
}

reason make_reason(season_model const& model, int succession, int event, std::string code,
                   std::string sentence) {
    resolved_succession const& one = succession_of(model, succession);
    return {.succession = one.name,
            .event = std::string{event_name(*one.grown, event)},
            .code = std::move(code),
            .sentence = std::move(sentence)};
}

/// "; 9 years cannot show 1 in 10": what no allowed year at all means where some risk was allowed.
std::string beyond_the_years(double share, int allowed, int years) {
    if (allowed > 0 || !(share > 0.0)) { return {}; }
    double const one_in = 1.0 / share;
    bool const is_whole = one_in < 1000.0 && std::abs(one_in - std::round(one_in)) < 1e-6;
    return fmt::format(
        "; {} year{} cannot show {}", years, years == 1 ? "" : "s",
        is_whole ? fmt::format("1 in {:.0f}", one_in) : fmt::format("a share of {:g}", share));
}

rule_day risk_as_day(season_model const& model, int succession, int event, double share,
                     double limit, day_span half, int from, char const* code) {
    int const air = model.stages[at(succession)][at(event)].air;
    risk_day const found = model.cold.risk_day_of(air, limit, half, from, share);
    std::string const degrees = say_temperature(model.planned, limit);
    std::string const where = say_place(model.planned, model.airs[at(air)].place);
    std::string const beyond = beyond_the_years(share, found.allowed, model.years);
    rule_day result;
    if (found.what == risk_day::verdict::season_too_short) {
        result.why = make_reason(model, succession, event, "risk.season_too_short",
                                 "the season ends before the half of the year with its cold "
                                 "nights does");
        result.none = obstacle{.succession = succession_of(model, succession).name,
                               .code = "risk.season_too_short",
                               .sentence = result.why.sentence,
                               .cure = "give a longer season, or risk = false"};
        return result;
    }
    if (found.what == risk_day::verdict::every_month) {
        result.why = make_reason(
            model, succession, event, "risk.every_month",
            fmt::format("nights at or below {} in {} come in every month: there is no day after "
                        "which {} still {} one{}",
                        degrees, where, say_at_most(found.allowed, model.years),
                        found.allowed == 1 ? "has" : "have", beyond));
        result.none = obstacle{
            .succession = succession_of(model, succession).name,
            .code = "risk.every_month",
            .sentence = fmt::format(
                "{}: {}", say_event(event_name(*succession_of(model, succession).grown, event)),
                result.why.sentence),
            .cure = "protect the plants, or set risk = false and give a not_before of your own"};
        return result;
    }
    result.day = found.day;
    result.why = make_reason(
        model, succession, event, code,
        found.have <= found.allowed
            ? fmt::format("{} {} a night at or below {} in {} in that half of the year{}",
                          say_at_most(found.allowed, model.years),
                          found.allowed == 1 ? "has" : "have", degrees, where, beyond)
            : fmt::format("before that {} still had a night at or below {} to come in {}{}",
                          say_more_than(found.allowed, model.years), degrees, where, beyond));
    result.why.values = {{"day", model.planned.window().start() + days{found.day}},
                         {"limit_c", limit},
                         {"allowed_years", std::int64_t{found.allowed}},
                         {"years", std::int64_t{model.years}},
                         {"place", where}};
    return result;
}

rule_day date_as_day(season_model const& model, int succession, int event,
                     dated_rule auto const& rule) {
    season const& window = model.planned.window();
    rule_day result{.day = window.offset_of(rule.asked_day())};
    result.why = make_reason(
        model, succession, event, fmt::format("rule.{}", rule.name()),
        rule.words([&](day when) { return say_day(model.planned, window.offset_of(when)); }));
    result.why.values = {{"day", rule.asked_day()}};
    return result;
}

rule_day frost_as_day(season_model const& model, int succession, int event,
                      frost_rule const& rule) {
    bool const first = rule.edge == frost_edge::before_first_frost;
    frost_meaning const& frost = model.planned.parts().frost;
    std::optional<int> const frost_on = model.cold.frost_day(first, rule.after);
    std::string const degrees = say_temperature(model.planned, frost.at.celsius());
    std::string const which = first ? "first frost" : "last frost";
    if (!frost_on) {
        int const have = model.cold.frost_years(first, rule.after);
        std::string const sentence = fmt::format(
            "{}: there is no {} here to count from ({}): {} have a night at or below {} in "
            "that half of the year",
            say_event(event_name(*succession_of(model, succession).grown, event)), which,
            say_in_ten(frost.share.value()), say_years(have, model.years), degrees);
        return {.none = obstacle{.succession = succession_of(model, succession).name,
                                 .code = "frost.none",
                                 .sentence = sentence,
                                 .cure = "give a date (from = ...) instead of a frost rule"}};
    }
    int const sign = rule.edge == frost_edge::after_last_frost ? 1 : -1;
    rule_day result{.day = *frost_on + sign * rule.days};
    std::string const distance =
        rule.days % 7 == 0 && rule.days > 0
            ? fmt::format("{} week{}", rule.days / 7, rule.days == 7 ? "" : "s")
            : say_days(rule.days);
    std::string const side =
        rule.days == 0 ? "on" : fmt::format("{} {}", distance, sign > 0 ? "after" : "before");
    result.why = make_reason(
        model, succession, event, "rule.frost",
        fmt::format("{} the {} of {} ({}, {} {})", side, which, say_day(model.planned, *frost_on),
                    degrees, first ? "earlier in" : "later in", say_in_ten(frost.share.value())));
    result.why.values = {{"frost", model.planned.window().start() + days{*frost_on}},
                         {"days", std::int64_t{rule.days}},
                         {"frost_at", door_of(model.planned).written(frost.at)},
                         {"chance", frost.share.value()}};
    return result;
}

/// An event has a bound of its own in place of the default one at `limit`. Nights milder than that
/// check a plant and do not kill it: a risk at such a limit stands beside the default bound.
bool stands_in_for_default(std::vector<event_bound> const& bounds, std::string_view event,
                           double limit) {
    return std::any_of(bounds.begin(), bounds.end(), [&](event_bound const& one) {
        if (one.event != event) { return false; }
        risk_rule const* const risk = risk_accepted(one.rule);
        return risk == nullptr || !risk->limit || is_at_or_below(risk->limit->celsius(), limit);
    });
}

/// The latest decision at or before an event.
int decision_at_or_before(crop const& of, int event) {
    while (event > 0 && is_outcome(of, event)) { --event; }
    return event;
}

/// First day t of `decision` such that `outcome` would come before `bound` in at most `allowed`
/// years: outcomes in between come when their clocks say.
int carried_day(season_model const& model, int succession, int decision, int outcome, int bound,
                int allowed) {
    auto const too_early = [&](int t) {
        int count = 0;
        for (int y = 0; y < model.years; ++y) {
            int x = t;
            for (int j = decision; j < outcome; ++j) { x = model.ready(succession, j, y, x); }
            count += x < bound ? 1 : 0;
        }
        return count > allowed;
    };
    int low = 0;
    int high = bound;
    while (low < high) {
        int const middle = low + (high - low) / 2;
        if (too_early(middle)) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/// Collects the bounds of one succession.
class bound_collector {
public:
    bound_collector(season_model const& model, int succession, std::vector<obstacle>& problems)
        : model_{model},
          index_{succession},
          one_{succession_of(model, succession)},
          crop_{*one_.grown},
          problems_{problems},
          bounds_(at(event_count(crop_))) {}

    void add_given() {
        for (event_bound const& given : one_.not_before) {
            int const event = *event_index(crop_, given.event);
            rule_day found = day_of_rule(model_, index_, event, given.rule);
            if (found.none) { problems_.push_back(*found.none); }
            lower(event, found.day, std::move(found.why));
        }
        for (event_bound const& given : one_.not_after) {
            int const event = *event_index(crop_, given.event);
            rule_day found = day_of_rule(model_, index_, event, given.rule);
            if (found.none) {
                problems_.push_back(*found.none);
                continue;
            }
            bounds_[at(event)].not_after = found.day;
            bounds_[at(event)].upper = std::move(found.why);
        }
    }

    void add_openings() {
        for (int j = 0; j + 1 < event_count(crop_); ++j) {
            int const place = one_.places[at(j)];
            bool const moves = j == 0 || one_.places[at(j - 1)] != place;
            std::optional<open_days> const& open = model_.planned.places()[at(place)].open;
            if (!moves || !open) { continue; }
            int const from = model_.planned.window().offset_of(open->from);
            reason why = make_reason(model_, index_, j, "bound.open",
                                     fmt::format("{} opens on {}", say_place(model_.planned, place),
                                                 say_day(model_.planned, from)));
            why.values = {{"day", open->from}, {"place", say_place(model_.planned, place)}};
            carry(j, from, 0, std::move(why));
        }
    }

    void add_default(double share, spring_choice const& springs) {
        int const allowed = allowed_years(share, model_.years);
        for (int j : events_with_default(model_, index_)) {
            if (!springs[at(j)]) { continue; }
            double const limit = model_.stages[at(index_)][at(j)].limit;
            rule_day found =
                risk_as_day(model_, index_, j, share, limit, *springs[at(j)], 0, "bound.risk");
            if (found.none) { problems_.push_back(*found.none); }
            carry(j, found.day, allowed, std::move(found.why));
        }
    }

    [[nodiscard]] std::vector<event_bounds> take() {
        for (event_bounds& one : bounds_) {
            std::stable_sort(
                one.lower.begin(), one.lower.end(),
                [](bound_note const& a, bound_note const& b) { return a.day > b.day; });
        }
        return std::move(bounds_);
    }

private:
    void lower(int event, int day, reason why) {
        event_bounds& bound = bounds_[at(event)];
        bound.not_before = std::max(bound.not_before, day);
        bound.lower.push_back({day, std::move(why)});
    }

    /// A bound on a decision stands as it is; one on an outcome goes to the decision before it.
    void carry(int event, int day, int allowed, reason why) {
        int const decision = decision_at_or_before(crop_, event);
        if (decision == event || day >= never) {
            lower(decision, day, std::move(why));
            return;
        }
        int const earlier = carried_day(model_, index_, decision, event, day, allowed);
        why.event = std::string{event_name(crop_, decision)};
        why.code += ".carried";
        set_value(why, "allowed_years", std::int64_t{allowed});
        set_value(why, "years", std::int64_t{model_.years});
        why.sentence = fmt::format(
            "{} is to come before {} in {} ({})", say_event(event_name(crop_, event)),
            say_day(model_.planned, day), say_at_most(allowed, model_.years), why.sentence);
        lower(decision, earlier, std::move(why));
    }

    season_model const& model_;
    int index_;
    resolved_succession const& one_;
    crop const& crop_;
    std::vector<obstacle>& problems_;
    std::vector<event_bounds> bounds_;
};

}  // namespace

rule_day day_of_rule(season_model const& model, int succession, int event, rule const& what) {
    return std::visit(
        overloaded{
            [&](risk_rule const& risk) {
                int const after = model.cold.after_offset(risk.after);
                double const limit = risk.limit ? risk.limit->celsius()
                                                : model.stages[at(succession)][at(event)].limit;
                return risk_as_day(model, succession, event, risk.share.value(), limit,
                                   model.cold.spring_half(after), after, "rule.risk");
            },
            [&](frost_rule const& frost) { return frost_as_day(model, succession, event, frost); },
            [&](dated_rule auto const& dated) {
                return date_as_day(model, succession, event, dated);
            }},
        what);
}

std::optional<int> offset_of_rule(season_model const& model, int succession, int event,
                                  rule const& what) {
    if (auto const asked = day_asked(what)) { return model.planned.window().offset_of(*asked); }
    rule_day const found = day_of_rule(model, succession, event, what);
    return found.none ? std::nullopt : std::optional{found.day};
}

reason why_asked(season_model const& model, int succession) {
    resolved_succession const& one = succession_of(model, succession);
    if (!one.repeat_of) {
        return day_of_rule(model, succession, one.target_event, one.target_rule).why;
    }
    std::string const& first = succession_of(model, *one.repeat_of).name;
    return {.succession = one.name,
            .event = "first_harvest",
            .code = "rule.repeat",
            .values = {{"after", first}, {"days", std::int64_t{one.repeat_days}}},
            .sentence = fmt::format("wanted {} after the first harvest of \"{}\"",
                                    say_days(one.repeat_days), first)};
}

std::vector<int> events_with_default(season_model const& model, int succession) {
    std::vector<int> found;
    resolved_succession const& one = succession_of(model, succession);
    if (!one.risk.share()) { return found; }
    crop const& grown = *one.grown;
    int const counts_from = damage_counts_from(grown);
    for (int j = 0; j + 1 < event_count(grown); ++j) {
        stage_tables const& here = model.stages[at(succession)][at(j)];
        bool const colder = j > 0 && !is_outcome(grown, j) &&
                            one.places[at(j)] != one.places[at(j - 1)] &&
                            model.airs[at(here.air)].coldest <
                                model.airs[at(model.stages[at(succession)][at(j - 1)].air)].coldest;
        if (!(colder || j == counts_from) || !std::isfinite(here.limit)) { continue; }
        int const decision = decision_at_or_before(grown, j);
        if (stands_in_for_default(one.not_before, event_name(grown, decision), here.limit)) {
            continue;
        }
        if (decision == one.target_event && asks_exactly(one.target_rule)) { continue; }
        // A target that names its own risk for the same limit has said what it accepts.
        if (j == one.target_event && accepts_risk_of_stage(one.target_rule)) { continue; }
        found.push_back(j);
    }
    return found;
}

std::vector<event_bounds> bounds_of(season_model const& model, int succession,
                                    spring_choice const* springs, std::vector<obstacle>& problems) {
    bound_collector collector{model, succession, problems};
    collector.add_given();
    collector.add_openings();
    resolved_succession const& one = succession_of(model, succession);
    if (one.risk.share() && springs != nullptr) {
        collector.add_default(one.risk.share()->value(), *springs);
    }
    return collector.take();
}

}  // namespace epicotyl::detail
