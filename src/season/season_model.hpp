// The tables behind a season: for one plan and one climate, the air of every place, the ready map
// of every stage, and what the plan's rules mean as days. Built once, then only read; calendar and
// prospect share it.
#ifndef EPICOTYL_SRC_SEASON_SEASON_MODEL_HPP
#define EPICOTYL_SRC_SEASON_SEASON_MODEL_HPP

#include <limits>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <tuple>
#include <vector>

#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/crop/air.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>

namespace epicotyl::detail {

/// need = max(1, ceil(share * n)): how many of n years a share asks for.
[[nodiscard]] int needed_years(double share, int n);
/// floor(share * n): how many of n years a share allows.
[[nodiscard]] int allowed_years(double share, int n);

/// Half of a calendar year as offsets in the season, not cut to it.
struct half_span {
    int first;
    int last;
};

/// Events, years and successions are counted with `int`; containers ask for `size_t`.
[[nodiscard]] constexpr std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

/// A last-frost rule means the first half that leaves at least a season's beginning to work in:
/// days from the rule's `after` to the end of the half.
inline constexpr int days_before_half_ends = 90;

/// Place without a name: outdoors.
inline constexpr int outdoors = -1;

/// The air of one place at one threshold for acting, in every season year.
struct place_air {
    int place = outdoors;
    double act_below = -std::numeric_limits<double>::infinity();
    std::vector<air_series> years = {};
    double coldest = 0.0;  ///< mean over season years of the year's lowest minimum, °C
};

/// What the engine needs to know of a stage.
struct stage_tables {
    int air = 0;                                               ///< index into `season_model::airs`
    int ready = 0;                                             ///< index into `season_model::ready`
    double limit = -std::numeric_limits<double>::infinity();   ///< °C, -infinity: none
    double too_hot = std::numeric_limits<double>::infinity();  ///< °C, infinity: none
    double hold = std::numeric_limits<double>::infinity();     ///< days, infinity: any
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

class season_model {
public:
    /// Throws `invalid_input` when plan and climate differ in season start, length or latitude.
    season_model(plan of, climate under);

    plan const planned;
    climate const weather;
    int const years;        ///< n
    int const season_days;  ///< N

    std::vector<std::vector<stage_tables>> stages;  ///< [succession][stage]
    std::vector<int> link_ready;                    ///< [link], index into `ready`
    std::vector<place_air> airs;
    std::vector<std::vector<ready_map>> ready;  ///< [table][year]

    [[nodiscard]] ready_map const& stage_ready(int succession, int stage, int year) const {
        auto const table =
            stages[static_cast<std::size_t>(succession)][static_cast<std::size_t>(stage)].ready;
        return ready[static_cast<std::size_t>(table)][static_cast<std::size_t>(year)];
    }

    /// The first cold-to-warm half that ends at least 90 days after `after` (an offset).
    [[nodiscard]] half_span spring_half(int after) const;
    /// The first warm-to-cold half that ends at least 90 days after `after`.
    [[nodiscard]] half_span autumn_half(int after) const;
    /// The last cold-to-warm half that begins on or before a day.
    [[nodiscard]] half_span spring_half_before(int day) const;

    /// First day d >= from such that at most a share of the season years have a night >= d, in the
    /// half, at or below `limit` in an air.
    [[nodiscard]] risk_day find_risk_day(int air, double limit, half_span half, int from,
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

    /// Night minima of an air with heater or cover off, one season year.
    [[nodiscard]] std::vector<double> minima(int air, int year, air_switches on) const;

private:
    using air_key = std::pair<int, double>;
    using ready_key = std::tuple<clock const*, int, int, double>;

    int air_of(int place, double act_at_or_below);
    int ready_of(clock const& takes, int place, int air, double ended_at_or_below);
    std::span<double const> day_length_at(int place);

    std::map<air_key, int> air_ids_;
    std::map<ready_key, int> ready_ids_;
    std::map<int, std::vector<double>> day_lengths_;
    std::vector<half_span> springs_;
    std::vector<half_span> autumns_;
};

}  // namespace epicotyl::detail

#endif
