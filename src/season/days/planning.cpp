#include "planning.hpp"

#include <optional>

#include <epicotyl/plan/plan.hpp>

#include "known_bounds.hpp"
#include "latest_sowing.hpp"
#include "waiting_order.hpp"

namespace epicotyl::detail {

planning::planning(calendar_data& data, season_model& model, chosen_springs const& springs)
    : data_{data},
      model_{model},
      batches_{model_.planned.successions()},
      walker_{model_, data.successions},
      rules_{data, model, springs},
      alike_{model},
      trials_{data, model, walker_},
      obstacles_(batches_.size()),
      is_tried_(batches_.size(), 0),
      latest_(at(model.years)) {
    data_.successions.assign(batches_.size(), {});
    data_.days = make_days_table(model_);
    data_.planned = std::make_unique_for_overwrite<int[]>(
        at(data_.days.never_rows + data_.days.first_row.back()));
}

void planning::find_order() {
    order_ = order_of_waiting(model_, obstacles_);
    trials_.set_order(order_);
}

int planning::spring_of(int i, int latest) {
    succession_days& mine = known(i);
    mine.latest_sowing = latest;
    mine.spring_starts = std::max(0, model_.cold.spring_half_before(latest).first);
    return mine.spring_starts;
}

int planning::links_floor(int i) {
    if (!walker_.has_links(i, 0)) { return 0; }
    std::vector<std::int16_t> allowed;
    for (int y = 0; y < model_.years; ++y) {
        allowed.push_back(static_cast<std::int16_t>(walker_.link_day(data_.days, i, 0, y)));
    }
    return kth_smallest(allowed, known(i).link_need);
}

int planning::chosen(int i, most_good const& found) {
    int const latest = found.days().back();
    if (!is_early(i)) { return latest; }
    return *std::ranges::lower_bound(found.days(), spring_of(i, latest));
}

std::pair<int, int> planning::may_be_in_harvest(int i, int earliest) {
    latest_good_sowings(model_, known(i), i, latest_);
    int const last = *std::max_element(latest_.begin(), latest_.end());
    int const until =
        model_.planned.window().offset_of(harvest_asked(batches_[at(i)].target_rule)->until);
    int first = earliest;
    for (int beyond = last + 1; first < beyond;) {
        int const middle = first + (beyond - first) / 2;
        walker_.walk_all(data_.days, i, middle, 0);
        auto const cleared = data_.days.row_days(i, last_event(i));
        bool const is_late =
            std::any_of(cleared.begin(), cleared.end(), [&](int day) { return day > until; });
        if (is_late) {
            beyond = middle;
        } else {
            first = middle + 1;
        }
    }
    return {first, last};
}

int planning::planned_harvest(int i) {
    std::optional<int> const event = event_index(*batches_[at(i)].grown, "first_harvest");
    plan_days(i);
    return known(i).planned[at(*event)];
}

void planning::plan_days(int i) {
    succession_days& mine = known(i);
    auto const other = alike_.taken_from(i);
    if (other && !known(*other).planned.empty()) {
        mine.planned = known(*other).planned;
        return;
    }
    mine.planned = {data_.planned.get() + data_.days.held_at[at(i)], at(last_event(i) + 1)};
    find_planned(i, mine.planned);
}

void planning::find_planned(int i, std::span<int> into) {
    succession_days const& mine = known(i);
    int const target = batches_[at(i)].target_event;
    std::vector<char> const& is_decision = model_.paths[at(model_.path_of[at(i)])].is_decision;
    for (int e = 0; e < static_cast<int>(into.size()); ++e) {
        bool const outcome = is_decision[at(e)] == 0;
        int& planned = into[at(e)];
        if (e == target && !outcome) {
            planned = mine.target_day;
        } else if (e == 0) {
            planned = mine.sowing;
        } else {
            planned = quantile_of(data_.days.row_days(i, e), outcome ? 0.5 : mine.reliability);
        }
        if (e > 0) { planned = std::max(planned, into[at(e - 1)]); }
    }
}

}  // namespace epicotyl::detail
