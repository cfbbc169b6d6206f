#include <epicotyl/amounts/cost.hpp>

#include <cmath>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/bounds.hpp>
#include <epicotyl/detail/whole.hpp>

#include <epicotyl/detail/nearly_nothing.hpp>
#include "../detail/text_table.hpp"
#include "../detail/wrapped.hpp"

namespace epicotyl {

namespace {

constexpr std::int64_t most_counted = 1'000'000'000;
/// Of a plant; nothing is cheaper than what costs nothing.
constexpr double least_price = 1e-6;
constexpr double most_seasons = 1000.0;

double require_price(double value, std::string const& field) {
    if (value >= 0.0 && value <= highest_price) { return value; }
    throw invalid_input{{.code = "cost.price",
                         .field = field,
                         .value = fmt::format("{}", value),
                         .bound = fmt::format("0 to {:.0f}", highest_price),
                         .problem = fmt::format("{} is no price", value),
                         .remedy = "give what it costs, 0 for nothing"}};
}

void require_count(std::int64_t value, std::int64_t least, std::string const& field,
                   char const* unit) {
    if (value >= least && value <= most_counted) { return; }
    throw invalid_input{{.code = "cost.count",
                         .field = field,
                         .value = fmt::format("{}", value),
                         .bound = fmt::format("{} to {}", least, most_counted),
                         .unit = unit,
                         .problem = fmt::format("{} is no number of {} here", value, unit),
                         .remedy = fmt::format("give a whole number of {}", unit)}};
}

void require_some_left(chance share, char const* field) {
    if (share.value() >= least_survives) { return; }
    throw invalid_input{
        {.code = "cost.none_left",
         .field = field,
         .value = fmt::format("{}", share.value()),
         .bound = fmt::format("{} to 1", least_survives),
         .problem = fmt::format("where {} is left, nothing has a price", share.value()),
         .remedy = "give a share, such as 0.9 for 90 in 100"}};
}

void require_breaks(std::vector<price_break> const& breaks) {
    if (breaks.empty() || breaks.front().from_trays != 1) {
        throw invalid_input{
            {.code = "cost.first_break",
             .field = "breaks",
             .value = breaks.empty() ? "none" : fmt::format("{}", breaks.front().from_trays),
             .bound = "1",
             .unit = "trays",
             .problem = "the price of a single tray is not known",
             .remedy = "let the first price be that from 1 tray on"}};
    }
    for (std::size_t i = 0; i < breaks.size(); ++i) {
        (void)require_price(breaks[i].price, fmt::format("breaks[{}].price", i + 1));
        require_count(breaks[i].from_trays, 1, fmt::format("breaks[{}].from_trays", i + 1),
                      "trays");
        if (i > 0 && breaks[i].from_trays <= breaks[i - 1].from_trays) {
            throw invalid_input{{.code = "cost.break_order",
                                 .field = fmt::format("breaks[{}].from_trays", i + 1),
                                 .value = fmt::format("{}", breaks[i].from_trays),
                                 .bound = fmt::format("more than {}", breaks[i - 1].from_trays),
                                 .unit = "trays",
                                 .problem = "prices do not stand in the order of their trays",
                                 .remedy = "give them from few trays to many"}};
        }
    }
}

std::int64_t in_wholes(std::int64_t count, std::int64_t each) {
    return count / each + (count % each != 0 ? 1 : 0);
}

landed bought(std::int64_t needed, std::int64_t trays, plant_offer const& offer) {
    landed cost{.needed = needed,
                .trays = trays,
                .boxes = in_wholes(trays, offer.trays_a_box),
                .plants = trays * offer.plants_a_tray,
                .currency = offer.currency};
    for (price_break const& one : offer.breaks) {
        if (trays >= one.from_trays) { cost.tray_price = one.price; }
    }
    cost.for_plants = static_cast<double>(trays) * cost.tray_price;
    cost.for_freight = static_cast<double>(cost.boxes) * offer.freight_a_box + offer.freight;
    cost.total = cost.for_plants + cost.for_freight;
    cost.per_plant_bought = cost.total / static_cast<double>(cost.plants);
    cost.per_surviving_plant = cost.per_plant_bought / offer.survives.value();
    cost.per_plant_needed = cost.total / static_cast<double>(needed);
    return cost;
}

std::string money(double value, std::string const& currency) {
    return fmt::format("{:.2f}{}{}", value, currency.empty() ? "" : " ", currency);
}

std::string counted(std::int64_t count, char const* one, char const* several) {
    return fmt::format("{} {}", count, count == 1 ? one : several);
}

/// The price of one plant, which may be small.
std::string each(double value, std::string const& currency) {
    return fmt::format("{:.3f}{}{}", value, currency.empty() ? "" : " ", currency);
}

}  // namespace

landed landed_cost(std::int64_t plants, plant_offer const& offer) {
    require_count(plants, 0, "plants", "plants");
    require_count(offer.plants_a_tray, 1, "plants_a_tray", "plants");
    require_count(offer.trays_a_box, 1, "trays_a_box", "trays");
    require_breaks(offer.breaks);
    (void)require_price(offer.freight_a_box, "freight_a_box");
    (void)require_price(offer.freight, "freight");
    require_some_left(offer.survives, "survives");
    if (plants == 0) { return {.currency = offer.currency}; }

    double const bought_plants = static_cast<double>(plants) / offer.survives.value();
    auto const trays = detail::whole_of<std::int64_t>(std::ceil(
        bought_plants / static_cast<double>(offer.plants_a_tray) * (1.0 - detail::nearly_nothing)));
    landed best = bought(plants, trays, offer);
    for (price_break const& one : offer.breaks) {
        if (one.from_trays <= trays) { continue; }
        landed more = bought(plants, one.from_trays, offer);
        if (more.total < best.total) { best = std::move(more); }
    }
    return best;
}

own_cost cost_of_raising(raising const& of, std::int64_t plants, chance usable) {
    require_count(plants, 1, "plants", "plants");
    require_some_left(usable, "usable");
    own_cost cost{
        .seed = require_price(of.seed, "seed"),
        .medium = require_price(of.medium, "medium"),
        .heat = require_price(of.heat, "heat"),
        .labour = require_price(of.labour_hours, "labour_hours") * require_price(of.wage, "wage"),
        .other = require_price(of.other, "other"),
        .plants = plants,
        .usable = usable.value(),
        .currency = of.currency};
    for (std::size_t i = 0; i < of.containers.size(); ++i) {
        container_life const& one = of.containers[i];
        auto const field = [&](char const* part) {
            return fmt::format("containers[{}].{}", i + 1, part);
        };
        (void)require_price(one.count, field("count"));
        (void)require_price(one.price, field("price"));
        if (!(one.seasons >= 1.0 && one.seasons <= most_seasons)) {
            throw invalid_input{{.code = "cost.seasons",
                                 .field = field("seasons"),
                                 .value = fmt::format("{}", one.seasons),
                                 .bound = fmt::format("1 to {}", most_seasons),
                                 .unit = "seasons",
                                 .problem = fmt::format("{} seasons are no life", one.seasons),
                                 .remedy = "give the seasons that one lasts"}};
        }
        cost.containers += one.count * one.price / one.seasons;
    }
    cost.total = cost.seed + cost.medium + cost.heat + cost.labour + cost.containers + cost.other;
    cost.per_plant = cost.total / static_cast<double>(plants);
    cost.per_usable_plant = cost.per_plant / usable.value();
    return cost;
}

std::optional<double> break_even_usable(double total, std::int64_t plants, double price) {
    (void)require_price(total, "total");
    require_count(plants, 1, "plants", "plants");
    if (!(price >= least_price && price <= highest_price)) {
        throw invalid_input{{.code = "cost.price",
                             .field = "price",
                             .value = fmt::format("{}", price),
                             .bound = fmt::format("{} to {:.0f}", least_price, highest_price),
                             .problem = fmt::format("{} is no price to break even with", price),
                             .remedy = "give the price of one plant, landed"}};
    }
    double const share = total / (static_cast<double>(plants) * price);
    return share <= 1.0 ? std::optional{share} : std::nullopt;
}

std::string to_string(landed const& of) {
    if (of.needed == 0) { return "no plants, no cost\n"; }
    std::string text =
        fmt::format("{} for {}: {} in {}, {}\n", money(of.total, of.currency),
                    counted(of.needed, "plant", "plants"), counted(of.trays, "tray", "trays"),
                    counted(of.boxes, "box", "boxes"), counted(of.plants, "plant", "plants"));
    detail::text_table table;
    table.add({fmt::format("{} at {:.2f}", counted(of.trays, "tray", "trays"), of.tray_price),
               money(of.for_plants, of.currency)});
    table.add({fmt::format("freight for {}", counted(of.boxes, "box", "boxes")),
               money(of.for_freight, of.currency)});
    table.add({"each plant bought", each(of.per_plant_bought, of.currency)});
    table.add({"each plant that lives", each(of.per_surviving_plant, of.currency)});
    table.add({"each plant you need", each(of.per_plant_needed, of.currency)});
    return detail::wrapped(text + table.text());
}

std::string to_string(own_cost const& of) {
    std::string text = fmt::format("{} for {} raised, {:.3g} in 100 of them good enough to use\n",
                                   money(of.total, of.currency),
                                   counted(of.plants, "plant", "plants"), 100.0 * of.usable);
    detail::text_table table;
    for (auto const& [name, value] :
         {std::pair{"seed", of.seed}, std::pair{"medium", of.medium}, std::pair{"heat", of.heat},
          std::pair{"labour", of.labour}, std::pair{"containers", of.containers},
          std::pair{"other", of.other}}) {
        if (value > 0.0) { table.add({name, money(value, of.currency)}); }
    }
    table.add({"each plant raised", each(of.per_plant, of.currency)});
    table.add({"each usable plant", each(of.per_usable_plant, of.currency)});
    return detail::wrapped(text + table.text());
}

}  // namespace epicotyl
