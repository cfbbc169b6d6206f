// epicotyl: successions. One dated batch of a crop.
//
// A succession says how many, and aims at a target: one event, with a rule for its day. Everything
// else follows backwards (when to sow) and forwards (when to harvest). Bounds keep other events
// from being too early or too late. `repeat` makes several successions whose harvests are evenly
// spaced; `follows` waits for the bed of another: the first event whose stage stands where the last
// stage of the other stood waits for its clearing and a gap.
//
// Every member of a repeat waits for what it follows. Where that is the name of a repeat with as
// many members, each waits for its counterpart ("beans 2" for "peas 2").
#ifndef EPICOTYL_PLAN_SUCCESSION_HPP
#define EPICOTYL_PLAN_SUCCESSION_HPP

#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/crop/crop.hpp>
#include <epicotyl/crop/rule.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// How much of a succession there is to be.
struct amount {
    enum class measure {
        plants,  ///< alive at the target; sown, if event 0 is the target
        trays,   ///< containers of event 0, every cell sown
        bed      ///< metres of bed at the first stage with a spacing
    };
    measure what = measure::plants;
    double value = 0.0;

    friend bool operator==(amount const&, amount const&) = default;
};

/// What a succession aims at.
struct target {
    std::string event;
    epicotyl::rule rule;

    friend bool operator==(target const&, target const&) = default;
};

/// Several successions from one: `times` in all, their first harvests `harvest_every` days apart.
struct repeat {
    int times = 1;
    int harvest_every = 1;

    friend bool operator==(repeat const&, repeat const&) = default;
};

/// In a change of a stage: ready plants may wait as long as need be.
inline constexpr double any_hold = std::numeric_limits<double>::infinity();

/// What a succession changes in one stage of its crop; what is not given stays, except that a
/// container takes the place of a spacing, and a spacing that of a container.
struct stage_change {
    std::string begins;  ///< the stage that this event begins
    std::optional<performer> who = {};
    std::optional<std::vector<std::string>> where = {};
    std::optional<clock> takes = {};
    std::optional<std::string> container = {};
    std::optional<epicotyl::spacing> spacing = {};
    std::optional<double> survives = {};
    std::optional<double> hold = {};  ///< days, or `any_hold`
    std::optional<temperature> limit = {};
    std::optional<temperature> too_hot = {};
    std::optional<loss_setting> lost_at = {};

    friend bool operator==(stage_change const&, stage_change const&) = default;
};

struct succession {
    std::string name;     ///< empty: the crop's
    std::string id = {};  ///< stable identity; empty: the name
    std::string crop;     ///< name or id of the crop
    epicotyl::amount amount = {};
    epicotyl::target target;
    std::vector<event_bound> not_before = {};
    std::vector<event_bound> not_after = {};
    std::optional<epicotyl::reliability> reliability = {};  ///< none: the plan's
    std::optional<risk_setting> risk = {};                  ///< none: the crop's, else the plan's
    std::string wave = {};                                  ///< empty: none
    std::optional<epicotyl::repeat> repeat = {};
    std::string follows = {};  ///< name or id of the succession whose bed it takes, empty: none
    int gap = 0;               ///< days between its clearing and our moving in
    std::vector<stage_change> changes = {};
    std::optional<preference> prefer = {};  ///< none: the crop's

    friend bool operator==(succession const&, succession const&) = default;
};

}  // namespace epicotyl

#endif
