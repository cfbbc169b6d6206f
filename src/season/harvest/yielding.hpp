// What a succession gives day by day; weeks and coverage add it up.
#ifndef EPICOTYL_SRC_SEASON_HARVEST_YIELDING_HPP
#define EPICOTYL_SRC_SEASON_HARVEST_YIELDING_HPP

#include <vector>

#include <epicotyl/season/harvest/yield.hpp>

#include "picking.hpp"

namespace epicotyl::detail {

/// Units of every day of one season year's harvest.
struct day_yields {
    int first = 0;                   ///< offset of the first day
    std::vector<double> units = {};  ///< day by day; none: no harvest
    double total = 0.0;
};

/// Holds a reference to the prospect's data; a short-lived tool.
class yielding {
public:
    yielding(prospect_data const& data, int succession, harvest_yield const& gives,
             harvest_options const& options);

    [[nodiscard]] double plants() const noexcept { return plants_; }
    [[nodiscard]] double possible() const noexcept { return plants_ * gives_.units_per_plant; }
    [[nodiscard]] day_yields of_year(int year);

private:
    prospect_data const& data_;
    int succession_;
    int harvest_;
    harvest_yield gives_;
    harvest_options options_;
    double plants_;
    std::vector<double> run_up_;  ///< days, or heat of the year at hand, up to each day
};

}  // namespace epicotyl::detail

#endif
