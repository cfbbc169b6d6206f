#include "attaining_rows.hpp"

#include <algorithm>

namespace epicotyl::detail {

void attaining_rows::add_day(int i, int e, int y) {
    open(i, e, y);
    follow();
}

void attaining_rows::add_earliest(int i) {
    least_sowing(i);
    follow();
}

void attaining_rows::add_target(int i) {
    least_target(i);
    follow();
}

void attaining_rows::add(requirement_row const& row) {
    if (std::ranges::find(found_, row, &holder::what) == found_.end()) { found_.push_back({row}); }
}

void attaining_rows::open(int i, int e, int y) {
    if (seen_.emplace(i, e, y).second) { open_.emplace_back(i, e, y); }
}

void attaining_rows::follow() {
    while (!open_.empty()) {
        auto const [i, event, year] = open_.back();
        open_.pop_back();
        int const came = walk_.day(i, event, year);
        for (requirement_row const& what : walk_.into(i, event)) { row(what, year, came); }
        if (event == 0) { sown(i, came); }
        if (event == walk_.batch(i).target_event) { aimed(i, came); }
    }
}

/// A row that attains a day in a year.
void attaining_rows::row(requirement_row const& what, int year, int came) {
    if (what.is_bound()) {
        if (what.days > 0 && walk_.clipped(what.days) == came) { add(what); }
        return;
    }
    if (what.awaited < 0) {
        from(what, what.from, year, came);
        return;
    }
    awaited const& wave = walk_.data().model->awaited_all[at(what.awaited)];
    for (event_of const& one : wave.firsts) {
        if (!wave.first_decides) {
            from(second_walk::of_member(what, one), one, year, came);
        } else if (walk_.day(one.succession, one.event, year) ==
                   walk_.gathered(what.awaited, year)) {
            from(what, one, year, came);
        }
    }
}

/// A link also where, of a sowing planned by a count, it allows none so soon.
void attaining_rows::from(requirement_row const& what, event_of const& first, int year, int came) {
    int const begun = walk_.day(first.succession, first.event, year);
    int const ready = walk_.clipped(walk_.data().model->waits[at(what.wait)].ready(begun, year));
    if (what.kind == requirement_kind::link ? ready < came : ready != came) { return; }
    add(what);
    open(first.succession, first.event, year);
}

void attaining_rows::bounds(int i, int event, int came) {
    for (requirement_row const& what : walk_.into(i, event)) {
        if (what.is_bound()) { row(what, 0, came); }
    }
}

/// The planned sowing, if it comes on a day, or in the least plan what attains it.
void attaining_rows::sown(int i, int came) {
    if (walk_.is_aimed_sowing(i) || walk_.clipped(walk_.sowing(i)) != came) { return; }
    if (walk_.is_least() && !walk_.is_scanned(i)) {
        least_sowing(i);
    } else {
        add(planned_row(i, 0, planned_sowing));
    }
}

/// The same of the day that a decision aimed at waits for.
void attaining_rows::aimed(int i, int came) {
    int const target = walk_.batch(i).target_event;
    if (!walk_.is_decision(i, target) || walk_.clipped(walk_.target_day(i)) != came) { return; }
    if (!walk_.is_least()) {
        add(planned_row(i, target, planned_target));
    } else if (i != walk_.own()) {
        least_target(i);
    }
}

void attaining_rows::least_sowing(int i) {
    int const sown = walk_.sowing(i);
    bounds(i, 0, walk_.clipped(sown));
    if (sown > 0 && walk_.spring_day(i) == sown) { add(planned_row(i, 0, planned_spring)); }
    if (walk_.sowing_floor(i) != sown || sown == 0) { return; }
    for (int y = 0; y < walk_.years(); ++y) {
        if (walk_.link_day(i, 0, y) < sown) { continue; }
        for (requirement_row const& what : walk_.into(i, 0)) {
            if (!what.is_bound()) { row(what, y, walk_.clipped(sown)); }
        }
    }
}

void attaining_rows::least_target(int i) {
    int const target = walk_.batch(i).target_event;
    int const aim = walk_.target_day(i);
    if (walk_.data().successions[at(i)].asked == aim) { add(asked_row(i, target)); }
    if (walk_.is_exact(i)) { return; }
    bounds(i, target, walk_.clipped(aim));
    if (walk_.usual_target(i) != aim) { return; }
    for (int y = 0; y < walk_.years(); ++y) {
        int const came = walk_.ready_target(i, y);
        if (came < aim) { continue; }
        for (requirement_row const& what : walk_.into(i, target)) { row(what, y, came); }
        if (target == 0 && walk_.clipped(walk_.sowing(i)) == came) { least_sowing(i); }
    }
}

}  // namespace epicotyl::detail
