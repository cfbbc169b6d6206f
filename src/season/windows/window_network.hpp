// One season year as a network of requirements.
#ifndef EPICOTYL_SRC_SEASON_WINDOWS_WINDOW_NETWORK_HPP
#define EPICOTYL_SRC_SEASON_WINDOWS_WINDOW_NETWORK_HPP

#include <algorithm>
#include <deque>
#include <memory>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include <epicotyl/error.hpp>
#include <epicotyl/network/monotone_network.hpp>
#include <epicotyl/season/rows/requirement.hpp>

#include "../days/calendar_data.hpp"
#include "../rows/season_rows.hpp"

namespace epicotyl::detail {

/// A wait: what a table of ready days says, or no wait at all, and some days more. Fewer days than
/// none are none. What the season does not reach is `never`.
class window_map {
public:
    window_map(ready_map const* table, int season_days, int more)
        : table_{table}, season_days_{season_days}, more_{more} {}

    [[nodiscard]] int operator()(int start) const noexcept {
        if (start > season_days_) { return never; }
        int const ready = table_ == nullptr ? start : (*table_)(start);
        if (ready >= never) { return never; }
        int const end = std::max(start, ready + more_);
        return end > season_days_ ? never : end;
    }
    /// Largest start with (*this)(start) <= end; none when there is none.
    [[nodiscard]] std::optional<int> latest(int end) const noexcept {
        if (end >= never) { return never; }
        int const last = std::min(end, season_days_);
        int const ready_by = std::min(last - more_, season_days_);
        if (last < 0 || ready_by < 0) { return std::nullopt; }
        std::optional<int> const start =
            table_ == nullptr ? std::optional<int>{ready_by} : table_->latest_start(ready_by);
        if (!start) { return std::nullopt; }
        return std::min(*start, last);
    }
    /// Smallest start with (*this)(start) >= end.
    [[nodiscard]] std::optional<int> earliest(int end) const noexcept {
        if (end <= 0) { return 0; }
        int const first = std::min(end, season_days_ + 1);
        int const by_itself = first > season_days_ ? never : first;
        int const ready = first - more_;
        int by_table = never;
        if (ready <= 0) {
            by_table = 0;
        } else if (table_ != nullptr) {
            by_table = table_->earliest_start(ready);
        } else if (ready <= season_days_) {
            by_table = ready;
        }
        return std::min(by_itself, by_table);
    }

private:
    ready_map const* table_;
    int season_days_;
    int more_;
};

static_assert(monotone_map<window_map>);

/// A requirement that gives way by some days.
struct relaxed_row {
    int row;
    int days;
};

/// What `schedule` asks of one succession, where it has no answer: the days of all that it waits
/// for and its own come as early as they may, as `schedule` counts them, and its own target and
/// every `not_after` of its must hold. Nothing else is a requirement: no `hold`, no `within`, and
/// of the others only what makes them late.
struct claim_asked {
    int succession = -1;
    bool with_uppers = true;     ///< else only what makes days late
    int target_by = never;       ///< last day of the target; `never`: none
    bool is_season_end = false;  ///< `target_by` is the season's end
    int free_target = -1;        ///< whose target does not wait for its day, -1: nobody's
    /// By succession and year: the day that is kept because links (or what passes before a target)
    /// allow no earlier one in enough years; 0 where the year itself allows no earlier one.
    std::vector<std::vector<int>> planned_sowing = {};
    std::vector<std::vector<int>> planned_target = {};
};

/// What holds in every season year of a calendar: targets, bounds, links.
struct window_frame {
    struct batch {
        bool is_in = false;     ///< else it is left out
        int group = 0;          ///< of linked successions
        int not_later = never;  ///< of the target
        std::vector<event_bounds> const* bounds = nullptr;
        /// Bounds and targets, then what passes between its events, then links into them.
        std::vector<requirement_row> rows = {};
    };
    /// What links count from, of those that are in.
    struct source {
        std::vector<event_of> members = {};  ///< none: no link of those that are in counts from it
        event_of first = no_event;           ///< of these, that comes first in the calendar
        event_of last = no_event;
    };

    std::shared_ptr<calendar_data const> of;
    std::vector<batch> batches = {};
    std::vector<source> sources = {};           ///< as `season_model::awaited_all`
    std::vector<std::vector<int>> groups = {};  ///< successions of each group, in plan order
    std::vector<obstacle> left_out = {};
    /// Bounds that the calendar does not hold; a deque keeps them where they are.
    std::deque<std::vector<event_bounds>> own = {};

    [[nodiscard]] season_model const& model() const { return *of->model; }
    /// What a row counts from: one event, or a wave; nothing for a bound.
    [[nodiscard]] std::span<event_of const> counted_from(requirement_row const& row) const {
        if (row.awaited >= 0) { return sources[at(row.awaited)].members; }
        return {&row.from, row.is_bound() ? 0U : 1U};
    }
};

/// Which day stands for the target of a decision.
enum class target_kept { planned, asked };

[[nodiscard]] window_frame make_window_frame(std::shared_ptr<calendar_data const> of,
                                             target_kept day = target_kept::planned);

/// The network of some successions in one season year. Every group is in it whole or not at all.
///
/// A wave that is waited for has a vertex of its own behind those of the events: no earlier than
/// any of its members, and all who wait wait for it. So many that wait for many have as many edges
/// as there are of both together. Nobody is told of it: a step to it and a step from it are told as
/// one, from the member to the one that waits.
struct window_network {
    monotone_network<window_map> net{0, never};
    std::vector<requirement_row> rows = {};  ///< by label; to a wave's vertex they go to `no_event`
    std::vector<event_of> owner = {};        ///< of each vertex; of a wave, who is named

    /// Vertices of waves come last.
    std::size_t events = 0;

    [[nodiscard]] bool is_wave(std::size_t vertex) const { return vertex >= events; }
    /// True of what a member says to its wave, which is no requirement by itself.
    [[nodiscard]] bool joins_wave(int row) const { return rows[at(row)].to == no_event; }
    /// A requirement with its ends: of two vertices that it ties, the one that is not bounded by it
    /// is what it counts from.
    [[nodiscard]] requirement_row between(int row, std::size_t vertex, std::size_t other) const {
        requirement_row made = rows[at(row)];
        if (made.awaited >= 0) { made.from = owner[owner[vertex] == made.to ? other : vertex]; }
        return made;
    }
};

/// A step of a walk between events: waves are left out.
struct event_step {
    int row;
    requirement_row what;
    std::size_t vertex;
    std::optional<int> value;
    int turns;
};
[[nodiscard]] std::vector<event_step> event_steps(window_network const& of, walk const& proof);
/// Where a walk begins: at an event, or, where it begins at a wave and comes back to it, at the
/// member by which it does.
[[nodiscard]] std::size_t begin_of(window_network const& of, walk const& proof);

/// On the heap, because Boost's graphs can be copied and not moved. `first_vertex[i]` is set to the
/// vertex of event 0 for every succession i that is in.
[[nodiscard]] std::unique_ptr<window_network> make_window_network(
    window_frame const& frame, std::vector<int> const& successions, int year,
    std::vector<int>& first_vertex, std::optional<relaxed_row> relaxed = {},
    claim_asked const* claim = nullptr);

}  // namespace epicotyl::detail

#endif
