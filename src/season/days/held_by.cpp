#include "held_by.hpp"

#include <algorithm>
#include <functional>
#include <tuple>

#include "second_walk.hpp"

namespace epicotyl::detail {

namespace {

/// Requirements that are tried at most; a chain that is longer is told as far as this.
constexpr std::size_t most_tried = 96;

/// Nearest first, and not by the order of links.
void put_in_order(season_model const& model, second_walk const& walk, std::vector<holder>& all) {
    auto const key = [&](holder const& one) {
        int waited_for = -1;
        int its_event = -1;
        if (one.kind == holder_kind::link) {
            event_of const& first =
                model.planned.links()[at(one.index)].firsts[at(std::max(0, one.member))];
            waited_for = first.succession;
            its_event = first.event;
        }
        return std::tuple{
            -walk.place(one.succession), -one.event, one.kind, waited_for, its_event, one.index};
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

}  // namespace

held_day what_holds_planned(calendar_data const& data, int succession, int event) {
    second_walk walk{data, succession, false};
    int const planned = data.successions[at(succession)].planned[at(event)];
    resolved_succession const& one = data.model->planned.successions()[at(succession)];
    held_day held;
    std::vector<holder> candidates;
    for (int e = 0; e <= event; ++e) {
        if (walk.own_day(e) != planned) { continue; }
        if (e == one.target_event && !is_outcome(*one.grown, e)) {
            candidates.push_back({holder_kind::target, succession, e});
        } else if (e == 0) {
            candidates.push_back({holder_kind::sowing, succession, 0});
        } else {
            for (int y = 0; y < walk.years(); ++y) {
                if (walk.day(succession, e, y) >= planned) {
                    walk.collect(succession, e, y, candidates);
                }
            }
        }
    }
    for (int y = 0; y < walk.years(); ++y) {
        held.sooner_years += walk.day(succession, event, y) < planned;
    }
    put_in_order(*data.model, walk, candidates);
    if (candidates.size() > most_tried) { candidates.resize(most_tried); }
    held.by = named(candidates, [&](std::vector<holder> const& without) {
        walk.walk(without);
        return walk.planned(event) < planned;
    });
    put_in_order(*data.model, walk, held.by);
    return held;
}

held_day what_holds_earliest(calendar_data const& data, int succession) {
    succession_days const& known = data.successions[at(succession)];
    second_walk walk{data, succession, true, known.spring_starts};
    held_day held;
    held.is_clear = walk.sowing(succession) == known.sowing;
    if (!held.is_clear) { return held; }
    held.is_season_start = known.sowing == 0;
    std::vector<holder> candidates;
    walk.collect_earliest(succession, candidates);
    put_in_order(*data.model, walk, candidates);
    if (candidates.size() > most_tried) { candidates.resize(most_tried); }
    held.by = named(candidates, [&](std::vector<holder> const& without) {
        walk.walk(without);
        return walk.sowing(succession) < known.sowing;
    });
    put_in_order(*data.model, walk, held.by);
    return held;
}

held_day what_holds_target(calendar_data const& data, int succession) {
    second_walk walk{data, succession, true};
    int const planned = data.successions[at(succession)].target_day;
    held_day held;
    held.is_clear = walk.target_day(succession) == planned;
    if (!held.is_clear) { return held; }
    std::vector<holder> candidates;
    walk.collect_target(succession, candidates);
    for (int y = 0; y < walk.years(); ++y) {
        held.sooner_years += walk.ready_target(succession, y) < planned;
    }
    held.is_season_start = walk.sowing(succession) == 0;
    put_in_order(*data.model, walk, candidates);
    if (candidates.size() > most_tried) { candidates.resize(most_tried); }
    held.by = named(candidates, [&](std::vector<holder> const& without) {
        walk.walk(without);
        return walk.target_day(succession) < planned;
    });
    put_in_order(*data.model, walk, held.by);
    int const first_clock = 1;
    bool const from_sowing = std::any_of(held.by.begin(), held.by.end(), [&](holder const& one) {
        return one.succession == succession && one.kind == holder_kind::clock &&
               one.event == first_clock;
    });
    held.is_season_start = held.is_season_start && (from_sowing || held.by.empty());
    return held;
}

}  // namespace epicotyl::detail
