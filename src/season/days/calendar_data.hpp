// What a calendar holds.
#ifndef EPICOTYL_SRC_SEASON_DAYS_CALENDAR_DATA_HPP
#define EPICOTYL_SRC_SEASON_DAYS_CALENDAR_DATA_HPP

#include <memory>
#include <string>
#include <vector>

#include <epicotyl/detail/derived_slot.hpp>
#include <epicotyl/season/days/calendar.hpp>

#include "path_walker.hpp"

namespace epicotyl::detail {

struct calendar_data {
    std::shared_ptr<season_model const> model;
    epicotyl::reliability wanted;
    std::vector<succession_days> successions = {};
    std::unique_ptr<int[]> planned = {};  ///< what the spans of these see
    std::vector<int> order = {};          ///< resolved successions, those waited for first
    std::vector<batch_walk> walks = {};   ///< of those with rows of their own: walk_all_years.hpp
    std::size_t walks_alone = 0;          ///< of these the first, which no link concerns
    std::vector<int> group_of = {};       ///< by links: see waiting_order.hpp
    days_table days = {};                 ///< under the climate it was made with
    /// Without the cures that must be tried.
    std::vector<obstacle> unresolved = {};
    /// The same with them, as `calendar::unresolved` says them: see
    /// season/windows/said_obstacles.hpp.
    derived_slot said = {};
    std::vector<linked_group> groups = {};
    std::vector<link_count> within = {};
    std::vector<std::string> warnings = {};
};

}  // namespace epicotyl::detail

#endif
