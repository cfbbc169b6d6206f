// epicotyl: planting windows - the earliest and the latest day of every event in one season year.
//
// `schedule` says when to sow so that things are in time in most years. This asks of one season
// year: what is the earliest and the latest day of every event, what may slip, by how much, what
// pushes what - and, where a year is impossible, exactly which requirements cannot all be met.
// All is counted with hindsight: the year's weather is known. Windows therefore teach, and find
// what is tight; they are no plan.
//
// Requirements, of every succession and of its links (see `requirement_kind`):
//
//     a stage        x_{j+1} >= ready(x_j); an outcome comes on that very day
//     a hold         x_{j+1} <= ready(x_j) + hold: ready plants do not keep for ever
//     a bound        not_before, not_after, the opening of a place, the risk that is accepted
//     a target       a decision falls on the day that the calendar gives it (with a `not_after` of
//                    its own: on that day at the earliest); an outcome comes by its day at the
//                    latest
//     a link         x_then >= after(x_first), and x_then <= x_first + within
//
// Sowing days are free. An event that the season does not reach imposes nothing: its window is
// empty of days, and a `hold` or `within` that counts from it says nothing. A link that waits for
// the first (or keeps `within` the last) of a wave takes the member that comes first (last) in the
// calendar: "not before the earlier of two" alone has no latest day for each.
//
// All solutions lie between the earliest and the latest; not every choice between them is one:
//
//     calendar const planned = schedule(plan, climate);
//     planting_windows const spring{planned, 2012};
//     spring.earliest("tomato 1", "sow");        // 2 Mar
//     spring.latest("tomato 1", "sow");          // 19 Mar
//     spring.slack("tomato 1", "sow");           // 17 days, used by all that comes after as well
//     spring.free_slack("tomato 1", "sow");      // 3 days, without moving any other decision
//     spring.tightest_chains();                  // what leaves least room in the whole farm
//
// Successions that wait for one another are solved together, others apart, so that an impossible
// one does not hide the rest.
#ifndef EPICOTYL_SEASON_WINDOWS_PLANTING_WINDOWS_HPP
#define EPICOTYL_SEASON_WINDOWS_PLANTING_WINDOWS_HPP

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/rows/requirement.hpp>

namespace epicotyl {

namespace detail {
struct windows_data;
}

/// An event on a chain, with its window and the requirement that ties it to the next.
struct chain_event {
    std::string succession;
    std::string event;
    day earliest;
    std::optional<day> latest;  ///< none: nothing keeps it within the season
    requirement tie;  ///< what holds it against the event before it, or the bound it begins with
};

/// What leaves a decision its room: from a requirement that keeps the first event from being
/// earlier, along requirements that push from each event to the next, to one that keeps the last
/// from being later. A chain that turns, as where plants may wait a little for the day of their
/// target, meets the events behind the turn twice: on its way there and on its way back.
struct tightest_chain {
    std::vector<chain_event> events = {};
    requirement end = {};  ///< what keeps the last event from being later
    int slack = 0;         ///< days by which all its decisions may slip together
    int free_slack = 0;    ///< so many of them without moving any other decision
    int middle = 0;        ///< place in `events` of the one that has so little slack
    bool crosses_links = false;

    [[nodiscard]] bool empty() const noexcept { return events.empty(); }
};

class planting_windows {
public:
    /// The windows of a calendar's plan in one season year of its climate. Throws `invalid_input`
    /// for a year that the climate does not have.
    planting_windows(epicotyl::calendar const& of, int year);
    /// The same of a plan, by the calendar that `schedule` gives it at the plan's reliability.
    planting_windows(epicotyl::plan const& of, climate const& under, int year);

    /// The season year, named by the year in which it begins.
    [[nodiscard]] int year() const;
    [[nodiscard]] epicotyl::calendar const& calendar() const;
    [[nodiscard]] epicotyl::plan const& plan() const { return calendar().plan(); }

    /// True when every requirement of every succession can be met in this year.
    [[nodiscard]] bool feasible() const;
    /// True when those of one succession, and of all that it is linked with, can.
    [[nodiscard]] bool feasible(std::string_view succession) const;

    /// First and last day on which an event can fall; none where its succession is not feasible,
    /// where the season does not reach the event, and, of `latest`, where nothing bounds it. Throws
    /// `invalid_input` for a name the plan does not have.
    [[nodiscard]] std::optional<day> earliest(std::string_view succession,
                                              std::string_view event) const;
    [[nodiscard]] std::optional<day> latest(std::string_view succession,
                                            std::string_view event) const;
    /// The same by index; offsets in the season, `never` where there is no such day.
    [[nodiscard]] int earliest_offset(int succession, int event) const;
    [[nodiscard]] int latest_offset(int succession, int event) const;

    /// Days between earliest and latest: how far the event may slip if everything before and after
    /// it gives way. None where either is.
    [[nodiscard]] std::optional<int> slack(std::string_view succession,
                                           std::string_view event) const;
    /// How far a decision may slip from its earliest day with every other decision on its own
    /// earliest day, the plants' own events following as they must. 0 for outcomes. None where
    /// `slack` is.
    [[nodiscard]] std::optional<int> free_slack(std::string_view succession,
                                                std::string_view event) const;

    /// The chains that leave the decisions of the farm their room, ties and all: first those that
    /// cross links, then those within one succession, of each the least slack first, then the least
    /// free slack, then plan order. A decision fixed by its own bounds has no choice and makes no
    /// chain, nor do the plants' own events that follow from it. Where links run side by side ties
    /// multiply; the list ends with `most` of them. Throws `invalid_input` when that is below 1.
    [[nodiscard]] std::vector<tightest_chain> tightest_chains(int most = 1000) const;
    /// The tightest chain through one event: what keeps it from its left, and what from its right;
    /// of ties the shortest. Empty where `slack` is none.
    [[nodiscard]] tightest_chain chain_of(std::string_view succession,
                                          std::string_view event) const;

    /// Why this year is impossible: one conflict for each group of linked successions that has one.
    [[nodiscard]] std::vector<season_conflict> const& conflicts() const;
    /// Successions without windows for another reason: a rule of theirs gives no day at all.
    [[nodiscard]] std::vector<obstacle> left_out() const;

    /// The requirements of a conflict that would cure it, each alone, and by how many days it has
    /// to give way: the smallest number for each, fewest days first. What would leave its group
    /// impossible for another reason is not among them.
    [[nodiscard]] std::vector<cure> cures(season_conflict const& of) const;

    [[nodiscard]] std::shared_ptr<detail::windows_data const> const& data() const noexcept {
        return data_;
    }

private:
    std::shared_ptr<detail::windows_data const> data_;
};

/// Event by event, with the windows in days and the tightest chains, or the conflicts.
[[nodiscard]] std::string to_string(planting_windows const& of);

/// The network as a DOT text (the Graphviz language): events as vertices, with their windows;
/// requirements as edges; the first of the tightest chains, and those that tie with it, drawn bold.
[[nodiscard]] std::string to_dot(planting_windows const& of);

}  // namespace epicotyl

#endif
