// epicotyl: short gaps filled, long gaps told.
//
// A day without a value is not a day without weather. Where few days in a row are missing, the
// value is taken on the straight line between the days on both sides, each element by itself:
//
//     recorded   4.0   NaN   NaN   7.0      filled   4.0   5.0   6.0   7.0
//
// A gap longer than `max_gap` days stays a gap, and so does one at the edge of the record, where
// one side has nothing to start from. Filling is done once on the whole record, before any season
// year is cut from it, so two season years that share a day share its value.
//
// A day whose minimum stands above its maximum counts as a gap in both elements: one of the two is
// wrong, and nothing says which.
#ifndef EPICOTYL_WEATHER_FILLED_RECORD_HPP
#define EPICOTYL_WEATHER_FILLED_RECORD_HPP

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

/// Longest gap filled when nothing else is asked for, in days.
inline constexpr int usual_max_gap = 3;
/// Longest gap that can be asked to be filled, in days.
inline constexpr int longest_max_gap = 31;

/// What a gap is a gap in.
enum class weather_element { minimum, maximum, both };

/// "minimum", "maximum", "minimum and maximum".
[[nodiscard]] constexpr std::string_view to_string(weather_element element) noexcept {
    switch (element) {
        case weather_element::minimum:
            return "minimum";
        case weather_element::maximum:
            return "maximum";
        case weather_element::both:
            break;
    }
    return "minimum and maximum";
}

/// A run of days without a usable value that was not filled.
struct weather_gap {
    weather_element element = weather_element::both;
    day first;             ///< first day without a value
    int length = 0;        ///< days without a value
    bool at_edge = false;  ///< reaches the first or the last day of the record
    int inverted = 0;      ///< days of it that have values, the minimum above the maximum

    friend bool operator==(weather_gap const&, weather_gap const&) = default;
};

/// "no minimum for 12 days from 3 Feb 1936 (gaps of up to 3 days are filled)".
[[nodiscard]] std::string to_sentence(weather_gap const& gap, int max_gap);

class filled_record {
public:
    /// max_gap   longest gap that is filled [days], 0 to 31
    ///
    /// Throws `invalid_input` when `max_gap` is out of range.
    explicit filled_record(daily_record record, int max_gap = usual_max_gap);

    /// The record as it was given.
    [[nodiscard]] daily_record const& record() const noexcept { return record_; }
    [[nodiscard]] int max_gap() const noexcept { return max_gap_; }
    /// Minimum of each day of the record [°C], NaN in the gaps that were not filled.
    [[nodiscard]] std::span<double const> tmin() const noexcept { return tmin_; }
    /// Maximum of each day of the record [°C], NaN in the gaps that were not filled.
    [[nodiscard]] std::span<double const> tmax() const noexcept { return tmax_; }

    /// True when the record has no minimum that can be used on its k-th day.
    [[nodiscard]] bool lacks_minimum(int k) const noexcept;
    /// True when the record has no maximum that can be used on its k-th day.
    [[nodiscard]] bool lacks_maximum(int k) const noexcept;
    /// True when the minimum of the k-th day stands above its maximum.
    [[nodiscard]] bool is_inverted(int k) const noexcept;

    /// Gaps that were not filled, in order of their first day, minimum before maximum.
    [[nodiscard]] std::vector<weather_gap> const& gaps() const noexcept { return gaps_; }

    /// The longest unfilled gap of which a day lies in [from, until), the earliest when several
    /// are equally long; none when every day has its value. A gap that both elements share is
    /// told as one. `element` says whose gaps count.
    [[nodiscard]] std::optional<weather_gap> longest_gap(day from, day until,
                                                         weather_element element) const;

private:
    daily_record record_;
    int max_gap_;
    std::vector<double> tmin_;
    std::vector<double> tmax_;
    std::vector<weather_gap> gaps_;
};

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/weather/impl/filled_record.ipp>
#endif

#endif
