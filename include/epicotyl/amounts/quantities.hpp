// epicotyl: what a plan needs - seed, sown cells, trays and medium.
//
//     plan_quantities const needs = quantities(p);
//     needs.successions[0].seeds;     // 327, where 313 are the average: 250 plants at 0.8
//     needs.seed_order[0];            // snapdragon: 654 seeds for two such
//     needs.trays[0];                 // plug 104: 8 trays, filled 8 times, 15.4 litres
//     to_string(needs);               // a sheet of all that
//
// **Seeds.** A succession's amount says how many plants are wanted and when: alive at its target,
// or on the metres of bed. The seeds are the fewest that give so many with the wanted confidence
// (crop/seed_count.hpp), counting every share that plants survive on the way. An amount of trays is
// sown full, and a bed that is sown gets a seed at every spacing.
//
// **What comes up** (`germination`) is what the plan says survives the first stage, or all stages
// before `emerge` where the crop has it, whatever is counted and when; what is `usable` of the
// seedlings is what survives from there to the event that is counted at, or to the target where
// seeds are counted. A `seed_lot` says better what is known of one crop's seed: its own
// germination, a test of it, several seeds a cell, its weight, its packets. `germination_from` says
// whose figure it is. Seed is ordered by what is expected of it. Where the crop has a
// `germination_standard` the order says beside it how many seeds would be enough of a lot that is
// no better than that, unless a lot's own figure is known. Successions are sown at different times,
// each with its own luck, so their seeds are added up.
//
// What starts from tubers, cuttings or plugs is counted just so, and called by its name
// (`starts_as`, crop/crop.hpp).
//
// **Trays.** A stage fills the trays of the plants alive in it (amounts/alive.hpp), the first stage
// at least those of the cells sown. The list of trays adds up, over successions, the most trays of
// a kind that each stands in: what is needed if no tray is used twice. How many stand at once, on
// which day, is a question of dates.
//
// **Medium.** Trays are filled when plants come into a container that they did not stand in before,
// each with the container's `medium`, times 1 + compaction: medium settles in plug trays and is
// pressed hard in blocks. 0.2 is a usual surcharge (from memory), growers of pressed blocks say 1.5
// to 2 (common practice, no source). A container that the plan gives no medium is told.
#ifndef EPICOTYL_AMOUNTS_QUANTITIES_HPP
#define EPICOTYL_AMOUNTS_QUANTITIES_HPP

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <epicotyl/amounts/seed_packets.hpp>
#include <epicotyl/crop/seed_count.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl {

/// Whose figure a share that comes up is: the plan's, that of a lot, or that of a test of it.
enum class figure_of { plan, lot, test };

inline constexpr std::array<std::string_view, 3> figure_of_names = {"plan", "lot", "test"};

/// What is known of the seed of one crop.
struct seed_lot {
    std::string crop;                               ///< name or id
    std::optional<chance> germination = {};         ///< none: what survives until it is up
    std::optional<germination_spread> tested = {};  ///< instead of `germination`
    int seeds_a_cell = 1;                           ///< thinned to one seedling
    std::optional<double> seeds_per_gram = {};
    std::vector<seed_packet> packets = {};
    packet_choice choice = packet_choice::cheapest;

    friend bool operator==(seed_lot const&, seed_lot const&) = default;
};

struct quantity_options {
    chance confidence = chance{0.95};  ///< that a succession's seed is enough
    double compaction = 0.2;           ///< of the medium, 0 to 5
    /// Of single containers, by name.
    std::vector<std::pair<std::string, double>> compactions = {};
    std::vector<seed_lot> lots = {};
};

/// A stage and what it fills.
struct stage_quantity {
    std::string event;           ///< that begins it
    std::string container = {};  ///< empty: none
    double alive = 0.0;          ///< plants on the average, not rounded
    double trays = 0.0;          ///< containers filled
    double bed = 0.0;            ///< metres of bed filled

    friend bool operator==(stage_quantity const&, stage_quantity const&) = default;
};

struct succession_quantity {
    std::string succession;
    std::string crop;
    std::int64_t plants = 0;                 ///< wanted
    std::string at;                          ///< the event at which they are to be alive
    double germination = 1.0;                ///< share that comes up
    double usable = 1.0;                     ///< share of these that lives until it is counted
    std::int64_t seeds = 0;                  ///< to sow, or pieces to plant
    std::optional<std::int64_t> cells = {};  ///< to sow them in; none: without a container
    double average_seeds = 0.0;              ///< enough in half of all sowings, not rounded
    std::vector<stage_quantity> stages = {};
    std::optional<double> medium = {};  ///< litres to order; none: nothing known, or needed
    std::string starts_as = "seed";     ///< what `seeds` counts, one of it: "tuber"
    figure_of germination_from = figure_of::plan;
    /// Seeds where no more come up than the crop's standard; none: no standard, or a lot is known.
    std::optional<std::int64_t> seeds_at_standard = {};

    friend bool operator==(succession_quantity const&, succession_quantity const&) = default;
};

/// Seed to order of one crop.
struct seed_order_line {
    std::string crop;
    std::string begins;                      ///< what is done with it: "sow", "plant"
    std::int64_t seeds = 0;                  ///< or pieces
    std::optional<double> grams = {};        ///< where seeds a gram are known
    std::optional<bought_seed> bought = {};  ///< where packets are known
    std::vector<std::string> packets = {};   ///< "2 small"
    std::string starts_as = "seed";          ///< what `seeds` counts, one of it: "tuber"
    double germination = 1.0;                ///< share of all of them that comes up
    figure_of germination_from = figure_of::plan;
    std::optional<double> standard = {};  ///< the crop's, where `seeds_at_standard` is told
    std::optional<std::int64_t> seeds_at_standard = {};

    friend bool operator==(seed_order_line const&, seed_order_line const&) = default;
};

/// Trays of one container.
struct tray_line {
    std::string container;
    int cells = 1;
    double trays = 0.0;                 ///< needed, if none is used twice
    double filled = 0.0;                ///< how many are filled with medium
    std::optional<double> medium = {};  ///< litres to order; none: the plan does not say

    friend bool operator==(tray_line const&, tray_line const&) = default;
};

struct plan_quantities {
    std::string title = {};
    unit_system units = unit_system::metric;  ///< of the table; numbers here are metric
    double confidence = 0.95;
    std::vector<succession_quantity> successions = {};
    std::vector<seed_order_line> seed_order = {};  ///< in the order in which crops are first grown
    std::vector<tray_line> trays = {};             ///< in the order of the plan's containers
    double medium = 0.0;                           ///< litres to order, as far as known
    std::vector<std::string> notes = {};           ///< what is not known

    friend bool operator==(plan_quantities const&, plan_quantities const&) = default;
};

/// Throws `invalid_input` for a confidence that is not between 0 and 1, a compaction out of range,
/// crops and containers that the plan does not have, a lot with both `germination` and `tested` or
/// with `tested` and several seeds a cell, and whatever `seeds_needed` and `buy_seed` refuse.
[[nodiscard]] plan_quantities quantities(plan const& of, quantity_options const& options = {});

/// A sheet of what to sow, seed to order, trays and medium, and beds, in the units of the plan; in
/// a US plan gallons, ounces and feet. At most 100 columns.
[[nodiscard]] std::string to_string(plan_quantities const& of);

}  // namespace epicotyl

#endif
