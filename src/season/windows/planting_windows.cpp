#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>

#include <algorithm>
#include <numeric>

#include <fmt/format.h>

#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../rows/say.hpp"
#include "told.hpp"
#include "windows_data.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// Solves a network; keeps it and its days, or returns why there are none.
std::optional<season_conflict> solve_into(windows_data& data,
                                          std::unique_ptr<window_network> network) {
    network_extremes const found = network->net.extremes();
    if (!found.least.solved()) { return told(*data.frame, *network, found.least.conflict()); }
    int const number = static_cast<int>(data.solved.size());
    for (std::size_t v = 0; v < network->events; ++v) {
        data.network_of[at(network->owner[v].succession)] = number;
    }
    data.earliest.push_back(found.least.values());
    data.latest.push_back(found.greatest.values());
    data.solved.push_back(std::move(network));
    return std::nullopt;
}

/// One decision that slips, with every other decision on its earliest day.
class slipping_decision {
public:
    slipping_decision(windows_data const& data, event_of const& of)
        : data_{data}, model_{data.model()}, of_{of} {}

    [[nodiscard]] bool may_fall_on(int when) const {
        return is_soon_enough(when) && may_follow(when);
    }

private:
    [[nodiscard]] int early(event_of const& other) const { return data_.earliest_of(other); }
    [[nodiscard]] int ready(int stage, int start) const {
        return model_.ready(of_.succession, stage, data_.year_index, start);
    }

    /// What came before stays on its day, and bears with no later one by `hold` and `within`.
    [[nodiscard]] bool is_soon_enough(int when) const {
        if (of_.event > 0) {
            stage_tables const& before = model_.stages[at(of_.succession)][at(of_.event - 1)];
            int const from = ready(of_.event - 1, early({of_.succession, of_.event - 1}));
            if (from < never && when > from + before.hold) { return false; }
        }
        return std::ranges::all_of(batch().rows, [&](requirement_row const& row) {
            return row.kind != requirement_kind::within || row.to != of_ ||
                   std::ranges::all_of(data_.frame->counted_from(row), [&](event_of const& first) {
                       return early(first) >= never || when <= early(first) + row.days;
                   });
        });
    }

    /// What comes after: the plants' own events follow, decisions stay.
    [[nodiscard]] bool may_follow(int when) const {
        resolved_succession const& one = model_.planned.successions()[at(of_.succession)];
        if (!linked_may_stay(of_, when)) { return false; }
        int day = when;
        for (int e = of_.event + 1; e < event_count(*one.grown); ++e) {
            day = ready(e - 1, day);
            if (!is_outcome(*one.grown, e)) { return day <= early({of_.succession, e}); }
            if (day > (*batch().bounds)[at(e)].not_after) { return false; }
            if (e == one.target_event && day > batch().not_later) { return false; }
            if (!linked_may_stay({of_.succession, e}, day)) { return false; }
        }
        return true;
    }

    /// True when all that waits for an event may stay where it is, with the event on `day`.
    [[nodiscard]] bool linked_may_stay(event_of const& event, int day) const {
        auto const stays = [&](int link) {
            event_of const& then = model_.planned.links()[at(link)].then;
            return !data_.frame->batches[at(then.succession)].is_in ||
                   model_.link_wait(link).ready(day, data_.year_index) <= early(then);
        };
        return std::ranges::all_of(
            model_.awaits_of[at(event.succession)], [&](awaited_in const& in) {
                awaited const& one = model_.awaited_all[at(in.which)];
                bool const counts =
                    in.event == event.event &&
                    (!one.first_decides || data_.frame->sources[at(in.which)].first == event);
                return !counts || std::ranges::all_of(one.links, stays);
            });
    }

    [[nodiscard]] window_frame::batch const& batch() const {
        return data_.frame->batches[at(of_.succession)];
    }

    windows_data const& data_;
    season_model const& model_;
    event_of of_;
};

}  // namespace

int free_slack_of(windows_data const& data, event_of const& of) {
    slipping_decision const decision{data, of};
    int const early = data.earliest_of(of);
    int low = 0;
    int high = data.latest_of(of) - early;
    while (low < high) {
        int const middle = low + (high - low + 1) / 2;
        if (decision.may_fall_on(early + middle)) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    return low;
}

std::shared_ptr<windows_data const> solve_windows(calendar const& of,
                                                  std::shared_ptr<window_frame const> frame,
                                                  int year_index) {
    auto data = std::make_shared<windows_data>(
        windows_data{.of = of, .year_index = year_index, .frame = std::move(frame)});
    std::size_t const count = of.plan().successions().size();
    data->network_of.assign(count, -1);
    data->first_vertex.assign(count, -1);
    std::vector<int> everything;
    for (int i = 0; i < static_cast<int>(count); ++i) {
        if (data->frame->batches[at(i)].is_in) { everything.push_back(i); }
    }
    std::unique_ptr<window_network> whole =
        make_window_network(*data->frame, everything, year_index, data->first_vertex);
    if (!solve_into(*data, std::move(whole))) { return data; }
    for (int group = 0; group < static_cast<int>(data->frame->groups.size()); ++group) {
        std::optional<season_conflict> found =
            solve_into(*data, make_window_network(*data->frame, data->frame->groups[at(group)],
                                                  year_index, data->first_vertex));
        if (!found) { continue; }
        data->conflicts.push_back(std::move(*found));
        data->conflict_group.push_back(group);
    }
    return data;
}

}  // namespace detail

using detail::at;

planting_windows::planting_windows(epicotyl::calendar const& of, int year) {
    auto const& years = of.climate().years();
    auto const found = std::find(years.begin(), years.end(), year);
    if (found == years.end()) {
        throw invalid_input{{.code = "windows.year",
                             .field = "year",
                             .value = fmt::format("{}", year),
                             .bound = fmt::format("{} to {}", years.front(), years.back()),
                             .problem = fmt::format("the climate has no season year {}", year),
                             .remedy = "give one of the years that climate.years() names"}};
    }
    data_ = detail::solve_windows(
        of, std::make_shared<detail::window_frame const>(detail::make_window_frame(of.data())),
        static_cast<int>(found - years.begin()));
}

planting_windows::planting_windows(epicotyl::plan const& of, climate const& under, int year)
    : planting_windows{schedule(of, under), year} {}

int planting_windows::year() const {
    return calendar().climate().years()[at(data_->year_index)];
}

calendar const& planting_windows::calendar() const {
    return data_->of;
}

bool planting_windows::feasible(std::string_view succession) const {
    return data_->network_of[at(plan().succession_index(succession))] >= 0;
}

int planting_windows::earliest_offset(int succession, int event) const {
    int const found = data_->earliest_of({succession, event});
    return found > plan().window().length() ? never : found;
}

int planting_windows::latest_offset(int succession, int event) const {
    if (earliest_offset(succession, event) >= never) { return never; }
    int const found = data_->latest_of({succession, event});
    return found > plan().window().length() ? never : found;
}

std::optional<day> planting_windows::earliest(std::string_view succession,
                                              std::string_view event) const {
    int const i = plan().succession_index(succession);
    return plan().window().day_at(earliest_offset(i, plan().event_index(i, event)));
}

std::optional<day> planting_windows::latest(std::string_view succession,
                                            std::string_view event) const {
    int const i = plan().succession_index(succession);
    return plan().window().day_at(latest_offset(i, plan().event_index(i, event)));
}

std::optional<int> planting_windows::slack(std::string_view succession,
                                           std::string_view event) const {
    int const i = plan().succession_index(succession);
    int const e = plan().event_index(i, event);
    int const late = latest_offset(i, e);
    if (late >= never) { return std::nullopt; }
    return late - earliest_offset(i, e);
}

std::optional<int> planting_windows::free_slack(std::string_view succession,
                                                std::string_view event) const {
    std::optional<int> const all = slack(succession, event);
    if (!all) { return std::nullopt; }
    int const i = plan().succession_index(succession);
    int const e = plan().event_index(i, event);
    if (is_outcome(*plan().successions()[at(i)].grown, e)) { return 0; }
    return detail::free_slack_of(*data_, {i, e});
}

std::vector<tightest_chain> planting_windows::tightest_chains(int most) const {
    std::vector<tightest_chain> all;
    for (detail::found_chain const& one : detail::find_tightest(*data_, most)) {
        all.push_back(detail::told(*data_, one));
    }
    return all;
}

tightest_chain planting_windows::chain_of(std::string_view succession,
                                          std::string_view event) const {
    if (!slack(succession, event)) { return {}; }
    int const i = plan().succession_index(succession);
    return detail::chain_through(*data_, {i, plan().event_index(i, event)});
}

std::vector<season_conflict> const& planting_windows::conflicts() const {
    return data_->conflicts;
}

bool planting_windows::feasible() const {
    return data_->conflicts.empty() && data_->frame->left_out.empty();
}

std::vector<obstacle> planting_windows::left_out() const {
    std::vector<obstacle> said;
    if (data_->frame->left_out.empty()) { return said; }
    // In the calendar's words, which have their cures.
    for (obstacle const& one : data_->of.unresolved()) {
        bool const is_out =
            std::any_of(data_->frame->left_out.begin(), data_->frame->left_out.end(),
                        [&](obstacle const& left) { return left.succession == one.succession; });
        bool const is_said = !said.empty() && said.back().succession == one.succession;
        if (is_out && !is_said) { said.push_back(one); }
    }
    return said;
}

std::vector<cure> planting_windows::cures(season_conflict const& of) const {
    return detail::find_cures(*data_, of);
}

}  // namespace epicotyl
