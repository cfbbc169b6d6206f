// epicotyl: the chance of a freeze, and the day for a chance.
//
// **The direction is in the name.** `last_freeze(chance_later)` is the day on or after which a
// freeze of the cold-to-warm half still comes with that chance: a small chance gives a late, safe
// day. `first_freeze(chance_earlier)` is the day on or before which one comes with that chance: a
// small chance gives an early, safe day.
//
//     last_freeze(chance{0.1})    12 Apr: 1 year in 10 freezes on that day or later
//     last_freeze(chance{0.5})    29 Mar: the usual day
//     last_freeze(chance{0.9})    18 Mar: 9 years in 10 freeze on that day or later
//
// Official tables use the same sense and often put the chance into the name: a "90 %" spring date
// is the *early* one. (Readme of the supplemental 1981-2010 normals [ncei2011]: probability of the
// last freeze "on the date or later", of the first "on the date or earlier".)
//
// A year without a freeze is not dropped: it stands before all last dates and after all first
// dates. So where 3 years in 10 have none, no day has a chance of 0.8 to see a later freeze, and
// the answer is none.
//
// Two estimators, with n years of which k had a freeze, q = k / n:
//
// - `empirical`: the years in order, the i-th at i / (n + 1) [weibull1939], a straight line between
//   neighbours. No day for a chance beyond the first or the last of n, or beside a year without a
//   freeze: 30 years do not speak of 1 in 100.
// - `fitted`: a normal distribution F, with the mean and the sample standard deviation of the k
//   dates, mixed with the share of years that had one: chance(freeze on or after d) = q (1 - F(d)),
//   and no day when the chance is q or more. This is the method of Climatography of the United
//   States No. 20, which rests on Thom and Shaw [thom1958] (from memory); it smooths 30 years and
//   reaches beyond them, at the price of a belief in the normal's tails. A fitted day may fall
//   outside its half.
//
// A risk is not tied to a year, so days are offsets from the first day of the half, with fractions;
// given a year, they are rounded to the nearest day of it.
#ifndef EPICOTYL_FROST_FREEZE_RISK_HPP
#define EPICOTYL_FROST_FREEZE_RISK_HPP

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <date/date.h>

#include <epicotyl/days.hpp>
#include <epicotyl/frost/freeze_dates.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/daily_record.hpp>

namespace epicotyl {

enum class freeze_estimator { empirical, fitted };

/// "empirical", "fitted".
[[nodiscard]] constexpr std::string_view to_string(freeze_estimator estimator) noexcept {
    return estimator == freeze_estimator::empirical ? "empirical" : "fitted";
}

/// What the chances rest on: dates as offsets from the first day of the half, or lengths.
struct freeze_sample {
    int years = 0;            ///< n: years used
    std::vector<int> values;  ///< the k of them that had one, ascending [days]
    double mean = 0.0;        ///< of the values [days]; 0 when there is none
    double sd = 0.0;          ///< sample standard deviation [days]; 0 for fewer than two values

    /// q = k / n; 0 when no year was used.
    [[nodiscard]] double share() const noexcept {
        return years == 0 ? 0.0 : static_cast<double>(values.size()) / years;
    }
    friend bool operator==(freeze_sample const&, freeze_sample const&) = default;
};

class freeze_risk {
public:
    /// Throws `invalid_input` as `freeze_dates` does.
    freeze_risk(daily_record const& record, temperature threshold,
                freeze_estimator estimator = freeze_estimator::fitted,
                freeze_options const& options = {})
        : freeze_risk{freeze_dates{record, threshold, options}, estimator} {}

    explicit freeze_risk(freeze_dates dates, freeze_estimator estimator = freeze_estimator::fitted);

    // In all that follows: throws `invalid_input` when not one half (or pair of halves) of the kind
    // asked for could be used.

    /// Days from the first day of the cold-to-warm half to the day on or after which a freeze comes
    /// with this chance; none when there is no such day.
    [[nodiscard]] std::optional<double> last_freeze(chance chance_later) const;
    /// The same in the cold-to-warm half that begins in `year`, to the nearest day.
    [[nodiscard]] std::optional<day> last_freeze(chance chance_later, date::year year) const;

    /// Days from the first day of the warm-to-cold half to the day on or before which a freeze
    /// comes with this chance; none when there is no such day.
    [[nodiscard]] std::optional<double> first_freeze(chance chance_earlier) const;
    /// The same in the warm-to-cold half that begins in `year`, to the nearest day.
    [[nodiscard]] std::optional<day> first_freeze(chance chance_earlier, date::year year) const;

    /// Frost-free days between the two freezes (both excluded) that are reached or exceeded with
    /// this chance; none when there is no such number. A year in which one of the freezes did not
    /// come is longer than all others.
    [[nodiscard]] std::optional<double> frost_free_days(chance chance_longer) const;

    /// Chance of a freeze on or after an offset in the cold-to-warm half. Never rises with the
    /// offset. `empirical`: k / n before the first date seen, 0 after the last; between them the
    /// chance whose `last_freeze` is this day, the greatest when several are.
    [[nodiscard]] chance chance_later(double offset) const;
    /// The same for a day. Throws `invalid_input` for one outside every cold-to-warm half.
    [[nodiscard]] chance chance_later(day d) const;

    /// Chance of a freeze on or before an offset in the warm-to-cold half. Never falls with the
    /// offset. `empirical`: 0 before the first date seen, k / n after the last; between them the
    /// chance whose `first_freeze` is this day, the greatest when several are.
    [[nodiscard]] chance chance_earlier(double offset) const;
    /// The same for a day. Throws `invalid_input` for one outside every warm-to-cold half.
    [[nodiscard]] chance chance_earlier(day d) const;

    /// The dates of every year.
    [[nodiscard]] freeze_dates const& dates() const noexcept { return dates_; }
    [[nodiscard]] freeze_estimator estimator() const noexcept { return estimator_; }
    [[nodiscard]] freeze_sample const& last_sample() const noexcept { return last_; }
    [[nodiscard]] freeze_sample const& first_sample() const noexcept { return first_; }
    [[nodiscard]] freeze_sample const& frost_free_sample() const noexcept { return frost_free_; }
    /// What a reader should know: few years; a curve fitted to few dates.
    [[nodiscard]] std::vector<std::string> const& warnings() const noexcept { return warnings_; }

    friend bool operator==(freeze_risk const&, freeze_risk const&) = default;

private:
    freeze_dates dates_;
    freeze_estimator estimator_;
    freeze_sample last_;
    freeze_sample first_;
    freeze_sample frost_free_;
    std::vector<std::string> warnings_;
};

/// The day for a rule of a plan ("last frost, 1 year in 10"), from the last freezes of n season
/// years: the one at position (1 - chance)(n + 1) in ascending order, rounded up, that is, to the
/// safe side. Years without a freeze come before all others. None when the position is outside
/// 1 ... n or falls on a year without one, and when n = 0.
[[nodiscard]] std::optional<int> empirical_offset_last(std::span<std::optional<int> const> offsets,
                                                       chance chance_later);

/// The same from the first freezes: position chance (n + 1), rounded down. Years without a freeze
/// come after all others.
[[nodiscard]] std::optional<int> empirical_offset_first(std::span<std::optional<int> const> offsets,
                                                        chance chance_earlier);

/// "Marlpit: nights at or below 0.0 °C, 1981 – 2010, fitted".
[[nodiscard]] std::string to_string(freeze_risk const& risk);

}  // namespace epicotyl

#ifdef EPICOTYL_INLINE
#include <epicotyl/frost/impl/freeze_risk.ipp>
#endif

#endif
