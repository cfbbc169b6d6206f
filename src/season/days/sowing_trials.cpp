#include "sowing_trials.hpp"

#include <algorithm>

namespace epicotyl::detail {

sowing_trials::sowing_trials(calendar_data& data, season_model const& model,
                             path_walker const& walker)
    : data_{data},
      model_{model},
      walker_{walker},
      waves_{model, walker, data.days},
      bearable_{model, walker, data.days, data.successions},
      place_in_order_(model.planned.successions().size(), 0) {}

void sowing_trials::set_order(std::vector<int> const& order) {
    for (std::size_t k = 0; k < order.size(); ++k) {
        place_in_order_[at(order[k])] = static_cast<int>(k);
    }
}

void sowing_trials::forget_days() {
    waves_.forget();
    bearable_.forget_all();
}

void sowing_trials::gather_for(int succession) {
    for (incoming_link const& in : walker_.incoming(succession)) {
        awaited const& one = model_.awaited_by(in.link);
        if (one.is_wave()) { waves_.gather(one); }
    }
}

int sowing_trials::link_years_kept(int succession) const {
    if (!walker_.has_links(succession, 0)) { return model_.years; }
    int kept = 0;
    for (int y = 0; y < model_.years; ++y) {
        kept += walker_.link_day(data_.days, succession, 0, y) <= known(succession).sowing;
    }
    return kept;
}

int sowing_trials::latest_borne(int succession) {
    int latest = never;
    for (awaited_in const& in : model_.awaits_of[at(succession)]) {
        for (last_days const& by : bearable_.of(in.which)) {
            latest = std::min(latest, latest_sowing_before(model_, walker_, known(succession),
                                                           succession, in.event, by));
        }
    }
    return latest;
}

std::vector<char> sowing_trials::good_now(int succession) const {
    std::vector<char> good(at(model_.years), 1);
    walker_.strike_bad_years(data_.days, succession, good);
    return good;
}

void sowing_trials::add_those_after(int succession, kept_rows& kept) {
    if (!kept.has_moved()) { return; }
    for (awaited_in const& in : model_.awaits_of[at(succession)]) {
        awaited const& all = model_.awaited_all[at(in.which)];
        if (all.is_wave()) {
            if (!waves_.is_gathered(all)) { continue; }
            kept.keep(all);
            if (!waves_.follow(all, succession, in.event)) { continue; }
        }
        for (int const link : all.links) {
            int const then = model_.planned.links()[at(link)].then.succession;
            if (known(then).resolved) { moved_.emplace(place_in_order_[at(then)], then); }
        }
    }
}

broken_claim sowing_trials::broken_of(int succession) const {
    std::vector<char> const good = good_now(succession);
    int const still = static_cast<int>(std::ranges::count(good, 1));
    if (still < known(succession).need) { return {succession, "target", still}; }
    int const years_kept = link_years_kept(succession);
    if (years_kept < known(succession).link_need) { return {succession, "links", years_kept}; }
    auto const had = had_.find(succession);
    if (had == had_.end()) { return {}; }
    // No good harvest year is taken from it, though others may be left.
    int both = 0;
    for (std::size_t y = 0; y < good.size(); ++y) { both += good[y] & had->second[y]; }
    if (both < std::ranges::count(had->second, 1)) { return {succession, "harvest", both}; }
    return {};
}

broken_claim sowing_trials::try_sowing(int succession, int sowing, kept_rows& kept) {
    kept.keep(succession);
    walker_.walk_all(data_.days, succession, sowing, walker_.wait_day(succession));
    int const good = walker_.good_years(data_.days, succession);
    if (good < known(succession).need) { return {succession, "target", good}; }
    return breaks_others(succession, kept);
}

broken_claim sowing_trials::breaks_others(int succession, kept_rows& kept) {
    moved_.clear();
    add_those_after(succession, kept);
    while (!moved_.empty()) {
        int const other = moved_.begin()->second;
        moved_.erase(moved_.begin());
        bool const keeps_years =
            is_scanned_for(model_.planned.successions()[at(other)].target_rule);
        if (keeps_years && !had_.contains(other)) { had_[other] = good_now(other); }
        kept.keep(other);
        walker_.walk_all(data_.days, other, known(other).sowing, walker_.wait_day(other));
        broken_claim const broken = broken_of(other);
        if (broken.succession >= 0) { return broken; }
        add_those_after(other, kept);
    }
    return {};
}

bool sowing_trials::moves_to(int succession, int sowing) {
    kept_rows kept = keep();
    bool const holds = try_sowing(succession, sowing, kept).succession < 0;
    if (holds) {
        bear_anew(kept);
    } else {
        kept.restore();
    }
    return holds;
}

void sowing_trials::settle(int succession, int sowing) {
    kept_rows kept = keep();
    kept.keep(succession);
    walker_.walk_all(data_.days, succession, sowing, walker_.wait_day(succession));
    breaks_others(succession, kept);
    bear_anew(kept);
}

void sowing_trials::bear_anew(kept_rows const& kept) {
    for (int const one : kept.whose()) { bearable_.forget(one); }
}

}  // namespace epicotyl::detail
