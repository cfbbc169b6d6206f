#include "waiting_order.hpp"

#include <algorithm>
#include <numeric>
#include <string>

#include <fmt/format.h>

#include <epicotyl/network/order.hpp>

#include "../tables/wait_table.hpp"

namespace epicotyl::detail {

std::vector<int> order_of_waiting(std::vector<resolved_succession> const& batches,
                                  std::vector<std::vector<int>> const& waited_by,
                                  std::vector<std::vector<obstacle>>& obstacles) {
    std::vector<char> aside(batches.size(), 0);
    while (true) {
        std::vector<precedence> pairs;
        for (std::size_t i = 0; i < batches.size(); ++i) {
            for (int then : waited_by[i]) {
                if (!aside[i] && !aside[at(then)]) { pairs.push_back({i, at(then)}); }
            }
            if (batches[i].repeat_of && !aside[i] && !aside[at(*batches[i].repeat_of)]) {
                pairs.push_back({at(*batches[i].repeat_of), i});
            }
        }
        // Where each waits for earlier ones only, the order of the plan will do.
        bool const in_plan_order = std::all_of(
            pairs.begin(), pairs.end(), [](precedence const& one) { return one.first < one.then; });
        ordering found;
        if (in_plan_order) {
            found.order.resize(batches.size());
            std::iota(found.order.begin(), found.order.end(), std::size_t{0});
        } else {
            found = stable_order(batches.size(), pairs);
        }
        if (found.ordered()) {
            std::vector<int> order;
            for (std::size_t i : found.order) {
                if (!aside[i]) { order.push_back(static_cast<int>(i)); }
            }
            return order;
        }
        std::string path;
        for (std::size_t i : found.cycle) { path += batches[i].name + " → "; }
        path += batches[found.cycle.front()].name;
        for (std::size_t i : found.cycle) {
            aside[i] = 1;
            obstacles[i] = {{.succession = batches[i].name,
                             .code = "links.cycle",
                             .sentence = fmt::format("its links go in a circle: {}", path),
                             .cure = "take one of these links away"}};
        }
    }
}

std::vector<int> groups_by_links(plan const& planned) {
    std::vector<int> leader(planned.successions().size(), stands_alone);
    auto const root = [&](int i) {
        if (leader[at(i)] == stands_alone) { leader[at(i)] = i; }
        while (leader[at(i)] != i) { i = leader[at(i)] = leader[at(leader[at(i)])]; }
        return i;
    };
    for (resolved_link const& link : planned.links()) {
        for (event_of const& first : link.firsts) {
            int const a = root(first.succession);
            int const b = root(link.then.succession);
            leader[at(std::max(a, b))] = std::min(a, b);
        }
    }
    for (int i = 0; i < static_cast<int>(leader.size()); ++i) {
        if (leader[at(i)] != stands_alone) { leader[at(i)] = root(i); }
    }
    return leader;
}

}  // namespace epicotyl::detail
