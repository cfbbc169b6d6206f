#include <epicotyl/season/harvest/yield.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/prospect.hpp>

#include "../days/prospect_data.hpp"
#include "../tables/day_run.hpp"
#include "yielding.hpp"

namespace epicotyl {

namespace {

using detail::overloaded;

using detail::at;

/// Days or K day, the exponent of a Weibull curve, and what a plant gives.
constexpr double least_extent = 0.001;
constexpr double least_weibull = 0.01;
constexpr double most_weibull = 100.0;
constexpr double most_units = 1e6;

[[nodiscard]] invalid_input no_extent(char const* field, double value, double least) {
    return invalid_input{{.code = "yield.shape",
                          .field = field,
                          .value = fmt::format("{}", value),
                          .bound = fmt::format("{} to {:.0f}", least, heat_kelvin_days.highest),
                          .unit = "days or K day",
                          .problem = fmt::format("{} is no extent of a harvest", value),
                          .remedy = "give the days, or the heat, that the harvest takes"}};
}

void require_more_than_0(char const* field, double value) {
    if (!(value >= least_extent && value <= heat_kelvin_days.highest)) {
        throw no_extent(field, value, least_extent);
    }
}

void require_0_or_more(char const* field, double value) {
    if (!heat_kelvin_days.holds(value)) { throw no_extent(field, value, 0.0); }
}

/// Area under a line that rises from 0 to 1 over `length`, up to x; 0 where it has no length.
[[nodiscard]] double risen(double x, double length) {
    if (length == 0.0) { return 0.0; }
    double const reached = std::clamp(x, 0.0, length);
    return reached * reached / (2.0 * length);
}

}  // namespace

yield_shape yield_shape::box(double length) {
    require_more_than_0("length", length);
    return yield_shape{even{length}};
}

yield_shape yield_shape::trapezoid(double rise, double level, double fall) {
    require_0_or_more("rise", rise);
    require_0_or_more("level", level);
    require_0_or_more("fall", fall);
    require_more_than_0("rise + level + fall", rise + level + fall);
    return yield_shape{slopes{rise, level, fall}};
}

yield_shape yield_shape::weibull(double shape, double scale) {
    if (!(shape >= least_weibull && shape <= most_weibull)) {
        throw invalid_input{{.code = "yield.weibull_shape",
                             .field = "shape",
                             .value = fmt::format("{}", shape),
                             .bound = fmt::format("{} to {}", least_weibull, most_weibull),
                             .problem = fmt::format("{} is no shape of a Weibull curve", shape),
                             .remedy = "give 1 for a fall from the first day on, more for a rise "
                                       "before it; 2 to 3 make a hump"}};
    }
    require_more_than_0("scale", scale);
    return yield_shape{tail{shape, scale}};
}

std::string_view yield_shape::name() const noexcept {
    return std::visit(
        overloaded{[](even const&) { return "box"; }, [](slopes const&) { return "trapezoid"; },
                   [](tail const&) {
                       return "weibull";
                   }},
        form_);
}

std::vector<double> yield_shape::parameters() const {
    using list = std::vector<double>;
    return std::visit(overloaded{[](even const& of) { return list{of.length}; },
                                 [](slopes const& of) {
                                     return list{of.rise, of.level, of.fall};
                                 },
                                 [](tail const& of) {
                                     return list{of.shape, of.scale};
                                 }},
                      form_);
}

double yield_shape::cumulative(double x) const {
    if (std::isnan(x)) { return x; }
    x = std::max(x, 0.0);
    return std::visit(overloaded{[x](even const& of) { return std::min(x / of.length, 1.0); },
                                 [x](slopes const& of) {
                                     auto const [rise, level, fall] = of;
                                     double const whole = rise / 2.0 + level + fall / 2.0;
                                     if (x >= rise + level + fall) { return 1.0; }
                                     double const past = std::max(x - rise - level, 0.0);
                                     // What falls is the mirror of what rises.
                                     double const fallen = fall / 2.0 - risen(fall - past, fall);
                                     double const so_far =
                                         risen(x, rise) + std::clamp(x - rise, 0.0, level) + fallen;
                                     return std::min(so_far / whole, 1.0);
                                 },
                                 [x](tail const& of) {
                                     return -std::expm1(-std::pow(x / of.scale, of.shape));
                                 }},
                      form_);
}

double yield_shape::density(double x) const {
    if (std::isnan(x)) { return x; }
    if (x < 0.0) { return 0.0; }
    return std::visit(
        overloaded{[x](even const& of) { return x < of.length ? 1.0 / of.length : 0.0; },
                   [x](slopes const& of) {
                       auto const [rise, level, fall] = of;
                       double const whole = rise / 2.0 + level + fall / 2.0;
                       if (x < rise) { return x / rise / whole; }
                       if (x < rise + level) { return 1.0 / whole; }
                       double const left = rise + level + fall - x;
                       return left > 0.0 ? left / fall / whole : 0.0;
                   },
                   [x](tail const& of) {
                       double const at = x / of.scale;
                       return of.shape / of.scale * std::pow(at, of.shape - 1.0) *
                              std::exp(-std::pow(at, of.shape));
                   }},
        form_);
}

void validate(harvest_yield const& gives) {
    if (!(gives.units_per_plant >= 0.0 && gives.units_per_plant <= most_units)) {
        throw invalid_input{
            {.code = "yield.units",
             .field = "units_per_plant",
             .value = fmt::format("{}", gives.units_per_plant),
             .bound = fmt::format("0 to {:.0f}", most_units),
             .problem = fmt::format("{} is nothing that a plant gives", gives.units_per_plant),
             .remedy = "give what one plant yields over its whole harvest"}};
    }
    if (gives.heat) { validate(*gives.heat); }
}

std::vector<double> yield_by_week::quantile(quantile_level q) const {
    int const n = static_cast<int>(years.size());
    auto const k = static_cast<std::ptrdiff_t>(detail::needed_years(q.value(), n) - 1);
    std::vector<double> found;
    std::vector<double> of_week(years.size());
    for (int w = 0; w < static_cast<int>(weeks.size()); ++w) {
        for (int y = 0; y < n; ++y) { of_week[detail::at(y)] = at(y, w); }
        std::nth_element(of_week.begin(), of_week.begin() + k, of_week.end());
        found.push_back(of_week[static_cast<std::size_t>(k)]);
    }
    return found;
}

std::vector<double> yield_by_week::mean() const {
    std::vector<double> found(weeks.size(), 0.0);
    for (int y = 0; y < static_cast<int>(years.size()); ++y) {
        for (int w = 0; w < static_cast<int>(weeks.size()); ++w) {
            found[detail::at(w)] += at(y, w) / static_cast<double>(years.size());
        }
    }
    return found;
}

namespace detail {

yielding::yielding(prospect_data const& data, int succession, harvest_yield const& gives,
                   harvest_options const& options)
    : data_{data},
      succession_{succession},
      harvest_{harvest_event(data.model->planned, succession)},
      gives_{gives},
      options_{options},
      plants_{alive_at(data.model->planned, succession, harvest_)} {
    validate(gives);
    run_up_.resize(at(data.model->season_days) + 1);
    std::iota(run_up_.begin(), run_up_.end(), 0.0);
}

day_yields yielding::of_year(int year) {
    season_model const& model = *data_.model;
    picking const picked = picking_of(model, data_.days(), succession_, harvest_, year, options_);
    if (!picked.happens) { return {}; }
    if (gives_.heat) {
        air_series const& air =
            model.airs[at(model.stages[at(succession_)][at(harvest_)].air)].years[at(year)];
        std::vector<double> heat(at(model.season_days));
        degree_days(air.tmin, air.tmax, *gives_.heat, heat);
        std::partial_sum(heat.begin(), heat.end(), run_up_.begin() + 1);
    }
    day_yields found{.first = picked.days.begin};
    double const begun = run_up_[at(picked.days.begin)];
    double before = 0.0;
    for (int d = picked.days.begin; d < picked.days.end; ++d) {
        double const by_then = gives_.shape.cumulative(run_up_[at(d + 1)] - begun);
        found.units.push_back(possible() * (by_then - before));
        before = by_then;
    }
    found.total = possible() * before;
    return found;
}

}  // namespace detail

yield_by_week expected_yield(prospect const& of, std::string_view succession,
                             harvest_yield const& gives, harvest_options const& options) {
    detail::prospect_data const& data = *of.data();
    plan const& planned = data.model->planned;
    int const i = planned.succession_index(succession);
    detail::yielding yields{data, i, gives, options};
    season const& window = planned.window();
    yield_by_week found{.succession = planned.successions()[at(i)].name,
                        .unit = gives.unit,
                        .plants = yields.plants(),
                        .possible = yields.possible(),
                        .years = of.years()};
    day const monday = monday_of(window.start());
    for (day from = monday; window.offset_of(from) < window.length(); from += days{7}) {
        found.weeks.push_back(from);
    }
    int const lead = -window.offset_of(monday);
    found.values.assign(found.years.size() * found.weeks.size(), 0.0);
    for (int y = 0; y < static_cast<int>(found.years.size()); ++y) {
        detail::day_yields const one = yields.of_year(y);
        double* const row = found.values.data() + at(y) * found.weeks.size();
        for (std::size_t k = 0; k < one.units.size(); ++k) {
            row[(at(one.first + lead) + k) / 7] += one.units[k];
        }
        found.totals.push_back(one.total);
    }
    return found;
}

}  // namespace epicotyl
