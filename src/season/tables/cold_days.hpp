// The cold days of a season: its halves, the days from which cold nights are rare enough, and the
// days of its first and last frost.
//
// A rule that counts cold nights or frosts means one half of the year: from cold to warm, where it
// waits for the last of them, or from warm to cold, where it comes before the first.
#ifndef EPICOTYL_SRC_SEASON_TABLES_COLD_DAYS_HPP
#define EPICOTYL_SRC_SEASON_TABLES_COLD_DAYS_HPP

#include <deque>
#include <limits>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <tuple>
#include <utility>
#include <vector>

#include <epicotyl/crop/air.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>

#include "day_table.hpp"
#include "series_stock.hpp"

namespace epicotyl::detail {

/// need = max(1, ceil(share * n)): how many of n years a share asks for.
[[nodiscard]] int needed_years(double share, int n);
/// floor(share * n): how many of n years a share allows.
[[nodiscard]] int allowed_years(double share, int n);

/// Days of a half's end that are no risk days: cold there means cold in every month.
inline constexpr int half_tail = 30;

/// By event, the half of the year whose cold nights its default bound keeps off; none: no bound.
using spring_choice = std::vector<std::optional<day_span>>;

/// A last-frost rule means the first half that leaves at least a season's beginning to work in:
/// days from the rule's `after` to the end of the half.
inline constexpr int days_before_half_ends = 90;

/// Place without a name: outdoors.
inline constexpr int outdoors = -1;

/// The air of one place at one threshold for acting, in every season year.
struct place_air {
    int place = outdoors;
    double act_below = -std::numeric_limits<double>::infinity();
    std::shared_ptr<air_years const> held = {};
    std::span<air_series const> years = {};
    double coldest = 0.0;  ///< mean over season years of the year's lowest minimum, °C
};

/// Result of looking for the day from which cold nights are rare enough.
struct risk_day {
    enum class verdict { found, every_month, season_too_short };
    verdict what = verdict::found;
    int day = 0;          ///< offset, when found
    int allowed = 0;      ///< season years that may still have such a night
    int have = 0;         ///< season years with such a night in the half
    int days_wanted = 0;  ///< season length that would show the half, when too short
};

class cold_days {
public:
    /// Of a plan in a climate, with airs that are still being made. Holds references.
    cold_days(plan const& of, climate const& under, std::deque<place_air> const& airs);

    /// The first cold-to-warm half that ends at least 90 days after `after` (an offset).
    [[nodiscard]] day_span spring_half(int after) const;
    /// The first warm-to-cold half that ends at least 90 days after `after`.
    [[nodiscard]] day_span autumn_half(int after) const;
    /// The last cold-to-warm half that begins on or before a day.
    [[nodiscard]] day_span spring_half_before(int day) const;

    /// First day d >= from such that at most a share of the season years have a night >= d, in the
    /// half, at or below `limit` in an air.
    [[nodiscard]] risk_day risk_day_of(int air, double limit, day_span half, int from,
                                       double share) const;

    /// Days of the last (first) frost, by the plan's threshold, of every season year in the half
    /// that a rule with this `after` means; none for years without one.
    [[nodiscard]] std::vector<std::optional<int>> frost_dates(bool first_frost,
                                                              std::optional<day> after) const;
    /// The day of the plan's last (first) frost in the half that a rule means; none where the
    /// share falls on a year without one.
    [[nodiscard]] std::optional<int> frost_day(bool first_frost, std::optional<day> after) const;
    /// Season years with such a frost in that half.
    [[nodiscard]] int frost_years(bool first_frost, std::optional<day> after) const;

    /// Offset of a rule's `after`, 0 without.
    [[nodiscard]] int after_offset(std::optional<day> const& after) const;

private:
    /// Air, limit, first and last day of the half, first day asked, share.
    using risk_key = std::tuple<int, double, int, int, int, double>;

    [[nodiscard]] risk_day count_risk_day(int air, double limit, day_span half, int from,
                                          double share) const;
    [[nodiscard]] int years() const { return weather_.size(); }
    [[nodiscard]] int season_days() const { return weather_.season_days(); }

    plan const& planned_;
    climate const& weather_;
    std::deque<place_air> const& airs_;
    std::vector<day_span> springs_ = {};
    std::vector<day_span> autumns_ = {};

    /// What was asked before: the same answer, at once.
    mutable std::mutex asked_lock_ = {};
    mutable std::map<risk_key, risk_day> risk_days_ = {};
    mutable std::map<std::pair<bool, int>, std::optional<int>> frost_days_ = {};
};

}  // namespace epicotyl::detail

#endif
