#include <epicotyl/season/explain.hpp>

#include <algorithm>
#include <iterator>
#include <set>

#include <fmt/format.h>

#include "engine.hpp"
#include "held_by.hpp"
#include "held_text.hpp"
#include "notes.hpp"
#include "rule_days.hpp"
#include "say.hpp"

namespace epicotyl {

namespace detail {

namespace {

class explainer : reason_maker {
public:
    explicit explainer(calendar_data const& data)
        : reason_maker{data}, walker_{model_, data.successions} {}

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
    bool is_decided_target(int i, int event) const {
        return event == batch(i).target_event && !is_outcome(*batch(i).grown, event);
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
            follow_decided(i);
        } else if (event == target) {
            chain_.push_back(aimed_outcome(i));
            if (known(i).planned[at(event)] < never) {
                follow_holders(what_holds_planned(data_, i, event).by, {});
            }
        } else if (known(i).planned[at(event)] >= never) {
            chain_.push_back(never_reached(i, event));
            follow(i, event - 1);
        } else {
            follow_reached(i, event);
        }
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
        succession_days const& other = known(model_.planned.succession_index(claim.broken));
        bool const is_harvest = claim.broken_claim == "harvest";
        int const wanted = is_harvest                      ? other.claim.good
                           : claim.broken_claim == "links" ? other.link_need
                                                           : other.need;
        for (auto& [name, value] : why.values) {
            if (name == "needed_years") { value = std::int64_t{wanted}; }
        }
        why.values.emplace_back("broken", claim.broken);
        why.values.emplace_back("broken_claim", claim.broken_claim);
        why.values.emplace_back("own_needed_years", std::int64_t{claim.needed});
        if (is_harvest) {
            why.sentence = fmt::format(
                "{}: {} in {}; a day later \"{}\", which waits for it, would keep only {} of the "
                "{} "
                "in which it is in harvest when it is wanted",
                head, met, say_years(claim.good, claim.years), claim.broken,
                claim.good_one_day_later, say_years(other.claim.good, claim.years));
            return why;
        }
        why.sentence = fmt::format(
            "{}: {} in {}; a day later \"{}\", which waits for it, would {} in only {}, and {} are "
            "wanted",
            head, met, say_years(claim.good, claim.years), claim.broken,
            claim.broken_claim == "links" ? "have its planned sowing day free" : "be in time",
            say_years(claim.good_one_day_later, claim.years), wanted);
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
    void add_ready(reason& why, int i, int event, int planned) const {
        std::vector<std::int16_t> ready;
        for (int y = 0; y < model_.years; ++y) {
            ready.push_back(static_cast<std::int16_t>(
                clock_ready(model_, data_.days, known(i).sowing, i, event, y)));
        }
        int const since = kth_smallest(ready, known(i).need);
        if (since >= never || event == 0) { return; }
        int const count = static_cast<int>(
            std::count_if(ready.begin(), ready.end(), [&](int d) { return d <= since; }));
        add_day(why, "ready_since", since);
        why.values.emplace_back("ready_years", std::int64_t{count});
        why.sentence +=
            fmt::format("; ready since {} in {}", say(since), say_years(count, model_.years));
        if (planned > since) {
            why.values.emplace_back("spare_days", std::int64_t{planned - since});
            why.sentence += fmt::format("; {} to spare", say_days(planned - since));
        }
    }

    /// The day of a decision aimed at: what was asked, the bound that moved it, or when it is
    /// ready; and then what lies behind that.
    void follow_decided(int i) {
        succession_days const& mine = known(i);
        int const target = batch(i).target_event;
        bool const is_on = std::holds_alternative<on_rule>(batch(i).target_rule);
        held_day held;
        if (is_on) {
            held.by.push_back({holder_kind::asked, i, target});
        } else {
            held = what_holds_target(data_, i);
        }
        reason const asked = why_asked(model_, i);
        std::string const was_asked = fmt::format("asked {} ({})", say(mine.asked), asked.sentence);
        reason why;
        std::string body;
        std::vector<holder> told;
        bool is_ready_told = false;
        auto const say_ready = [&] {
            is_ready_told = true;
            return fmt::format(
                "even with all as early as allowed, it is ready sooner in only {}, and {} are "
                "wanted",
                say_years(held.sooner_years, model_.years), mine.need);
        };
        for (holder const& one : held.by) {
            bool const is_here = one.succession == i && one.event == target;
            std::string clause;
            if (is_here && one.kind == holder_kind::asked) {
                if (body.empty()) {
                    why = asked;
                    body = asked.sentence;
                    told.push_back(one);
                    continue;
                }
                clause = asked.sentence;
            } else if (is_here && one.kind == holder_kind::bound) {
                reason const& bound = mine.bounds()[at(target)].lower[at(one.index)].why;
                if (body.empty()) {
                    why = bound;
                    why.values.emplace_back("no_sooner", day_at(mine.target_day));
                    body = fmt::format("{}; later, because {}", was_asked, bound.sentence);
                    told.push_back(one);
                    continue;
                }
                clause = bound.sentence;
            } else if (!is_ready_told) {
                clause = say_ready();
            } else {
                continue;
            }
            if (body.empty()) {
                why = make(i, target, "target.ready");
                body = fmt::format("{}; {}", was_asked, clause);
            } else {
                body += fmt::format("; and no earlier either because {}", clause);
            }
        }
        if (body.empty()) {
            why = make(i, target, "target.ready");
            body = held.is_clear ? fmt::format("{}; the season starts on {}", was_asked, say(0))
                                 : fmt::format("{}; {}", was_asked, "it is ready no sooner");
        }
        why.succession = batch(i).name;
        why.event = std::string{event_name(*batch(i).grown, target)};
        add_day(why, "planned", mine.target_day);
        add_day(why, "asked", mine.asked);
        if (is_ready_told) {
            why.values.emplace_back("sooner_years", std::int64_t{held.sooner_years});
            why.values.emplace_back("needed_years", std::int64_t{mine.need});
            why.values.emplace_back("years", std::int64_t{model_.years});
        }
        why.sentence = fmt::format("{} {}: {}", event_text(i, target), say(mine.target_day), body);
        add_ready(why, i, target, mine.target_day);
        if (!told.empty() && !held_alone(held.by, told.front())) {
            why.values.emplace_back("tied", std::int64_t{1});
        }
        chain_.push_back(std::move(why));
        follow_holders(held.by, told);
        if (held.is_season_start) {
            reason start = make(i, 0, "season.start");
            start.values = {{"day", day_at(0)}};
            start.sentence =
                fmt::format("{} no sooner: the season starts on {}", event_text(i, 0), say(0));
            chain_.push_back(std::move(start));
        }
    }

    static bool held_alone(std::vector<holder> const& all, holder const& one) {
        auto const found = std::find(all.begin(), all.end(), one);
        return found == all.end() || found->is_alone;
    }

    /// All that holds a day but what has been told, and then why what is planned is planned so.
    void follow_holders(std::vector<holder> const& all, std::vector<holder> const& told) {
        for (holder const& one : all) {
            if (std::find(told.begin(), told.end(), one) == told.end()) {
                chain_.push_back(why_held(one));
            }
        }
        for (holder const& one : all) {
            if (one.kind == holder_kind::sowing || one.kind == holder_kind::target) {
                follow(one.succession, one.event);
            }
        }
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

    reason never_reached(int i, int event) const {
        auto const row = data_.days.row_days(i, event);
        int const ever = static_cast<int>(
            std::count_if(row.begin(), row.end(), [](int d) { return d < never; }));
        reason why = make(i, event, "event.never");
        why.values = {{"reached_years", std::int64_t{ever}}, {"years", std::int64_t{model_.years}}};
        why.sentence =
            fmt::format("{} has no planned day: it is reached within the season in only {}",
                        event_text(i, event), say_years(ever, model_.years));
        return why;
    }

    /// Years in which an event comes on the day that a requirement allows, ready before that.
    int waiting_years(int i, int event, holder const& one) const {
        int waits = 0;
        for (int y = 0; y < model_.years; ++y) {
            int const came = data_.days.at(i, event, y);
            bool const is_late = came < never && came > clock_ready(model_, data_.days,
                                                                    known(i).sowing, i, event, y);
            int const allowed = one.kind == holder_kind::bound
                                    ? known(i).bounds()[at(event)].lower[at(one.index)].day
                                    : walker_.link_day(data_.days, one.index, y);
            waits += is_late && allowed == came;
        }
        return waits;
    }

    /// The day of any other event: what holds the event itself, and what lies behind that.
    void follow_reached(int i, int event) {
        int const planned = known(i).planned[at(event)];
        held_day const held = what_holds_planned(data_, i, event);
        auto const row = data_.days.row_days(i, event);
        int const by_then = static_cast<int>(
            std::count_if(row.begin(), row.end(), [&](int d) { return d <= planned; }));
        std::string const head = fmt::format("{} {}", event_text(i, event), say(planned));
        std::vector<holder> here;
        std::copy_if(held.by.begin(), held.by.end(), std::back_inserter(here),
                     [&](holder const& one) { return one.succession == i && one.event == event; });
        // What moves the day alone first, and of these bounds and links before the clock.
        std::stable_sort(here.begin(), here.end(),
                         [](holder const& a, holder const& b) { return a.is_alone > b.is_alone; });
        reason why;
        std::vector<holder> told;
        for (holder const& one : here) {
            std::string clause;
            reason mine;
            if (one.kind == holder_kind::bound) {
                bound_note const& note = known(i).bounds()[at(event)].lower[at(one.index)];
                int const waits = waiting_years(i, event, one);
                mine = note.why;
                mine.values.emplace_back("no_sooner", day_at(note.day));
                mine.values.emplace_back("waiting_years", std::int64_t{waits});
                clause = fmt::format("{}; it waits in {}", note.why.sentence,
                                     say_years(waits, model_.years));
            } else if (one.kind == holder_kind::link) {
                int const waits = waiting_years(i, event, one);
                mine = why_link(one);
                mine.values.emplace_back("waiting_years", std::int64_t{waits});
                clause = fmt::format("{} in {}", link_text(one), say_years(waits, model_.years));
            } else if (is_outcome(*batch(i).grown, event)) {
                mine = make(i, event, "outcome.usual");
                int const early = quantile_of(row, 0.1);
                int const late = quantile_of(row, 0.9);
                add_day(mine, "early", early);
                add_day(mine, "late", late);
                mine.values.emplace_back("by_then_years", std::int64_t{by_then});
                why = std::move(mine);
                why.sentence = fmt::format(
                    "{} in the usual year, {} in an early one, {} in a late one (1 year in 10 "
                    "each)",
                    head, say(early), say(late));
                told.push_back(one);
                continue;
            } else {
                int waits = 0;
                for (int y = 0; y < model_.years; ++y) {
                    waits +=
                        row[at(y)] < never &&
                        row[at(y)] > clock_ready(model_, data_.days, known(i).sowing, i, event, y);
                }
                mine = make(i, event, "decision.ready");
                mine.values.emplace_back("by_then_years", std::int64_t{by_then});
                mine.values.emplace_back("years", std::int64_t{model_.years});
                clause = fmt::format("ready{} by then in {}", waits > 0 ? " and allowed" : "",
                                     say_years(by_then, model_.years));
            }
            if (told.empty()) {
                why = std::move(mine);
                why.sentence = fmt::format("{}: {}", head, clause);
                if (!one.is_alone) { why.values.emplace_back("tied", std::int64_t{1}); }
                if (one.kind == holder_kind::bound) { add_ready(why, i, event, planned); }
                told.push_back(one);
            } else {
                why.sentence += fmt::format("; and no earlier either because {}", clause);
            }
        }
        if (here.empty()) {
            why = make(i, event, "planned.order");
            why.values = {{"by_then_years", std::int64_t{by_then}},
                          {"years", std::int64_t{model_.years}}};
            why.sentence = fmt::format(
                "{}: it comes by then in {}, but is not planned before {}, whose day that is", head,
                say_years(by_then, model_.years), event_text(i, event - 1));
        }
        why.succession = batch(i).name;
        why.event = std::string{event_name(*batch(i).grown, event)};
        add_day(why, "planned", planned);
        chain_.push_back(std::move(why));
        follow_holders(held.by, told);
    }

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
