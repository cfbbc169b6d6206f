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

#include "casters.hpp"
#include "register.hpp"
#include "words.hpp"

namespace py = pybind11;
using namespace py::literals;
using namespace epicotyl;
using namespace epicotyl::bindings;

namespace {

using packet_tuple = std::tuple<std::string, std::int64_t, double>;
/// (crop, germination, tested, seeds a cell, seeds a gram, packets, choice).
using lot_tuple = std::tuple<std::string, std::optional<double>, std::optional<germination_spread>,
                             int, std::optional<double>, std::vector<packet_tuple>, std::string>;
/// (event, container, alive, trays, bed).
using stage_tuple = std::tuple<std::string, std::string, double, double, double>;
/// (succession, crop, plants, at, germination, usable, seeds, cells, average seeds, medium,
/// stages).
using succession_tuple = std::tuple<std::string, std::string, std::int64_t, std::string, double,
                                    double, std::int64_t, std::optional<std::int64_t>, double,
                                    std::optional<double>, std::vector<stage_tuple>>;
/// (packets, count, seeds, price).
using bought_tuple = std::tuple<std::vector<std::int64_t>, std::int64_t, std::int64_t, double>;
/// (crop, begins, seeds, grams, bought).
using order_tuple = std::tuple<std::string, std::string, std::int64_t, std::optional<double>,
                               std::optional<bought_tuple>>;
/// (container, cells, trays, filled, medium).
using tray_tuple = std::tuple<std::string, int, double, double, std::optional<double>>;
/// (successions, seed order, trays, medium, notes, text).
using quantities_tuple =
    std::tuple<std::vector<succession_tuple>, std::vector<order_tuple>, std::vector<tray_tuple>,
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

succession_tuple tuple_of(succession_quantity const& one) {
    std::vector<stage_tuple> stages;
    for (stage_quantity const& each : one.stages) {
        stages.emplace_back(each.event, each.container, each.alive, each.trays, each.bed);
    }
    return {one.succession, one.crop,  one.plants,        one.at,     one.germination, one.usable,
            one.seeds,      one.cells, one.average_seeds, one.medium, stages};
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
    std::vector<succession_tuple> successions;
    for (succession_quantity const& one : found.successions) {
        successions.push_back(tuple_of(one));
    }
    std::vector<order_tuple> order;
    for (seed_order_line const& one : found.seed_order) {
        std::optional<bought_tuple> bought;
        if (one.bought) {
            bought = {one.bought->packets, one.bought->count, one.bought->seeds, one.bought->price};
        }
        order.emplace_back(one.crop, one.begins, one.seeds, one.grams, bought);
    }
    std::vector<tray_tuple> trays;
    for (tray_line const& one : found.trays) {
        trays.emplace_back(one.container, one.cells, one.trays, one.filled, one.medium);
    }
    return {successions, order, trays, found.medium, found.notes, to_string(found)};
}

py::array_t<double> alive_of(plan const& of, std::string const& succession) {
    std::vector<double> const alive = alive_counts(of, of.succession_index(succession));
    py::array_t<double> result(static_cast<py::ssize_t>(alive.size()));
    std::copy(alive.begin(), alive.end(), result.mutable_data());
    return result;
}

py::tuple landed_for(std::int64_t plants, std::int64_t plants_a_tray, std::int64_t trays_a_box,
                     std::vector<std::pair<std::int64_t, double>> const& breaks,
                     double freight_a_box, double freight, double survives,
                     std::string const& currency) {
    plant_offer offer{.plants_a_tray = plants_a_tray,
                      .trays_a_box = trays_a_box,
                      .freight_a_box = freight_a_box,
                      .freight = freight,
                      .survives = said_of("survives", [&] { return chance{survives}; }),
                      .currency = currency};
    for (auto const& [from, price] : breaks) { offer.breaks.push_back({from, price}); }
    landed const cost = landed_cost(plants, offer);
    return py::make_tuple(cost.needed, cost.trays, cost.boxes, cost.plants, cost.tray_price,
                          cost.for_plants, cost.for_freight, cost.total, cost.per_plant_bought,
                          cost.per_surviving_plant, cost.per_plant_needed, cost.currency,
                          to_string(cost));
}

py::tuple raised(std::int64_t plants, double usable, double seed, double medium, double heat,
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
    own_cost const cost = cost_of_raising(spent, plants, good);
    return py::make_tuple(cost.seed, cost.medium, cost.heat, cost.labour, cost.containers,
                          cost.other, cost.total, cost.plants, cost.usable, cost.per_plant,
                          cost.per_usable_plant, cost.currency, to_string(cost));
}

}  // namespace

void register_amounts(py::module_& m) {
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
