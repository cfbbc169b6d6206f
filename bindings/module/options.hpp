// Options that several classes take, as Python writes them.
#ifndef EPICOTYL_BINDINGS_OPTIONS_HPP
#define EPICOTYL_BINDINGS_OPTIONS_HPP

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include <date/date.h>
#include <pybind11/pybind11.h>

#include <epicotyl/weather/year_selection.hpp>

#include "words.hpp"

namespace epicotyl::bindings {

/// A number of years, a first and a last year, or a word.
using written_years = std::variant<int, std::string, std::pair<int, int>>;
/// Month and day.
using written_month_day = std::pair<unsigned, unsigned>;

[[nodiscard]] inline year_selection years_of(written_years const& written) {
    if (auto const* count = std::get_if<int>(&written)) { return year_selection::latest(*count); }
    if (auto const* pair = std::get_if<std::pair<int, int>>(&written)) {
        return year_selection::between(pair->first, pair->second);
    }
    enum class choice { all };
    static constexpr std::array<std::string_view, 1> words = {"all"};
    (void)enum_of<choice>(std::get<std::string>(written), words, "years");
    return year_selection::all();
}

[[nodiscard]] inline date::month_day month_day_of(written_month_day written) {
    return date::month{written.first} / date::day{written.second};
}

[[nodiscard]] inline written_month_day written(date::month_day of) {
    return {unsigned{of.month()}, unsigned{of.day()}};
}

/// What `make` returns, made without the interpreter's lock: nothing of Python may be touched by
/// it, and no array that another thread could change.
template <class Make>
[[nodiscard]] auto without_lock(Make const& make) {
    pybind11::gil_scoped_release const released;
    return make();
}

}  // namespace epicotyl::bindings

#endif
