// Season: two calendars side by side.
#include <tuple>

#include <pybind11/pybind11.h>

#include <epicotyl/season/what_if/compare.hpp>

#include "register.hpp"
#include "result.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

/// Python adds the days between (epicotyl/_compare.py).
template <>
struct bound<moved_event> {
    static constexpr char name[] = "MovedEvent";
    static constexpr char doc[] = "An event whose planned day differs between two calendars.";
    static auto fields() {
        return std::tuple{field{"succession", &moved_event::succession, "Whose event."},
                          field{"event", &moved_event::event, "The event."},
                          field{"before", &moved_event::before,
                                "Its day; None: it has none, or is not in that plan."},
                          field{"after", &moved_event::after, "Its day in the other calendar."}};
    }
};

template <>
struct bound<changed_input> {
    static constexpr char name[] = "ChangedInput";
    static constexpr char doc[] = "An input that differs between two calendars.";
    static auto fields() {
        return std::tuple{
            field{"field", &changed_input::field,
                  "As in a plan file, with successions by name and stages by the event that begins "
                  "them, such as `succession.\"tomato 1\".target`; `season years`; `reliability`."},
            field{"before", &changed_input::before, "As in a plan file; empty: it is not there."},
            field{"after", &changed_input::after, "The same of the other calendar."},
            field{"stands_alone", &changed_input::stands_alone,
                  "Whether the first plan can be made with this change alone."},
            field{"moves", &changed_input::moves, "What it moves alone, in plan order."}};
    }
};

template <>
struct bound<calendar_comparison> {
    static constexpr char name[] = "CalendarComparison";
    static constexpr char doc[] =
        "What moved between two calendars, and which changed input moved it.";
    static auto fields() {
        return std::tuple{
            field{"moved", &calendar_comparison::moved,
                  "In the order of the first plan, then the second."},
            field{"inputs", &calendar_comparison::inputs, "In the order of the plan file."},
            field{"together", &calendar_comparison::together,
                  "Those of `moved` that no input moves alone."},
            field{"_text", in_words, ""}};
    }
};

}  // namespace epicotyl::bindings

void register_compare(py::module_& m) {
    add_result<moved_event>(m);
    add_result<changed_input>(m);
    add_result<calendar_comparison>(m);
    m.def("compare", &compare, "before"_a, "after"_a, py::call_guard<py::gil_scoped_release>());
}
