// The tables behind a season: for one plan and one climate, the air of every place, the wait of
// every stage, and what the plan's rules mean as days. Built once, then only read; calendar and
// prospect share it.
//
// Successions of one crop in the same places go through the same path of stages: what is known of
// a path is known once. Waits that count the same in the same place share their sums, and equal
// waits their tables.
#ifndef EPICOTYL_SRC_SEASON_TABLES_SEASON_MODEL_HPP
#define EPICOTYL_SRC_SEASON_TABLES_SEASON_MODEL_HPP

#include <atomic>
#include <deque>
#include <limits>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <tuple>
#include <unordered_map>
#include <vector>

#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/crop/air.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>

#include "cold_days.hpp"
#include "grouped.hpp"
#include "series_stock.hpp"
#include "wait_table.hpp"

namespace epicotyl::detail {

/// What walks need to know of a stage.
struct stage_tables {
    int air = 0;                                               ///< index into `season_model::airs`
    int wait = 0;                                              ///< index into `season_model::waits`
    double limit = -std::numeric_limits<double>::infinity();   ///< °C, -infinity: none
    double too_hot = std::numeric_limits<double>::infinity();  ///< °C, infinity: none
    double hold = std::numeric_limits<double>::infinity();     ///< days, infinity: any
    /// Nights at or below the limit; null without one.
    std::shared_ptr<night_table const> cold = {};
    /// Nights that lose a batch which stands there; null where no night of any year does.
    std::shared_ptr<night_table const> loss = {};
};

/// What links count from: the last of several events, or the first of them; or one event. Many
/// links may count from the same.
struct awaited {
    event_list firsts;
    bool first_decides = false;
    int wave = -1;                ///< number of those of several events; -1: of one
    std::vector<int> links = {};  ///< in plan order

    [[nodiscard]] bool is_wave() const { return wave >= 0; }
};

/// A succession as one of those that are waited for.
struct awaited_in {
    int which;  ///< index into `season_model::awaited_all`
    int event;
};

/// The stages that all successions of one crop in the same places go through.
struct stage_path {
    std::shared_ptr<crop const> grown;
    shared_list<int> places;
    std::vector<stage_tables> stages = {};
    std::vector<char> is_decision = {};  ///< of each event
    int damage_from = 0;                 ///< the first stage in which cold and heat do damage
    int lost_until = 0;                  ///< the event before which cold loses a batch
    bool is_harvested = false;           ///< that event is `first_harvest`
};

/// The stages of each succession are those of its path. Refers to what it is made of.
class stages_of_all {
public:
    stages_of_all(std::deque<stage_path> const& paths, std::vector<int> const& path_of)
        : paths_{paths}, path_of_{path_of} {}

    [[nodiscard]] std::span<stage_tables const> operator[](std::size_t succession) const {
        return paths_[at(path_of_[succession])].stages;
    }

private:
    std::deque<stage_path> const& paths_;
    std::vector<int> const& path_of_;
};

class season_model {
public:
    /// Throws `invalid_input` when plan and climate differ in season start, length or latitude.
    season_model(plan of, climate under);

    plan const planned;
    climate const weather;
    int const years;        ///< n
    int const season_days;  ///< N

    std::deque<stage_path> paths;          ///< in order of first use
    std::vector<int> path_of;              ///< [succession], index into `paths`
    stages_of_all stages{paths, path_of};  ///< [succession][stage]
    std::vector<int> link_waits;           ///< [link], index into `waits`
    std::vector<awaited> awaited_all;
    int waves = 0;                     ///< of several events, among these
    std::vector<int> awaited_of_link;  ///< [link], index into `awaited_all`
    grouped<awaited_in> awaits_of;     ///< [succession], where it is waited for
    std::deque<place_air> airs;
    std::deque<wait_table> waits;
    cold_days const cold;

    [[nodiscard]] wait_table const& wait_of(int succession, int stage) const {
        return waits[at(stages[at(succession)][at(stage)].wait)];
    }
    [[nodiscard]] wait_table const& link_wait(int link) const {
        return waits[at(link_waits[at(link)])];
    }
    /// What a link counts from.
    [[nodiscard]] awaited const& awaited_by(int link) const {
        return awaited_all[at(awaited_of_link[at(link)])];
    }
    /// First day on which a stage begun on day `start` is over.
    [[nodiscard]] int ready(int succession, int stage, int year, int start) const {
        return wait_of(succession, stage).ready(start, year);
    }
    /// A wait as a map of its own, for networks. Made when first asked for.
    [[nodiscard]] ready_map const& whole(int wait, int year) const;

    /// Says that a path is to be walked from sowings within a span. `floors[e]` spans the days
    /// that event e waits for at least, from none to all successions of the path.
    void expect_sowings(int path, day_span sown, std::vector<day_span> const& floors);
    /// Says that a path is to be read backwards from events `last` within a span.
    void expect_targets(int path, int last, day_span ends);
    /// Says that any start of a wait may be asked about.
    void expect_all_starts(int wait);
    /// Says that the waits that stand in many links are to be asked about.
    void expect_links();
    /// Fills the tables for all that is expected.
    void fill_tables(int threads);

    /// An air with heater or cover off, one season year.
    [[nodiscard]] air_series const& air_with(int air, int year, air_switches on) const;

private:
    /// A running sum, the amount wanted, and the nights that end it (null: none).
    using wait_key = std::tuple<running_sums const*, double, night_table const*>;
    using hours_list = std::shared_ptr<std::vector<double> const>;
    using cold_list = std::shared_ptr<night_table const>;

    void add_awaited(resolved_link const& one);
    int path_for(resolved_succession const& one);
    int air_of(int place, double act_at_or_below);
    [[nodiscard]] cold_list cold_in(int air, double limit) const;
    [[nodiscard]] hours_list hours_at(int place) const;
    int wait_for(clock const& takes, int place, int air, cold_list const& ends);
    int wait_for_group(clock const& takes, int place, int air, cold_list const& ends);

    series_stock& stock_;
    std::map<std::pair<int, double>, int> air_ids_;
    std::unordered_map<crop const*, std::vector<int>> path_ids_;
    std::map<wait_key, int> wait_ids_;
    std::map<std::vector<ready_map> const*, int> group_ids_;
    /// What waits look into.
    std::vector<std::shared_ptr<void const>> kept_;

    /// What was asked before: the same answer, at once.
    mutable std::mutex asked_lock_;
    mutable std::map<std::tuple<int, bool, bool>, std::shared_ptr<std::vector<air_series> const>>
        switched_;
    mutable std::deque<ready_map> made_maps_;
    std::unique_ptr<std::atomic<ready_map const*>[]> maps_;  ///< [wait][year], null: not made
};

}  // namespace epicotyl::detail

#endif
