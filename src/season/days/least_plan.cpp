#include "least_plan.hpp"

#include <algorithm>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../rows/rule_days.hpp"
#include "diagnose.hpp"
#include "latest_sowing.hpp"
#include "tables_for.hpp"

namespace epicotyl::detail {

void least_plan::plan_least(std::map<int, int> const& harvests) {
    trials_.forget_days();
    std::ranges::fill(missing_, std::nullopt);
    for (int i : order_) { least(i, harvests); }
}

void least_plan::least(int i, std::map<int, int> const& harvests) {
    succession_days& mine = known(i);
    mine.resolved = false;
    is_tried_[at(i)] = 0;
    obstacles_[at(i)].clear();
    if (alike_.taken_from(i)) { data_.days.forget(i); }
    alike_.take_none(i);
    if (!can_wait(i) || !read_rules(i, harvests)) { return; }
    if (!is_linked(i) && !is_in_harvest(i)) {
        int const earliest = mine.bounds().front().not_before;
        if (!aim_alone(i, earliest)) { aim(i, earliest); }
        return;
    }
    data_.days.give_rows(i);
    trials_.gather_for(i);

    int const link_floor = links_floor(i);
    if (link_floor >= never) {
        obstacles_[at(i)] = {links_never(model_, walker_, data_.days, mine, i)};
        return;
    }
    int const earliest = std::max(mine.bounds().front().not_before, link_floor);
    if (is_in_harvest(i)) {
        scan_harvest(i, earliest);
    } else {
        aim(i, earliest);
    }
}

bool least_plan::read_rules(int i, std::map<int, int> const& harvests) {
    return rules_.read(i, first_harvest(i, harvests), obstacles_[at(i)]);
}

void least_plan::expect_days() {
    std::vector<path_targets> all(model_.paths.size());
    for (int i : order_) {
        path_targets& path = all[at(model_.path_of[at(i)])];
        ++path.successions;
        if (is_in_harvest(i)) {
            path.is_scanned = true;
        } else if (!batches_[at(i)].repeat_of && read_rules(i, {})) {
            path.add(known(i), batches_[at(i)].target_event, is_linked(i));
        }
    }
    model_.expect_links();
    for (std::size_t c = 0; c < all.size(); ++c) {
        expect_targets(model_, static_cast<int>(c), all[c]);
    }
    model_.fill_tables(1);
}

bool least_plan::can_wait(int i) {
    resolved_succession const& one = batches_[at(i)];
    auto const blame = [&](int other, char const* code, char const* how) {
        obstacles_[at(i)] = {
            {.succession = one.name,
             .code = code,
             .sentence = fmt::format("{} \"{}\", which has no date", how, batches_[at(other)].name),
             .cure = fmt::format("fix \"{}\" first", batches_[at(other)].name)}};
        return false;
    };
    if (one.repeat_of && !known(*one.repeat_of).resolved) {
        return blame(*one.repeat_of, "repeat.unresolved", "it repeats");
    }
    // Of several the first in the plan, whatever the order of links.
    int const none = static_cast<int>(batches_.size());
    int missing = none;
    for (incoming_link const& in : walker_.incoming(i)) {
        missing = std::min(missing, missing_of(model_.awaited_of_link[at(in.link)], none));
    }
    return missing == none || blame(missing, "link.unresolved", "it waits for");
}

int least_plan::missing_of(int awaited, int none) {
    std::optional<int>& found = missing_[at(awaited)];
    if (!found) {
        found = none;
        for (event_of const& first : model_.awaited_all[at(awaited)].firsts) {
            if (!known(first.succession).resolved) { found = std::min(*found, first.succession); }
        }
    }
    return *found;
}

std::optional<int> least_plan::first_harvest(int i, std::map<int, int> const& harvests) {
    std::optional<int> const first = batches_[at(i)].repeat_of;
    if (!first) { return std::nullopt; }
    auto const settled = harvests.find(*first);
    return settled != harvests.end() ? settled->second : planned_harvest(*first);
}

bool least_plan::ask_the_same(int i, int other) const {
    succession_days const& mine = data_.successions[at(i)];
    succession_days const& its = data_.successions[at(other)];
    // What has bounds together has the event aimed at together, and whether that is exact.
    return its.resolved && its.asked == mine.asked && its.need == mine.need &&
           its.reliability == mine.reliability && &its.bounds() == &mine.bounds() &&
           is_early(other) == is_early(i);
}

bool least_plan::aim_alone(int i, int earliest) {
    auto const like = alike_.candidate(i, known(i).asked);
    if (like && !data_.days.has_rows(i) && ask_the_same(i, *like)) {
        take_days_of(i, *like);
        return true;
    }
    data_.days.give_rows(i);
    if (!seek_alone(i, earliest)) { return false; }
    alike_.remember(i, known(i).asked);
    return true;
}

void least_plan::take_days_of(int i, int other) {
    succession_days const& its = known(other);
    succession_days& mine = known(i);
    alike_.take(i, other);
    mine.earliest_ready = its.earliest_ready;
    mine.target_day = its.target_day;
    mine.sowing = its.sowing;
    mine.latest_sowing = its.latest_sowing;
    mine.spring_starts = its.spring_starts;
    mine.resolved = true;
    mine.claim = its.claim;
    if (mine.claim.broken >= 0) { mine.claim.broken = i; }
    data_.days.share_rows(other, i);
}

bool least_plan::seek_alone(int i, int earliest) {
    succession_days& mine = known(i);
    mine.earliest_ready = earliest_.kth_day(walker_, data_.days, i, earliest,
                                            batches_[at(i)].target_event, mine.need);
    if (mine.earliest_ready >= never) { return false; }
    mine.target_day = target_day(i);
    latest_good_sowings(model_, mine, i, latest_);
    mine.sowing = latest_for_need(mine.need);
    if (mine.sowing < earliest) { return false; }
    if (is_early(i)) { mine.sowing = std::max(earliest, spring_of(i, mine.sowing)); }
    mine.resolved = true;
    walker_.walk_all(data_.days, i, mine.sowing, walker_.wait_day(i));
    mine.claim = {.good = good_from(mine.sowing), .link_days_kept = model_.years};
    if (mine.sowing < model_.season_days) {
        mine.claim.good_one_day_later = good_from(mine.sowing + 1);
        if (mine.claim.good_one_day_later >= mine.need) { return true; }  // sown early
        mine.claim.broken = i;
        mine.claim.broken_claim = "target";
    }
    return true;
}

int least_plan::target_day(int i) const {
    resolved_succession const& one = batches_[at(i)];
    succession_days const& mine = data_.successions[at(i)];
    bool const decision = !is_outcome(*one.grown, one.target_event);
    if (!decision || asks_exactly(one.target_rule)) { return mine.asked; }
    return std::max(
        {mine.asked, mine.earliest_ready, mine.bounds()[at(one.target_event)].not_before});
}

void least_plan::aim(int i, int earliest) {
    succession_days& mine = known(i);
    resolved_succession const& one = batches_[at(i)];
    earliest_.walk(walker_, data_.days, i, earliest);
    mine.earliest_ready = kth_smallest(data_.days.row_days(i, one.target_event), mine.need);
    mine.target_day = target_day(i);
    is_tried_[at(i)] = 1;
    mine.sowing = earliest;
    if (mine.earliest_ready >= never) {
        obstacles_[at(i)] = {never_ready(model_, walker_, data_.days, mine, i)};
        return;
    }
    // Waiting for a late target can itself break a `not_after`.
    int const wait_for = walker_.wait_day(i);
    if (wait_for > 0) {
        walker_.walk(data_.days, walker_.batch(i, earliest, wait_for), one.target_event, 0,
                     model_.years);
    }
    if (walker_.good_years(data_.days, i) < mine.need) {
        obstacles_[at(i)] = {too_few_good(model_, walker_, data_.days, mine, i, earliest)};
        return;
    }
    // A sowing that is the target waits for its day.
    if (one.target_event == 0) { mine.sowing = std::max(earliest, wait_for); }
    mine.resolved = true;
}

void least_plan::scan_harvest(int i, int earliest) {
    succession_days& mine = known(i);
    mine.target_day = mine.asked;
    mine.sowing = earliest;
    most_good found;
    auto const [first, last] = may_be_in_harvest(i, earliest);
    for (int s = first; s <= last; ++s) {
        walker_.walk_all(data_.days, i, s, 0);
        int const good = walker_.good_years(data_.days, i);
        if (good > 0) { found.add(s, good); }
    }
    int const best = found.most();
    if (best > 0) { mine.sowing = chosen(i, found); }
    if (best < mine.need) {
        obstacles_[at(i)] = {too_seldom_in_harvest(model_, walker_, data_.days, mine, i, earliest)};
    }
    is_tried_[at(i)] = 1;
    walker_.walk_all(data_.days, i, mine.sowing, 0);
    mine.resolved = best >= mine.need;
    mine.earliest_ready =
        kth_smallest(data_.days.row_days(i, batches_[at(i)].target_event), mine.need);
}

}  // namespace epicotyl::detail
