// A set that falls into parts, joined two members at a time.
#ifndef EPICOTYL_SRC_SEASON_WINDOWS_JOINED_PARTS_HPP
#define EPICOTYL_SRC_SEASON_WINDOWS_JOINED_PARTS_HPP

#include <cstddef>
#include <numeric>
#include <vector>

#include "../tables/day_table.hpp"

namespace epicotyl::detail {

/// Every member is a part of its own at first.
class joined_parts {
public:
    explicit joined_parts(std::size_t count) : parent_(count) {
        std::iota(parent_.begin(), parent_.end(), 0);
    }
    void join(int a, int b) { parent_[at(part_of(a))] = part_of(b); }
    /// The member that stands for the part of i.
    [[nodiscard]] int part_of(int i) {
        while (parent_[at(i)] != i) { i = parent_[at(i)] = parent_[at(parent_[at(i)])]; }
        return i;
    }

private:
    std::vector<int> parent_;
};

}  // namespace epicotyl::detail

#endif
