// Clocks: degree-days and day length of whole arrays, and the day of a length. Shapes are checked
// in Python; here days come as one row after the other.
#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/clock/degree_days.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/units.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using numbers = py::array_t<double, py::array::c_style>;
using counts = py::array_t<std::int64_t, py::array::c_style>;

/// Degree-days of runs of `run` days each, one after the other.
numbers sums_of_days(numbers const& tmin, numbers const& tmax, py::ssize_t run, double base,
                     std::optional<double> upper, std::string const& method,
                     std::string const& cutoff) {
    degree_day_rule const rule{
        .base = base,
        .upper = upper.value_or(std::numeric_limits<double>::infinity()),
        .method = enum_of<degree_day_method>(method, degree_day_method_names, "method"),
        .cutoff = enum_of<degree_day_cutoff>(cutoff, degree_day_cutoff_names, "cutoff")};
    validate(rule);
    numbers result(tmin.size());
    std::span const low{tmin.data(), static_cast<std::size_t>(tmin.size())};
    std::span const high{tmax.data(), low.size()};
    std::span const out{result.mutable_data(), low.size()};
    // The lock is held: a caller may change these arrays in another thread.
    auto const length = static_cast<std::size_t>(run);
    for (std::size_t from = 0; from < low.size(); from += length) {
        degree_days(low.subspan(from, length), high.subspan(from, length), rule,
                    out.subspan(from, length));
    }
    return result;
}

constexpr std::array<std::string_view, 2> day_length_words = {"cbm", "fao56"};

/// Hours of each day; NaT gives NaN.
numbers hours_of_days(double where, counts const& when, std::string const& model,
                      double sun_angle) {
    latitude const north{where};
    auto const by = enum_of<day_length_model>(model, day_length_words, "model");
    numbers result(when.size());
    double* out = result.mutable_data();
    for (std::int64_t const count : std::span{when.data(), static_cast<std::size_t>(when.size())}) {
        *out++ = count == not_a_day ? std::numeric_limits<double>::quiet_NaN()
                                    : day_length(north, day{days{count}}, by, sun_angle);
    }
    return result;
}

/// Year and number of the ISO week of each day, one pair after the other; NaT gives zeros.
counts weeks_of_days(counts const& when) {
    counts result(std::vector<py::ssize_t>{when.size(), 2});
    std::int64_t* out = result.mutable_data();
    for (std::int64_t const count : std::span{when.data(), static_cast<std::size_t>(when.size())}) {
        iso_week_date const found =
            count == not_a_day ? iso_week_date{} : iso_week_of(day{days{count}});
        *out++ = count == not_a_day ? 0 : found.year;
        *out++ = count == not_a_day ? 0 : static_cast<std::int64_t>(found.week);
    }
    return result;
}

/// The first or the last day of a run, both ends included, with so many hours.
std::optional<day> day_with(double where, double hours, day start, day until,
                            std::string const& model, double sun_angle, bool first) {
    latitude const north{where};
    auto const by = enum_of<day_length_model>(model, day_length_words, "model");
    auto const found = first ? &first_day_with : &last_day_with;
    return without_lock([&] { return found(north, hours, start, until, by, sun_angle); });
}

}  // namespace

void register_clock(py::module_& m) {
    m.def("degree_days", &sums_of_days, "tmin"_a, "tmax"_a, "run"_a, "base"_a, "upper"_a,
          "method"_a, "cutoff"_a);
    m.def("day_length", &hours_of_days, "latitude"_a, "days"_a, "model"_a, "sun_angle"_a);
    m.def("iso_weeks", &weeks_of_days, "days"_a);
    m.def("day_with", &day_with, "latitude"_a, "hours"_a, "start"_a, "until"_a, "model"_a,
          "sun_angle"_a, "first"_a);
    register_germination(m);
}
