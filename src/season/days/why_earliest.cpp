#include <fmt/format.h>

#include "held_text.hpp"

namespace epicotyl::detail {

std::string reason_maker::aim_text(int i) const {
    int const target = batch(i).target_event;
    season const& window = model_.planned.window();
    if (in_harvest_rule const* const harvest = harvest_asked(batch(i).target_rule)) {
        return harvest->words([&](day when) { return say(window.offset_of(when)); });
    }
    return fmt::format("{}{} by {}", is_outcome(*batch(i).grown, target) ? "" : "ready to ",
                       event_text(i, target), say(known(i).target_day));
}

reason reason_maker::why_earliest(int i) const {
    succession_days const& mine = known(i);
    bool const is_scanned = is_scanned_for(batch(i).target_rule);
    reason why = make(i, 0, is_scanned ? "sow.earliest_in_harvest" : "sow.earliest");
    add_day(why, "day", mine.sowing);
    why.values.emplace_back("good_years", std::int64_t{mine.claim.good});
    why.values.emplace_back("needed_years", std::int64_t{mine.need});
    why.values.emplace_back("years", std::int64_t{model_.years});
    add_day(why, "latest", mine.latest_sowing);
    why.sentence = fmt::format(
        "{} {}, as early as it can be{}: {} in {}{}, and {} are wanted", event_text(i, 0),
        say(mine.sowing),
        batch(i).is_prefer_said ? "" : ", because it stays there and heat stops its harvest",
        aim_text(i), say_years(mine.claim.good, model_.years),
        is_scanned ? ", the most there are" : "", mine.need);
    if (mine.latest_sowing > mine.sowing && mine.latest_sowing < never) {
        why.sentence +=
            fmt::format("; its target would let it wait until {}", say(mine.latest_sowing));
    }
    return why;
}

}  // namespace epicotyl::detail
