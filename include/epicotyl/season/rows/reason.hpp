// epicotyl: reasons. Why a day is that day.
//
// A reason is said twice: as a stable code with named values, for a program that translates or
// draws it, and as a sentence for a grower. Both speak the units of the plan: a `frost_at` of 32
// is one of a US plan.
#ifndef EPICOTYL_SEASON_ROWS_REASON_HPP
#define EPICOTYL_SEASON_ROWS_REASON_HPP

#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <epicotyl/days.hpp>

namespace epicotyl {

/// A number, a day or a name in a reason.
using reason_value = std::variant<std::int64_t, double, day, std::string>;

struct reason {
    std::string succession = {};  ///< whose day it is about
    std::string event = {};       ///< which of its events
    std::string code;             ///< stable, "bound.risk"
    std::vector<std::pair<std::string, reason_value>> values = {};
    std::string sentence = {};

    friend bool operator==(reason const&, reason const&) = default;
};

}  // namespace epicotyl

#endif
