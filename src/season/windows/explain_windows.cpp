#include <algorithm>
#include <cstdint>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/windows/explain_windows.hpp>

#include "../rows/say.hpp"
#include "told.hpp"
#include "windows_data.hpp"

namespace epicotyl {

namespace detail {

namespace {

class window_explainer {
public:
    explicit window_explainer(planting_windows const& of) : windows_{of}, plan_{of.plan()} {}

    [[nodiscard]] std::vector<reason> explain(int i, int event) {
        if (!windows_.feasible(plan_.successions()[at(i)].name)) {
            explain_none(i, event);
        } else if (windows_.earliest_offset(i, event) >= never) {
            not_in_season(i, event);
        } else {
            window(i, event);
            held_chain const chain = chain_of(i, event);
            for (std::size_t k = chain.middle() + 1; k-- > 0;) { earliest(chain, k); }
            for (std::size_t k = chain.middle(); k < chain.told.events.size(); ++k) {
                latest(chain, k);
            }
        }
        return std::move(reasons_);
    }

private:
    [[nodiscard]] std::string_view name_of(int i, int event) const {
        return event_name(*plan_.successions()[at(i)].grown, event);
    }
    [[nodiscard]] std::string say(day when) const {
        return say_day(plan_, plan_.window().offset_of(when));
    }

    reason& add(int i, int event, std::string code) {
        return add(plan_.successions()[at(i)].name, std::string{name_of(i, event)},
                   std::move(code));
    }
    reason& add(std::string succession, std::string event, std::string code) {
        reasons_.push_back({.succession = std::move(succession),
                            .event = std::move(event),
                            .code = std::move(code)});
        return reasons_.back();
    }

    static void add_source(reason& why, requirement const& of) {
        why.values.emplace_back("field", of.field);
        if (of.line > 0) { why.values.emplace_back("line", std::int64_t{of.line}); }
    }

    void window(int i, int event) {
        int const early = windows_.earliest_offset(i, event);
        int const late = windows_.latest_offset(i, event);
        season const& days_of = plan_.window();
        reason& why = add(i, event, "window");
        why.values.emplace_back("year", std::int64_t{windows_.year()});
        why.values.emplace_back("earliest", *days_of.day_at(early));
        std::string const what = say_event(name_of(i, event));
        if (late >= never) {
            why.sentence = fmt::format("{} {} or later in {}: nothing keeps it within the season",
                                       what, say_day(plan_, early), windows_.year());
            return;
        }
        why.values.emplace_back("latest", *days_of.day_at(late));
        why.values.emplace_back("slack", std::int64_t{late - early});
        why.sentence = fmt::format("{} {} to {} in {}: {} of room", what, say_day(plan_, early),
                                   say_day(plan_, late), windows_.year(), say_days(late - early));
    }

    /// A chain, and what the bounds at its ends say, which may be further out than its events come.
    struct held_chain {
        tightest_chain told;
        int no_sooner;
        int no_later;

        [[nodiscard]] std::size_t middle() const { return static_cast<std::size_t>(told.middle); }
    };
    [[nodiscard]] held_chain chain_of(int i, int event) const {
        windows_data const& data = *windows_.data();
        found_chain const found = find_chain_through(data, {i, event});
        auto const& net = data.solved[at(found.network)]->net;
        return {told(data, found), net.lower(found.vertices.front()).value,
                net.upper(found.vertices.back()).value};
    }

    [[nodiscard]] bool is_decision(chain_event const& one) const {
        crop const& grown = *plan_.successions()[at(plan_.succession_index(one.succession))].grown;
        return !is_outcome(grown, *event_index(grown, one.event));
    }

    /// An event and the one that holds it: what is said of either end of the chain.
    void held(chain_event const& one, day when, requirement const& tie, char const* end, int bound,
              chain_event const* by, std::optional<day> by_day) {
        bool const is_earliest = std::string_view{end} == "earliest";
        reason& why =
            add(one.succession, one.event, fmt::format("window.{}.{}", end, to_string(tie.kind)));
        why.values.emplace_back("day", when);
        // A decision aimed at is held on the calendar's day, which may be later than what is asked.
        bool const is_planned = tie.kind == requirement_kind::target && is_decision(one);
        std::string const because =
            is_planned ? fmt::format("its day in the calendar ({})", tie.sentence) : tie.sentence;
        char const* const than = is_earliest ? "earlier" : "later";
        why.sentence = fmt::format("{} no {} than {}", say_event(one.event), than, say(when));
        if (by == nullptr || !by_day) {
            why.sentence += fmt::format(": {}", because);
            if (bound != plan_.window().offset_of(when)) {
                why.sentence += "; no day between will do";
                why.values.emplace_back("bound", plan_.window().start() + days{bound});
            }
            add_source(why, tie);
            return;
        }
        why.values.emplace_back("from_succession", by->succession);
        why.values.emplace_back("from_event", by->event);
        why.values.emplace_back("from_day", *by_day);
        add_source(why, tie);
        std::string const other =
            by->succession == one.succession
                ? say_event(by->event)
                : fmt::format("{} of \"{}\"", say_event(by->event), by->succession);
        std::string const other_end =
            fmt::format("{} comes no {} than {}", other, than, say(*by_day));
        // What must pass is said of the later event; seen from the earlier one it comes second.
        bool const is_said_of_it = is_earliest != tie.is_upper;
        why.sentence += is_said_of_it ? fmt::format(": {}, and {}", tie.sentence, other_end)
                                      : fmt::format(", as {} ({})", other_end, tie.sentence);
    }

    void earliest(held_chain const& chain, std::size_t k) {
        std::vector<chain_event> const& events = chain.told.events;
        chain_event const* const before = k > 0 ? &events[k - 1] : nullptr;
        std::optional<day> const from =
            before == nullptr ? std::nullopt : std::optional{before->earliest};
        held(events[k], events[k].earliest, events[k].tie, "earliest", chain.no_sooner, before,
             from);
    }

    void latest(held_chain const& chain, std::size_t k) {
        std::vector<chain_event> const& events = chain.told.events;
        chain_event const& one = events[k];
        if (!one.latest || plan_.window().offset_of(*one.latest) > plan_.window().length()) {
            return;
        }
        bool const is_last = k + 1 == events.size();
        chain_event const* const after = is_last ? nullptr : &events[k + 1];
        held(one, *one.latest, is_last ? chain.told.end : after->tie, "latest", chain.no_later,
             after, is_last ? std::nullopt : after->latest);
    }

    void not_in_season(int i, int event) {
        reason& why = add(i, event, "window.not_in_season");
        why.values.emplace_back("year", std::int64_t{windows_.year()});
        why.sentence =
            fmt::format("{} is not within the season in {}, however early all before it comes",
                        say_event(name_of(i, event)), windows_.year());
        int reached = event;
        while (reached >= 0 && windows_.earliest_offset(i, reached) >= never) { --reached; }
        if (reached < 0) { return; }
        held_chain const chain = chain_of(i, reached);
        for (std::size_t k = chain.middle() + 1; k-- > 0;) { earliest(chain, k); }
    }

    void explain_none(int i, int event) {
        windows_data const& data = *windows_.data();
        std::string const& name = plan_.successions()[at(i)].name;
        if (!data.frame->batches[at(i)].is_in) {
            for (obstacle const& one : windows_.left_out()) {
                if (one.succession != name) { continue; }
                reason& why = add(i, event, one.code);
                why.sentence = one.cure.empty() ? one.sentence : one.sentence + "; " + one.cure;
            }
            return;
        }
        int const group = data.frame->batches[at(i)].group;
        auto const number =
            std::find(data.conflict_group.begin(), data.conflict_group.end(), group) -
            data.conflict_group.begin();
        season_conflict const& conflict = data.conflicts[at(static_cast<int>(number))];
        for (conflict_step const& step : conflict.steps) {
            reason& why = add(step.succession, step.event,
                              fmt::format("conflict.{}", to_string(step.because.kind)));
            if (step.when) { why.values.emplace_back("day", *step.when); }
            if (!step.because.from_event.empty()) {
                why.values.emplace_back("from_succession", step.because.from_succession);
                why.values.emplace_back("from_event", step.because.from_event);
            }
            if (step.turns > 1) { why.values.emplace_back("turns", std::int64_t{step.turns}); }
            add_source(why, step.because);
            why.sentence = step_text(plan_, step);
        }
        reason& why = add(conflict.broken.succession, conflict.broken.event, "conflict.broken");
        why.values.emplace_back("kind", std::string{to_string(conflict.broken.kind)});
        if (conflict.allowed) { why.values.emplace_back("day", *conflict.allowed); }
        add_source(why, conflict.broken);
        why.sentence = broken_text(plan_, conflict);
    }

    planting_windows const& windows_;
    plan const& plan_;
    std::vector<reason> reasons_;
};

}  // namespace

}  // namespace detail

std::vector<reason> explain(planting_windows const& of, std::string_view succession,
                            std::string_view event) {
    int const i = of.plan().succession_index(succession);
    return detail::window_explainer{of}.explain(i, of.plan().event_index(i, event));
}

}  // namespace epicotyl
