// Season: staggered sowings, and the fewest for the days that matter.
#include <cstddef>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/harvest/fewest_sowings.hpp>
#include <epicotyl/season/harvest/stagger.hpp>
#include <epicotyl/weather/climate.hpp>

#include "casters.hpp"
#include "register.hpp"
#include "shared_results.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

template <>
struct bound<staggered_sowing> {
    static constexpr char name[] = "StaggeredSowing";
    static constexpr char doc[] = "One sowing, and when it is picked.";
    static auto fields() {
        return std::tuple{
            field{"name", &staggered_sowing::name, "Of its succession."},
            field{"wanted", &staggered_sowing::wanted, "First harvest asked for."},
            field{"sowing", &staggered_sowing::sowing, "Planned."},
            field{
                "usual", &staggered_sowing::usual,
                "First harvest of the middle season year, on `wanted` or earlier, of a batch that "
                "lives."},
            field{"early", &staggered_sowing::early,
                  "First harvest of 1 year in 10, of a batch that lives; None: not within the "
                  "season."},
            field{"late", &staggered_sowing::late, "The same of 9 years in 10."},
            field{"in_time", &staggered_sowing::in_time,
                  "Season years in which it lives and is picked before the limits of "
                  "`Staggered.last_useful`."},
            field{"lost", &staggered_sowing::lost,
                  "Season years in which cold loses it before it is picked.", may_be_left_out}};
    }
};

template <>
struct bound<last_sowing> {
    static constexpr char name[] = "LastSowing";
    static constexpr char doc[] = "The latest sowing that is still worth it.";
    static auto fields() {
        return std::tuple{
            field{"sowing", &last_sowing::sowing, "None: no sowing is in time in enough years."},
            field{"good", &last_sowing::good,
                  "Season years in which it lives and is in time; where there is none, those of "
                  "the best."},
            field{"needed", &last_sowing::needed, "Season years that the reliability asks for."},
            field{"years", &last_sowing::years, "Season years."},
            field{"good_one_day_later", &last_sowing::good_one_day_later,
                  "Season years in which a sowing a day later would be in time."},
            field{"limit", &last_sowing::limit,
                  "What fails first beyond it: `frost`, `day_length`, `not_after`, `season` or "
                  "`lost`, cold that loses the plants before they are picked."},
            field{"sentence", &last_sowing::sentence, "In words. `str` gives it."}};
    }
};

template <>
struct bound<harvest_week> {
    static constexpr char name[] = "HarvestWeek";
    static constexpr char doc[] = "One week of the span, Monday to Sunday, cut to it.";
    static auto fields() {
        return std::tuple{
            field{"start", &harvest_week::from, "Its first day."},
            field{"until", &harvest_week::until, "Its last day."},
            field{"years", &harvest_week::years,
                  "Season years in which something is in harvest on one of its days."},
            field{"covered", &harvest_week::covered, "These are enough."}};
    }
};

template <>
struct bound<harvest_gap> {
    static constexpr char name[] = "HarvestGap";
    static constexpr char doc[] =
        "A run of days with too few season years in which anything is in harvest.";
    static auto fields() {
        return std::tuple{field{"start", &harvest_gap::from, "Its first day."},
                          field{"until", &harvest_gap::until, "Its last day."},
                          field{"fewest", &harvest_gap::fewest,
                                "Season years with something in harvest, on its worst day."}};
    }
};

template <>
struct bound<equal_gap_sowing> {
    static constexpr char name[] = "EqualGapSowing";
    static constexpr char doc[] = "A sowing of a series with equal gaps.";
    static auto fields() {
        return std::tuple{
            field{"sowing", &equal_gap_sowing::sowing, "The day."},
            field{"usual", &equal_gap_sowing::usual,
                  "First harvest of the middle season year; None: not within the season."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

/// A succession aimed at a day, as a plan file has it.
py::dict table_of(succession const& of) {
    return py::dict(
        "name"_a = of.name, "crop"_a = of.crop, "plants"_a = of.amount.value,
        "target"_a = py::dict("event"_a = of.target.event, "on"_a = *day_asked(of.target.rule)));
}

py::typing::List<py::dict> tables_of(std::vector<succession> const& of) {
    py::typing::List<py::dict> all;
    for (succession const& one : of) { all.append(table_of(one)); }
    return all;
}

staggered make_staggered(plan const& of, climate const& under, std::string const& crop, day first,
                         std::optional<day> last, std::optional<double> frost_chance,
                         std::optional<int> every, std::optional<int> count,
                         std::optional<double> wanted, std::optional<double> hours,
                         std::string name, double plants) {
    stagger_options options{.first = first,
                            .last = last.value_or(first),
                            .every = every,
                            .count = count,
                            .day_length_at_least = hours,
                            .name = std::move(name),
                            .amount = {.value = plants}};
    if (frost_chance) {
        options.last =
            said_of("until_first_frost", [&] { return until_first_frost{chance{*frost_chance}}; });
    }
    if (wanted) { options.reliability = reliability{*wanted}; }
    return stagger(of, under, crop, options);
}

covering_sowings find_fewest(plan const& of, climate const& under, std::string const& crop,
                             day start, day until, double share) {
    try {
        return fewest_sowings(of, under, crop, {start, until, chance{share}});
    } catch (invalid_input const& fault) {
        // "from" is no name that Python can give an argument.
        if (fault.details().field == "from") { throw fault.in_field("start"); }
        throw;
    }
}

void register_staggered(py::module_& m) {
    py::class_<staggered>(m, "Staggered")
        .def_property_readonly("crop", &staggered::crop)
        .def_property_readonly("reliability",
                               [](staggered const& of) { return of.reliability().value(); })
        .def_property_readonly("until", &staggered::until)
        .def_property_readonly("sowings", &staggered::sowings)
        .def_property_readonly("left_out", &staggered::left_out)
        .def_property_readonly("intervals", &staggered::intervals)
        .def_property_readonly("last_useful", &staggered::last_useful)
        .def_property_readonly("weeks", &staggered::weeks)
        .def_property_readonly("share_covered", &staggered::share_covered)
        .def_property_readonly("gaps", &staggered::gaps)
        .def("equal_gaps", &equal_gaps, py::call_guard<py::gil_scoped_release>())
        .def_property_readonly("successions",
                               [](staggered const& of) { return tables_of(of.successions()); })
        .def("__str__", [](staggered const& of) { return to_string(of); });
    m.def("stagger", &make_staggered, "plan"_a, "climate"_a, "crop"_a, "first"_a, "last"_a,
          "until_first_frost"_a, "every"_a, "count"_a, "reliability"_a, "day_length_at_least"_a,
          "name"_a, "plants"_a, py::call_guard<py::gil_scoped_release>());
}

void register_fewest(py::module_& m) {
    py::class_<covering_sowings>(m, "CoveringSowings")
        .def_readonly("crop", &covering_sowings::crop)
        .def_property_readonly("sowings",
                               [](covering_sowings const& of) {
                                   std::vector<std::optional<day>> const all(of.sowings.begin(),
                                                                             of.sowings.end());
                                   return to_day_array(all);
                               })
        .def_readonly("years", &covering_sowings::years)
        .def_readonly("needed", &covering_sowings::needed)
        .def_readonly("good", &covering_sowings::good)
        .def_readonly("most_good", &covering_sowings::most_good)
        .def_readonly("served", &covering_sowings::served)
        .def_readonly("missed", &covering_sowings::missed)
        .def_readonly("none", &covering_sowings::none)
        .def_property_readonly("successions",
                               [](covering_sowings const& of) { return tables_of(of.successions); })
        .def("__str__", [](covering_sowings const& of) { return to_string(of); });
    m.def("fewest_sowings", &find_fewest, "plan"_a, "climate"_a, "crop"_a, "start"_a, "until"_a,
          "chance"_a, py::call_guard<py::gil_scoped_release>());
}

}  // namespace

void register_stagger(py::module_& m) {
    add_result<staggered_sowing>(m);
    add_result<last_sowing>(m);
    add_result<harvest_week>(m);
    add_result<harvest_gap>(m);
    add_result<equal_gap_sowing>(m);
    register_staggered(m);
    register_fewest(m);
}
