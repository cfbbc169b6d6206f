#include "cure_trial.hpp"

#include <algorithm>
#include <charconv>

#include <date/date.h>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../tables/joined_parts.hpp"

namespace epicotyl::detail {

namespace {

/// The same rule for another day; what has no day of its own becomes `from` that day.
rule on_day(rule const& of, day when) {
    if (!keeps_to_date(of)) { return from_rule{when}; }
    return asks_exactly(of) ? rule{on_rule{when}} : rule{by_rule{when}};
}

/// Index of "link[3].after", -1 for a field of something else.
int link_of_field(std::string_view field) {
    constexpr std::string_view key = "link[";
    if (!field.starts_with(key)) { return -1; }
    int number = 0;
    std::from_chars(field.data() + key.size(), field.data() + field.size(), number);
    return number - 1;
}

/// A plan in which a requirement gives way by some days.
class typed_way {
public:
    typed_way(season_model const& model, plan const& piece, requirement const& what,
              std::optional<int> bound, int by)
        : model_{model},
          piece_{piece},
          what_{what},
          bound_{bound},
          days_{by},
          index_{piece.succession_index(what.succession)},
          one_{piece.successions()[at(index_)]},
          name_{written_name(piece, index_)},
          parts_{piece.parts()},
          written_{parts_.successions[at(one_.source)]} {}

    /// None where no number of days says it.
    [[nodiscard]] std::optional<plan> made() {
        switch (what_.kind) {
            case requirement_kind::not_before:
                return bound_ ? not_before() : std::nullopt;
            case requirement_kind::not_after:
                if (!bound_) { return std::nullopt; }
                return with_not_after(piece_, name_, what_.event, by_rule{day_of(*bound_ + days_)});
            case requirement_kind::target:
                return target_moved();
            case requirement_kind::stage:
                return shorter_stage();
            case requirement_kind::hold:
                return with_stage_change(
                    piece_, name_,
                    {.begins = what_.from_event, .hold = from_stage().hold.value_or(0.0) + days_});
            case requirement_kind::link:
            case requirement_kind::within:
                return link_changed();
            case requirement_kind::season_start:
            case requirement_kind::season_end:
            case requirement_kind::planned:
                break;
        }
        return std::nullopt;
    }

private:
    [[nodiscard]] day day_of(int offset) const {
        season const& window = piece_.window();
        return window.start() + epicotyl::days{std::clamp(offset, 0, window.length())};
    }
    [[nodiscard]] stage const& from_stage() const {
        return one_.grown->stages[at(*event_index(*one_.grown, what_.from_event))];
    }
    [[nodiscard]] static std::optional<clock> shortened(clock const& of, int by) {
        std::optional<double> const now = of.calendar_days();
        if (!now) { return std::nullopt; }
        return clock::days(std::max(0.0, *now - by));
    }

    [[nodiscard]] std::optional<plan> not_before() {
        if (!what_.field.starts_with("places.")) {
            return with_not_before(piece_, name_, what_.event, from_rule{day_of(*bound_ - days_)});
        }
        int const event = *event_index(*one_.grown, what_.event);
        place& here = parts_.places[at(one_.places[at(event)])];
        if (!here.open) { return std::nullopt; }
        here.open->from = day_of(piece_.window().offset_of(here.open->from) - days_);
        return plan{std::move(parts_)};
    }

    [[nodiscard]] std::optional<plan> target_moved() {
        rule const& now = written_.target.rule;
        if (one_.repeat_of || !bound_ || is_scanned_for(now)) { return std::nullopt; }
        if (moves_with_frost(now) && !what_.is_upper) {
            return with_target_moved(piece_, name_, epicotyl::days{-days_});
        }
        written_.target.rule = on_day(now, day_of(*bound_ + (what_.is_upper ? days_ : -days_)));
        return plan{std::move(parts_)};
    }

    [[nodiscard]] std::optional<plan> shorter_stage() const {
        std::optional<clock> const takes = shortened(from_stage().takes, days_);
        if (!takes) { return std::nullopt; }
        return with_stage_change(piece_, name_, {.begins = what_.from_event, .takes = takes});
    }

    [[nodiscard]] std::optional<plan> link_changed() {
        int const number = link_of_field(what_.field);
        if (number < 0) {
            written_.gap = std::max(0, written_.gap - days_);
            return plan{std::move(parts_)};
        }
        link const& meant = model_.planned.parts().links[at(number)];
        auto const here = std::find(parts_.links.begin(), parts_.links.end(), meant);
        if (here == parts_.links.end()) { return std::nullopt; }
        if (what_.kind == requirement_kind::within) {
            here->within = here->within.value_or(0.0) + days_;
            return plan{std::move(parts_)};
        }
        std::optional<clock> const after = shortened(here->after, days_);
        if (!after) { return std::nullopt; }
        here->after = *after;
        return plan{std::move(parts_)};
    }

    season_model const& model_;
    plan const& piece_;
    requirement const& what_;
    std::optional<int> bound_;
    int days_;
    int index_;
    resolved_succession const& one_;
    std::string name_;
    plan_parts parts_;
    epicotyl::succession& written_;
};

}  // namespace

std::string written_name(plan const& of, int succession) {
    epicotyl::succession const& written =
        of.parts().successions[at(of.successions()[at(succession)].source)];
    return written.name.empty() ? written.crop : written.name;
}

plan_pieces::plan_pieces(plan const& whole)
    : whole_{whole}, frame_{whole.parts()}, link_piece_(whole.parts().links.size(), -1) {
    std::vector<resolved_succession> const& all = whole.successions();
    auto const source = [&](int i) {
        return all[at(i)].source;
    };
    joined_parts parts{frame_.successions.size()};
    for (resolved_link const& link : whole.links()) {
        for (event_of const& one : link.firsts) {
            parts.join(source(one.succession), source(link.then.succession));
        }
    }
    for (int i = 0; i < static_cast<int>(frame_.successions.size()); ++i) {
        piece_.push_back(parts.part_of(i));
    }
    for (resolved_link const& link : whole.links()) {
        if (link.source >= 0) {
            link_piece_[at(link.source)] = piece_[at(source(link.then.succession))];
        }
    }
    frame_.successions.clear();
    frame_.links.clear();
}

plan plan_pieces::piece_of(int succession) const {
    plan_parts parts = frame_;
    int const wanted = piece_[at(whole_.successions()[at(succession)].source)];
    for (std::size_t i = 0; i < piece_.size(); ++i) {
        if (piece_[i] == wanted) { parts.successions.push_back(whole_.parts().successions[i]); }
    }
    for (std::size_t i = 0; i < link_piece_.size(); ++i) {
        if (link_piece_[i] == wanted) { parts.links.push_back(whole_.parts().links[i]); }
    }
    return plan{std::move(parts)};
}

other_seasons::other_seasons(calendar_data const& of) : of_{of} {
    climate const& now = of.model->weather;
    if (now.is_chosen() || now.observed()) { return; }
    int const asked = now.size() + static_cast<int>(now.left_out().size());
    climate const latest{now.record(),
                         now.site_latitude(),
                         {.season_start = now.season_start(),
                          .season_days = now.season_days(),
                          .max_gap = now.max_gap(),
                          .years = year_selection::latest(asked)}};
    is_latest_ = std::ranges::equal(latest.years(), now.years());
}

std::shared_ptr<climate const> other_seasons::climate_of(season const& window) {
    climate const& now = of_.model->weather;
    if (now.is_chosen() || now.observed()) { return nullptr; }
    date::year_month_day const start{window.start()};
    if (start.month() == date::February && start.day() == date::day{29}) { return nullptr; }
    auto const [found, is_new] = climates_.try_emplace({window.start(), window.length()}, nullptr);
    if (!is_new) { return found->second; }
    // A season that begins in the year before has years with the number before.
    date::year_month_day const start_now{of_.model->planned.window().start()};
    int const sooner = int{start_now.year()} - int{start.year()};
    int const asked = now.size() + static_cast<int>(now.left_out().size());
    try {
        found->second = std::make_shared<climate const>(
            now.record(), now.site_latitude(),
            climate_options{.season_start = start.month() / start.day(),
                            .season_days = window.length(),
                            .max_gap = now.max_gap(),
                            .years = is_latest_
                                         ? year_selection::latest(asked)
                                         : year_selection::between(now.years().front() - sooner,
                                                                   now.years().back() - sooner)});
    } catch (invalid_input const&) {
        // The record does not reach so far.
    }
    return found->second;
}

bool other_seasons::keeps_days(season const& window) {
    std::shared_ptr<climate const> const under = climate_of(window);
    if (!under) { return false; }
    auto const [found, is_new] = keeps_days_.try_emplace({window.start(), window.length()}, false);
    if (!is_new) { return found->second; }
    std::set<std::string> without_days;
    for (obstacle const& one : of_.unresolved) { without_days.insert(one.succession); }
    try {
        calendar const again =
            schedule(with_season(of_.model->planned, window), *under, of_.wanted);
        found->second = std::ranges::all_of(again.data()->unresolved, [&](obstacle const& one) {
            return without_days.contains(one.succession);
        });
    } catch (invalid_input const&) {
        // A date of the plan is no longer in its season.
    }
    return found->second;
}

cure_trial::cure_trial(calendar_data const& of, plan piece, other_seasons& seasons, int succession)
    : of_{of},
      piece_{std::move(piece)},
      seasons_{seasons},
      name_{of.model->planned.successions()[at(succession)].name},
      written_{written_name(of.model->planned, succession)} {
    for (obstacle const& one : of.unresolved) {
        if (one.succession != name_) { without_days_.insert(one.succession); }
    }
}

std::optional<calendar> cure_trial::cured(plan const& typed, climate const& under) {
    calendar again = schedule(typed, under, of_.wanted);
    for (obstacle const& one : again.data()->unresolved) {
        if (!without_days_.contains(one.succession)) { return std::nullopt; }
    }
    return again;
}

std::optional<calendar> cure_trial::cured(typed_cure const& what) {
    climate const& now = of_.model->weather;
    try {
        if (what.code == "season_days" || what.code == "season_start") {
            season const window{what.when.value_or(piece_.window().start()),
                                static_cast<int>(what.number)};
            std::shared_ptr<climate const> const under = seasons_.climate_of(window);
            if (!under) { return std::nullopt; }
            return cured(with_season(piece_, window), *under);
        }
        if (what.code == "target" || what.code == "target_sooner") {
            int const source = piece_.successions()[at(piece_.succession_index(name_))].source;
            target aim = piece_.parts().successions[at(source)].target;
            aim.rule = on_day(aim.rule, *what.when);
            return cured(with_target(piece_, written_, std::move(aim)), now);
        }
        if (what.code == "target_risk") {
            int const source = piece_.successions()[at(piece_.succession_index(name_))].source;
            target aim = piece_.parts().successions[at(source)].target;
            risk_rule accepted = *risk_accepted(aim.rule);
            accepted.share = chance{what.number};
            aim.rule = accepted;
            return cured(with_target(piece_, written_, std::move(aim)), now);
        }
        if (what.code == "not_before") {
            return cured(with_not_before(piece_, written_, what.event, from_rule{*what.when}), now);
        }
        if (what.code == "not_after") {
            return cured(with_not_after(piece_, written_, what.event, by_rule{*what.when}), now);
        }
        if (what.code == "reliability") {
            return cured(with_reliability(piece_, written_, reliability{what.number}), now);
        }
        if (what.code == "risk") {
            return cured(with_risk(piece_, written_, risk_setting::at(chance{what.number})), now);
        }
        if (what.code == "no_risk") {
            return cured(with_risk(piece_, written_, risk_setting::off()), now);
        }
    } catch (invalid_input const&) {
        // There is no such plan: a day outside of the season, a bound against another.
    }
    return std::nullopt;
}

std::optional<plan> cure_trial::typed(requirement const& what, std::optional<int> bound,
                                      int days) const {
    try {
        return typed_way{*of_.model, piece_, what, bound, days}.made();
    } catch (invalid_input const&) {
        // There is no such plan.
        return std::nullopt;
    }
}

}  // namespace epicotyl::detail
