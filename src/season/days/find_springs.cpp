// The springs of default bounds, from the plan that is made without any.
#include <map>
#include <optional>
#include <tuple>

#include <epicotyl/plan/plan.hpp>

#include "../rows/rule_days.hpp"
#include "latest_sowing.hpp"
#include "raised_plan.hpp"
#include "waiting_order.hpp"

namespace epicotyl::detail {

namespace {

class spring_finder : raised_plan {
public:
    /// `none` outlives it.
    spring_finder(calendar_data& data, season_model& model, chosen_springs const& none)
        : raised_plan{data, model, none} {}

    /// The springs of those among `asking` (by index) that have default bounds, from a plan without
    /// any. Nothing else of the calendar is of use afterwards.
    chosen_springs springs_of(std::vector<char> const& asking) {
        find_order();
        chosen_springs found(batches_.size());
        spring_chooser chooser{model_};
        std::vector<int> const whole = order_;
        std::vector<char> const with_others = planned_with_others(asking);
        std::erase_if(order_, [&](int i) { return with_others[at(i)] == 0; });
        std::vector<std::optional<spring_places>> const known_places = places_with_others(asking);
        std::map<std::tuple<void const*, int, int, bool>, like_group> groups;
        for (int i : whole) {
            if (asking[at(i)] == 0) { continue; }
            if (with_others[at(i)] != 0) {
                if (std::optional<spring_places> const& places = known_places[at(i)]) {
                    found[at(i)] = chooser.choose(i, events_with_default(model_, i), *places);
                }
                continue;
            }
            if (!read_rules(i, {})) { continue; }
            succession_days const& mine = known(i);
            auto const [group, is_new] = groups.try_emplace(
                {&mine.bounds(), mine.need, mine.link_need, is_early(i)}, like_group{});
            like_group& like = group->second;
            if (is_new) {
                like.events = events_with_default(model_, i);
                like.rises = asks_later_for_later(i);
            }
            if (like.events.empty()) { continue; }
            spring_places const* places = like.places.find(mine.asked);
            spring_places made;
            if (places == nullptr) {
                least(i, {});
                std::optional<std::vector<int>> const days = days_without_bounds(i);
                if (!days) { continue; }
                made = places_among_springs(model_, i, like.events, *days);
                like.places.add(mine.asked, made, like.rises);
                places = &made;
            }
            found[at(i)] = chooser.choose(i, like.events, *places);
        }
        return found;
    }

private:
    /// Successions that stand alone and differ in the day that they ask for.
    struct like_group {
        std::vector<int> events = {};
        bool rises = false;
        places_by_day places = {};
    };

    /// none where it has no such events, or no days.
    std::optional<spring_places> places_now(int i) {
        std::vector<int> const events = events_with_default(model_, i);
        if (events.empty()) { return {}; }
        std::optional<std::vector<int>> const days = days_without_bounds(i);
        if (!days) { return {}; }
        return places_among_springs(model_, i, events, *days);
    }

    /// only where these two mean different springs does the plan itself decide.
    std::vector<std::optional<spring_places>> places_with_others(std::vector<char> const& asking) {
        std::vector<std::optional<spring_places>> places(batches_.size());
        if (order_.empty()) { return places; }
        expect_days();
        plan_least({});
        auto const note = [&] {
            for (int i : order_) {
                if (asking[at(i)] != 0) { places[at(i)] = places_now(i); }
            }
        };
        note();
        std::vector<char> is_open = never_between(asking);
        trials_.forget_days();
        for (int i : order_) {
            if (!known(i).resolved || !is_linked(i) || is_open[at(i)] != 0) { continue; }
            raise_freely(i);
            if (asking[at(i)] != 0 && places_now(i) != places[at(i)]) { is_open[at(i)] = 1; }
        }
        open_with_others(is_open);
        std::erase_if(order_, [&](int i) { return is_open[at(i)] == 0; });
        if (order_.empty()) { return places; }
        plan_all();
        note();
        return places;
    }

    /// Those whose days the least plan does not bound: a linked harvest that is scanned again may
    /// move to earlier days, and what repeats a linked one asks for another day when that is
    /// raised.
    std::vector<char> never_between(std::vector<char> const& asking) const {
        std::vector<char> found(asking.size(), 0);
        for (int i : order_) {
            std::optional<int> const first = batches_[at(i)].repeat_of;
            bool const is_scanned = is_in_harvest(i) && is_linked(i);
            if (is_scanned || (first && is_linked(*first))) { found[at(i)] = 1; }
        }
        open_with_others(found);
        return found;
    }

    /// Adds all that are linked with those found, and the first of the repeats among them.
    void open_with_others(std::vector<char>& found) const {
        std::vector<int> const group_of = groups_by_links(model_.planned);
        for (bool grew = true; grew;) {
            grew = false;
            std::vector<char> is_group_in(batches_.size(), 0);
            auto const add = [&](int i) {
                grew |= found[at(i)] == 0;
                found[at(i)] = 1;
            };
            for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
                if (found[at(i)] != 0 && group_of[at(i)] != stands_alone) {
                    is_group_in[at(group_of[at(i)])] = 1;
                }
            }
            for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
                if (group_of[at(i)] != stands_alone && is_group_in[at(group_of[at(i)])] != 0) {
                    add(i);
                }
                if (found[at(i)] != 0 && batches_[at(i)].repeat_of) {
                    add(*batches_[at(i)].repeat_of);
                }
            }
        }
    }

    /// As late as its own target allows, whoever waits for it.
    void raise_freely(int i) {
        succession_days& mine = known(i);
        latest_good_sowings(model_, mine, i, latest_);
        int const latest = std::max(mine.sowing, latest_for_need(mine.need));
        mine.sowing = is_early(i) ? std::max(mine.sowing, spring_of(i, latest)) : latest;
        trials_.gather_for(i);
        walker_.walk_all(data_.days, i, mine.sowing, walker_.wait_day(i));
    }

    /// Those whose days without default bounds hang on others, and these.
    std::vector<char> planned_with_others(std::vector<char> const& asking) const {
        std::vector<int> const group_of = groups_by_links(model_.planned);
        std::vector<char> found(batches_.size(), 0);
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            if (asking[at(i)] == 0) { continue; }
            std::optional<int> const first = batches_[at(i)].repeat_of;
            if (first || is_in_harvest(i) || group_of[at(i)] != stands_alone) { found[at(i)] = 1; }
            if (first) { found[at(*first)] = 1; }
        }
        open_with_others(found);
        return found;
    }

    /// A later day asked for moves no event to earlier days: true but where plants wait for a
    /// decision aimed at and must be in time for what comes on that day or behind it.
    bool asks_later_for_later(int i) const {
        resolved_succession const& one = batches_[at(i)];
        if (is_outcome(*one.grown, one.target_event)) { return true; }
        std::vector<event_bounds> const& bounds = data_.successions[at(i)].bounds();
        return std::all_of(bounds.begin() + one.target_event, bounds.end(),
                           [](event_bounds const& bound) { return bound.not_after >= never; });
    }

    /// Planned days; of what has none, those of all as early as allowed.
    std::optional<std::vector<int>> days_without_bounds(int i) {
        if (!known(i).resolved && is_tried_[at(i)] == 0) { return std::nullopt; }
        std::vector<int> days(at(last_event(i) + 1));
        find_planned(i, days);
        return days;
    }
};

}  // namespace

chosen_springs find_springs(season_model& model, reliability wanted) {
    std::vector<resolved_succession> const& batches = model.planned.successions();
    std::vector<char> asking(batches.size(), 0);
    bool is_any = false;
    for (std::size_t i = 0; i < batches.size(); ++i) {
        asking[i] = batches[i].risk.share() ? 1 : 0;
        is_any |= asking[i] != 0;
    }
    if (!is_any) { return {}; }
    calendar_data data{.model = std::shared_ptr<season_model const>{&model,
                                                                    [](auto*) {
                                                                    }},
                       .wanted = wanted};
    chosen_springs const none;
    return spring_finder{data, model, none}.springs_of(asking);
}

}  // namespace epicotyl::detail
