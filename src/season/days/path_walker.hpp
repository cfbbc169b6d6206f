// The forward walk: paths of a season year, event by event, every one as early as its stage, its
// bounds and its links allow.
#ifndef EPICOTYL_SRC_SEASON_DAYS_PATH_WALKER_HPP
#define EPICOTYL_SRC_SEASON_DAYS_PATH_WALKER_HPP

#include <algorithm>
#include <span>
#include <vector>

#include "../tables/season_model.hpp"
#include "days_table.hpp"
#include "succession_days.hpp"

namespace epicotyl::detail {

/// What a walk needs to know of a succession, side by side.
struct batch_walk {
    int succession;
    int path;
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

/// When the clock before an event was ready; of event 0, the sowing wanted.
[[nodiscard]] int clock_ready(season_model const& model, days_table const& days, int sowing,
                              int succession, int event, int year);

/// Walks paths over a model. Holds references; a short-lived tool.
class path_walker {
public:
    path_walker(season_model const& model, std::vector<succession_days> const& successions);

    /// The day from which links count in a year, of a wave as it was gathered.
    [[nodiscard]] static int deciding_day(days_table const& days, awaited const& one, int year) {
        return one.is_wave()
                   ? days.gathered_days(one.wave)[at(year)]
                   : days.at(one.firsts.front().succession, one.firsts.front().event, year);
    }
    /// Looks when each year has a wave together, from the days of all that are in it. To be done
    /// before the first that waits for it is walked, and whenever one of the wave has moved.
    void gather(days_table& days, awaited const& wave, int first_year, int last_year) const;
    /// The day that links allow an event in a year, given the days so far and the waves gathered;
    /// 0 without links.
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
        return incoming_[at(succession)];
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
    grouped<incoming_link> incoming_;  ///< [succession], links that it waits for
};

}  // namespace epicotyl::detail

#endif
