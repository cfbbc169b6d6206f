// The chain of a season year, and the days of every event in every year.
#ifndef EPICOTYL_SRC_SEASON_ENGINE_HPP
#define EPICOTYL_SRC_SEASON_ENGINE_HPP

#include <algorithm>
#include <cstdint>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include <epicotyl/season/calendar.hpp>
#include <epicotyl/season/reason.hpp>

#include "said_obstacles.hpp"
#include "season_model.hpp"

namespace epicotyl::detail {

/// One lower bound on an event, and why.
struct bound_note {
    int day;
    reason why;
};

/// Everything that bounds one event of one succession.
struct event_bounds {
    int not_before = 0;
    std::vector<bound_note> lower = {};
    int not_after = never;
    std::optional<reason> upper = {};
};

/// A stage that is damaged in more years than the default bound's risk allows.
struct risk_excess {
    int stage;
    int damaged;      ///< season years
    int first_night;  ///< the earliest of all years
};

/// What the schedule knows of one succession. Sentences are made when somebody asks.
struct succession_days {
    bool resolved = false;
    int asked = 0;           ///< the day the target's rule gives
    int target_day = never;  ///< A
    int earliest_ready = 0;  ///< need-th smallest x_a when everything is as early as allowed
    int need = 1;
    int link_need = 1;            ///< years whose links must allow the sowing
    int sowing = never;           ///< the planned sowing
    std::span<int> planned = {};  ///< planned day of each event, `never`: none; empty until known
    int latest_sowing = never;    ///< of one sown early: what its target alone would allow
    int spring_starts = 0;        ///< of one sown early: the first day of that sowing's spring
    std::vector<risk_excess> beyond_risk = {};
    sowing_claim claim = {};
    /// What its default bounds look into; null: it has none.
    std::shared_ptr<spring_choice const> springs = {};

    /// Of each event; empty where the plan's rules gave no days. The reasons may name another
    /// succession that is bounded alike.
    [[nodiscard]] std::vector<event_bounds> const& bounds() const {
        static std::vector<event_bounds> const none;
        return bounds_ ? *bounds_ : none;
    }
    void hold(std::vector<event_bounds> bounds) {
        bounds_ = std::make_shared<std::vector<event_bounds> const>(std::move(bounds));
    }
    void hold_those_of(succession_days const& other) { bounds_ = other.bounds_; }

private:
    std::shared_ptr<std::vector<event_bounds> const> bounds_ = {};
};

/// What a walk needs to know of a succession, side by side.
struct batch_walk {
    int succession;
    int chain;
    int target;
    int sowing;
    int wait_for;
    bool is_linked;  ///< it waits for others
    std::vector<event_bounds> const* bounds;
};

/// Which events a link waits for, seen from the event that waits.
struct incoming_link {
    int event;
    int link;
};

/// Days of every event, [row][year]. Not set until they are walked or forgotten: thirty years of
/// ten thousand successions are filled once, and by the threads that work on them.
struct days_table {
    int years = 0;
    std::vector<int> first_row = {};  ///< of each succession; one more at the end
    std::unique_ptr<std::int16_t[]> day = {};

    [[nodiscard]] int row(int succession, int event) const {
        return first_row[static_cast<std::size_t>(succession)] + event;
    }
    [[nodiscard]] std::size_t cell(int succession, int event, int year) const {
        return static_cast<std::size_t>(row(succession, event)) * static_cast<std::size_t>(years) +
               static_cast<std::size_t>(year);
    }
    [[nodiscard]] int at(int succession, int event, int year) const {
        return day[cell(succession, event, year)];
    }
    [[nodiscard]] std::span<std::int16_t const> all() const {
        return {day.get(),
                static_cast<std::size_t>(first_row.back()) * static_cast<std::size_t>(years)};
    }
    /// All years of one event.
    [[nodiscard]] std::span<std::int16_t const> row_days(int succession, int event) const {
        return all().subspan(cell(succession, event, 0), static_cast<std::size_t>(years));
    }
    /// All events of a succession in all years.
    [[nodiscard]] std::span<std::int16_t> all_days(int succession) {
        return {day.get() + cell(succession, 0, 0), day.get() + cell(succession + 1, 0, 0)};
    }
    /// Gives a succession the days of another with as many events.
    void copy(int from, int to) { std::ranges::copy(all_days(from), all_days(to).begin()); }
    /// No event of a succession ever comes.
    void forget(int succession) {
        std::ranges::fill(all_days(succession), static_cast<std::int16_t>(never));
    }
};

/// A table in which no event ever comes.
[[nodiscard]] days_table make_days_table(plan const& of, int years);
/// The same, whose days are not set.
[[nodiscard]] days_table make_unset_days_table(plan const& of, int years);
/// A table with the rows of another, whose days are not set.
[[nodiscard]] days_table make_unset_days_table(days_table const& like, int years);

/// When the clock before an event was ready; of event 0, the sowing wanted.
[[nodiscard]] int clock_ready(season_model const& model, days_table const& days, int sowing,
                              int succession, int event, int year);

/// The k-th smallest of a row of days, k counted from 1; may be `never`.
[[nodiscard]] int kth_smallest(std::span<std::int16_t const> days, int k);
/// Quantile without averaging: the k-th smallest, k = max(1, ceil(q n)).
[[nodiscard]] int quantile_of(std::span<std::int16_t const> days, double q);

/// Walks chains over a model. Holds references; a short-lived tool.
class chain_walker {
public:
    chain_walker(season_model const& model, std::vector<succession_days> const& successions);

    /// The day of the event that a link counts from in a year, given the days so far.
    [[nodiscard]] static int deciding_day(days_table const& days, resolved_link const& link,
                                          int year);
    /// The day that links allow an event in a year, given the days so far; 0 without links.
    [[nodiscard]] int link_day(days_table const& days, int succession, int event, int year) const;
    /// The same of one link.
    [[nodiscard]] int link_day(days_table const& days, int link, int year) const;
    [[nodiscard]] bool has_links(int succession) const { return !incoming(succession).empty(); }
    /// True when a link can put off an event.
    [[nodiscard]] bool has_links(int succession, int event) const {
        auto const of = incoming(succession);
        return std::any_of(of.begin(), of.end(),
                           [event](incoming_link const& in) { return in.event == event; });
    }
    [[nodiscard]] std::span<incoming_link const> incoming(int succession) const {
        std::size_t const first = first_incoming_[static_cast<std::size_t>(succession)];
        std::size_t const next = first_incoming_[static_cast<std::size_t>(succession) + 1];
        return std::span{incoming_}.subspan(first, next - first);
    }

    /// How a succession is to be walked: sown on `sowing` or when links allow; the target, if a
    /// decision, waits for `wait_for` (an offset; 0 waits for nothing).
    [[nodiscard]] batch_walk batch(int succession, int sowing, int wait_for) const;
    /// Fills its days from an event on, in years [first, last). The days of the events before it
    /// are there.
    void walk(days_table& days, batch_walk const& what, int first_event, int first_year,
              int last_year) const;
    /// All days in every year.
    void walk_all(days_table& days, int succession, int sowing, int wait_for) const {
        walk(days, batch(succession, sowing, wait_for), 0, 0, model_.years);
    }

    /// True when the target and every `not_after` hold, those behind the target included, in a year
    /// of filled days. `walk` must have been told to wait for the target's day. A harvest aimed at
    /// is none of a batch that is lost before it; other targets do not look at losses.
    [[nodiscard]] bool is_good(days_table const& days, int succession, int year) const;
    [[nodiscard]] int good_years(days_table const& days, int succession) const;
    /// The same of all years: puts 0 where a year is not good, and leaves the others.
    void strike_bad_years(days_table const& days, int succession, std::span<char> good) const;

    /// The day a decision aimed at waits for, 0 for outcomes.
    [[nodiscard]] int wait_day(int succession) const;

private:
    /// Puts off an event to the days that links allow.
    void wait_for_links(days_table& days, int succession, int event, int first_year,
                        int last_year) const;

    season_model const& model_;
    std::vector<succession_days> const& successions_;
    std::vector<incoming_link> incoming_;      ///< by the succession that waits
    std::vector<std::size_t> first_incoming_;  ///< of each succession; one more at the end
};

/// What a calendar holds.
struct calendar_data {
    std::shared_ptr<season_model const> model;
    epicotyl::reliability wanted;
    std::vector<succession_days> successions = {};
    std::vector<int> planned = {};       ///< what the spans of these see
    std::vector<int> order = {};         ///< resolved successions, those waited for first
    std::vector<batch_walk> walks = {};  ///< of each of these: see walk_all_years.hpp
    std::size_t walks_alone = 0;         ///< of these the first, which no link concerns
    std::vector<int> group_of = {};      ///< by links: see waiting_order.hpp
    days_table days = {};                ///< under the climate it was made with
    /// Without the cures that must be tried; `said` has them.
    std::vector<obstacle> unresolved = {};
    std::shared_ptr<said_obstacles const> said = std::make_shared<said_obstacles const>();
    std::vector<linked_group> groups = {};
    std::vector<link_count> within = {};
    std::vector<std::string> warnings = {};
};

/// What a prospect holds.
class prospect_data {
public:
    /// `walked` are the days of the calendar in the model's season years, as if nothing were lost.
    prospect_data(calendar of, std::shared_ptr<season_model const> model, days_table walked);

    calendar const of;
    std::shared_ptr<season_model const> const model;

    /// The days that come to pass: of a batch that is lost neither the harvest nor what follows.
    [[nodiscard]] days_table const& days() const {
        strike_lost();
        return days_;
    }
    /// The night of each year that loses a succession, `never` where it lives.
    [[nodiscard]] std::span<std::int16_t const> lost(int succession) const {
        strike_lost();
        return std::span{lost_}.subspan(at(succession) * at(model->years), at(model->years));
    }

private:
    /// Done once, when something is asked, by whichever thread asks first.
    void strike_lost() const;

    mutable std::once_flag struck_;
    mutable days_table days_;
    mutable std::vector<std::int16_t> lost_;  ///< [succession][year]
};

}  // namespace epicotyl::detail

#endif
