#include "fit_groups.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <epicotyl/plan/plan.hpp>

#include "../../season/days/calendar_data.hpp"
#include "../../season/days/waiting_order.hpp"
#include "fit_text.hpp"

namespace epicotyl::detail {

namespace {

/// Groups by links, of more than one batch each.
std::map<int, std::vector<int>> linked_groups(calendar const& of) {
    std::map<int, std::vector<int>> found;
    std::vector<int> const& group_of = of.data()->group_of;
    for (std::size_t i = 0; i < group_of.size(); ++i) {
        if (group_of[i] != stands_alone) { found[group_of[i]].push_back(static_cast<int>(i)); }
    }
    return found;
}

bool can_move(calendar const& of, std::vector<int> const& members) {
    plan const& planned = of.plan();
    for (int batch : members) {
        resolved_succession const& one = planned.successions()[at(batch)];
        bool const repeats = planned.parts().successions[at(one.source)].repeat.has_value();
        if (repeats || way_of(one) != 1 || !of.data()->successions[at(batch)].resolved) {
            return false;
        }
    }
    return std::none_of(
        planned.links().begin(), planned.links().end(), [&](resolved_link const& one) {
            bool const own =
                std::find(members.begin(), members.end(), one.then.succession) != members.end();
            return own && one.firsts.size() > 1;
        });
}

}  // namespace

std::vector<std::pair<int, batch_change>> shifts_together(calendar const& of,
                                                          std::vector<int> const& batches,
                                                          fit_options const& options, bool coarse) {
    std::vector<std::pair<int, batch_change>> found;
    int number = 0;
    for (auto const& [group, members] : linked_groups(of)) {
        bool const in_question = std::any_of(members.begin(), members.end(), [&](int batch) {
            return std::find(batches.begin(), batches.end(), batch) != batches.end();
        });
        if (!in_question || !can_move(of, members)) { continue; }
        for (int shift : days_to_shift(coarse)) {
            bool const stays_inside = std::all_of(members.begin(), members.end(), [&](int batch) {
                return of.data()->successions[at(batch)].target_day + shift <=
                       of.plan().window().length();
            });
            if (shift > options.most_shift || !stays_inside) { continue; }
            for (int batch : members) {
                found.emplace_back(batch, batch_change{.shift = shift, .together = number});
            }
            ++number;
        }
    }
    return found;
}

std::vector<moved_group> groups_of(calendar const& of, std::vector<trial> const& trials,
                                   fit_weights const& weights) {
    std::vector<moved_group> found;
    for (auto const& [group, members] : linked_groups(of)) {
        std::map<int, std::vector<int>> by_number;
        for (std::size_t t = 0; t < trials.size(); ++t) {
            bool const own =
                std::find(members.begin(), members.end(), trials[t].batch) != members.end();
            if (own && trials[t].change.together >= 0) {
                by_number[trials[t].change.together].push_back(static_cast<int>(t));
            }
        }
        if (by_number.empty()) { continue; }
        moved_group& made = found.emplace_back();
        made.members = members;
        for (auto const& [number, indices] : by_number) {
            std::vector<batch_way>& ways = made.ways.emplace_back();
            double& price = made.prices.emplace_back(0.0);
            for (int index : indices) {
                trial const& one = trials[at(index)];
                double const own = price_of(weights, planned_trial(of, one.batch), one);
                double const amount = of.plan().successions()[at(one.batch)].amount.value;
                ways.push_back({.price = own, .parts = {{index, 1.0, amount}}});
                price += own;
            }
        }
    }
    return found;
}

}  // namespace epicotyl::detail
