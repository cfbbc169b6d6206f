// Names and ids of the successions of a plan, found without holding them again.
#ifndef EPICOTYL_SRC_PLAN_SUCCESSION_NAMES_HPP
#define EPICOTYL_SRC_PLAN_SUCCESSION_NAMES_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/detail/name_slots.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

/// Entries are even for the name of a succession and odd for its id.
[[nodiscard]] inline auto succession_name_of(std::vector<resolved_succession> const& all) {
    return [&all](int entry) -> std::string_view {
        resolved_succession const& one = all[static_cast<std::size_t>(entry / 2)];
        return entry % 2 == 0 ? one.name : one.id;
    };
}

/// The index of a succession by name or id.
[[nodiscard]] inline std::optional<int> find_succession(name_slots const& names,
                                                        std::vector<resolved_succession> const& all,
                                                        std::string_view name) {
    std::optional<int> const entry = names.find(name, succession_name_of(all));
    return entry ? std::optional{*entry / 2} : std::nullopt;
}

}  // namespace epicotyl::detail

#endif
