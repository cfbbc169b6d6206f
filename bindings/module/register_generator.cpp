// The weather generator: models and what is drawn from them.
#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <tuple>
#include <utility>

#include <pybind11/numpy.h>
#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/generator.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "register.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using numbers = py::array_t<double, py::array::c_style>;
using counts = py::array_t<std::int64_t, py::array::c_style>;
using waves = std::array<double, yearly_course::harmonics>;
/// (level, cosines, sines).
using course_tuple = std::tuple<double, waves, waves>;
/// (mean, spread).
using element_tuple = std::tuple<course_tuple, course_tuple>;

yearly_course course_of(course_tuple const& written) {
    auto const& [level, cosine, sine] = written;
    return {.level = level, .cosine = cosine, .sine = sine};
}

element_course element_of(element_tuple const& written) {
    return {.mean = course_of(std::get<0>(written)), .spread = course_of(std::get<1>(written))};
}

course_tuple tuple_of(yearly_course const& of) {
    return {of.level, of.cosine, of.sine};
}

element_tuple tuple_of(element_course const& of) {
    return {tuple_of(of.mean), tuple_of(of.spread)};
}

weather_model make_model(element_tuple const& minimum, element_tuple const& maximum,
                         double same_day, pair_matrix const& next_day, std::string origin) {
    return weather_model{{.minimum = element_of(minimum),
                          .maximum = element_of(maximum),
                          .same_day = same_day,
                          .next_day = next_day,
                          .origin = std::move(origin)}};
}

/// Spreads of minima, then of maxima, the coldest time first.
using spread_tuple = std::array<std::optional<double>, 4>;

weather_model model_of_normals(std::array<double, 12> const& lows,
                               std::array<double, 12> const& highs, spread_tuple const& spreads,
                               std::optional<double> same_day,
                               std::optional<pair_matrix> const& next_day) {
    normals_options options;
    options.minimum_spread_coldest = spreads[0].value_or(options.minimum_spread_coldest);
    options.minimum_spread_warmest = spreads[1].value_or(options.minimum_spread_warmest);
    options.maximum_spread_coldest = spreads[2].value_or(options.maximum_spread_coldest);
    options.maximum_spread_warmest = spreads[3].value_or(options.maximum_spread_warmest);
    options.same_day = same_day.value_or(options.same_day);
    options.next_day = next_day.value_or(options.next_day);
    return without_lock([&] { return model_from_normals(lows, highs, options); });
}

}  // namespace

void register_generator(py::module_& m) {
    py::class_<weather_model>(m, "WeatherModel")
        .def(py::init(&make_model), "minimum"_a, "maximum"_a, "same_day"_a, "next_day"_a,
             "origin"_a)
        .def_property_readonly("minimum",
                               [](weather_model const& of) { return tuple_of(of.minimum()); })
        .def_property_readonly("maximum",
                               [](weather_model const& of) { return tuple_of(of.maximum()); })
        .def_property_readonly("same_day", &weather_model::same_day)
        .def_property_readonly("next_day", &weather_model::next_day)
        .def_property_readonly("origin", &weather_model::origin)
        .def_property_readonly("carried", &weather_model::carried)
        .def_property_readonly("renewed", &weather_model::renewed)
        .def_property_readonly("met_share", &weather_model::met_share)
        .def(py::self == py::self);
    m.def(
        "yearly_course",
        [](course_tuple const& written, numbers const& phases) {
            yearly_course const course = course_of(written);
            numbers result(phases.size());
            for (py::ssize_t i = 0; i < phases.size(); ++i) {
                result.mutable_data()[i] = course.at(phases.data()[i]);
            }
            return result;
        },
        "course"_a, "phase"_a);
    m.def(
        "phase_of",
        [](counts const& when) {
            numbers result(when.size());
            for (py::ssize_t i = 0; i < when.size(); ++i) {
                std::int64_t const count = when.data()[i];
                result.mutable_data()[i] = count == not_a_day
                                               ? std::numeric_limits<double>::quiet_NaN()
                                               : phase_of(day{days{count}});
            }
            return result;
        },
        "days"_a);
    m.def(
        "fit_weather_model",
        [](daily_record const& record, written_years const& years) {
            year_selection const asked = years_of(years);
            return without_lock([&] { return fit_weather_model(record, asked); });
        },
        "record"_a, "years"_a);
    m.def("model_from_normals", &model_of_normals, "lows"_a, "highs"_a, "spreads"_a, "same_day"_a,
          "next_day"_a);
    m.def("generate", &generate, "model"_a, "start"_a, "length"_a, "seed"_a,
          py::call_guard<py::gil_scoped_release>());
}
