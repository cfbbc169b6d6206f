#include "asked_rules.hpp"

#include <variant>

#include <epicotyl/plan/plan.hpp>

#include "../rows/rule_days.hpp"
#include "diagnose.hpp"

namespace epicotyl::detail {

asked_rules::asked_rules(calendar_data& data, season_model const& model,
                         chosen_springs const& springs)
    : data_{data},
      model_{model},
      springs_{springs},
      is_known_(model.planned.successions().size(), 0) {}

/// Of the succession itself, or of the calendar as a whole.
double asked_rules::reliability_of(int succession) const {
    resolved_succession const& one = model_.planned.successions()[at(succession)];
    auto const& own = model_.planned.parts().successions[at(one.source)].reliability;
    return own ? own->value() : data_.wanted.value();
}

/// The wanted number of good years.
int asked_rules::need_of(int succession) const {
    resolved_succession const& one = model_.planned.successions()[at(succession)];
    if (in_harvest_rule const* const harvest = harvest_asked(one.target_rule)) {
        return needed_years(harvest->share.value(), model_.years);
    }
    bool const aims = asks_exactly(one.target_rule) && is_outcome(*one.grown, one.target_event);
    return needed_years(aims ? 0.5 : data_.successions[at(succession)].reliability, model_.years);
}

/// The day that the target asks for. False where its rule gives none, or where a decision is asked
/// for on a day that the season does not reach.
bool asked_rules::ask(int succession, std::optional<int> first_harvest,
                      std::vector<obstacle>& problems) {
    resolved_succession const& one = model_.planned.successions()[at(succession)];
    succession_days& mine = data_.successions[at(succession)];
    if (one.repeat_of) {
        if (!first_harvest || *first_harvest >= never) {
            problems = {repeat_never(model_, succession)};
            return false;
        }
        mine.asked = *first_harvest + one.repeat_days;
        // As a target typed there would be.
        if (mine.asked > model_.season_days) {
            problems = {after_season(model_, mine, succession)};
            return false;
        }
    } else if (std::optional<int> const day =
                   offset_of_rule(model_, succession, one.target_event, one.target_rule)) {
        mine.asked = *day;
    } else {
        problems.push_back(
            *day_of_rule(model_, succession, one.target_event, one.target_rule).none);
        return false;
    }
    bool const waits = !is_outcome(*one.grown, one.target_event);
    if (!waits || mine.asked <= model_.season_days) { return true; }
    problems = {after_season(model_, mine, succession)};
    return false;
}

bool asked_rules::read(int succession, std::optional<int> first_harvest,
                       std::vector<obstacle>& problems) {
    char& is_known = is_known_[at(succession)];
    if (is_known != 0) { return true; }
    problems.clear();
    if (!ask(succession, first_harvest, problems)) { return false; }
    succession_days& mine = data_.successions[at(succession)];
    mine.reliability = reliability_of(succession);
    mine.need = need_of(succession);
    mine.link_need = needed_years(mine.reliability, model_.years);
    if (!springs_.empty()) { mine.springs = springs_[at(succession)]; }
    bounds_.give(model_, succession, mine, problems);
    bool const is_repeat = model_.planned.successions()[at(succession)].repeat_of.has_value();
    is_known = problems.empty() && !is_repeat ? 1 : 0;
    return problems.empty();
}

}  // namespace epicotyl::detail
