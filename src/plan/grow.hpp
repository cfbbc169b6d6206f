// Crops as successions grow them: with the changes that a succession makes, and with a place for
// every stage.
#ifndef EPICOTYL_SRC_PLAN_GROW_HPP
#define EPICOTYL_SRC_PLAN_GROW_HPP

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "check.hpp"

namespace epicotyl::detail {

/// A crop as a succession grows it.
struct grown_crop {
    std::shared_ptr<crop const> what;
    shared_list<int> places;  ///< of each stage
    bool starts_in_field = false;
};

/// The place that counts area where plants stand in `of`: itself, or the whole that it is a part
/// of, directly or not; null where none has an area. No place may be part of itself.
[[nodiscard]] place const* area_counted_in(std::vector<place> const& all, place const& of);

/// Whether it is sown early or late where nothing is said. Early is a harvest in the spring half of
/// the year, to July in the north, of what is sown where it stays and whose harvest heat stops: the
/// earlier it is sown the less heat it meets. A later harvest of the same crop would meet more.
[[nodiscard]] preference default_preference(grown_crop const& grown, rule const& aim,
                                            latitude where);

class crop_grower {
public:
    /// Checks all crops. `checker` must outlive the grower.
    crop_grower(plan_parts const& parts, part_checker& checker)
        : parts_{parts}, checker_{checker}, unchanged_(parts.crops.size()) {
        checker.check_crops();
    }

    /// A crop with the changes of a succession; `field` names the succession. Throws
    /// `invalid_input` for changes that do not fit, and for a stage that no place is for.
    [[nodiscard]] grown_crop grown(int crop_index, std::vector<stage_change> const& changes,
                                   std::string const& field);

    /// A rule of risk needs a limit: its own, or that of the stage which its event begins. Throws
    /// `invalid_input` where there is none.
    static void require_limit(rule const& one, std::string const& event, grown_crop const& grown,
                              std::string const& field);
    static void require_limits(std::vector<event_bound> const& bounds, grown_crop const& grown,
                               std::string const& field);

    /// Where area is counted, each container has to have its own: nothing is taken for 0. Throws
    /// `invalid_input` for one that has none; `succession` is the name of who stands in it.
    void require_areas(grown_crop const& grown, std::string const& succession) const;

private:
    [[nodiscard]] std::optional<int> place_for(std::vector<std::string> const& where) const;
    [[nodiscard]] grown_crop placed(std::shared_ptr<crop const> what,
                                    std::vector<std::string> const& stage_fields) const;
    [[nodiscard]] grown_crop const& unchanged(std::size_t index);
    [[nodiscard]] stage& changed_stage(crop& copy, std::vector<stage_change> const& changes,
                                       std::size_t index, std::string const& field) const;
    [[nodiscard]] grown_crop changed(crop copy, std::vector<stage_change> const& changes,
                                     std::string const& field) const;

    plan_parts const& parts_;
    part_checker const& checker_;
    std::vector<std::optional<grown_crop>> unchanged_;
};

}  // namespace epicotyl::detail

#endif
