// A season walked a second time, with requirements left out.
//
// What holds a day is found by leaving one requirement out after the other and walking the season
// of a succession, and of all that it waits for, again. Planned sowings and target days stay as
// they are; or, for the day of a decision aimed at, the least plan is made anew.
#ifndef EPICOTYL_SRC_SEASON_DAYS_SECOND_WALK_HPP
#define EPICOTYL_SRC_SEASON_DAYS_SECOND_WALK_HPP

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <set>
#include <span>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

#include "calendar_data.hpp"
#include "held_by.hpp"

namespace epicotyl::detail {

/// The season of a succession and of all that it waits for, walked with requirements left out.
class second_walk {
public:
    /// `spring` is the first day of the spring of one that is sown early; 0: it does not count.
    second_walk(calendar_data const& data, int succession, bool is_least, int spring = 0)
        : data_{data},
          model_{*data.model},
          walker_{model_, data.successions},
          own_{succession},
          is_least_{is_least},
          spring_{spring} {
        std::set<int> wanted{succession};
        std::vector<int> open{succession};
        while (!open.empty()) {
            int const i = open.back();
            open.pop_back();
            for (incoming_link const& in : walker_.incoming(i)) {
                for (event_of const& first : model_.planned.links()[at(in.link)].firsts) {
                    if (wanted.insert(first.succession).second) {
                        open.push_back(first.succession);
                    }
                }
            }
        }
        for (int i : data.order) {
            if (!wanted.contains(i)) { continue; }
            place_[i] = static_cast<int>(order_.size());
            order_.push_back(i);
        }
        state_.resize(order_.size());
        walk({});
    }

    /// Walks anew with one sown a day later.
    void walk_with_later(int i) {
        later_ = i;
        for (int one : order_) { walk_one(one); }
        later_ = -1;
    }

    /// Walks anew without these.
    void walk(std::vector<holder> const& without) {
        without_ = &without;
        for (int i : order_) { walk_one(i); }
        without_ = nullptr;
    }

    [[nodiscard]] int years() const { return model_.years; }
    [[nodiscard]] int day(int i, int e, int y) const { return of(i).days[cell(e, y)]; }
    [[nodiscard]] int ready_target(int i, int y) const { return of(i).unwaited[at(y)]; }
    [[nodiscard]] int target_day(int i) const { return of(i).target_day; }
    [[nodiscard]] int sowing(int i) const { return of(i).sowing; }
    [[nodiscard]] int place(int i) const { return place_.at(i); }

    /// The planned day of an event, as a calendar plans it, with the days walked last.
    [[nodiscard]] int planned(int e) const {
        int planned = 0;
        for (int j = 0; j <= e; ++j) { planned = std::max(planned, own_day(j)); }
        return planned;
    }
    /// The same, of the event alone.
    [[nodiscard]] int own_day(int e) const {
        resolved_succession const& one = batch(own_);
        if (e == one.target_event && is_decision(own_, e)) { return of(own_).target_day; }
        if (e == 0) { return of(own_).sowing; }
        std::span<std::int16_t const> const row{of(own_).days.data() + cell(e, 0), at(years())};
        auto const& own = model_.planned.parts().successions[at(one.source)].reliability;
        double const share = own ? own->value() : data_.wanted.value();
        return quantile_of(row, is_outcome(*one.grown, e) ? 0.5 : share);
    }

    /// What attains an event's day in a year, and what attains that, back to the roots.
    void collect(int i, int e, int y, std::vector<holder>& found) {
        std::vector<std::tuple<int, int, int>> open;
        auto const add_event = [&](int s, int event, int year) {
            if (seen_.emplace(s, event, year).second) { open.emplace_back(s, event, year); }
        };
        add_event(i, e, y);
        while (!open.empty()) {
            auto const [s, event, year] = open.back();
            open.pop_back();
            int const came = day(s, event, year);
            if (event > 0 && clipped(clock_day(s, event, year)) == came) {
                add(found, {holder_kind::clock, s, event});
                add_event(s, event - 1, year);
            }
            if (event == 0) { collect_sown(s, came, found, add_event); }
            collect_bounds(s, event, came, found);
            collect_links(s, event, year, came, found, add_event);
            if (event == batch(s).target_event) { collect_aimed(s, came, found, add_event); }
        }
    }

    /// What attains the sowing of the least plan, or of a spring.
    void collect_earliest(int s, std::vector<holder>& found) {
        std::vector<std::tuple<int, int, int>> open;
        collect_sowing(s, found, [&](int i, int e, int y) { open.emplace_back(i, e, y); });
        for (auto const& [i, e, y] : open) { collect(i, e, y, found); }
    }

    /// What attains the day of a decision aimed at, in the least plan.
    void collect_target(int s, std::vector<holder>& found) {
        std::vector<std::tuple<int, int, int>> open;
        collect_target(s, found, [&](int i, int e, int y) { open.emplace_back(i, e, y); });
        for (auto const& [i, e, y] : open) { collect(i, e, y, found); }
    }

private:
    struct state {
        int sowing = 0;
        int target_day = never;
        std::vector<std::int16_t> days = {};      ///< [event][year]
        std::vector<std::int16_t> unwaited = {};  ///< of the target, before it waits for its day
    };
    using adder = std::function<void(int, int, int)>;

    [[nodiscard]] resolved_succession const& batch(int i) const {
        return model_.planned.successions()[at(i)];
    }
    [[nodiscard]] succession_days const& known(int i) const { return data_.successions[at(i)]; }
    [[nodiscard]] state const& of(int i) const { return state_[at(place_.at(i))]; }
    [[nodiscard]] std::size_t cell(int e, int y) const { return at(e) * at(years()) + at(y); }
    [[nodiscard]] int clipped(int came) const { return came > model_.season_days ? never : came; }
    [[nodiscard]] bool is_decision(int i, int e) const { return !is_outcome(*batch(i).grown, e); }
    /// A sowing that is sought by trying every day stays where it is.
    [[nodiscard]] bool is_scanned(int i) const { return is_scanned_for(batch(i).target_rule); }
    /// A sowing that is the target is planned once: as the target.
    [[nodiscard]] bool is_aimed_sowing(int i) const {
        return !is_least_ && batch(i).target_event == 0 && is_decision(i, 0);
    }
    [[nodiscard]] bool is_exact(int i) const {
        return !is_decision(i, batch(i).target_event) || asks_exactly(batch(i).target_rule);
    }
    [[nodiscard]] bool is_out(holder const& one) const {
        return without_ != nullptr &&
               std::find(without_->begin(), without_->end(), one) != without_->end();
    }

    static void add(std::vector<holder>& found, holder const& one) {
        if (std::find(found.begin(), found.end(), one) == found.end()) { found.push_back(one); }
    }

    [[nodiscard]] int bound_day(int i, int e) const {
        int latest = 0;
        std::vector<bound_note> const& lower = known(i).bounds()[at(e)].lower;
        for (int k = 0; k < static_cast<int>(lower.size()); ++k) {
            if (!is_out({holder_kind::bound, i, e, k})) {
                latest = std::max(latest, lower[at(k)].day);
            }
        }
        return latest;
    }

    /// The day from which a link counts, of those of its firsts that are not left out; -1: none.
    [[nodiscard]] int deciding_day(int link, int y) const {
        resolved_link const& one = model_.planned.links()[at(link)];
        if (one.first_decides) {
            if (is_out({holder_kind::link, one.then.succession, one.then.event, link})) {
                return -1;
            }
            int first = never;
            for (event_of const& f : one.firsts) {
                first = std::min(first, day(f.succession, f.event, y));
            }
            return first;
        }
        int last = -1;
        for (int m = 0; m < static_cast<int>(one.firsts.size()); ++m) {
            if (is_out({holder_kind::link, one.then.succession, one.then.event, link, m})) {
                continue;
            }
            event_of const& f = one.firsts[at(m)];
            last = std::max(last, day(f.succession, f.event, y));
        }
        return last;
    }
    [[nodiscard]] int link_day(int i, int e, int y) const {
        int latest = 0;
        for (incoming_link const& in : walker_.incoming(i)) {
            if (in.event != e) { continue; }
            int const decides = deciding_day(in.link, y);
            if (decides < 0) { continue; }
            latest = std::max(latest, model_.link_wait(in.link).ready(decides, y));
        }
        return latest;
    }
    [[nodiscard]] int clock_day(int i, int e, int y) const {
        if (is_out({holder_kind::clock, i, e})) { return 0; }
        return model_.ready(i, e - 1, y, day(i, e - 1, y));
    }
    /// The beginning of the spring that the succession asked about is sown early in.
    [[nodiscard]] int spring_day(int i) const {
        return i != own_ || is_out({holder_kind::spring, i, 0}) ? 0 : spring_;
    }
    [[nodiscard]] int sowing_floor(int i) const {
        std::vector<std::int16_t> allowed;
        for (int y = 0; y < years(); ++y) {
            allowed.push_back(static_cast<std::int16_t>(link_day(i, 0, y)));
        }
        return kth_smallest(allowed, known(i).link_need);
    }

    void walk_one(int i) {
        state& mine = state_[at(place_.at(i))];
        int const events = event_count(*batch(i).grown);
        int const target = batch(i).target_event;
        mine.days.resize(at(events) * at(years()));
        mine.sowing = is_least_ && !is_scanned(i)
                          ? std::max({bound_day(i, 0), sowing_floor(i), spring_day(i)})
                          : (is_out({holder_kind::sowing, i, 0}) ? 0 : known(i).sowing);
        if (is_aimed_sowing(i)) { mine.sowing = 0; }
        mine.sowing += i == later_ ? 1 : 0;
        mine.target_day = is_out({holder_kind::target, i, target}) ? 0 : known(i).target_day;
        bool const waits = is_decision(i, target);
        walk_from(i, 0, is_least_ || !waits ? 0 : mine.target_day);
        mine.unwaited.assign(mine.days.begin() + static_cast<std::ptrdiff_t>(cell(target, 0)),
                             mine.days.begin() + static_cast<std::ptrdiff_t>(cell(target + 1, 0)));
        if (!is_least_ || !waits) { return; }
        int const asked = is_out({holder_kind::asked, i, target}) ? 0 : known(i).asked;
        mine.target_day = is_exact(i) ? asked
                                      : std::max({asked, bound_day(i, target),
                                                  kth_smallest(mine.unwaited, known(i).need)});
        walk_from(i, target, mine.target_day);
    }

    void walk_from(int i, int first_event, int wait_for) {
        state& mine = state_[at(place_.at(i))];
        int const target = batch(i).target_event;
        for (int e = first_event; e < event_count(*batch(i).grown); ++e) {
            int const floor = std::max(bound_day(i, e), e == target ? wait_for : 0);
            for (int y = 0; y < years(); ++y) {
                int const ready = e == 0 ? mine.sowing : clock_day(i, e, y);
                mine.days[cell(e, y)] =
                    static_cast<std::int16_t>(clipped(std::max({ready, floor, link_day(i, e, y)})));
            }
        }
    }

    void collect_bounds(int s, int event, int came, std::vector<holder>& found) const {
        std::vector<bound_note> const& lower = known(s).bounds()[at(event)].lower;
        for (int k = 0; k < static_cast<int>(lower.size()); ++k) {
            int const day = lower[at(k)].day;
            if (day > 0 && clipped(day) == came) { add(found, {holder_kind::bound, s, event, k}); }
        }
    }

    /// Links whose day in a year is a day, or, of a sowing planned by a count, no sooner.
    void collect_links(int s, int event, int year, int came, std::vector<holder>& found,
                       adder const& add_event) const {
        for (incoming_link const& in : walker_.incoming(s)) {
            if (in.event != event) { continue; }
            resolved_link const& link = model_.planned.links()[at(in.link)];
            for (int m = 0; m < static_cast<int>(link.firsts.size()); ++m) {
                event_of const& first = link.firsts[at(m)];
                int const from = day(first.succession, first.event, year);
                if (link.first_decides && from != deciding_day(in.link, year)) { continue; }
                if (clipped(model_.link_wait(in.link).ready(from, year)) < came) { continue; }
                add(found, {holder_kind::link, s, event, in.link, link.first_decides ? -1 : m});
                add_event(first.succession, first.event, year);
            }
        }
    }

    /// The planned sowing, if it comes on a day, or in the least plan what attains it.
    void collect_sown(int s, int came, std::vector<holder>& found, adder const& add_event) const {
        if (is_aimed_sowing(s) || clipped(of(s).sowing) != came) { return; }
        if (is_least_ && !is_scanned(s)) {
            collect_sowing(s, found, add_event);
        } else {
            add(found, {holder_kind::sowing, s, 0});
        }
    }

    /// The same of the day that a decision aimed at waits for.
    void collect_aimed(int s, int came, std::vector<holder>& found, adder const& add_event) const {
        int const target = batch(s).target_event;
        if (!is_decision(s, target) || clipped(of(s).target_day) != came) { return; }
        if (!is_least_) {
            add(found, {holder_kind::target, s, target});
        } else if (s != own_) {
            collect_target(s, found, add_event);
        }
    }

    void collect_sowing(int s, std::vector<holder>& found, adder const& add_event) const {
        int const sown = of(s).sowing;
        collect_bounds(s, 0, clipped(sown), found);
        if (sown > 0 && spring_day(s) == sown) { add(found, {holder_kind::spring, s, 0}); }
        if (sowing_floor(s) != sown || sown == 0) { return; }
        for (int y = 0; y < years(); ++y) {
            if (link_day(s, 0, y) >= sown) {
                collect_links(s, 0, y, clipped(sown), found, add_event);
            }
        }
    }

    void collect_target(int s, std::vector<holder>& found, adder const& add_event) const {
        int const target = batch(s).target_event;
        int const aim = of(s).target_day;
        if (known(s).asked == aim) { add(found, {holder_kind::asked, s, target}); }
        if (is_exact(s)) { return; }
        collect_bounds(s, target, clipped(aim), found);
        if (kth_smallest(of(s).unwaited, known(s).need) != aim) { return; }
        for (int y = 0; y < years(); ++y) {
            int const came = of(s).unwaited[at(y)];
            if (came < aim) { continue; }
            collect_bounds(s, target, came, found);
            collect_links(s, target, y, came, found, add_event);
            if (target == 0) {
                if (clipped(of(s).sowing) == came) { collect_sowing(s, found, add_event); }
            } else if (clipped(clock_day(s, target, y)) == came) {
                add(found, {holder_kind::clock, s, target});
                add_event(s, target - 1, y);
            }
        }
    }

    calendar_data const& data_;
    season_model const& model_;
    chain_walker walker_;
    int own_;
    bool is_least_;
    int spring_;
    std::vector<int> order_ = {};  ///< those waited for first
    std::map<int, int> place_ = {};
    std::vector<state> state_ = {};
    std::vector<holder> const* without_ = nullptr;
    int later_ = -1;  ///< sown a day later than planned; -1: none
    std::set<std::tuple<int, int, int>> seen_ = {};
};

}  // namespace epicotyl::detail

#endif
