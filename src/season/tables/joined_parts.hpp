// A set that falls into parts, joined two members at a time.
#ifndef EPICOTYL_SRC_SEASON_TABLES_JOINED_PARTS_HPP
#define EPICOTYL_SRC_SEASON_TABLES_JOINED_PARTS_HPP

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <vector>

#include "day_table.hpp"

namespace epicotyl::detail {

/// Every member is a part of its own at first.
class joined_parts {
public:
    explicit joined_parts(std::size_t count) : parent_(count) {
        std::iota(parent_.begin(), parent_.end(), 0);
    }
    void join(int a, int b) {
        int const one = part_of(a);
        int const other = part_of(b);
        parent_[at(std::max(one, other))] = std::min(one, other);
    }
    /// The first member of the part of i.
    [[nodiscard]] int part_of(int i) {
        while (parent_[at(i)] != i) { i = parent_[at(i)] = parent_[at(parent_[at(i)])]; }
        return i;
    }

private:
    std::vector<int> parent_;
};

}  // namespace epicotyl::detail

#endif
