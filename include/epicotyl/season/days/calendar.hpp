// epicotyl: the calendar. A plan with planned days.
//
// A calendar is what `schedule` makes of a plan and a climate. Every succession has a planned day
// for every event, or stands in `unresolved()` with the reason and the nearest cure; one that
// cannot be resolved does not stop the others.
//
// What the days mean: the planned sowing is the latest day from which the target was met in at
// least the wanted number of season years of the record. That is a count on the very record that
// chose the day, not a forecast. A decision aimed at has its day; other decisions are planned for
// the day by which they are ready in the wanted share of years, outcomes for their usual day (the
// middle one). With links, each succession's count holds by itself; `groups()` gives the share of
// years in which all of a linked group are good together.
#ifndef EPICOTYL_SEASON_DAYS_CALENDAR_HPP
#define EPICOTYL_SEASON_DAYS_CALENDAR_HPP

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {
struct calendar_data;
}

/// What a planned sowing claims, counted on the season years.
struct sowing_claim {
    int years = 0;           ///< season years, n
    int needed = 0;          ///< years the reliability asks for
    int good = 0;            ///< years in which the target and its bounds are met
    int link_days_kept = 0;  ///< years whose links allow the planned sowing day
    /// The count that breaks, one day later; the succession's own where none breaks.
    int good_one_day_later = 0;
    std::string broken = {};        ///< the succession whose count breaks, empty: nothing breaks
    std::string broken_claim = {};  ///< "target", "links" or "harvest"
};

/// Successions that wait for one another, and how often all of them are good in the same year.
struct linked_group {
    std::vector<std::string> successions = {};
    int good = 0;   ///< season years in which every one is good
    int years = 0;  ///< season years
};

/// A link with a `within`, and how often it is kept.
struct link_count {
    std::string first;    ///< "peas 1: clear"
    std::string then;     ///< "leeks: transplant"
    double within = 0.0;  ///< days
    int kept = 0;         ///< season years in which it is
    int years = 0;
};

class calendar {
public:
    explicit calendar(std::shared_ptr<detail::calendar_data const> data) : data_{std::move(data)} {}

    [[nodiscard]] epicotyl::plan const& plan() const;
    [[nodiscard]] epicotyl::climate const& climate() const;
    /// In what its season years are not simply those of a station, "made from normals"; empty when
    /// they are (`climate::origin`).
    [[nodiscard]] std::string origin() const;
    /// The reliability asked of the plan as a whole (successions may have their own).
    [[nodiscard]] epicotyl::reliability reliability() const;

    /// Planned day of an event, by name or id; none when the succession is unresolved or the event
    /// is not reached. Throws `invalid_input` for names the plan does not have.
    [[nodiscard]] std::optional<day> date(std::string_view succession,
                                          std::string_view event) const;
    /// The same by index, into `plan().successions()` and its events. Throws `std::out_of_range`
    /// for a succession, or an event of a resolved one, that there is not.
    [[nodiscard]] std::optional<day> date(int succession, int event) const;

    /// Every event as (succession, event), in plan order.
    [[nodiscard]] std::vector<std::pair<std::string, std::string>> events() const;

    /// Successions without days, with reason and nearest cure, in plan order.
    [[nodiscard]] std::vector<obstacle> const& unresolved() const;
    /// Throws `unresolved` unless every succession has its days.
    void require() const;

    /// What the planned sowing of a succession claims; none when it is unresolved.
    [[nodiscard]] std::optional<sowing_claim> claim(std::string_view succession) const;
    [[nodiscard]] std::vector<linked_group> const& groups() const;
    [[nodiscard]] std::vector<link_count> const& within_counts() const;

    /// What a reader of the dates should know: few season years, and a shorter season that would
    /// leave more; a latitude that the weather contradicts; numbers that are seldom meant; crops
    /// that seldom ripen here; places that are acted on too late, or left too late. Alike ones are
    /// one, with a count.
    [[nodiscard]] std::vector<std::string> const& warnings() const;

    [[nodiscard]] std::shared_ptr<detail::calendar_data const> const& data() const noexcept {
        return data_;
    }

private:
    std::shared_ptr<detail::calendar_data const> data_;
};

/// A sheet to hang up: week by week, what is to be done on which day.
[[nodiscard]] std::string to_string(calendar const& of);

}  // namespace epicotyl

#endif
