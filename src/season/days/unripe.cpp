#include "unripe.hpp"

#include <algorithm>
#include <cstddef>
#include <map>
#include <string_view>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../rows/say.hpp"
#include "lost.hpp"

namespace epicotyl::detail {

void unripe_list::add(int succession, std::span<std::int16_t const> lost) {
    season_model const& model = *data_.model;
    stage_path const& path = model.paths[at(model.path_of[at(succession)])];
    int const last = static_cast<int>(path.stages.size());
    int const event = path.is_harvested ? path.lost_until : last;
    std::span<std::int16_t const> const days = data_.days.row_days(succession, event);
    int reached = 0;
    for (int y = 0; y < model.years; ++y) {
        reached += days[at(y)] < never && lost[at(y)] >= never ? 1 : 0;
    }
    if (2 * reached >= model.years) { return; }
    found_.push_back({succession, event, reached, lost_years(lost)});
}

std::vector<std::string> unripe_list::notes() {
    season_model const& model = *data_.model;
    std::sort(found_.begin(), found_.end(),
              [](found const& a, found const& b) { return a.succession < b.succession; });
    auto const batch = [&](found const& one) -> resolved_succession const& {
        return model.planned.successions()[at(one.succession)];
    };
    struct group {
        found const* first;
        std::vector<std::string> alike = {};
    };
    std::vector<group> groups;
    std::map<std::pair<std::string_view, std::string_view>, std::size_t> by_crop;
    std::map<std::tuple<std::string_view, int, int>, std::size_t> by_years;
    for (found const& one : found_) {
        std::string_view const event = event_name(*batch(one).grown, one.event);
        std::pair const crop{std::string_view{batch(one).grown->name}, event};
        std::tuple const years{event, one.reached, one.lost};
        auto const same_crop = by_crop.find(crop);
        auto const same_years = by_years.find(years);
        if (same_crop == by_crop.end() && same_years == by_years.end()) {
            by_crop.emplace(crop, groups.size());
            by_years.emplace(years, groups.size());
            groups.push_back({&one});
            continue;
        }
        std::size_t const into =
            same_crop != by_crop.end() ? same_crop->second : same_years->second;
        by_crop.emplace(crop, into);
        groups[into].alike.push_back(batch(one).name);
    }

    std::vector<std::string> all;
    for (auto const& [one, alike] : groups) {
        std::string const event = say_event(event_name(*batch(*one).grown, one->event));
        int const late = model.years - one->reached - one->lost;
        std::string why;
        if (one->lost > 0) { why = fmt::format("in {} it is lost to cold before", one->lost); }
        if (late > 0) {
            why += fmt::format("{}in {} the season of {} days ends before", why.empty() ? "" : ", ",
                               late, model.season_days);
        }
        bool const is_harvest = event == "first harvest";
        all.push_back(fmt::format(
            "{} {} {} here: {} comes in {} ({}){}; {}", batch(*one).name,
            one->reached == 0 ? "never" : "seldom",
            is_harvest ? std::string{"ripens"} : "gets to " + event, event,
            say_years(one->reached, model.years), why,
            say_so_more("is it with", "is it with", alike, alike.size()),
            one->lost > 0
                ? "give it a warmer place or a cover, or grow what ripens earlier"
                : "give it a warmer place or a longer season, or grow what ripens earlier"));
    }
    return all;
}

}  // namespace epicotyl::detail
