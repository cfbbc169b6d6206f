// Space: what a plan needs, and what plants cost.
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/amounts/cost.hpp>
#include <epicotyl/amounts/quantities.hpp>
#include <epicotyl/crop/cell_volume.hpp>
#include <epicotyl/plan/plan.hpp>

#include "casters.hpp"
#include "plan_units.hpp"
#include "register.hpp"
#include "result.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace epicotyl::bindings {

template <>
struct bound<stage_quantity> {
    static constexpr char name[] = "StageQuantity";
    static constexpr char doc[] = "A stage of a succession and what it fills.";
    static auto fields() {
        return std::tuple{field{"event", &stage_quantity::event, "That begins it."},
                          field{"container", &stage_quantity::container, "Name; empty: none."},
                          field{"alive", &stage_quantity::alive,
                                "Plants alive when it begins, on the average; not rounded."},
                          field{"trays", &stage_quantity::trays, "Containers that it fills."},
                          field{"bed", &stage_quantity::bed, "Bed that it fills [m]."}};
    }
};

template <>
struct bound<succession_quantity> {
    static constexpr char name[] = "SuccessionQuantity";
    static constexpr char doc[] = "What one succession needs.";
    static auto fields() {
        return std::tuple{
            field{"succession", &succession_quantity::succession, "Its name."},
            field{"crop", &succession_quantity::crop, "The name of its crop."},
            field{"plants", &succession_quantity::plants, "Plants wanted."},
            field{"at", &succession_quantity::at, "The event at which they are to be alive."},
            field{"germination", &succession_quantity::germination, "Share that comes up."},
            field{"usable", &succession_quantity::usable,
                  "Share of these that lives until then, or to the target if that is later."},
            field{"seeds", &succession_quantity::seeds, "To sow, or pieces to plant."},
            field{"cells", &succession_quantity::cells,
                  "To sow them in; None: without a container."},
            field{"average_seeds", &succession_quantity::average_seeds,
                  "Enough in half of all sowings; not rounded."},
            field{"medium", &succession_quantity::medium,
                  "To order for it [litres or quarts, as the plan]; None: not needed, or "
                  "not known."},
            field{"stages", &succession_quantity::stages, "In order."},
            field{"starts_as", &succession_quantity::starts_as,
                  "What `seeds` counts, one of it: ``\"seed\"``, ``\"tuber\"``."},
            field{"germination_from",
                  [](succession_quantity const& of) {
                      return std::string{
                          figure_of_names[static_cast<std::size_t>(of.germination_from)]};
                  },
                  "Whose figure it is: ``\"plan\"``, ``\"lot\"`` or ``\"test\"``."},
            field{"seeds_at_standard", &succession_quantity::seeds_at_standard,
                  "Seeds where no more come up than the crop's standard; None: no standard, or a "
                  "lot is known."}};
    }
};

template <>
struct bound<tray_line> {
    static constexpr char name[] = "TrayLine";
    static constexpr char doc[] = "Trays of one container.";
    static auto fields() {
        return std::tuple{
            field{"container", &tray_line::container, "Its name."},
            field{"cells", &tray_line::cells, "Of one tray."},
            field{"trays", &tray_line::trays, "Needed, if none is used twice."},
            field{"filled", &tray_line::filled, "How many are filled with medium."},
            field{
                "medium", &tray_line::medium,
                "To order for them [litres or quarts, as the plan]; None: the plan does not say."}};
    }
};

template <>
struct bound<landed> {
    static constexpr char name[] = "Landed";
    static constexpr char doc[] = "What bought-in plants cost on the bench, told by `landed_cost`.";
    static auto fields() {
        return std::tuple{
            field{"needed", &landed::needed, "Plants that are to live."},
            field{"trays", &landed::trays, "Whole trays that are bought."},
            field{"boxes", &landed::boxes, "Whole boxes that they come in."},
            field{"plants", &landed::plants, "Plants in these trays."},
            field{"tray_price", &landed::tray_price, "Of one tray."},
            field{"for_plants", &landed::for_plants, "Cost of the plants."},
            field{"for_freight", &landed::for_freight, "Cost of the freight."},
            field{"total", &landed::total, "Cost of both."},
            field{"per_plant_bought", &landed::per_plant_bought, "Total by the plants bought."},
            field{"per_surviving_plant", &landed::per_surviving_plant,
                  "Total by those expected to live."},
            field{"per_plant_needed", &landed::per_plant_needed,
                  "Total by those that were needed."},
            field{"currency", &landed::currency, "As given."},
            field{"_text", in_words, ""}};
    }
};

template <>
struct bound<own_cost> {
    static constexpr char name[] = "OwnCost";
    static constexpr char doc[] = "What a raised batch costs, told by `cost_of_raising`.";
    static auto fields() {
        return std::tuple{
            field{"seed", &own_cost::seed, "Cost of the seed."},
            field{"medium", &own_cost::medium, "Cost of the medium."},
            field{"heat", &own_cost::heat, "Cost of the heat."},
            field{"labour", &own_cost::labour, "Cost of the labour."},
            field{"containers", &own_cost::containers,
                  "Cost of the containers, by the season of their life."},
            field{"other", &own_cost::other, "Cost of what else there is."},
            field{"total", &own_cost::total, "Cost of all."},
            field{"plants", &own_cost::plants, "Plants raised."},
            field{"usable", &own_cost::usable, "Share of them that is good enough to use."},
            field{"per_plant", &own_cost::per_plant, "Total by all plants raised."},
            field{"per_usable_plant", &own_cost::per_usable_plant, "Total by the usable ones."},
            field{"currency", &own_cost::currency, "As given."},
            field{"_text", in_words, ""}};
    }
};

}  // namespace epicotyl::bindings

namespace {

using packet_tuple = std::tuple<std::string, std::int64_t, double>;
/// (crop, germination, tested, seeds a cell, seeds a gram, packets, choice).
using lot_tuple = std::tuple<std::string, std::optional<double>, std::optional<germination_spread>,
                             int, std::optional<double>, std::vector<packet_tuple>, std::string>;
/// (packets, count, seeds, price).
using bought_tuple = std::tuple<std::vector<std::int64_t>, std::int64_t, std::int64_t, double>;
/// (crop, begins, seeds, grams, bought, starts as, germination, from, standard, seeds at it).
using order_tuple = std::tuple<std::string, std::string, std::int64_t, std::optional<double>,
                               std::optional<bought_tuple>, std::string, double, std::string,
                               std::optional<double>, std::optional<std::int64_t>>;
/// (successions, seed order, trays, medium, notes, text).
using quantities_tuple =
    std::tuple<std::vector<succession_quantity>, std::vector<order_tuple>, std::vector<tray_line>,
               double, std::vector<std::string>, std::string>;

seed_lot lot_of(lot_tuple const& written) {
    auto const& [crop, germination, tested, a_cell, a_gram, packets, choice] = written;
    seed_lot lot{.crop = crop,
                 .tested = tested,
                 .seeds_a_cell = a_cell,
                 .seeds_per_gram = a_gram,
                 .choice = enum_of<packet_choice>(choice, packet_choice_names, "choice")};
    if (germination) {
        double const share = *germination;
        lot.germination = said_of("germination", [&] { return chance{share}; });
    }
    for (auto const& [name, seeds, price] : packets) {
        lot.packets.push_back({name, seeds, price});
    }
    return lot;
}

quantities_tuple reckoned(plan const& of, double confidence, double compaction,
                          std::vector<std::pair<std::string, double>> const& compactions,
                          std::vector<lot_tuple> const& lots) {
    quantity_options options{
        .confidence = said_of("confidence", [&] { return chance{confidence}; }),
        .compaction = compaction,
        .compactions = compactions};
    for (lot_tuple const& one : lots) { options.lots.push_back(lot_of(one)); }
    plan_quantities const found = quantities(of, options);
    std::vector<order_tuple> order;
    for (seed_order_line const& one : found.seed_order) {
        std::optional<bought_tuple> bought;
        if (one.bought) {
            bought = {one.bought->packets, one.bought->count, one.bought->seeds, one.bought->price};
        }
        order.emplace_back(
            one.crop, one.begins, one.seeds, one.grams, bought, one.starts_as, one.germination,
            std::string{figure_of_names[static_cast<std::size_t>(one.germination_from)]},
            one.standard, one.seeds_at_standard);
    }
    plan_quantities const told = turned{of}(found);
    return {told.successions, order, told.trays, told.medium, told.notes, to_string(found)};
}

py::array_t<double> alive_of(plan const& of, std::string const& succession) {
    std::vector<double> const alive = alive_counts(of, of.succession_index(succession));
    py::array_t<double> result(static_cast<py::ssize_t>(alive.size()));
    std::copy(alive.begin(), alive.end(), result.mutable_data());
    return result;
}

landed landed_for(std::int64_t plants, std::int64_t plants_a_tray, std::int64_t trays_a_box,
                  std::vector<std::pair<std::int64_t, double>> const& breaks, double freight_a_box,
                  double freight, double survives, std::string const& currency) {
    plant_offer offer{.plants_a_tray = plants_a_tray,
                      .trays_a_box = trays_a_box,
                      .freight_a_box = freight_a_box,
                      .freight = freight,
                      .survives = said_of("survives", [&] { return chance{survives}; }),
                      .currency = currency};
    for (auto const& [from, price] : breaks) { offer.breaks.push_back({from, price}); }
    return landed_cost(plants, offer);
}

own_cost raised(std::int64_t plants, double usable, double seed, double medium, double heat,
                double labour_hours, double wage,
                std::vector<std::tuple<double, double, double>> const& containers, double other,
                std::string const& currency) {
    raising spent{.seed = seed,
                  .medium = medium,
                  .heat = heat,
                  .labour_hours = labour_hours,
                  .wage = wage,
                  .other = other,
                  .currency = currency};
    for (auto const& [count, price, seasons] : containers) {
        spent.containers.push_back({count, price, seasons});
    }
    chance const good = said_of("usable", [&] { return chance{usable}; });
    return cost_of_raising(spent, plants, good);
}

}  // namespace

void register_amounts(py::module_& m) {
    add_result<stage_quantity>(m);
    add_result<succession_quantity>(m);
    add_result<tray_line>(m);
    add_result<landed>(m);
    add_result<own_cost>(m);
    m.def("alive_counts", &alive_of, "plan"_a, "succession"_a);
    m.def("quantities", &reckoned, "plan"_a, "confidence"_a, "compaction"_a, "compactions"_a,
          "lots"_a, py::call_guard<py::gil_scoped_release>());
    m.def("cube_litres", &cube_litres, "side"_a);
    m.def("frustum_litres", &frustum_litres, "top"_a, "bottom"_a, "depth"_a);
    m.def("landed_cost", &landed_for, "plants"_a, "plants_a_tray"_a, "trays_a_box"_a, "breaks"_a,
          "freight_a_box"_a, "freight"_a, "survives"_a, "currency"_a);
    m.def("cost_of_raising", &raised, "plants"_a, "usable"_a, "seed"_a, "medium"_a, "heat"_a,
          "labour_hours"_a, "wage"_a, "containers"_a, "other"_a, "currency"_a);
    m.def("break_even_usable", &break_even_usable, "total"_a, "plants"_a, "price"_a);
}
