// What many successions have in common is worked out once.
//
// Successions of one crop in the same places, aimed alike, have the same bounds; and sown as early
// as these allow, the same days.
#ifndef EPICOTYL_SRC_SEASON_DAYS_KNOWN_BOUNDS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_KNOWN_BOUNDS_HPP

#include <cstdint>
#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "path_walker.hpp"

namespace epicotyl::detail {

/// Bounds, remembered by what they follow from.
class known_bounds {
public:
    /// Gives a succession, whose springs are known, its bounds; rules that give no day are added to
    /// `problems`.
    void give(season_model const& model, int succession, succession_days& to,
              std::vector<obstacle>& problems);

private:
    struct entry {
        int target_event;
        bool is_on;                        ///< the target is an exact day
        bool names_risk;                   ///< the target names its own risk for the stage's limit
        std::optional<double> share = {};  ///< of the default bound
        /// First day of the half that a target by risk means, of others 0.
        int half = 0;
        std::shared_ptr<spring_choice const> springs = {};
        std::vector<event_bound> const* not_before;
        std::vector<event_bound> const* not_after;
        succession_days like = {};
    };
    std::map<int, std::vector<entry>> of_path_;
};

/// Days of successions sown as early as may be.
class earliest_days {
public:
    /// Fills a succession's days: sown on `earliest`, waiting for no target's day. Those that it
    /// waits for have their days.
    void walk(path_walker const& walker, days_table& days, int succession, int earliest);

    /// The k-th smallest of the days of an event of a succession without links, sown so. Its
    /// own row is left with any days.
    [[nodiscard]] int kth_day(path_walker const& walker, days_table& days, int succession,
                              int earliest, int event, int k);

private:
    struct walked {
        std::vector<std::int16_t> days = {};  ///< [event][year], without links
        int event = -1;                       ///< of the last question, with its answer
        int k = 0;
        int kth = 0;
    };
    /// Chain, its bounds, the sowing.
    using key = std::tuple<int, void const*, int>;

    walked& without_links(path_walker const& walker, days_table& days, int succession,
                          batch_walk what);

    std::map<key, walked> known_;
};

}  // namespace epicotyl::detail

#endif
