#include "check_succession.hpp"

#include <cmath>
#include <cstdint>

#include <fmt/format.h>

#include "check.hpp"

namespace epicotyl::detail {

void check_amount(unit_door const& door, amount const& of, crop const& grown,
                  std::string const& field) {
    bool const is_bed = of.what == amount::measure::bed;
    double const value = is_bed ? door.written(quantity::bed, of.value) : of.value;
    char const* const name = is_bed                               ? "bed"
                             : of.what == amount::measure::plants ? "plants"
                                                                  : "trays";
    std::string const own = field + '.' + name;
    std::string_view const unit = is_bed ? door.unit(quantity::bed) : std::string_view{name};
    if (!(value > 0.0 && std::isfinite(value))) {
        refuse_part("amount.not_positive", own, fmt::format("{}", value),
                    fmt::format("{} is nothing to grow", value), "give how much there is to be",
                    "more than 0", unit);
    }
    if (of.what == amount::measure::plants && value != std::floor(value)) {
        refuse_part("amount.part_of_a_plant", own, fmt::format("{}", value),
                    fmt::format("{} is no number of plants", value), "give a whole number",
                    "whole numbers");
    }
    if (of.what == amount::measure::trays && grown.stages[0].container.empty()) {
        refuse_part("amount.no_container", own, fmt::format("{}", value),
                    fmt::format("\"{}\" begins without a container", grown.name),
                    "count plants or bed, or give its first stage a container");
    }
    if (is_bed) {
        for (stage const& one : grown.stages) {
            if (one.spacing) { return; }
        }
        refuse_part("amount.no_spacing", own, fmt::format("{}", value),
                    fmt::format("no stage of \"{}\" has a spacing", grown.name),
                    "count plants or trays, or give the stage in the bed a spacing");
    }
}

void check_repeat(repeat const& of, season const& window, crop const& grown,
                  std::string const& field) {
    if (of.times < 2) {
        refuse_part("repeat.times", field + ".times", fmt::format("{}", of.times),
                    fmt::format("{} is no repeat", of.times),
                    "give the number in all, or leave repeat out", "2 or more", "times");
    }
    if (of.harvest_every < 1) {
        refuse_part("repeat.harvest_every", field + ".harvest_every",
                    fmt::format("{}", of.harvest_every),
                    fmt::format("{} days do not part two harvests", of.harvest_every),
                    "give the days between two first harvests", "1 or more", "days");
    }
    if (!event_index(grown, "first_harvest")) {
        refuse_part("repeat.no_harvest", field, grown.name,
                    fmt::format("\"{}\" has no event \"first_harvest\" to repeat", grown.name),
                    "give the crop a stage that it begins, or write each succession");
    }
    auto const last =
        static_cast<std::int64_t>(of.times - 1) * static_cast<std::int64_t>(of.harvest_every);
    if (last > window.length()) {
        refuse_part("repeat.too_long", field, fmt::format("{}", last),
                    fmt::format("the last would come {} days after the first", last),
                    "repeat less often or closer together",
                    fmt::format("up to the season's {}", window.length()), "days");
    }
}

}  // namespace epicotyl::detail
