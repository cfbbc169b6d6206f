// A choice with its days turned into rows: see choice.hpp.
#ifndef EPICOTYL_SRC_CHOICE_CHOICE_ROWS_HPP
#define EPICOTYL_SRC_CHOICE_CHOICE_ROWS_HPP

#include <cstddef>
#include <vector>

#include "choice.hpp"

namespace epicotyl::detail {

/// Rows and alternatives are counted with `int`; containers ask for `size_t`.
[[nodiscard]] constexpr std::size_t idx(int index) {
    return static_cast<std::size_t>(index);
}

/// What is exceeded by less is not exceeded.
inline constexpr double choice_tolerance = 1e-6;

/// So much on rows [first, last).
struct row_use {
    int first;
    int last;
    double amount;
};

struct row_alternative {
    int source;  ///< index in the problem
    double cost;
    std::vector<row_use> uses;
};

/// What an alternative uses of a row.
[[nodiscard]] inline double amount_on(row_alternative const& one, int row) {
    double sum = 0.0;
    for (row_use const& use : one.uses) {
        if (use.first <= row && row < use.last) { sum += use.amount; }
    }
    return sum;
}

struct row_problem {
    std::vector<double> room;                         ///< of each row
    std::vector<std::vector<row_alternative>> items;  ///< dominated alternatives left out
    /// All costs are whole multiples of this; 0: of nothing that was tried.
    double cost_step = 0.0;
};

/// An item without any alternative that fits by itself has none left.
[[nodiscard]] row_problem rows_of(choice_problem const& of);

}  // namespace epicotyl::detail

#endif
