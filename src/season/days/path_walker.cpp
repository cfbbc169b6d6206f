#include "path_walker.hpp"

#include <algorithm>
#include <utility>

#include <epicotyl/plan/plan.hpp>

#include "lost.hpp"

namespace epicotyl::detail {

int clock_ready(season_model const& model, days_table const& days, int sowing, int succession,
                int event, int year) {
    return event == 0
               ? std::min(sowing, never)
               : model.ready(succession, event - 1, year, days.at(succession, event - 1, year));
}

path_walker::path_walker(season_model const& model, std::vector<succession_days> const& successions)
    : model_{model}, successions_{successions} {
    std::vector<resolved_link> const& links = model.planned.links();
    // An outcome waits for nobody; a `within` on it is counted.
    auto const waits = [&](event_of const& then) {
        return model.paths[at(model.path_of[at(then.succession)])].is_decision[at(then.event)];
    };
    std::vector<std::pair<int, incoming_link>> incoming;
    for (int i = 0; i < static_cast<int>(links.size()); ++i) {
        event_of const& then = links[at(i)].then;
        if (waits(then)) { incoming.push_back({then.succession, {then.event, i}}); }
    }
    incoming_ = {model.planned.successions().size(), incoming};
}

void path_walker::gather(days_table& days, awaited const& wave, int first_year,
                         int last_year) const {
    std::int16_t* const all = days.gathered_days(wave.wave).data();
    std::fill(all + first_year, all + last_year,
              static_cast<std::int16_t>(wave.first_decides ? never : 0));
    for (event_of const& first : wave.firsts) {
        std::int16_t const* const came = days.row_days(first.succession, first.event).data();
        for (int y = first_year; y < last_year; ++y) {
            all[y] = wave.first_decides ? std::min(all[y], came[y]) : std::max(all[y], came[y]);
        }
    }
}

int path_walker::link_day(days_table const& days, int succession, int event, int year) const {
    int latest = 0;
    for (incoming_link const& in : incoming(succession)) {
        if (in.event == event) { latest = std::max(latest, link_day(days, in.link, year)); }
    }
    return latest;
}

int path_walker::link_day(days_table const& days, int link, int year) const {
    return model_.link_wait(link).ready(deciding_day(days, model_.awaited_by(link), year), year);
}

void path_walker::wait_for_links(days_table& days, int succession, int event, int first_year,
                                 int last_year) const {
    std::int16_t* const row = days.day.get() + days.cell(succession, event, 0);
    for (incoming_link const& in : incoming(succession)) {
        if (in.event != event) { continue; }
        for (int y = first_year; y < last_year; ++y) {
            int const allowed = link_day(days, in.link, y);
            if (allowed > row[y]) { row[y] = static_cast<std::int16_t>(allowed); }
        }
    }
}

batch_walk path_walker::batch(int succession, int sowing, int wait_for) const {
    return {.succession = succession,
            .path = model_.path_of[at(succession)],
            .target = model_.planned.successions()[at(succession)].target_event,
            .sowing = sowing,
            .wait_for = wait_for,
            .is_linked = has_links(succession),
            .bounds = &successions_[at(succession)].bounds()};
}

void path_walker::walk(days_table& days, batch_walk const& what, int first_event, int first_year,
                       int last_year) const {
    std::vector<stage_tables> const& stages = model_.paths[at(what.path)].stages;
    int const season_days = model_.season_days;
    auto const day_within = [&](int came) {
        return static_cast<std::int16_t>(came > season_days ? never : came);
    };
    std::int16_t* row = days.day.get() + days.cell(what.succession, first_event, 0);
    for (int e = first_event; e <= static_cast<int>(stages.size()); ++e, row += days.years) {
        int const floor =
            std::max((*what.bounds)[at(e)].not_before, e == what.target ? what.wait_for : 0);
        if (e == 0) {
            std::fill(row + first_year, row + last_year, day_within(std::max(what.sowing, floor)));
        } else {
            // The years do not wait for one another: their look-ups overlap.
            wait_table const& wait = model_.waits[at(stages[at(e - 1)].wait)];
            std::int16_t const* const before = row - days.years;
            for (int y = first_year; y < last_year; ++y) {
                row[y] = day_within(std::max(wait.ready(before[y], y), floor));
            }
        }
        if (what.is_linked) { wait_for_links(days, what.succession, e, first_year, last_year); }
    }
}

bool path_walker::is_good(days_table const& days, int succession, int year) const {
    succession_days const& known = successions_[at(succession)];
    resolved_succession const& one = model_.planned.successions()[at(succession)];
    for (int e = 0; e < event_count(*one.grown); ++e) {
        if (days.at(succession, e, year) > known.bounds()[at(e)].not_after) { return false; }
    }
    int const came = days.at(succession, one.target_event, year);
    if (in_harvest_rule const* const harvest = harvest_asked(one.target_rule)) {
        season const& window = model_.planned.window();
        int const clear = event_count(*one.grown) - 1;
        return came <= window.offset_of(harvest->from) &&
               days.at(succession, clear, year) > window.offset_of(harvest->until) &&
               lost_night(model_, days, succession, year) >= never;
    }
    return came <= known.target_day;
}

void path_walker::strike_bad_years(days_table const& days, int succession,
                                   std::span<char> good) const {
    resolved_succession const& one = model_.planned.successions()[at(succession)];
    if (is_scanned_for(one.target_rule)) {
        for (int y = 0; y < model_.years; ++y) {
            good[at(y)] &= is_good(days, succession, y) ? 1 : 0;
        }
        return;
    }
    succession_days const& known = successions_[at(succession)];
    for (int e = 0; e < event_count(*one.grown); ++e) {
        int const by = std::min(known.bounds()[at(e)].not_after,
                                e == one.target_event ? known.target_day : never);
        if (by >= never) { continue; }
        std::span<std::int16_t const> const came = days.row_days(succession, e);
        for (std::size_t y = 0; y < came.size(); ++y) { good[y] &= came[y] <= by ? 1 : 0; }
    }
}

int path_walker::good_years(days_table const& days, int succession) const {
    std::vector<char> good(at(model_.years), 1);
    strike_bad_years(days, succession, good);
    return static_cast<int>(std::count(good.begin(), good.end(), 1));
}

int path_walker::wait_day(int succession) const {
    int const target = model_.planned.successions()[at(succession)].target_event;
    bool const is_decision =
        model_.paths[at(model_.path_of[at(succession)])].is_decision[at(target)];
    return is_decision ? successions_[at(succession)].target_day : 0;
}

}  // namespace epicotyl::detail
