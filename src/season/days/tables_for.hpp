// Which days of the tables a calendar will ask about.
//
// A guess that is too wide costs time and one that is too narrow costs time; neither changes a day.
#ifndef EPICOTYL_SRC_SEASON_DAYS_TABLES_FOR_HPP
#define EPICOTYL_SRC_SEASON_DAYS_TABLES_FOR_HPP

#include "calendar_data.hpp"

namespace epicotyl::detail {

/// What the successions of one path aim at and wait for.
struct path_targets {
    int successions = 0;
    bool is_scanned = false;  ///< some try every day as their sowing
    bool is_linked = false;
    std::vector<day_span> targets = {};  ///< by event, days aimed at
    day_span needs = {};                 ///< good years wanted, least and most
    std::vector<day_span> floors = {};   ///< by event, days waited for at least

    void add(succession_days const& known, int target, bool linked);
};

/// Says which days are needed to find the sowings of a path and walk from them, where its
/// successions are enough to be worth tables.
void expect_targets(season_model& model, int path, path_targets const& what);

/// Fills the tables for walking a calendar's resolved successions from their planned sowings.
/// Where links move days on, by what they did in the calendar's own season years.
void expect_calendar(season_model& model, calendar_data const& planned, int threads);

}  // namespace epicotyl::detail

#endif
