// Season: rows of many plans and climates.
#include <cstddef>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/what_if/sweep.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "plan_units.hpp"
#include "register.hpp"
#include "result.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

template <>
struct bound<swept_succession> {
    static constexpr char name[] = "SweptSuccession";
    static constexpr char doc[] =
        "One succession in one cell of a sweep. Counts are of season years.";
    static auto fields() {
        return std::tuple{
            field{"name", &swept_succession::name, "Its name."},
            field{"unresolved", &swept_succession::unresolved,
                  "Code of what stands in the way; empty: it has its days."},
            field{"sowing", &swept_succession::sowing,
                  "Planned day of its first event; None: it has none."},
            field{"target", &swept_succession::target,
                  "Planned day of the event aimed at; None: it has none."},
            field{"event", &swept_succession::event, "The event that the quantiles are of."},
            field{"quantiles", &swept_succession::quantiles,
                  "Of the days of that event, level by level; None: never."},
            field{"good", &swept_succession::good, "Years in which the target is met."},
            field{"damaged", &swept_succession::damaged, "Years with damage by cold."},
            field{"damaged_heater_off", &swept_succession::damaged_heater_off,
                  "Years with damage by cold, had the heaters been off."},
            field{"damaged_cover_off", &swept_succession::damaged_cover_off,
                  "Years with damage by cold, had nothing been done on those nights."},
            field{"too_hot", &swept_succession::too_hot, "Years with harm by heat."},
            field{"overheld", &swept_succession::overheld,
                  "Years in which plants waited longer than their hold."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

using case_tuple = std::tuple<plan, climate, std::optional<double>>;
/// (number of the case, why it could not be made, years, successions).
using row_tuple = std::tuple<int, std::string, int, std::vector<swept_succession>>;

std::vector<row_tuple> rows_of(std::vector<case_tuple> const& written,
                               std::vector<double> const& levels, std::string event, int threads,
                               py::function const& watch) {
    std::vector<sweep_case> cases;
    cases.reserve(written.size());
    for (auto const& [of, under, wanted] : written) {
        sweep_case& one = cases.emplace_back(sweep_case{.of = of, .under = under});
        if (wanted) {
            double const share = *wanted;
            one.wanted = said_of("reliability", [&] { return reliability{share}; });
        }
    }
    sweep_options options{.levels = {}, .event = std::move(event), .threads = threads};
    for (double const level : levels) {
        options.levels.push_back(said_of("levels", [&] { return quantile_level{level}; }));
    }
    // Told from this thread only, and so with the lock that this thread gave up.
    options.progress = [&watch](int done, int) {
        py::gil_scoped_acquire const held;
        return py::cast<bool>(watch(done));
    };
    sweep_result const found = without_lock([&] { return sweep_cases(cases, options); });
    std::vector<row_tuple> rows;
    for (sweep_row const& row : found.rows) {
        rows.emplace_back(row.choice.front(), row.refused, row.years, row.successions);
    }
    return rows;
}

}  // namespace

void register_sweep(py::module_& m) {
    add_result<swept_succession>(m);
    m.def(
        "require_warming",
        [](double by, std::string const& word) {
            unit_door const door{units_of(word)};
            require_warming(said_of("by", [&] { return door.span_of(by); }), door.units());
        },
        "by"_a, "units"_a);
    m.def("sweep_cases", &rows_of, "cases"_a, "levels"_a, "event"_a, "threads"_a, "watch"_a);
}
