// epicotyl: how far a chance counted in a few years can be trusted.
//
// Three late frosts in thirty years are "1 year in 10". But thirty years are a sample: a place
// whose true chance is 1 in 5 shows three or fewer now and then, and so does one whose chance is 1
// in 40. The band says which true chances the count does not speak against:
//
//     chance_band(3, 30)     0.021 to 0.265: 2 to 27 years in 100
//     chance_band(0, 30)     0 to 0.116: thirty years without one do not mean never
//     chance_band(30, 30)    0.884 to 1
//
// It is the exact binomial band [clopper1934]. With k of n years, confidence c and
// a = 1 - c:
//
//     low   the chance p at which k or more of n have probability a / 2; 0 when k = 0
//     high  the chance p at which k or fewer of n have probability a / 2; 1 when k = n
//
// Whatever the true chance, the band holds it in at least the share c of all such records. "Exact"
// means at least: the band is wider than others and never too narrow. It supposes that years do not
// depend on each other and that the climate stood still; a warming record is a reason to trust it
// less, not more. Solved by the inverse incomplete beta function of Boost.Math.
#ifndef EPICOTYL_FROST_CHANCE_BAND_HPP
#define EPICOTYL_FROST_CHANCE_BAND_HPP

#include <string>

#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {

struct band_confidence_kind {
    static constexpr char const* name = "confidence";
    static constexpr double lowest = 0.5;
    static constexpr double highest = 0.9999;
    static constexpr char const* unit = "";
    static constexpr char const* remedy = "0.95 is usual: 19 bands in 20 hold the true chance";
};

}  // namespace detail

/// The share of records whose band holds the true chance, 0.5 to 0.9999.
using band_confidence = detail::bounded_number<detail::band_confidence_kind>;

/// A chance counted in years, and the band of true chances that go with the count.
struct counted_chance {
    int counted = 0;     ///< k: years that had it
    int years = 0;       ///< n: years looked at
    chance low;          ///< the least true chance that goes with the count
    chance high;         ///< the greatest
    double level = 0.0;  ///< the confidence of the band

    /// k / n.
    [[nodiscard]] chance share() const {
        return chance{static_cast<double>(counted) / static_cast<double>(years)};
    }
    friend bool operator==(counted_chance const&, counted_chance const&) = default;
};

/// The band for `counted` of `years`. Throws `invalid_input` unless 1 <= years and
/// 0 <= counted <= years.
[[nodiscard]] counted_chance chance_band(int counted, int years,
                                         band_confidence level = band_confidence{0.95});

/// "3 of 30 years: 10 %, 2 to 27 % (95 % band)".
[[nodiscard]] std::string to_string(counted_chance const& band);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/frost/impl/chance_band.ipp>
#endif

#endif
