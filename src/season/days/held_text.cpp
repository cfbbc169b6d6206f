#include "held_text.hpp"

#include <algorithm>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../rows/rule_days.hpp"

namespace epicotyl::detail {

std::string reason_maker::link_text(holder const& one) const {
    resolved_link const& link = model_.planned.links()[at(one.what.link)];
    event_of const first = waited_for(one);
    bool const is_first_of_several = link.first_decides && link.firsts.size() > 1;
    if (!is_first_of_several) {
        return fmt::format("it waits for {}{}", event_text(first.succession, first.event),
                           of_batch(first.succession));
    }
    std::string names;
    for (event_of const& other : link.firsts) {
        names += fmt::format("{}\"{}\"", names.empty() ? "" : ", ", batch(other.succession).name);
    }
    return fmt::format("it waits for the first {} of {}", event_text(first.succession, first.event),
                       names);
}

event_of reason_maker::waited_for(holder const& one) const {
    return one.what.from == no_event ? model_.awaited_by(one.what.link).firsts.front()
                                     : one.what.from;
}

reason reason_maker::why_link(holder const& one) const {
    event_of const first = waited_for(one);
    reason why = make(one.what.to.succession, one.what.to.event, "link.waits");
    why.values = {
        {"after", batch(first.succession).name},
        {"after_event", std::string{event_name(*batch(first.succession).grown, first.event)}}};
    return why;
}

/// A day that the plan keeps.
reason reason_maker::why_planned(holder const& one, std::string const& head) const {
    int const i = one.what.to.succession;
    succession_days const& mine = known(i);
    if (one.what.note == planned_spring) {
        reason why = make(i, one.what.to.event, "sow.spring");
        add_day(why, "no_sooner", mine.spring_starts);
        add_day(why, "latest", mine.latest_sowing);
        why.sentence = fmt::format(
            "{} no earlier than {}: the spring begins in which it could be sown last, on {}", head,
            say(mine.spring_starts), say(mine.latest_sowing));
        return why;
    }
    bool const is_sowing = one.what.note == planned_sowing;
    int const planned = is_sowing ? mine.sowing : mine.target_day;
    reason why = make(i, one.what.to.event, is_sowing ? "sowing.planned" : "target.planned");
    add_day(why, "day", planned);
    why.sentence = fmt::format("{} is planned for {}", head, say(planned));
    return why;
}

reason reason_maker::why_held(holder const& one) const {
    auto const [i, e] = one.what.to;
    resolved_succession const& of = batch(i);
    std::string const head = fmt::format("{}{}", event_text(i, e), of_batch(i));
    reason why;
    switch (one.what.kind) {
        case requirement_kind::not_before: {
            bound_note const& note = known(i).bounds()[at(e)].lower[at(one.what.note)];
            why = note.why;
            why.succession = of.name;
            why.event = std::string{event_name(*of.grown, e)};
            why.values.emplace_back("no_sooner", day_at(note.day));
            why.sentence =
                fmt::format("{} no earlier than {}: {}", head, say(note.day), note.why.sentence);
            break;
        }
        case requirement_kind::link:
            why = why_link(one);
            why.sentence = fmt::format("{}: {}", head, link_text(one));
            break;
        case requirement_kind::stage: {
            std::string const place = say_place(model_.planned, of.places[at(e - 1)]);
            why = make(i, e, "stage.takes");
            why.values = {{"after_event", std::string{event_name(*of.grown, e - 1)}},
                          {"place", place}};
            why.sentence = fmt::format("{}: the time it takes after {} in {}", head,
                                       event_text(i, e - 1), place);
            break;
        }
        case requirement_kind::target:
            why = why_asked(model_, i);
            why.succession = of.name;
            why.event = std::string{event_name(*of.grown, e)};
            add_day(why, "asked", known(i).asked);
            why.sentence = fmt::format("{}: {}", head, why.sentence);
            break;
        case requirement_kind::planned:
            why = why_planned(one, head);
            break;
        case requirement_kind::season_start:
        case requirement_kind::not_after:
        case requirement_kind::hold:
        case requirement_kind::within:
        case requirement_kind::season_end:
            break;  // the season's start is told by itself; what says "no later" makes nothing late
    }
    if (!one.is_alone) {
        why.values.emplace_back("tied", std::int64_t{1});
        why.sentence += " (others hold it just as long)";
    }
    return why;
}

}  // namespace epicotyl::detail
