// The printed forms of calendar and prospect.

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/days/explain.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../detail/wrapped.hpp"
#include "../rows/say.hpp"
#include "lost.hpp"
#include "night_cautions.hpp"
#include "notes.hpp"
#include "prospect_data.hpp"

namespace epicotyl {

namespace {

using detail::at;
using detail::say_event;

std::string amount_text(plan const& of, amount const& how_much) {
    constexpr double feet_in_metre = 1.0 / 0.3048;
    bool const metric = of.parts().units == unit_system::metric;
    switch (how_much.what) {
        case amount::measure::plants:
            return fmt::format("{:g} plants", how_much.value);
        case amount::measure::trays:
            return fmt::format("{:g} tray{}", how_much.value, how_much.value == 1.0 ? "" : "s");
        case amount::measure::bed:
            return metric ? fmt::format("{:g} m of bed", how_much.value)
                          : fmt::format("{:g} ft of bed", how_much.value * feet_in_metre);
    }
    return {};
}

std::string padded(std::string text, std::size_t width) {
    std::size_t const have = detail::columns_of(text);
    if (have < width) { text.append(width - have, ' '); }
    return text;
}

std::string head_of(calendar const& of) {
    std::string text;
    if (!of.plan().parts().title.empty()) { text += of.plan().parts().title + "\n"; }
    text += fmt::format("Planned to be in time in {:g} % of season years. {}.\n",
                        of.reliability().value() * 100.0, of.climate());
    return text;
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
        text += fmt::format("not resolved: {}: {}\n", line->second, line->first);
        names.erase(line);
    }
    for (linked_group const& group : of.groups()) {
        std::string names;
        for (std::string const& name : group.successions) {
            names += (names.empty() ? "" : ", ") + name;
        }
        text += fmt::format("linked: all of {} in time together in {}\n", names,
                            detail::say_years(group.good, group.years));
    }
    for (link_count const& one : of.within_counts()) {
        text += fmt::format("{} within {:g} days of {}: kept in {}\n", one.then, one.within,
                            one.first, detail::say_years(one.kept, one.years));
    }
    for (std::string const& warning : of.warnings()) { text += "note: " + warning + "\n"; }
    return text;
}

/// "usual 3, 9 in 1 year of 10".
std::string nights_text(std::vector<int> nights) {
    std::sort(nights.begin(), nights.end());
    int const n = static_cast<int>(nights.size());
    int const usual = nights[at(detail::needed_years(0.5, n) - 1)];
    int const bad = nights[at(detail::needed_years(0.9, n) - 1)];
    return bad == 0 ? std::string{"none"}
                    : fmt::format("{} in the usual year, {} or more in 1 year in 10", usual, bad);
}

std::string day_or_never(std::optional<day> const& when) {
    return when ? to_day_month(*when) : "never";
}

/// How often it is lost, and when it is first picked in the other years.
std::string harvest_text(prospect const& of, int i) {
    detail::prospect_data const& data = *of.data();
    crop const& grown = *data.model->planned.successions()[at(i)].grown;
    std::span<std::int16_t const> const nights = data.lost(i);
    int const lost = detail::lost_years(nights);
    std::string text = lost == 0 ? "" : detail::say_lost(lost, data.model->years);
    if (auto const event = event_index(grown, "first_harvest"); event && lost < data.model->years) {
        auto const quantile = [&](double q) {
            return day_or_never(data.model->planned.window().day_at(
                detail::quantile_of_living(data.days().row_days(i, *event), nights, q)));
        };
        text += fmt::format("{}first harvest early {}, usual {}, late {}",
                            lost == 0 ? "" : "; of the others ", quantile(0.1), quantile(0.5),
                            quantile(0.9));
    }
    return text.empty() ? text : fmt::format("  {}\n", text);
}

std::string succession_text(prospect const& of, int i) {
    calendar const& planned = of.calendar();
    plan const& the_plan = planned.plan();
    resolved_succession const& one = the_plan.successions()[at(i)];
    crop const& grown = *one.grown;
    std::string text =
        fmt::format("{} ({}, {})\n", one.name, grown.name, amount_text(the_plan, one.amount));
    if (!planned.date(i, 0)) { return text + "  not resolved\n"; }

    std::string steps;
    for (int e = 0; e < event_count(grown); ++e) {
        if (is_outcome(grown, e)) { continue; }
        std::optional<day> const when = planned.date(i, e);
        steps += fmt::format("{}{} {}", steps.empty() ? "" : ", ", say_event(event_name(grown, e)),
                             day_or_never(when));
        if (e == 0) { steps += fmt::format(" (week {})", iso_week_of(*when).week); }
    }
    text += fmt::format("  {}\n", steps);

    text += harvest_text(of, i);
    damage_report const cold = of.damage(one.name);
    text += fmt::format("  damage by cold in {}", detail::say_years(cold.damaged, cold.years));
    if (cold.damaged_heater_off > cold.damaged) {
        text += fmt::format("; heater off {}", cold.damaged_heater_off);
    }
    if (cold.damaged_cover_off > cold.damaged) {
        text += fmt::format("; nothing done on cold nights {}", cold.damaged_cover_off);
    }
    text +=
        fmt::format("; nights to act: {}\n", nights_text(of.nights_to_act(std::nullopt, one.name)));
    overheld_report const held = of.overheld(one.name);
    if (held.overheld > 0) {
        text += fmt::format("  held too long (root-bound risk) in {}\n",
                            detail::say_years(held.overheld, held.years));
    }
    damage_report const hot = of.too_hot(one.name);
    if (hot.damaged > 0) {
        text += fmt::format("  too hot in {}\n", detail::say_years(hot.damaged, hot.years));
    }
    auto const reasons = explain(planned, one.name, event_name(grown, one.target_event));
    text += fmt::format("  why: {}\n", reasons.front().sentence);
    for (detail::risk_excess const& excess : of.calendar().data()->successions[at(i)].beyond_risk) {
        reason const beyond = detail::why_beyond_risk(*of.calendar().data(), i, excess);
        text += fmt::format("  note: {}\n", beyond.sentence);
    }
    if (!grown.caution.empty()) { text += fmt::format("  caution: {}\n", grown.caution); }
    return text;
}

}  // namespace

namespace {

/// What stands beside the day on which a batch would be picked, had it lived.
std::string loss_note(calendar const& of, int i) {
    detail::calendar_data const& data = *of.data();
    int const lost = detail::lost_years(detail::lost_nights(*data.model, data.days, i));
    return lost == 0 ? "" : "; " + detail::say_lost(lost, data.model->years);
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

    std::string text = head_of(of);
    std::optional<day> week;
    std::optional<int> year;
    for (auto const& [when, i, e] : work) {
        resolved_succession const& one = the_plan.successions()[at(i)];
        int const this_year = int{date::year_month_day{when}.year()};
        if (year != this_year) { text += fmt::format("\n{}\n", this_year); }
        if (week != monday_of(when) || year != this_year) {
            text += fmt::format("{}\n", to_week(when));
        }
        week = monday_of(when);
        year = this_year;
        // Padded by hand: fmt counts bytes or columns by its own rules for names beyond ASCII.
        std::string line = "  " + padded(to_weekday_day_month(when), 12);
        line += padded(say_event(event_name(*one.grown, e)), event_width + 2);
        line += padded(one.name, name_width + 2);
        if (e + 1 < event_count(*one.grown)) {
            line += detail::say_place(the_plan, one.places[at(e)]);
        }
        if (e == 0) { line += ", " + amount_text(the_plan, one.amount); }
        if (is_outcome(*one.grown, e)) {
            line += e + 1 < event_count(*one.grown) ? ", usually" : "usually";
        }
        if (e == lost_until(*one.grown)) { line += loss_note(of, i); }
        text += line + "\n";
    }
    if (work.empty()) { text += "\nNothing is planned.\n"; }
    std::string const notes = notes_of(of);
    if (!notes.empty()) {
        text += '\n';
        text += notes;
    }
    return detail::wrapped(text);
}

std::string to_string(prospect const& of) {
    plan const& the_plan = of.calendar().plan();
    std::string text = head_of(of.calendar());
    if (of.climate() != of.calendar().climate()) {
        text += fmt::format("Gone through in other season years. {}.\n", of.climate());
    }
    for (int i = 0; i < static_cast<int>(the_plan.successions().size()); ++i) {
        text += '\n';
        text += succession_text(of, i);
    }
    text += '\n' + detail::plan_cautions(told_by::prospect, the_plan);
    return detail::wrapped(text);
}

}  // namespace epicotyl
