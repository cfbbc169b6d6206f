#include "held_text.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "../rows/rule_days.hpp"

namespace epicotyl::detail {

std::string reason_maker::link_text(holder const& one) const {
    event_of const& first =
        model_.planned.links()[at(one.index)].firsts[at(std::max(0, one.member))];
    resolved_link const& link = model_.planned.links()[at(one.index)];
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

reason reason_maker::why_link(holder const& one) const {
    event_of const& first =
        model_.planned.links()[at(one.index)].firsts[at(std::max(0, one.member))];
    reason why = make(one.succession, one.event, "link.waits");
    why.values = {
        {"after", batch(first.succession).name},
        {"after_event", std::string{event_name(*batch(first.succession).grown, first.event)}}};
    return why;
}

reason reason_maker::why_held(holder const& one) const {
    resolved_succession const& of = batch(one.succession);
    std::string const event = event_text(one.succession, one.event);
    std::string const head = fmt::format("{}{}", event, of_batch(one.succession));
    reason why;
    switch (one.kind) {
        case holder_kind::bound: {
            bound_note const& note =
                known(one.succession).bounds()[at(one.event)].lower[at(one.index)];
            why = note.why;
            why.succession = of.name;
            why.event = std::string{event_name(*of.grown, one.event)};
            why.values.emplace_back("no_sooner", day_at(note.day));
            why.sentence =
                fmt::format("{} no sooner than {}: {}", head, say(note.day), note.why.sentence);
            break;
        }
        case holder_kind::link:
            why = why_link(one);
            why.sentence = fmt::format("{}: {}", head, link_text(one));
            break;
        case holder_kind::clock:
            why = make(one.succession, one.event, "stage.takes");
            why.values = {{"after_event", std::string{event_name(*of.grown, one.event - 1)}},
                          {"place", say_place(model_.planned, of.places[at(one.event - 1)])}};
            why.sentence = fmt::format("{}: what must pass after {} in {}", head,
                                       event_text(one.succession, one.event - 1),
                                       say_place(model_.planned, of.places[at(one.event - 1)]));
            break;
        case holder_kind::asked:
            why = why_asked(model_, one.succession);
            why.succession = of.name;
            why.event = std::string{event_name(*of.grown, one.event)};
            add_day(why, "asked", known(one.succession).asked);
            why.sentence = fmt::format("{}: {}", head, why.sentence);
            break;
        case holder_kind::spring:
            why = make(one.succession, one.event, "sow.spring");
            add_day(why, "no_sooner", known(one.succession).spring_starts);
            add_day(why, "latest", known(one.succession).latest_sowing);
            why.sentence = fmt::format(
                "{} no sooner than {}: the spring begins in which it could be sown last, on {}",
                head, say(known(one.succession).spring_starts),
                say(known(one.succession).latest_sowing));
            break;
        case holder_kind::target:
        case holder_kind::sowing:
            why = make(one.succession, one.event,
                       one.kind == holder_kind::sowing ? "sowing.planned" : "target.planned");
            add_day(why, "day",
                    one.kind == holder_kind::sowing ? known(one.succession).sowing
                                                    : known(one.succession).target_day);
            why.sentence = fmt::format(
                "{} is planned for {}", head,
                say(one.kind == holder_kind::sowing ? known(one.succession).sowing
                                                    : known(one.succession).target_day));
            break;
    }
    if (!one.is_alone) {
        why.values.emplace_back("tied", std::int64_t{1});
        why.sentence += " (tied with others)";
    }
    return why;
}

}  // namespace epicotyl::detail
