// Germination: curves, maxima and courses of whole arrays. Shapes are checked in Python; here
// numbers come as one row after the other.
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/germination.hpp>
#include <epicotyl/clock/rate.hpp>
#include <epicotyl/units.hpp>

#include "casters.hpp"
#include "register.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using numbers = py::array_t<double, py::array::c_style>;
/// Base, optimum and ceiling [°C].
using cardinal_tuple = std::tuple<double, double, double>;

/// `of` each number; NaN gives NaN.
template <class Of>
numbers each(numbers const& given, Of const& of) {
    numbers result(given.size());
    double* out = result.mutable_data();
    for (double const value : std::span{given.data(), static_cast<std::size_t>(given.size())}) {
        *out++ = std::isnan(value) ? value : of(value);
    }
    return result;
}

temperature celsius(char const* field, double value) {
    return said_of(field, [&] { return temperature::from_celsius(value); });
}

thermal_time kelvin_days(char const* field, double value) {
    return said_of(field, [&] { return thermal_time::from_kelvin_days(value); });
}

germination_wait wait_of(cardinal_tuple const& cardinal) {
    auto const [base, optimum, ceiling] = cardinal;
    germination_wait const wait{.base = celsius("base", base),
                                .optimum = celsius("optimum", optimum),
                                .ceiling = celsius("ceiling", ceiling)};
    (void)clock::germination(wait);  // refuses temperatures that do not rise
    return wait;
}

numbers thermal_times(germination_curve const& curve, numbers const& shares,
                      std::optional<double> maximum) {
    std::optional<chance> most;
    if (maximum) {
        most = said_of("maximum", [&] { return chance{*maximum}; });
    }
    return each(shares, [&](double share) {
        auto const needed =
            most ? curve.needed_for(share, *most) : std::optional{curve.needed_for(share)};
        return needed ? needed->kelvin_days() : std::numeric_limits<double>::quiet_NaN();
    });
}

maximum_germination make_maximum(std::vector<std::pair<double, double>> const& written) {
    std::vector<maximum_germination::point> points;
    for (auto const& [at, share] : written) {
        points.push_back({.at = celsius("points", at), .share = share});
    }
    return maximum_germination{std::move(points)};
}

std::vector<std::pair<double, double>> points_of(maximum_germination const& of) {
    std::vector<std::pair<double, double>> all;
    for (maximum_germination::point const& one : of.points()) {
        all.emplace_back(one.at.celsius(), one.share);
    }
    return all;
}

/// Runs of `run` days each, one after the other.
numbers courses(numbers const& means, py::ssize_t run, cardinal_tuple const& cardinal,
                germination_curve const& curve, maximum_germination const& maximum) {
    germination_wait const wait = wait_of(cardinal);
    std::span const given{means.data(), static_cast<std::size_t>(means.size())};
    numbers result(means.size());
    double* out = result.mutable_data();
    // The lock is held: a caller may change the array in another thread.
    auto const length = static_cast<std::size_t>(run);
    for (std::size_t from = 0; from < given.size(); from += length) {
        for (double const share :
             germinated_by_day(given.subspan(from, length), wait, curve, maximum)) {
            *out++ = share;
        }
    }
    return result;
}

}  // namespace

void register_germination(py::module_& m) {
    py::class_<germination_curve>(m, "GerminationCurve")
        .def(py::init([](double half, double steepness) {
                 return germination_curve{kelvin_days("half", half), steepness};
             }),
             "half"_a, "steepness"_a)
        .def_property_readonly("half",
                               [](germination_curve const& of) { return of.half().kelvin_days(); })
        .def_property_readonly("steepness", &germination_curve::steepness)
        .def(
            "share_up",
            [](germination_curve const& of, numbers const& sums) {
                return each(sums, [&](double sum) {
                    return of.share_up(kelvin_days("thermal_time", sum));
                });
            },
            "thermal_time"_a)
        .def("needed_for", &thermal_times, "share"_a, "maximum"_a)
        .def(py::self == py::self);
    m.def(
        "steepness_between",
        [](double less, double sooner, double more, double later) {
            return steepness_between(less, kelvin_days("sooner", sooner), more,
                                     kelvin_days("later", later));
        },
        "less"_a, "sooner"_a, "more"_a, "later"_a);

    py::class_<maximum_germination>(m, "MaximumGermination")
        .def(py::init(&make_maximum), "points"_a)
        .def_property_readonly("points", &points_of)
        .def(
            "at",
            [](maximum_germination const& of, numbers const& where) {
                return each(where, [&](double one) {
                    return of.at(celsius("temperature", one))
                        .value_or(std::numeric_limits<double>::quiet_NaN());
                });
            },
            "temperature"_a)
        .def(
            "held",
            [](maximum_germination const& of, numbers const& where) {
                return each(where,
                            [&](double one) { return of.held(celsius("temperature", one)); });
            },
            "temperature"_a)
        .def(py::self == py::self);

    m.def(
        "germination_rate",
        [](numbers const& means, cardinal_tuple const& cardinal) {
            germination_wait const wait = wait_of(cardinal);
            return each(means, [&](double mean) { return germination_rate(mean, wait); });
        },
        "means"_a, "cardinal"_a);
    m.def("germinated_by_day", &courses, "means"_a, "run"_a, "cardinal"_a, "curve"_a, "maximum"_a);
}
