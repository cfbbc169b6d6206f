#include "tables_for.hpp"

#include <algorithm>

#include "latest_sowing.hpp"

namespace epicotyl::detail {

namespace {

/// Links move days on; by how much is seen when they are followed.
constexpr int days_for_links = 30;

/// What the successions of one path wait for at least.
struct path_spans {
    int successions = 0;
    day_span sown;
    std::vector<day_span> floors;
    /// Of the last one added: most have the same.
    std::vector<event_bounds> const* bounds = nullptr;
};

/// The latest sowing after which an event comes by a day in so many years, bounds left out.
int sowing_for(season_model const& model, int path, int event, int day, int need) {
    std::vector<std::int16_t> latest(at(model.years), static_cast<std::int16_t>(day));
    read_back(model, path, event, 0, latest, [](int) { return day_span{0, never}; });
    return std::max(kth_smallest(latest, model.years - need + 1), 0);
}

}  // namespace

void path_targets::add(succession_days const& known, int target, bool linked) {
    is_linked |= linked;
    targets.resize(known.bounds().size());
    floors.resize(known.bounds().size());
    for (std::size_t e = 0; e < floors.size(); ++e) { floors[e].add(known.bounds()[e].not_before); }
    int const day = std::max(known.asked, known.bounds()[at(target)].not_before);
    targets[at(target)].add(day);
    needs.add({known.need, known.need});
}

void expect_targets(season_model& model, int path, path_targets const& what) {
    stage_path const& stages = model.paths[at(path)];
    if (what.is_scanned) {
        for (stage_tables const& one : stages.stages) { model.expect_all_starts(one.wait); }
        return;
    }
    day_span sown;
    std::vector<day_span> floors = what.floors;
    for (std::size_t e = 0; e < what.targets.size(); ++e) {
        day_span const& days = what.targets[e];
        if (days.empty() || days.last - days.first > days_a_succession * what.successions) {
            continue;
        }
        model.expect_targets(path, static_cast<int>(e), days);
        sown.add(sowing_for(model, path, static_cast<int>(e), days.first, what.needs.last));
        sown.add(sowing_for(model, path, static_cast<int>(e), days.last, what.needs.first));
        if (!is_outcome(*stages.grown, static_cast<int>(e))) { floors[e].add(days); }
    }
    if (sown.empty()) { return; }
    if (what.is_linked) {
        for (day_span& floor : floors) { floor.last += days_for_links; }
        sown.last += days_for_links;
    }
    model.expect_sowings(path, sown, floors);
}

void expect_calendar(season_model& model, calendar_data const& planned, int threads) {
    std::vector<path_spans> all(model.paths.size());
    for (std::size_t c = 0; c < all.size(); ++c) {
        all[c].floors.resize(model.paths[c].stages.size() + 1);
    }
    for (batch_walk const& one : planned.walks) {
        path_spans& spans = all[at(one.path)];
        spans.sown.add(std::min(one.sowing, model.season_days));
        ++spans.successions;
        std::vector<event_bounds> const& bounds = *one.bounds;
        spans.floors[at(one.target)].add(std::max(bounds[at(one.target)].not_before, one.wait_for));
        if (spans.bounds != &bounds) {
            for (std::size_t e = 0; e < bounds.size(); ++e) {
                if (e != at(one.target)) { spans.floors[e].add(bounds[e].not_before); }
            }
            spans.bounds = &bounds;
        }
    }
    for (resolved_link const& link : model.planned.links()) {
        event_of const& then = link.then;
        if (!planned.successions[at(then.succession)].resolved) { continue; }
        day_span& floor = all[at(model.path_of[at(then.succession)])].floors[at(then.event)];
        for (std::int16_t const day : planned.days.row_days(then.succession, then.event)) {
            if (day < never) { floor.last = std::max<int>(floor.last, day); }
        }
    }
    model.expect_links();
    for (std::size_t c = 0; c < all.size(); ++c) {
        day_span const& sown = all[c].sown;
        if (sown.empty() || sown.last - sown.first > days_a_succession * all[c].successions) {
            continue;
        }
        model.expect_sowings(static_cast<int>(c), sown, all[c].floors);
    }
    model.fill_tables(threads);
}

}  // namespace epicotyl::detail
