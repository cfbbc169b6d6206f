// epicotyl: places where plants stand.
//
// A place is known by what it is for: a stage asks for a job ("grow") or for a place by name. A
// place has an air, some room, and optionally lamps, dates between which it is open, and another
// place that it is a part of (half of a tunnel, a shelf of the house): what stands in the part
// fills part and whole; its air is its own.
#ifndef EPICOTYL_CROP_PLACE_HPP
#define EPICOTYL_CROP_PLACE_HPP

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/crop/air.hpp>
#include <epicotyl/days.hpp>

namespace epicotyl {

/// What a place is for.
enum class job { germinate, grow, harden, field, store };

inline constexpr std::array<std::string_view, 5> job_names = {"germinate", "grow", "harden",
                                                              "field", "store"};

[[nodiscard]] constexpr std::string_view to_string(job what) noexcept {
    return job_names[static_cast<std::size_t>(what)];
}

/// Lamps that lengthen the day of the plants under them.
struct lamps {
    double hours = 0.0;           ///< length of the lit day, 0 to 24 h
    day from;                     ///< first lit day
    day until;                    ///< last lit day
    std::optional<double> trays;  ///< how many trays they light; none: all

    friend bool operator==(lamps const&, lamps const&) = default;
};

/// Days between which plants may be moved in.
struct open_days {
    day from;
    day until;  ///< last day that plants may stand there

    friend bool operator==(open_days const&, open_days const&) = default;
};

struct place {
    std::string name;
    std::string id = {};  ///< stable identity; empty: the name
    std::vector<job> jobs = {};
    epicotyl::air air = {};
    std::optional<double> trays = {};  ///< room for trays; none: not counted
    std::optional<double> bed = {};    ///< metres of bed; none: not counted
    std::optional<open_days> open = {};
    std::string part_of = {};  ///< name of the whole, empty: none
    std::optional<epicotyl::lamps> lamps = {};

    [[nodiscard]] bool serves(job what) const {
        return std::find(jobs.begin(), jobs.end(), what) != jobs.end();
    }

    friend bool operator==(place const&, place const&) = default;
};

/// A tray, pot or block sheet with so many cells.
struct container {
    std::string name;
    int cells = 1;
    std::optional<double> medium = {};  ///< litres to fill one tray

    friend bool operator==(container const&, container const&) = default;
};

}  // namespace epicotyl

#endif
