// epicotyl: a climate is a set of season years.
//
// A plan asks: on which day, and how sure are we? The climate answers with weather that happened.
// From a station's record it cuts **season years**: runs of `season_days` days that begin on the
// same month and day, one for every year asked for. Day k of a plan meets day k of each of them,
// and "1 year in 10" means one in ten of these years.
//
//     season_start 1 Jan, season_days 550
//
//     record     |1990 . . . . . |1991 . . . . . |1992 . . . . . |1993 . . .
//     year 1990  [-- day 0 ... day 549 --)
//     year 1991                  [-- day 0 ... day 549 --)
//
// Season years overlap when they are longer than a year: a sown year and the spring after it. A
// season year is named by the year in which it begins. Nothing is dropped in a leap year: 29
// February is a day like others, and the days after it come one place later.
//
// Which years: by default the latest 30 whose whole run lies within the record. Among these, one
// with a gap that cannot be filled (weather/filled_record.hpp) is **left out**, and the climate
// says which and why; no earlier year takes its place. The numbers of a season year are those of
// the filled record, so years that overlap agree on the days they share.
//
// A filled minimum may stand above a measured maximum, because each element is filled by itself;
// what uses the pair decides what that means.
//
// **What if.** Other climates are made from one, each a new object that says what was done to it:
//
//     climate.shifted(temperature_span::from_kelvin(2.0))   // every day warmer by 2 K
//     climate.only({1998, 2010, 2016})                      // some of its season years
//     climate.given(observed, forecast)                     // this season so far, then each year
//
// `given` is for the middle of a season. The first days of every season year become those observed
// since the season's start, the next ones those of the forecast, and each year goes on with its own
// weather from there; the spread of the results is then what the rest of the season may bring.
// Season years so changed no longer agree on the days they share.
//
// Climates are immutable. A copy shares the numbers of the original and costs no more than a
// pointer.
#ifndef EPICOTYL_WEATHER_CLIMATE_HPP
#define EPICOTYL_WEATHER_CLIMATE_HPP

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <date/date.h>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/derived_slot.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/filled_record.hpp>
#include <epicotyl/weather/year_selection.hpp>

namespace epicotyl {

struct climate_options {
    /// First day of every season year; none: 1 January at latitude >= 0, 1 July below.
    std::optional<date::month_day> season_start = {};
    /// Days of a season year, 1 to 1500.
    int season_days = usual_season;
    /// Longest gap that is filled [days], 0 to 31.
    int max_gap = usual_max_gap;
    /// Which years are asked for.
    year_selection years = {};

    friend bool operator==(climate_options const&, climate_options const&) = default;
};

/// A year that was asked for and cannot be used.
struct left_out_year {
    int year = 0;
    weather_element element = weather_element::both;  ///< what is missing
    day first;                                        ///< first day without a value
    int length = 0;                                   ///< days without a value
    std::string sentence;                             ///< "1936: no minimum for 12 days from ..."

    friend bool operator==(left_out_year const&, left_out_year const&) = default;
};

/// Days of the season years that had no value of their own; a day of two season years counts once.
struct filled_days {
    int minimum = 0;   ///< days whose minimum was filled
    int maximum = 0;   ///< days whose maximum was filled
    int inverted = 0;  ///< those of them that had a minimum above its maximum

    friend bool operator==(filled_days const&, filled_days const&) = default;
};

class climate {
public:
    /// Cuts season years from a record.
    ///
    /// record   the station
    /// site     latitude of the place [degrees north]; sets the usual season start
    ///
    /// Throws `invalid_input` when season start, season length or longest gap are out of range,
    /// when the season is to start on 29 February, and when no season year can be used (it names
    /// the longest gap).
    explicit climate(daily_record const& record, latitude site,
                     climate_options const& options = {});

    /// The same climate with every day warmer (colder when negative) by a span. The record is
    /// shifted and then cut as before, so gaps and years are the same. Days that were `given`
    /// have happened and stay as they are. A shift of 0 K is no shift. The origin tells the span in
    /// these units.
    [[nodiscard]] climate shifted(temperature_span by,
                                  unit_system units = unit_system::metric) const;
    /// The same with a span for each month, January first, for all the days of that month: the
    /// spans are not smoothed, so a step may stand between two months.
    [[nodiscard]] climate shifted(std::array<temperature_span, 12> const& by_month,
                                  unit_system units = unit_system::metric) const;

    /// The climate of some of its season years; the order of `chosen` does not matter. Years left
    /// out for their gaps stay listed.
    ///
    /// Throws `invalid_input` when no year is named, when one is named twice, or when one is not
    /// among `years()`.
    [[nodiscard]] climate only(std::vector<int> chosen) const;

    /// The climate of a season that has begun: the first days of every season year are the
    /// observed ones, then those of the forecast, and the rest is the year's own. Days are met by
    /// their number from the season's start. What was given before is given up.
    ///
    /// observed   this season, from its first day (the month and day of `season_start()`)
    /// forecast   the days after it, beginning on the day after the last one observed
    ///
    /// Both are joined; gaps of up to `max_gap()` days are filled as in a record, so one at the
    /// end of what was observed needs a forecast to end in. Throws `invalid_input` when either
    /// begins on another day, when they overlap or leave days out between them, when together they
    /// are longer than a season year, or when a gap cannot be filled.
    [[nodiscard]] climate given(daily_record const& observed,
                                std::optional<daily_record> const& forecast = {}) const;

    /// The season years, ascending, each named by the year in which it begins.
    [[nodiscard]] std::span<int const> years() const noexcept { return held_->years; }
    /// Number of season years, 1 or more.
    [[nodiscard]] int size() const noexcept { return static_cast<int>(held_->years.size()); }
    /// Years asked for that cannot be used, ascending.
    [[nodiscard]] std::vector<left_out_year> const& left_out() const noexcept {
        return held_->left_out;
    }

    /// Minima of the i-th season year [°C]: `season_days()` values, none missing.
    [[nodiscard]] std::span<double const> tmin(int i) const noexcept {
        return run_of(held_->tmin, i);
    }
    /// Maxima of the i-th season year [°C]: `season_days()` values, none missing.
    [[nodiscard]] std::span<double const> tmax(int i) const noexcept {
        return run_of(held_->tmax, i);
    }
    /// The days of the i-th season year.
    [[nodiscard]] season season_of(int i) const;

    [[nodiscard]] date::month_day season_start() const noexcept { return held_->season_start; }
    [[nodiscard]] int season_days() const noexcept { return held_->season_days; }
    [[nodiscard]] latitude site_latitude() const noexcept { return held_->site; }
    /// The record that the years are cut from, gaps and all; of a shifted climate the shifted one.
    [[nodiscard]] daily_record const& record() const noexcept { return held_->record; }
    /// True when `only` chose among the season years of another climate.
    [[nodiscard]] bool is_chosen() const noexcept { return held_->chosen; }
    /// This season as `given`; none when it was not.
    [[nodiscard]] std::optional<daily_record> const& observed() const noexcept {
        return held_->observed;
    }
    /// The forecast `given` with it; none when there was none.
    [[nodiscard]] std::optional<daily_record> const& forecast() const noexcept {
        return held_->forecast;
    }
    /// Longest gap that was filled [days].
    [[nodiscard]] int max_gap() const noexcept { return held_->max_gap; }
    /// How many days were filled.
    [[nodiscard]] filled_days filled() const noexcept { return held_->filled; }

    /// What a reader of the results should know: few season years; values that contradict each
    /// other.
    [[nodiscard]] std::vector<std::string> const& warnings() const noexcept {
        return held_->warnings;
    }
    /// In what these are not simply the years of a station: "made from normals; shifted by +2 K;
    /// only chosen years; observed to 14 Apr 2026, forecast to 21 Apr 2026". Empty when they are.
    /// Dates stand in the order of the units.
    [[nodiscard]] std::string origin(unit_system units = unit_system::metric) const;
    /// One line for every sheet: "28 season years, 1989 – 2018; 2 left out (1994, 2003)", followed
    /// by the origin when there is one.
    [[nodiscard]] std::string year_note(unit_system units = unit_system::metric) const;

    /// Room for what is worked out from these season years.
    [[nodiscard]] detail::derived_slot const& derived() const noexcept { return held_->derived; }

    friend bool operator==(climate const& a, climate const& b) noexcept {
        return a.held_ == b.held_ || *a.held_ == *b.held_;
    }

private:
    struct contents {
        daily_record record;
        latitude site;
        date::month_day season_start;
        int season_days;
        int max_gap;
        std::vector<int> years;
        std::vector<left_out_year> left_out;
        bool chosen = false;
        std::optional<daily_record> observed = {};
        std::optional<daily_record> forecast = {};
        std::vector<double> tmin;  // year after year, season_days values each
        std::vector<double> tmax;
        filled_days filled;
        std::vector<std::string> warnings;
        detail::derived_slot derived = {};

        friend bool operator==(contents const&, contents const&) = default;
    };

    [[nodiscard]] std::span<double const> run_of(std::vector<double> const& values,
                                                 int i) const noexcept {
        auto const length = static_cast<std::size_t>(season_days());
        return std::span{values}.subspan(static_cast<std::size_t>(i) * length, length);
    }

    explicit climate(contents made) : held_{std::make_shared<contents const>(std::move(made))} {}

    /// What follows from the record, the years and what was given: numbers, fillings, warnings.
    static void lay_out(contents& of);

    std::shared_ptr<contents const> held_;
};

/// The season start used when none is asked for: 1 January at latitude >= 0, 1 July below.
[[nodiscard]] date::month_day usual_season_start(latitude site) noexcept;

/// "Marlpit: 28 season years, 1989 – 2018; 2 left out (1994, 2003)".
[[nodiscard]] std::string to_string(climate const& of, unit_system units = unit_system::metric);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/weather/impl/climate.ipp>
#endif

#endif
