// epicotyl: a calendar in one season year, as a network of monotone inequalities.
//
// Every event of every succession is a vertex, numbered as the rows of a prospect; behind these, of
// every wave that is waited for, one that comes when all of it have come. Requirements are those
// that the prospect keeps:
//
//     a sowing          not before its planned day
//     a decided target  not before its planned day
//     a stage           x_{j+1} >= ready(x_j)
//     a bound           x >= not_before
//     a link            x_then >= after(x_first)
//
// The least solution is what becomes of the calendar in that year: every event as early as all of
// them allow.
//
// A link that waits for the first of a wave is no inequality between two events, and plans with one
// have no latest day for each event ("not before the earlier of two" can be met by moving either).
// It is refused here with `invalid_input`; `schedule` and `simulate` do it.
#ifndef EPICOTYL_SEASON_WINDOWS_EVENT_NETWORK_HPP
#define EPICOTYL_SEASON_WINDOWS_EVENT_NETWORK_HPP

#include <memory>
#include <optional>

#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/fwd.hpp>
#include <epicotyl/network/monotone_network.hpp>
#include <epicotyl/season/days/calendar.hpp>

namespace epicotyl {

/// A ready map as an edge of a network, or none where nothing must pass. Keeps its tables alive.
class stage_map {
public:
    stage_map() = default;
    explicit stage_map(std::shared_ptr<ready_map const> table) : table_{std::move(table)} {}

    [[nodiscard]] int operator()(int start) const { return table_ ? (*table_)(start) : start; }
    [[nodiscard]] std::optional<int> latest(int end) const {
        return table_ ? table_->latest_start(end) : end;
    }
    [[nodiscard]] std::optional<int> earliest(int end) const {
        return table_ ? table_->earliest_start(end) : end;
    }

private:
    std::shared_ptr<ready_map const> table_ = {};
};

static_assert(monotone_map<stage_map>);

/// The network of a calendar in the season year with this index (0 is the first). Successions
/// without days have their events at 0 and no edges. Throws `invalid_input` for an index the
/// climate does not have, and for a link that waits for the first of a wave.
[[nodiscard]] monotone_network<stage_map> event_network(calendar const& of, int year);

}  // namespace epicotyl

#endif
