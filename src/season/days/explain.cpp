#include <epicotyl/plan/plan.hpp>
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
#include "why_reached.hpp"
#include "why_sown.hpp"

namespace epicotyl {

namespace detail {

namespace {

class explainer : reason_maker {
public:
    explicit explainer(calendar const& of)
        : reason_maker{*of.data()}, of_{of}, sowing_{data_}, reached_{data_} {}

    std::vector<reason> explain(int i, int event) {
        if (!data_.successions[at(i)].resolved) {
            for (obstacle const& one : of_.unresolved()) {
                if (one.succession != batch(i).name) { continue; }
                reason why = make(i, event, one.code);
                why.sentence = one.cure.empty() ? one.sentence : one.sentence + "; " + one.cure;
                reasons_.push_back(std::move(why));
            }
            return std::move(reasons_);
        }
        follow(i, event);
        if (std::max(event, event == 0 ? aimed_by_day(i) : 0) >= lost_until(*batch(i).grown)) {
            add_lost(reasons_.front(), i);
        }
        for (risk_excess const& one : known(i).beyond_risk) {
            if (one.stage == event) { reasons_.push_back(why_beyond_risk(data_, i, one)); }
        }
        return std::move(reasons_);
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
                reasons_.push_back(sowing_.why_sown(i));
                for (reason& one : sowing_.named_ends(i)) { reasons_.push_back(std::move(one)); }
                follow_broken(i);
            }
            if (target > 0) { follow(i, target); }
            return;
        }
        if (is_decided_target(i, event)) {
            follow_decided(i);
        } else if (event == target) {
            reasons_.push_back(aimed_outcome(i));
            if (known(i).planned[at(event)] < never) {
                follow_holders(what_holds_planned(data_, i, event).by, {});
            }
        } else if (known(i).planned[at(event)] >= never) {
            reasons_.push_back(never_reached(i, event));
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
        reasons_.push_back(why_earliest(i));
        follow_holders(held.by, {});
        if (held.is_season_start) { reasons_.push_back(season_starts(i)); }
        return true;
    }

    reason season_starts(int i) const {
        reason start = make(i, 0, "season.start");
        start.values = {{"day", day_at(0)}};
        start.sentence =
            fmt::format("{} no earlier: the season starts on {}", event_text(i, 0), say(0));
        return start;
    }

    /// Where the count of another succession is what keeps a sowing from being later, its target is
    /// part of the reasons.
    void follow_broken(int i) {
        int const other = known(i).claim.broken;
        if (other < 0 || other == i) { return; }
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
        held_day held;
        if (asks_exactly(batch(i).target_rule)) {
            held.by.push_back({asked_row(i, target)});
        } else {
            held = what_holds_target(data_, i);
        }
        reason const asked = why_asked(model_, i);
        bool const is_ready_told =
            std::ranges::any_of(held.by, [&](holder const& one) { return !is_of_target(i, one); });
        telling of_day = tell_decided(i, held, asked);
        reason why = std::move(of_day.why);
        why.succession = batch(i).name;
        why.event = std::string{event_name(*batch(i).grown, target)};
        add_day(why, "planned", mine.target_day);
        add_day(why, "asked", mine.asked);
        if (is_ready_told) {
            why.values.emplace_back("sooner_years", std::int64_t{held.sooner_years});
            why.values.emplace_back("needed_years", std::int64_t{mine.need});
            set_value(why, "years", std::int64_t{model_.years});
        }
        if (why.code != asked.code || held.by.front().what.kind != requirement_kind::target) {
            add_asked(why, asked);
        }
        why.sentence =
            fmt::format("{} {}: {}", event_text(i, target), say(mine.target_day), of_day.text);
        add_ready(why, i, target, mine.target_day);
        if (!of_day.told.empty() && !held_alone(held.by, of_day.told.front())) {
            why.values.emplace_back("tied", std::int64_t{1});
        }
        reasons_.push_back(std::move(why));
        follow_holders(held.by, of_day.told);
        if (held.is_season_start) { reasons_.push_back(season_starts(i)); }
    }

    /// What is asked for a decision aimed at, or a bound on it; not what must pass before it.
    bool is_of_target(int i, holder const& one) const {
        return one.what.to == event_of{i, batch(i).target_event} &&
               (one.what.kind == requirement_kind::target ||
                one.what.kind == requirement_kind::not_before);
    }

    telling tell_decided(int i, held_day const& held, reason const& asked) const {
        std::string const was_asked =
            fmt::format("wanted {} ({})", say(known(i).asked), asked.sentence);
        telling of_day;
        bool is_ready_told = false;
        for (holder const& one : held.by) {
            if (!is_of_target(i, one)) {
                if (is_ready_told) { continue; }
                is_ready_told = true;
                of_day.add(one, ready_no_sooner(i, held.sooner_years, was_asked));
            } else if (one.what.kind == requirement_kind::target) {
                of_day.add(one, {asked, asked.sentence, asked.sentence});
            } else {
                of_day.add(one, moved_by(i, one, was_asked));
            }
        }
        if (held.by.empty()) {
            of_day.why = make(i, batch(i).target_event, "target.ready");
            of_day.text = held.is_clear
                              ? fmt::format("{}; the season starts on {}", was_asked, say(0))
                              : fmt::format("{}; {}", was_asked, "it is ready no earlier");
        }
        return of_day;
    }

    /// A bound that put a decision off from the day asked for.
    clause moved_by(int i, holder const& one, std::string const& was_asked) const {
        succession_days const& mine = known(i);
        reason why = mine.bounds()[at(one.what.to.event)].lower[at(one.what.note)].why;
        std::string const sentence = why.sentence;
        why.values.emplace_back("no_sooner", day_at(mine.target_day));
        return {std::move(why),
                fmt::format("{}; put back to {}, because {}", was_asked, say(mine.target_day),
                            sentence),
                sentence};
    }

    /// What passes before a decision: what it is that takes so long follows among the reasons.
    clause ready_no_sooner(int i, int sooner_years, std::string const& was_asked) const {
        std::string const text = fmt::format(
            "sown and moved as early as allowed, it is ready earlier {}, and {} are wanted",
            say_in_only(sooner_years, model_.years), known(i).need);
        return {make(i, batch(i).target_event, "target.ready"),
                fmt::format("{}; {}", was_asked, text), text, false};
    }

    /// What was asked is told beside what moved the day, and so are its numbers.
    static void add_asked(reason& why, reason const& asked) {
        why.values.emplace_back("asked_rule", asked.code);
        for (auto const& [name, value] : asked.values) {
            if (name != "day") { why.values.emplace_back("asked_" + name, value); }
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
                reasons_.push_back(why_held(one));
            }
        }
        for (holder const& one : all) {
            if (one.is_planned()) { follow(one.what.to.succession, one.what.to.event); }
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
                                   asked.sentence, say_years(mine.claim.good, model_.years));
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

    /// The day of any other event: what holds the event itself, and what lies behind that.
    void follow_reached(int i, int event) {
        int const planned = known(i).planned[at(event)];
        held_day const held = what_holds_planned(data_, i, event);
        std::vector<holder> here;
        std::copy_if(held.by.begin(), held.by.end(), std::back_inserter(here),
                     [&](holder const& one) {
                         return one.what.to == event_of{i, event};
                     });
        // What moves the day alone first, and of these bounds and links before the clock.
        std::stable_sort(here.begin(), here.end(),
                         [](holder const& a, holder const& b) { return a.is_alone > b.is_alone; });
        telling of_day;
        for (holder const& one : here) {
            clause said = reached_.held_by(i, event, one);
            if (!one.is_alone) { said.why.values.emplace_back("tied", std::int64_t{1}); }
            of_day.add(one, std::move(said));
        }
        if (here.empty()) { of_day.add({}, reached_.not_before_the_last(i, event)); }
        reason why = std::move(of_day.why);
        why.sentence = fmt::format("{} {}{}", event_text(i, event), say(planned), of_day.text);
        if (!here.empty() && here.front().what.kind == requirement_kind::not_before) {
            add_ready(why, i, event, planned);
        }
        why.succession = batch(i).name;
        why.event = std::string{event_name(*batch(i).grown, event)};
        add_day(why, "planned", planned);
        reasons_.push_back(std::move(why));
        follow_holders(held.by, of_day.told);
    }

    calendar const& of_;
    sowing_reasons sowing_;
    reached_reasons reached_;
    std::vector<reason> reasons_;
    std::set<std::pair<int, int>> seen_;
};

}  // namespace

}  // namespace detail

std::vector<reason> explain(calendar const& of, std::string_view succession,
                            std::string_view event) {
    int const i = of.plan().succession_index(succession);
    std::vector<reason> reasons = detail::explainer{of}.explain(i, of.plan().event_index(i, event));
    if (std::string const origin = of.origin(); !origin.empty()) {
        reasons.push_back({.succession = of.plan().successions()[detail::at(i)].name,
                           .event = std::string{event},
                           .code = "years.origin",
                           .values = {{"origin", origin}},
                           .sentence = fmt::format("counted in season years that are not simply "
                                                   "those of a station: {}",
                                                   origin)});
    }
    return reasons;
}

}  // namespace epicotyl
