// epicotyl: the yield. How much is picked in each week of a harvest.
//
// A plant gives so many units (stems, heads, kilograms) over its whole harvest, and spreads them by
// a **shape**: a density over the days since the first harvest, or over the heat (K day) that the
// place has had since then. The area under each is 1.
//
//     box        even from 0 to its length
//     trapezoid  rising over `rise`, even over `level`, falling over `fall`
//     weibull    share picked by x: F(x) = 1 - exp(-(x / scale)^shape) [weibull1939]; it has a tail
//                without end, and rises at first where the shape is more than 1
//
// A harvest that ends earlier than the shape (frost, heat, the season's end) realises part of it:
//
//     units of a year = units a plant x plants x F(what has run up when the harvest ends)
//
// and the weeks of the year add up to just that. Nothing is picked before or after the harvest of
// season/harvest/harvest.hpp, and a shape that is shorter than the harvest gives nothing at its
// end.
//
//     yield_by_week const cut = expected_yield(farm.prospect, "zinnia 1",
//                                              {.shape = yield_shape::trapezoid(7, 21, 14),
//                                               .units_per_plant = 20, .unit = "stems"});
//     cut.quantile(0.5);      // the middle season year, week by week
//
// What is picked on a day is what runs up on that day: day d of a harvest from x gives
// F(C[d + 1] - C[x]) - F(C[d] - C[x]), with C the days, or the degree-days of the air in which the
// harvested plants stand.
//
// **Shape and units are the caller's**: no crop's are known here. Plants are those that the plan
// has alive at the first harvest (its amounts and shares that survive, amounts/alive.hpp). Damage
// by cold or heat takes none away; `prospect::damage` counts it.
#ifndef EPICOTYL_SEASON_HARVEST_YIELD_HPP
#define EPICOTYL_SEASON_HARVEST_YIELD_HPP

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <epicotyl/clock/degree_days.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/season/harvest/harvest.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// How what a plant gives is spread, over days or heat since its first harvest.
class yield_shape {
public:
    /// Even over `length` (days or K day), more than 0. Throws `invalid_input`.
    [[nodiscard]] static yield_shape box(double length);
    /// Rising, even, falling; each 0 or more, and not all of them 0. Throws `invalid_input`.
    [[nodiscard]] static yield_shape trapezoid(double rise, double level, double fall);
    /// Weibull with a shape (no unit) and a scale (days or K day, by which 63 % are picked), both
    /// more than 0. Throws `invalid_input`.
    [[nodiscard]] static yield_shape weibull(double shape, double scale);

    /// "box", "trapezoid" or "weibull".
    [[nodiscard]] std::string_view name() const noexcept;
    /// What it was made with, in that order.
    [[nodiscard]] std::vector<double> parameters() const;

    /// Share picked by x, 0 to 1 and never falling; 0 for x <= 0. NaN gives NaN.
    [[nodiscard]] double cumulative(double x) const;
    /// Share picked per day (or K day) at x, 0 or more; 0 for x < 0. NaN gives NaN.
    [[nodiscard]] double density(double x) const;

    friend bool operator==(yield_shape const&, yield_shape const&) = default;

private:
    struct slopes {
        double rise, level, fall;
        friend bool operator==(slopes const&, slopes const&) = default;
    };
    struct tail {
        double shape, scale;
        friend bool operator==(tail const&, tail const&) = default;
    };
    struct even {
        double length;
        friend bool operator==(even const&, even const&) = default;
    };
    using form = std::variant<even, slopes, tail>;

    explicit yield_shape(form of) : form_{of} {}

    form form_;
};

/// What a plant gives over its whole harvest.
struct harvest_yield {
    yield_shape shape;
    double units_per_plant = 1.0;  ///< 0 or more
    std::string unit = {};         ///< "stems", for words; may be empty
    /// Heat by this rule (°C) is what the shape runs over; none: days.
    std::optional<degree_day_rule> heat = {};

    friend bool operator==(harvest_yield const&, harvest_yield const&) = default;
};

/// Throws `invalid_input` for units that are negative or no number, and for a rule that is no rule.
void validate(harvest_yield const& gives);

/// Units picked in each ISO week of the season, in every season year.
struct yield_by_week {
    std::string succession;
    std::string unit = {};
    double plants = 0.0;              ///< alive at the first harvest
    double possible = 0.0;            ///< units a plant x plants
    std::vector<int> years = {};      ///< season years, ascending
    std::vector<day> weeks = {};      ///< Mondays, from the week in which the season starts on
    std::vector<double> values = {};  ///< [year][week]
    std::vector<double> totals = {};  ///< of each year: `possible` x the share realised

    [[nodiscard]] double at(int year, int week) const {
        return values[static_cast<std::size_t>(year) * weeks.size() +
                      static_cast<std::size_t>(week)];
    }
    /// Week by week the k-th smallest of the years, k = max(1, ceil(q n)); no averaging. The weeks
    /// of a quantile do not add up to the quantile of the totals.
    [[nodiscard]] std::vector<double> quantile(quantile_level q) const;
    /// The mean of the years, week by week; these do add up to the mean of the totals.
    [[nodiscard]] std::vector<double> mean() const;

    friend bool operator==(yield_by_week const&, yield_by_week const&) = default;
};

/// What a succession is expected to give, week by week. Throws `invalid_input` as `harvest_spans`
/// and `validate` do.
[[nodiscard]] yield_by_week expected_yield(prospect const& of, std::string_view succession,
                                           harvest_yield const& gives,
                                           harvest_options const& options = {});

}  // namespace epicotyl

#endif
