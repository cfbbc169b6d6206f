#include "sheet_head.hpp"

#include <fmt/format.h>

#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/unit_door.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../detail/wrapped.hpp"
#include "../tables/cold_days.hpp"

namespace epicotyl::detail {

std::string sheet_head(calendar const& of) {
    std::string const& title = of.plan().parts().title;
    int const years = of.climate().size();
    return wrapped(fmt::format(
        "{}{}Weather of {}.\nPlanned to be in time in {:g} % of the years: {} of {}.\n", title,
        title.empty() ? "" : "\n", to_string(of.climate(), of.plan().parts().units),
        of.reliability().value() * 100.0, needed_years(of.reliability().value(), years), years));
}

std::string say_how_much(plan const& of, amount const& how_much) {
    switch (how_much.what) {
        case amount::measure::plants:
            return fmt::format("{:g} plant{}", how_much.value, how_much.value == 1.0 ? "" : "s");
        case amount::measure::trays:
            return fmt::format("{:g} tray{}", how_much.value, how_much.value == 1.0 ? "" : "s");
        case amount::measure::bed:
            return fmt::format("{:g} {} of bed",
                               door_of(of).from_core(quantity::bed, how_much.value),
                               of.parts().units == unit_system::metric ? "m" : "ft");
    }
    return {};
}

}  // namespace epicotyl::detail
