#include "unripe.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "lost.hpp"
#include "say.hpp"

namespace epicotyl::detail {

void unripe_list::add(int succession, std::span<std::int16_t const> lost) {
    season_model const& model = *data_.model;
    stage_chain const& chain = model.chains[at(model.chain_of[at(succession)])];
    int const last = static_cast<int>(chain.stages.size());
    int const event = chain.is_harvested ? chain.lost_until : last;
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
    std::vector<std::string> all;
    for (auto one = found_.begin(); one != found_.end(); ++one) {
        auto const is_alike = [&](found const& other) {
            return batch(other).grown->name == batch(*one).grown->name && other.event == one->event;
        };
        if (std::any_of(found_.begin(), one, is_alike)) { continue; }
        std::vector<std::string> alike;
        for (auto other = one + 1; other != found_.end(); ++other) {
            if (is_alike(*other)) { alike.push_back(batch(*other).name); }
        }
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
            say_so_more("is it with", "is it with", alike),
            one->lost > 0
                ? "give it a warmer place or a cover, or grow what ripens sooner"
                : "give it a warmer place or a longer season, or grow what ripens sooner"));
    }
    return all;
}

}  // namespace epicotyl::detail
