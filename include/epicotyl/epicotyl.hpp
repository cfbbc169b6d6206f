// epicotyl: everything, in one include.
//
// For programs that use the library from end to end, and for trying things out. A library built on
// epicotyl includes what it uses. Headers that call themselves unstable are not listed.
#ifndef EPICOTYL_EPICOTYL_HPP
#define EPICOTYL_EPICOTYL_HPP

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/clock/degree_days.hpp>
#include <epicotyl/clock/germination.hpp>
#include <epicotyl/clock/rate.hpp>
#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/crop/air.hpp>
#include <epicotyl/crop/cell_volume.hpp>
#include <epicotyl/crop/crop.hpp>
#include <epicotyl/crop/place.hpp>
#include <epicotyl/crop/rule.hpp>
#include <epicotyl/crop/seed_count.hpp>
#include <epicotyl/crop/seed_packets.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/frost/chance_band.hpp>
#include <epicotyl/frost/freeze_answer.hpp>
#include <epicotyl/frost/freeze_dates.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/frost/freeze_table.hpp>
#include <epicotyl/frost/season_halves.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/network/monotone_map.hpp>
#include <epicotyl/network/monotone_network.hpp>
#include <epicotyl/network/order.hpp>
#include <epicotyl/network/walk.hpp>
#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/link.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/plan/plan_tree.hpp>
#include <epicotyl/plan/succession.hpp>
#include <epicotyl/season/calendar.hpp>
#include <epicotyl/season/compare.hpp>
#include <epicotyl/season/coverage.hpp>
#include <epicotyl/season/event_network.hpp>
#include <epicotyl/season/explain.hpp>
#include <epicotyl/season/fewest_sowings.hpp>
#include <epicotyl/season/harvest.hpp>
#include <epicotyl/season/open_season.hpp>
#include <epicotyl/season/planting_windows.hpp>
#include <epicotyl/season/prospect.hpp>
#include <epicotyl/season/reason.hpp>
#include <epicotyl/season/requirement.hpp>
#include <epicotyl/season/schedule.hpp>
#include <epicotyl/season/simulate.hpp>
#include <epicotyl/season/stagger.hpp>
#include <epicotyl/season/sweep.hpp>
#include <epicotyl/season/window_years.hpp>
#include <epicotyl/season/yield.hpp>
#include <epicotyl/space/alive.hpp>
#include <epicotyl/space/cost.hpp>
#include <epicotyl/space/occupancy.hpp>
#include <epicotyl/space/quantities.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/version.hpp>
#include <epicotyl/weather/adjust.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/filled_record.hpp>
#include <epicotyl/weather/generator.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>
#include <epicotyl/weather/quality.hpp>
#include <epicotyl/weather/splice.hpp>
#include <epicotyl/weather/year_selection.hpp>

#endif
