// epicotyl: everything, in one include.
//
// For programs that use the library from end to end, and for trying things out. A library built on
// epicotyl includes what it uses. Not here, because each brings a library of others along: the
// network (`epicotyl/network/`, and `season/windows/event_network.hpp` made of it) with
// Boost.Graph, and `epicotyl/fmt.hpp` with fmt. Headers that call themselves unstable are not
// listed.
#ifndef EPICOTYL_EPICOTYL_HPP
#define EPICOTYL_EPICOTYL_HPP

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/amounts/cost.hpp>
#include <epicotyl/amounts/quantities.hpp>
#include <epicotyl/amounts/seed_packets.hpp>
#include <epicotyl/bounds.hpp>
#include <epicotyl/cautions.hpp>
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
#include <epicotyl/days.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/frost/chance_band.hpp>
#include <epicotyl/frost/freeze_answer.hpp>
#include <epicotyl/frost/freeze_dates.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/frost/freeze_table.hpp>
#include <epicotyl/frost/season_halves.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/heat/coldest_night.hpp>
#include <epicotyl/heat/fit_air.hpp>
#include <epicotyl/heat/heat.hpp>
#include <epicotyl/heat/heat_curve.hpp>
#include <epicotyl/heat/heat_season.hpp>
#include <epicotyl/heat/heater.hpp>
#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/link.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_bytes.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/plan/plan_tree.hpp>
#include <epicotyl/plan/succession.hpp>
#include <epicotyl/plan/unit_door.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/days/explain.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/harvest/coverage.hpp>
#include <epicotyl/season/harvest/fewest_sowings.hpp>
#include <epicotyl/season/harvest/harvest.hpp>
#include <epicotyl/season/harvest/stagger.hpp>
#include <epicotyl/season/harvest/yield.hpp>
#include <epicotyl/season/open_season.hpp>
#include <epicotyl/season/rows/reason.hpp>
#include <epicotyl/season/rows/requirement.hpp>
#include <epicotyl/season/what_if/compare.hpp>
#include <epicotyl/season/what_if/sweep.hpp>
#include <epicotyl/season/windows/explain_windows.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>
#include <epicotyl/season/windows/typed_cure.hpp>
#include <epicotyl/season/windows/why_unresolved.hpp>
#include <epicotyl/season/windows/window_years.hpp>
#include <epicotyl/space/fit/fit.hpp>
#include <epicotyl/space/occupancy.hpp>
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
