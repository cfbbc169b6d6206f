// Frost: the dates of every year, the chance of a freeze, tables of both, and how far a count
// holds.
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/operators.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/frost/chance_band.hpp>
#include <epicotyl/frost/freeze_answer.hpp>
#include <epicotyl/frost/freeze_dates.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/frost/freeze_table.hpp>
#include <epicotyl/frost/season_halves.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_record.hpp>

#include "casters.hpp"
#include "options.hpp"
#include "register.hpp"
#include "result.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

/// An answer with the day in the year asked for.
struct told_answer {
    std::string state;
    std::optional<double> days = {};
    std::optional<day> date = {};
    std::string text = {};
};

template <>
struct bound<freeze_year> {
    static constexpr char name[] = "FreezeYear";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] = "The freeze dates of the two halves that begin in one year.";
    static auto fields() {
        return std::tuple{
            field{"year", &freeze_year::year, "The year."},
            field{"last", &freeze_year::last,
                  "Last freeze of the cold-to-warm half; None when there was none."},
            field{"first", &freeze_year::first,
                  "First freeze of the warm-to-cold half; None when there was none."},
            field{"last_known", [](freeze_year const& of) { return of.cold_to_warm.used; },
                  "False when the cold-to-warm half is not used: it reaches out of the record, or "
                  "has a gap."},
            field{"first_known", [](freeze_year const& of) { return of.warm_to_cold.used; },
                  "False when the warm-to-cold half is not used."}};
    }
};

template <>
struct bound<frost_free_span> {
    static constexpr char name[] = "FrostFreeSpan";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] =
        "The frost-free days that follow the cold-to-warm half of one year.";
    static auto fields() {
        return std::tuple{
            field{"year", &frost_free_span::year, "The year in which that half begins."},
            field{"length", &frost_free_span::length,
                  "Days strictly between the two freezes; None when one of them did not come."}};
    }
};

template <>
struct bound<freeze_sample> {
    static constexpr char name[] = "FreezeSample";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] = "What chances rest on.";
    static auto fields() {
        return std::tuple{
            field{"years", &freeze_sample::years, "Years used."},
            field{"values", tuple_of(&freeze_sample::values),
                  "Those of them that had a freeze, ascending: days from the half's first day, or "
                  "lengths."},
            field{"mean", &freeze_sample::mean, "Of the values [days]; 0 when there is none."},
            field{"sd", &freeze_sample::sd,
                  "Sample standard deviation [days]; 0 for fewer than two values."}};
    }
};

template <>
struct bound<told_answer> {
    static constexpr char name[] = "FreezeAnswer";
    static constexpr char doc[] =
        "A day, or a number of days, or which none it is; `str` has the cautions below its `text`.";
    static auto fields() {
        return std::tuple{
            field{"state", &told_answer::state,
                  "`dated`: there is one. `no_frost`: too few years have such a night. "
                  "`frost_all_year`: in so many years fewer than 30 days lie between the last "
                  "freeze and the first. `beyond_record`: the years do not reach so far; 30 years "
                  "do not speak of 1 in 100."},
            field{
                "days", &told_answer::days,
                "Of a date, days from the first day of its half; of a season, its length [days]."},
            field{"date", &told_answer::date, "The day in the year asked for; None for a length."},
            field{"text", &told_answer::text,
                  "\"4 May\", \"197 days\", \"none\", \"all year\", \"no frost\" or \"–\"."}};
    }
};

template <>
struct bound<counted_chance> {
    static constexpr char name[] = "CountedChance";
    static constexpr bool is_tuple = true;
    static constexpr char doc[] =
        "A chance counted in years, and the band of true chances that go with the count; `str` is "
        "like `3 of 30 years: 10 %, 2 to 27 % (95 % band)`.";
    static auto fields() {
        return std::tuple{field{"counted", &counted_chance::counted, "Years that had it."},
                          field{"years", &counted_chance::years, "Years looked at."},
                          field{"low", [](counted_chance const& of) { return of.low.value(); },
                                "The least true chance that goes with the count, 0 to 1."},
                          field{"high", [](counted_chance const& of) { return of.high.value(); },
                                "The greatest, 0 to 1."},
                          field{"level", &counted_chance::level, "Confidence of the band."}};
    }
};

}  // namespace epicotyl::bindings

namespace {

/// First and last day of the cold-to-warm half.
using written_halves = std::pair<written_month_day, written_month_day>;
/// (halves, comparison, longest gap filled, years).
using written_options = std::tuple<written_halves, std::string, int, written_years>;
constexpr std::array<std::string_view, 2> estimator_words = {"empirical", "fitted"};

freeze_options options_of(written_options const& written) {
    static constexpr std::array<std::string_view, 2> words = {"at_or_below", "below"};
    auto const& [halves, comparison_word, max_gap, years] = written;
    return {.halves = season_halves{month_day_of(halves.first), month_day_of(halves.second)},
            .counts_when = enum_of<comparison>(comparison_word, words, "comparison"),
            .max_gap = max_gap,
            .years = years_of(years)};
}

temperature threshold_of(double celsius) {
    return said_of("threshold", [&] { return temperature::from_celsius(celsius); });
}

freeze_risk make_risk(daily_record const& record, double threshold, std::string const& estimator,
                      written_options const& written) {
    auto const by = enum_of<freeze_estimator>(estimator, estimator_words, "estimator");
    freeze_options const options = options_of(written);
    temperature const at = threshold_of(threshold);
    return without_lock([&] { return freeze_risk{record, at, by, options}; });
}

freeze_table make_table(daily_record const& record, std::vector<double> const& thresholds,
                        std::vector<double> const& chances, std::string const& estimator,
                        written_options const& written) {
    freeze_table_options options{
        .thresholds = {},
        .chances = {},
        .estimator = enum_of<freeze_estimator>(estimator, estimator_words, "estimator"),
        .freezes = options_of(written)};
    for (double const celsius : thresholds) {
        options.thresholds.push_back(
            said_of("thresholds", [&] { return temperature::from_celsius(celsius); }));
    }
    for (double const share : chances) {
        options.chances.push_back(said_of("chances", [&] { return chance{share}; }));
    }
    return without_lock([&] { return freeze_table{record, options}; });
}

chance chance_of(char const* field, double value) {
    return said_of(field, [&] { return chance{value}; });
}

std::vector<std::string> left_out_of(freeze_risk const& of) {
    std::vector<std::string> all;
    for (left_out_half const& one : of.dates().left_out()) { all.push_back(one.sentence); }
    return all;
}

std::string name_of(freeze_state state) {
    static constexpr std::array<std::string_view, 4> words = {"dated", "no_frost", "frost_all_year",
                                                              "beyond_record"};
    return std::string{words[static_cast<std::size_t>(state)]};
}

/// An answer about a half that begins on a day.
told_answer dated(freeze_answer const& answer, day begin) {
    if (!answer.is_dated()) {
        return {name_of(answer.state), std::nullopt, std::nullopt,
                std::string{to_string(answer.state)}};
    }
    day const on = begin + days{detail::whole_of(std::round(answer.days))};
    return {name_of(answer.state), answer.days, on, to_day_month(on)};
}

/// An answer about the length of a season.
told_answer counted(freeze_answer const& answer) {
    if (answer.is_dated()) {
        return {name_of(answer.state), answer.days, std::nullopt,
                detail::counted(detail::whole_of(std::round(answer.days)), "day")};
    }
    // Of a season, "none" and "all year" would be read as the opposite of what they mean.
    std::string text{to_string(answer.state)};
    if (answer.state == freeze_state::no_frost) { text = "no frost"; }
    if (answer.state == freeze_state::frost_all_year) { text = "0 days"; }
    return {name_of(answer.state), std::nullopt, std::nullopt, text};
}

told_answer last_answer(freeze_risk const& of, double chance_later, int year) {
    return dated(last_freeze_answer(of, chance_of("chance_later", chance_later)),
                 of.dates().options().halves.cold_to_warm(year).begin);
}

told_answer first_answer(freeze_risk const& of, double chance_earlier, int year) {
    return dated(first_freeze_answer(of, chance_of("chance_earlier", chance_earlier)),
                 of.dates().options().halves.warm_to_cold(year).begin);
}

told_answer length_answer(freeze_risk const& of, double chance_longer) {
    return counted(frost_free_answer(of, chance_of("chance_longer", chance_longer)));
}

band_confidence level_of(double level) {
    return said_of("level", [&] { return band_confidence{level}; });
}

/// Days from the begin of the half that holds a day; `half` gives the one that begins in a year.
template <class Half>
double offset_in(day when, Half const& half) {
    int const year{date::year_month_day{when}.year()};
    day_range const span = half(year).holds(when) ? half(year) : half(year - 1);
    return static_cast<double>((when - span.begin).count());
}

counted_chance counted_on_or_after(freeze_risk const& of, day when, double level) {
    (void)of.chance_later(when);  // refuses a day of the other half
    season_halves const& halves = of.dates().options().halves;
    double const offset = offset_in(when, [&](int year) { return halves.cold_to_warm(year); });
    return counted_later(of, offset, level_of(level));
}

counted_chance counted_on_or_before(freeze_risk const& of, day when, double level) {
    (void)of.chance_earlier(when);  // refuses a day of the other half
    season_halves const& halves = of.dates().options().halves;
    double const offset = offset_in(when, [&](int year) { return halves.warm_to_cold(year); });
    return counted_earlier(of, offset, level_of(level));
}

void register_risk(py::module_& m) {
    py::class_<freeze_risk>(m, "FreezeRisk")
        .def(py::init(&make_risk), "record"_a, "threshold"_a, "estimator"_a, "options"_a)
        .def(
            "last_freeze",
            [](freeze_risk const& of, double chance_later, int year) {
                return of.last_freeze(chance_of("chance_later", chance_later), date::year{year});
            },
            "chance_later"_a, "year"_a)
        .def(
            "first_freeze",
            [](freeze_risk const& of, double chance_earlier, int year) {
                return of.first_freeze(chance_of("chance_earlier", chance_earlier),
                                       date::year{year});
            },
            "chance_earlier"_a, "year"_a)
        .def(
            "frost_free_days",
            [](freeze_risk const& of, double chance_longer) {
                return of.frost_free_days(chance_of("chance_longer", chance_longer));
            },
            "chance_longer"_a)
        .def("last_freeze_answer", &last_answer, "chance_later"_a, "year"_a)
        .def("first_freeze_answer", &first_answer, "chance_earlier"_a, "year"_a)
        .def("frost_free_answer", &length_answer, "chance_longer"_a)
        .def(
            "chance_later",
            [](freeze_risk const& of, day when) { return of.chance_later(when).value(); }, "when"_a)
        .def(
            "chance_earlier",
            [](freeze_risk const& of, day when) { return of.chance_earlier(when).value(); },
            "when"_a)
        .def("counted_later", &counted_on_or_after, "when"_a, "level"_a)
        .def("counted_earlier", &counted_on_or_before, "when"_a, "level"_a)
        .def_property_readonly("dates",
                               [](freeze_risk const& of) {
                                   auto const all = of.dates().years();
                                   return std::vector<freeze_year>{all.begin(), all.end()};
                               })
        .def_property_readonly("frost_free",
                               [](freeze_risk const& of) { return of.dates().frost_free(); })
        .def_property_readonly("last_sample", &freeze_risk::last_sample)
        .def_property_readonly("first_sample", &freeze_risk::first_sample)
        .def_property_readonly("frost_free_sample", &freeze_risk::frost_free_sample)
        .def_property_readonly("left_out", &left_out_of)
        .def_property_readonly("warnings", &freeze_risk::warnings)
        .def(py::self == py::self)
        .def("__str__", [](freeze_risk const& of) { return to_string(of); });
}

std::vector<double> celsius_of(std::vector<temperature> const& all) {
    std::vector<double> values;
    for (temperature const one : all) { values.push_back(one.celsius()); }
    return values;
}

std::vector<double> shares_of(std::vector<chance> const& all) {
    std::vector<double> values;
    for (chance const one : all) { values.push_back(one.value()); }
    return values;
}

void register_table(py::module_& m) {
    py::class_<freeze_table>(m, "FreezeTable")
        .def(py::init(&make_table), "record"_a, "thresholds"_a, "chances"_a, "estimator"_a,
             "options"_a)
        .def_property_readonly("risks",
                               [](freeze_table const& of) {
                                   std::vector<freeze_risk> all;
                                   for (freeze_table_row const& row : of.rows()) {
                                       all.push_back(row.risk);
                                   }
                                   return all;
                               })
        .def(
            "to_text",
            [](freeze_table const& of, std::string const& unit) {
                static constexpr std::array<std::string_view, 2> words = {"celsius", "fahrenheit"};
                return to_text(of, enum_of<temperature_unit>(unit, words, "unit"));
            },
            "unit"_a)
        .def(py::self == py::self)
        .def("__str__", [](freeze_table const& of) { return to_text(of); });
    m.def("customary_thresholds", [] { return celsius_of(customary_thresholds()); });
    m.def("customary_chances", [] { return shares_of(customary_chances()); });
}

}  // namespace

void register_frost(py::module_& m) {
    add_result<freeze_year>(m);
    add_result<frost_free_span>(m);
    add_result<freeze_sample>(m);
    add_result<told_answer>(m);
    add_result<counted_chance>(m);
    register_risk(m);
    register_table(m);
    m.def(
        "chance_band",
        [](int counted, int years, double level) {
            return chance_band(counted, years, level_of(level));
        },
        "counted"_a, "years"_a, "level"_a);
    m.def(
        "usual_halves",
        [](double where) {
            season_halves const halves = season_halves::for_latitude(latitude{where});
            return written_halves{written(halves.cold_to_warm_begin()),
                                  written(halves.cold_to_warm_end())};
        },
        "latitude"_a);
}
