// Season: harvests, what they give, and the weeks that they cover.
#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/season/harvest/coverage.hpp>
#include <epicotyl/season/harvest/harvest.hpp>
#include <epicotyl/season/harvest/yield.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "register.hpp"
#include "result.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

/// Python adds quantiles, means and tables (epicotyl/_yield_by_week.py).
template <>
struct bound<yield_by_week> {
    static constexpr char name[] = "YieldByWeek";
    static constexpr char doc[] =
        "Units picked in each ISO week of the season, in every season year.";
    static auto fields() {
        return std::tuple{
            field{"succession", &yield_by_week::succession, "Its name."},
            field{"unit", &yield_by_week::unit, "What is counted; may be empty."},
            field{"plants", &yield_by_week::plants, "Alive at the first harvest."},
            field{"possible", &yield_by_week::possible, "Units a plant times plants."},
            field{"years", &yield_by_week::years, "Season years, ascending."},
            field{"weeks", days_of(&yield_by_week::weeks),
                  "Mondays, from the week in which the season starts to the one in which it ends, "
                  "whatever is picked: the weeks of all successions of a plan are the same, and "
                  "their values add up."},
            field{"values",
                  [](yield_by_week const& of) {
                      py::array_t<double> all({of.years.size(), of.weeks.size()});
                      std::copy(of.values.begin(), of.values.end(), all.mutable_data());
                      return all;
                  },
                  "Units, of the shape (years, weeks)."},
            field{"totals", array_of(&yield_by_week::totals),
                  "Units of the year: `possible` times the share of the shape that its harvest "
                  "realised."}};
    }
};

template <>
struct bound<coverage_week> {
    static constexpr char name[] = "CoverageWeek";
    static constexpr char doc[] = "One ISO week, cut to the span.";
    static auto fields() {
        return std::tuple{field{"start", &coverage_week::from, "Its first day."},
                          field{"until", &coverage_week::until, "Its last day."},
                          field{"years", &coverage_week::years,
                                "Season years with a harvest on one of its days."},
                          field{"met", &coverage_week::met,
                                "Season years that give the amount wanted; None: none is wanted."},
                          field{"covered", &coverage_week::covered, "These are enough."}};
    }
};

template <>
struct bound<coverage_gap> {
    static constexpr char name[] = "CoverageGap";
    static constexpr char doc[] = "A week that is not covered.";
    static auto fields() {
        return std::tuple{
            field{"monday", &coverage_gap::monday, "Its Monday."},
            field{"without", &coverage_gap::without, "Season years with nothing in harvest."},
            field{"less", &coverage_gap::less,
                  "Season years that give less than the amount wanted; None: none is wanted."},
            field{"sentence", &coverage_gap::sentence, "In words. `str` gives it."}};
    }
};

/// Python adds the share that is covered (epicotyl/_coverage.py).
template <>
struct bound<harvest_coverage> {
    static constexpr char name[] = "HarvestCoverage";
    static constexpr char doc[] = "In how many season years a group is in harvest, week by week.";
    static auto fields() {
        return std::tuple{
            field{"successions", &harvest_coverage::successions, "Of the group, in plan order."},
            field{"years", &harvest_coverage::years, "Season years."},
            field{"needed", &harvest_coverage::needed, "Years that the reliability asks for."},
            field{"weeks", &harvest_coverage::weeks,
                  "Of the span; empty: nothing is harvested in it in any year."},
            field{"gaps", &harvest_coverage::gaps, "Weeks that are not covered."},
            field{"_text", in_words, ""},
            field{"wanted", &harvest_coverage::wanted,
                  "What a week is to give, ``\"40 stems\"``; empty: no amount is wanted."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

using numbers = py::array_t<double, py::array::c_style>;
/// (first days, days after the last, what ended it).
using spans_tuple = std::tuple<py::array, py::array, std::vector<std::optional<std::string>>>;
/// (base [°C], upper [°C], method, cutoff).
using heat_tuple = std::tuple<double, std::optional<double>, std::string, std::string>;
/// (units a week, what plants give by name).
using amount_pair = std::pair<double, std::vector<std::pair<std::string, harvest_yield>>>;

template <class Of>
numbers each_amount(numbers const& given, Of const& of) {
    numbers result(given.size());
    double* out = result.mutable_data();
    for (double const value : std::span{given.data(), static_cast<std::size_t>(given.size())}) {
        *out++ = of(value);
    }
    return result;
}

numbers table_of(std::vector<double> const& values, std::vector<py::ssize_t> const& shape) {
    numbers result(shape);
    std::copy(values.begin(), values.end(), result.mutable_data());
    return result;
}

spans_tuple harvest_spans_of(prospect const& of, std::string const& succession, bool heat_stops) {
    auto const spans =
        without_lock([&] { return harvest_spans(of, succession, {.heat_stops = heat_stops}); });
    std::vector<std::optional<day>> begin;
    std::vector<std::optional<day>> end;
    std::vector<std::optional<std::string>> ended_by;
    for (harvest_span const& one : spans) {
        begin.push_back(one.begin);
        end.push_back(one.end);
        ended_by.emplace_back();
        if (one.ended_by) { ended_by.back() = to_string(*one.ended_by); }
    }
    return {to_day_array(begin), to_day_array(end), std::move(ended_by)};
}

/// `parameters` are as many as the shape has; Python sees to that.
yield_shape make_shape(std::string const& name, std::vector<double> const& parameters) {
    enum class form { box, trapezoid, weibull };
    static constexpr std::array<std::string_view, 3> words = {"box", "trapezoid", "weibull"};
    switch (enum_of<form>(name, words, "name")) {
        case form::box:
            return yield_shape::box(parameters.at(0));
        case form::trapezoid:
            return yield_shape::trapezoid(parameters.at(0), parameters.at(1), parameters.at(2));
        case form::weibull:
            break;
    }
    return yield_shape::weibull(parameters.at(0), parameters.at(1));
}

harvest_yield make_yield(yield_shape const& shape, double units, std::string unit,
                         std::optional<heat_tuple> const& heat) {
    harvest_yield made{.shape = shape, .units_per_plant = units, .unit = std::move(unit)};
    if (heat) {
        auto const& [base, upper, method, cutoff] = *heat;
        made.heat = degree_day_rule{
            .base = base,
            .upper = upper.value_or(std::numeric_limits<double>::infinity()),
            .method = enum_of<degree_day_method>(method, degree_day_method_names, "method"),
            .cutoff = enum_of<degree_day_cutoff>(cutoff, degree_day_cutoff_names, "cutoff")};
    }
    validate(made);
    return made;
}

yield_by_week yield_of(prospect const& of, std::string const& succession,
                       harvest_yield const& gives, bool heat_stops) {
    return without_lock(
        [&] { return expected_yield(of, succession, gives, {.heat_stops = heat_stops}); });
}

/// Week by week the quantile of a table [year][week].
numbers quantile_of(numbers const& values, double q) {
    auto const years = static_cast<std::size_t>(values.shape(0));
    auto const weeks = static_cast<std::size_t>(values.shape(1));
    yield_by_week const table{.succession = {},
                              .years = std::vector<int>(years),
                              .weeks = std::vector<day>(weeks),
                              .values = {values.data(), values.data() + values.size()}};
    return table_of(table.quantile(quantile_level{q}), {values.shape(1)});
}

succession_group group_of(std::string const& kind, std::vector<std::string> names) {
    if (kind == "wave") { return succession_group::of_wave(std::move(names.front())); }
    if (kind == "crop") { return succession_group::of_crop(std::move(names.front())); }
    return succession_group::of(std::move(names));
}

harvest_coverage coverage_of(prospect const& of, std::string const& kind,
                             std::vector<std::string> names, std::optional<day> first,
                             std::optional<day> last, std::optional<double> wanted,
                             std::optional<amount_pair> amount, bool heat_stops) {
    coverage_options options{.first = first, .last = last, .harvest = {.heat_stops = heat_stops}};
    if (wanted) {
        options.reliability = said_of("reliability", [&] { return reliability{*wanted}; });
    }
    if (amount) {
        options.amount =
            wanted_amount{.per_week = amount->first, .gives = std::move(amount->second)};
    }
    succession_group const group = group_of(kind, std::move(names));
    return without_lock([&] { return coverage(of, group, options); });
}

}  // namespace

void register_harvest(py::module_& m) {
    add_result<yield_by_week>(m);
    add_result<coverage_week>(m);
    add_result<coverage_gap>(m);
    add_result<harvest_coverage>(m);
    py::class_<yield_shape>(m, "YieldShape")
        .def(py::init(&make_shape), "name"_a, "parameters"_a)
        .def_property_readonly("name", &yield_shape::name)
        .def_property_readonly("parameters", &yield_shape::parameters)
        .def(
            "cumulative",
            [](yield_shape const& of, numbers const& x) {
                return each_amount(x, [&](double one) { return of.cumulative(one); });
            },
            "x"_a)
        .def(
            "density",
            [](yield_shape const& of, numbers const& x) {
                return each_amount(x, [&](double one) { return of.density(one); });
            },
            "x"_a)
        .def(py::self == py::self);
    py::class_<harvest_yield>(m, "HarvestYield")
        .def(py::init(&make_yield), "shape"_a, "units_per_plant"_a, "unit"_a, "heat"_a)
        .def(py::self == py::self);
    m.def("harvest_spans", &harvest_spans_of, "prospect"_a, "succession"_a, "heat_stops"_a);
    m.def("expected_yield", &yield_of, "prospect"_a, "succession"_a, "gives"_a, "heat_stops"_a);
    m.def("quantile_of_weeks", &quantile_of, "values"_a, "q"_a);
    m.def("coverage", &coverage_of, "prospect"_a, "kind"_a, "names"_a, "first"_a, "last"_a,
          "reliability"_a, "amount"_a, "heat_stops"_a);
}
