// epicotyl: stagger - successions whose harvests, not sowings, are evenly spaced.
//
// Sowings ten days apart in spring are picked within a few days of one another, since the later one
// grows in warmer weather and catches up. To be picked a week apart they must be sown further apart
// in spring, and closer in summer:
//
//     staggered const beans = stagger(plan, climate, "bean",
//                                     {.first = make_day(2027, 6, 14),
//                                      .last = make_day(2027, 9, 20),
//                                      .every = 7});
//     beans.sowings();        // sow on 19 Apr, 4 May, 15 May; picked from 14 Jun, 21 Jun, 28 Jun
//     beans.last_useful();    // sown later, it is not picked before the frost in enough years
//     beans.gaps();           // days with nothing to pick
//     equal_gaps(beans);      // what as many sowings at equal distances would give
//
// **Days.** The wanted harvests stand `every` days apart from `first` on, or `count` of them evenly
// from `first` to the last day of the span. Each becomes a succession with the target `on` its day,
// as the members of a `repeat` are: the latest sowing whose first harvest has begun by then in half
// of the season years. `schedule` of a plan with these successions gives the same days. This is the
// inverse of the harvest day as a function of the sowing day; field rules that let a wait for the
// next sowing last until as much heat has built up as the wanted days will have at harvest are
// approximations of it (University of Connecticut and University of Vermont extension pages on
// sweet corn; read as excerpts).
//
// **Reliability** says how sure the harvest has to be: a week counts as covered, a day is no gap,
// and a sowing is useful when that holds in so large a share of the season years. It does not move
// the sowings, which aim at the usual harvest.
//
// **No later sowing is picked earlier.** A later sowing may catch up with an earlier one, so that
// no sowing has its usual harvest near a wanted day; it cannot overtake it, not even where day
// length gates growth, because rates here never depend on when a stage began (clock/clock.hpp).
// Wanted days that would be met by one and the same sowing are met once, and the rest is told in
// `left_out`.
//
// **The last useful sowing** is the latest that is picked, in the wanted share of years, before the
// year's first frost (the plan's), before days are shorter than asked for, and within the season.
// Sowings after it are given and say in how many years they are in time.
//
// **What is lost is not picked.** Sowings aim at the usual harvest of a batch that lives, and
// early, usual and late are its days; each says in how many years cold loses it. Weeks, gaps, years
// in time and the last useful sowing count the years in which it lives.
#ifndef EPICOTYL_SEASON_HARVEST_STAGGER_HPP
#define EPICOTYL_SEASON_HARVEST_STAGGER_HPP

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <epicotyl/error.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/plan/succession.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

namespace detail {
struct stagger_data;
}

/// The end of a span: the day before the first frost that comes, in a share of the season years, on
/// or before that day (`empirical`, on the season years; the half of the year that ends last after
/// the span's first day begins). What a frost is, the plan says.
struct until_first_frost {
    chance earlier;

    friend bool operator==(until_first_frost const&, until_first_frost const&) = default;
};

/// What harvests are wanted. Exactly one of `every` and `count` is given.
struct stagger_options {
    day first;                                  ///< first wanted first harvest
    std::variant<day, until_first_frost> last;  ///< no wanted first harvest after it
    std::optional<int> every = {};              ///< days between first harvests, 1 or more
    std::optional<int> count = {};              ///< how many, evenly from first to last
    std::optional<epicotyl::reliability> reliability = {};  ///< none: the plan's
    /// A useful sowing is picked before days of the site are shorter than this [h]; none: of any
    /// length.
    std::optional<double> day_length_at_least = {};
    std::string name = {};                     ///< of the successions; empty: the crop's
    epicotyl::amount amount = {.value = 1.0};  ///< of each succession
};

/// One sowing, and when it is picked.
struct staggered_sowing {
    std::string name;  ///< of its succession, "bean 3"
    day wanted;        ///< first harvest asked for
    day sowing;        ///< planned
    day usual;         ///< first harvest of the middle season year, on `wanted` or earlier
    std::optional<day> early = {};  ///< of 1 year in 10; none: not within the season
    std::optional<day> late = {};   ///< of 9 years in 10
    int lost = 0;                   ///< season years in which cold loses it before it is picked
    int in_time = 0;  ///< other ones in which it is picked before the limits of `last_useful`

    friend bool operator==(staggered_sowing const&, staggered_sowing const&) = default;
};

/// What ends the use of sowing.
enum class sowing_limit {
    frost,       ///< a year's first frost
    day_length,  ///< days shorter than asked for
    not_after,   ///< a bound of the crop
    season,      ///< the plan's season
    lost         ///< cold that loses the plants before they are picked
};

/// "frost", "day_length", "not_after", "season", "lost": the words used in data.
[[nodiscard]] std::string_view to_string(sowing_limit of) noexcept;

/// The latest sowing that is still worth it.
struct last_sowing {
    std::optional<day> sowing = {};  ///< none: no sowing is in time in enough years
    int good = 0;  ///< season years in which it lives and is in time; the most, where none
    int needed = 0;
    int years = 0;
    int good_one_day_later = 0;
    sowing_limit limit = sowing_limit::season;  ///< what fails first beyond it
    std::string sentence = {};

    friend bool operator==(last_sowing const&, last_sowing const&) = default;
};

/// One week of the span, Monday to Sunday, cut to it.
struct harvest_week {
    day from;
    day until;             ///< its last day
    int years = 0;         ///< season years in which something is in harvest on one of its days
    bool covered = false;  ///< these are enough

    friend bool operator==(harvest_week const&, harvest_week const&) = default;
};

/// A run of days of the span with too few season years in which anything is in harvest.
struct harvest_gap {
    day from;
    day until;       ///< its last day
    int fewest = 0;  ///< season years with something in harvest, on its worst day

    friend bool operator==(harvest_gap const&, harvest_gap const&) = default;
};

/// A sowing of a series with equal gaps.
struct equal_gap_sowing {
    day sowing;
    std::optional<day> usual = {};  ///< first harvest of the middle season year

    friend bool operator==(equal_gap_sowing const&, equal_gap_sowing const&) = default;
};

class staggered {
public:
    explicit staggered(std::shared_ptr<detail::stagger_data const> data) : data_{std::move(data)} {}

    [[nodiscard]] epicotyl::plan const& plan() const;  ///< that it was asked of
    [[nodiscard]] epicotyl::climate const& climate() const;
    [[nodiscard]] std::string const& crop() const;  ///< its name
    [[nodiscard]] stagger_options const& options() const;
    [[nodiscard]] epicotyl::reliability reliability() const;  ///< asked for, or the plan's

    /// Last day of the span; none where it was to end with a frost that does not come.
    [[nodiscard]] std::optional<day> until() const;
    /// The sowings, by wanted day; none that `left_out` names.
    [[nodiscard]] std::vector<staggered_sowing> const& sowings() const;
    /// Wanted harvests without a sowing of their own, each with the reason and the nearest cure; or
    /// why there is no span.
    [[nodiscard]] std::vector<obstacle> const& left_out() const;
    /// Days between the usual first harvests of sowings that follow one another.
    [[nodiscard]] std::vector<int> intervals() const;
    [[nodiscard]] last_sowing const& last_useful() const;

    /// The weeks of the span.
    [[nodiscard]] std::vector<harvest_week> const& weeks() const;
    /// Share of these that are covered; 0 without a span.
    [[nodiscard]] double share_covered() const;
    /// Days of the span that are not. A covered week can have some.
    [[nodiscard]] std::vector<harvest_gap> const& gaps() const;

    /// The sowings as successions of a plan.
    [[nodiscard]] std::vector<succession> const& successions() const;
    /// A plan with these after its own successions. Throws `invalid_input` where it has their
    /// names.
    [[nodiscard]] epicotyl::plan added_to(epicotyl::plan const& of) const;

    [[nodiscard]] std::shared_ptr<detail::stagger_data const> const& data() const noexcept {
        return data_;
    }

private:
    std::shared_ptr<detail::stagger_data const> data_;
};

/// Sowings of a crop (by name or id) whose usual first harvests are evenly spaced. Places, the
/// meaning of frost and the accepted risk are the plan's; its successions and links are not looked
/// at, but names go on from theirs. Throws `invalid_input` when the plan has no such crop or the
/// crop no `first_harvest`, when a day lies outside the season or the last before the first, unless
/// exactly one of `every` (1 or more) and `count` (1 or more, no more than days) is given, for a
/// day length outside 0 to 24 hours, and as `schedule` does.
[[nodiscard]] staggered stagger(plan const& of, climate const& under, std::string_view crop,
                                stagger_options const& wanted);

/// As many sowings at equal distances between the first and the last of `of`, to the nearest day,
/// and their usual first harvests.
[[nodiscard]] std::vector<equal_gap_sowing> equal_gaps(staggered const& of);

/// A table of what is to be sown, the last useful day, a table of what comes later, then the weeks
/// covered and the gaps.
[[nodiscard]] std::string to_string(staggered const& of);

}  // namespace epicotyl

#endif
