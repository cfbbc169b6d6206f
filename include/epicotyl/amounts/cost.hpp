// epicotyl: what plants cost, bought in or raised.
//
// **Bought in.** Young plants are sold by the tray and shipped by the box: who needs 200 of a tray
// of 84 buys three trays, and who needs five trays of four a box pays the freight of two boxes.
//
//     plant_offer const offer{.plants_a_tray = 84, .trays_a_box = 4,
//                             .breaks = {{1, 31.5}, {9, 27.0}}, .freight_a_box = 18.5};
//     auto const landed = landed_cost(200, offer);    // 3 trays, 1 box: 3 * 31.5 + 18.5 = 113
//     landed.per_plant_needed;                        // 113 / 200
//     landed.per_surviving_plant;                     // 113 / 252, over the share that lives
//
// A price break is the price of every tray from so many on. Where that makes more trays cheaper
// than fewer, the cheaper number is bought.
//
// **Raised.** Seed, medium, heat, labour, containers by the season of their life, and whatever else
// there is, against the plants that are good enough at the end:
//
//     own_cost const raised = cost_of_raising({.seed = 12.0, .medium = 9.5, .heat = 30.0,
//                                              .labour_hours = 4.0, .wage = 16.0,
//                                              .containers = {{5, 4.0, 20.0}}},
//                                             160, chance{0.75});
//     raised.per_usable_plant;
//     break_even_usable(raised.total, 160, 0.65);     // the share at which buying costs the same
//
// Prices are yours. A currency is a word that is printed beside them; nothing is converted.
#ifndef EPICOTYL_AMOUNTS_COST_HPP
#define EPICOTYL_AMOUNTS_COST_HPP

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <epicotyl/units.hpp>

namespace epicotyl {

/// The price of every tray when at least so many are bought.
struct price_break {
    std::int64_t from_trays = 1;
    double price = 0.0;  ///< of one tray

    friend bool operator==(price_break const&, price_break const&) = default;
};

/// Young plants as they are sold.
struct plant_offer {
    std::int64_t plants_a_tray = 1;
    std::int64_t trays_a_box = 1;
    std::vector<price_break> breaks = {};  ///< the first from 1 tray, rising
    double freight_a_box = 0.0;
    double freight = 0.0;           ///< once, for the whole delivery
    chance survives = chance{1.0};  ///< share of the plants bought that lives to be used
    std::string currency = {};      ///< printed beside prices

    friend bool operator==(plant_offer const&, plant_offer const&) = default;
};

/// What bought-in plants cost on the bench.
struct landed {
    std::int64_t needed = 0;  ///< plants that are to live
    std::int64_t trays = 0;
    std::int64_t boxes = 0;
    std::int64_t plants = 0;  ///< in these trays
    double tray_price = 0.0;  ///< of one
    double for_plants = 0.0;
    double for_freight = 0.0;
    double total = 0.0;
    double per_plant_bought = 0.0;
    double per_surviving_plant = 0.0;  ///< of all that are expected to live
    double per_plant_needed = 0.0;     ///< of those that were wanted; 0 for none
    std::string currency = {};

    friend bool operator==(landed const&, landed const&) = default;
};

/// What so many living plants cost, landed, in whole trays and whole boxes. 0 plants cost nothing.
/// Throws `invalid_input` for 0 > plants or plants > 10^9, trays, boxes and breaks out of range or
/// order, prices that are negative or not finite, and a share of 0.
[[nodiscard]] landed landed_cost(std::int64_t plants, plant_offer const& offer);

/// Containers that last several seasons.
struct container_life {
    double count = 0.0;
    double price = 0.0;    ///< of one
    double seasons = 1.0;  ///< that one lasts

    friend bool operator==(container_life const&, container_life const&) = default;
};

/// What is spent on raising a batch.
struct raising {
    double seed = 0.0;
    double medium = 0.0;
    double heat = 0.0;
    double labour_hours = 0.0;
    double wage = 0.0;  ///< an hour
    std::vector<container_life> containers = {};
    double other = 0.0;
    std::string currency = {};

    friend bool operator==(raising const&, raising const&) = default;
};

/// What a raised batch costs, part by part.
struct own_cost {
    double seed = 0.0;
    double medium = 0.0;
    double heat = 0.0;
    double labour = 0.0;
    double containers = 0.0;  ///< this season's part of them
    double other = 0.0;
    double total = 0.0;
    std::int64_t plants = 0;        ///< raised
    double usable = 1.0;            ///< share of them
    double per_plant = 0.0;         ///< of all that are raised
    double per_usable_plant = 0.0;  ///< of those good enough to use
    std::string currency = {};

    friend bool operator==(own_cost const&, own_cost const&) = default;
};

/// Throws `invalid_input` unless plants >= 1, usable > 0, and every part is 0 or more and finite,
/// the seasons of a container at least 1.
[[nodiscard]] own_cost cost_of_raising(raising const& of, std::int64_t plants, chance usable);

/// The share of raised plants that must be usable for them to cost no more than `price` each:
/// total / (plants * price). None where not even all of them being usable is enough.
/// Throws `invalid_input` unless total >= 0, plants >= 1 and price > 0.
[[nodiscard]] std::optional<double> break_even_usable(double total, std::int64_t plants,
                                                      double price);

[[nodiscard]] std::string to_string(landed const& of);
[[nodiscard]] std::string to_string(own_cost const& of);

}  // namespace epicotyl

#endif
