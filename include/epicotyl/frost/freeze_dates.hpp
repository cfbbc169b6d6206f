// epicotyl: the freeze dates of every year.
//
// A night freezes when its minimum is at or below a threshold (or below it, when asked so). Of
// every year two dates are kept: the **last** freeze of its cold-to-warm half and the **first** of
// its warm-to-cold half (frost/season_halves.hpp). A half without a freeze has no date, and that is
// an answer: no frost here this year.
//
//     year   last          first         frost-free days between
//     2005   18 Mar 2005   11 Nov 2005   237
//     2006   2 Apr 2006    (none)
//
// A date is only as good as the nights that were seen. Gaps are filled as in a climate
// (weather/filled_record.hpp); a half with a gap that is not filled is **not used**: its freeze
// could lie in it. Halves are judged one by one, and `left_out()` says which and why.
//
// Which years: those of a `year_selection`. The latest n are the latest of which both halves lie
// within the record; `all()` takes every year of which at least one does, so that a record ending
// in autumn still gives its last spring.
//
// Thresholds and rounding: a station that reads whole degrees Fahrenheit, stored in tenths of a
// degree Celsius, needs care (weather/ghcn_daily.hpp says how).
//
// The six thresholds of official tables, -8.9, -6.7, -4.4, -2.2, 0 and 2.2 °C, are 16, 20, 24, 28,
// 32 and 36 °F.
#ifndef EPICOTYL_FROST_FREEZE_DATES_HPP
#define EPICOTYL_FROST_FREEZE_DATES_HPP

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/frost/season_halves.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/filled_record.hpp>
#include <epicotyl/weather/year_selection.hpp>

namespace epicotyl {

/// When a minimum counts as a freeze.
enum class comparison { at_or_below, below };

/// "at or below", "below".
[[nodiscard]] constexpr std::string_view to_string(comparison how) noexcept {
    return how == comparison::at_or_below ? "at or below" : "below";
}

struct freeze_options {
    /// Where the year is parted; the northern halves unless given.
    season_halves halves = {};
    comparison counts_when = comparison::at_or_below;
    /// Longest gap that is filled [days], 0 to 31.
    int max_gap = usual_max_gap;
    /// Which years are asked for.
    year_selection years = {};

    friend bool operator==(freeze_options const&, freeze_options const&) = default;
};

/// One half of one year.
struct freeze_half {
    day_range span;             ///< the days of the half
    bool used = false;          ///< false: it reaches out of the record, or has an unfilled gap
    int missing = 0;            ///< days of the half without a minimum of their own
    std::optional<day> freeze;  ///< the last or the first freeze; none when there was none

    friend bool operator==(freeze_half const&, freeze_half const&) = default;
};

/// The two halves that begin in one year.
struct freeze_year {
    int year = 0;
    freeze_half cold_to_warm;
    freeze_half warm_to_cold;

    /// Last freeze of the cold-to-warm half.
    [[nodiscard]] std::optional<day> last() const noexcept { return cold_to_warm.freeze; }
    /// First freeze of the warm-to-cold half.
    [[nodiscard]] std::optional<day> first() const noexcept { return warm_to_cold.freeze; }

    friend bool operator==(freeze_year const&, freeze_year const&) = default;
};

/// The frost-free days that follow a cold-to-warm half that was used, when the half after it was
/// used too.
struct frost_free_span {
    int year = 0;               ///< the year in which the cold-to-warm half begins
    std::optional<int> length;  ///< days strictly between two freezes; none when one did not come

    friend bool operator==(frost_free_span const&, frost_free_span const&) = default;
};

/// A half that was asked for and is not used.
struct left_out_half {
    int year = 0;               ///< the year in which it begins
    bool cold_to_warm = false;  ///< which of the two
    day first;                  ///< first day without a value
    int length = 0;             ///< days without a value
    std::string sentence;       ///< "2008, 1 Aug – 31 Dec: no minimum for 22 days from ..."

    friend bool operator==(left_out_half const&, left_out_half const&) = default;
};

class freeze_dates {
public:
    /// threshold   a night at or below it is a freeze
    ///
    /// Throws `invalid_input` when the longest gap is out of range, or no half can be used.
    freeze_dates(daily_record const& record, temperature threshold,
                 freeze_options const& options = {});

    /// The years asked for, ascending.
    [[nodiscard]] std::span<freeze_year const> years() const noexcept { return years_; }
    /// Halves that are not used, ascending, the cold-to-warm half of a year first.
    [[nodiscard]] std::vector<left_out_half> const& left_out() const noexcept { return left_out_; }
    [[nodiscard]] temperature threshold() const noexcept { return threshold_; }
    [[nodiscard]] freeze_options const& options() const noexcept { return options_; }
    /// The station; may be empty.
    [[nodiscard]] std::string const& name() const noexcept { return name_; }

    /// Last freeze of every cold-to-warm half used, as days from the half's first day; none where
    /// no freeze came.
    [[nodiscard]] std::vector<std::optional<int>> last_offsets() const;
    /// First freeze of every warm-to-cold half used, as days from the half's first day; none where
    /// no freeze came.
    [[nodiscard]] std::vector<std::optional<int>> first_offsets() const;
    /// Days strictly between the last freeze of a cold-to-warm half and the first of the half after
    /// it (first - last - 1), for every such pair that was used.
    [[nodiscard]] std::vector<frost_free_span> frost_free() const;

    friend bool operator==(freeze_dates const&, freeze_dates const&) = default;

private:
    std::string name_;
    temperature threshold_;
    freeze_options options_;
    std::vector<freeze_year> years_;
    std::vector<left_out_half> left_out_;
};

/// "Marlpit: nights at or below 0.0 °C, 1981 – 2010".
[[nodiscard]] std::string to_string(freeze_dates const& dates);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/frost/impl/freeze_dates.ipp>
#endif

#endif
