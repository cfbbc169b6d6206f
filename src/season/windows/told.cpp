#include <algorithm>
#include <ranges>

#include <fmt/format.h>

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/plan/plan.hpp>

#include "../../plan/check.hpp"
#include "../rows/rule_days.hpp"
#include "../rows/say.hpp"
#include "told.hpp"

namespace epicotyl::detail {

namespace {

/// Finds where a plan says something: the first of the fields that it has.
class field_finder {
public:
    explicit field_finder(plan const& of) : plan_{of} {}

    /// Sets field and line. Of none that is written, the first field stands.
    void set(requirement& one, std::vector<std::string> const& fields) const {
        one.field = fields.front();
        for (std::string const& field : fields) {
            int const line = plan_.line_of(field);
            if (line == 0) { continue; }
            one.field = field;
            one.line = line;
            return;
        }
    }

    /// A key of a crop, there or in a crop that it is like; with a point before the key.
    void add_crop_fields(std::vector<std::string>& fields, crop const& of,
                         std::string const& key) const {
        std::string name = of.name;
        while (true) {
            fields.push_back("crops." + written_key(name) + key);
            if (plan_.is_edited(fields.back())) { return; }
            plan_tree const* const model =
                plan_.source() == nullptr
                    ? nullptr
                    : plan_.source()->find_path("crops." + written_key(name) + ".like");
            if (model == nullptr) { return; }
            name = model->as_text();
        }
    }

private:
    plan const& plan_;
};

[[nodiscard]] std::vector<std::string> bound_fields(plan const& of, resolved_succession const& one,
                                                    int event, reason const& why, char const* key) {
    field_finder const finder{of};
    std::string const own = succession_field(one.source);
    std::vector<std::string> fields;
    if (why.code == "bound.open") {
        fields.push_back("places." + written_key(of.places()[at(one.places[at(event)])].name) +
                         ".open");
    } else if (why.code.starts_with("bound.risk")) {
        fields.push_back(own + ".risk");
        finder.add_crop_fields(fields, *one.grown, ".risk");
        fields.emplace_back("defaults.risk");
    } else {
        std::string const name = '.' + written_key(event_name(*one.grown, event));
        fields.push_back(own + '.' + key + name);
        finder.add_crop_fields(fields, *one.grown, '.' + (key + name));
    }
    return fields;
}

[[nodiscard]] std::vector<std::string> stage_fields(plan const& of, resolved_succession const& one,
                                                    int stage, bool is_hold) {
    field_finder const finder{of};
    std::string const change = fmt::format("{}.stage.{}", succession_field(one.source),
                                           written_key(event_name(*one.grown, stage)));
    std::string const in_crop = fmt::format(".stages[{}]", stage + 1);
    std::vector<std::string> fields;
    auto const add = [&](char const* key) {
        fields.push_back(change + key);
        finder.add_crop_fields(fields, *one.grown, in_crop + key);
    };
    if (is_hold) { add(".hold"); }
    add(".takes");
    return fields;
}

/// What a target asks for; with its day, where bounds or links have moved a decision to another.
[[nodiscard]] std::string asked_text(window_frame const& frame, int succession) {
    season_model const& model = frame.model();
    succession_days const& known = frame.of->successions[at(succession)];
    resolved_succession const& one = model.planned.successions()[at(succession)];
    std::string text = why_asked(model, succession).sentence;
    bool const is_moved = known.resolved && !is_outcome(*one.grown, one.target_event) &&
                          known.target_day != known.asked;
    if (is_moved) {
        text = fmt::format("wanted {}: {}", say_day(model.planned, known.asked), text);
    }
    return text;
}

/// One row: the words for it, and where the plan says it.
class row_teller {
public:
    row_teller(window_frame const& frame, requirement_row const& row)
        : frame_{frame},
          row_{row},
          model_{frame.model()},
          planned_{model_.planned},
          one_{planned_.successions()[at(row.to.succession)]},
          made_{.kind = row.kind,
                .succession = one_.name,
                .event = std::string{event_name(*one_.grown, row.to.event)},
                .is_upper = row.is_upper} {
        if (row.from == no_event) { return; }
        resolved_succession const& from = planned_.successions()[at(row.from.succession)];
        made_.from_succession = from.name;
        made_.from_event = std::string{event_name(*from.grown, row.from.event)};
    }

    [[nodiscard]] requirement tell() && {
        std::string const own = succession_field(one_.source);
        switch (row_.kind) {
            case requirement_kind::season_start:
                return told_season_start(frame_, row_.to);
            case requirement_kind::not_before:
                say_bound(bounds().lower[at(row_.note)].why, "not_before");
                break;
            case requirement_kind::not_after:
                say_bound(*bounds().upper, "not_after");
                break;
            case requirement_kind::target:
                say(asked_text(frame_, row_.to.succession), {own + ".target"});
                break;
            case requirement_kind::planned:
                say(fmt::format("it comes earlier in fewer than {}, and so this day is planned",
                                say_years(years_wanted(), model_.years)),
                    {own});
                break;
            case requirement_kind::season_end:
                say(fmt::format(
                        "the season ends on {}",
                        to_day_month_year(planned_.window().start() + days{model_.season_days},
                                          planned_.parts().units)),
                    {"site.season_days"});
                break;
            case requirement_kind::stage:
                say(fmt::format("the time it takes after {} in {}", say_event(made_.from_event),
                                say_place(planned_, one_.places[at(row_.from.event)])),
                    stage_fields(planned_, one_, row_.from.event, false));
                break;
            case requirement_kind::hold:
                say(fmt::format("ready plants hold for {}", say_days(whole_of(hold()))),
                    stage_fields(planned_, one_, row_.from.event, true));
                break;
            case requirement_kind::link:
                say(fmt::format("it waits for {} of \"{}\"", say_event(made_.from_event),
                                made_.from_succession),
                    link_fields(".after"));
                break;
            case requirement_kind::within:
                say(fmt::format("at most {} after {} of \"{}\"", say_days(whole_of(*link().within)),
                                say_event(made_.from_event), made_.from_succession),
                    link_fields(".within"));
                break;
        }
        return std::move(made_);
    }

private:
    void say(std::string sentence, std::vector<std::string> const& fields) {
        made_.sentence = std::move(sentence);
        field_finder{planned_}.set(made_, fields);
    }
    void say_bound(reason const& why, char const* key) {
        say(why.sentence, bound_fields(planned_, one_, row_.to.event, why, key));
    }

    [[nodiscard]] event_bounds const& bounds() const {
        return (*frame_.batches[at(row_.to.succession)].bounds)[at(row_.to.event)];
    }
    /// How many season years keep the sowing (note 0) or the target on its planned day.
    [[nodiscard]] int years_wanted() const {
        succession_days const& mine = frame_.of->successions[at(row_.to.succession)];
        return row_.note == 0 ? mine.link_need : mine.need;
    }
    [[nodiscard]] double hold() const {
        return model_.stages[at(row_.to.succession)][at(row_.from.event)].hold;
    }
    [[nodiscard]] resolved_link const& link() const { return planned_.links()[at(row_.link)]; }
    [[nodiscard]] std::vector<std::string> link_fields(char const* key) const {
        if (link().source < 0) { return {succession_field(one_.source) + ".follows"}; }
        std::string const field = link_field(link().source);
        return {field + key, field};
    }

    window_frame const& frame_;
    requirement_row const& row_;
    season_model const& model_;
    plan const& planned_;
    resolved_succession const& one_;
    requirement made_;
};

}  // namespace

requirement told_season_start(window_frame const& frame, event_of const& of) {
    plan const& planned = frame.model().planned;
    resolved_succession const& one = planned.successions()[at(of.succession)];
    requirement made{.kind = requirement_kind::season_start,
                     .succession = one.name,
                     .event = std::string{event_name(*one.grown, of.event)},
                     .sentence = fmt::format(
                         "the season starts on {}",
                         to_day_month_year(planned.window().start(), planned.parts().units))};
    field_finder{planned}.set(made, {"site.season_start", "year"});
    return made;
}

requirement told(window_frame const& frame, requirement_row const& row) {
    return row_teller{frame, row}.tell();
}

std::string step_text(plan const& of, conflict_step const& step) {
    std::string const when =
        step.when ? fmt::format("{} {}", step.no_sooner ? "not before" : "no later than",
                                say_day(of, of.window().offset_of(*step.when)))
                  : "not within the season";
    // The longest wait is said of the later event, and here it holds the one waited for.
    std::string const whose =
        step.because.kind == requirement_kind::within && step.no_sooner
            ? fmt::format("{} of \"{}\" ", say_event(step.because.event), step.because.succession)
            : "";
    return fmt::format("{} of \"{}\" {}{} ({}{})", say_event(step.event), step.succession, when,
                       step.turns > 1 ? fmt::format(", after {} turns", step.turns) : "", whose,
                       step.because.sentence);
}

std::string broken_text(plan const& of, season_conflict const& conflict) {
    bool const no_sooner = conflict.steps.empty() || conflict.steps.back().no_sooner;
    return fmt::format(
        "{} of \"{}\" {} ({})", say_event(conflict.broken.event), conflict.broken.succession,
        conflict.allowed ? fmt::format("{} {}", no_sooner ? "no later than" : "not before",
                                       say_day(of, of.window().offset_of(*conflict.allowed)))
                         : "within the season",
        conflict.broken.sentence);
}

std::vector<named_row> named_rows(window_network const& of, walk const& proof) {
    std::vector<named_row> rows;
    auto const add = [&](named_row const& one) {
        if (std::ranges::find(rows, one.row, &named_row::row) == rows.end()) {
            rows.push_back(one);
        }
    };
    auto const add_bound = [&](std::optional<int> label) {
        add(label ? named_row{*label, of.rows[at(*label)]} : named_row{});
    };
    add_bound(proof.start.label);
    for (event_step const& step : event_steps(of, proof)) { add({step.row, step.what}); }
    add_bound(proof.broken.label);
    return rows;
}

season_conflict told(window_frame const& frame, window_network const& of, walk const& proof) {
    season_model const& model = frame.model();
    plan const& planned = model.planned;
    season_conflict made;
    auto const name_of = [&](event_of const& one) -> std::string const& {
        return planned.successions()[at(one.succession)].name;
    };
    auto const add_name = [&](event_of const& one) {
        std::string const& name = name_of(one);
        if (std::find(made.successions.begin(), made.successions.end(), name) ==
            made.successions.end()) {
            made.successions.push_back(name);
        }
    };
    auto const day_of = [&](std::optional<int> value) -> std::optional<day> {
        if (!value || *value > model.season_days) { return std::nullopt; }
        return planned.window().day_at(*value);
    };
    auto const because = [&](std::optional<int> label, std::size_t vertex) {
        return label ? told(frame, of.rows[at(*label)])
                     : told_season_start(frame, of.owner[vertex]);
    };
    auto const add_step = [&](requirement why, std::size_t vertex, std::optional<int> value,
                              int turns) {
        event_of const& one = of.owner[vertex];
        add_name(one);
        made.steps.push_back({.because = std::move(why),
                              .succession = name_of(one),
                              .event = std::string{event_name(
                                  *planned.successions()[at(one.succession)].grown, one.event)},
                              .no_sooner = proof.way == push::later,
                              .when = day_of(value),
                              .turns = turns});
    };
    std::size_t const begin = begin_of(of, proof);
    add_step(because(proof.start.label, begin), begin, proof.start.value, 1);
    for (event_step const& step : event_steps(of, proof)) {
        add_step(told(frame, step.what), step.vertex, step.value, step.turns);
    }
    made.broken = because(proof.broken.label, proof.broken.vertex);
    made.allowed = day_of(proof.broken.value);

    std::string text;
    for (conflict_step const& step : made.steps) {
        text += (text.empty() ? "" : "; ") + step_text(planned, step);
    }
    text += "; but " + broken_text(planned, made);
    made.sentence = std::move(text);
    return made;
}

}  // namespace epicotyl::detail
