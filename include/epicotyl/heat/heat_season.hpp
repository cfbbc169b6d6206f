// epicotyl: the heat and the bill of a season's set point, in every season year.
//
// A daily record has no hours. Between the day's minimum and maximum the place is taken to follow a
// sine, as degree-days by the single sine do [baskerville1969]. Without its heater the place has
// its own air, warmer than outdoors by what sun, soil and cover give (`warmer_night`, `warmer_day`
// of crop/air.hpp); the heater lifts it to the set point where it would be colder, as far as its
// lift reaches. What it gives is the loss in steady state of that lift:
//
//     K day of a day = below(heat_to) - below(heat_to - lift)
//     below(T)       = T - mean + above(T), the area of the sine below T
//     kWh            = loss per kelvin * 24 h * sum of K day / 1000
//
// So the kWh never fall as the set point rises, and rise faster the higher it is (convex), as long
// as the lift has no bound. Departures, all of them small beside wind and wet: no heat is stored
// from day to night, a night's minimum belongs to the day of the record, vents are shut while it is
// heated, and covers laid on cold nights save nothing here.
//
//     season_heat const heat = heat_of_season(house, air, climate, make_day(2027, 1, 10),
//                                             make_day(2027, 4, 30), {.per_kwh = 0.30});
//     heat.usual().kwh;
//
// A place that holds `day` and `night` (a mat, a chamber) is not of this kind and is refused.
//
// The plan's `heat_lift` takes a heater of so many watts in this structure, which the text says;
// where the watts of the heater are given and are not those, it says so (heat/heater.hpp).
#ifndef EPICOTYL_HEAT_HEAT_SEASON_HPP
#define EPICOTYL_HEAT_HEAT_SEASON_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/crop/air.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/heat/heat.hpp>
#include <epicotyl/heat/heater.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// What heat costs.
struct heat_price {
    double per_kwh = 0.0;  ///< of what is bought, 0 or more
    double efficiency =
        1.0;  ///< share of it that warms the place, more than 0; a heat pump: above 1
    std::string currency = {};

    friend bool operator==(heat_price const&, heat_price const&) = default;
};

/// Kelvin-days that a heater gives on one day (both °C, low <= high) of a place without it.
[[nodiscard]] double heating_kelvin_days(double low, double high, double heat_to, double lift);

/// The heat of one season year.
struct year_heat {
    int year = 0;
    double kwh = 0.0;   ///< given off by the heater
    double cost = 0.0;  ///< of what is bought for it
    int days = 0;       ///< on which it runs

    friend bool operator==(year_heat const&, year_heat const&) = default;
};

/// The heat of a stretch of the season, year by year.
struct season_heat {
    day from;
    day until;  ///< last day
    temperature heat_to;
    double loss = 0.0;  ///< W/K
    std::string currency = {};
    std::vector<year_heat> years = {};
    unit_system units = unit_system::metric;  ///< of the text; numbers here are metric
    heater_match heater = {};                 ///< the plan's lift in this structure
    double peak = 0.0;                        ///< most that these nights ask of the heater [W]

    /// The k-th smallest by kWh, k = max(1, ceil(q n)); no averaging.
    [[nodiscard]] year_heat quantile(quantile_level q) const;
    [[nodiscard]] year_heat usual() const { return quantile(quantile_level{0.5}); }

    friend bool operator==(season_heat const&, season_heat const&) = default;
};

/// Heat of the days `from` to `until` (both included, dates of a plan whose season starts in
/// `from`'s season), in every season year of the climate. Throws `invalid_input` for days outside
/// the season or in the wrong order, a place without `heat_to` or with held temperatures, and what
/// `loss_per_kelvin` refuses. `watts` are those of the heater: they are held against the place's
/// `heat_lift`, by which all is counted.
[[nodiscard]] season_heat heat_of_season(structure const& of, air const& place,
                                         climate const& years, season const& window, day from,
                                         day until, heat_price const& price = {},
                                         std::optional<double> watts = {});

/// The same of a place of a plan, with another set point where one is given; told in the plan's
/// units.
[[nodiscard]] season_heat heat_of_season(structure const& of, plan const& planned,
                                         climate const& years, std::string_view place, day from,
                                         day until, std::optional<temperature> heat_to = {},
                                         heat_price const& price = {},
                                         std::optional<double> watts = {});

/// Usual, small and large bills, and the cautions.
[[nodiscard]] std::string to_string(season_heat const& of);

}  // namespace epicotyl

#endif
