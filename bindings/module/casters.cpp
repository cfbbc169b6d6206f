#include <Python.h>

// After Python.h, which it needs.
#include <datetime.h>

#include "casters.hpp"

#include <string>
#include <utility>

#include <date/date.h>

namespace epicotyl::bindings {

namespace py = pybind11;

namespace {

/// Python's date functions come by a table that each source file fetches for itself, which is why
/// nothing of this is in the header.
void need_dates() {
    if (PyDateTimeAPI == nullptr) { PyDateTime_IMPORT; }
    if (PyDateTimeAPI == nullptr) { throw py::error_already_set{}; }
}

/// True for a date without a time of day.
bool is_plain_date(py::handle value) {
    return PyDate_Check(value.ptr()) != 0 && PyDateTime_Check(value.ptr()) == 0;
}

day day_of_date(py::handle date) {
    return make_day(PyDateTime_GET_YEAR(date.ptr()),
                    static_cast<unsigned>(PyDateTime_GET_MONTH(date.ptr())),
                    static_cast<unsigned>(PyDateTime_GET_DAY(date.ptr())));
}

}  // namespace

std::optional<day> to_day_of_date(py::handle value) {
    need_dates();
    return is_plain_date(value) ? std::optional{day_of_date(value)} : std::nullopt;
}

std::optional<day> to_day(py::handle value) {
    if (auto const plain = to_day_of_date(value)) { return plain; }
    py::module_ const numpy = py::module_::import("numpy");
    if (!py::isinstance(value, numpy.attr("datetime64"))) { return std::nullopt; }
    py::tuple const unit = numpy.attr("datetime_data")(value.attr("dtype"));
    if (unit[0].cast<std::string>() != "D") { return std::nullopt; }
    // NaT becomes None, and a day outside the years 1 to 9999 a number.
    py::object const date = value.attr("item")();
    return is_plain_date(date) ? std::optional{day_of_date(date)} : std::nullopt;
}

py::object to_date(day d) {
    need_dates();
    date::year_month_day const ymd{d};
    auto date = py::reinterpret_steal<py::object>(
        PyDate_FromDate(int{ymd.year()}, static_cast<int>(unsigned{ymd.month()}),
                        static_cast<int>(unsigned{ymd.day()})));
    if (!date) { throw py::error_already_set{}; }
    return date;
}

void refuse_as_day(py::handle value) {
    throw py::type_error{
        "a day is a datetime.date or a numpy.datetime64 with the unit D, without "
        "a time of day; not " +
        std::string{py::repr(value)}};
}

py::array to_day_array(std::vector<py::ssize_t> shape, std::vector<std::int64_t> const& counts) {
    return py::array{py::dtype{"datetime64[D]"}, std::move(shape), counts.data()};
}

py::array to_day_array(std::span<std::optional<day> const> all) {
    std::vector<std::int64_t> counts;
    counts.reserve(all.size());
    for (std::optional<day> const& one : all) {
        counts.push_back(one ? one->time_since_epoch().count() : not_a_day);
    }
    return to_day_array({static_cast<py::ssize_t>(counts.size())}, counts);
}

py::array view_of(std::span<double const> values, std::vector<py::ssize_t> shape,
                  py::handle owner) {
    py::array view{py::dtype::of<double>(), std::move(shape), values.data(), owner};
    view.attr("setflags")(py::arg("write") = false);
    return view;
}

}  // namespace epicotyl::bindings
