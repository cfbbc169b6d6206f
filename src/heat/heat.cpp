#include <epicotyl/heat/heat.hpp>

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>

#include "say.hpp"

namespace epicotyl {

namespace {

void require_part(double value, double most, std::string const& field, char const* unit) {
    if (value >= 0.0 && value <= most) { return; }
    throw invalid_input{{.code = "structure.out_of_range",
                         .field = field,
                         .value = fmt::format("{}", value),
                         .bound = fmt::format("0 to {}", most),
                         .unit = unit,
                         .problem = fmt::format("{} is out of range", value),
                         .remedy = "check the number and its unit"}};
}

void require_watts(double watts) {
    if (watts >= 0.0 && watts <= strongest_heater) { return; }
    throw invalid_input{{.code = "heater.watts",
                         .field = "watts",
                         .value = fmt::format("{}", watts),
                         .bound = fmt::format("0 to {:.0f}", strongest_heater),
                         .unit = "W",
                         .problem = fmt::format("{} is no output of a heater", watts),
                         .remedy = "give its output, 0 for none"}};
}

}  // namespace

double loss_per_kelvin(structure const& of) {
    double through = 0.0;
    for (std::size_t i = 0; i < of.surfaces.size(); ++i) {
        surface const& one = of.surfaces[i];
        auto const field = [&](char const* part) {
            return fmt::format("surfaces[{}].{}", i + 1, part);
        };
        require_part(one.area, 1e6, field("area"), "m2");
        require_part(one.u, 100.0, field("u"), "W/(m2 K)");
        through += one.area * one.u;
    }
    require_part(of.volume, 1e7, "volume", "m3");
    require_part(of.air_changes, 100.0, "air_changes", "an hour");
    require_part(of.allowance, 5.0, "allowance", "");
    double const loss =
        through * (1.0 + of.allowance) + air_watt_hours * of.air_changes * of.volume;
    if (loss > 0.0) { return loss; }
    throw invalid_input{{.code = "structure.loses_nothing",
                         .field = "surfaces",
                         .value = "0",
                         .bound = "more than 0",
                         .unit = "W/K",
                         .problem = "a place without surfaces or air loses no heat",
                         .remedy = "give the surfaces with their areas and U values"}};
}

double heat_loss(structure const& of, temperature inside, temperature outside) {
    return loss_per_kelvin(of) * std::max(0.0, (inside - outside).kelvin());
}

temperature coldest_outdoors(structure const& of, temperature inside, double watts) {
    return inside - lift_of(of, watts);
}

temperature_span lift_of(structure const& of, double watts) {
    require_watts(watts);
    return temperature_span::from_kelvin(watts / loss_per_kelvin(of));
}

double watts_for(structure const& of, temperature_span lift) {
    if (lift < temperature_span{}) {
        throw invalid_input{{.code = "heater.lift",
                             .field = "lift",
                             .value = fmt::format("{}", lift.kelvin()),
                             .bound = "0 or more",
                             .unit = "K",
                             .problem = fmt::format("{} is no lift", lift.kelvin()),
                             .remedy = "give how much warmer the heater is to make it"}};
    }
    return loss_per_kelvin(of) * lift.kelvin();
}

std::string say_watts(double watts) {
    constexpr double watts_per_kilowatt = 1000.0;
    double const kilowatts = watts / watts_per_kilowatt;
    if (watts < watts_per_kilowatt) { return fmt::format("{:.0f} W", watts); }
    int const places = kilowatts < 10.0 ? 2 : kilowatts < 100.0 ? 1 : 0;
    return fmt::format("{:.{}f} kW", kilowatts, places);
}

std::string loss_text(structure const& of, unit_system units) {
    double const loss = loss_per_kelvin(of);
    std::string const line =
        units == unit_system::us
            ? fmt::format("it loses {} for each °F", say_watts(loss / fahrenheit_per_kelvin))
            : fmt::format("it loses {} for each °C", say_watts(loss));
    return line + " that it is warmer inside than outdoors\n" +
           cautions_text(told_by::loss_per_kelvin, units);
}

std::string heat_loss_text(structure const& of, temperature inside, temperature outside,
                           unit_system units) {
    return fmt::format("holding {} inside takes {} while it is {} outdoors\n",
                       detail::say_degrees(inside, units),
                       say_watts(heat_loss(of, inside, outside)),
                       detail::say_degrees(outside, units)) +
           cautions_text(told_by::heat_loss, units);
}

std::string coldest_outdoors_text(structure const& of, temperature inside, double watts,
                                  unit_system units) {
    return fmt::format("{} hold {} inside down to {} outdoors\n", say_watts(watts),
                       detail::say_degrees(inside, units),
                       detail::say_degrees(coldest_outdoors(of, inside, watts), units)) +
           cautions_text(told_by::coldest_outdoors, units);
}

std::string lift_text(structure const& of, double watts, unit_system units) {
    return fmt::format("{} make it {} warmer than it would be without\n", say_watts(watts),
                       detail::say_degrees(lift_of(of, watts), units)) +
           cautions_text(told_by::lift_of, units);
}

std::string watts_text(structure const& of, temperature_span lift, unit_system units) {
    return fmt::format("making it {} warmer takes {}\n", detail::say_degrees(lift, units),
                       say_watts(watts_for(of, lift))) +
           cautions_text(told_by::watts_for, units);
}

}  // namespace epicotyl
