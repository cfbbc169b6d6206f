// epicotyl: the two halves of a year.
//
// "The last frost" and "the first frost" need a line between them. The **cold-to-warm half** runs
// from midwinter to after the coldest possible spring night; its last freeze is the last frost.
// The **warm-to-cold half** is the rest of the year; its first freeze is the first frost. The usual
// lines are
//
//     north   cold to warm  1 Jan – 31 Jul      warm to cold  1 Aug – 31 Dec
//     south   cold to warm  1 Jul – 31 Jan      warm to cold  1 Feb – 30 Jun
//
// **A half belongs to the year in which it begins.** In the south the cold-to-warm half of 2026 is
// therefore 1 July 2026 – 31 January 2027, and the warm-to-cold half of 2026, 1 February – 30 June
// 2026, comes before it.
//
// Days within a half are counted from its first day, as offset 0. In a leap year the days after 29
// February have an offset one greater, as everywhere in this library.
#ifndef EPICOTYL_FROST_SEASON_HALVES_HPP
#define EPICOTYL_FROST_SEASON_HALVES_HPP

#include <string>

#include <date/date.h>

#include <epicotyl/days.hpp>
#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// A run of days, `end` excluded.
struct day_range {
    day begin;
    day end;

    [[nodiscard]] int length() const noexcept { return static_cast<int>((end - begin).count()); }
    [[nodiscard]] bool holds(day d) const noexcept { return begin <= d && d < end; }
    friend bool operator==(day_range const&, day_range const&) = default;
};

class season_halves {
public:
    /// The northern halves: cold to warm from 1 January to 31 July.
    season_halves() : season_halves{date::January / 1, date::July / 31} {}

    /// cold_to_warm_begin   first day of the cold-to-warm half
    /// cold_to_warm_end     its last day; the day after it begins the warm-to-cold half
    ///
    /// Throws `invalid_input` for a day that some year lacks (29 February, 31 April), and when
    /// nothing is left for the other half.
    season_halves(date::month_day cold_to_warm_begin, date::month_day cold_to_warm_end)
        : begin_{cold_to_warm_begin}, end_{cold_to_warm_end} {
        detail::require_yearly(begin_, "cold_to_warm_begin", "the first day of a half");
        detail::require_yearly(end_, "cold_to_warm_end", "the last day of a half");
        // Both kinds of year are looked at: 28 February and 1 March leave a half of one day in
        // leap years only.
        for (int const year : {2023, 2024}) {
            day const next = cold_to_warm(year).end;
            if (cold_to_warm(year + 1).begin <= next) {
                std::string const written =
                    detail::text(detail::to_day_month(begin_), " – ", detail::to_day_month(end_));
                throw invalid_input{
                    {.code = "season_halves.whole_year",
                     .field = "cold_to_warm_begin, cold_to_warm_end",
                     .value = written,
                     .problem = detail::text(written, " leaves no day for the warm-to-cold half"),
                     .remedy = "1 Jan – 31 Jul is usual in the north, 1 Jul – 31 Jan in the "
                               "south"}};
            }
        }
    }

    /// 1 January – 31 July at latitude >= 0, 1 July – 31 January below.
    [[nodiscard]] static season_halves for_latitude(latitude site) {
        return site.value() >= 0.0 ? season_halves{}
                                   : season_halves{date::July / 1, date::January / 31};
    }

    [[nodiscard]] date::month_day cold_to_warm_begin() const noexcept { return begin_; }
    /// Last day of the cold-to-warm half.
    [[nodiscard]] date::month_day cold_to_warm_end() const noexcept { return end_; }

    /// The cold-to-warm half that begins in a year.
    [[nodiscard]] day_range cold_to_warm(int year) const {
        day const begin = detail::day_in_year(year, begin_);
        day const last = detail::day_in_year(year, end_);
        return {begin, (last >= begin ? last : detail::day_in_year(year + 1, end_)) + days{1}};
    }
    /// The warm-to-cold half that begins in a year.
    [[nodiscard]] day_range warm_to_cold(int year) const {
        day begin = detail::day_in_year(year, end_) + days{1};
        // After 31 December comes the next year.
        if (detail::year_of(begin) > year) {
            begin = detail::day_in_year(year - 1, end_) + days{1};
        }
        day const end = detail::day_in_year(year, begin_);
        return {begin, end > begin ? end : detail::day_in_year(year + 1, begin_)};
    }

    friend bool operator==(season_halves const&, season_halves const&) = default;

private:
    date::month_day begin_;
    date::month_day end_;
};

/// "cold to warm 1 Jan – 31 Jul".
[[nodiscard]] inline std::string to_string(season_halves const& halves) {
    return detail::text("cold to warm ", detail::to_day_month(halves.cold_to_warm_begin()), " – ",
                        detail::to_day_month(halves.cold_to_warm_end()));
}

}  // namespace epicotyl

#endif
