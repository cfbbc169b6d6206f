// epicotyl: fewest sowings - to be in harvest on the days that matter.
//
// A wedding needs flowers on its day, not "by" it. One sowing is in harvest for some days, and
// these fall on the wanted ones in some season years only: in warm years it is over, in cold years
// it has not begun. Several sowings share the years among them. This finds the fewest of which at
// least one is in harvest on all of the wanted days in the wanted share of season years:
//
//     covering_sowings const found =
//         fewest_sowings(plan, climate, "stock",
//                        {.from = make_day(2027, 6, 12), .until = make_day(2027, 6, 12),
//                         .share = chance{0.95}});
//     found.sowings;       // 9 Mar, 20 Mar, 29 Mar
//     found.good;          // 29 of 30 years
//     found.most_good;     // 17 years with one sowing at best, 27 with two, 29 with three
//
// A sowing serves a year when its first harvest comes on or before `from`, its clearing after
// `until`, and no night before the harvest loses it to cold. Two sowings of which the one is over
// when the other begins serve nothing together: what is wanted is one whole harvest over all of the
// days.
//
// The answer is exact, whatever the number of years. No event comes earlier for a later sowing, so
// the sowings that serve a year are a run of days, out of which cold may cut pieces, and the fewest
// days that lie in so many runs are found by going through them in order. Of equally few
// sowings those that serve the most years are given, and of these the latest. Like every planned
// sowing this is a count on the record that chose the days, not a forecast.
#ifndef EPICOTYL_SEASON_HARVEST_FEWEST_SOWINGS_HPP
#define EPICOTYL_SEASON_HARVEST_FEWEST_SOWINGS_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/crop/rule.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/plan/succession.hpp>

namespace epicotyl {

/// Sowings that together are in harvest on the wanted days.
struct covering_sowings {
    std::string crop = {};
    in_harvest_rule wanted;
    std::vector<day> sowings = {};  ///< ascending; empty where `none` says why
    int years = 0;                  ///< season years, n
    int needed = 0;                 ///< years that the share asks for, ceil(share n)
    int good = 0;                   ///< years in which one of the sowings serves
    /// The most years that one sowing can serve, that two can, ... up to the number found. All but
    /// the last are too few.
    std::vector<int> most_good = {};
    /// Season years that each sowing serves, ascending; a year may be served twice.
    std::vector<std::vector<int>> served = {};
    std::vector<int> missed = {};  ///< season years that none serves
    /// Why no number of sowings is enough; the sowings are then none.
    std::optional<obstacle> none = {};
    /// As successions of a plan, each aimed at its sowing day; named after the crop and numbered,
    /// past names that the plan has.
    std::vector<succession> successions = {};
    unit_system units = unit_system::metric;  ///< the plan's: dates in text have their order

    friend bool operator==(covering_sowings const&, covering_sowings const&) = default;
};

/// The fewest sowings of a crop (by name or id) of which at least one is in harvest from
/// `wanted.from` to `wanted.until`, both included, in at least `wanted.share` of the season years.
/// Places, the meaning of frost and the accepted risk are the plan's; its successions and links are
/// not looked at. Throws `invalid_input` when the plan has no such crop or the crop no
/// `first_harvest`, when days lie outside the season or the last before the first, and as
/// `schedule` does.
[[nodiscard]] covering_sowings fewest_sowings(plan const& of, climate const& under,
                                              std::string_view crop, in_harvest_rule const& wanted);

/// A sentence: the sowings, the years they serve, and what fewer would.
[[nodiscard]] std::string to_string(covering_sowings const& of);

}  // namespace epicotyl

#endif
