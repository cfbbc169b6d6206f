#include <epicotyl/heat/heater.hpp>

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include <epicotyl/crop/air.hpp>
#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/plan_tree.hpp>

#include "say.hpp"

namespace epicotyl {

namespace {

/// What rounding does to a lift and to a heater's plate.
constexpr double rounded_kelvin = 0.05;
constexpr double rounded_share = 0.02;
constexpr double hundredths = 100.0;

}  // namespace

std::optional<double> heater_match::needs() const {
    return lift ? std::optional{loss * lift->kelvin()} : std::nullopt;
}

std::optional<temperature_span> heater_match::holds() const {
    return watts ? std::optional{temperature_span::from_kelvin(*watts / loss)} : std::nullopt;
}

bool heater_match::agrees() const {
    if (!watts) { return true; }
    if (!lift) { return false; }
    double const off = std::abs(holds()->kelvin() - lift->kelvin());
    return off <= std::max(rounded_kelvin, rounded_share * lift->kelvin());
}

heater_match match_heater(structure const& of, air const& place, std::optional<double> watts) {
    if (watts) { (void)lift_of(of, *watts); }
    return {.loss = loss_per_kelvin(of), .lift = place.heat_lift, .watts = watts};
}

heater_match match_heater(plan const& of, std::string_view place, structure const& made_of,
                          std::optional<double> watts) {
    epicotyl::place const& one = of.places()[static_cast<std::size_t>(of.place_index(place))];
    if (!one.air.heat_to) {
        throw invalid_input{{.code = "place.no_set_point",
                             .field = "heat_to",
                             .value = one.name,
                             .bound = "a place with heat_to",
                             .problem = fmt::format("\"{}\" has no heater", one.name),
                             .remedy = "give the place a heater: heat_to"}};
    }
    heater_match found = match_heater(made_of, one.air, watts);
    found.units = of.parts().units;
    return found;
}

std::string to_string(heater_match const& of) {
    unit_system const units = of.units;
    if (!of.lift && !of.watts) {
        return "the plan's heater is taken to be strong enough on every night: it has no "
               "heat_lift";
    }
    if (!of.watts) {
        return fmt::format("the plan counts on a lift of {}, which takes {} here",
                           detail::say_degrees(*of.lift, units), say_watts(*of.needs()));
    }
    std::string const held =
        fmt::format("{} lift it {}", say_watts(*of.watts), detail::say_degrees(*of.holds(), units));
    if (of.agrees()) { return held + ", as the plan counts on"; }
    std::string const cure = fmt::format("set heat_lift = {:.1f} in the plan (with_heater does)",
                                         detail::in_degrees(*of.holds(), units));
    if (!of.lift) {
        return fmt::format(
            "note: the plan counts on a heater that is strong enough on every night "
            "(no heat_lift); {}: {}",
            held, cure);
    }
    return fmt::format(
        "note: the plan counts on a lift of {}, which takes {} here; {}: {}, or "
        "take a heater of {}",
        detail::say_degrees(*of.lift, units), say_watts(*of.needs()), held, cure,
        say_watts(*of.needs()));
}

plan with_heater(plan const& of, std::string_view place, structure const& made_of, double watts) {
    double const lift = detail::in_degrees(lift_of(made_of, watts), of.parts().units);
    plan_tree keys = plan_tree::table();
    keys.set("heat_lift", plan_tree{std::round(lift * hundredths) / hundredths});
    return with_place_keys(of, place, keys);
}

}  // namespace epicotyl
