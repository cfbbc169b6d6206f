// Short lists of many, one after the other: most have none or one, and a list of its own for each
// would be the larger part.
#ifndef EPICOTYL_SRC_SEASON_TABLES_GROUPED_HPP
#define EPICOTYL_SRC_SEASON_TABLES_GROUPED_HPP

#include <cstddef>
#include <numeric>
#include <span>
#include <utility>
#include <vector>

#include "day_table.hpp"

namespace epicotyl::detail {

template <class Item>
class grouped {
public:
    grouped() = default;
    /// `items` are given with their groups, 0 ... count - 1; those of a group stay in order.
    grouped(std::size_t count, std::vector<std::pair<int, Item>> const& items)
        : items_(items.size()), first_(count + 1, 0) {
        for (auto const& [group, item] : items) { ++first_[at(group) + 1]; }
        std::partial_sum(first_.begin(), first_.end(), first_.begin());
        std::vector<int> next = first_;
        for (auto const& [group, item] : items) { items_[at(next[at(group)]++)] = item; }
    }

    [[nodiscard]] std::span<Item const> operator[](std::size_t group) const {
        return std::span{items_}.subspan(at(first_[group]), at(first_[group + 1] - first_[group]));
    }

private:
    std::vector<Item> items_ = {};
    std::vector<int> first_ = {};  ///< of each group; one more at the end
};

}  // namespace epicotyl::detail

#endif
