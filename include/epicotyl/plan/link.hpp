// epicotyl: links between successions.
//
// A link says that one event waits for another: at least a clock's amount after it, and at most so
// many days. Its ends are events of a succession or of a whole wave. "All" of a wave means its last
// member, "first" its first.
//
//   first = emerge of "beans 1", then = sow of "beans 2"                 sow the next when up
//   first = clear of "peas 1", then = transplant of "leeks", after 5 d   the bed is freed
//   first = transplant of wave "cool" (all), then = prick_out of "warm"  the bench is freed
#ifndef EPICOTYL_PLAN_LINK_HPP
#define EPICOTYL_PLAN_LINK_HPP

#include <optional>
#include <string>

#include <epicotyl/clock/clock.hpp>

namespace epicotyl {

/// One end of a link: an event of a succession, or of every succession of a wave.
struct link_end {
    enum class which { all, first };
    std::string succession = {};  ///< name; empty when `wave` is given
    std::string wave = {};
    std::string event;
    which of = which::all;  ///< for a wave as the first end

    friend bool operator==(link_end const&, link_end const&) = default;
};

struct link {
    link_end first;
    link_end then;
    clock after = clock::days(0.0);     ///< at least this after the first
    std::string place = {};             ///< whose air drives `after`; empty: outdoors
    std::optional<double> within = {};  ///< at most so many days after the first

    friend bool operator==(link const&, link const&) = default;
};

}  // namespace epicotyl

#endif
