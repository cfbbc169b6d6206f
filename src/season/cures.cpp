// Which requirement, giving way by how many days, would make an impossible season year possible.
#include <algorithm>

#include <fmt/format.h>

#include <epicotyl/season/schedule.hpp>

#include "say.hpp"
#include "smallest.hpp"
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
          network_{build({})} {}

    [[nodiscard]] std::vector<cure> find() {
        std::vector<cure> found;
        for (int row : named_rows(network_->net.least().conflict())) {
            std::optional<cure> one = row < 0 ? sooner() : relaxed(row);
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

    [[nodiscard]] std::optional<cure> relaxed(int row) {
        requirement_row const& of = network_->rows[at(row)];
        // Nobody can ask a plant to come later than it does.
        if (of.kind == requirement_kind::stage && of.is_upper) { return std::nullopt; }
        std::optional<int> const days = smallest(model_.season_days, [&](int give) {
            return build(relaxed_row{row, give})->net.least().solved();
        });
        if (!days) { return std::nullopt; }
        cure made{.what = told(frame_, of), .days = *days};
        made.sentence = cure_text(made.what, *days);
        return made;
    }

    /// The plan and its climate with a season that begins some days sooner and ends when it did.
    [[nodiscard]] bool cured_by_beginning(int days_sooner) const {
        plan_parts parts = model_.planned.parts();
        season const& window = model_.planned.window();
        int const length = window.length() + days_sooner;
        if (length > longest_season) { return false; }
        day const start = window.start() - days{days_sooner};
        parts.window = season{start, length};
        date::year_month_day const ymd{start};
        if (ymd.month() == date::February && ymd.day() == date::day{29}) { return false; }
        climate const& before = model_.weather;
        int const first = before.years().front() - 1;
        int const last = before.years().back();
        try {
            climate const longer{before.record(),
                                 before.site_latitude(),
                                 {.season_start = ymd.month() / ymd.day(),
                                  .season_days = length,
                                  .max_gap = before.max_gap(),
                                  .years = year_selection::between(first, last)}};
            int const year = before.years()[at(data_.year_index)] -
                             (int{date::year_month_day{window.start()}.year()} - int{ymd.year()});
            calendar const again = schedule(plan{std::move(parts)}, longer, data_.of.reliability());
            planting_windows const windows{again, year};
            std::vector<int> const& members = frame_.groups[at(group_)];
            return std::all_of(members.begin(), members.end(), [&](int i) {
                return windows.feasible(model_.planned.successions()[at(i)].name);
            });
        } catch (invalid_input const&) {
            // The record does not reach so far back, or a date of the plan is no longer in its
            // season: no cure.
            return false;
        }
    }

    [[nodiscard]] std::optional<cure> sooner() const {
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
    std::unique_ptr<window_network> network_;
};

}  // namespace

std::string cure_text(requirement const& of, int days) {
    std::string const event = say_event(of.event);
    std::string const from = say_event(of.from_event);
    std::string const more = say_days(days);
    switch (of.kind) {
        case requirement_kind::not_before:
            return fmt::format("allow {} of \"{}\" {} sooner", event, of.succession, more);
        case requirement_kind::not_after:
            return fmt::format("allow {} of \"{}\" {} later", event, of.succession, more);
        case requirement_kind::target:
            return fmt::format("ask for {} of \"{}\" {} {}", event, of.succession, more,
                               of.is_upper ? "later" : "sooner");
        case requirement_kind::stage:
            return fmt::format(
                "let {} of \"{}\" come {} sooner after {}: a warmer place or less to pass", event,
                of.succession, more, from);
        case requirement_kind::hold:
            return fmt::format(
                "let \"{}\" wait {} longer for {}, in a larger container or a cooler place",
                of.succession, more, event);
        case requirement_kind::link:
            return fmt::format("let {} of \"{}\" follow {} of \"{}\" {} sooner", event,
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
