// A season walked a second time, with requirements left out.
//
// What holds a day is found by leaving one requirement out after the other and walking the season
// of a succession, and of all that it waits for, again. Planned sowings and target days stay as
// they are; or, for the day of a decision aimed at, the least plan is made anew. Walked again are
// only those whom a requirement that is left out concerns, and those whom they move.
#ifndef EPICOTYL_SRC_SEASON_DAYS_SECOND_WALK_HPP
#define EPICOTYL_SRC_SEASON_DAYS_SECOND_WALK_HPP

#include <algorithm>
#include <cstdint>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "calendar_data.hpp"
#include "held_by.hpp"

namespace epicotyl::detail {

/// The season of a succession and of all that it waits for, walked with requirements left out.
class second_walk {
public:
    /// `spring` is the first day of the spring of one that is sown early; 0: it does not count.
    second_walk(calendar_data const& data, int succession, bool is_least, int spring = 0);

    /// Walks anew with one sown a day later.
    void walk_with_later(int i);
    /// Walks anew without these.
    void walk(std::vector<holder> const& without);

    [[nodiscard]] calendar_data const& data() const { return data_; }
    [[nodiscard]] int years() const { return model_.years; }
    /// The succession whose day is asked about.
    [[nodiscard]] int own() const { return own_; }
    /// Among those walked, those waited for first.
    [[nodiscard]] int place(int i) const { return place_[at(i)]; }
    [[nodiscard]] bool is_least() const { return is_least_; }

    // --- of the days walked last ---

    [[nodiscard]] int day(int i, int e, int y) const { return of(i).days[cell(e, y)]; }
    [[nodiscard]] int sowing(int i) const { return of(i).sowing; }
    [[nodiscard]] int target_day(int i) const { return of(i).target_day; }
    /// When a target is ready, before it waits for its day.
    [[nodiscard]] int ready_target(int i, int y) const { return of(i).unwaited[at(y)]; }
    /// The same as enough years have it.
    [[nodiscard]] int usual_target(int i) const {
        return kth_smallest(of(i).unwaited, data_.successions[at(i)].need);
    }
    /// The planned day of an event, as a calendar plans it.
    [[nodiscard]] int planned(int e) const;
    /// The same, of the event alone.
    [[nodiscard]] int own_day(int e) const;
    /// The day on which a wave is together.
    [[nodiscard]] int gathered(int awaited, int y) const;

    // --- what is required ---

    [[nodiscard]] resolved_succession const& batch(int i) const {
        return model_.planned.successions()[at(i)];
    }
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
    /// What makes an event late.
    [[nodiscard]] std::vector<requirement_row> const& into(int i, int e) const {
        return of(i).into[at(e)];
    }
    [[nodiscard]] int link_day(int i, int e, int y) const;
    /// The sowing that enough years' links allow.
    [[nodiscard]] int sowing_floor(int i) const;
    /// The beginning of the spring that the succession asked about is sown early in.
    [[nodiscard]] int spring_day(int i) const;
    [[nodiscard]] int clipped(int came) const { return came > model_.season_days ? never : came; }

    /// Of a wave of which all are waited for, what one member alone requires.
    [[nodiscard]] static requirement_row of_member(requirement_row row, event_of const& member) {
        row.from = member;
        return row;
    }

private:
    struct walked {
        int sowing = 0;
        int target_day = never;
        std::vector<std::int16_t> days = {};      ///< [event][year]
        std::vector<std::int16_t> unwaited = {};  ///< of the target, before it waits for its day

        friend bool operator==(walked const&, walked const&) = default;
    };
    struct state : walked {
        std::vector<std::vector<requirement_row>> into = {};  ///< by event
    };

    [[nodiscard]] succession_days const& known(int i) const { return data_.successions[at(i)]; }
    [[nodiscard]] state const& of(int i) const { return state_[at(place(i))]; }
    [[nodiscard]] std::size_t cell(int e, int y) const { return at(e) * at(years()) + at(y); }
    [[nodiscard]] bool is_out(requirement_row const& row) const {
        return without_ != nullptr &&
               std::ranges::find(*without_, row, &holder::what) != without_->end();
    }

    [[nodiscard]] std::set<int> waited_for() const;
    [[nodiscard]] std::vector<std::vector<requirement_row>> rows_into(int i) const;

    /// The day from which a row counts, of those of a wave that are not left out; -1: none.
    [[nodiscard]] int counts_from(requirement_row const& row, int y) const;
    /// The day that a row allows in a year; 0 of one that is left out.
    [[nodiscard]] int allowed(requirement_row const& row, int y) const;
    /// The latest day that rows into an event allow in a year, of those that `counts` takes.
    template <class Counts>
    [[nodiscard]] int latest(int i, int e, int y, Counts const& counts) const {
        int latest = 0;
        for (requirement_row const& row : into(i, e)) {
            if (counts(row)) { latest = std::max(latest, allowed(row, y)); }
        }
        return latest;
    }
    [[nodiscard]] int bound_day(int i, int e) const;

    /// Walks those at these places, and whom they move, from the days of the whole season.
    void walk_again(std::set<int> places);
    /// Those that wait for one that has moved.
    void add_those_after(int i, std::set<int>& places);
    void walk_one(int i);
    void walk_from(int i, int first_event, int wait_for);

    calendar_data const& data_;
    season_model const& model_;
    path_walker walker_;
    int own_;
    bool is_least_;
    int spring_;
    std::vector<int> order_ = {};    ///< those waited for first
    std::vector<int> place_ = {};    ///< [succession], -1: not walked
    std::vector<state> state_ = {};  ///< by place
    /// By place, what was there with nothing left out.
    std::map<int, walked> whole_ = {};
    /// By wave, the day of each year on which it is together, as far as it was asked for.
    mutable std::map<int, std::vector<int>> gathered_ = {};
    std::vector<holder> const* without_ = nullptr;
    int later_ = -1;  ///< sown a day later than planned; -1: none
};

}  // namespace epicotyl::detail

#endif
