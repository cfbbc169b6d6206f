// epicotyl: planting windows of every season year - slack and feasibility as distributions.
//
// The windows of planting_windows.hpp, found for every season year of a calendar's climate. They
// answer how much room a day has, and how often: "the sowing of tomato 1 may slip by 5 days or more
// in 24 of 30 years; 3 years are impossible, in 2 of them because the plants would be held too
// long". The earliest day of one year is never put beside the latest of another: a slack is always
// that of one and the same year.
//
//     window_years const room{planned};
//     room.feasible_years("tomato 1");                      // 27
//     room.slack_in("tomato 1", "sow", reliability{0.8});   // 5: as much or more in 24 of 30 years
//     room.failures();                                      // what fails, most often first
//     room.tightest_chains();                               // what leaves least room, how often
#ifndef EPICOTYL_SEASON_WINDOWS_WINDOW_YEARS_HPP
#define EPICOTYL_SEASON_WINDOWS_WINDOW_YEARS_HPP

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/fwd.hpp>
#include <epicotyl/season/rows/requirement.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// A requirement that season years fail at, the one that the conflict of each ends with.
struct window_failure {
    requirement broken;
    std::vector<int> years = {};  ///< ascending

    friend bool operator==(window_failure const&, window_failure const&) = default;
};

/// A chain, and the season years in which it leaves a decision its room.
struct chain_in_years {
    tightest_chain chain = {};     ///< in the first of these years
    std::vector<int> years = {};   ///< in which it is tight, ascending
    std::vector<int> slacks = {};  ///< in each of them [days]
    int usual_slack = 0;           ///< as much or less in half of them [days]
};

class window_years {
public:
    /// Finds the windows of every season year. `threads`: 0 for as many as the machine has; the
    /// result does not depend on it. Throws `invalid_input` when it is negative.
    explicit window_years(epicotyl::calendar of, int threads = 0);

    [[nodiscard]] epicotyl::calendar const& calendar() const noexcept { return of_; }
    /// The season years, ascending.
    [[nodiscard]] std::vector<int> const& years() const noexcept { return years_; }

    /// Season years in which a succession, with all that it is linked with, is feasible.
    [[nodiscard]] int feasible_years(std::string_view succession) const;
    /// Earliest and latest days of an event, one for each season year, as in `planting_windows`.
    /// Throw `invalid_input` for a name the plan does not have, like all below.
    [[nodiscard]] std::vector<std::optional<day>> earliest(std::string_view succession,
                                                           std::string_view event) const;
    [[nodiscard]] std::vector<std::optional<day>> latest(std::string_view succession,
                                                         std::string_view event) const;
    /// Slack of an event [days], one for each season year; none as in `planting_windows`.
    [[nodiscard]] std::vector<std::optional<int>> slack(std::string_view succession,
                                                        std::string_view event) const;
    /// The most days that an event may slip in a share of all season years, impossible years
    /// counting as years without; none when fewer years have a slack at all.
    [[nodiscard]] std::optional<int> slack_in(std::string_view succession, std::string_view event,
                                              reliability share) const;

    /// What the impossible years fail at, most years first, ties in plan order.
    [[nodiscard]] std::vector<window_failure> const& failures() const noexcept { return failures_; }

    /// The tightest chains of all season years, each once, as `planting_windows` lists those of one
    /// year, at most `most` of each year: first those that cross links, then those within one
    /// succession; of each first what is tight in half of all season years or more, the least usual
    /// slack first, then the rest, most years first. In a year in which another chain leaves less
    /// room a chain is not tight. The windows are solved anew for this.
    [[nodiscard]] std::vector<chain_in_years> tightest_chains(int most = 1000,
                                                              int threads = 0) const;

private:
    [[nodiscard]] std::size_t row(std::string_view succession, std::string_view event) const;

    epicotyl::calendar of_;
    std::vector<int> years_;
    std::vector<int> first_row_;
    std::vector<std::int16_t> earliest_;  ///< [row][year]
    std::vector<std::int16_t> latest_;
    std::vector<int> feasible_;  ///< by succession
    std::vector<window_failure> failures_;
};

/// A line for each event: how much room it has, and in how many years; then the tightest chains, in
/// how many years they are tight, and what fails.
[[nodiscard]] std::string to_string(window_years const& of);

}  // namespace epicotyl

#endif
