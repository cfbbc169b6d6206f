// epicotyl: two calendars side by side - what moved, and which changed input moved it.
//
// Both calendars know their plans and climates. `compare` lists the events whose planned days
// differ, then the inputs that differ: fields of the plan, the season years, the reliability. Each
// changed input is tried alone, on the first calendar: what then moves is put down to it. Some
// changes cannot stand alone (a new succession of a crop that is new as well), and some move days
// only together with others; what no single change moves is listed too.
//
//     calendar_comparison const found = compare(before, after);
//     found.moved[0];       // tomato 1: transplant, 12 May to 18 May
//     found.inputs[0];      // places.frame.cold_nights: moves 3 events alone
//     found.together;       // what only several changes together move
//
// Trying an input costs one `schedule`. Fields are as they stand in a plan file, with successions
// by name and stages by the event that begins them: "succession.\"tomato 1\".target". The second
// plan is compared in the units of the first. Titles are not inputs.
#ifndef EPICOTYL_SEASON_WHAT_IF_COMPARE_HPP
#define EPICOTYL_SEASON_WHAT_IF_COMPARE_HPP

#include <optional>
#include <string>
#include <vector>

#include <epicotyl/season/days/calendar.hpp>

namespace epicotyl {

/// An event whose planned day differs.
struct moved_event {
    std::string succession;
    std::string event;
    std::optional<day> before = {};  ///< none: it has no day, or is not in the plan
    std::optional<day> after = {};

    /// Days later, negative when earlier; none where either day is.
    [[nodiscard]] std::optional<int> days() const {
        if (!before || !after) { return std::nullopt; }
        return static_cast<int>((*after - *before).count());
    }

    friend bool operator==(moved_event const&, moved_event const&) = default;
};

/// An input that differs between two calendars.
struct changed_input {
    std::string field;        ///< "succession.\"tomato 1\".target", "season years", "reliability"
    std::string before = {};  ///< as in a plan file; empty: it is not there
    std::string after = {};
    bool stands_alone = true;             ///< false: the plan is refused with this change alone
    std::vector<moved_event> moves = {};  ///< what it moves alone, in plan order

    friend bool operator==(changed_input const&, changed_input const&) = default;
};

struct calendar_comparison {
    std::vector<moved_event> moved = {};      ///< in the order of the first plan, then the second
    std::vector<changed_input> inputs = {};   ///< in the order of the plan file
    std::vector<moved_event> together = {};   ///< of `moved`, what no input moves alone
    unit_system units = unit_system::metric;  ///< the first plan's, of the text and the inputs

    friend bool operator==(calendar_comparison const&, calendar_comparison const&) = default;
};

/// Compares two calendars. Events are met by the names of succession and event.
[[nodiscard]] calendar_comparison compare(calendar const& before, calendar const& after);

/// A line for each event that moved, then for each changed input and what it moves.
[[nodiscard]] std::string to_string(calendar_comparison const& of);

}  // namespace epicotyl

#endif
