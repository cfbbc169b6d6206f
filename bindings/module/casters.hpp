// How days cross between C++ and Python.
//
//   one day     datetime.date in and out; numpy.datetime64 with the unit D goes in as well
//   many days   arrays of datetime64[D] in and out; "never" is NaT
//
// A datetime.datetime is refused, although it is a datetime.date to Python: a day has no time, and
// the date of a moment depends on a zone that we do not know. For the same reason pybind11/chrono.h
// must never be included in this module: it takes a day for a moment and shifts it by the zone of
// the machine.
#ifndef EPICOTYL_BINDINGS_CASTERS_HPP
#define EPICOTYL_BINDINGS_CASTERS_HPP

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/days.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl::bindings {

/// NaT of datetime64, as a count of days.
inline constexpr std::int64_t not_a_day = std::numeric_limits<std::int64_t>::min();

/// A day from a datetime.date or a numpy.datetime64[D]; none for anything else, NaT and days
/// outside the years 1 to 9999 included.
[[nodiscard]] std::optional<day> to_day(pybind11::handle value);
/// The same of a datetime.date alone.
[[nodiscard]] std::optional<day> to_day_of_date(pybind11::handle value);
/// A day as a datetime.date. Throws Python's ValueError outside the years 1 to 9999.
[[nodiscard]] pybind11::object to_date(day d);
/// Throws the TypeError that says what a day is.
[[noreturn]] void refuse_as_day(pybind11::handle value);

/// An array of datetime64[D] with the given shape, from counts of days in C order.
[[nodiscard]] pybind11::array to_day_array(std::vector<pybind11::ssize_t> shape,
                                           std::vector<std::int64_t> const& counts);
/// One day a place; none is NaT.
[[nodiscard]] pybind11::array to_day_array(std::span<std::optional<day> const> all);
/// An array of numbers that cannot be written to and lives in `owner`, which it keeps alive.
[[nodiscard]] pybind11::array view_of(std::span<double const> values,
                                      std::vector<pybind11::ssize_t> shape, pybind11::handle owner);

/// What `make` returns; an `invalid_input` is said of the argument `field`.
template <class Make>
[[nodiscard]] auto said_of(char const* field, Make const& make) {
    try {
        return make();
    } catch (invalid_input const& fault) { throw fault.in_field(field); }
}

}  // namespace epicotyl::bindings

namespace pybind11::detail {

template <>
struct type_caster<epicotyl::day> {
    PYBIND11_TYPE_CASTER(epicotyl::day,
                         io_name("datetime.date | numpy.datetime64", "datetime.date"));

    /// No function of this module is overloaded, so a wrong kind is refused here, where the
    /// sentence can say what is wrong.
    bool load(handle source, bool) {
        std::optional<epicotyl::day> const found = epicotyl::bindings::to_day(source);
        if (!found) { epicotyl::bindings::refuse_as_day(source); }
        value = *found;
        return true;
    }

    static handle cast(epicotyl::day d, return_value_policy, handle) {
        return epicotyl::bindings::to_date(d).release();
    }
};

}  // namespace pybind11::detail

#endif
