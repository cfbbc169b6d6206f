#include "grow.hpp"

#include <algorithm>
#include <utility>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/plan/plan_tree.hpp>

namespace epicotyl::detail {

namespace {

[[nodiscard]] std::vector<std::string> stage_fields(crop const& of) {
    std::vector<std::string> fields;
    for (std::size_t j = 0; j < of.stages.size(); ++j) {
        fields.push_back(stage_field(of, static_cast<int>(j)));
    }
    return fields;
}

/// What a change does not say stays; a container takes the place of a spacing, and the other way
/// round.
void apply(stage_change const& change, stage& one) {
    if (change.who) { one.who = change.who; }
    if (change.where) { one.where = *change.where; }
    if (change.takes) { one.takes = *change.takes; }
    if (change.container || change.spacing) {
        one.container = change.container.value_or("");
        one.spacing = change.spacing;
    }
    if (change.survives) { one.survives = *change.survives; }
    if (change.hold) {
        one.hold = *change.hold == any_hold ? std::optional<double>{} : change.hold;
    }
    if (change.limit) { one.limit = change.limit; }
    if (change.too_hot) { one.too_hot = change.too_hot; }
    if (change.lost_at) { one.lost_at = change.lost_at; }
}

}  // namespace

grown_crop crop_grower::grown(int crop_index, std::vector<stage_change> const& changes,
                              std::string const& field) {
    std::size_t const index = static_cast<std::size_t>(crop_index);
    if (changes.empty()) { return unchanged(index); }
    return changed(parts_.crops[index], changes, field);
}

void crop_grower::require_limit(rule const& one, std::string const& event, grown_crop const& grown,
                                std::string const& field) {
    if (!accepts_risk_of_stage(one)) { return; }
    int const index = event_index(*grown.what, event).value();
    if (stage_limit(*grown.what, index, grown.starts_in_field)) { return; }
    refuse_part("rule.no_limit", field, event,
                fmt::format("the stage \"{}\" of \"{}\" has no limit of cold to be at risk from",
                            event, grown.what->name),
                "give the rule or the stage a limit, or the crop limit_tender and limit_hardened");
}

void crop_grower::require_limits(std::vector<event_bound> const& bounds, grown_crop const& grown,
                                 std::string const& field) {
    for (event_bound const& bound : bounds) {
        require_limit(bound.rule, bound.event, grown, field + '.' + written_key(bound.event));
    }
}

place const* area_counted_in(std::vector<place> const& all, place const& of) {
    place const* one = &of;
    while (!one->area) {
        if (one->part_of.empty()) { return nullptr; }
        one = &*std::find_if(all.begin(), all.end(), [&](place const& whole) {
            return whole.name == one->part_of || whole.id == one->part_of;
        });
    }
    return one;
}

void crop_grower::require_areas(grown_crop const& grown, std::string const& succession) const {
    for (std::size_t j = 0; j < grown.places.size(); ++j) {
        stage const& stands = grown.what->stages[j];
        if (stands.container.empty()) { continue; }
        container const& held =
            *std::find_if(parts_.containers.begin(), parts_.containers.end(),
                          [&](container const& each) { return each.name == stands.container; });
        place const& where = parts_.places[static_cast<std::size_t>(grown.places[j])];
        place const* const counts = area_counted_in(parts_.places, where);
        if (held.area || counts == nullptr) { continue; }
        std::string_view const unit = unit_door{parts_.units}.unit(quantity::area);
        std::string const whole =
            counts == &where ? std::string{} : fmt::format(", a part of \"{}\"", counts->name);
        refuse_part(
            "container.no_area", "containers." + written_key(held.name), "",
            fmt::format("it has no area, and the stage \"{}\" of \"{}\" stands in it in \"{}\"{}, "
                        "where room is counted in {}",
                        stands.begins, succession, where.name, whole, unit),
            fmt::format("give it the area of one, or leave out that of \"{}\"", counts->name));
    }
}

/// The place that a list of places and jobs means: that of the first word that has one.
std::optional<int> crop_grower::place_for(std::vector<std::string> const& where) const {
    for (std::string const& word : where) {
        auto const named = checker_.places().find(word);
        if (named != checker_.places().end()) { return named->second; }
        for (std::size_t i = 0; i < parts_.places.size(); ++i) {
            for (job const what : parts_.places[i].jobs) {
                if (to_string(what) == word) { return static_cast<int>(i); }
            }
        }
    }
    return std::nullopt;
}

grown_crop crop_grower::placed(std::shared_ptr<crop const> what,
                               std::vector<std::string> const& fields) const {
    std::vector<int> places;
    for (std::size_t j = 0; j < what->stages.size(); ++j) {
        stage const& one = what->stages[j];
        std::optional<int> const found = place_for(one.where);
        if (!found) {
            refuse_part("plan.no_place", fields[j] + ".where", one.where[0],
                        fmt::format("no place is for \"{}\", where the stage \"{}\" of \"{}\" is "
                                    "to stand",
                                    one.where[0], one.begins, what->name),
                        fmt::format("add \"{}\" to what a place is for", one.where[0]));
        }
        places.push_back(*found);
    }
    bool const in_field = parts_.places[static_cast<std::size_t>(places[0])].serves(job::field);
    return {std::move(what), std::move(places), in_field};
}

preference default_preference(grown_crop const& grown, rule const& aim, latitude where) {
    std::vector<stage> const& stages = grown.what->stages;
    bool const stays = std::all_of(grown.places.begin(), grown.places.end(),
                                   [&](int place) { return place == grown.places.front(); });
    bool const heat_stops = std::any_of(stages.begin(), stages.end(), [](stage const& one) {
        return one.begins == "first_harvest" && one.too_hot;
    });
    bool const may_be_sooner = traits_of(aim).for_outcomes && !asks_exactly(aim);
    std::optional<day> const wanted = may_be_sooner ? day_asked(aim) : std::nullopt;
    if (!stays || !heat_stops || !wanted) { return preference::late; }
    unsigned const month{date::year_month_day{*wanted}.month()};
    bool const in_spring = where.value() >= 0.0 ? month <= 7 : month >= 7 || month == 1;
    return in_spring ? preference::early : preference::late;
}

/// Made once for all the successions of the crop.
grown_crop const& crop_grower::unchanged(std::size_t index) {
    std::optional<grown_crop>& kept = unchanged_[index];
    if (!kept) {
        crop const& one = parts_.crops[index];
        kept = placed(std::make_shared<crop const>(one), stage_fields(one));
        require_limits(one.not_before, *kept, crop_field(one) + ".not_before");
        checker_.check_losses(
            *kept->what, [&](int j) { return stage_field(one, j); }, kept->starts_in_field);
    }
    return *kept;
}

/// The stage that a change changes, which no change before it does.
stage& crop_grower::changed_stage(crop& copy, std::vector<stage_change> const& changes,
                                  std::size_t index, std::string const& field) const {
    std::string const& begins = changes[index].begins;
    for (std::size_t k = 0; k < index; ++k) {
        if (changes[k].begins != begins) { continue; }
        refuse_part("stage.changed_twice", field, begins,
                    fmt::format("the stage \"{}\" is changed twice", begins),
                    "make one change of both");
    }
    std::vector<std::string> known;
    for (stage& one : copy.stages) {
        if (one.begins == begins) { return one; }
        known.push_back(one.begins);
    }
    refuse_unknown(fmt::format("stage of \"{}\" that begins with", copy.name), begins, field, known,
                   "");
}

grown_crop crop_grower::changed(crop copy, std::vector<stage_change> const& changes,
                                std::string const& field) const {
    std::vector<std::string> fields = stage_fields(copy);
    std::vector<std::string> loss_fields = fields;
    for (std::size_t i = 0; i < changes.size(); ++i) {
        std::string const own = fmt::format("{}.stage.{}", field, written_key(changes[i].begins));
        stage& one = changed_stage(copy, changes, i, own);
        apply(changes[i], one);
        checker_.check_stage(one, own);
        std::size_t const index = static_cast<std::size_t>(&one - copy.stages.data());
        if (index == 0) { part_checker::check_first(one, own + ".who"); }
        if (changes[i].where) { fields[index] = own; }
        if (changes[i].lost_at) { loss_fields[index] = own; }
    }
    // A performer may have changed, and with it what can wait.
    std::string const bounds_field = crop_field(copy) + ".not_before";
    checker_.check_bounds(copy.not_before, copy, true, bounds_field);
    grown_crop grown = placed(std::make_shared<crop const>(std::move(copy)), fields);
    require_limits(grown.what->not_before, grown, bounds_field);
    checker_.check_losses(
        *grown.what, [&](int j) { return loss_fields[static_cast<std::size_t>(j)]; },
        grown.starts_in_field);
    return grown;
}

}  // namespace epicotyl::detail
