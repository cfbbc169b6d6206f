#include "choice_rows.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace epicotyl::detail {

namespace {

/// What an alternative uses of one resource, as changes by day that are not zero.
using changes = std::map<int, double>;

changes changes_of(choice_alternative const& one, int resource) {
    changes found;
    for (room_use const& use : one.uses) {
        if (use.resource != resource || use.begin >= use.end || use.amount == 0.0) { continue; }
        found[use.begin] += use.amount;
        found[use.end] -= use.amount;
    }
    std::erase_if(found, [](auto const& change) { return std::abs(change.second) < 1e-12; });
    return found;
}

/// The most that all items together can use at the same time is needed for one resource: begins of
/// the runs of days that matter.
class resource_rows {
public:
    resource_rows(choice_problem const& of, int resource) {
        for (std::size_t i = 0; i < of.items.size(); ++i) {
            for (choice_alternative const& one : of.items[i]) {
                all_.push_back({i, changes_of(one, resource)});
                for (auto const& [day, change] : all_.back().second) {
                    (change > 0.0 ? more_ : less_)[day] = 1;
                    days_[day] = 0;
                }
            }
        }
        double const room = of.room[idx(resource)];
        // A run of days that begins with something more and ends with something less asks for the
        // most among its neighbours.
        std::vector<int> kept;
        for (auto day = days_.begin(); day != days_.end(); ++day) {
            auto const next = std::next(day);
            if (next == days_.end()) { break; }
            bool const asks_more_than_before = more_.contains(day->first);
            bool const asks_more_than_after = less_.contains(next->first);
            if (asks_more_than_before && asks_more_than_after) { kept.push_back(day->first); }
        }
        std::vector<double> const most = most_on(kept, of.items.size());
        for (std::size_t k = 0; k < kept.size(); ++k) {
            if (most[k] > room + choice_tolerance) { begins_.push_back(kept[k]); }
        }
    }

    [[nodiscard]] std::vector<int> const& begins() const { return begins_; }

    /// Uses of the n-th alternative, counted through all items, on rows numbered from `first`.
    void add_uses(std::size_t alternative, int first, std::vector<row_use>& uses) const {
        double level = 0.0;
        int row = 0;
        auto const& own = all_[alternative].second;
        for (auto change = own.begin(); change != own.end(); ++change) {
            level += change->second;
            auto const next = std::next(change);
            if (next == own.end()) { break; }
            while (idx(row) < begins_.size() && begins_[idx(row)] < change->first) { ++row; }
            int last = row;
            while (idx(last) < begins_.size() && begins_[idx(last)] < next->first) { ++last; }
            if (last > row && level > 1e-12) { uses.push_back({first + row, first + last, level}); }
            row = last;
        }
    }

private:
    /// On each of these days: the sum over items of the most that one of its alternatives uses.
    [[nodiscard]] std::vector<double> most_on(std::vector<int> const& days,
                                              std::size_t items) const {
        std::vector<double> sum(days.size());
        std::vector<double> of_item(days.size());
        std::size_t next = 0;
        for (std::size_t i = 0; i < items; ++i) {
            std::fill(of_item.begin(), of_item.end(), 0.0);
            for (; next < all_.size() && all_[next].first == i; ++next) {
                double level = 0.0;
                auto change = all_[next].second.begin();
                for (std::size_t k = 0; k < days.size(); ++k) {
                    for (; change != all_[next].second.end() && change->first <= days[k];
                         ++change) {
                        level += change->second;
                    }
                    of_item[k] = std::max(of_item[k], level);
                }
            }
            for (std::size_t k = 0; k < days.size(); ++k) { sum[k] += of_item[k]; }
        }
        return sum;
    }

    std::vector<std::pair<std::size_t, changes>> all_;  ///< item and changes of each alternative
    std::map<int, char> days_;
    std::map<int, char> more_;
    std::map<int, char> less_;
    std::vector<int> begins_;
};

/// True when `one` costs no less and uses no less than `other` on every row.
bool is_dominated(row_alternative const& one, row_alternative const& other) {
    if (one.cost < other.cost) { return false; }
    for (row_use const& use : other.uses) {
        for (int row = use.first; row < use.last; ++row) {
            if (amount_on(one, row) < use.amount - 1e-12) { return false; }
        }
    }
    return true;
}

void leave_dominated_out(std::vector<row_alternative>& all) {
    std::stable_sort(
        all.begin(), all.end(),
        [](row_alternative const& a, row_alternative const& b) { return a.cost < b.cost; });
    std::vector<row_alternative> kept;
    for (row_alternative& one : all) {
        bool const dominated =
            std::any_of(kept.begin(), kept.end(),
                        [&](row_alternative const& other) { return is_dominated(one, other); });
        if (!dominated) { kept.push_back(std::move(one)); }
    }
    all = std::move(kept);
}

double common_step(std::vector<std::vector<row_alternative>> const& items) {
    for (double step : {1.0, 0.5, 0.25, 0.2, 0.1, 0.05, 0.02, 0.01}) {
        bool all_whole = true;
        for (auto const& item : items) {
            for (row_alternative const& one : item) {
                double const times = one.cost / step;
                all_whole = all_whole && std::abs(times - std::round(times)) < 1e-7;
            }
        }
        if (all_whole) { return step; }
    }
    return 0.0;
}

}  // namespace

row_problem rows_of(choice_problem const& of) {
    row_problem made;
    for (std::size_t i = 0; i < of.items.size(); ++i) {
        std::vector<row_alternative>& own = made.items.emplace_back();
        for (std::size_t a = 0; a < of.items[i].size(); ++a) {
            own.push_back({static_cast<int>(a), of.items[i][a].cost, {}});
        }
    }
    for (int r = 0; r < static_cast<int>(of.room.size()); ++r) {
        resource_rows const rows{of, r};
        int const first = static_cast<int>(made.room.size());
        made.room.insert(made.room.end(), rows.begins().size(), of.room[idx(r)]);
        std::size_t number = 0;
        for (auto& item : made.items) {
            for (row_alternative& one : item) { rows.add_uses(number++, first, one.uses); }
        }
    }
    for (auto& item : made.items) {
        std::erase_if(item, [&](row_alternative const& one) {
            return std::any_of(one.uses.begin(), one.uses.end(), [&](row_use const& use) {
                return use.amount > made.room[idx(use.first)] + choice_tolerance;
            });
        });
        leave_dominated_out(item);
    }
    made.cost_step = common_step(made.items);
    return made;
}

}  // namespace epicotyl::detail
