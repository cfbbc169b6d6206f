#include "night_cautions.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/prospect.hpp>

#include "../tables/cold_days.hpp"

namespace epicotyl {

namespace detail {

told_of told_of_plan(plan const& of) {
    auto const any = [&](auto const& has) {
        return std::any_of(of.places().begin(), of.places().end(), has);
    };
    return {.heater = any([](place const& one) { return one.air.heat_to.has_value(); }),
            .mats_and_lamps = any([](place const& one) {
                return one.air.steady.has_value() || one.lamps.has_value();
            }),
            .cover = any([](place const& one) { return one.air.nights.has_value(); })};
}

std::string plan_cautions(told_by function, plan const& of) {
    return cautions_text(function, of.parts().units, told_of_plan(of));
}

}  // namespace detail

std::string nights_to_act_text(prospect const& of, std::optional<std::string_view> place,
                               std::optional<std::string_view> succession) {
    std::vector<int> nights = of.nights_to_act(place, succession);
    std::sort(nights.begin(), nights.end());
    auto const in_share = [&](double share) {
        int const rank = detail::needed_years(share, static_cast<int>(nights.size()));
        return nights[static_cast<std::size_t>(rank - 1)];
    };
    std::string line = "nights to cover or heat";
    if (place) { line += fmt::format(" in {}", *place); }
    if (succession) { line += fmt::format(" for {}", *succession); }
    std::string const count = in_share(0.9) == 0
                                  ? std::string{"none, in 9 years in 10"}
                                  : fmt::format("{} in the usual year, {} or more in 1 year in 10",
                                                in_share(0.5), in_share(0.9));
    return fmt::format("{}: {}\n", line, count) +
           detail::plan_cautions(told_by::nights_to_act, of.calendar().plan());
}

}  // namespace epicotyl
