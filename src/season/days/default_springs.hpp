// Which spring a default bound looks into.
//
// A default bound keeps plants off the cold nights of one spring: the half of the year in which, or
// last before which, the event that it protects falls in the plan made without default bounds.
// Where that day lies behind the half, or in its last 30 days, the spring is over and there is no
// bound: kale planted out in August has none, whenever it is to be picked and whenever the season
// starts. So `schedule` first plans what has such bounds without them.
//
// Most successions of a large plan stand alone, and those of one path with the same bounds differ
// in the day that they ask for. The later that is, the later are their planned days: between two
// days asked for with the same springs all have them, and few have to be planned.
#ifndef EPICOTYL_SRC_SEASON_DAYS_DEFAULT_SPRINGS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_DEFAULT_SPRINGS_HPP

#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <tuple>
#include <vector>

#include "../tables/season_model.hpp"

namespace epicotyl::detail {

/// Of each succession; null: it has no default bound. Empty: nothing has one.
using chosen_springs = std::vector<std::shared_ptr<spring_choice const>>;

/// Where planned days of protected events lie among the springs; later days never give less.
using spring_places = std::vector<int>;

/// The place of each of `events`, whose days are planned without default bounds.
[[nodiscard]] spring_places places_among_springs(season_model const& model, int succession,
                                                 std::vector<int> const& events,
                                                 std::span<int const> planned);

/// What those places mean. Equal ones of one path share one answer.
class spring_chooser {
public:
    explicit spring_chooser(season_model const& model) : model_{model} {}

    [[nodiscard]] std::shared_ptr<spring_choice const> choose(int succession,
                                                              std::vector<int> const& events,
                                                              spring_places const& places);

private:
    season_model const& model_;
    std::map<std::tuple<int, int, std::vector<int>, spring_places>,
             std::shared_ptr<spring_choice const>>
        known_;
};

/// Places of successions that stand alone and differ only in the day asked for.
class places_by_day {
public:
    /// None where no two days around this one have the same.
    [[nodiscard]] spring_places const* find(int asked) const {
        for (run const& one : runs_) {
            if (one.first <= asked && asked <= one.last) { return &one.places; }
        }
        return nullptr;
    }
    /// `rises`: later days asked for never have earlier places.
    void add(int asked, spring_places places, bool rises) {
        for (run& one : runs_) {
            if (!rises || one.places != places) { continue; }
            one.first = std::min(one.first, asked);
            one.last = std::max(one.last, asked);
            return;
        }
        runs_.push_back({asked, asked, std::move(places)});
    }

private:
    struct run {
        int first;
        int last;
        spring_places places;
    };
    std::vector<run> runs_ = {};
};

/// The springs of all successions, from the plan made without default bounds, at a reliability.
[[nodiscard]] chosen_springs find_springs(season_model& model, reliability wanted);

}  // namespace epicotyl::detail

#endif
