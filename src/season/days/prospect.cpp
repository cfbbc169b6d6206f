#include <epicotyl/detail/whole.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/weather/climate.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "damage.hpp"
#include "prospect_data.hpp"

namespace epicotyl {

namespace {

using detail::at;
using detail::harm;

/// Stages [first, last) that a question is about: the one that an event begins, or all.
struct stage_range {
    int first;
    int last;
};

stage_range stages_asked(plan const& of, int succession, std::optional<std::string_view> event) {
    int const last = event_count(*of.successions()[at(succession)].grown) - 1;
    if (!event) { return {0, last}; }
    int const index = of.event_index(succession, *event);
    // `clear` begins no stage.
    return {index, std::min(index + 1, last)};
}

/// Harm of one kind, year by year.
struct harm_years {
    int damaged = 0;
    std::vector<std::optional<day>> first = {};
    std::vector<double> margin = {};
};

harm_years count_harm(detail::prospect_data const& data, int succession, stage_range range,
                      harm what, air_switches on) {
    detail::season_model const& model = *data.model;
    std::span<std::int16_t const> const lost = data.lost(succession);
    harm_years found;
    for (int y = 0; y < model.years; ++y) {
        int first = never;
        double margin = std::numeric_limits<double>::quiet_NaN();
        for (int j = range.first; j < range.last; ++j) {
            detail::stage_harm const of_stage =
                detail::harm_of(model, data.days(), succession, j, y, what, on, lost[at(y)]);
            first = std::min(first, of_stage.first);
            margin = std::fmin(margin, of_stage.margin);
        }
        found.damaged += first < never ? 1 : 0;
        found.first.push_back(model.planned.window().day_at(first));
        found.margin.push_back(margin);
    }
    return found;
}

damage_report report_harm(detail::prospect_data const& data, int succession, stage_range range,
                          harm what) {
    plan const& planned = data.model->planned;
    auto const any_place = [&](auto const& has) {
        auto const& places = planned.successions()[at(succession)].places;
        return std::any_of(places.begin() + range.first, places.begin() + range.last,
                           [&](int place) { return has(planned.places()[at(place)].air); });
    };
    bool const heated = any_place([](air const& in) { return in.heat_to.has_value(); });
    bool const covered = any_place([](air const& in) { return in.nights.has_value(); });
    auto const count = [&](air_switches on) {
        return count_harm(data, succession, range, what, on);
    };
    harm_years all_on = count({});
    harm_years heater_off = heated ? count({.heater = false}) : all_on;
    harm_years cover_off = covered ? count({.cover = false}) : all_on;
    return {.years = data.model->years,
            .damaged = all_on.damaged,
            .first = std::move(all_on.first),
            .margin = std::move(all_on.margin),
            .damaged_heater_off = heater_off.damaged,
            .first_heater_off = std::move(heater_off.first),
            .margin_heater_off = std::move(heater_off.margin),
            .damaged_cover_off = cover_off.damaged,
            .first_cover_off = std::move(cover_off.first),
            .margin_cover_off = std::move(cover_off.margin)};
}

}  // namespace

epicotyl::calendar const& prospect::calendar() const {
    return data_->of;
}

epicotyl::climate const& prospect::climate() const {
    return data_->model->weather;
}

std::string prospect::origin() const {
    return climate().origin(calendar().plan().parts().units);
}

std::vector<int> prospect::years() const {
    auto const years = data_->model->weather.years();
    return {years.begin(), years.end()};
}

std::vector<std::pair<std::string, std::string>> prospect::events() const {
    return data_->of.events();
}

std::span<std::int16_t const> prospect::days_all() const {
    return data_->days_of_all();
}

int prospect::row(int succession, int event) const {
    return data_->days().row(succession, event);
}

std::vector<std::optional<day>> prospect::days(std::string_view succession,
                                               std::string_view event) const {
    plan const& planned = data_->model->planned;
    int const i = planned.succession_index(succession);
    std::vector<std::optional<day>> result;
    for (int offset : data_->days().row_days(i, planned.event_index(i, event))) {
        result.push_back(planned.window().day_at(offset));
    }
    return result;
}

std::optional<day> prospect::quantile(std::string_view succession, std::string_view event,
                                      quantile_level q) const {
    plan const& planned = data_->model->planned;
    int const i = planned.succession_index(succession);
    return planned.window().day_at(
        detail::quantile_of(data_->days().row_days(i, planned.event_index(i, event)), q.value()));
}

double prospect::chance_by(std::string_view succession, std::string_view event, day when) const {
    plan const& planned = data_->model->planned;
    int const i = planned.succession_index(succession);
    int const offset = planned.window().offset_of(when);
    auto const row = data_->days().row_days(i, planned.event_index(i, event));
    auto const count =
        std::count_if(row.begin(), row.end(), [&](int d) { return d < never && d <= offset; });
    return static_cast<double>(count) / data_->model->years;
}

std::vector<std::optional<day>> prospect::lost(std::string_view succession) const {
    plan const& planned = data_->model->planned;
    std::vector<std::optional<day>> nights;
    for (int const night : data_->lost(planned.succession_index(succession))) {
        nights.push_back(planned.window().day_at(night));
    }
    return nights;
}

damage_report prospect::damage(std::string_view succession,
                               std::optional<std::string_view> event) const {
    plan const& planned = data_->model->planned;
    int const i = planned.succession_index(succession);
    return report_harm(*data_, i, stages_asked(planned, i, event), harm::cold);
}

damage_report prospect::too_hot(std::string_view succession,
                                std::optional<std::string_view> event) const {
    plan const& planned = data_->model->planned;
    int const i = planned.succession_index(succession);
    return report_harm(*data_, i, stages_asked(planned, i, event), harm::heat);
}

overheld_report prospect::overheld(std::string_view succession) const {
    detail::season_model const& model = *data_->model;
    int const i = model.planned.succession_index(succession);
    std::span<std::int16_t const> const lost = data_->lost(i);
    overheld_report report{.years = model.years};
    int const stages = static_cast<int>(model.stages[at(i)].size());
    for (int y = 0; y < model.years; ++y) {
        int longest = 0;
        for (int j = 0; j < stages; ++j) {
            double const hold = model.stages[at(i)][at(j)].hold;
            std::size_t const next = data_->days().cell(i, j + 1, y);
            int const ready = detail::clock_ready(model, data_->days(), 0, i, j + 1, y);
            if (!std::isfinite(hold) || ready > model.season_days) { continue; }
            // What is never done waits to the season's end, and what is lost to its last night.
            int const done =
                std::min({int{data_->days().day[next]}, model.season_days, lost[at(y)] + 1});
            longest = std::max(longest, detail::whole_of(std::ceil(done - ready - hold)));
        }
        report.longest.push_back(longest);
        report.overheld += longest > 0 ? 1 : 0;
    }
    return report;
}

std::vector<int> prospect::nights_to_act(std::optional<std::string_view> place,
                                         std::optional<std::string_view> succession) const {
    detail::season_model const& model = *data_->model;
    std::vector<resolved_succession> const& all = model.planned.successions();
    constexpr int any = -1;
    int const only_place = place ? model.planned.place_index(*place) : any;
    int const only = succession ? model.planned.succession_index(*succession) : any;
    std::vector<int> counts;
    for (int y = 0; y < model.years; ++y) {
        // One night in one place is one errand, however many batches it is for.
        std::set<std::pair<int, int>> errands;
        for (int i = 0; i < static_cast<int>(all.size()); ++i) {
            if (only != any && i != only) { continue; }
            int const lost = data_->lost(i)[at(y)];
            for (int j = 0; j < static_cast<int>(all[at(i)].places.size()); ++j) {
                int const where = all[at(i)].places[at(j)];
                if (only_place != any && where != only_place) { continue; }
                for (int night : detail::nights_acted(model, data_->days(), i, j, y, lost)) {
                    errands.emplace(where, night);
                }
            }
        }
        counts.push_back(static_cast<int>(errands.size()));
    }
    return counts;
}

}  // namespace epicotyl
