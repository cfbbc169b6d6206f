// epicotyl: a station's daily record.
//
// A record holds one lowest and one highest air temperature for every day from its first day to
// its last, in degrees Celsius, without holes in the calendar: a day on which the station wrote
// nothing is there with NaN. The two elements have gaps of their own.
//
//     start() = 2 Jan 1925                                    end() = 1 Mar 2019 (exclusive)
//     tmin():   -10.6   -15.6   NaN   ...                     size() = end() - start(), in days
//     tmax():     0.0     0.0  -0.6   ...
//
// A record never judges what it holds: a minimum above its maximum stays as the station wrote it,
// and becomes a gap only where the record is used (weather/filled_record.hpp). Only infinities are
// refused, because no later sum survives one.
//
// A record of a station is what the station wrote. One that was made otherwise, drawn by the
// generator or shifted, says so in its `origin`, and everything cut from it repeats that.
//
// Records are immutable. A copy shares the numbers of the original and costs no more than a
// pointer. Equality compares what is held: a gap equals a gap, whatever the bits of its NaN.
#ifndef EPICOTYL_WEATHER_DAILY_RECORD_HPP
#define EPICOTYL_WEATHER_DAILY_RECORD_HPP

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

class daily_record {
public:
    /// A record whose element k is the day `start` + k.
    ///
    /// start   first day
    /// tmin    lowest temperature of each day [°C], NaN where there is none
    /// tmax    highest temperature of each day [°C], NaN where there is none
    /// name    the station, for messages and tables; may be empty
    /// origin  how the values were made, "made from normals"; empty when they were measured
    ///
    /// Throws `invalid_input` when the two differ in length, hold no day, or hold an infinity.
    daily_record(day start, std::vector<double> tmin, std::vector<double> tmax,
                 std::string name = "", std::string origin = "") {
        if (tmin.size() != tmax.size()) {
            throw invalid_input{
                {.code = "weather.sizes_differ",
                 .field = "tmin, tmax",
                 .value = detail::text(tmin.size(), ", ", tmax.size()),
                 .problem =
                     detail::text(tmin.size(), " minima stand against ", tmax.size(), " maxima"),
                 .remedy = "give one of each for every day, NaN where there is none"}};
        }
        if (tmin.empty()) {
            throw invalid_input{{.code = "weather.no_days",
                                 .field = "tmin, tmax",
                                 .value = "0",
                                 .bound = "1 or more",
                                 .unit = "days",
                                 .problem = "the record holds no day",
                                 .remedy = "give one minimum and one maximum for every day"}};
        }
        refuse_infinities(start, tmin, "tmin");
        refuse_infinities(start, tmax, "tmax");
        int gaps = 0;
        bool inside = false;
        for (std::size_t i = 0; i < tmin.size(); ++i) {
            bool const missing = std::isnan(tmin[i]) || std::isnan(tmax[i]);
            gaps += missing && !inside ? 1 : 0;
            inside = missing;
        }
        held_ = std::make_shared<contents const>(contents{
            start, std::move(tmin), std::move(tmax), std::move(name), std::move(origin), gaps});
    }

    /// First day.
    [[nodiscard]] day start() const noexcept { return held_->start; }
    /// The day after the last.
    [[nodiscard]] day end() const noexcept { return start() + days{size()}; }
    /// Number of days, 1 or more.
    [[nodiscard]] int size() const noexcept { return static_cast<int>(held_->tmin.size()); }
    /// Lowest temperature of each day [°C]; NaN is a gap.
    [[nodiscard]] std::span<double const> tmin() const noexcept { return held_->tmin; }
    /// Highest temperature of each day [°C]; NaN is a gap.
    [[nodiscard]] std::span<double const> tmax() const noexcept { return held_->tmax; }
    /// The station; may be empty.
    [[nodiscard]] std::string const& name() const noexcept { return held_->name; }
    /// How the values were made; empty when they were measured.
    [[nodiscard]] std::string const& origin() const noexcept { return held_->origin; }
    /// Runs of days on which the minimum, the maximum or both are missing.
    [[nodiscard]] int gaps() const noexcept { return held_->gaps; }

    /// True from `start()` to the day before `end()`.
    [[nodiscard]] bool holds(day d) const noexcept { return start() <= d && d < end(); }
    /// Place of a day in `tmin()` and `tmax()`; outside 0 ... size() - 1 when not held.
    [[nodiscard]] int index_of(day d) const noexcept {
        return static_cast<int>((d - start()).count());
    }

    friend bool operator==(daily_record const& a, daily_record const& b) noexcept {
        return a.held_ == b.held_ ||
               (a.start() == b.start() && a.name() == b.name() && a.origin() == b.origin() &&
                same(a.held_->tmin, b.held_->tmin) && same(a.held_->tmax, b.held_->tmax));
    }

private:
    struct contents {
        day start;
        std::vector<double> tmin;
        std::vector<double> tmax;
        std::string name;
        std::string origin;
        int gaps;
    };

    static void refuse_infinities(day start, std::vector<double> const& values, char const* field) {
        auto const found = std::find_if(values.begin(), values.end(),
                                        [](double value) { return std::isinf(value); });
        if (found == values.end()) { return; }
        day const on = start + days{static_cast<int>(found - values.begin())};
        throw invalid_input{
            {.code = "weather.not_finite",
             .field = field,
             .value = detail::text(*found),
             .unit = "°C",
             .problem = detail::text(*found, " on ", to_iso(on), " is not a temperature"),
             .remedy = "give NaN for a value that is missing"}};
    }

    static bool same(std::vector<double> const& a, std::vector<double> const& b) noexcept {
        return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](double x, double y) {
            return x == y || (std::isnan(x) && std::isnan(y));
        });
    }

    std::shared_ptr<contents const> held_;
};

namespace detail {

/// "1 Jan 1925 – 28 Feb 2019": both days are included.
[[nodiscard]] inline std::string to_period(day first, day last) {
    return detail::text(to_day_month_year(first), " – ", to_day_month_year(last));
}

/// "1 day", "12 days".
[[nodiscard]] inline std::string counted(int count, std::string const& thing) {
    return detail::text(count, " ", thing, count == 1 ? "" : "s");
}

}  // namespace detail

/// "Marlpit, 2 Jan 1925 – 28 Feb 2019, 12 gaps", and the origin when there is one.
[[nodiscard]] inline std::string to_string(daily_record const& record) {
    std::string const gaps = record.gaps() == 0 ? "no gaps" : detail::counted(record.gaps(), "gap");
    return detail::text(record.name(), record.name().empty() ? "" : ", ",
                        detail::to_period(record.start(), record.end() - days{1}), ", ", gaps,
                        record.origin().empty() ? "" : "; ", record.origin());
}

}  // namespace epicotyl

#endif
