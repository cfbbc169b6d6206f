// What stands in the way of successions, with cures that have been tried.
#ifndef EPICOTYL_SRC_SEASON_WINDOWS_SAID_OBSTACLES_HPP
#define EPICOTYL_SRC_SEASON_WINDOWS_SAID_OBSTACLES_HPP

#include <mutex>
#include <vector>

#include <epicotyl/error.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/windows/typed_cure.hpp>

namespace epicotyl::detail {

/// The obstacles of a calendar as they are said. Cures are sought once, when the first is asked
/// for, by whichever thread asks first: `schedule` has no part in it.
class said_obstacles {
public:
    [[nodiscard]] std::vector<obstacle> const& all(calendar const& of) const {
        seek(of);
        return obstacles_;
    }
    /// Of the obstacle with this number.
    [[nodiscard]] std::vector<typed_cure> const& cures(calendar const& of,
                                                       std::size_t number) const {
        seek(of);
        return cures_[number];
    }

private:
    void seek(calendar const& of) const;

    mutable std::once_flag sought_;
    mutable std::vector<obstacle> obstacles_;
    mutable std::vector<std::vector<typed_cure>> cures_;
};

}  // namespace epicotyl::detail

#endif
