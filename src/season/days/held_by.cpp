#include "held_by.hpp"

#include <algorithm>
#include <functional>
#include <tuple>

#include <epicotyl/plan/plan.hpp>

#include "attaining_rows.hpp"
#include "second_walk.hpp"

namespace epicotyl::detail {

namespace {

/// Requirements that are tried at most; a longer list is told as far as this.
constexpr std::size_t most_tried = 96;

/// Of what holds one event: what is told first.
int rank_of(requirement_row const& what) {
    switch (what.kind) {
        case requirement_kind::target:
            return 0;
        case requirement_kind::not_before:
            return 1;
        case requirement_kind::link:
            return 2;
        case requirement_kind::stage:
            return 3;
        default:
            return what.note == planned_target ? 4 : what.note == planned_sowing ? 5 : 6;
    }
}

/// Nearest first, and not by the order of links.
void put_in_order(second_walk const& walk, std::vector<holder>& all) {
    season_model const& model = *walk.data().model;
    auto const key = [&](holder const& one) {
        requirement_row const& what = one.what;
        event_of const& first = what.awaited >= 0 && what.from == no_event
                                    ? model.awaited_all[at(what.awaited)].firsts.front()
                                    : what.from;
        bool const is_link = what.kind == requirement_kind::link;
        return std::tuple{-walk.place(what.to.succession),
                          -what.to.event,
                          rank_of(what),
                          is_link ? first.succession : -1,
                          is_link ? first.event : -1,
                          is_link ? what.link : what.note};
    };
    std::sort(all.begin(), all.end(),
              [&](holder const& a, holder const& b) { return key(a) < key(b); });
}

/// Of candidates, those that belong to a least set without which the day moves.
std::vector<holder> named(std::vector<holder> const& candidates,
                          std::function<bool(std::vector<holder> const&)> const& moves) {
    std::vector<holder> ties;
    std::vector<holder> result;
    for (holder const& one : candidates) {
        if (moves({one})) {
            result.push_back(one);
        } else {
            ties.push_back(one);
        }
    }
    if (ties.empty() || !moves(ties)) { return result; }
    auto const is_needed_with = [&](holder const& one, bool from_behind) {
        std::vector<holder> least = ties;
        std::vector<holder> order = ties;
        if (from_behind) { std::reverse(order.begin(), order.end()); }
        for (holder const& other : order) {
            if (other == one) { continue; }
            std::vector<holder> fewer = least;
            fewer.erase(std::find(fewer.begin(), fewer.end(), other));
            if (moves(fewer)) { least = std::move(fewer); }
        }
        least.erase(std::find(least.begin(), least.end(), one));
        return !moves(least);
    };
    for (holder one : ties) {
        if (is_needed_with(one, false) || is_needed_with(one, true)) {
            one.is_alone = false;
            result.push_back(one);
        }
    }
    return result;
}

/// Of the rows that attain a day, those without which the season, walked again, `comes_sooner`.
std::vector<holder> holding(second_walk& walk, attaining_rows& attaining,
                            std::function<bool()> const& comes_sooner) {
    std::vector<holder>& candidates = attaining.found();
    put_in_order(walk, candidates);
    if (candidates.size() > most_tried) { candidates.resize(most_tried); }
    std::vector<holder> found = named(candidates, [&](std::vector<holder> const& without) {
        walk.walk(without);
        return comes_sooner();
    });
    put_in_order(walk, found);
    return found;
}

}  // namespace

held_day what_holds_planned(calendar_data const& data, int succession, int event) {
    second_walk walk{data, succession, false};
    int const planned = data.successions[at(succession)].planned[at(event)];
    resolved_succession const& one = data.model->planned.successions()[at(succession)];
    held_day held;
    attaining_rows attaining{walk};
    for (int e = 0; e <= event; ++e) {
        if (walk.own_day(e) != planned) { continue; }
        if (e == one.target_event && !is_outcome(*one.grown, e)) {
            attaining.add(planned_row(succession, e, planned_target));
        } else if (e == 0) {
            attaining.add(planned_row(succession, 0, planned_sowing));
        } else {
            for (int y = 0; y < walk.years(); ++y) {
                if (walk.day(succession, e, y) >= planned) { attaining.add_day(succession, e, y); }
            }
        }
    }
    for (int y = 0; y < walk.years(); ++y) {
        held.sooner_years += walk.day(succession, event, y) < planned;
    }
    held.by = holding(walk, attaining, [&] { return walk.planned(event) < planned; });
    return held;
}

held_day what_holds_earliest(calendar_data const& data, int succession) {
    succession_days const& known = data.successions[at(succession)];
    second_walk walk{data, succession, true, known.spring_starts};
    held_day held;
    held.is_clear = walk.sowing(succession) == known.sowing;
    if (!held.is_clear) { return held; }
    held.is_season_start = known.sowing == 0;
    attaining_rows attaining{walk};
    attaining.add_earliest(succession);
    held.by = holding(walk, attaining, [&] { return walk.sowing(succession) < known.sowing; });
    return held;
}

held_day what_holds_target(calendar_data const& data, int succession) {
    second_walk walk{data, succession, true};
    int const planned = data.successions[at(succession)].target_day;
    held_day held;
    held.is_clear = walk.target_day(succession) == planned;
    if (!held.is_clear) { return held; }
    attaining_rows attaining{walk};
    attaining.add_target(succession);
    for (int y = 0; y < walk.years(); ++y) {
        held.sooner_years += walk.ready_target(succession, y) < planned;
    }
    held.is_season_start = walk.sowing(succession) == 0;
    held.by = holding(walk, attaining, [&] { return walk.target_day(succession) < planned; });
    int const first_clock = 1;
    bool const from_sowing = std::any_of(held.by.begin(), held.by.end(), [&](holder const& one) {
        return one.what.kind == requirement_kind::stage &&
               one.what.to == event_of{succession, first_clock};
    });
    held.is_season_start = held.is_season_start && (from_sowing || held.by.empty());
    return held;
}

}  // namespace epicotyl::detail
