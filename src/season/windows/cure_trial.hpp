// What becomes of a succession without days when a cure is typed into the plan: it is planned
// again, with all that it hangs together with and without the rest.
#ifndef EPICOTYL_SRC_SEASON_WINDOWS_CURE_TRIAL_HPP
#define EPICOTYL_SRC_SEASON_WINDOWS_CURE_TRIAL_HPP

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/rows/requirement.hpp>
#include <epicotyl/season/windows/typed_cure.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../days/calendar_data.hpp"

namespace epicotyl::detail {

/// A plan in pieces that neither links nor repeats tie together.
class plan_pieces {
public:
    explicit plan_pieces(plan const& whole);

    /// The plan with nothing but the piece of a succession.
    [[nodiscard]] plan piece_of(int succession) const;

private:
    plan const& whole_;
    plan_parts frame_;             ///< without successions and links
    std::vector<int> piece_;       ///< by the source of a succession
    std::vector<int> link_piece_;  ///< by the source of a link
};

/// Other seasons for the whole plan: the season years of each are cut once. Holds a reference.
class other_seasons {
public:
    explicit other_seasons(calendar_data const& of);

    /// None where the record does not reach so far, or where the years are not simply a record's.
    [[nodiscard]] std::shared_ptr<climate const> climate_of(season const& window);

    /// In this season every succession that has days keeps days, however little it has to do with
    /// the one that is to be cured: other season years are another weather for all.
    [[nodiscard]] bool keeps_days(season const& window);

private:
    using window_key = std::pair<day, int>;

    calendar_data const& of_;
    bool is_latest_ = false;  ///< the years are the latest that the record can serve
    std::map<window_key, std::shared_ptr<climate const>> climates_ = {};
    std::map<window_key, bool> keeps_days_ = {};
};

/// Tries cures of one succession. Holds references; a short-lived tool.
class cure_trial {
public:
    cure_trial(calendar_data const& of, plan piece, other_seasons& seasons, int succession);

    [[nodiscard]] plan const& piece() const noexcept { return piece_; }
    /// The succession as it is written.
    [[nodiscard]] std::string const& written() const noexcept { return written_; }

    /// The calendar in which it has days, and nothing of its piece that had some has lost them;
    /// none: no cure. Of another season `other_seasons::keeps_days` says the same for the rest of
    /// the plan.
    [[nodiscard]] std::optional<calendar> cured(typed_cure const& what);
    [[nodiscard]] bool cures(typed_cure const& what) { return cured(what).has_value(); }
    /// The same of a plan that something has been typed into.
    [[nodiscard]] std::optional<calendar> cured(plan const& typed, climate const& under);

    /// A requirement that gives way by some days, typed; none where no number of days says it.
    [[nodiscard]] std::optional<plan> typed(requirement const& what, std::optional<int> bound,
                                            int days) const;

private:
    calendar_data const& of_;
    plan piece_;
    other_seasons& seasons_;
    std::string name_;
    std::string written_;
    std::set<std::string> without_days_ = {};  ///< names
};

/// The name that an edit knows a succession by.
[[nodiscard]] std::string written_name(plan const& of, int succession);

}  // namespace epicotyl::detail

#endif
