// epicotyl: the band around a counted chance.
#ifndef EPICOTYL_FROST_IMPL_CHANCE_BAND_IPP
#define EPICOTYL_FROST_IMPL_CHANCE_BAND_IPP

#include <fmt/format.h>

#include <boost/math/distributions/binomial.hpp>

#include <epicotyl/error.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/chance_band.hpp>

namespace epicotyl {

EPICOTYL_INLINE counted_chance chance_band(int counted, int years, band_confidence level) {
    if (years < 1) {
        throw invalid_input{{.code = "chance_band.years",
                             .field = "years",
                             .value = fmt::format("{}", years),
                             .bound = "1 or more",
                             .unit = "years",
                             .problem = fmt::format("no chance can be counted in {} years", years),
                             .remedy = "give the number of years looked at"}};
    }
    if (counted < 0 || counted > years) {
        throw invalid_input{{.code = "chance_band.counted",
                             .field = "counted",
                             .value = fmt::format("{}", counted),
                             .bound = fmt::format("0 to {}", years),
                             .unit = "years",
                             .problem = fmt::format("{} of {} years is no count", counted, years),
                             .remedy = "give the years that had it, then all years"}};
    }
    using boost::math::binomial;
    double const tail = (1.0 - level.value()) / 2.0;
    auto const n = static_cast<double>(years);
    auto const k = static_cast<double>(counted);
    return {.counted = counted,
            .years = years,
            .low = chance{counted == 0 ? 0.0 : binomial::find_lower_bound_on_p(n, k, tail)},
            .high = chance{counted == years ? 1.0 : binomial::find_upper_bound_on_p(n, k, tail)},
            .level = level.value()};
}

EPICOTYL_INLINE std::string to_string(counted_chance const& band) {
    return fmt::format("{} of {} years: {:.0f} %, {:.0f} to {:.0f} % ({:g} % band)", band.counted,
                       band.years, 100.0 * band.share().value(), 100.0 * band.low.value(),
                       100.0 * band.high.value(), 100.0 * band.level);
}

}  // namespace epicotyl

#endif
