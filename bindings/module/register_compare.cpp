// Season: two calendars side by side.
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/season/what_if/compare.hpp>

#include "casters.hpp"
#include "register.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;

namespace {

using moved_tuple = std::tuple<std::string, std::string, std::optional<day>, std::optional<day>>;
/// (field, before, after, stands alone, moves).
using input_tuple =
    std::tuple<std::string, std::string, std::string, bool, std::vector<moved_tuple>>;
/// (moved, inputs, together, text).
using comparison_tuple = std::tuple<std::vector<moved_tuple>, std::vector<input_tuple>,
                                    std::vector<moved_tuple>, std::string>;

std::vector<moved_tuple> tuples_of(std::vector<moved_event> const& all) {
    std::vector<moved_tuple> made;
    for (moved_event const& one : all) {
        made.emplace_back(one.succession, one.event, one.before, one.after);
    }
    return made;
}

comparison_tuple compared(calendar const& before, calendar const& after) {
    calendar_comparison const found = compare(before, after);
    std::vector<input_tuple> inputs;
    for (changed_input const& one : found.inputs) {
        inputs.emplace_back(one.field, one.before, one.after, one.stands_alone,
                            tuples_of(one.moves));
    }
    return {tuples_of(found.moved), inputs, tuples_of(found.together), to_string(found)};
}

}  // namespace

void register_compare(py::module_& m) {
    m.def("compare", &compared, "before"_a, "after"_a, py::call_guard<py::gil_scoped_release>());
}
