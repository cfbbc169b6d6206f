// epicotyl: a weather generator: years that did not happen, and could have.
//
// A short record, or none, gives too few season years to count in. A `weather_model` says how the
// daily minimum and maximum of a place behave, and `generate` draws as many days from it as are
// wanted. What is drawn is a daily record like any other, and says where it came from.
//
// Every element (minimum, maximum) has two courses over the year, sums of harmonics of the day of
// the year: its mean m and the spread s (standard deviation) of the days around it:
//
//     phase(day) = 2 pi k / (days of that year), k = 0 on 1 January
//     course     = level + sum of cosine[h] cos(h phase) + sine[h] sin(h phase), h = 1, 2, 3
//     value      = m + s z
//
// The residuals z of both elements follow one another as in [richardson1981], which took the
// matrices from [matalas1967]; here without rain, so wet and dry days share one model:
//
//     z(t) = A z(t-1) + B e(t)        e: two independent standard normal deviates
//     A    = M1 M0^-1,  B B' = M0 - A M1'
//     M0   = ( 1 r )   r: same_day     M1[i][j]: correlation of element i with element j on the
//            ( r 1 )                   day before (0 the minimum, 1 the maximum): next_day
//
// **Maximum at least minimum.** The two are drawn with their correlation, not with their order. On
// a day where the maximum comes out below the minimum both become the mean of the two. The mean of
// the day is kept, its range is 0, and the spread of both elements shrinks a little; `met_share`
// says on how many days to expect it (about 1 in 100 in New York).
//
// **What it does not know.** Residuals are normal, of one persistence the year round; there is no
// trend, no year that is warm as a whole beyond what chance gives, and so generated years differ
// less from one another than real ones [wilks1999]. For one threshold, then, look before you lean
// on it. The dates of the 0 °C freezes in 1000 generated years, against the 93 years they were
// fitted to (1926 to 2018; chances 10, 50, 90 %): in New York last freezes 2 to 4 days later and
// first ones 2 to 3 days earlier, which is the safe side; at Dubois, Idaho, where clear nights are
// colder than normal residuals allow, last freezes 3 to 10 days too early and first ones 4 to 7 too
// late.
//
// **The same everywhere.** Numbers come from the 64-bit Mersenne Twister, whose output the C++
// standard fixes, by our own transformation [box1958], since the standard library's normal
// distribution differs from vendor to vendor; values are rounded to 0.01 degrees, which leaves no
// room for the last bit of a sine.
#ifndef EPICOTYL_WEATHER_GENERATOR_HPP
#define EPICOTYL_WEATHER_GENERATOR_HPP

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>

#include <epicotyl/days.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/year_selection.hpp>

namespace epicotyl {

/// Two by two numbers, row by row: 0 the minimum, 1 the maximum.
using pair_matrix = std::array<std::array<double, 2>, 2>;

/// Angle of a day in its year [rad]: 0 on 1 January, just short of 2 pi on 31 December.
[[nodiscard]] double phase_of(day d) noexcept;

/// A quantity over the year as a sum of harmonics of the phase.
struct yearly_course {
    static constexpr std::size_t harmonics = 3;

    double level = 0.0;                         ///< mean over the year
    std::array<double, harmonics> cosine = {};  ///< of 1, 2, 3 waves a year
    std::array<double, harmonics> sine = {};    ///< of 1, 2, 3 waves a year

    /// Value at a phase [rad].
    [[nodiscard]] double at(double phase) const noexcept;

    friend bool operator==(yearly_course const&, yearly_course const&) = default;
};

/// Mean and spread of one element over the year.
struct element_course {
    yearly_course mean;    ///< [°C]
    yearly_course spread;  ///< standard deviation of the days around the mean [K]

    friend bool operator==(element_course const&, element_course const&) = default;
};

/// What a weather model is made of.
struct weather_model_parts {
    element_course minimum;
    element_course maximum;
    /// Correlation of the residuals of minimum and maximum of one day, between -1 and 1.
    double same_day = 0.0;
    /// Correlation of each residual (row) with each of the day before (column).
    pair_matrix next_day = {};
    /// Where the numbers come from; every result of generated weather repeats it.
    std::string origin = "made from a stated model";

    friend bool operator==(weather_model_parts const&, weather_model_parts const&) = default;
};

class weather_model {
public:
    /// Throws `invalid_input` when a number is not finite, when a spread is not above 0 on every
    /// day of the year, when a correlation is not between -1 and 1, when no weather has these
    /// correlations together (M0 - M1 M0^-1 M1' is not positive definite), or when the origin is
    /// empty.
    explicit weather_model(weather_model_parts parts);

    [[nodiscard]] element_course const& minimum() const noexcept { return parts_.minimum; }
    [[nodiscard]] element_course const& maximum() const noexcept { return parts_.maximum; }
    [[nodiscard]] double same_day() const noexcept { return parts_.same_day; }
    [[nodiscard]] pair_matrix const& next_day() const noexcept { return parts_.next_day; }
    [[nodiscard]] std::string const& origin() const noexcept { return parts_.origin; }
    [[nodiscard]] weather_model_parts const& parts() const noexcept { return parts_; }

    /// A: what a day keeps of the day before.
    [[nodiscard]] pair_matrix const& carried() const noexcept { return carried_; }
    /// B: what is new in a day, lower triangular.
    [[nodiscard]] pair_matrix const& renewed() const noexcept { return renewed_; }

    /// Share of days, over a common year, on which the maximum is drawn below the minimum and both
    /// become their mean: the mean of the normal probability that m_max - m_min + s_max z_max -
    /// s_min z_min is below 0.
    [[nodiscard]] double met_share() const;

    friend bool operator==(weather_model const& a, weather_model const& b) {
        return a.parts_ == b.parts_;  // the rest follows from them
    }

private:
    weather_model_parts parts_;
    pair_matrix carried_ = {};
    pair_matrix renewed_ = {};
};

/// The model of a record.
///
/// record   the station; gaps are passed over, a minimum above its maximum counts as a gap
/// years    calendar years to fit to, by default the latest 30 that the record touches. A long
///          record with a trend in it gives a spread that holds the trend too.
///
/// Means: least squares of all days on the harmonics. Spreads: the root mean square of the
/// residuals in each of 26 parts of the year, least squares on the harmonics. Correlations: of the
/// residuals divided by their spread, over days (pairs of days) that have both values. Its origin
/// is "made from a model of NAME, 1989 – 2018".
///
/// Throws `invalid_input` when one of the 26 parts of the year has fewer than 20 days with both
/// values (about two years are needed), or when what is fitted is no model (see `weather_model`).
[[nodiscard]] weather_model fit_weather_model(daily_record const& record,
                                              year_selection const& years = {});

/// What twelve monthly means do not say. The defaults are those of New York Central Park
/// (GHCN-Daily USW00094728), 1991 to 2020, fitted by `fit_weather_model` and rounded: a place with
/// a continental winter. By the sea and in the tropics days differ less; a spread too wide puts the
/// last freeze later.
struct normals_options {
    double minimum_spread_coldest = 5.1;  ///< standard deviation of minima in the coldest time [K]
    double minimum_spread_warmest = 2.5;  ///< the same in the warmest, half a year from it [K]
    double maximum_spread_coldest = 5.7;  ///< of maxima in the coldest time [K]
    double maximum_spread_warmest = 3.5;  ///< of maxima in the warmest time [K]
    double same_day = 0.78;               ///< see `weather_model_parts`
    pair_matrix next_day = {{{0.69, 0.63}, {0.54, 0.60}}};

    friend bool operator==(normals_options const&, normals_options const&) = default;
};

/// A model whose monthly means are the given ones, as nearly as three harmonics can follow them.
///
/// lows    mean daily minimum of January to December [°C]
/// highs   mean daily maximum of January to December [°C]
///
/// The means over the days of each month of a common year are fitted by least squares. Spreads go
/// from coldest to warmest and back as one wave, whose top is where the first harmonic of the
/// element's mean is lowest, so they fit both hemispheres. The origin is "made from normals".
///
/// Throws `invalid_input` for a number that is not finite, a high below its low, and twelve
/// numbers that no smooth year follows within 2 K (months out of order, units mixed).
[[nodiscard]] weather_model model_from_normals(std::array<double, 12> const& lows,
                                               std::array<double, 12> const& highs,
                                               normals_options const& options = {});

/// Weather drawn from a model: the same record for the same model, start, number of days and seed,
/// on every machine.
///
/// start   first day
/// length  number of days, 1 to 4,000,000
/// seed    any number; another seed gives other weather
///
/// The first day is drawn from the residuals' own distribution, so nothing has to run in. A longer
/// record of the same seed begins with the shorter one. The record's `origin` is the model's.
/// Throws `invalid_input` when `length` is out of range.
[[nodiscard]] daily_record generate(weather_model const& model, day start, int length,
                                    std::uint64_t seed);

}  // namespace epicotyl

#endif
