// Batches changed on trial: what can be changed, what becomes of it, and what it may not break.
#ifndef EPICOTYL_SRC_SPACE_FIT_FIT_TRIALS_HPP
#define EPICOTYL_SRC_SPACE_FIT_FIT_TRIALS_HPP

#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/space/fit/fit.hpp>

namespace epicotyl::detail {

struct calendar_data;

/// The last part of a stage, so large a share of its wait, in another place.
struct early_move {
    int stage;
    int place;
    double share;

    friend bool operator==(early_move const&, early_move const&) = default;
};

/// Stages [first, last), which stand in one container, in another.
struct container_change {
    int first;
    int last;
    std::string container;

    friend bool operator==(container_change const&, container_change const&) = default;
};

/// A stage in another of its places, the rank-th after the planned one.
struct other_place {
    int stage;
    int place;
    int rank;

    friend bool operator==(other_place const&, other_place const&) = default;
};

/// What is otherwise with a batch.
struct batch_change {
    int shift = 0;  ///< days by which the target gives way
    std::vector<other_place> places = {};
    std::optional<early_move> early = {};
    std::optional<container_change> container = {};
    /// The event on which its plants come, bought in: what stood before it falls away.
    std::optional<int> bought = {};
    /// Number of the changes that are made together, of batches linked with each other; -1: alone.
    int together = -1;

    friend bool operator==(batch_change const&, batch_change const&) = default;
};

/// The event that begins the part of a stage that is out early.
inline constexpr char const* early_event = "out_early";

/// What may be tried with a batch, cheapest kinds first; `coarse` tries fewer days.
[[nodiscard]] std::vector<batch_change> changes_to_try(calendar const& of, int batch,
                                                       fit_options const& options, bool coarse);

/// Days by which targets are tried to give way; fewer when `coarse`.
[[nodiscard]] std::span<int const> days_to_shift(bool coarse);
/// Whether a target may give way, and which way: 1 later, -1 earlier, 0 not.
[[nodiscard]] int way_of(resolved_succession const& one);

/// The event on which plants of a batch that are bought in come: their planting out, or, where they
/// stand in no field, the target. None for what is sown where it stays, and for a harvest.
[[nodiscard]] std::optional<int> bought_event(plan const& of, int batch);

/// The stage in which a batch first stands in the field, none: it never does.
[[nodiscard]] std::optional<int> field_stage(plan const& of, int batch);

/// True for an event whose days are priced: the target, the planting out and
/// the first harvest, and all that follows any of them.
[[nodiscard]] bool is_priced(plan const& of, int batch, int event);

/// A crop with the changes of stages, its bounds left to the succession.
[[nodiscard]] crop changed_crop(plan const& of, int batch, batch_change const& change);

/// The target and the bounds of a batch with a shift, as a succession without links, wave and
/// repeat; amount and crop as in the plan.
[[nodiscard]] succession shifted_succession(calendar_data const& of, int batch, int shift);

/// The same of so many plants that come on their event's planned day.
[[nodiscard]] succession bought_succession(calendar_data const& of, int batch, int event,
                                           double plants);

/// What became of a batch by harm: season years in which any of its stages was damaged, and those
/// in which cold lost it before its harvest. Nothing is damaged after the night that loses it.
struct harm_years {
    int cold = 0;
    int heat = 0;
    int lost = 0;
};

/// A change that was scheduled and gone through.
struct trial {
    int batch;
    batch_change change;
    std::vector<int> planned = {};     ///< day of each of its events
    int moved = 0;                     ///< days that a priced event moves at most
    std::vector<int> places = {};      ///< of each of its stages
    std::vector<double> alive = {};    ///< plants of each of its stages, of the whole batch
    std::vector<int> cells = {};       ///< of the container of each stage, 0: none
    std::vector<double> areas = {};    ///< m² of one such container, 0: none, or not known
    std::vector<double> bed = {};      ///< metres of each stage
    std::vector<int> safe_years = {};  ///< in which a stage stays above its limit, -1: it has none
    int years = 0;
    harm_years harm = {};
    harm_years harm_before = {};  ///< of the batch as planned
};

/// A batch as it is planned.
[[nodiscard]] trial planned_trial(calendar const& of, int batch);

/// Those of the changes that break nothing and move no priced event by more days, in order; of
/// those made together all or none.
[[nodiscard]] std::vector<trial> trials_of(calendar const& of,
                                           std::vector<std::pair<int, batch_change>> const& changes,
                                           int most_shift);

/// True when other batches wait for it.
[[nodiscard]] bool is_waited_for(plan const& of, int batch);
/// True when it waits, or is waited for.
[[nodiscard]] bool is_linked(plan const& of, int batch);

/// Stage of the planned crop that a stage of a changed batch comes from.
[[nodiscard]] int planned_stage(batch_change const& change, int stage);
/// Event of a changed batch that is an event of the planned one; none: it falls away.
[[nodiscard]] std::optional<int> changed_event(batch_change const& change, int event);

}  // namespace epicotyl::detail

#endif
