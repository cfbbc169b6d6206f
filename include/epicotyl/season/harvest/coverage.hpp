// epicotyl: the coverage of a group of successions. Is there something to pick, week by week?
//
// A market stall or a box scheme needs a crop every week; it does not care from which batch. Of a
// group - a wave, a crop, or some successions by name - the coverage counts, for each ISO week, the
// season years in which at least one of them is in harvest on one of its days, and, where an amount
// is wanted, those in which they give that much together.
//
//     harvest_coverage const beans = coverage(farm.prospect, succession_group::of_crop("bean"),
//                                             {.amount = wanted_amount{
//                                                  .per_week = 40.0,
//                                                  .gives = {{"bean", {yield_shape::box(21),
//                                                  0.5}}}}});
//     beans.weeks[3].years;    // of beans.years, in harvest
//     beans.gaps[0].sentence;  // "week of Mon 12 Jul (week 28): nothing to pick in 11 of 30 years"
//
// A week is **covered** when both hold in as large a share of the years as is asked for; each week
// that is not is a gap, and says in how many years what is missing. Weeks at the ends of the span
// are cut to it, and an amount is then wanted of the days that are left.
//
// Harvests are those of season/harvest/harvest.hpp, amounts those of season/harvest/yield.hpp. The
// years are those of the prospect, so that batches meet the same weather: this is no product of
// their chances.
#ifndef EPICOTYL_SEASON_HARVEST_COVERAGE_HPP
#define EPICOTYL_SEASON_HARVEST_COVERAGE_HPP

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/season/harvest/harvest.hpp>
#include <epicotyl/season/harvest/yield.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// Successions that stand in for one another.
class succession_group {
public:
    /// All of a wave.
    [[nodiscard]] static succession_group of_wave(std::string name);
    /// All of a crop, by name or id.
    [[nodiscard]] static succession_group of_crop(std::string name);
    /// These, by name or id.
    [[nodiscard]] static succession_group of(std::vector<std::string> names);

    /// Indices into `plan::successions`, ascending, each once. Throws `invalid_input` when there
    /// are none, with the nearest name.
    [[nodiscard]] std::vector<int> in(plan const& planned) const;
    /// True when its successions are named one by one.
    [[nodiscard]] bool is_named() const noexcept { return what_ == kind::names; }

    friend bool operator==(succession_group const&, succession_group const&) = default;

private:
    enum class kind { wave, crop, names };
    succession_group(kind what, std::vector<std::string> names)
        : what_{what}, names_{std::move(names)} {}

    kind what_;
    std::vector<std::string> names_;
};

/// An amount that a week is to give.
struct wanted_amount {
    double per_week = 0.0;  ///< more than 0
    /// What a plant gives, by name of the succession or else of its crop; an empty name stands for
    /// all others.
    std::vector<std::pair<std::string, harvest_yield>> gives = {};
};

struct coverage_options {
    /// Days of the span; none: from the first to the last day with a harvest in any year.
    std::optional<day> first = {};
    std::optional<day> last = {};
    /// Share of the season years in which a week is to be covered; none: the plan's.
    std::optional<epicotyl::reliability> reliability = {};
    std::optional<wanted_amount> amount = {};
    harvest_options harvest = {};
};

/// One ISO week, cut to the span.
struct coverage_week {
    day from;
    day until;                    ///< its last day
    int years = 0;                ///< season years with a harvest on one of its days
    std::optional<int> met = {};  ///< season years that give the amount; none: none is wanted
    bool covered = false;         ///< these are enough

    friend bool operator==(coverage_week const&, coverage_week const&) = default;
};

/// A week that is not covered.
struct coverage_gap {
    day monday;
    int without = 0;               ///< season years with nothing in harvest
    std::optional<int> less = {};  ///< season years that give less than the amount wanted
    std::string sentence = {};

    friend bool operator==(coverage_gap const&, coverage_gap const&) = default;
};

struct harvest_coverage {
    std::vector<std::string> successions = {};  ///< of the group, in plan order
    int years = 0;                              ///< season years, n
    int needed = 0;                             ///< years that the reliability asks for
    std::vector<coverage_week> weeks = {};      ///< none: nothing is harvested in it
    std::vector<coverage_gap> gaps = {};
    std::string wanted = {};                  ///< of a week, "40 stems"; empty: no amount
    unit_system units = unit_system::metric;  ///< the plan's: dates in text have their order

    /// Share of the weeks that are covered; 0 without weeks.
    [[nodiscard]] double share_covered() const;

    friend bool operator==(harvest_coverage const&, harvest_coverage const&) = default;
};

/// Counts the weeks in which a group is in harvest. Of a wave or a crop, successions that are never
/// harvested are passed over; one that is named, or a group without any other, is refused. Throws
/// `invalid_input` as `succession_group::in`, `harvest_spans` and `expected_yield` do, for days
/// outside the season or reversed, for an amount that is not more than 0, and when a succession has
/// no yield.
[[nodiscard]] harvest_coverage coverage(prospect const& of, succession_group const& group,
                                        coverage_options const& options = {});

/// A line for each run of weeks that are gaps, below one that counts the weeks.
[[nodiscard]] std::string to_string(harvest_coverage const& of);

}  // namespace epicotyl

#endif
