// epicotyl: the harvest. From when to when a succession is picked, year by year, and what ends it.
//
// A harvest runs from the day of `first_harvest` to the day it is over, on which nothing is picked
// any more. What ends it is the first of
//
//   frost    the first night after it began at or below the limit of the stage it begins
//   clock    the plants have borne for as long as their clock says
//   heat     the first day after it began whose maximum is at or above that stage's `too_hot`
//   season   the plan's season, where nothing ended it before
//
// Frost and clock are those that give the day of `clear`; a night that is cold on the very day the
// clock ends it counts as frost. Heat is another matter: plants that have bolted are not picked
// again, but stand there until they are cleared. It therefore ends the picking and not the stay,
// and moves no day of calendar or prospect. Ask with `heat_stops = false` to have harvests run to
// `clear` whatever the heat, as the target `in_harvest` and `stagger` count them.
//
//     for (harvest_span const& one : harvest_spans(farm.prospect, "pea 1")) {
//         // one.from, one.until, one.ended_by
//     }
//
// A crop that is picked no more some time before it is cleared (a stage of its own, such as one
// begun by `last_harvest`) is in harvest to its clearing all the same.
#ifndef EPICOTYL_SEASON_HARVEST_HARVEST_HPP
#define EPICOTYL_SEASON_HARVEST_HARVEST_HPP

#include <optional>
#include <string_view>
#include <vector>

#include <epicotyl/days.hpp>
#include <epicotyl/fwd.hpp>

namespace epicotyl {

/// What ended a harvest.
enum class harvest_end { frost, clock, heat, season };

/// "frost", "clock", "heat", "season": the words used in data.
[[nodiscard]] std::string_view to_string(harvest_end of) noexcept;

/// The harvest of one succession in one season year, on the plan's dates.
struct harvest_span {
    std::optional<day> begin = {};  ///< first day of picking; none: no harvest in the season
    std::optional<day> end = {};    ///< first day without; `begin` itself where it ends at once
    std::optional<harvest_end> ended_by = {};  ///< none: no harvest

    /// Days of picking, 0 where there is no harvest.
    [[nodiscard]] int days() const {
        return begin && end ? static_cast<int>((*end - *begin).count()) : 0;
    }

    friend bool operator==(harvest_span const&, harvest_span const&) = default;
};

struct harvest_options {
    bool heat_stops = true;  ///< a day at or above `too_hot` ends the picking

    friend bool operator==(harvest_options const&, harvest_options const&) = default;
};

/// The harvests of a succession, one a season year. Throws `invalid_input` for a name that the plan
/// does not have, and for a crop without `first_harvest`.
[[nodiscard]] std::vector<harvest_span> harvest_spans(prospect const& of,
                                                      std::string_view succession,
                                                      harvest_options const& options = {});

}  // namespace epicotyl

#endif
