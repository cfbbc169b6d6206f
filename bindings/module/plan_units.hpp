// What crosses to Python in the units of a plan.
//
// In C++ a temperature has no unit to be mistaken, and a length is in metres; to Python both are
// floats. Where a plan is at hand floats are in its units, in and out. What goes in passes the
// plan's `unit_door` where it is read; what goes out is turned here, after its words were made,
// which speak the plan's units of their own. Without a plan a float is in °C, K, m or litres, and
// the docstring says so.
#ifndef EPICOTYL_BINDINGS_PLAN_UNITS_HPP
#define EPICOTYL_BINDINGS_PLAN_UNITS_HPP

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <epicotyl/amounts/quantities.hpp>
#include <epicotyl/plan/unit_door.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/space/fit/fit.hpp>
#include <epicotyl/space/occupancy.hpp>

#include "words.hpp"

namespace epicotyl::bindings {

/// "metric" or "us", as plans say it.
[[nodiscard]] inline std::string word_of(unit_system units) {
    return units == unit_system::us ? "us" : "metric";
}

/// The units that such a word names. Throws `invalid_input` for another.
[[nodiscard]] inline unit_system units_of(std::string const& word) {
    static constexpr std::array<std::string_view, 2> words = {"metric", "us"};
    return enum_of<unit_system>(word, words, "units");
}

/// A difference of temperatures in these units.
[[nodiscard]] inline std::optional<double> written_span(unit_system units,
                                                        std::optional<temperature_span> of) {
    return of ? std::optional{unit_door{units}.written(*of)} : std::nullopt;
}

/// What is counted in a place: trays have no units.
[[nodiscard]] inline std::optional<quantity> quantity_of(room_kind kind) noexcept {
    if (kind == room_kind::trays) { return std::nullopt; }
    return kind == room_kind::bed ? quantity::bed : quantity::area;
}

/// Turns numbers of the core into those of the plan's units.
class turned {
public:
    explicit turned(plan const& of) : door_{door_of(of)} {}

    [[nodiscard]] double operator()(std::optional<quantity> what, double core) const {
        return what ? door_.from_core(*what, core) : core;
    }
    /// A number of the plan's own, as it is written there.
    [[nodiscard]] double own(std::optional<quantity> what, double core) const {
        return what ? door_.written(*what, core) : core;
    }
    [[nodiscard]] std::optional<double> operator()(std::optional<quantity> what,
                                                   std::optional<double> core) const {
        return core ? std::optional{(*this)(what, *core)} : core;
    }
    [[nodiscard]] std::vector<double> operator()(std::optional<quantity> what,
                                                 std::vector<double> core) const {
        if (door_.units() == unit_system::us && what) {
            for (double& one : core) { one = door_.from_core(*what, one); }
        }
        return core;
    }
    [[nodiscard]] std::vector<standing> operator()(room_kind kind,
                                                   std::vector<standing> core) const {
        for (standing& one : core) { one.amount = (*this)(quantity_of(kind), one.amount); }
        return core;
    }
    [[nodiscard]] std::vector<overflow> operator()(std::vector<overflow> core) const {
        for (overflow& one : core) {
            std::optional<quantity> const what = quantity_of(one.kind);
            one.room = own(what, one.room);
            one.most = (*this)(what, one.most);
            one.there = (*this)(one.kind, std::move(one.there));
        }
        return core;
    }
    [[nodiscard]] std::vector<not_placed> operator()(std::vector<not_placed> core) const {
        for (not_placed& one : core) {
            one.shortage = (*this)(quantity_of(one.kind), one.shortage);
        }
        return core;
    }
    [[nodiscard]] damage_report operator()(damage_report core) const {
        for (auto* margins : {&core.margin, &core.margin_heater_off, &core.margin_cover_off}) {
            *margins = (*this)(quantity::span, std::move(*margins));
        }
        return core;
    }
    [[nodiscard]] plan_quantities operator()(plan_quantities core) const {
        for (succession_quantity& one : core.successions) {
            one.medium = (*this)(quantity::medium, one.medium);
            for (stage_quantity& stage : one.stages) {
                stage.bed = (*this)(quantity::bed, stage.bed);
            }
        }
        for (tray_line& one : core.trays) { one.medium = (*this)(quantity::medium, one.medium); }
        core.medium = (*this)(quantity::medium, core.medium);
        return core;
    }

private:
    unit_door door_;
};

}  // namespace epicotyl::bindings

#endif
