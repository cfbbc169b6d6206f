#include "check_bounds.hpp"

#include <algorithm>
#include <concepts>
#include <optional>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>

#include "block_values.hpp"
#include "check.hpp"
#include "field_path.hpp"
#include "keys.hpp"

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
        for (place const& one : parts_.places) { check(one, field_path{"places.", one.name}); }
        for (container const& one : parts_.containers) {
            check(one, field_path{"containers.", one.name});
        }
        for (crop const& one : parts_.crops) {
            field_path const field{"crops.", one.name};
            // Of two faults that of the limits is told.
            check(one.limit_tender, field + ".limit_tender");
            check(one.limit_hardened, field + ".limit_hardened");
            check(one, field);
        }
        for (std::size_t i = 0; i < parts_.successions.size(); ++i) {
            check(parts_.successions[i], field_path{"succession", "", number_of(i)});
        }
        for (std::size_t i = 0; i < parts_.links.size(); ++i) {
            link const& one = parts_.links[i];
            field_path const field{"link", "", number_of(i)};
            check(one.after, field + ".after");
            if (one.within) {
                check_most(*one.within, wait_days.highest, "days", field + ".within.days");
            }
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

    // --- parts, by the rows of keys.hpp ---

    void check(keyed_part auto const& of, field_path const& field) const {
        each_key(of, [&](plan_key const& key, auto const& member) {
            check_row(key, member, key.name.empty() ? field : field_path{field, ".", key.name});
        });
    }
    void check_row(plan_key const&, auto const& member, field_path const& field) const {
        check(member, field);
    }
    void check_row(plan_key const& key, double value, field_path const& field) const {
        if (value > 0.0 && value < key.least) { refuse_least(key, value, field); }
        bool const is_unbounded = key.name == "hold" && value == any_hold;
        if (!(value > key.most) || is_unbounded) { return; }
        auto const said = [&](double of) {
            return key.what ? door_.written(*key.what, of) : of;
        };
        refuse_most(said(value), said(key.most), key.what ? door_.unit(*key.what) : key.unit,
                    field);
    }
    void check_row(plan_key const& key, int value, field_path const& field) const {
        check_row(key, static_cast<double>(value), field);
    }
    void check_row(plan_key const& key, std::optional<double> value,
                   field_path const& field) const {
        if (value) { check_row(key, *value, field); }
    }
    void check_row(plan_key const&, amount const& of, field_path const& field) const {
        check_row(key_of(of), of.value, field_path{field, ".", key_of(of).name});
    }
    /// What a clock counts; the members of a group as their list has them.
    void check(clock const& of, field_path const& field) const {
        std::visit(
            overloaded{
                [&](clock_group const& group) {
                    field_path const list = field + ".";
                    for (std::size_t i = 0; i < group.members.size(); ++i) {
                        check(group.members[i], field_path{list, group.key(), "", number_of(i)});
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
                check_most(value, wait_days.highest, "days", own);
            } else if constexpr (!unitless_value<Value>) {
                check(value, own);
            }
        });
    }

    [[noreturn]] void refuse_least(plan_key const& key, double value,
                                   field_path const& field) const {
        if (!key.what) {
            refuse_part("number.too_small", field.text(), fmt::format("{}", value),
                        fmt::format("where {} survives, nothing is worth sowing", value),
                        "give the share alive at the end of the stage, such as 0.9",
                        fmt::format("{} to 1", key.least));
        }
        double const written = door_.written(*key.what, value);
        std::string_view const unit = door_.unit(*key.what);
        refuse_part("number.too_small", field.text(), fmt::format("{}", written),
                    fmt::format("{} {} is no distance between plants", written, unit),
                    "give the distance between the plants of a row",
                    fmt::format("{:.3g} or more", door_.written(*key.what, key.least)), unit);
    }

    static void check(plain_value auto const&, field_path const&) {}
    static void check(std::vector<job> const&, field_path const&) {}
    static void check(std::vector<std::string> const&, field_path const&) {}
    /// Compared with the limit of its stage, see `part_checker::check_losses`.
    static void check(loss_setting const&, field_path const&) {}

    void check(rule const& of, field_path const& field) const {
        std::visit([&](rule_block auto const& one) { check_keys(one, field); }, of);
    }
    void check(target const& of, field_path const& field) const { check(of.rule, field); }
    void check(std::vector<event_bound> const& bounds, field_path const& field) const {
        for (event_bound const& bound : bounds) {
            check(bound.rule, field_path{field, ".", bound.event});
        }
    }
    void check(std::vector<stage> const& stages, field_path const& field) const {
        for (std::size_t j = 0; j < stages.size(); ++j) {
            check_stage(stages[j], field_path{field, "", "", number_of(j)});
        }
    }
    void check(std::vector<stage_change> const& changes, field_path const& field) const {
        for (stage_change const& change : changes) {
            check_stage(change, field_path{field, ".", change.begins});
        }
    }
    /// Of two faults that of the wait is told.
    void check_stage(auto const& of, field_path const& field) const {
        check(of.takes, field + ".takes");
        check(of, field);
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

void refuse_batches(std::size_t count, std::string const& field) {
    refuse_part("plan.too_many_batches", field, fmt::format("{}", count),
                fmt::format("with it the plan has {} batches", count),
                "repeat less often, or plan the farm in parts",
                fmt::format("up to {}", most_batches), "batches");
}

void require_link_ends(std::size_t count, std::string const& field) {
    if (count <= static_cast<std::size_t>(most_link_ends)) { return; }
    refuse_part("plan.too_many_waits", field, fmt::format("{}", count),
                fmt::format("with it the links of the plan have {} ends, waves spelled out", count),
                "link one succession that stands for its wave, or make smaller waves",
                fmt::format("up to {}", most_link_ends), "ends");
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
                "want fewer, or look at what survives each stage",
                fmt::format("up to {:.0f}", most_plants_sown), "plants");
}

}  // namespace epicotyl::detail
