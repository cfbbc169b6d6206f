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
        std::set<int> const wanted = waited_for();
        for (int i : data.order) {
            if (!wanted.contains(i)) { continue; }
            place_[i] = static_cast<int>(order_.size());
            order_.push_back(i);
        }
        for (int i : order_) { state_.push_back({.into = rows_into(i)}); }
        walk({});
    }

    /// Walks anew with one sown a day later.
    void walk_with_later(int i) {
        later_ = i;
        walk_all();
        later_ = -1;
    }

    /// Walks anew without these.
    void walk(std::vector<holder> const& without) {
        without_ = &without;
        walk_all();
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
            for (requirement_row const& row : into(s, event)) {
                collect_row(row, year, came, found, add_event);
            }
            if (event == 0) { collect_sown(s, came, found, add_event); }
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
        std::vector<std::vector<requirement_row>> into;  ///< by event, what makes it late
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
    [[nodiscard]] bool is_out(requirement_row const& row) const {
        return without_ != nullptr &&
               std::ranges::find(*without_, row, &holder::what) != without_->end();
    }
    [[nodiscard]] std::vector<requirement_row> const& into(int i, int e) const {
        return of(i).into[at(e)];
    }

    /// The succession, and all that it waits for.
    [[nodiscard]] std::set<int> waited_for() const {
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
    [[nodiscard]] std::vector<std::vector<requirement_row>> rows_into(int i) const {
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
    /// Of a wave of which all are waited for, what one member alone requires.
    [[nodiscard]] static requirement_row of_member(requirement_row row, event_of const& member) {
        row.from = member;
        return row;
    }

    static void add(std::vector<holder>& found, holder const& one) {
        if (std::find(found.begin(), found.end(), one) == found.end()) { found.push_back(one); }
    }

    /// The day from which a row counts, of those of a wave that are not left out; -1: none.
    [[nodiscard]] int counts_from(requirement_row const& row, int y) const {
        if (row.awaited < 0) {
            return is_out(row) ? -1 : day(row.from.succession, row.from.event, y);
        }
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
    /// The day on which a wave is together.
    [[nodiscard]] int gathered(int awaited, int y) const {
        auto const [known, is_new] = gathered_.try_emplace(awaited);
        if (is_new) {
            detail::awaited const& wave = model_.awaited_all[at(awaited)];
            for (int year = 0; year < years(); ++year) {
                int together = wave.first_decides ? never : 0;
                for (event_of const& one : wave.firsts) {
                    int const came = day(one.succession, one.event, year);
                    together =
                        wave.first_decides ? std::min(together, came) : std::max(together, came);
                }
                known->second.push_back(together);
            }
        }
        return known->second[at(y)];
    }
    /// The day that a row allows in a year; 0 of one that is left out.
    [[nodiscard]] int allowed(requirement_row const& row, int y) const {
        if (row.is_bound()) { return is_out(row) ? 0 : row.days; }
        int const from = counts_from(row, y);
        return from < 0 ? 0 : model_.waits[at(row.wait)].ready(from, y);
    }
    /// The latest day that rows into an event allow in a year, of those that `counts` takes.
    template <class Counts>
    [[nodiscard]] int latest(int i, int e, int y, Counts const& counts) const {
        int latest = 0;
        for (requirement_row const& row : into(i, e)) {
            if (counts(row)) { latest = std::max(latest, allowed(row, y)); }
        }
        return latest;
    }
    [[nodiscard]] int bound_day(int i, int e) const {
        return latest(i, e, 0, std::mem_fn(&requirement_row::is_bound));
    }
    [[nodiscard]] int link_day(int i, int e, int y) const {
        return latest(
            i, e, y, [](requirement_row const& row) { return row.kind == requirement_kind::link; });
    }
    /// The beginning of the spring that the succession asked about is sown early in.
    [[nodiscard]] int spring_day(int i) const {
        return i != own_ || is_out(planned_row(i, 0, planned_spring)) ? 0 : spring_;
    }
    [[nodiscard]] int sowing_floor(int i) const {
        std::vector<std::int16_t> allowed;
        for (int y = 0; y < years(); ++y) {
            allowed.push_back(static_cast<std::int16_t>(link_day(i, 0, y)));
        }
        return kth_smallest(allowed, known(i).link_need);
    }

    void walk_all() {
        gathered_.clear();
        for (int i : order_) { walk_one(i); }
    }

    void walk_one(int i) {
        state& mine = state_[at(place_.at(i))];
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
        mine.target_day = is_exact(i) ? asked
                                      : std::max({asked, bound_day(i, target),
                                                  kth_smallest(mine.unwaited, known(i).need)});
        walk_from(i, target, mine.target_day);
    }

    void walk_from(int i, int first_event, int wait_for) {
        state& mine = state_[at(place_.at(i))];
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

    /// A row that attains a day in a year; a link also one that, of a sowing planned by a count,
    /// allows none so soon.
    void collect_row(requirement_row const& row, int year, int came, std::vector<holder>& found,
                     adder const& add_event) const {
        if (row.is_bound()) {
            if (row.days > 0 && clipped(row.days) == came) { add(found, {row}); }
            return;
        }
        if (row.awaited < 0) {
            collect_from(row, row.from, year, came, found, add_event);
            return;
        }
        awaited const& wave = model_.awaited_all[at(row.awaited)];
        for (event_of const& one : wave.firsts) {
            if (!wave.first_decides) {
                collect_from(of_member(row, one), one, year, came, found, add_event);
            } else if (day(one.succession, one.event, year) == gathered(row.awaited, year)) {
                collect_from(row, one, year, came, found, add_event);
            }
        }
    }
    void collect_from(requirement_row const& row, event_of const& first, int year, int came,
                      std::vector<holder>& found, adder const& add_event) const {
        int const from = day(first.succession, first.event, year);
        int const ready = clipped(model_.waits[at(row.wait)].ready(from, year));
        if (row.kind == requirement_kind::link ? ready < came : ready != came) { return; }
        add(found, {row});
        add_event(first.succession, first.event, year);
    }
    void collect_bounds(int s, int event, int came, std::vector<holder>& found) const {
        for (requirement_row const& row : into(s, event)) {
            if (row.is_bound()) { collect_row(row, 0, came, found, {}); }
        }
    }

    /// The planned sowing, if it comes on a day, or in the least plan what attains it.
    void collect_sown(int s, int came, std::vector<holder>& found, adder const& add_event) const {
        if (is_aimed_sowing(s) || clipped(of(s).sowing) != came) { return; }
        if (is_least_ && !is_scanned(s)) {
            collect_sowing(s, found, add_event);
        } else {
            add(found, {planned_row(s, 0, planned_sowing)});
        }
    }

    /// The same of the day that a decision aimed at waits for.
    void collect_aimed(int s, int came, std::vector<holder>& found, adder const& add_event) const {
        int const target = batch(s).target_event;
        if (!is_decision(s, target) || clipped(of(s).target_day) != came) { return; }
        if (!is_least_) {
            add(found, {planned_row(s, target, planned_target)});
        } else if (s != own_) {
            collect_target(s, found, add_event);
        }
    }

    void collect_sowing(int s, std::vector<holder>& found, adder const& add_event) const {
        int const sown = of(s).sowing;
        collect_bounds(s, 0, clipped(sown), found);
        if (sown > 0 && spring_day(s) == sown) { add(found, {planned_row(s, 0, planned_spring)}); }
        if (sowing_floor(s) != sown || sown == 0) { return; }
        for (int y = 0; y < years(); ++y) {
            if (link_day(s, 0, y) < sown) { continue; }
            for (requirement_row const& row : into(s, 0)) {
                if (!row.is_bound()) { collect_row(row, y, clipped(sown), found, add_event); }
            }
        }
    }

    void collect_target(int s, std::vector<holder>& found, adder const& add_event) const {
        int const target = batch(s).target_event;
        int const aim = of(s).target_day;
        if (known(s).asked == aim) { add(found, {asked_row(s, target)}); }
        if (is_exact(s)) { return; }
        collect_bounds(s, target, clipped(aim), found);
        if (kth_smallest(of(s).unwaited, known(s).need) != aim) { return; }
        for (int y = 0; y < years(); ++y) {
            int const came = of(s).unwaited[at(y)];
            if (came < aim) { continue; }
            for (requirement_row const& row : into(s, target)) {
                collect_row(row, y, came, found, add_event);
            }
            if (target == 0 && clipped(of(s).sowing) == came) {
                collect_sowing(s, found, add_event);
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
    /// By wave, the day of each year on which it is together, as far as it was asked for.
    mutable std::map<int, std::vector<int>> gathered_ = {};
    std::vector<holder> const* without_ = nullptr;
    int later_ = -1;  ///< sown a day later than planned; -1: none
    std::set<std::tuple<int, int, int>> seen_ = {};
};

}  // namespace epicotyl::detail

#endif
