#include "default_springs.hpp"

namespace epicotyl::detail {

namespace {

/// Of an event that has no planned day.
constexpr int no_place = never * 2 + 2;

/// The half that a target by risk means; none for other targets.
std::optional<day_span> half_of_target(season_model const& model, int succession) {
    risk_rule const* const risk =
        risk_accepted(model.planned.successions()[at(succession)].target_rule);
    if (risk == nullptr) { return std::nullopt; }
    return model.cold.spring_half(model.cold.after_offset(risk->after));
}

/// A half, and whether it is over, as one number; halves begin at most a year before day 0.
constexpr int days_before_season = 400;
int place_of(day_span const& half, bool is_over) {
    return (half.first + days_before_season) * 2 + (is_over ? 1 : 0);
}

}  // namespace

spring_places places_among_springs(season_model const& model, int succession,
                                   std::vector<int> const& events, std::span<int const> planned) {
    std::optional<day_span> const of_target = half_of_target(model, succession);
    spring_places places;
    for (int event : events) {
        int const day = planned[at(event)];
        if (day >= never) {
            places.push_back(no_place);
            continue;
        }
        day_span const half = of_target ? *of_target : model.cold.spring_half_before(day);
        places.push_back(place_of(half, day > half.last - half_tail));
    }
    return places;
}

std::shared_ptr<spring_choice const> spring_chooser::choose(int succession,
                                                            std::vector<int> const& events,
                                                            spring_places const& places) {
    std::optional<day_span> const of_target = half_of_target(model_, succession);
    int const path = model_.path_of[at(succession)];
    auto const [found, is_new] =
        known_.try_emplace({path, of_target ? of_target->first : never, events, places});
    if (!is_new) { return found->second; }
    spring_choice made(model_.paths[at(path)].is_decision.size());
    for (std::size_t k = 0; k < events.size(); ++k) {
        if (places[k] == no_place || places[k] % 2 != 0) { continue; }
        int const first = places[k] / 2 - days_before_season;
        made[at(events[k])] = of_target ? *of_target : model_.cold.spring_half_before(first);
    }
    found->second = std::make_shared<spring_choice const>(std::move(made));
    return found->second;
}

}  // namespace epicotyl::detail
