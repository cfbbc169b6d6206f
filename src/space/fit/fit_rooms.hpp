// Rooms as resources, and what a batch uses of them.
#ifndef EPICOTYL_SRC_SPACE_FIT_FIT_ROOMS_HPP
#define EPICOTYL_SRC_SPACE_FIT_FIT_ROOMS_HPP

#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "../../choice/choice.hpp"
#include "fit_trials.hpp"

namespace epicotyl::detail {

/// One room that can run out.
struct fit_room {
    int place;
    room_kind kind;
    bool lit;   ///< what the lamps of the place light, and only while they do
    int begin;  ///< days [begin, end) on which it counts
    int end;
    double room;
    bool field;  ///< metres of bed, or a place for the field

    /// How many trays so much of this room stands for, where what is left out has its price.
    [[nodiscard]] double in_trays(double amount) const;
};

class fit_rooms {
public:
    explicit fit_rooms(plan const& of);

    [[nodiscard]] std::vector<fit_room> const& all() const { return rooms_; }
    [[nodiscard]] std::vector<double> sizes() const;

    /// What a share of a batch uses.
    [[nodiscard]] std::vector<room_use> uses(trial const& of, double share) const;
    /// Trays of a stage for a share of a batch; 0 without a container.
    [[nodiscard]] static double trays(trial const& of, int stage, double share);

    /// Square metres of a stage for a share of a batch; 0 where its container has no area.
    [[nodiscard]] static double area(trial const& of, int stage, double share);

    /// Sums of uses, [room][day].
    [[nodiscard]] std::vector<std::vector<double>> levels(
        std::vector<std::vector<room_use>> const& of) const;

private:
    int season_days_;
    std::vector<fit_room> rooms_;
    std::vector<std::vector<char>> within_;  ///< [place][other]: the other is it or a part of it
};

/// What overflows as planned.
struct crowding {
    std::vector<int> batches = {};  ///< that stand there, near the days on which it does
    std::vector<double> size;       ///< of each batch, trays where it needs most room of that
    std::vector<char> is_crowded;   ///< of each room
};
[[nodiscard]] crowding crowding_of(calendar const& before, fit_rooms const& rooms,
                                   std::vector<std::vector<room_use>> const& uses, int most_shift);

}  // namespace epicotyl::detail

#endif
