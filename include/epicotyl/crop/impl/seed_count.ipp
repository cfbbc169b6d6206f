// epicotyl: how many seeds a number of plants takes.
#ifndef EPICOTYL_CROP_IMPL_SEED_COUNT_IPP
#define EPICOTYL_CROP_IMPL_SEED_COUNT_IPP

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <boost/math/special_functions/beta.hpp>
#include <boost/math/special_functions/gamma.hpp>

#include <fmt/format.h>

#include <epicotyl/crop/seed_count.hpp>
#include <epicotyl/detail/whole.hpp>
#include <epicotyl/fmt.hpp>

namespace epicotyl {

namespace detail::seed_count_parts {

/// Of the chance to fall short: what rounding in the last digits may add to it.
inline constexpr double slack = 1e-12;
/// Terms of a sum that can no longer change a double.
inline constexpr double nothing = 1e-18;
inline constexpr std::int64_t most_plants_of_spread = 100'000;
inline constexpr double lowest_usable_of_spread = 0.01;

EPICOTYL_INLINE void require_plants(std::int64_t plants, std::int64_t most) {
    if (plants >= 0 && plants <= most) { return; }
    throw invalid_input{{.code = "seeds.plants",
                         .field = "plants",
                         .value = fmt::format("{}", plants),
                         .bound = fmt::format("0 to {}", most),
                         .unit = "plants",
                         .problem = fmt::format("{} is no number of plants to raise", plants),
                         .remedy = "give the plants that are wanted"}};
}

EPICOTYL_INLINE void require_seeds(std::int64_t seeds) {
    if (seeds >= 0) { return; }
    throw invalid_input{{.code = "seeds.negative",
                         .field = "seeds",
                         .value = fmt::format("{}", seeds),
                         .bound = "0 or more",
                         .unit = "seeds",
                         .problem = fmt::format("{} is no number of seeds", seeds),
                         .remedy = "give the seeds that are sown"}};
}

EPICOTYL_INLINE void require_above_nothing(chance share, char const* field) {
    if (share.value() > 0.0) { return; }
    throw invalid_input{{.code = fmt::format("seeds.{}", field),
                         .field = field,
                         .value = "0",
                         .bound = "more than 0 to 1",
                         .problem = "of none, none can be raised",
                         .remedy = "give a share, such as 0.8 for 80 in 100"}};
}

EPICOTYL_INLINE void require_usable_of_spread(chance usable) {
    if (usable.value() >= lowest_usable_of_spread) { return; }
    throw invalid_input{{.code = "seeds.usable",
                         .field = "usable",
                         .value = fmt::format("{}", usable.value()),
                         .bound = fmt::format("{} to 1", lowest_usable_of_spread),
                         .problem = fmt::format("{} is next to nothing", usable.value()),
                         .remedy = "give the share of seedlings good enough to plant"}};
}

EPICOTYL_INLINE void require_confidence(chance confidence) {
    if (confidence.value() > 0.0 && confidence.value() < 1.0) { return; }
    throw invalid_input{{.code = "seeds.confidence",
                         .field = "confidence",
                         .value = fmt::format("{}", confidence.value()),
                         .bound = "more than 0, less than 1",
                         .problem = "no number of seeds is certain to be enough",
                         .remedy = "give a confidence, such as 0.95 for 95 sowings in 100"}};
}

[[noreturn]] EPICOTYL_INLINE void refuse_share(double share) {
    throw invalid_input{
        {.code = "seeds.germination",
         .field = "germination",
         .value = fmt::format("{}", share),
         .bound = fmt::format("{:g} to 1", lowest_germination),
         .problem = fmt::format("of {:g} seeds in a million next to none comes up", share * 1e6),
         .remedy = "take seed that comes up"}};
}

/// P(Binomial(n, p) < k).
EPICOTYL_INLINE double shortfall(std::int64_t k, std::int64_t n, double p) {
    if (k <= 0) { return 0.0; }
    if (n < k || p <= 0.0) { return 1.0; }
    if (p >= 1.0) { return 0.0; }
    return boost::math::ibetac(static_cast<double>(k), static_cast<double>(n - k + 1), p);
}

/// P(Binomial(n, p) >= k).
EPICOTYL_INLINE double enough(std::int64_t k, std::int64_t n, double p) {
    if (k <= 0) { return 1.0; }
    if (n < k || p <= 0.0) { return 0.0; }
    if (p >= 1.0) { return 1.0; }
    return boost::math::ibeta(static_cast<double>(k), static_cast<double>(n - k + 1), p);
}

/// The numbers that come up of `seeds` whose share is Beta(a, b): beta-binomial.
class beta_binomial {
public:
    beta_binomial(std::int64_t seeds, germination_spread const& spread)
        : n_{static_cast<double>(seeds)}, a_{spread.a()}, b_{spread.b()} {}

    /// Sum of P(g) weight(g) over first <= g <= last.
    ///
    /// Terms follow from one another, P(g + 1) / P(g) = (n - g)(a + g) / ((g + 1)(n - g - 1 + b)).
    /// They are taken outwards from the largest, so that none that counts is lost to underflow:
    /// P rises and falls, or falls and rises, with one turn at most.
    template <class Weight>
    [[nodiscard]] double sum(std::int64_t first, std::int64_t last, Weight const& weight) const {
        std::int64_t from = first;
        for (std::int64_t const other : {turn(first, last), last}) {
            if (log_term(other) > log_term(from)) { from = other; }
        }
        double const largest = std::exp(log_term(from));
        double total = 0.0;
        double term = largest;
        for (std::int64_t g = from; g >= first && term > 0.0; --g) {
            total += term * weight(g);
            auto const at = static_cast<double>(g);
            term *= at * (n_ - at + b_) / ((n_ - at + 1.0) * (a_ + at - 1.0));
        }
        term = largest;
        for (std::int64_t g = from; g < last && term > 0.0; ++g) {
            auto const at = static_cast<double>(g);
            term *= (n_ - at) * (a_ + at) / ((at + 1.0) * (n_ - at - 1.0 + b_));
            total += term * weight(g + 1);
        }
        return std::min(total, 1.0);
    }

private:
    [[nodiscard]] static double log_beta(double x, double y) {
        using boost::math::lgamma;
        return lgamma(x) + lgamma(y) - lgamma(x + y);
    }
    [[nodiscard]] double log_term(std::int64_t g) const {
        auto const at = static_cast<double>(g);
        return log_beta(at + a_, n_ - at + b_) - log_beta(a_, b_) - std::log(n_ + 1.0) -
               log_beta(n_ - at + 1.0, at + 1.0);
    }
    /// Where neighbouring terms are equal, within the range.
    [[nodiscard]] std::int64_t turn(std::int64_t first, std::int64_t last) const {
        double const at = (n_ * (a_ - 1.0) + 1.0 - b_) / (a_ + b_ - 2.0);
        if (!(at > static_cast<double>(first))) { return first; }
        return at < static_cast<double>(last) ? detail::whole_of<std::int64_t>(at) : last;
    }

    double n_;
    double a_;
    double b_;
};

/// The first g of first ... last for which `holds`, from which on it does; `last` where none is.
template <class Holds>
std::int64_t first_where(std::int64_t first, std::int64_t last, Holds const& holds) {
    while (first < last) {
        std::int64_t const middle = first + (last - first) / 2;
        if (holds(middle)) {
            last = middle;
        } else {
            first = middle + 1;
        }
    }
    return first;
}

/// Fewer than k usable plants, of so many seedlings and of so many seeds.
class too_few_usable {
public:
    too_few_usable(std::int64_t k, double usable) : k_{k} {
        if (k <= 0) { return; }
        // Up to `sure` - 1 seedlings are too few for certain, in a double's digits.
        sure_ = first_where(k, most_seeds,
                            [&](std::int64_t g) { return enough(k, g, usable) > nothing; });
        std::int64_t const last = first_where(
            sure_, most_seeds, [&](std::int64_t g) { return shortfall(k, g, usable) < nothing; });
        // One seedling more helps when it is usable and k - 1 of the others are:
        // P(Binomial(g + 1, u) < k) = P(Binomial(g, u) < k) - u P(Binomial(g, u) = k - 1).
        double less = shortfall(k, sure_, usable);
        double exact = boost::math::ibeta_derivative(static_cast<double>(k),
                                                     static_cast<double>(sure_ - k + 1), usable) *
                       (1.0 - usable) / static_cast<double>(sure_ - k + 1);
        shares_.reserve(static_cast<std::size_t>(last - sure_) + 1);
        for (std::int64_t g = sure_; g <= last; ++g) {
            shares_.push_back(std::max(0.0, less));
            less -= usable * exact;
            auto const at = static_cast<double>(g);
            exact *= (1.0 - usable) * (at + 1.0) / (at + 2.0 - static_cast<double>(k));
        }
    }

    /// P(the usable ones of n seeds < k), the share that comes up being uncertain.
    [[nodiscard]] double of_seeds(std::int64_t n, germination_spread const& spread) const {
        if (k_ <= 0) { return 0.0; }
        if (n < sure_) { return 1.0; }
        beta_binomial const up{n, spread};
        std::int64_t const last =
            std::min(n, sure_ + static_cast<std::int64_t>(shares_.size()) - 1);
        double const too_few = up.sum(0, sure_ - 1, [](std::int64_t) { return 1.0; });
        double const unusable = up.sum(sure_, last, [&](std::int64_t g) {
            return shares_[static_cast<std::size_t>(g - sure_)];
        });
        return std::min(1.0, too_few + unusable);
    }

private:
    std::int64_t k_;
    std::int64_t sure_ = 0;
    std::vector<double> shares_ = {};  ///< of sure_, sure_ + 1 ... seedlings
};

/// The smallest n >= k for which `too_risky` does not hold; it holds up to some n and not beyond.
/// 0 where it holds up to `most`.
template <class TooRisky>
std::int64_t fewest(std::int64_t k, std::int64_t guess, std::int64_t most,
                    TooRisky const& too_risky) {
    std::int64_t low = k - 1;  // too few
    std::int64_t high = std::max(k, guess);
    std::int64_t step = std::max<std::int64_t>(1, high / 64);
    while (too_risky(high)) {
        low = high;
        if (high >= most) { return 0; }
        high = std::min(most, high + step);
        step *= 2;
    }
    for (step = std::max<std::int64_t>(1, (high - k) / 64); low < k && high - step >= k;
         step *= 2) {
        if (too_risky(high - step)) {
            low = high - step;
        } else {
            high -= step;
        }
    }
    while (high - low > 1) {
        std::int64_t const middle = low + (high - low) / 2;
        (too_risky(middle) ? low : high) = middle;
    }
    return high;
}

EPICOTYL_INLINE double risk_of(chance confidence) {
    return (1.0 - confidence.value()) * (1.0 + slack);
}

EPICOTYL_INLINE std::int64_t fewest_of_share(std::int64_t plants, double share, chance confidence) {
    if (!(share >= lowest_germination)) { refuse_share(share); }
    if (plants == 0) { return 0; }
    double const risk = risk_of(confidence);
    auto const average =
        detail::whole_of<std::int64_t>(std::ceil(static_cast<double>(plants) / share));
    return fewest(plants, average, INT64_MAX / 4,
                  [&](std::int64_t n) { return shortfall(plants, n, share) > risk; });
}

EPICOTYL_INLINE double require_spread(double value, char const* field) {
    constexpr double least = 0.01;
    constexpr double most = 1e8;
    if (value >= least && value <= most) { return value; }
    throw invalid_input{{.code = "germination_spread.out_of_range",
                         .field = field,
                         .value = fmt::format("{}", value),
                         .bound = fmt::format("{:g} to {:g}", least, most),
                         .problem = fmt::format("{} is out of range", value),
                         .remedy = "a seed that came up in a test adds 1 to a, one that did not "
                                   "adds 1 to b"}};
}

}  // namespace detail::seed_count_parts

EPICOTYL_INLINE germination_spread::germination_spread(double a, double b)
    : a_{detail::seed_count_parts::require_spread(a, "a")},
      b_{detail::seed_count_parts::require_spread(b, "b")} {}

EPICOTYL_INLINE germination_spread germination_spread::from_test(std::int64_t up,
                                                                 std::int64_t sown) {
    if (sown < 1) {
        throw invalid_input{{.code = "germination_test.sown",
                             .field = "sown",
                             .value = fmt::format("{}", sown),
                             .bound = "1 or more",
                             .unit = "seeds",
                             .problem = fmt::format("a test of {} seeds tells nothing", sown),
                             .remedy = "give the seeds that were tried"}};
    }
    if (up < 0 || up > sown) {
        throw invalid_input{{.code = "germination_test.up",
                             .field = "up",
                             .value = fmt::format("{}", up),
                             .bound = fmt::format("0 to {}", sown),
                             .unit = "seeds",
                             .problem = fmt::format("{} of {} seeds cannot come up", up, sown),
                             .remedy = "give the seeds that came up, then all that were tried"}};
    }
    return {static_cast<double>(up) + 1.0, static_cast<double>(sown - up) + 1.0};
}

EPICOTYL_INLINE germination_spread germination_spread::from_mean(double mean,
                                                                 double concentration) {
    if (!(mean > 0.0 && mean < 1.0)) {
        throw invalid_input{{.code = "germination_spread.mean",
                             .field = "mean",
                             .value = fmt::format("{}", mean),
                             .bound = "more than 0, less than 1",
                             .problem = fmt::format("{} is no share that is uncertain", mean),
                             .remedy = "give a share, such as 0.8 for 80 in 100"}};
    }
    if (!(concentration > 0.0 && std::isfinite(concentration))) {
        throw invalid_input{
            {.code = "germination_spread.concentration",
             .field = "concentration",
             .value = fmt::format("{}", concentration),
             .bound = "more than 0",
             .unit = "seeds",
             .problem = fmt::format("{} is no number of seeds tried", concentration),
             .remedy = "50 is a mean known as well as by trying 50 seeds"}};
    }
    return {mean * concentration, (1.0 - mean) * concentration};
}

EPICOTYL_INLINE std::int64_t seeds_needed(std::int64_t plants, chance germination, chance usable,
                                          chance confidence) {
    detail::seed_count_parts::require_plants(plants, most_plants);
    detail::seed_count_parts::require_above_nothing(germination, "germination");
    detail::seed_count_parts::require_above_nothing(usable, "usable");
    detail::seed_count_parts::require_confidence(confidence);
    return detail::seed_count_parts::fewest_of_share(plants, germination.value() * usable.value(),
                                                     confidence);
}

EPICOTYL_INLINE std::int64_t seeds_needed(std::int64_t plants,
                                          germination_spread const& germination, chance usable,
                                          chance confidence) {
    detail::seed_count_parts::require_plants(plants,
                                             detail::seed_count_parts::most_plants_of_spread);
    detail::seed_count_parts::require_confidence(confidence);
    detail::seed_count_parts::require_usable_of_spread(usable);
    if (plants == 0) { return 0; }
    double const risk = detail::seed_count_parts::risk_of(confidence);
    detail::seed_count_parts::too_few_usable const too_few{plants, usable.value()};
    double const share = germination.mean() * usable.value();
    double const average = std::ceil(static_cast<double>(plants) / share);
    std::int64_t const found = detail::seed_count_parts::fewest(
        plants, detail::whole_of<std::int64_t>(std::min(average, double(most_seeds))), most_seeds,
        [&](std::int64_t n) { return too_few.of_seeds(n, germination) > risk; });
    if (found == 0) {
        throw invalid_input{
            {.code = "seeds.too_many",
             .field = "confidence",
             .value = fmt::format("{}", confidence.value()),
             .bound = fmt::format("up to {}", most_seeds),
             .unit = "seeds",
             .problem = "a share that may well be near 0 needs more seeds than that",
             .remedy = "try more seeds of the lot, or ask for less confidence"}};
    }
    return found;
}

EPICOTYL_INLINE std::int64_t cells_needed(std::int64_t plants, int seeds_a_cell, chance germination,
                                          chance usable, chance confidence) {
    constexpr int most_a_cell = 1000;
    if (seeds_a_cell < 1 || seeds_a_cell > most_a_cell) {
        throw invalid_input{
            {.code = "seeds.a_cell",
             .field = "seeds_a_cell",
             .value = fmt::format("{}", seeds_a_cell),
             .bound = fmt::format("1 to {}", most_a_cell),
             .unit = "seeds",
             .problem = fmt::format("{} seeds a cell is out of range", seeds_a_cell),
             .remedy = "give the seeds sown in each cell"}};
    }
    detail::seed_count_parts::require_plants(plants, most_plants);
    detail::seed_count_parts::require_above_nothing(germination, "germination");
    detail::seed_count_parts::require_above_nothing(usable, "usable");
    detail::seed_count_parts::require_confidence(confidence);
    double const filled = seeds_a_cell == 1
                              ? germination.value()
                              : -std::expm1(seeds_a_cell * std::log1p(-germination.value()));
    return detail::seed_count_parts::fewest_of_share(plants, filled * usable.value(), confidence);
}

EPICOTYL_INLINE double chance_of_plants(std::int64_t plants, std::int64_t seeds, chance germination,
                                        chance usable) {
    detail::seed_count_parts::require_plants(plants, most_plants);
    detail::seed_count_parts::require_seeds(seeds);
    return detail::seed_count_parts::enough(plants, seeds, germination.value() * usable.value());
}

EPICOTYL_INLINE double chance_of_plants(std::int64_t plants, std::int64_t seeds,
                                        germination_spread const& germination, chance usable) {
    detail::seed_count_parts::require_plants(plants,
                                             detail::seed_count_parts::most_plants_of_spread);
    detail::seed_count_parts::require_seeds(seeds);
    detail::seed_count_parts::require_usable_of_spread(usable);
    return 1.0 - detail::seed_count_parts::too_few_usable{plants, usable.value()}.of_seeds(
                     seeds, germination);
}

}  // namespace epicotyl

#endif
