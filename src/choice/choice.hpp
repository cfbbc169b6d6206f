// One of several ways for each of several items, at least cost, within room that changes hands.
//
// Knows nothing of plants. Each item takes exactly one of its alternatives; an alternative has a
// cost and uses amounts of resources on runs of days; of each resource there is only so much on any
// day. This is a multiple-choice packing problem over time, NP-hard in general.
//
// How it is solved:
//
//   - Days on which nothing new begins before something ends are dropped, because the day before
//     or after asks for more; so are days on which all alternatives together fit. What is left is a
//     list of rows, in order of resource and day, so that every use is a run of rows.
//   - An alternative that costs no less than another of its item, and uses no less, is dropped.
//   - Prices on rows (Lagrange multipliers, found by subgradient steps) give a lower bound, which
//     is as good as that of the linear relaxation, and suggest alternatives.
//   - A suggestion that does not fit is mended by the cheapest changes, then improved.
//   - Branch and bound, an item at a time, with the bound at every node. What that does not settle
//     soon is improved by choosing a few items anew, again and again, the others staying where they
//     are (`choice_guided.hpp`), and then searched for as long as the work allows.
//
// The work is counted in steps (an item looked at in a subgradient step, or changed on trial, or a
// few alternatives tried while items are chosen anew), so that the same problem gives the same
// answer on any machine; a limit in seconds, or a caller that stops it, can only cut it short. The
// best found and the bound are valid whenever it ends.
//
// Lower bound and its search: [fisher1981], from memory.
#ifndef EPICOTYL_SRC_CHOICE_CHOICE_HPP
#define EPICOTYL_SRC_CHOICE_CHOICE_HPP

#include <cstdint>
#include <functional>
#include <limits>
#include <vector>

namespace epicotyl::detail {

/// So much of a resource on days [begin, end).
struct room_use {
    int resource;
    int begin;
    int end;
    double amount;
};

struct choice_alternative {
    double cost;  ///< finite
    std::vector<room_use> uses = {};
};

struct choice_problem {
    std::vector<double> room;  ///< of each resource
    std::vector<std::vector<choice_alternative>> items;
};

/// What is known while it runs.
struct choice_progress {
    double cost;   ///< of the best found, infinity: none yet
    double bound;  ///< no choice costs less
    double seconds;
};

struct choice_options {
    std::int64_t steps = 5'000'000;
    double seconds = std::numeric_limits<double>::infinity();
    /// Told now and then; false stops the search. May throw.
    std::function<bool(choice_progress const&)> progress = {};
};

enum class choice_end { proved, steps, seconds, stopped };

struct choice_result {
    /// The alternative of each item; empty where no choice that fits was found.
    std::vector<int> chosen = {};
    double cost = std::numeric_limits<double>::infinity();
    /// No choice costs less; infinity: it is proved that none fits.
    double bound = 0.0;
    choice_end ended = choice_end::proved;

    [[nodiscard]] bool fits() const { return !chosen.empty(); }
};

/// Chooses. Room that is exceeded by less than 1e-6 is not exceeded.
[[nodiscard]] choice_result choose(choice_problem const& of, choice_options const& options = {});

}  // namespace epicotyl::detail

#endif
