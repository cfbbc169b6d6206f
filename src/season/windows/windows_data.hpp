// What planting windows hold.
#ifndef EPICOTYL_SRC_SEASON_WINDOWS_WINDOWS_DATA_HPP
#define EPICOTYL_SRC_SEASON_WINDOWS_WINDOWS_DATA_HPP

#include <memory>
#include <vector>

#include <epicotyl/season/windows/planting_windows.hpp>

#include "told.hpp"
#include "window_network.hpp"

namespace epicotyl::detail {

/// A season year solved, whole or group by group.
struct windows_data {
    calendar of;
    int year_index = 0;
    std::shared_ptr<window_frame const> frame;
    /// The networks that have solutions: one of everything, or one for each group.
    std::vector<std::unique_ptr<window_network const>> solved = {};
    std::vector<int> network_of = {};             ///< by succession, index into `solved`, -1: none
    std::vector<int> first_vertex = {};           ///< by succession, in its network
    std::vector<std::vector<int>> earliest = {};  ///< by network and vertex
    std::vector<std::vector<int>> latest = {};
    std::vector<season_conflict> conflicts = {};
    std::vector<int> conflict_group = {};  ///< of each conflict

    [[nodiscard]] season_model const& model() const { return frame->model(); }
    [[nodiscard]] int earliest_of(event_of const& one) const { return value(earliest, one); }
    [[nodiscard]] int latest_of(event_of const& one) const { return value(latest, one); }

private:
    [[nodiscard]] int value(std::vector<std::vector<int>> const& of, event_of const& one) const {
        int const network = network_of[at(one.succession)];
        if (network < 0) { return never; }
        return of[at(network)][at(first_vertex[at(one.succession)] + one.event)];
    }
};

/// Solves one season year.
[[nodiscard]] std::shared_ptr<windows_data const> solve_windows(
    calendar const& of, std::shared_ptr<window_frame const> frame, int year_index);

/// How far a decision with a window may slip with every other decision on its earliest day.
[[nodiscard]] int free_slack_of(windows_data const& data, event_of const& of);

/// A chain as vertices and rows of a network.
struct found_chain {
    int network = 0;                         ///< index into `windows_data::solved`
    std::vector<std::size_t> vertices = {};  ///< in order; the last may be met before
    std::vector<int> ties = {};              ///< row before each vertex, -1: the season's start
    int end = -1;                            ///< row that ends it, -1: none
    std::size_t middle = 0;                  ///< place of the decision whose slack it has
    int slack = 0;
    int free_slack = 0;
    bool crosses_links = false;
};

/// The chains that leave the decisions of solved windows their room, in rank; at most `most`.
[[nodiscard]] std::vector<found_chain> find_tightest(windows_data const& of, int most);
[[nodiscard]] tightest_chain told(windows_data const& of, found_chain const& chain);

/// The chain that holds an event which the season reaches, to its left, itself, and to its right.
[[nodiscard]] found_chain find_chain_through(windows_data const& of, event_of const& middle);
[[nodiscard]] tightest_chain chain_through(windows_data const& of, event_of const& middle);

[[nodiscard]] std::vector<cure> find_cures(windows_data const& of, season_conflict const& conflict);

}  // namespace epicotyl::detail

#endif
