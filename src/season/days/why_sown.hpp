// Why a sowing is planned for its day: the claim that one day later would break.
//
// A claim that counts good years breaks by the target or by a `not_after`, of the succession itself
// or of one that waits for it. Which of them it is shows when the season is walked with the sowing
// a day later: in the years that were good and are so no longer.
#ifndef EPICOTYL_SRC_SEASON_DAYS_WHY_SOWN_HPP
#define EPICOTYL_SRC_SEASON_DAYS_WHY_SOWN_HPP

#include <string>
#include <vector>

#include "held_text.hpp"

namespace epicotyl::detail {

class sowing_reasons : public reason_maker {
public:
    using reason_maker::reason_maker;

    /// Of the sowing of succession `i`, planned by a count.
    [[nodiscard]] reason why_sown(int i) const;
    /// The `not_after` that it names, each by itself.
    [[nodiscard]] std::vector<reason> named_ends(int i) const;

private:
    /// What a day later fails in years that are good as planned.
    struct broken_requirement {
        int event = 0;
        bool is_target = false;
        int years = 0;
    };
    [[nodiscard]] std::vector<broken_requirement> broken_a_day_later(int i) const;
    [[nodiscard]] std::string asked_text(int i) const;
    [[nodiscard]] std::string breaks_text(int i,
                                          std::vector<broken_requirement> const& broken) const;
};

}  // namespace epicotyl::detail

#endif
