#include "second_walk.hpp"

#include <cstddef>
#include <functional>
#include <span>

#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

second_walk::second_walk(calendar_data const& data, int succession, bool is_least, int spring)
    : data_{data},
      model_{*data.model},
      walker_{model_, data.successions},
      own_{succession},
      is_least_{is_least},
      spring_{spring},
      place_(data.successions.size(), -1) {
    std::set<int> const wanted = waited_for();
    for (int i : data.order) {
        if (!wanted.contains(i)) { continue; }
        place_[at(i)] = static_cast<int>(order_.size());
        order_.push_back(i);
    }
    for (int i : order_) { state_.push_back({{}, rows_into(i)}); }
    for (int i : order_) { walk_one(i); }
}

void second_walk::walk_with_later(int i) {
    later_ = i;
    walk_again({place(i)});
    later_ = -1;
}

void second_walk::walk(std::vector<holder> const& without) {
    without_ = &without;
    std::set<int> places;
    for (holder const& one : without) { places.insert(place(one.what.to.succession)); }
    walk_again(std::move(places));
    without_ = nullptr;
}

void second_walk::walk_again(std::set<int> places) {
    for (auto& [place, had] : whole_) {
        static_cast<walked&>(state_[at(place)]) = std::move(had);
        for (awaited_in const& in : model_.awaits_of[at(order_[at(place)])]) {
            gathered_.erase(in.which);
        }
    }
    whole_.clear();
    while (!places.empty()) {
        int const place = *places.begin();
        places.erase(places.begin());
        int const i = order_[at(place)];
        walked const& had = whole_.emplace(place, state_[at(place)]).first->second;
        walk_one(i);
        if (static_cast<walked const&>(state_[at(place)]) != had) { add_those_after(i, places); }
    }
}

void second_walk::add_those_after(int i, std::set<int>& places) {
    for (awaited_in const& in : model_.awaits_of[at(i)]) {
        gathered_.erase(in.which);
        for (int const link : model_.awaited_all[at(in.which)].links) {
            int const then = place(model_.planned.links()[at(link)].then.succession);
            if (then >= 0) { places.insert(then); }
        }
    }
}

int second_walk::planned(int e) const {
    int planned = 0;
    for (int j = 0; j <= e; ++j) { planned = std::max(planned, own_day(j)); }
    return planned;
}

int second_walk::own_day(int e) const {
    resolved_succession const& one = batch(own_);
    if (e == one.target_event && is_decision(own_, e)) { return of(own_).target_day; }
    if (e == 0) { return of(own_).sowing; }
    std::span<std::int16_t const> const row{of(own_).days.data() + cell(e, 0), at(years())};
    auto const& own = model_.planned.parts().successions[at(one.source)].reliability;
    double const share = own ? own->value() : data_.wanted.value();
    return quantile_of(row, is_outcome(*one.grown, e) ? 0.5 : share);
}

/// The succession, and all that it waits for.
std::set<int> second_walk::waited_for() const {
    std::set<int> found{own_};
    std::vector<int> open{own_};
    while (!open.empty()) {
        int const i = open.back();
        open.pop_back();
        for (incoming_link const& in : walker_.incoming(i)) {
            for (event_of const& first : model_.awaited_by(in.link).firsts) {
                if (found.insert(first.succession).second) { open.push_back(first.succession); }
            }
        }
    }
    return found;
}

/// By event of a succession, the rows that make it late.
std::vector<std::vector<requirement_row>> second_walk::rows_into(int i) const {
    std::vector<requirement_row> rows;
    add_bound_rows(rows, i, known(i).bounds());
    add_stage_rows(rows, model_, i);
    for (incoming_link const& in : walker_.incoming(i)) {
        rows.push_back(link_row(model_, in.link));
    }
    std::vector<std::vector<requirement_row>> found(at(event_count(*batch(i).grown)));
    for (requirement_row const& row : rows) {
        if (!row.is_upper) { found[at(row.to.event)].push_back(row); }
    }
    return found;
}

int second_walk::counts_from(requirement_row const& row, int y) const {
    if (row.awaited < 0) { return is_out(row) ? -1 : day(row.from.succession, row.from.event, y); }
    awaited const& wave = model_.awaited_all[at(row.awaited)];
    if (wave.first_decides) { return is_out(row) ? -1 : gathered(row.awaited, y); }
    bool const is_whole =
        without_ == nullptr || std::ranges::none_of(*without_, [&](holder const& one) {
            return one.what.link == row.link;
        });
    if (is_whole) { return gathered(row.awaited, y); }
    int last = -1;
    for (event_of const& one : wave.firsts) {
        if (!is_out(of_member(row, one))) {
            last = std::max(last, day(one.succession, one.event, y));
        }
    }
    return last;
}

int second_walk::gathered(int awaited, int y) const {
    auto const [known, is_new] = gathered_.try_emplace(awaited);
    if (is_new) {
        detail::awaited const& wave = model_.awaited_all[at(awaited)];
        for (int year = 0; year < years(); ++year) {
            int together = wave.first_decides ? never : 0;
            for (event_of const& one : wave.firsts) {
                int const came = day(one.succession, one.event, year);
                together = wave.first_decides ? std::min(together, came) : std::max(together, came);
            }
            known->second.push_back(together);
        }
    }
    return known->second[at(y)];
}

int second_walk::allowed(requirement_row const& row, int y) const {
    if (row.is_bound()) { return is_out(row) ? 0 : row.days; }
    int const from = counts_from(row, y);
    return from < 0 ? 0 : model_.waits[at(row.wait)].ready(from, y);
}

int second_walk::bound_day(int i, int e) const {
    return latest(i, e, 0, std::mem_fn(&requirement_row::is_bound));
}

int second_walk::link_day(int i, int e, int y) const {
    return latest(i, e, y,
                  [](requirement_row const& row) { return row.kind == requirement_kind::link; });
}

int second_walk::spring_day(int i) const {
    return i != own_ || is_out(planned_row(i, 0, planned_spring)) ? 0 : spring_;
}

int second_walk::sowing_floor(int i) const {
    std::vector<std::int16_t> allowed;
    for (int y = 0; y < years(); ++y) {
        allowed.push_back(static_cast<std::int16_t>(link_day(i, 0, y)));
    }
    return kth_smallest(allowed, known(i).link_need);
}

void second_walk::walk_one(int i) {
    state& mine = state_[at(place(i))];
    int const events = event_count(*batch(i).grown);
    int const target = batch(i).target_event;
    mine.days.resize(at(events) * at(years()));
    mine.sowing = is_least_ && !is_scanned(i)
                      ? std::max({bound_day(i, 0), sowing_floor(i), spring_day(i)})
                      : (is_out(planned_row(i, 0, planned_sowing)) ? 0 : known(i).sowing);
    if (is_aimed_sowing(i)) { mine.sowing = 0; }
    mine.sowing += i == later_ ? 1 : 0;
    mine.target_day = is_out(planned_row(i, target, planned_target)) ? 0 : known(i).target_day;
    bool const waits = is_decision(i, target);
    walk_from(i, 0, is_least_ || !waits ? 0 : mine.target_day);
    mine.unwaited.assign(mine.days.begin() + static_cast<std::ptrdiff_t>(cell(target, 0)),
                         mine.days.begin() + static_cast<std::ptrdiff_t>(cell(target + 1, 0)));
    if (!is_least_ || !waits) { return; }
    int const asked = is_out(asked_row(i, target)) ? 0 : known(i).asked;
    mine.target_day =
        is_exact(i)
            ? asked
            : std::max({asked, bound_day(i, target), kth_smallest(mine.unwaited, known(i).need)});
    walk_from(i, target, mine.target_day);
}

void second_walk::walk_from(int i, int first_event, int wait_for) {
    state& mine = state_[at(place(i))];
    int const target = batch(i).target_event;
    for (int e = first_event; e < event_count(*batch(i).grown); ++e) {
        int const floor =
            std::max({bound_day(i, e), e == target ? wait_for : 0, e == 0 ? mine.sowing : 0});
        for (int y = 0; y < years(); ++y) {
            int const passed = latest(i, e, y, std::not_fn(&requirement_row::is_bound));
            mine.days[cell(e, y)] = static_cast<std::int16_t>(clipped(std::max(floor, passed)));
        }
    }
}

}  // namespace epicotyl::detail
