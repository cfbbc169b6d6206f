// What may be tried with a batch, and the crop and succession that it makes.
#include <algorithm>
#include <cmath>
#include <span>
#include <variant>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>

#include "../../plan/grow.hpp"
#include "../../season/days/calendar_data.hpp"
#include "fit_plan.hpp"
#include "fit_trials.hpp"

namespace epicotyl::detail {

namespace {

constexpr double early_shares[] = {0.25, 0.5, 0.75};
/// Days that a target gives way by itself, and together with a change of stages.
constexpr int shifts_alone[] = {1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 17, 21, 28};
constexpr int shifts_with[] = {4, 8, 14};
constexpr int coarse_shifts[] = {3, 7, 14};

/// Places that the words of a `where` name or mean, in its order.
std::vector<int> places_of(plan const& of, std::vector<std::string> const& where) {
    std::vector<int> found;
    auto const add = [&](std::size_t place) {
        int const index = static_cast<int>(place);
        if (std::find(found.begin(), found.end(), index) == found.end()) { found.push_back(index); }
    };
    for (std::string const& word : where) {
        for (std::size_t p = 0; p < of.places().size(); ++p) {
            place const& one = of.places()[p];
            bool const named = one.name == word || one.id == word;
            bool const serves = std::any_of(one.jobs.begin(), one.jobs.end(),
                                            [&](job what) { return to_string(what) == word; });
            if (named || serves) { add(p); }
        }
    }
    return found;
}

/// A share of a wait; none for waits that cannot be cut.
std::optional<clock> cut(clock const& of, double share) {
    auto const part = std::visit(
        overloaded{[](clock_group const&) -> std::optional<clock> { return std::nullopt; },
                   [&](calendar_wait wait) -> std::optional<clock> {
                       // The rest is whole days, so that both parts together are the wait.
                       wait.days -= std::round(wait.days * (1.0 - share));
                       return clock::of(wait);
                   },
                   [&]<simple_wait Wait>(Wait wait) -> std::optional<clock> {
                       if (!Wait::is_divisible) { return std::nullopt; }
                       wait.set_needed(wait.needed() * share);
                       return clock::of(wait);
                   }},
        of.what());
    return part && of.gate() ? part->gated(*of.gate()) : part;
}

std::optional<clock> rest_of(clock const& of, double share) {
    if (auto const days = of.calendar_days()) {
        clock const made = clock::days(std::round(*days * (1.0 - share)));
        return of.gate() ? made.gated(*of.gate()) : made;
    }
    return cut(of, 1.0 - share);
}

/// False where a place counts area and the container (null: none) has none: a plan with that would
/// be refused.
bool may_stand(plan const& of, container const* held, int where) {
    place const& one = of.places()[at(where)];
    return held == nullptr || held->area || area_counted_in(of.places(), one) == nullptr;
}

void add_places(plan const& of, int batch, std::vector<batch_change>& found) {
    resolved_succession const& one = of.successions()[at(batch)];
    batch_change all;
    for (int j = 0; j < static_cast<int>(one.places.size()); ++j) {
        std::vector<int> const choice = places_of(of, one.grown->stages[at(j)].where);
        container const* const held = container_of(of, batch, j);
        for (std::size_t k = 0; k < choice.size(); ++k) {
            if (choice[k] == one.places[at(j)] || !may_stand(of, held, choice[k])) { continue; }
            other_place const other{j, choice[k], static_cast<int>(k)};
            found.push_back({.places = {other}});
            if (k == 1) { all.places.push_back(other); }
        }
    }
    if (all.places.size() > 1) { found.push_back(all); }
}

void add_early(plan const& of, int batch, std::vector<batch_change>& found) {
    resolved_succession const& one = of.successions()[at(batch)];
    for (int j = 0; j + 1 < static_cast<int>(one.places.size()); ++j) {
        int const next = one.places[at(j + 1)];
        stage const& own = one.grown->stages[at(j)];
        bool const hardens = of.places()[at(next)].serves(job::harden);
        bool const taken = event_index(*one.grown, early_event).has_value();
        bool const waits = is_outcome(*one.grown, j + 1);
        if (!hardens || taken || waits || next == one.places[at(j)] || own.container.empty()) {
            continue;
        }
        if (!may_stand(of, container_of(of, batch, j), next)) { continue; }
        for (double share : early_shares) {
            std::optional<clock> const part = cut(own.takes, share);
            bool const whole = part && part->calendar_days().value_or(1.0) < 1.0;
            if (part && !whole) { found.push_back({.early = early_move{j, next, share}}); }
        }
    }
}

double area_of_cell(container const& of) {
    return of.area.value_or(0.0) / of.cells;
}

/// Roots in less than half the room are another crop.
bool is_crowded(container const& own, container const& other) {
    bool const half_area =
        own.area && other.area && area_of_cell(other) < area_of_cell(own) / 2.0 - 1e-12;
    return other.cells > 2 * own.cells || half_area;
}

/// Of the containers that may stand in all of these places: the next denser one by its number of
/// cells, and by the area of a cell.
std::vector<container const*> denser_containers(plan const& of, container const& own,
                                                std::span<int const> places) {
    container const* more_cells = nullptr;
    container const* less_area = nullptr;
    for (container const& other : of.parts().containers) {
        bool const fits = std::all_of(places.begin(), places.end(),
                                      [&](int where) { return may_stand(of, &other, where); });
        if (!fits || is_crowded(own, other)) { continue; }
        bool const next_cells = more_cells == nullptr || other.cells < more_cells->cells;
        if (other.cells > own.cells && next_cells) { more_cells = &other; }
        bool const smaller = own.area && other.area && area_of_cell(other) < area_of_cell(own);
        bool const next_area =
            less_area == nullptr || area_of_cell(other) > area_of_cell(*less_area);
        if (smaller && next_area) { less_area = &other; }
    }
    std::vector<container const*> found;
    if (more_cells != nullptr) { found.push_back(more_cells); }
    if (less_area != nullptr && less_area != more_cells) { found.push_back(less_area); }
    return found;
}

void add_containers(plan const& of, int batch, std::vector<batch_change>& found) {
    resolved_succession const& one = of.successions()[at(batch)];
    std::vector<stage> const& stages = one.grown->stages;
    int const last = static_cast<int>(stages.size());
    for (int first = 0, end = 1; first < last; first = end++) {
        while (end < last && stages[at(end)].container == stages[at(first)].container) { ++end; }
        container const* const own = container_of(of, batch, first);
        // Trays that are sown full are trays of that container.
        bool const counts = first == 0 && one.amount.what == amount::measure::trays;
        if (own == nullptr || counts) { continue; }
        auto const places = std::span{one.places}.subspan(at(first), at(end - first));
        for (container const* denser : denser_containers(of, *own, places)) {
            found.push_back({.container = container_change{first, end, denser->name}});
        }
    }
}

std::vector<batch_change> changes_of_stages(plan const& planned, int batch,
                                            fit_options const& options) {
    // Who follows another takes its bed: both stay where that is.
    bool const follows = std::any_of(
        planned.links().begin(), planned.links().end(), [batch](resolved_link const& link) {
            return link.source < 0 &&
                   (link.then.succession == batch || link.firsts.front().succession == batch);
        });
    std::vector<batch_change> stages;
    if (options.places && !follows) { add_places(planned, batch, stages); }
    if (options.early) { add_early(planned, batch, stages); }
    if (options.containers) { add_containers(planned, batch, stages); }
    return stages;
}

/// True where plants bought instead would be there within the season.
bool comes(calendar const& of, int batch, std::optional<int> bought) {
    plan const& planned = of.plan();
    return bought &&
           *bought < static_cast<int>(planned.successions()[at(batch)].grown->stages.size()) &&
           of.data()->successions[at(batch)].planned[at(*bought)] < planned.window().length();
}

}  // namespace

std::span<int const> days_to_shift(bool coarse) {
    return coarse ? std::span<int const>{coarse_shifts} : std::span<int const>{shifts_alone};
}

int way_of(resolved_succession const& one) {
    if (traits_of(one.target_rule).is_deadline) { return -1; }
    bool const decision = !is_outcome(*one.grown, one.target_event);
    bool const fixed = asks_exactly(one.target_rule) || is_scanned_for(one.target_rule);
    return decision && !fixed && !one.repeat_of ? 1 : 0;
}

std::vector<batch_change> changes_to_try(calendar const& of, int batch, fit_options const& options,
                                         bool coarse) {
    plan const& planned = of.plan();
    resolved_succession const& one = planned.successions()[at(batch)];
    std::vector<batch_change> const stages = changes_of_stages(planned, batch, options);
    std::vector<batch_change> found;
    int const way = way_of(one);
    auto const shift_by = [&](std::span<int const> days) {
        for (int one_shift : days) {
            if (one_shift <= options.most_shift) { found.push_back({.shift = way * one_shift}); }
        }
    };
    if (way != 0) { shift_by(days_to_shift(coarse)); }
    for (batch_change const& change : stages) {
        found.push_back(change);
        if (way == 0 || coarse) { continue; }
        for (int days : shifts_with) {
            if (days > options.most_shift) { continue; }
            found.push_back(change);
            found.back().shift = way * days;
        }
    }
    std::optional<int> const bought = bought_event(planned, batch);
    if (options.leave_out && comes(of, batch, bought)) { found.push_back({.bought = bought}); }
    // No target leaves the season.
    season const& window = planned.window();
    std::optional<day> const due = day_due(one.target_rule);
    int const aimed = due ? window.offset_of(*due) : of.data()->successions[at(batch)].target_day;
    std::erase_if(found, [&](batch_change const& change) {
        int const day = aimed + change.shift;
        return change.shift != 0 && (day < 0 || day > window.length());
    });
    return found;
}

crop changed_crop(plan const& of, int batch, batch_change const& change) {
    crop made = *of.successions()[at(batch)].grown;
    made.not_before.clear();
    made.not_after.clear();
    for (other_place const& one : change.places) {
        made.stages[at(one.stage)].where = {of.places()[at(one.place)].name};
    }
    if (change.container) {
        for (int j = change.container->first; j < change.container->last; ++j) {
            made.stages[at(j)].container = change.container->container;
        }
    }
    if (change.early) {
        auto const own = made.stages.begin() + change.early->stage;
        stage out = *own;
        out.begins = early_event;
        out.who = performer::grower;
        out.where = {of.places()[at(change.early->place)].name};
        out.takes = *cut(own->takes, change.early->share);
        own->takes = *rest_of(own->takes, change.early->share);
        own->survives = 1.0;
        own->hold.reset();
        // What hurts the stage hurts its part as well, whatever the place.
        out.limit = of.successions()[at(batch)].limit(change.early->stage);
        made.stages.insert(own + 1, std::move(out));
    }
    if (change.bought) {
        // Limits that hang on what went before are said for each stage.
        for (int j = *change.bought; j < static_cast<int>(made.stages.size()); ++j) {
            made.stages[at(j)].limit = of.successions()[at(batch)].limit(j);
        }
        made.stages.erase(made.stages.begin(), made.stages.begin() + *change.bought);
    }
    return made;
}

std::optional<int> field_stage(plan const& of, int batch) {
    resolved_succession const& one = of.successions()[at(batch)];
    for (int j = 0; j < static_cast<int>(one.places.size()); ++j) {
        stage const& own = one.grown->stages[at(j)];
        bool const field = of.places()[at(one.places[at(j)])].serves(job::field);
        if (own.spacing || (field && own.container.empty())) { return j; }
    }
    return std::nullopt;
}

std::optional<int> bought_event(plan const& of, int batch) {
    resolved_succession const& one = of.successions()[at(batch)];
    std::optional<int> const field = field_stage(of, batch);
    int const event = field.value_or(one.target_event);
    bool const ends = event == static_cast<int>(one.grown->stages.size());
    if (event == 0 || (!ends && is_outcome(*one.grown, event))) { return std::nullopt; }
    return event;
}

bool is_priced(plan const& of, int batch, int event) {
    int const target = of.successions()[at(batch)].target_event;
    int const field = field_stage(of, batch).value_or(target);
    int const harvest =
        event_index(*of.successions()[at(batch)].grown, "first_harvest").value_or(target);
    return event >= std::min({target, harvest, field == 0 ? target : field});
}

succession shifted_succession(calendar_data const& of, int batch, int shift) {
    plan const& planned = of.model->planned;
    season const& window = planned.window();
    resolved_succession const& one = planned.successions()[at(batch)];
    succession const& said = planned.parts().successions[at(one.source)];
    succession made{
        .name = one.name,
        .id = one.id,
        .crop = said.crop,
        .amount = one.amount,
        .target = {std::string{event_name(*one.grown, one.target_event)}, one.target_rule},
        .not_before = one.not_before,
        .not_after = one.not_after,
        .reliability = said.reliability,
        .risk = one.risk,
        .wave = one.wave,
        .changes = said.changes};
    if (one.is_prefer_said || one.prefer == preference::early) { made.prefer = one.prefer; }
    if (one.repeat_of) {
        made.target.rule = on_rule{window.start() + days{of.successions[at(batch)].asked}};
    }
    if (shift == 0) { return made; }
    if (auto const due = day_due(made.target.rule)) {
        made.target.rule = by_rule{*due + days{shift}};
        made.prefer = one.prefer;  // the day asked for is not to change it
        return made;
    }
    // The rule stays; a bound on the same event moves the day, which is no earlier than it was.
    day const when = window.start() + days{of.successions[at(batch)].target_day + shift};
    std::erase_if(made.not_before,
                  [&](event_bound const& bound) { return bound.event == made.target.event; });
    made.not_before.push_back({made.target.event, from_rule{when}});
    return made;
}

succession bought_succession(calendar_data const& of, int batch, int event, double plants) {
    plan const& planned = of.model->planned;
    resolved_succession const& one = planned.successions()[at(batch)];
    crop const& grown = *one.grown;
    auto const falls_away = [&](event_bound const& bound) {
        return event_index(grown, bound.event).value() < event;
    };
    succession made = shifted_succession(of, batch, 0);
    made.amount = {amount::measure::plants, whole_plants(plants)};
    made.target = {
        std::string{event_name(grown, event)},
        on_rule{planned.window().start() + days{of.successions[at(batch)].planned[at(event)]}}};
    made.changes.clear();
    std::erase_if(made.not_before, falls_away);
    std::erase_if(made.not_after, falls_away);
    return made;
}

std::optional<int> changed_event(batch_change const& change, int event) {
    if (change.bought && event < *change.bought) { return std::nullopt; }
    if (change.bought) { return event - *change.bought; }
    return change.early && event > change.early->stage ? event + 1 : event;
}

int planned_stage(batch_change const& change, int stage) {
    if (change.bought) { return stage + *change.bought; }
    return change.early && stage > change.early->stage ? stage - 1 : stage;
}

}  // namespace epicotyl::detail
