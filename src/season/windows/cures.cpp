// Which requirement, giving way by how many days, would make an impossible season year possible.
#include <algorithm>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../rows/rule_days.hpp"
#include "../rows/say.hpp"
#include "../rows/smallest.hpp"
#include "cure_trial.hpp"
#include "told.hpp"
#include "windows_data.hpp"

namespace epicotyl::detail {

namespace {

class cure_finder {
public:
    cure_finder(windows_data const& data, int group)
        : data_{data},
          frame_{*data.frame},
          model_{data.model()},
          group_{group},
          first_vertex_(frame_.batches.size(), -1),
          seasons_{*frame_.of},
          trial_{*frame_.of, plan_pieces{model_.planned}.piece_of(frame_.groups[at(group)].front()),
                 seasons_, frame_.groups[at(group)].front()},
          network_{build({})} {}

    [[nodiscard]] std::vector<cure> find() {
        std::vector<cure> found;
        for (named_row const& named : named_rows(*network_, network_->net.least().conflict())) {
            std::optional<cure> one = named.row < 0 ? sooner() : relaxed(named);
            if (one) { found.push_back(std::move(*one)); }
        }
        std::stable_sort(found.begin(), found.end(),
                         [](cure const& a, cure const& b) { return a.days < b.days; });
        return found;
    }

private:
    [[nodiscard]] std::unique_ptr<window_network> build(std::optional<relaxed_row> relaxation) {
        first_vertex_.assign(frame_.batches.size(), -1);
        return make_window_network(frame_, frame_.groups[at(group_)], data_.year_index,
                                   first_vertex_, relaxation);
    }

    [[nodiscard]] std::optional<cure> relaxed(named_row const& named) {
        requirement_row const& of = named.what;
        // Nobody can ask a plant to come later than it does.
        if (of.kind == requirement_kind::stage && of.is_upper) { return std::nullopt; }
        std::optional<int> const days = smallest(model_.season_days, [&](int give) {
            return build(relaxed_row{named.row, give})->net.least().solved();
        });
        if (!days) { return std::nullopt; }
        cure made{.what = told(frame_, of), .days = *days};
        if (!is_so_when_typed(of, made)) { return std::nullopt; }
        made.sentence = cure_text(made.what, *days);
        return made;
    }

    /// Planned anew with it the group has this year, and with a day less it has not. What no number
    /// of days says is so by the network alone.
    [[nodiscard]] bool is_so_when_typed(requirement_row const& row, cure const& what) const {
        std::optional<int> const bound = day_of(row);
        int const this_year = model_.weather.years()[at(data_.year_index)];
        auto const cures_it = [&](int give) {
            std::optional<plan> const typed = trial_.typed(what.what, bound, give);
            return typed && has_year(*typed, model_.weather, this_year);
        };
        bool const is_number = trial_.typed(what.what, bound, what.days).has_value();
        if (!is_number) {
            return row.kind == requirement_kind::stage || row.kind == requirement_kind::link;
        }
        return cures_it(what.days) && (what.days == 1 || !cures_it(what.days - 1));
    }

    [[nodiscard]] bool has_year(plan const& typed, climate const& under, int year) const {
        planting_windows const again{schedule(typed, under, data_.of.reliability()), year};
        std::vector<int> const& members = frame_.groups[at(group_)];
        return std::all_of(members.begin(), members.end(), [&](int i) {
            return again.feasible(model_.planned.successions()[at(i)].name);
        });
    }

    /// The day that a bound or a target says, from which it gives way; none of what is no day.
    [[nodiscard]] std::optional<int> day_of(requirement_row const& what) const {
        resolved_succession const& one = model_.planned.successions()[at(what.to.succession)];
        switch (what.kind) {
            case requirement_kind::not_before:
            case requirement_kind::not_after:
                return what.days;
            case requirement_kind::target:
                if (one.repeat_of) { return std::nullopt; }
                if (what.is_upper && !keeps_to_date(one.target_rule)) { return what.days; }
                return offset_of_rule(model_, what.to.succession, one.target_event,
                                      one.target_rule);
            default:
                return std::nullopt;
        }
    }

    /// The plan and its climate with a season that begins some days earlier and ends when it did.
    [[nodiscard]] bool cured_by_beginning(int days_sooner) {
        season const& now = model_.planned.window();
        if (now.length() + days_sooner > longest_season) { return false; }
        season const window{now.start() - days{days_sooner}, now.length() + days_sooner};
        std::shared_ptr<climate const> const longer = seasons_.climate_of(window);
        if (!longer) { return false; }
        int const year = model_.weather.years()[at(data_.year_index)] -
                         (int{date::year_month_day{now.start()}.year()} -
                          int{date::year_month_day{window.start()}.year()});
        try {
            return has_year(with_season(trial_.piece(), window), *longer, year);
        } catch (invalid_input const&) {
            // The record does not reach so far back, or a date of the plan is no longer in its
            // season: no cure.
            return false;
        }
    }

    [[nodiscard]] std::optional<cure> sooner() {
        if (model_.weather.is_chosen() || model_.weather.observed()) { return std::nullopt; }
        int const most = std::min(most_days_sooner, longest_season - model_.season_days);
        if (most < 1) { return std::nullopt; }
        // Not every longer season can be cut from the record, so the most is sought by doubling.
        int good = 1;
        while (good <= most && !cured_by_beginning(good)) { good *= 2; }
        if (good > most) { return std::nullopt; }
        std::optional<int> const found =
            smallest(good, [&](int sooner_by) { return cured_by_beginning(sooner_by); });
        day const start = model_.planned.window().start() - days{*found};
        if (!seasons_.keeps_days(season{start, model_.season_days + *found})) {
            return std::nullopt;
        }
        cure made{.what = told_season_start(frame_, {frame_.groups[at(group_)].front(), 0}),
                  .days = *found};
        made.sentence = season_start_text(start, model_.season_days + *found);
        return made;
    }

    windows_data const& data_;
    window_frame const& frame_;
    season_model const& model_;
    int group_;
    std::vector<int> first_vertex_;
    other_seasons seasons_;
    cure_trial trial_;
    std::unique_ptr<window_network> network_;
};

}  // namespace

std::string cure_text(requirement const& of, int days) {
    std::string const event = say_event(of.event);
    std::string const from = say_event(of.from_event);
    std::string const more = say_days(days);
    switch (of.kind) {
        case requirement_kind::not_before:
            return fmt::format("allow {} of \"{}\" {} earlier", event, of.succession, more);
        case requirement_kind::not_after:
            return fmt::format("allow {} of \"{}\" {} later", event, of.succession, more);
        case requirement_kind::target:
            return fmt::format("aim for {} of \"{}\" {} {}", event, of.succession, more,
                               of.is_upper ? "later" : "earlier");
        case requirement_kind::stage:
            return fmt::format(
                "bring {} of \"{}\" {} closer to {}: a warmer place, or less heat or fewer days to "
                "pass",
                event, of.succession, more, from);
        case requirement_kind::hold:
            return fmt::format(
                "let \"{}\" wait {} longer for {}, in a larger container or a cooler place",
                of.succession, more, event);
        case requirement_kind::link:
            return fmt::format("let {} of \"{}\" follow {} of \"{}\" {} earlier", event,
                               of.succession, from, of.from_succession, more);
        case requirement_kind::within:
            return fmt::format("let {} more pass between {} of \"{}\" and {} of \"{}\"", more, from,
                               of.from_succession, event, of.succession);
        case requirement_kind::season_start:
        case requirement_kind::planned:
        case requirement_kind::season_end:
            break;
    }
    return "";
}

std::string season_start_text(day start, int days) {
    return fmt::format("sow before the season starts: give season_start = {} and season_days = {}",
                       to_iso(start), days);
}

std::vector<cure> find_cures(windows_data const& of, season_conflict const& conflict) {
    auto const found = std::find(of.conflicts.begin(), of.conflicts.end(), conflict);
    if (found == of.conflicts.end()) {
        throw invalid_input{{.code = "windows.foreign_conflict",
                             .field = "conflict",
                             .value = conflict.sentence,
                             .problem = "these windows have no such conflict",
                             .remedy = "give one of those that conflicts() lists"}};
    }
    return cure_finder{of, of.conflict_group[at(static_cast<int>(found - of.conflicts.begin()))]}
        .find();
}

}  // namespace epicotyl::detail
