#include <epicotyl/season/days/explain.hpp>

#include <algorithm>
#include <iterator>
#include <set>

#include <fmt/format.h>

#include "../rows/rule_days.hpp"
#include "../rows/say.hpp"
#include "calendar_data.hpp"
#include "held_by.hpp"
#include "held_text.hpp"
#include "lost.hpp"
#include "notes.hpp"
#include "why_sown.hpp"

namespace epicotyl {

namespace detail {

namespace {

class explainer : reason_maker {
public:
    explicit explainer(calendar const& of)
        : reason_maker{*of.data()}, of_{of}, walker_{model_, data_.successions}, sowing_{data_} {}

    std::vector<reason> explain(int i, int event) {
        if (!data_.successions[at(i)].resolved) {
            for (obstacle const& one : of_.unresolved()) {
                if (one.succession != batch(i).name) { continue; }
                reason why = make(i, event, one.code);
                why.sentence = one.cure.empty() ? one.sentence : one.sentence + "; " + one.cure;
                chain_.push_back(std::move(why));
            }
            return std::move(chain_);
        }
        follow(i, event);
        if (std::max(event, event == 0 ? aimed_by_day(i) : 0) >= lost_until(*batch(i).grown)) {
            add_lost(chain_.front(), i);
        }
        for (risk_excess const& one : known(i).beyond_risk) {
            if (one.stage == event) { chain_.push_back(why_beyond_risk(data_, i, one)); }
        }
        return std::move(chain_);
    }

private:
    /// The event whose day a sowing is counted by; 0 of a harvest in a window, which counts living
    /// years only.
    int aimed_by_day(int i) const {
        bool const is_window = is_scanned_for(batch(i).target_rule);
        return is_window ? 0 : batch(i).target_event;
    }

    bool is_decided_target(int i, int event) const {
        return event == batch(i).target_event && !is_outcome(*batch(i).grown, event);
    }

    /// Adds the reason of one event, and those behind it.
    void follow(int i, int event) {
        if (!seen_.emplace(i, event).second) { return; }
        int const target = batch(i).target_event;
        if (event == 0 && !is_decided_target(i, 0)) {
            if (!follow_earliest(i)) {
                chain_.push_back(sowing_.why_sown(i));
                for (reason& one : sowing_.named_ends(i)) { chain_.push_back(std::move(one)); }
                follow_broken(i);
            }
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

    /// Of one that is sown early; false where it is not the day before that keeps it there.
    bool follow_earliest(int i) {
        if (!batch(i).is_sown_early()) { return false; }
        bool const is_scanned = is_scanned_for(batch(i).target_rule);
        held_day held;
        if (!is_scanned) { held = what_holds_earliest(data_, i); }
        if (!held.is_clear) { return false; }
        chain_.push_back(why_earliest(i));
        follow_holders(held.by, {});
        if (held.is_season_start) { chain_.push_back(season_starts(i)); }
        return true;
    }

    reason season_starts(int i) const {
        reason start = make(i, 0, "season.start");
        start.values = {{"day", day_at(0)}};
        start.sentence =
            fmt::format("{} no sooner: the season starts on {}", event_text(i, 0), say(0));
        return start;
    }

    /// Where the count of another succession is what keeps a sowing from being later, its target is
    /// part of the chain.
    void follow_broken(int i) {
        std::string const& broken = known(i).claim.broken;
        if (broken.empty() || broken == batch(i).name) { return; }
        int const other = model_.planned.succession_index(broken);
        follow(other, known(i).claim.broken_claim == "links" ? 0 : batch(other).target_event);
    }

    /// The days of a harvest and of what is behind it are those of the batch as if it lived; in how
    /// many years it does not stands beside them.
    void add_lost(reason& why, int i) const {
        int const lost = lost_years(lost_nights(model_, data_.days, i));
        if (lost == 0) { return; }
        why.values.emplace_back("lost_years", std::int64_t{lost});
        set_value(why, "years", std::int64_t{model_.years});
        why.sentence += "; all counted as if it lived: " + say_lost(lost, model_.years);
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
        set_value(why, "years", std::int64_t{model_.years});
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
        bool const is_on = asks_exactly(batch(i).target_rule);
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
                "sown and moved as early as allowed, it is ready sooner {}, and {} are wanted",
                say_in_only(held.sooner_years, model_.years), mine.need);
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
                body += fmt::format("; and besides, {}", clause);
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
            set_value(why, "years", std::int64_t{model_.years});
        }
        // What was asked is told beside what moved the day, and so are its numbers.
        if (why.code != asked.code || held.by.front().kind != holder_kind::asked) {
            why.values.emplace_back("asked_rule", asked.code);
            for (auto const& [name, value] : asked.values) {
                if (name != "day") { why.values.emplace_back("asked_" + name, value); }
            }
        }
        why.sentence = fmt::format("{} {}: {}", event_text(i, target), say(mine.target_day), body);
        add_ready(why, i, target, mine.target_day);
        if (!told.empty() && !held_alone(held.by, told.front())) {
            why.values.emplace_back("tied", std::int64_t{1});
        }
        chain_.push_back(std::move(why));
        follow_holders(held.by, told);
        if (held.is_season_start) { chain_.push_back(season_starts(i)); }
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
        why.values.emplace_back("good_years", std::int64_t{mine.claim.good});
        set_value(why, "years", std::int64_t{model_.years});
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
        why.sentence = fmt::format("{} has no planned day: it is reached within the season {}",
                                   event_text(i, event), say_in_only(ever, model_.years));
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
            std::string counted;  // of what is told first
            reason mine;
            if (one.kind == holder_kind::bound) {
                bound_note const& note = known(i).bounds()[at(event)].lower[at(one.index)];
                int const waits = waiting_years(i, event, one);
                mine = note.why;
                mine.values.emplace_back("no_sooner", day_at(note.day));
                mine.values.emplace_back("waiting_years", std::int64_t{waits});
                set_value(mine, "years", std::int64_t{model_.years});
                clause = note.why.sentence;
                if (waits > 0) {
                    counted = fmt::format("; it waits in {}", say_years(waits, model_.years));
                }
            } else if (one.kind == holder_kind::link) {
                int const waits = waiting_years(i, event, one);
                mine = why_link(one);
                mine.values.emplace_back("waiting_years", std::int64_t{waits});
                set_value(mine, "years", std::int64_t{model_.years});
                clause = link_text(one);
                if (waits > 0) { counted = fmt::format(" in {}", say_years(waits, model_.years)); }
            } else if (is_outcome(*batch(i).grown, event)) {
                mine = make(i, event, "outcome.usual");
                int const early = quantile_of(row, 0.1);
                int const late = quantile_of(row, 0.9);
                add_day(mine, "early", early);
                add_day(mine, "late", late);
                mine.values.emplace_back("by_then_years", std::int64_t{by_then});
                set_value(mine, "years", std::int64_t{model_.years});
                if (!one.is_alone) { mine.values.emplace_back("tied", std::int64_t{1}); }
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
                clause = told.empty()
                             ? fmt::format("ready{} by then", waits > 0 ? " and allowed" : "")
                             : std::string{"it is ready no sooner"};
                counted = fmt::format(" in {}", say_years(by_then, model_.years));
            }
            if (told.empty()) {
                why = std::move(mine);
                why.sentence = fmt::format("{}: {}{}", head, clause, counted);
                if (!one.is_alone) { why.values.emplace_back("tied", std::int64_t{1}); }
                told.push_back(one);
            } else {
                why.sentence += fmt::format("; and besides, {}", clause);
            }
        }
        if (!told.empty() && told.front().kind == holder_kind::bound) {
            add_ready(why, i, event, planned);
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

    calendar const& of_;
    chain_walker walker_;
    sowing_reasons sowing_;
    std::vector<reason> chain_;
    std::set<std::pair<int, int>> seen_;
};

}  // namespace

}  // namespace detail

std::vector<reason> explain(calendar const& of, std::string_view succession,
                            std::string_view event) {
    int const i = of.plan().succession_index(succession);
    std::vector<reason> chain = detail::explainer{of}.explain(i, of.plan().event_index(i, event));
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
