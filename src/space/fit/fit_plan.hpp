// What is done with each batch, and the plan that comes of it.
#ifndef EPICOTYL_SRC_SPACE_FIT_FIT_PLAN_HPP
#define EPICOTYL_SRC_SPACE_FIT_FIT_PLAN_HPP

#include <string>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "fit_trials.hpp"

namespace epicotyl::detail {

/// A share of a batch that is raised as a trial says, or as planned.
struct raised_part {
    int trial;     ///< index, -1: as planned
    double share;  ///< of the plants
    /// Plants, trays or metres, in the measure of the batch's amount; of what is bought in, plants.
    double amount;
};

/// One way to treat a batch.
struct batch_way {
    double price = 0.0;
    std::vector<raised_part> parts = {};  ///< one, two halves, or none when all is left out
    double left_out = 0.0;                ///< share of the plants
    bool is_short = false;                ///< stays as planned without room
    bool lacks_field = false;             ///< has no room in the field, but elsewhere
    double short_price = 0.0;             ///< what either of these adds to the price
    int group = -1;                       ///< it does what this linked group does

    /// True where nothing is done.
    [[nodiscard]] bool as_planned() const { return parts.empty() && left_out == 0.0 && group < 0; }
};

/// Amounts of two halves of a batch, in whole plants.
struct halves {
    double first;
    double second;
    double share;  ///< of the first
};
[[nodiscard]] halves halves_of(amount const& of);

/// As many whole plants as are needed.
[[nodiscard]] double whole_plants(double of);

/// The changed plan; batches without a way stay as they are.
[[nodiscard]] plan changed_plan(calendar const& of, std::vector<trial> const& trials,
                                std::vector<batch_way const*> const& ways);

/// Name of the second half of a batch that is parted.
[[nodiscard]] std::string second_name(plan const& of, int batch);

}  // namespace epicotyl::detail

#endif
