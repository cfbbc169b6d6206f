#include "latest_sowing.hpp"

#include <algorithm>

namespace epicotyl::detail {

void latest_good_sowings(season_model const& model, succession_days const& known, int succession,
                         std::span<std::int16_t> latest) {
    constexpr std::int16_t none = -1;
    std::vector<event_bounds> const& bounds = known.bounds();
    int const target = model.planned.successions()[at(succession)].target_event;
    crop const& grown = *model.planned.successions()[at(succession)].grown;
    int const wait_for = is_outcome(grown, target) ? 0 : known.target_day;
    // An event that waits for a day, and must have come by an earlier one, cannot.
    auto const by = [&](int event, int day) {
        int const last = std::min({day, bounds[at(event)].not_after, model.season_days});
        int const floor = std::max(bounds[at(event)].not_before, event == target ? wait_for : 0);
        return last < floor ? none : static_cast<std::int16_t>(last);
    };
    std::fill(latest.begin(), latest.end(), by(target, known.target_day));
    for (int e = target; e > 0; --e) {
        wait_table const& wait = model.wait_of(succession, e - 1);
        for (int y = 0; y < model.years; ++y) {
            std::int16_t& day = latest[at(y)];
            day = by(e - 1, wait.latest_start(day, y));
        }
    }
}

}  // namespace epicotyl::detail
