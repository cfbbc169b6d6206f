// epicotyl: places where plants stand.
//
// A place is known by what it is for: a stage asks for a job ("grow") or for a place by name. A
// place has an air, some room, and optionally lamps, dates between which it is open, and another
// place that it is a part of (half of a tunnel, a shelf of the house): what stands in the part
// fills part and whole; its air is its own.
//
// Room is counted in as many of three ways as the place says: in trays, whatever their size; in
// metres of bed; and in square metres of bench or floor, on which every container takes its own
// area. Pots that are spaced out are containers with a larger area.
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
    /// Bench or floor for trays and pots [m²], > 0; none: not counted. Every container that stands
    /// here, or in a part of this place, must then have an area.
    std::optional<double> area = {};
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
    std::optional<double> area = {};    ///< what one takes on the bench [m²], > 0; none: not known

    friend bool operator==(container const&, container const&) = default;
};

}  // namespace epicotyl

#endif
