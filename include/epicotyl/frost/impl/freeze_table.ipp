// epicotyl: the table of frost dates.
#ifndef EPICOTYL_FROST_IMPL_FREEZE_TABLE_IPP
#define EPICOTYL_FROST_IMPL_FREEZE_TABLE_IPP

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/cautions.hpp>
#include <epicotyl/detail/whole.hpp>
#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/freeze_table.hpp>

namespace epicotyl {

namespace detail::freeze_table_parts {

// A common year followed by another, so that halves that run over New Year have no 29 February.
inline constexpr int year_of_halves = 2022;

// Half a tenth of a degree Celsius, in °F: what storing a reading in tenths of °C can do to it.
inline constexpr double stored_tenth = 0.09;

[[nodiscard]] EPICOTYL_INLINE std::string written(temperature threshold, temperature_unit unit) {
    if (unit == temperature_unit::celsius) { return fmt::format("{:.1f}", threshold); }
    double const value = threshold.fahrenheit();
    double const whole = std::round(value);
    return std::abs(value - whole) <= stored_tenth ? fmt::format("{:.0f} °F", whole)
                                                   : fmt::format("{:.1f} °F", value);
}

[[nodiscard]] EPICOTYL_INLINE std::string written(chance share) {
    double const tenths = 10.0 * share.value();
    double const whole = std::round(tenths);
    return std::abs(tenths - whole) < 1e-9 ? fmt::format("{:.0f} in 10", whole)
                                           : fmt::format("{:g} %", 100.0 * share.value());
}

[[nodiscard]] EPICOTYL_INLINE std::string dated(freeze_answer const& answer, day begin,
                                                unit_system units) {
    if (!answer.is_dated()) { return std::string{to_string(answer.state)}; }
    return epicotyl::to_day_month(begin + days{detail::whole_of(std::round(answer.days))}, units);
}

[[nodiscard]] EPICOTYL_INLINE std::string counted(freeze_answer const& answer) {
    switch (answer.state) {
        case freeze_state::dated:
            return fmt::format("{}", detail::whole_of(std::round(answer.days)));
        // Of a season, "none" and "all year" would be read as the opposite of what they mean.
        case freeze_state::no_frost:
            return "no frost";
        case freeze_state::frost_all_year:
            return "0";
        case freeze_state::beyond_record:
            break;
    }
    return std::string{to_string(answer.state)};
}

/// Cells of a part of the sheet, aligned to the right under their chances.
EPICOTYL_INLINE void append_part(std::string& text, std::string_view heading,
                                 freeze_table const& table, std::vector<std::string> const& names,
                                 std::vector<std::vector<std::string>> const& cells) {
    constexpr int name_width = 10;
    constexpr int cell_width = 10;
    constexpr std::size_t most_cells = 9;  // of a page of 100 columns
    auto const to = std::back_inserter(text);
    fmt::format_to(to, "\n{}\n", heading);
    std::vector<chance> const& chances = table.chances();
    for (std::size_t first = 0; first < chances.size(); first += most_cells) {
        std::size_t const end = std::min(first + most_cells, chances.size());
        fmt::format_to(to, "{}{:{}}", first == 0 ? "" : "\n", "", name_width);
        for (std::size_t c = first; c < end; ++c) {
            fmt::format_to(to, "{:>{}}", written(chances[c]), cell_width);
        }
        text += '\n';
        for (std::size_t r = 0; r < cells.size(); ++r) {
            fmt::format_to(to, "{:>{}}", names[r], name_width);
            for (std::size_t c = first; c < end; ++c) {
                fmt::format_to(to, "{:>{}}", cells[r][c], cell_width);
            }
            text += '\n';
        }
    }
}

[[nodiscard]] EPICOTYL_INLINE std::string title_of(freeze_table const& table) {
    freeze_dates const& dates = table.rows().front().risk.dates();
    int const from = dates.years().front().year;
    int const until = dates.years().back().year;
    int const count = table.rows().front().risk.last_sample().years;
    return fmt::format(
        "{}{}nights {} a threshold, {}, {} {}, {}\n", dates.name(),
        dates.name().empty() ? "" : ": ", to_string(dates.options().counts_when),
        from == until ? fmt::format("{}", from) : fmt::format("{} – {}", from, until), count,
        count == 1 ? "year" : "years", to_string(table.options().estimator));
}

/// What the words in the cells mean; only of those that occur.
EPICOTYL_INLINE void append_meanings(std::string& text, freeze_table const& table) {
    auto const occurs = [](freeze_state state, std::vector<freeze_answer> const& answers) {
        return std::any_of(answers.begin(), answers.end(),
                           [&](freeze_answer const& answer) { return answer.state == state; });
    };
    auto const any_row = [&](auto const& of_row) {
        return std::any_of(table.rows().begin(), table.rows().end(), of_row);
    };
    std::string lines;
    if (any_row([&](freeze_table_row const& row) {
            return occurs(freeze_state::no_frost, row.last) ||
                   occurs(freeze_state::no_frost, row.first);
        })) {
        lines += "none: fewer years than that have such a night\n";
    }
    if (any_row([&](freeze_table_row const& row) {
            return occurs(freeze_state::no_frost, row.frost_free);
        })) {
        lines += "no frost: as many years lack one of the two freezes\n";
    }
    if (any_row([&](freeze_table_row const& row) {
            return occurs(freeze_state::frost_all_year, row.last) ||
                   occurs(freeze_state::frost_all_year, row.first);
        })) {
        fmt::format_to(std::back_inserter(lines),
                       "all year: in as many years fewer than {} days lie between the two\n",
                       shortest_season);
    }
    if (any_row([&](freeze_table_row const& row) {
            return occurs(freeze_state::beyond_record, row.last) ||
                   occurs(freeze_state::beyond_record, row.first) ||
                   occurs(freeze_state::beyond_record, row.frost_free);
        })) {
        lines += "–: the years of the record do not reach so far\n";
    }
    if (!lines.empty()) { text += '\n' + lines; }
}

EPICOTYL_INLINE void require_some(bool some, char const* field, char const* remedy) {
    if (some) { return; }
    throw invalid_input{{.code = "freeze_table.empty",
                         .field = field,
                         .value = "0",
                         .bound = "1 or more",
                         .problem = fmt::format("no {} are given", field),
                         .remedy = remedy}};
}

}  // namespace detail::freeze_table_parts

EPICOTYL_INLINE std::vector<temperature> customary_thresholds() {
    std::vector<temperature> thresholds;
    for (double const celsius : {2.2, 0.0, -2.2, -4.4, -6.7, -8.9}) {
        thresholds.push_back(temperature::from_celsius(celsius));
    }
    return thresholds;
}

EPICOTYL_INLINE std::vector<chance> customary_chances() {
    std::vector<chance> chances;
    for (int tenths = 1; tenths <= 9; ++tenths) { chances.emplace_back(tenths / 10.0); }
    return chances;
}

EPICOTYL_INLINE freeze_table::freeze_table(daily_record const& record, freeze_table_options options)
    : options_{std::move(options)} {
    detail::freeze_table_parts::require_some(!options_.thresholds.empty(), "thresholds",
                                             "0 °C is the usual one");
    detail::freeze_table_parts::require_some(!options_.chances.empty(), "chances",
                                             "0.5 is the usual year");
    for (temperature const threshold : options_.thresholds) {
        freeze_table_row row{
            .risk = freeze_risk{record, threshold, options_.estimator, options_.freezes}};
        for (chance const share : options_.chances) {
            row.last.push_back(last_freeze_answer(row.risk, share));
            row.first.push_back(first_freeze_answer(row.risk, share));
            row.frost_free.push_back(frost_free_answer(row.risk, share));
        }
        rows_.push_back(std::move(row));
    }
}

EPICOTYL_INLINE std::string to_text(freeze_table const& table, temperature_unit unit) {
    unit_system const units =
        unit == temperature_unit::celsius ? unit_system::metric : unit_system::us;
    season_halves const& halves = table.options().freezes.halves;
    day const spring = halves.cold_to_warm(detail::freeze_table_parts::year_of_halves).begin;
    day const autumn = halves.warm_to_cold(detail::freeze_table_parts::year_of_halves).begin;

    std::vector<std::string> names;
    std::vector<std::vector<std::string>> last;
    std::vector<std::vector<std::string>> first;
    std::vector<std::vector<std::string>> lengths;
    for (freeze_table_row const& row : table.rows()) {
        names.push_back(detail::freeze_table_parts::written(row.risk.dates().threshold(), unit));
        auto& spring_cells = last.emplace_back();
        for (freeze_answer const& one : row.last) {
            spring_cells.push_back(detail::freeze_table_parts::dated(one, spring, units));
        }
        auto& autumn_cells = first.emplace_back();
        for (freeze_answer const& one : row.first) {
            autumn_cells.push_back(detail::freeze_table_parts::dated(one, autumn, units));
        }
        auto& length_cells = lengths.emplace_back();
        for (freeze_answer const& one : row.frost_free) {
            length_cells.push_back(detail::freeze_table_parts::counted(one));
        }
    }

    std::string text = detail::freeze_table_parts::title_of(table);
    detail::freeze_table_parts::append_part(
        text, "Last freeze: years in 10 with a freeze on or after the day", table, names, last);
    detail::freeze_table_parts::append_part(
        text, "First freeze: years in 10 with a freeze on or before the day", table, names, first);
    detail::freeze_table_parts::append_part(
        text, "Frost-free days between the two: years in 10 with as many or more", table, names,
        lengths);
    detail::freeze_table_parts::append_meanings(text, table);
    text +=
        "\nLaid out as the freeze/frost probability tables of the U.S. Climate Normals (NOAA "
        "NCEI);\n"
        "the days are worked out from the record named above.\n";
    text += '\n' + cautions_text(told_by::freeze_table, unit == temperature_unit::fahrenheit
                                                            ? unit_system::us
                                                            : unit_system::metric);
    return text;
}

}  // namespace epicotyl

#endif
