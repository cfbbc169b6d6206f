// epicotyl: how many seeds make so many plants likely enough.
//
// A hundred plants from seed of which 80 in 100 come up are 125 seeds on the average, and then half
// of all such sowings fall short. Seeds come up or not each for itself, so the number that does is
// binomial, and the seeds wanted are the fewest n with
//
//     P(Binomial(n, germination * usable) >= plants) >= confidence
//
//     seeds_needed(100, chance{0.80})                             // 135: 95 sowings in 100
//     seeds_needed(250, chance{0.80})                             // 327, where 313 are the average
//     seeds_needed(100, chance{0.55})                             // 203, where 182 are the average
//     seeds_needed(10, chance{0.70}, chance{1.0}, chance{0.90})   // 18
//
// `usable` is the share of seedlings that are good enough to plant. The tail of the binomial is the
// regularised incomplete beta function, by Boost.Math:
//
//     P(Binomial(n, p) >= k) = I_p(k, n - k + 1)
//
// **Cells with several seeds.** A cell sown with m seeds counts when at least one comes up, which
// it does with 1 - (1 - germination)^m; it is then thinned to one seedling, which is usable or not.
// With one seed a cell, cells are seeds.
//
// **Uncertain germination.** A share on the packet is one thing, the lot in hand another: if 40 of
// 50 came up in a test, the lot may stand at 0.7 or at 0.88. `germination_spread` says how the
// share may lie, as a beta distribution; the seeds that come up are then beta-binomial, more spread
// out, and more seeds are needed. After a test in which `up` of `sown` came up it is
// Beta(up + 1, sown - up + 1): before the test every share was held equally likely.
//
// Seeds of one lot share their luck: a cold night, a dry tray or a mouse takes many at once, and no
// count seed by seed knows of it.
#ifndef EPICOTYL_CROP_SEED_COUNT_HPP
#define EPICOTYL_CROP_SEED_COUNT_HPP

#include <cstdint>

#include <epicotyl/units.hpp>

namespace epicotyl {

/// Most plants that are counted with, and the lowest share of seeds that come up and are usable.
inline constexpr std::int64_t most_plants = 100'000'000;
inline constexpr double lowest_germination = 1e-6;
/// Most seeds that a lot of uncertain germination is asked for.
inline constexpr std::int64_t most_seeds = 1'000'000'000;

/// What is known of the share of a lot that comes up: Beta(a, b), with a and b from 0.01 to 1e8.
class germination_spread {
public:
    /// Throws `invalid_input` out of range, and for NaN.
    germination_spread(double a, double b);

    /// After a test in which `up` of `sown` seeds came up. Throws `invalid_input` unless
    /// 0 <= up <= sown and sown >= 1.
    [[nodiscard]] static germination_spread from_test(std::int64_t up, std::int64_t sown);
    /// By its mean, more than 0 and less than 1, and concentration a + b: a mean that is known as
    /// well as if so many seeds had been tried.
    [[nodiscard]] static germination_spread from_mean(double mean, double concentration);

    [[nodiscard]] double a() const noexcept { return a_; }
    [[nodiscard]] double b() const noexcept { return b_; }
    [[nodiscard]] double mean() const noexcept { return a_ / (a_ + b_); }
    [[nodiscard]] double concentration() const noexcept { return a_ + b_; }

    friend bool operator==(germination_spread, germination_spread) = default;

private:
    double a_;
    double b_;
};

/// The fewest seeds of which at least `plants` come up and are usable with the wanted confidence.
/// 0 plants need none. Throws `invalid_input` unless 0 <= plants <= `most_plants`, germination and
/// usable are more than 0 and their product at least `lowest_germination`, and confidence is more
/// than 0 and less than 1: no number of seeds is certain.
[[nodiscard]] std::int64_t seeds_needed(std::int64_t plants, chance germination,
                                        chance usable = chance{1.0},
                                        chance confidence = chance{0.95});

/// The same of a lot whose germination is uncertain. At most 100,000 plants, usable at least 0.01;
/// throws `invalid_input` beyond that, and where more than `most_seeds` would be needed, as with a
/// share that may well be 0.
[[nodiscard]] std::int64_t seeds_needed(std::int64_t plants, germination_spread const& germination,
                                        chance usable = chance{1.0},
                                        chance confidence = chance{0.95});

/// The fewest cells, each sown with `seeds_a_cell` seeds and thinned to one seedling, that give at
/// least so many usable plants with the wanted confidence. Bounds as for `seeds_needed`; 1 to 1000
/// seeds a cell.
[[nodiscard]] std::int64_t cells_needed(std::int64_t plants, int seeds_a_cell, chance germination,
                                        chance usable = chance{1.0},
                                        chance confidence = chance{0.95});

/// Chance that so many seeds give at least so many usable plants, 0 to 1. Throws `invalid_input`
/// for a negative number.
[[nodiscard]] double chance_of_plants(std::int64_t plants, std::int64_t seeds, chance germination,
                                      chance usable = chance{1.0});
/// The same of a lot whose germination is uncertain; at most 100,000 plants, usable at least 0.01.
[[nodiscard]] double chance_of_plants(std::int64_t plants, std::int64_t seeds,
                                      germination_spread const& germination,
                                      chance usable = chance{1.0});

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/crop/impl/seed_count.ipp>
#endif

#endif
