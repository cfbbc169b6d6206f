// The latest sowing, read backwards from the target, or from what must come by a day behind it.
//
// In one season year the day of an event never falls as the sowing moves on, so the sowings with
// which the year is good are all those up to a last one. The last day of an event gives that of the
// one before it, and so on to the sowing: one look-up a stage.
//
// Through a link it goes on: the last day of an event that waits gives the last day of the event
// that it waits for, and that the last sowing of the other succession.
#ifndef EPICOTYL_SRC_SEASON_DAYS_LATEST_SOWING_HPP
#define EPICOTYL_SRC_SEASON_DAYS_LATEST_SOWING_HPP

#include <algorithm>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "path_walker.hpp"

namespace epicotyl::detail {

/// Reads a path back, in all years: from the last days of event `last` to those of event `first`,
/// each the last from which what passes is over in time. `allowed(event)` says between which days
/// an event may come by what else holds it; a day before the first of these is none, -1.
template <class Allowed>
void read_back(season_model const& model, int path, int last, int first,
               std::span<std::int16_t> latest, Allowed const& allowed) {
    std::vector<stage_tables> const& stages = model.paths[at(path)].stages;
    for (int e = last;; --e) {
        day_span const days = allowed(e);
        for (std::int16_t& day : latest) {
            int const held = std::min<int>(day, days.last);
            day = static_cast<std::int16_t>(held < days.first ? -1 : held);
        }
        if (e == first) { return; }
        wait_table const& wait = model.waits[at(stages[at(e - 1)].wait)];
        for (int y = 0; y < model.years; ++y) {
            std::int16_t& day = latest[at(y)];
            day = static_cast<std::int16_t>(wait.latest_start(day, y));
        }
    }
}

/// The latest sowing with which each season year is good, -1 where none is: `is_good` of a walk
/// from it holds, and from a later one does not. For a target that is no `in_harvest`, without
/// links. `latest` has one element a season year.
void latest_good_sowings(season_model const& model, succession_days const& known, int succession,
                         std::span<std::int16_t> latest);

/// The last days on which what is waited for may come, -1 in years that are lost anyway: later in
/// one more year, who waits would be good, or its sowing kept, in fewer years than it needs.
struct last_days {
    int need;
    std::vector<std::int16_t> of_year;
};

/// Of what links count from, the last days that those who wait can bear, with all where they are
/// and their days walked so. Remembered until one of those who wait is walked anew.
class bearable_days {
public:
    bearable_days(season_model const& model, path_walker const& walker, days_table const& days,
                  std::vector<succession_days> const& known)
        : model_{model},
          walker_{walker},
          days_{days},
          known_{known},
          of_(model.awaited_all.size()) {}

    /// Those that say more than others do; none where nothing is known.
    [[nodiscard]] std::vector<last_days> const& of(int awaited);
    /// A succession was walked anew, and bears other days.
    void forget(int succession);
    void forget_all();

private:
    [[nodiscard]] std::optional<last_days> of_link(int link) const;

    season_model const& model_;
    path_walker const& walker_;
    days_table const& days_;
    std::vector<succession_days> const& known_;
    std::vector<std::optional<std::vector<last_days>>> of_;
};

/// The latest sowing of a succession with which an event has come by its last days in as many years
/// as are needed; links that it waits for itself left out.
[[nodiscard]] int latest_sowing_before(season_model const& model, path_walker const& walker,
                                       succession_days const& known, int succession, int event,
                                       last_days const& by);

}  // namespace epicotyl::detail

#endif
