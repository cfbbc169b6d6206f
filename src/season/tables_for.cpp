#include "tables_for.hpp"

#include <algorithm>

namespace epicotyl::detail {

namespace {

/// Links move days on; by how much is seen when they are followed.
constexpr int days_for_links = 30;

/// What the successions of one chain wait for at least.
struct chain_spans {
    int successions = 0;
    day_span sown;
    std::vector<day_span> floors;
};

}  // namespace

void chain_targets::add(succession_days const& known, int target, bool linked) {
    is_linked |= linked;
    targets.resize(known.bounds().size());
    floors.resize(known.bounds().size());
    for (std::size_t e = 0; e < floors.size(); ++e) { floors[e].add(known.bounds()[e].not_before); }
    int const day = std::max(known.asked, known.bounds()[at(target)].not_before);
    targets[at(target)].add(day);
}

void expect_targets(season_model& model, int chain, chain_targets const& what) {
    stage_chain const& stages = model.chains[at(chain)];
    if (what.is_scanned) {
        for (stage_tables const& one : stages.stages) {
            model.waits[at(one.wait)].expect_starts({0, model.season_days});
        }
        return;
    }
    day_span sown;
    std::vector<day_span> floors = what.floors;
    for (std::size_t e = 0; e < what.targets.size(); ++e) {
        day_span const& days = what.targets[e];
        if (days.empty() || days.last - days.first > days_a_succession * what.successions) {
            continue;
        }
        sown.add(model.expect_targets(chain, static_cast<int>(e), days));
        if (!is_outcome(*stages.grown, static_cast<int>(e))) { floors[e].add(days); }
    }
    if (sown.empty()) { return; }
    if (what.is_linked) {
        for (day_span& floor : floors) { floor.last += days_for_links; }
        sown.last += days_for_links;
    }
    model.expect_sowings(chain, sown, floors);
}

void expect_calendar(season_model& model, calendar_data const& planned) {
    std::vector<chain_spans> all(model.chains.size());
    for (std::size_t c = 0; c < all.size(); ++c) {
        all[c].floors.resize(model.chains[c].stages.size() + 1);
    }
    for (std::size_t k = 0; k < planned.order.size(); ++k) {
        batch_walk const& one = planned.walks[k];
        chain_spans& spans = all[at(one.chain)];
        spans.sown.add(std::min(one.sowing, model.season_days));
        for (int e = 0; e < static_cast<int>(spans.floors.size()); ++e) {
            day_span& floor = spans.floors[at(e)];
            floor.add(
                std::max((*one.bounds)[at(e)].not_before, e == one.target ? one.wait_for : 0));
            if (!one.is_linked) { continue; }
            for (std::int16_t const day : planned.days.row_days(planned.order[k], e)) {
                if (day < never) { floor.last = std::max<int>(floor.last, day); }
            }
        }
        ++spans.successions;
    }
    model.expect_links();
    for (std::size_t c = 0; c < all.size(); ++c) {
        day_span const& sown = all[c].sown;
        if (sown.empty() || sown.last - sown.first > days_a_succession * all[c].successions) {
            continue;
        }
        model.expect_sowings(static_cast<int>(c), sown, all[c].floors);
    }
}

}  // namespace epicotyl::detail
