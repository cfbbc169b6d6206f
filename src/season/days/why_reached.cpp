#include "why_reached.hpp"

#include <algorithm>
#include <cstdint>

#include <fmt/format.h>

namespace epicotyl::detail {

/// Years in which an event comes on the day that a requirement allows, ready before that.
int reached_reasons::waiting_years(int i, int event, holder const& one) const {
    int waits = 0;
    for (int y = 0; y < model_.years; ++y) {
        int const came = data_.days.at(i, event, y);
        bool const is_late =
            came < never && came > clock_ready(model_, data_.days, known(i).sowing, i, event, y);
        int const allowed =
            one.what.is_bound() ? one.what.days : walker_.link_day(data_.days, one.what.link, y);
        waits += is_late && allowed == came;
    }
    return waits;
}

/// Years in which an event has come by its planned day.
int reached_reasons::by_then_years(int i, int event) const {
    int const planned = known(i).planned[at(event)];
    return static_cast<int>(
        std::ranges::count_if(data_.days.row_days(i, event), [&](int d) { return d <= planned; }));
}

clause reached_reasons::held_by(int i, int event, holder const& one) const {
    switch (one.what.kind) {
        case requirement_kind::not_before:
        case requirement_kind::link:
            return waits_for(i, event, one);
        default:
            return is_outcome(*batch(i).grown, event) ? comes_usually(i, event)
                                                      : ready_by_then(i, event);
    }
}

/// A bound or a link on the event itself.
clause reached_reasons::waits_for(int i, int event, holder const& one) const {
    int const waits = waiting_years(i, event, one);
    std::string const years = say_years(waits, model_.years);
    clause said;
    if (one.what.is_bound()) {
        bound_note const& note = known(i).bounds()[at(event)].lower[at(one.what.note)];
        said = {.why = note.why, .first = "; it waits in " + years, .besides = note.why.sentence};
        said.why.values.emplace_back("no_sooner", day_at(note.day));
    } else {
        said = {.why = why_link(one), .first = " in " + years, .besides = link_text(one)};
    }
    said.why.values.emplace_back("waiting_years", std::int64_t{waits});
    set_value(said.why, "years", std::int64_t{model_.years});
    said.first = ": " + said.besides + (waits > 0 ? said.first : "");
    return said;
}

clause reached_reasons::comes_usually(int i, int event) const {
    auto const row = data_.days.row_days(i, event);
    clause said{.why = make(i, event, "outcome.usual")};
    int const early = quantile_of(row, 0.1);
    int const late = quantile_of(row, 0.9);
    add_day(said.why, "early", early);
    add_day(said.why, "late", late);
    said.why.values.emplace_back("by_then_years", std::int64_t{by_then_years(i, event)});
    set_value(said.why, "years", std::int64_t{model_.years});
    said.first =
        fmt::format(" in the usual year, {} in an early one, {} in a late one (1 year in 10 each)",
                    say(early), say(late));
    return said;
}

clause reached_reasons::ready_by_then(int i, int event) const {
    auto const row = data_.days.row_days(i, event);
    bool waits = false;
    for (int y = 0; y < model_.years && !waits; ++y) {
        waits = row[at(y)] < never &&
                row[at(y)] > clock_ready(model_, data_.days, known(i).sowing, i, event, y);
    }
    int const by_then = by_then_years(i, event);
    clause said{.why = make(i, event, "decision.ready"),
                .first = fmt::format(": ready{} by then in {}", waits ? " and allowed" : "",
                                     say_years(by_then, model_.years)),
                .besides = "it is ready no earlier"};
    said.why.values.emplace_back("by_then_years", std::int64_t{by_then});
    said.why.values.emplace_back("years", std::int64_t{model_.years});
    return said;
}

/// One that is only planned no earlier than what comes before it.
clause reached_reasons::not_before_the_last(int i, int event) const {
    int const by_then = by_then_years(i, event);
    clause said{.why = make(i, event, "planned.order"),
                .first = fmt::format(
                    ": it comes by then in {}, but is not planned before {}, whose day that is",
                    say_years(by_then, model_.years), event_text(i, event - 1)),
                .is_told = false};
    said.why.values = {{"by_then_years", std::int64_t{by_then}},
                       {"years", std::int64_t{model_.years}}};
    return said;
}

}  // namespace epicotyl::detail
