// The printed form of a calendar.

#include <algorithm>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/amounts/quantities.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/calendar.hpp>

#include "../../detail/wrapped.hpp"
#include "../rows/say.hpp"
#include "../rows/say_names.hpp"
#include "calendar_data.hpp"
#include "lost.hpp"
#include "sheet_head.hpp"

namespace epicotyl {

namespace {

using detail::at;
using detail::say_event;

/// "dahlia 1, harden off" for "dahlia 1: harden_off"; names stay as they are.
std::string say_end(std::string const& of) {
    std::size_t const colon = of.rfind(": ");
    return colon == std::string::npos
               ? of
               : of.substr(0, colon) + ", " + say_event(of.substr(colon + 2));
}

std::string notes_of(calendar const& of) {
    std::string text;
    // Obstacles in the same words are one line.
    std::map<std::string, std::string> names;
    auto const words = [](obstacle const& one) {
        return one.sentence + (one.cure.empty() ? "" : "; ") + one.cure;
    };
    for (obstacle const& one : of.unresolved()) {
        std::string& all = names[words(one)];
        all += (all.empty() ? "" : ", ") + one.succession;
    }
    for (obstacle const& one : of.unresolved()) {
        auto const line = names.find(words(one));
        if (line == names.end()) { continue; }
        text += fmt::format("no workable date: {}: {}\n", line->second, line->first);
        names.erase(line);
    }
    for (linked_group const& group : of.groups()) {
        text += fmt::format("linked, all in time together in {}: {}\n",
                            detail::say_years(group.good, group.years),
                            detail::say_names(group.successions));
    }
    for (link_count const& one : of.within_counts()) {
        text += fmt::format("{} within {:g} days of {}: kept in {}\n", say_end(one.then),
                            one.within, say_end(one.first), detail::say_years(one.kept, one.years));
    }
    for (std::string const& warning : of.warnings()) { text += "note: " + warning + "\n"; }
    return text;
}

/// What stands beside the day on which a batch would be picked, had it lived.
std::string loss_note(calendar const& of, int i) {
    detail::calendar_data const& data = *of.data();
    int const lost = detail::lost_years(detail::lost_nights(*data.model, data.days, i));
    return lost == 0 ? "" : "; " + detail::say_lost(lost, data.model->years);
}

/// What each succession needs; nothing where some number of the plan is beyond all counting of
/// seeds, which `quantities` refuses in its own words.
std::vector<succession_quantity> needs_of(plan const& of) {
    try {
        return quantities(of).successions;
    } catch (invalid_input const&) {
        return std::vector<succession_quantity>(of.successions().size());
    }
}

/// "144 seeds in 2 trays of plug 72 for 108 plants", as the sheet of quantities has them.
std::string sown_text(plan const& of, resolved_succession const& one,
                      succession_quantity const& needs) {
    std::string const wanted = detail::say_how_much(of, one.amount);
    if (needs.stages.empty()) { return wanted; }
    stage_quantity const& first = needs.stages.front();
    std::string text =
        fmt::format("{} {}{}", needs.seeds, needs.starts_as, needs.seeds == 1 ? "" : "s");
    if (first.container.empty()) { return fmt::format("{} for {}", text, wanted); }
    text += fmt::format(" in {:g} tray{} of {}", first.trays, first.trays == 1.0 ? "" : "s",
                        first.container);
    bool const by_trays = one.amount.what == amount::measure::trays;
    return by_trays ? text : fmt::format("{} for {}", text, wanted);
}

/// What stands in the last column beside the place: what is sown, what it is moved into.
std::string filled_text(plan const& of, resolved_succession const& one,
                        succession_quantity const& needs, int event) {
    if (event == 0) { return ", " + sown_text(of, one, needs); }
    if (needs.stages.empty()) { return {}; }
    stage_quantity const& now = needs.stages[at(event)];
    if (now.container.empty() || now.container == needs.stages[at(event) - 1].container) {
        return {};
    }
    return fmt::format(", {:g} tray{} of {}", now.trays, now.trays == 1.0 ? "" : "s",
                       now.container);
}

}  // namespace

std::string to_string(calendar const& of) {
    plan const& the_plan = of.plan();
    // (day, plan order, event) is the order of work.
    std::vector<std::tuple<day, int, int>> work;
    std::size_t event_width = 0;
    std::size_t name_width = 0;
    for (int i = 0; i < static_cast<int>(the_plan.successions().size()); ++i) {
        resolved_succession const& one = the_plan.successions()[at(i)];
        for (int e = 0; e < event_count(*one.grown); ++e) {
            std::optional<day> const when = of.date(i, e);
            if (!when) { continue; }
            work.emplace_back(*when, i, e);
            event_width =
                std::max(event_width, detail::columns_of(say_event(event_name(*one.grown, e))));
            name_width = std::max(name_width, detail::columns_of(one.name));
        }
    }
    std::sort(work.begin(), work.end());

    std::string text = detail::sheet_head(of);
    std::vector<succession_quantity> const needs = needs_of(the_plan);
    std::optional<day> week;
    std::optional<int> year;
    for (auto const& [when, i, e] : work) {
        resolved_succession const& one = the_plan.successions()[at(i)];
        int const this_year = int{date::year_month_day{when}.year()};
        if (year != this_year) { text += fmt::format("\n{}\n", this_year); }
        if (week != monday_of(when) || year != this_year) {
            text += fmt::format("{}\n", to_week(when, the_plan.parts().units));
        }
        week = monday_of(when);
        year = this_year;
        // Padded by hand: fmt counts bytes or columns by its own rules for names beyond ASCII.
        std::string head =
            "  " + detail::padded(to_weekday_day_month(when, the_plan.parts().units), 12);
        head += detail::padded(say_event(event_name(*one.grown, e)), event_width + 2);
        head += detail::padded(one.name, name_width + 2);
        std::string line;
        if (e + 1 < event_count(*one.grown)) {
            line += detail::say_place(the_plan, one.places[at(e)]);
            line += filled_text(the_plan, one, needs[at(i)], e);
        }
        if (is_outcome(*one.grown, e)) { line += line.empty() ? "usually" : ", usually"; }
        if (e == lost_until(*one.grown)) { line += loss_note(of, i); }
        text += detail::hanging(head, line);
    }
    if (work.empty()) { text += "\nNothing is planned.\n"; }
    std::string const notes = notes_of(of);
    return text + (notes.empty() ? "" : "\n") + detail::wrapped(notes);
}

}  // namespace epicotyl
