#include <epicotyl/season/explain.hpp>

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "engine.hpp"
#include "notes.hpp"
#include "rule_days.hpp"
#include "say.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// What held an event in one year.
enum class holder { clock, bound, link };

class explainer {
public:
    explicit explainer(calendar_data const& data)
        : data_{data}, model_{*data.model}, walker_{model_, data.successions} {}

    std::vector<reason> explain(int i, int event) {
        if (!data_.successions[at(i)].resolved) {
            for (obstacle const& one : data_.unresolved) {
                if (one.succession != batch(i).name) { continue; }
                reason why = make(i, event, one.code);
                why.sentence = one.cure.empty() ? one.sentence : one.sentence + "; " + one.cure;
                chain_.push_back(std::move(why));
            }
            return std::move(chain_);
        }
        follow(i, event);
        for (risk_excess const& one : known(i).beyond_risk) {
            if (one.stage == event) { chain_.push_back(why_beyond_risk(data_, i, one)); }
        }
        return std::move(chain_);
    }

private:
    resolved_succession const& batch(int i) const { return model_.planned.successions()[at(i)]; }
    succession_days const& known(int i) const { return data_.successions[at(i)]; }
    std::string say(int offset) const { return say_day(model_.planned, offset); }
    std::string event_text(int i, int event) const {
        return say_event(event_name(*batch(i).grown, event));
    }
    bool is_decided_target(int i, int event) const {
        return event == batch(i).target_event && !is_outcome(*batch(i).grown, event);
    }

    reason make(int i, int event, std::string code) const {
        return {.succession = batch(i).name,
                .event = std::string{event_name(*batch(i).grown, event)},
                .code = std::move(code)};
    }

    void add_day(reason& why, char const* name, int offset) const {
        if (auto const when = model_.planned.window().day_at(offset)) {
            why.values.emplace_back(name, *when);
        }
    }

    /// Adds the reason of one event, and those behind it.
    void follow(int i, int event) {
        if (!seen_.emplace(i, event).second) { return; }
        int const target = batch(i).target_event;
        if (event == 0 && !is_decided_target(i, 0)) {
            chain_.push_back(sowing(i));
            follow_broken(i);
            if (target > 0) { follow(i, target); }
            return;
        }
        if (is_decided_target(i, event)) {
            chain_.push_back(decided(i));
            return;
        }
        std::optional<int> waited_for;
        chain_.push_back(event == target ? aimed_outcome(i) : reached(i, event, waited_for));
        if (waited_for) {
            event_of const first = model_.planned.links()[at(*waited_for)].firsts.front();
            follow(first.succession, first.event);
        }
        follow(i, event - 1);
    }

    /// Where the count of another succession is what keeps a sowing from being later, its target is
    /// part of the chain.
    void follow_broken(int i) {
        std::string const& broken = known(i).claim.broken;
        if (broken.empty() || broken == batch(i).name) { return; }
        int const other = model_.planned.succession_index(broken);
        follow(other, known(i).claim.broken_claim == "links" ? 0 : batch(other).target_event);
    }

    reason sowing(int i) const {
        sowing_claim const& claim = known(i).claim;
        int const target = batch(i).target_event;
        reason why = make(i, 0, "sow.latest");
        add_day(why, "day", known(i).sowing);
        why.values.emplace_back("good_years", std::int64_t{claim.good});
        why.values.emplace_back("needed_years", std::int64_t{claim.needed});
        why.values.emplace_back("years", std::int64_t{claim.years});
        why.values.emplace_back("good_years_one_day_later", std::int64_t{claim.good_one_day_later});
        std::string const head = fmt::format("{} {}", event_text(i, 0), say(known(i).sowing));
        std::string const met = aim_text(i, target);
        if (claim.broken.empty()) {
            bool const scanned = std::holds_alternative<in_harvest_rule>(batch(i).target_rule);
            why.code = scanned ? "sow.most_often_in_harvest" : "sow.season_ends";
            why.sentence = fmt::format(
                "{}: {} in {}{}, and {} are wanted", head, met, say_years(claim.good, claim.years),
                scanned ? fmt::format(", the most there are; sown a day later, in {}",
                                      claim.good_one_day_later)
                        : "",
                claim.needed);
            return why;
        }
        if (claim.broken == batch(i).name) {
            why.sentence = fmt::format("{}: {} in {}; sown a day later, in {}, and {} are wanted",
                                       head, met, say_years(claim.good, claim.years),
                                       claim.good_one_day_later, claim.needed);
            return why;
        }
        why.code = "sow.others_wait";
        why.values.emplace_back("broken", claim.broken);
        why.sentence = fmt::format(
            "{}: {} in {}; a day later \"{}\", which waits for it, would {} in only {}, and {} are "
            "wanted",
            head, met, say_years(claim.good, claim.years), claim.broken,
            claim.broken_claim == "links" ? "have its planned sowing day free" : "be in time",
            say_years(claim.good_one_day_later, claim.years),
            known(model_.planned.succession_index(claim.broken)).need);
        return why;
    }

    /// "ready to transplant by 12 May", "first harvest by 5 Aug", "in harvest from .. until ..".
    std::string aim_text(int i, int target) const {
        season const& window = model_.planned.window();
        if (auto const* harvest = std::get_if<in_harvest_rule>(&batch(i).target_rule)) {
            return fmt::format("in harvest from {} until {}", say(window.offset_of(harvest->from)),
                               say(window.offset_of(harvest->until)));
        }
        return fmt::format("{}{} by {}", is_outcome(*batch(i).grown, target) ? "" : "ready to ",
                           event_text(i, target), say(known(i).target_day));
    }

    /// How ready plants are for a decision on its planned day, and the days to spare.
    std::string ready_text(int i, int event, int planned) const {
        std::vector<std::int16_t> ready;
        for (int y = 0; y < model_.years; ++y) {
            ready.push_back(static_cast<std::int16_t>(
                clock_ready(model_, data_.days, known(i).sowing, i, event, y)));
        }
        int const since = kth_smallest(ready, known(i).need);
        if (since >= never || event == 0) { return ""; }
        int const count = static_cast<int>(
            std::count_if(ready.begin(), ready.end(), [&](int d) { return d <= since; }));
        std::string text =
            fmt::format("; ready since {} in {}", say(since), say_years(count, model_.years));
        if (planned > since) { text += fmt::format("; {} to spare", say_days(planned - since)); }
        return text;
    }

    /// The day of a decision aimed at: what was asked, or the bound that moved it.
    reason decided(int i) const {
        succession_days const& mine = known(i);
        int const target = batch(i).target_event;
        event_bounds const& bound = mine.bounds()[at(target)];
        reason const asked = why_asked(model_, i);
        int const planned = mine.target_day;
        std::string const head = fmt::format("{} {}", event_text(i, target), say(planned));
        reason why;
        std::string body;
        if (planned == mine.asked) {
            why = asked;
            body = asked.sentence;
        } else if (planned == bound.not_before && !bound.lower.empty()) {
            why = bound.lower.front().why;
            body = fmt::format("asked {} ({}); later, because {}", say(mine.asked), asked.sentence,
                               bound.lower.front().why.sentence);
        } else {
            why = make(i, target, "target.ready");
            body = fmt::format(
                "asked {} ({}); even with all as early as allowed, it is ready by "
                "then in too few years",
                say(mine.asked), asked.sentence);
        }
        why.succession = batch(i).name;
        why.event = std::string{event_name(*batch(i).grown, target)};
        add_day(why, "planned", planned);
        add_day(why, "asked", mine.asked);
        why.sentence = fmt::format("{}: {}{}", head, body, ready_text(i, target, planned));
        return why;
    }

    /// The day of an outcome aimed at.
    reason aimed_outcome(int i) const {
        succession_days const& mine = known(i);
        int const target = batch(i).target_event;
        reason const asked = why_asked(model_, i);
        reason why = asked;
        why.succession = batch(i).name;
        why.event = std::string{event_name(*batch(i).grown, target)};
        add_day(why, "planned", mine.planned[at(target)]);
        why.sentence = fmt::format("{} {} in the usual year: {}, which holds in {}",
                                   event_text(i, target), say(mine.planned[at(target)]),
                                   asked.sentence, say_years(mine.claim.good, mine.claim.years));
        return why;
    }

    holder held_by(int i, int event, int year) const {
        int const came = data_.days.at(i, event, year);
        int const ready = clock_ready(model_, data_.days, known(i).sowing, i, event, year);
        if (came == ready) { return holder::clock; }
        if (came == known(i).bounds()[at(event)].not_before) { return holder::bound; }
        return holder::link;
    }

    /// The day of any other event: the clock before it, or what made it wait in most of the years
    /// around the planned day.
    reason reached(int i, int event, std::optional<int>& waited_for) const {
        succession_days const& mine = known(i);
        int const planned = mine.planned[at(event)];
        auto const row = data_.days.row_days(i, event);
        int const by_then = static_cast<int>(
            std::count_if(row.begin(), row.end(), [&](int d) { return d <= planned; }));
        int counts[3] = {0, 0, 0};
        for (int y = 0; y < model_.years; ++y) { ++counts[static_cast<int>(held_by(i, event, y))]; }

        bool const outcome = is_outcome(*batch(i).grown, event);
        std::string const head = fmt::format("{} {}", event_text(i, event), say(planned));
        if (planned >= never) {
            int const ever = static_cast<int>(
                std::count_if(row.begin(), row.end(), [](int d) { return d < never; }));
            reason why = make(i, event, "event.never");
            why.values = {{"reached_years", std::int64_t{ever}},
                          {"years", std::int64_t{model_.years}}};
            why.sentence = fmt::format(
                "{} has no planned day: it is reached within the season in "
                "only {}",
                event_text(i, event), say_years(ever, model_.years));
            return why;
        }
        event_bounds const& bound = mine.bounds()[at(event)];
        int const waits = counts[1] + counts[2];
        if (!outcome && waits > 0 && counts[1] >= counts[2] && !bound.lower.empty() &&
            planned == bound.not_before) {
            reason why = bound.lower.front().why;
            why.succession = batch(i).name;
            add_day(why, "planned", planned);
            why.sentence =
                fmt::format("{}: {}; it waits in {}{}", head, bound.lower.front().why.sentence,
                            say_years(counts[1], model_.years), ready_text(i, event, planned));
            return why;
        }
        if (!outcome && counts[2] > counts[0]) {
            reason why = make(i, event, "link.waits");
            for (incoming_link const& in : walker_.incoming(i)) {
                if (in.event == event) { waited_for = in.link; }
            }
            event_of const first = model_.planned.links()[at(*waited_for)].firsts.front();
            why.values = {{"after", batch(first.succession).name},
                          {"waiting_years", std::int64_t{counts[2]}}};
            why.sentence =
                fmt::format("{}: it waits for {} of \"{}\" in {}", head,
                            event_text(first.succession, first.event), batch(first.succession).name,
                            say_years(counts[2], model_.years));
            return why;
        }
        reason why = make(i, event, outcome ? "outcome.usual" : "decision.ready");
        add_day(why, "planned", planned);
        why.values.emplace_back("by_then_years", std::int64_t{by_then});
        if (outcome) {
            int const early = quantile_of(row, 0.1);
            int const late = quantile_of(row, 0.9);
            add_day(why, "early", early);
            add_day(why, "late", late);
            why.sentence = fmt::format(
                "{} in the usual year, {} in an early one, {} in a late one "
                "(1 year in 10 each)",
                head, say(early), say(late));
        } else {
            why.sentence =
                fmt::format("{}: ready{} by then in {}", head, waits > 0 ? " and allowed" : "",
                            say_years(by_then, model_.years));
        }
        return why;
    }

    calendar_data const& data_;
    season_model const& model_;
    chain_walker walker_;
    std::vector<reason> chain_;
    std::set<std::pair<int, int>> seen_;
};

}  // namespace

}  // namespace detail

std::vector<reason> explain(calendar const& of, std::string_view succession,
                            std::string_view event) {
    int const i = of.plan().succession_index(succession);
    std::vector<reason> chain =
        detail::explainer{*of.data()}.explain(i, of.plan().event_index(i, event));
    if (std::string const origin = of.origin(); !origin.empty()) {
        chain.push_back({.succession = of.plan().successions()[detail::at(i)].name,
                         .event = std::string{event},
                         .code = "years.origin",
                         .values = {{"origin", origin}},
                         .sentence = fmt::format("counted in season years that are not simply "
                                                 "those of a station: {}",
                                                 origin)});
    }
    return chain;
}

}  // namespace epicotyl
