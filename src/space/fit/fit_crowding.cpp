// Which rooms overflow as planned, and which batches are in question there.
#include <algorithm>
#include <optional>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "../../season/days/calendar_data.hpp"
#include "../stays.hpp"
#include "fit_rooms.hpp"

namespace epicotyl::detail {

crowding crowding_of(calendar const& before, fit_rooms const& rooms,
                     std::vector<std::vector<room_use>> const& uses, int most_shift) {
    auto const levels = rooms.levels(uses);
    std::size_t const count = uses.size();
    crowding found{.size = std::vector<double>(count),
                   .is_crowded = std::vector<char>(levels.size())};
    std::vector<char> is_candidate(count);
    for (std::size_t r = 0; r < levels.size(); ++r) {
        double const most = rooms.all()[r].room + room_tolerance;
        int first = never;
        int last = -1;
        for (std::size_t d = 0; d < levels[r].size(); ++d) {
            if (levels[r][d] <= most) { continue; }
            first = std::min(first, static_cast<int>(d));
            last = static_cast<int>(d);
        }
        if (last < 0) { continue; }
        for (std::size_t i = 0; i < count; ++i) {
            std::optional<int> const bought = bought_event(before.plan(), static_cast<int>(i));
            int const comes = bought && !uses[i].empty()
                                  ? before.data()->successions[i].planned[at(*bought)]
                                  : never;
            for (room_use const& one : uses[i]) {
                if (one.resource != static_cast<int>(r)) { continue; }
                found.is_crowded[r] = 1;
                // What is bought in takes its place from the day on which it comes.
                if (one.begin < comes) {
                    found.size[i] = std::max(found.size[i], rooms.all()[r].in_trays(one.amount));
                }
                bool const near = one.begin <= last + most_shift && one.end > first - most_shift;
                if (near) { is_candidate[i] = 1; }
            }
        }
    }
    for (std::size_t i = 0; i < count; ++i) {
        if (is_candidate[i]) { found.batches.push_back(static_cast<int>(i)); }
    }
    return found;
}

}  // namespace epicotyl::detail
