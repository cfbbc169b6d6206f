// A few items chosen anew, exactly, while all others stay where they are: see choice.hpp.
//
// Depth first. At every node each item takes the cheapest of its alternatives that fits by itself.
// The sum of their costs is a bound; where all of them fit together it is reached. Otherwise some
// of those on the most exceeded row have to change: what that costs at least, were it possible in
// fractions, raises the bound, and the item there that would pay most is branched on.
#ifndef EPICOTYL_SRC_CHOICE_CHOICE_PIECE_HPP
#define EPICOTYL_SRC_CHOICE_CHOICE_PIECE_HPP

#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

#include "choice_rows.hpp"

namespace epicotyl::detail {

/// What is asked of a piece.
struct piece_limits {
    /// An alternative that the first item must not take; -1: none.
    int barred = -1;
    /// What the items cost together must be less.
    double cost = std::numeric_limits<double>::infinity();
    int nodes = std::numeric_limits<int>::max();
};

class piece_search {
public:
    /// Alternatives of an item are in order of their cost. The costs may change between searches.
    explicit piece_search(row_problem const& of) : of_{of}, room_{of.room} {}

    /// Takes away what an alternative uses, or with -1 gives it back.
    void take(row_alternative const& one, double sign = 1.0);

    /// The cheapest alternatives of these items that fit together in the room that is left; empty
    /// where there are none, or none was found among so many nodes. `work` counts.
    [[nodiscard]] std::vector<int> const& search(std::vector<std::size_t> const& items,
                                                 piece_limits const& limits, std::int64_t& work);

private:
    /// An item that is not fixed yet, and the first of its alternatives that may still fit.
    struct open_item {
        std::size_t place;  ///< among the items of the piece
        std::size_t item;
        int cheapest;
    };
    struct relief {
        double price;  ///< for each unit of room
        double amount;
    };

    void search_below(std::size_t depth, double paid);
    [[nodiscard]] bool fits(row_alternative const& one) const;
    /// The first alternative from `index` on that fits by itself, or one past the last.
    [[nodiscard]] int next_fitting(open_item const& of, int index);
    /// The row most exceeded if each open item took its cheapest, and by how much; -1: none.
    [[nodiscard]] std::pair<int, double> most_exceeded(std::vector<open_item> const& open);
    /// What has to be paid at least to free so much, as of `reliefs_`.
    [[nodiscard]] double least_price(double amount);

    [[nodiscard]] row_alternative const& cheapest(open_item const& of) const {
        return of_.items[of.item][idx(of.cheapest)];
    }
    [[nodiscard]] int count(std::size_t item) const {
        return static_cast<int>(of_.items[item].size());
    }
    /// A branch that costs at least this gains nothing.
    [[nodiscard]] double enough() const { return limits_.cost - 1e-9; }

    row_problem const& of_;
    std::vector<double> room_;  ///< what is left
    piece_limits limits_;
    std::vector<std::vector<open_item>> open_;  ///< by depth
    std::vector<relief> reliefs_;
    std::vector<int> fixed_;
    std::vector<int> best_;
    std::int64_t looked_at_ = 0;  ///< alternatives
};

}  // namespace epicotyl::detail

#endif
