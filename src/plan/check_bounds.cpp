#include "check_bounds.hpp"

#include <algorithm>
#include <concepts>
#include <optional>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/overloaded.hpp>

#include "block_values.hpp"
#include "check.hpp"
#include "field_path.hpp"

namespace epicotyl::detail {

namespace {

[[nodiscard]] std::string bound_text(quantity what, value_range const& range,
                                     unit_door const& door) {
    return fmt::format("{:.0f} to {:.0f}", door.written(what, range.lowest),
                       door.written(what, range.highest));
}

/// A number that would be sound in the other unit was meant so.
[[nodiscard]] std::string air_remedy(double written, unit_door const& door) {
    std::string_view const unit = door.unit(quantity::temperature);
    unit_door const fahrenheit{unit_system::us};
    double const celsius = fahrenheit.to_core(quantity::temperature, written);
    if (unit != fahrenheit.unit(quantity::temperature) && written > air_celsius.highest &&
        air_celsius.holds(celsius)) {
        return fmt::format("did you mean °F? {} °F are {:.1f} °C, and the plan is in °C", written,
                           celsius);
    }
    return fmt::format("give it in {}, the unit of the plan", unit);
}

[[nodiscard]] int number_of(std::size_t index) {
    return static_cast<int>(index) + 1;
}

class bounds_checker {
public:
    explicit bounds_checker(plan_parts const& parts) : parts_{parts}, door_{parts.units} {}

    void run() const {
        check(parts_.frost.at, field_path{"site.frost.at"});
        for (place const& one : parts_.places) {
            check_place(one, field_path{"places.", one.name});
        }
        for (container const& one : parts_.containers) {
            field_path const field{"containers.", one.name};
            check_most(one.cells, most_cells, "cells", field + ".cells");
            check_most(quantity::medium, one.medium, most_medium, field + ".medium");
            check_most(quantity::area, one.area, largest_area, field + ".area");
        }
        for (crop const& one : parts_.crops) { check_crop(one, field_path{"crops.", one.name}); }
        for (std::size_t i = 0; i < parts_.successions.size(); ++i) {
            check_succession(parts_.successions[i], field_path{"succession", "", number_of(i)});
        }
        for (std::size_t i = 0; i < parts_.links.size(); ++i) {
            link const& one = parts_.links[i];
            field_path const field{"link", "", number_of(i)};
            check_clock(one.after, field + ".after");
            if (one.within) { check_days(*one.within, field + ".within.days"); }
        }
    }

private:
    void check(temperature value, field_path const& field) const {
        if (air_celsius.holds(value.celsius())) { return; }
        double const written = door_.written(quantity::temperature, value.celsius());
        std::string_view const unit = door_.unit(quantity::temperature);
        refuse_part("temperature.out_of_range", field.text(), fmt::format("{}", written),
                    fmt::format("{} {} is no temperature of air or soil", written, unit),
                    air_remedy(written, door_),
                    bound_text(quantity::temperature, air_celsius, door_), unit);
    }

    void check(temperature_span value, field_path const& field) const {
        if (span_kelvin.holds(value.kelvin())) { return; }
        double const written = door_.written(quantity::span, value.kelvin());
        std::string_view const unit = door_.unit(quantity::span);
        refuse_part("span.out_of_range", field.text(), fmt::format("{}", written),
                    fmt::format("no air is {} {} warmer than another", written, unit),
                    fmt::format("give a difference in {}, the unit of the plan", unit),
                    bound_text(quantity::span, span_kelvin, door_), unit);
    }

    void check(thermal_time value, field_path const& field) const {
        if (heat_kelvin_days.holds(value.kelvin_days())) { return; }
        double const written = door_.written(quantity::heat, value.kelvin_days());
        std::string_view const unit = door_.unit(quantity::heat);
        refuse_part("heat.out_of_range", field.text(), fmt::format("{}", written),
                    fmt::format("no plant waits for {} {}", written, unit),
                    fmt::format("give the sum in {}, the unit of the plan", unit),
                    bound_text(quantity::heat, heat_kelvin_days, door_), unit);
    }
    template <class Value>
    void check(std::optional<Value> const& value, field_path const& field) const {
        if (value) { check(*value, field); }
    }

    [[noreturn]] static void refuse_most(double value, double most, std::string_view unit,
                                         field_path const& field) {
        refuse_part("number.too_large", field.text(), fmt::format("{}", value),
                    fmt::format("{} {} is more than a plan can hold", value, unit),
                    "check the number and its unit", fmt::format("up to {:.0f}", most), unit);
    }
    /// What is not positive, or no number, is refused where its meaning is known.
    static void check_most(double value, double most, std::string_view unit,
                           field_path const& field) {
        if (value > most) { refuse_most(value, most, unit, field); }
    }
    void check_most(quantity what, double value, double most, field_path const& field) const {
        if (!(value > most)) { return; }
        refuse_most(door_.written(what, value), door_.written(what, most), door_.unit(what), field);
    }
    void check_most(quantity what, std::optional<double> const& value, double most,
                    field_path const& field) const {
        if (value) { check_most(what, *value, most, field); }
    }

    void check_place(place const& one, field_path const& field) const {
        air const& of = one.air;
        if (of.steady) {
            check(of.steady->day, field + ".day");
            check(of.steady->night, field + ".night");
        }
        check(of.warmer_night, field + ".warmer_night");
        check(of.warmer_day, field + ".warmer_day");
        check(of.heat_to, field + ".heat_to");
        check(of.heat_lift, field + ".heat_lift");
        check(of.vent_above, field + ".vent_above");
        if (of.nights) {
            check(of.nights->below, field + ".cold_nights.below");
            check(of.nights->warmer, field + ".cold_nights.warmer");
        }
        if (one.trays) { check_most(*one.trays, most_trays, "trays", field + ".trays"); }
        check_most(quantity::bed, one.bed, longest_bed, field + ".bed");
        check_most(quantity::area, one.area, largest_area, field + ".area");
        if (one.lamps && one.lamps->trays) {
            check_most(*one.lamps->trays, most_trays, "trays", field + ".lamps.trays");
        }
    }

    void check_days(double days, field_path const& field) const {
        check_most(days, wait_days.highest, "days", field);
    }
    /// What a clock counts; the members of a group as their list has them.
    void check_clock(clock const& of, field_path const& field) const {
        std::visit(overloaded{[&](clock_group const& group) {
                                  field_path const list = field + ".";
                                  for (std::size_t i = 0; i < group.members.size(); ++i) {
                                      check_clock(group.members[i],
                                                  field_path{list, group.key(), "", number_of(i)});
                                  }
                              },
                              [&](simple_wait auto const& wait) {
                                  check_keys(wait, field);
                              }},
                   of.what());
    }
    template <class Block>
    void check_keys(Block const& one, field_path const& field) const {
        Block::each_key(one, [&]<class Value>(block_key const& key, Value const& value) {
            field_path const own{field, ".", key.name};
            if constexpr (std::same_as<Value, double>) {
                check_days(value, own);
            } else if constexpr (!unitless_value<Value>) {
                check(value, own);
            }
        });
    }

    void check_spacing(std::optional<spacing> const& of, field_path const& field) const {
        if (!of) { return; }
        check_most(of->rows, most_rows, "rows", field + ".spacing.rows");
        check_most(quantity::in_row, of->in_row, furthest_in_row, field + ".spacing.in_row");
        if (!(of->in_row > 0.0 && of->in_row < nearest_in_row)) { return; }
        double const value = door_.written(quantity::in_row, of->in_row);
        std::string_view const unit = door_.unit(quantity::in_row);
        refuse_part("number.too_small", field.text() + ".spacing.in_row", fmt::format("{}", value),
                    fmt::format("{} {} is no distance between plants", value, unit),
                    "give the distance between the plants of a row",
                    fmt::format("{:.3g} or more", door_.written(quantity::in_row, nearest_in_row)),
                    unit);
    }
    static void check_survives(double share, field_path const& field) {
        if (!(share > 0.0 && share < least_survives)) { return; }
        refuse_part("number.too_small", field.text() + ".survives", fmt::format("{}", share),
                    fmt::format("where {} survives, nothing is worth sowing", share),
                    "give the share alive at the end of the stage, such as 0.9",
                    fmt::format("{} to 1", least_survives));
    }
    static void check_hold(std::optional<double> const& hold, field_path const& field) {
        if (hold && *hold != any_hold) {
            check_most(*hold, wait_days.highest, "days", field + ".hold");
        }
    }

    void check_rule(rule const& of, field_path const& field) const {
        std::visit([&](rule_block auto const& one) { check_keys(one, field); }, of);
    }
    void check_rules(std::vector<event_bound> const& bounds, field_path const& field) const {
        for (event_bound const& bound : bounds) {
            check_rule(bound.rule, field_path{field, ".", bound.event});
        }
    }

    void check_crop(crop const& one, field_path const& field) const {
        check(one.limit_tender, field + ".limit_tender");
        check(one.limit_hardened, field + ".limit_hardened");
        for (std::size_t j = 0; j < one.stages.size(); ++j) {
            stage const& of = one.stages[j];
            field_path const own{field, ".stages", "", number_of(j)};
            check_clock(of.takes, own + ".takes");
            check_spacing(of.spacing, own);
            check_survives(of.survives, own);
            check_hold(of.hold, own);
            check(of.limit, own + ".limit");
            check(of.too_hot, own + ".too_hot");
        }
        check_rules(one.not_before, field + ".not_before");
        check_rules(one.not_after, field + ".not_after");
    }

    void check_succession(succession const& one, field_path const& field) const {
        switch (one.amount.what) {
            case amount::measure::plants:
                check_most(one.amount.value, most_plants_sown, "plants", field + ".plants");
                break;
            case amount::measure::trays:
                check_most(one.amount.value, most_trays, "trays", field + ".trays");
                break;
            case amount::measure::bed:
                check_most(quantity::bed, one.amount.value, longest_bed, field + ".bed");
                break;
        }
        check_rule(one.target.rule, field + ".target");
        check_rules(one.not_before, field + ".not_before");
        check_rules(one.not_after, field + ".not_after");
        for (stage_change const& change : one.changes) {
            field_path const own{field, ".stage.", change.begins};
            if (change.takes) { check_clock(*change.takes, own + ".takes"); }
            check_spacing(change.spacing, own);
            if (change.survives) { check_survives(*change.survives, own); }
            check_hold(change.hold, own);
            check(change.limit, own + ".limit");
            check(change.too_hot, own + ".too_hot");
        }
    }

    plan_parts const& parts_;
    unit_door door_;
};

/// Plants of an amount at the event that it speaks of.
struct counted_plants {
    double plants;
    int event;
};

[[nodiscard]] counted_plants plants_of(plan_parts const& parts, amount const& of, crop const& grown,
                                       int target_event) {
    if (of.what == amount::measure::plants) { return {of.value, target_event}; }
    if (of.what == amount::measure::trays) {
        auto const found = std::find_if(
            parts.containers.begin(), parts.containers.end(),
            [&](container const& one) { return one.name == grown.stages.front().container; });
        return {of.value * found->cells, 0};
    }
    auto const found = std::find_if(grown.stages.begin(), grown.stages.end(),
                                    [](stage const& one) { return one.spacing.has_value(); });
    return {of.value * 100.0 * found->spacing->rows / found->spacing->in_row,
            static_cast<int>(found - grown.stages.begin())};
}

}  // namespace

void check_bounds(plan_parts const& parts) {
    bounds_checker{parts}.run();
}

void require_batches(std::size_t count, std::string const& field) {
    if (count <= static_cast<std::size_t>(most_batches)) { return; }
    refuse_part("plan.too_many_batches", field, fmt::format("{}", count),
                fmt::format("with it the plan has {} batches", count),
                "repeat less often, or plan the farm in parts",
                fmt::format("up to {}", most_batches), "batches");
}

void require_waits(std::size_t count, std::string const& field) {
    if (count <= static_cast<std::size_t>(most_waits)) { return; }
    refuse_part("plan.too_many_waits", field, fmt::format("{}", count),
                fmt::format("with it events of the plan wait for {} others", count),
                "link one succession that stands for its wave, or make smaller waves",
                fmt::format("up to {}", most_waits), "waits");
}

void check_plants(plan_parts const& parts, amount const& of, crop const& grown, int target_event,
                  std::string const& field) {
    counted_plants counted = plants_of(parts, of, grown, target_event);
    // What is begun is the most: some are lost in every stage.
    for (int j = counted.event; j > 0; --j) {
        counted.plants /= grown.stages[static_cast<std::size_t>(j) - 1].survives;
    }
    if (counted.plants <= most_plants_sown) { return; }
    refuse_part("amount.too_many", field, fmt::format("{:.4g}", counted.plants),
                fmt::format("it would begin with {:.4g} plants", counted.plants),
                "ask for fewer, or look at what survives each stage",
                fmt::format("up to {:.0f}", most_plants_sown), "plants");
}

}  // namespace epicotyl::detail
