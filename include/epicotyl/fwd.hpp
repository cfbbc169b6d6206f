// epicotyl: forward declarations of the public types.
//
// For headers of your own that only name epicotyl's types, as pointers, references or in the
// declarations of functions. Aliases (`day`, `chance`, `rule` ...) and templates are not here;
// their headers are small.
#ifndef EPICOTYL_FWD_HPP
#define EPICOTYL_FWD_HPP

namespace epicotyl {

// error.hpp, units.hpp, days.hpp
class error;
class invalid_input;
class unresolved;
struct input_fault;
struct obstacle;
class temperature;
class temperature_span;
class thermal_time;
class season;
struct iso_week_date;

// weather/
class daily_record;
class filled_record;
class climate;
class weather_model;
class year_selection;
struct climate_options;
struct daily_csv_options;
struct ghcn_daily_options;
struct record_quality;
struct splice_options;
struct splice_report;
struct spliced_record;
struct element_course;
struct normals_options;
struct weather_model_parts;
struct yearly_course;

// clock/
class clock;
class ready_map;
struct day_conditions;
struct day_length_gate;
struct degree_day_rule;

// frost/
class freeze_dates;
class freeze_risk;
class freeze_table;
class season_halves;
struct counted_chance;
struct freeze_options;

// crop/
class germination_spread;
struct air;
struct air_series;
struct bought_seed;
struct container;
struct crop;
struct lamps;
struct place;
struct seed_packet;
struct stage;
class risk_setting;

// network/
class any_map;
class lag_map;
class table_map;
struct walk;

// plan/
class plan;
class plan_tree;
struct link;
struct plan_parts;
struct resolved_succession;
struct succession;

// season/
class calendar;
class planting_windows;
class prospect;
class stage_map;
class staggered;
class succession_group;
class window_years;
class yield_shape;
struct calendar_comparison;
struct chain_event;
struct changed_input;
struct conflict_step;
struct coverage_gap;
struct coverage_options;
struct coverage_week;
struct covering_sowings;
struct cure;
struct damage_report;
struct equal_gap_sowing;
struct harvest_coverage;
struct harvest_gap;
struct harvest_options;
struct harvest_span;
struct harvest_week;
struct harvest_yield;
struct last_sowing;
struct open_season_options;
struct moved_event;
struct opened_season;
struct overheld_report;
struct reason;
struct requirement;
struct season_conflict;
struct sowing_claim;
struct stagger_options;
struct staggered_sowing;
struct sweep_axis;
struct sweep_case;
struct sweep_change;
struct sweep_options;
struct sweep_result;
struct sweep_row;
struct swept_succession;
struct tightest_chain;
struct wanted_amount;
struct window_failure;
struct yield_by_week;

// space/
class occupancy;
struct air_fit;
struct cold_extreme;
struct fit_move;
struct fit_options;
struct fit_progress;
struct fit_weights;
struct guessed_gain;
struct heat_curve_result;
struct heat_point;
struct heat_price;
struct heated_batch;
struct heater_match;
struct landed;
struct not_placed;
struct overflow;
struct own_cost;
struct plan_quantities;
struct plant_offer;
struct quantity_options;
struct raising;
struct season_heat;
struct seed_lot;
struct space_fit;
struct standing;
struct structure;
struct succession_quantity;
struct surface;
struct year_heat;

}  // namespace epicotyl

#endif
