#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/weather/climate.hpp>

#include <algorithm>
#include <stdexcept>

#include <fmt/format.h>

#include "calendar_data.hpp"

namespace epicotyl {

using detail::at;

epicotyl::plan const& calendar::plan() const {
    return data_->model->planned;
}

epicotyl::climate const& calendar::climate() const {
    return data_->model->weather;
}

std::string calendar::origin() const {
    return climate().origin(plan().parts().units);
}

epicotyl::reliability calendar::reliability() const {
    return data_->wanted;
}

std::optional<day> calendar::date(std::string_view succession, std::string_view event) const {
    int const i = plan().succession_index(succession);
    return date(i, plan().event_index(i, event));
}

std::optional<day> calendar::date(int succession, int event) const {
    detail::succession_days const& one = data_->successions.at(at(succession));
    if (!one.resolved) { return std::nullopt; }
    if (at(event) >= one.planned.size()) {
        throw std::out_of_range{fmt::format("{} has no event {}, counted from 0 to {}",
                                            plan().successions()[at(succession)].name, event,
                                            one.planned.size() - 1)};
    }
    return plan().window().day_at(one.planned[at(event)]);
}

std::vector<std::pair<std::string, std::string>> calendar::events() const {
    std::vector<std::pair<std::string, std::string>> all;
    for (resolved_succession const& one : plan().successions()) {
        for (int e = 0; e < event_count(*one.grown); ++e) {
            all.emplace_back(one.name, event_name(*one.grown, e));
        }
    }
    return all;
}

void calendar::require() const {
    if (!data_->unresolved.empty()) { throw epicotyl::unresolved{unresolved()}; }
}

std::optional<sowing_claim> calendar::claim(std::string_view succession) const {
    detail::succession_days const& one =
        data_->successions[at(plan().succession_index(succession))];
    if (!one.resolved) { return std::nullopt; }
    detail::counted_claim const& claim = one.claim;
    return sowing_claim{
        .years = data_->model->years,
        .needed = one.need,
        .good = claim.good,
        .link_days_kept = claim.link_days_kept,
        .good_one_day_later = claim.good_one_day_later,
        .broken = claim.broken < 0 ? std::string{} : plan().successions()[at(claim.broken)].name,
        .broken_claim = std::string{claim.broken_claim}};
}

std::vector<linked_group> const& calendar::groups() const {
    return data_->groups;
}

std::vector<link_count> const& calendar::within_counts() const {
    return data_->within;
}

std::vector<std::string> const& calendar::warnings() const {
    return data_->warnings;
}

}  // namespace epicotyl
