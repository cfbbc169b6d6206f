// Crops that are planned and seldom picked.
//
// A target that is met says nothing of what comes behind it: a melon is planted out in time in
// every year, and ripens in none, or is frozen before. Which is so in most season years is said in
// one sentence, with the years that are lost and those that are too short; batches of one crop are
// told together, and so are those that fare the same.
#ifndef EPICOTYL_SRC_SEASON_DAYS_UNRIPE_HPP
#define EPICOTYL_SRC_SEASON_DAYS_UNRIPE_HPP

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "calendar_data.hpp"

namespace epicotyl::detail {

class unripe_list {
public:
    explicit unripe_list(calendar_data const& of) : data_{of} {}

    /// Looks at a resolved succession. `lost` has the night of each year that loses it.
    void add(int succession, std::span<std::int16_t const> lost);
    /// A note for each crop, or crops alike, of which a batch comes to its harvest (to its end,
    /// where it has none) in fewer than half of the years; in plan order.
    [[nodiscard]] std::vector<std::string> notes();

private:
    struct found {
        int succession;
        int event;
        int reached;  ///< years
        int lost;     ///< years
    };

    calendar_data const& data_;
    std::vector<found> found_;
};

}  // namespace epicotyl::detail

#endif
