#include "waiting_order.hpp"

#include <algorithm>
#include <numeric>
#include <string>

#include <fmt/format.h>

#include <epicotyl/network/order.hpp>
#include <epicotyl/plan/plan.hpp>

#include "../tables/joined_parts.hpp"

namespace epicotyl::detail {

namespace {

/// Who comes before whom, of those that are not set aside.
class precedences {
public:
    precedences(season_model const& model, std::vector<char> const& aside)
        : model_{model}, batches_{model.planned.successions()}, aside_{aside} {
        for (std::size_t i = 0; i < batches_.size(); ++i) {
            std::optional<int> const first = batches_[i].repeat_of;
            if (first && aside[i] == 0 && aside[at(*first)] == 0) {
                repeats_.push_back({at(*first), i});
            }
        }
    }

    /// True where each waits for earlier ones only.
    [[nodiscard]] bool are_in_plan_order() const {
        auto const rises = [](precedence const& one) {
            return one.first < one.then;
        };
        return std::ranges::all_of(repeats_, rises) &&
               std::ranges::all_of(model_.awaited_all, [&](awaited const& one) {
                   return last_first(one) < first_then(one);
               });
    }

    /// The order, with each wave as one more vertex, which comes as soon as all of it are there;
    /// empty where there is a circle.
    [[nodiscard]] std::vector<std::size_t> order() const {
        std::size_t const waves = at(model_.waves);
        std::vector<precedence> pairs;
        for (precedence const& one : repeats_) {
            pairs.push_back({waves + one.first, waves + one.then});
        }
        for (awaited const& one : model_.awaited_all) {
            for_each_then(one, [&](std::size_t then) {
                if (one.is_wave()) {
                    pairs.push_back({at(one.wave), waves + then});
                } else if (aside_[at(one.firsts.front().succession)] == 0) {
                    pairs.push_back({waves + at(one.firsts.front().succession), waves + then});
                }
            });
            if (!one.is_wave()) { continue; }
            for (event_of const& first : one.firsts) {
                if (aside_[at(first.succession)] == 0) {
                    pairs.push_back({waves + at(first.succession), at(one.wave)});
                }
            }
        }
        std::vector<std::size_t> order;
        for (std::size_t const vertex : stable_order(waves + batches_.size(), pairs).order) {
            if (vertex >= waves) { order.push_back(vertex - waves); }
        }
        return order;
    }

    /// A circle, of successions alone.
    [[nodiscard]] std::vector<std::size_t> circle() const {
        std::vector<precedence> pairs;
        for (std::size_t i = 0; i < batches_.size(); ++i) {
            if (aside_[i] != 0) { continue; }
            for (awaited_in const& in : model_.awaits_of[i]) {
                for_each_then(model_.awaited_all[at(in.which)], [&](std::size_t then) {
                    pairs.push_back({i, then});
                });
            }
            std::optional<int> const first = batches_[i].repeat_of;
            if (first && aside_[at(*first)] == 0) { pairs.push_back({at(*first), i}); }
        }
        return stable_order(batches_.size(), pairs).cycle;
    }

private:
    template <class Use>
    void for_each_then(awaited const& one, Use const& use) const {
        for (int const link : one.links) {
            std::size_t const then = at(model_.planned.links()[at(link)].then.succession);
            if (aside_[then] == 0) { use(then); }
        }
    }
    [[nodiscard]] int last_first(awaited const& one) const {
        int last = -1;
        for (event_of const& first : one.firsts) {
            if (aside_[at(first.succession)] == 0) { last = std::max(last, first.succession); }
        }
        return last;
    }
    [[nodiscard]] int first_then(awaited const& one) const {
        std::size_t first = batches_.size();
        for_each_then(one, [&](std::size_t then) { first = std::min(first, then); });
        return static_cast<int>(first);
    }

    season_model const& model_;
    std::vector<resolved_succession> const& batches_;
    std::vector<char> const& aside_;
    std::vector<precedence> repeats_ = {};
};

}  // namespace

std::vector<int> order_of_waiting(season_model const& model,
                                  std::vector<std::vector<obstacle>>& obstacles) {
    std::vector<resolved_succession> const& batches = model.planned.successions();
    std::vector<char> aside(batches.size(), 0);
    while (true) {
        precedences const all{model, aside};
        std::vector<std::size_t> found(batches.size());
        if (all.are_in_plan_order()) {
            std::iota(found.begin(), found.end(), std::size_t{0});
        } else {
            found = all.order();
        }
        if (!found.empty() || batches.empty()) {
            std::vector<int> order;
            for (std::size_t const i : found) {
                if (aside[i] == 0) { order.push_back(static_cast<int>(i)); }
            }
            return order;
        }
        std::vector<std::size_t> const circle = all.circle();
        std::string path;
        for (std::size_t const i : circle) { path += batches[i].name + " → "; }
        path += batches[circle.front()].name;
        for (std::size_t const i : circle) {
            aside[i] = 1;
            obstacles[i] = {{.succession = batches[i].name,
                             .code = "links.cycle",
                             .sentence = fmt::format("its links go in a circle: {}", path),
                             .cure = "take one of these links away"}};
        }
    }
}

std::vector<int> groups_by_links(plan const& planned) {
    std::size_t const count = planned.successions().size();
    joined_parts parts{count};
    std::vector<char> is_linked(count, 0);
    event_list const* joined = nullptr;
    for (resolved_link const& link : planned.links()) {
        int const one = link.firsts.front().succession;
        parts.join(one, link.then.succession);
        is_linked[at(link.then.succession)] = 1;
        // Links that wait for the same stand one after the other.
        if (joined != nullptr && joined->is(link.firsts)) { continue; }
        joined = &link.firsts;
        for (event_of const& first : link.firsts) {
            parts.join(one, first.succession);
            is_linked[at(first.succession)] = 1;
        }
    }
    std::vector<int> groups(count, stands_alone);
    for (int i = 0; i < static_cast<int>(count); ++i) {
        if (is_linked[at(i)] != 0) { groups[at(i)] = parts.part_of(i); }
    }
    return groups;
}

}  // namespace epicotyl::detail
