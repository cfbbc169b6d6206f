#include "raised_plan.hpp"

#include <algorithm>
#include <optional>

#include <epicotyl/plan/plan.hpp>

#include "latest_sowing.hpp"

namespace epicotyl::detail {

namespace {

/// A repeat's later members aim at a day that the plan itself sets; it is sought again until it
/// stays. Without links between them the second round settles it.
constexpr int most_rounds = 8;

}  // namespace

void raised_plan::plan_all() {
    std::map<int, int> harvests;
    for (int round = 0; round < most_rounds; ++round) {
        plan_least(harvests);
        raise_all();
        std::map<int, int> const settled = first_harvests();
        if (settled == harvests) { break; }
        harvests = settled;
    }
}

void raised_plan::count_claim(int i) {
    if (!is_linked(i) && !is_in_harvest(i)) { return; }
    succession_days& mine = known(i);
    mine.claim = {.good = walker_.good_years(data_.days, i),
                  .link_days_kept = trials_.link_years_kept(i)};
    if (mine.sowing >= model_.season_days) { return; }
    if (!is_in_harvest(i)) {
        mine.claim.good_one_day_later = good_one_day_later(i);
        if (mine.claim.good_one_day_later < mine.need) {
            mine.claim.broken = i;
            mine.claim.broken_claim = "target";
            return;
        }
        if (model_.awaits_of[at(i)].empty()) { return; }
    }
    trials_.start();
    kept_rows kept = trials_.keep();
    broken_claim const broken = trials_.try_sowing(i, mine.sowing + 1, kept);
    if (broken.succession >= 0) {
        mine.claim.good_one_day_later = broken.count;
        mine.claim.broken = broken.succession;
        mine.claim.broken_claim = broken.claim;
    } else {
        // Enough years may be left of the most that there are, which `in_harvest` asks for.
        mine.claim.good_one_day_later = walker_.good_years(data_.days, i);
    }
    kept.restore();
}

int raised_plan::good_one_day_later(int i) {
    latest_good_sowings(model_, known(i), i, latest_);
    std::vector<char> good(at(model_.years), 1);
    walker_.strike_bad_years(data_.days, i, good);
    int count = 0;
    for (int y = 0; y < model_.years; ++y) {
        count += good[at(y)] != 0 && latest_[at(y)] > known(i).sowing ? 1 : 0;
    }
    return count;
}

void raised_plan::raise_all() {
    bool moves = true;
    while (moves) {
        moves = false;
        bool has_scanned = false;
        for (auto i = order_.rbegin(); i != order_.rend(); ++i) {
            if (!known(*i).resolved || !is_linked(*i)) { continue; }
            int const before = known(*i).sowing;
            if (is_in_harvest(*i)) {
                has_scanned = true;
                scan_again(*i);
            } else {
                raise(*i);
            }
            moves |= known(*i).sowing != before;
        }
        if (!has_scanned) { return; }
    }
}

void raised_plan::raise(int i) {
    succession_days& mine = known(i);
    trials_.start();
    int low = mine.sowing;
    // The latest sowing that its own target allows, its links left out, and that those bear who
    // wait for it; most often that one will do.
    latest_good_sowings(model_, mine, i, latest_);
    int high = latest_for_need(mine.need);
    if (is_early(i)) { high = std::min(high, spring_of(i, std::max(low, high))); }
    high = std::max(low, std::min(high, trials_.latest_borne(i)));
    bool has_moved = high > low && trials_.moves_to(i, high);
    if (has_moved) { low = high; }
    while (low < high) {
        int const tried = low + (high - low + 1) / 2;
        if (trials_.moves_to(i, tried)) {
            has_moved = true;
            low = tried;
        } else {
            high = tried - 1;
        }
    }
    mine.sowing = low;
    if (!has_moved) { trials_.settle(i, low); }
}

void raised_plan::scan_again(int i) {
    succession_days& mine = known(i);
    int const earliest = std::max(mine.bounds().front().not_before, links_floor(i));
    trials_.start();
    most_good found;
    auto const [first, last] = may_be_in_harvest(i, earliest);
    for (int s = first; s <= last; ++s) {
        kept_rows kept = trials_.keep();
        kept.keep(i);
        walker_.walk_all(data_.days, i, s, 0);
        int const good = walker_.good_years(data_.days, i);
        if (good >= found.most() && trials_.breaks_others(i, kept).succession < 0) {
            found.add(s, good);
        }
        kept.restore();
    }
    if (!found.days().empty()) { mine.sowing = chosen(i, found); }
    trials_.settle(i, mine.sowing);
    mine.earliest_ready =
        kth_smallest(data_.days.row_days(i, batches_[at(i)].target_event), mine.need);
}

std::map<int, int> raised_plan::first_harvests() {
    std::map<int, int> days;
    for (resolved_succession const& one : batches_) {
        if (one.repeat_of && known(*one.repeat_of).resolved) {
            days[*one.repeat_of] = planned_harvest(*one.repeat_of);
        }
    }
    return days;
}

}  // namespace epicotyl::detail
