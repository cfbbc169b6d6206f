// What is used of each row, and by how much that is too much: see choice.hpp.
#ifndef EPICOTYL_SRC_CHOICE_CHOICE_LEVELS_HPP
#define EPICOTYL_SRC_CHOICE_CHOICE_LEVELS_HPP

#include <cstddef>
#include <vector>

#include "choice_rows.hpp"

namespace epicotyl::detail {

class row_levels {
public:
    explicit row_levels(std::size_t rows) : level_(rows) {}

    /// Adds an alternative, or with -1 takes it away.
    void add(row_alternative const& one, double sign = 1.0) {
        for (row_use const& use : one.uses) {
            for (int row = use.first; row < use.last; ++row) {
                level_[static_cast<std::size_t>(row)] += sign * use.amount;
            }
        }
    }
    /// The same; returns how much more is exceeded.
    double move(row_alternative const& one, double sign, std::vector<double> const& room) {
        double more = 0.0;
        for (row_use const& use : one.uses) {
            for (std::size_t k = static_cast<std::size_t>(use.first);
                 k < static_cast<std::size_t>(use.last); ++k) {
                more -= over(k, room);
                level_[k] += sign * use.amount;
                more += over(k, room);
            }
        }
        return more;
    }
    /// How much more would be exceeded if an item changed.
    [[nodiscard]] double change(row_alternative const& from, row_alternative const& to,
                                std::vector<double> const& room) {
        double const more = move(from, -1.0, room) + move(to, 1.0, room);
        add(to, -1.0);
        add(from);
        return more;
    }
    [[nodiscard]] double over(std::size_t row, std::vector<double> const& room) const {
        double const excess = level_[row] - room[row];
        return excess > choice_tolerance ? excess : 0.0;
    }
    /// True when a row that an alternative uses is exceeded.
    [[nodiscard]] bool exceeds(row_alternative const& one, std::vector<double> const& room) const {
        for (row_use const& use : one.uses) {
            for (int row = use.first; row < use.last; ++row) {
                if (over(static_cast<std::size_t>(row), room) > 0.0) { return true; }
            }
        }
        return false;
    }
    [[nodiscard]] bool fits(std::vector<double> const& room) const {
        for (std::size_t k = 0; k < level_.size(); ++k) {
            if (over(k, room) > 0.0) { return false; }
        }
        return true;
    }
    [[nodiscard]] double operator[](std::size_t row) const { return level_[row]; }
    [[nodiscard]] std::size_t size() const { return level_.size(); }

private:
    std::vector<double> level_;
};

/// Levels of a choice; -1 stands for no alternative.
[[nodiscard]] inline row_levels levels_of(row_problem const& of, std::vector<int> const& chosen) {
    row_levels used{of.room.size()};
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        if (chosen[i] >= 0) { used.add(of.items[i][static_cast<std::size_t>(chosen[i])]); }
    }
    return used;
}

}  // namespace epicotyl::detail

#endif
