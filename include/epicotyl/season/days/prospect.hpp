// epicotyl: the prospect. What becomes of a calendar in every season year.
//
// The policy: sow on the planned day, or on the later day that a link allows. A decision aimed at
// waits for its planned day. Every other decision is done when the plants are ready and its bounds
// and links allow. Outcomes come when their clock says. A stage stands in its place from the day
// its event comes until the day the next one does; an event that is not reached leaves the stage
// where it is to the season's end.
//
// Damage: a night d with x_j <= d < x_{j+1} whose minimum in the air of the place is at or below
// the limit of stage j. Before `emerge`, where the crop has that event, nothing is damaged. The
// night that ends a harvest is not damage.
//
// Lost: the first such night before the harvest (or the first at or below the `lost_at` of stage or
// crop) loses the batch in that season year. `first_harvest` and all behind it are never in such a
// year, here and in whatever is made of a prospect; the batch is hurt, held and covered up to that
// night, and its place is free from the next day. The calendar and the links do not look at this:
// planned days are those of a batch that lives, and what waits for a batch waits as if it did. The
// count of lost years stands beside them.
//
// All counts are of season years of the record, n in all.
#ifndef EPICOTYL_SEASON_DAYS_PROSPECT_HPP
#define EPICOTYL_SEASON_DAYS_PROSPECT_HPP

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {
class prospect_data;
}

/// Cold (or heat) that hurts, counted over season years. Vectors have one element a season year.
struct damage_report {
    int years = 0;                               ///< season years, n
    int damaged = 0;                             ///< years with at least one such night (day)
    std::vector<std::optional<day>> first = {};  ///< first one of each year, on the plan's dates
    /// Closest approach of each year, K: lowest minimum less the limit (too hot: limit less the
    /// highest maximum). 0 or below is damage; NaN where no stage with a limit was reached.
    std::vector<double> margin = {};
    /// The same on the same days, had the heaters been off ...
    int damaged_heater_off = 0;
    std::vector<std::optional<day>> first_heater_off = {};
    std::vector<double> margin_heater_off = {};
    /// ... and had nothing been done on cold nights.
    int damaged_cover_off = 0;
    std::vector<std::optional<day>> first_cover_off = {};
    std::vector<double> margin_cover_off = {};

    [[nodiscard]] double share() const { return years > 0 ? double(damaged) / years : 0.0; }
};

/// Plants that waited longer than their `hold`.
struct overheld_report {
    int years = 0;
    int overheld = 0;               ///< years in which any stage was held too long
    std::vector<int> longest = {};  ///< most days over the hold, each year; 0: none

    [[nodiscard]] double share() const { return years > 0 ? double(overheld) / years : 0.0; }
};

class prospect {
public:
    explicit prospect(std::shared_ptr<detail::prospect_data const> data) : data_{std::move(data)} {}

    [[nodiscard]] epicotyl::calendar const& calendar() const;
    /// The climate whose season years were gone through.
    [[nodiscard]] epicotyl::climate const& climate() const;
    /// In what these are not simply the years of a station, "made from normals"; empty when they
    /// are (`climate::origin`).
    [[nodiscard]] std::string origin() const;
    /// The season years, ascending.
    [[nodiscard]] std::vector<int> years() const;
    /// Every event as (succession, event), in plan order: the rows of `days_all`.
    [[nodiscard]] std::vector<std::pair<std::string, std::string>> events() const;

    /// Offsets from the season's start, [event][year], `never` where not reached, and from the
    /// harvest on where lost. Events of unresolved successions are `never`.
    [[nodiscard]] std::span<std::int16_t const> days_all() const;
    /// Row of an event in `days_all`.
    [[nodiscard]] int row(int succession, int event) const;

    /// Days of one event on the plan's own dates, one a season year; none: never.
    [[nodiscard]] std::vector<std::optional<day>> days(std::string_view succession,
                                                       std::string_view event) const;
    /// The k-th smallest day, k = max(1, ceil(q n)); none when that is never. No averaging.
    [[nodiscard]] std::optional<day> quantile(std::string_view succession, std::string_view event,
                                              quantile_level q) const;
    /// Share of season years in which the event comes on a day or before.
    [[nodiscard]] double chance_by(std::string_view succession, std::string_view event,
                                   day when) const;

    /// The night of each season year that loses a succession, on the plan's own dates; none: it
    /// lives.
    [[nodiscard]] std::vector<std::optional<day>> lost(std::string_view succession) const;

    /// Cold damage in one stage (the one the event begins), or in all stages.
    [[nodiscard]] damage_report damage(std::string_view succession,
                                       std::optional<std::string_view> event = std::nullopt) const;
    /// Harm by heat: a day whose maximum is at or above the stage's `too_hot`.
    [[nodiscard]] damage_report too_hot(std::string_view succession,
                                        std::optional<std::string_view> event = std::nullopt) const;
    /// Stages held longer than their `hold`.
    [[nodiscard]] overheld_report overheld(std::string_view succession) const;
    /// Nights to act on, each season year: in a place, for a succession, or in all.
    [[nodiscard]] std::vector<int> nights_to_act(
        std::optional<std::string_view> place = std::nullopt,
        std::optional<std::string_view> succession = std::nullopt) const;

    [[nodiscard]] std::shared_ptr<detail::prospect_data const> const& data() const noexcept {
        return data_;
    }

private:
    std::shared_ptr<detail::prospect_data const> data_;
};

/// A block a succession: a line for each event, planned, early / usual / late and in time; loss and
/// damage by cold, nights to cover or heat, and the reason of its planned day.
[[nodiscard]] std::string to_string(prospect const& of);

/// The nights to act on in a place, for a succession, or in all, in a sentence: how many in the
/// usual year and in 1 year in 10. Below it the cautions of heaters and covers, where the plan has
/// such, and of cold (cautions.hpp).
[[nodiscard]] std::string nights_to_act_text(
    prospect const& of, std::optional<std::string_view> place = std::nullopt,
    std::optional<std::string_view> succession = std::nullopt);

}  // namespace epicotyl

#endif
