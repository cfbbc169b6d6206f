// Season: rows of many plans and climates.
#include <cstddef>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/season/what_if/sweep.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "register.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using case_tuple = std::tuple<plan, climate, std::optional<double>>;
/// (name, unresolved, sowing, target, event, quantiles, good, damaged, so with the heater off, so
/// with the cover off, too hot, overheld).
using swept_tuple =
    std::tuple<std::string, std::string, std::optional<day>, std::optional<day>, std::string,
               std::vector<std::optional<day>>, int, int, int, int, int, int>;
/// (number of the case, refused, years, successions).
using row_tuple = std::tuple<int, std::string, int, std::vector<swept_tuple>>;

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
        std::vector<swept_tuple> all;
        for (swept_succession const& one : row.successions) {
            all.emplace_back(one.name, one.unresolved, one.sowing, one.target, one.event,
                             one.quantiles, one.good, one.damaged, one.damaged_heater_off,
                             one.damaged_cover_off, one.too_hot, one.overheld);
        }
        rows.emplace_back(row.choice.front(), row.refused, row.years, std::move(all));
    }
    return rows;
}

}  // namespace

void register_sweep(py::module_& m) {
    m.def("sweep_cases", &rows_of, "cases"_a, "levels"_a, "event"_a, "threads"_a, "watch"_a);
}
