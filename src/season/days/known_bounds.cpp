#include "known_bounds.hpp"

#include <algorithm>
#include <variant>

#include <epicotyl/plan/plan.hpp>

#include "../rows/rule_days.hpp"

namespace epicotyl::detail {

namespace {

/// More kinds of bounds than this are not told apart by looking through them one by one.
constexpr std::size_t most_entries = 8;

}  // namespace

void known_bounds::give(season_model const& model, int succession, succession_days& to,
                        std::vector<obstacle>& problems) {
    resolved_succession const& one = model.planned.successions()[at(succession)];
    risk_rule const* const risk = risk_accepted(one.target_rule);
    entry made{.target_event = one.target_event,
               .is_on = asks_exactly(one.target_rule),
               .names_risk = accepts_risk_of_stage(one.target_rule),
               .springs = to.springs,
               .not_before = &one.not_before,
               .not_after = &one.not_after};
    if (one.risk.share()) {
        made.share = one.risk.share()->value();
        if (risk != nullptr) {
            made.half = model.cold.spring_half(model.cold.after_offset(risk->after)).first;
        }
    }
    std::vector<entry>& all = of_path_[model.path_of[at(succession)]];
    for (entry const& known : all) {
        if (known.target_event == made.target_event && known.is_on == made.is_on &&
            known.names_risk == made.names_risk && known.share == made.share &&
            known.half == made.half && known.springs == made.springs &&
            *known.not_before == *made.not_before && *known.not_after == *made.not_after) {
            to.hold_those_of(known.like);
            return;
        }
    }
    to.hold(bounds_of(model, succession, to.springs.get(), problems));
    if (!problems.empty() || all.size() == most_entries) { return; }
    made.like.hold_those_of(to);
    all.push_back(std::move(made));
}

earliest_days::walked& earliest_days::without_links(path_walker const& walker, days_table& days,
                                                    int succession, batch_walk what) {
    auto const [found, is_new] = known_.try_emplace({what.path, what.bounds, what.sowing});
    if (is_new) {
        what.is_linked = false;
        walker.walk(days, what, 0, 0, days.years);
        std::int16_t const* const begin = days.day.get() + days.cell(succession, 0, 0);
        found->second.days.assign(begin, begin + what.bounds->size() * at(days.years));
    }
    return found->second;
}

int earliest_days::kth_day(path_walker const& walker, days_table& days, int succession,
                           int earliest, int event, int k) {
    walked& known = without_links(walker, days, succession, walker.batch(succession, earliest, 0));
    if (known.event != event || known.k != k) {
        std::span const all{known.days};
        known.kth = kth_smallest(all.subspan(at(event) * at(days.years), at(days.years)), k);
        known.event = event;
        known.k = k;
    }
    return known.kth;
}

void earliest_days::walk(path_walker const& walker, days_table& days, int succession,
                         int earliest) {
    batch_walk const with_links = walker.batch(succession, earliest, 0);
    walked const& known = without_links(walker, days, succession, with_links);
    std::copy(known.days.begin(), known.days.end(), days.day.get() + days.cell(succession, 0, 0));
    if (!with_links.is_linked) { return; }
    // Links change nothing before the first event that one of them puts off.
    for (int e = 0; e < static_cast<int>(with_links.bounds->size()); ++e) {
        if (!walker.has_links(succession, e)) { continue; }
        for (int y = 0; y < days.years; ++y) {
            if (walker.link_day(days, succession, e, y) <= days.at(succession, e, y)) { continue; }
            walker.walk(days, with_links, e, 0, days.years);
            return;
        }
    }
}

}  // namespace epicotyl::detail
