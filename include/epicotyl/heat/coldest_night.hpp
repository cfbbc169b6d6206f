// epicotyl: the coldest night in so many years of a record.
//
// "The coldest night in ten years" is the minimum that a year falls to or below with a chance of
// one in ten. Each winter of the record gives its lowest minimum; of n of them, sorted from the
// coldest, the value is the one in place floor((n + 1) / k), the colder neighbour where the place
// is not whole. Where it would lie before the first, the record is too short to tell, and there is
// none.
//
// Thirty winters are few, so the value comes with an interval: the two sorted minima between which
// the true quantile lies with the wanted confidence, whatever the distribution. The number of
// winters colder than the true quantile is binomial(n, 1 / k); the interval leaves out at each end
// as many places as have no more than half of what is left of the confidence [david2003]. Where
// the end lies beyond the coldest (mildest) winter seen, it is open: none.
//
//     cold_extreme const cold = coldest_night(record, latitude{40.8}, 10.0);
//     cold.night;     // -17.2 °C
//     cold.low;       // none: colder than anything in these thirty winters
//     cold.high;      // -15.0 °C
//
// A winter is a year from 1 July north of the equator and from 1 January south of it; it counts
// when no more than `max_missing` of its minima are missing.
#ifndef EPICOTYL_HEAT_COLDEST_NIGHT_HPP
#define EPICOTYL_HEAT_COLDEST_NIGHT_HPP

#include <optional>
#include <string>
#include <vector>

#include <epicotyl/frost/chance_band.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

struct extreme_options {
    int years = 30;        ///< the latest winters that count; 0: all
    int max_missing = 10;  ///< days of a winter without a minimum, 0 to 366
    band_confidence level = band_confidence{0.95};
};

/// The lowest minimum of a winter.
struct winter_low {
    int year = 0;  ///< in which the winter begins
    temperature low;

    friend bool operator==(winter_low const&, winter_low const&) = default;
};

/// The coldest night in `in_years` years.
struct cold_extreme {
    double in_years = 0.0;
    std::optional<temperature> night = {};  ///< none: the record is too short
    std::optional<temperature> low = {};    ///< cold end of the interval; none: open
    std::optional<temperature> high = {};   ///< mild end of it; none: open
    double level = 0.0;                     ///< confidence of the interval
    std::vector<winter_low> winters = {};   ///< by year

    friend bool operator==(cold_extreme const&, cold_extreme const&) = default;
};

/// Throws `invalid_input` unless in_years >= 1 and finite, options are in range and at least one
/// winter counts.
[[nodiscard]] cold_extreme coldest_night(daily_record const& record, latitude site, double in_years,
                                         extreme_options const& options = {});

/// The night and its interval in a sentence, and the cautions.
[[nodiscard]] std::string to_string(cold_extreme const& of,
                                    unit_system units = unit_system::metric);

}  // namespace epicotyl

#endif
