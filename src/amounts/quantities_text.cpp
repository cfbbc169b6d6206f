// The printed form of quantities: what to sow, what to order, trays and medium, beds.
#include <algorithm>
#include <string>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/amounts/quantities.hpp>

#include "../detail/text_table.hpp"
#include "../detail/wrapped.hpp"

namespace epicotyl {

namespace {

constexpr double litres_per_gallon = 3.785411784;
constexpr double metres_per_foot = 0.3048;
/// Weights below which tenths count, and hundredths.
constexpr double light = 10.0;
constexpr double very_light = 0.1;

/// "first harvest" for "first_harvest".
std::string event_text(std::string text) {
    std::replace(text.begin(), text.end(), '_', ' ');
    return text;
}

/// "1 seed", "263 seeds".
std::string pieces_text(std::int64_t count, std::string const& one) {
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

std::string share_text(double share) {
    return fmt::format("{:.0f} in 100", 100.0 * share);
}

std::string medium_text(unit_system units, std::optional<double> litres) {
    if (!litres) { return {}; }
    return units == unit_system::metric
               ? fmt::format("{:.1f} litres", *litres)
               : fmt::format("{:.1f} gallons", *litres / litres_per_gallon);
}

std::string bed_text(unit_system units, double metres) {
    return units == unit_system::metric ? fmt::format("{:.1f} m", metres)
                                        : fmt::format("{:.1f} ft", metres / metres_per_foot);
}

std::string weight_text(unit_system units, std::optional<double> grams) {
    if (!grams) { return {}; }
    bool const metric = units == unit_system::metric;
    double const weight = metric ? *grams : *grams / grams_per_ounce;
    int const digits = weight >= light ? 0 : weight >= very_light ? 2 : 3;
    return fmt::format("{:.{}f} {}", weight, digits, metric ? "g" : "oz");
}

/// "200 at transplant"; "864 sown" where it is seed that is counted.
std::string wanted_text(succession_quantity const& of) {
    if (of.at == of.stages.front().event) {
        return fmt::format("{} {}", of.plants, of.starts_as == "seed" ? "sown" : "planted");
    }
    return fmt::format("{} at {}", of.plants, event_text(of.at));
}

/// "3 plug 200, 6 plug 72": the most of each container, in the order in which they are filled.
std::string trays_text(succession_quantity const& of) {
    std::vector<stage_quantity const*> most;
    for (stage_quantity const& one : of.stages) {
        if (one.container.empty()) { continue; }
        if (most.empty() || most.back()->container != one.container) {
            most.push_back(&one);
        } else if (one.trays > most.back()->trays) {
            most.back() = &one;
        }
    }
    std::vector<std::string> said;
    for (stage_quantity const* one : most) {
        said.push_back(fmt::format("{:.0f} {}", one->trays, one->container));
    }
    return fmt::format("{}", fmt::join(said, ", "));
}

/// The most metres that one of its stages fills.
double most_bed(succession_quantity const& of) {
    double most = 0.0;
    for (stage_quantity const& one : of.stages) { most = std::max(most, one.bed); }
    return most;
}

std::string sowings_text(plan_quantities const& of) {
    detail::text_table sown{detail::text_table::without_empty_columns};
    sown.add({"succession", "wanted", "sow or plant", "cells", "come up", "live on"});
    bool plans = false;
    for (succession_quantity const& one : of.successions) {
        sown.add({one.succession, wanted_text(one), pieces_text(one.seeds, one.starts_as),
                  one.cells ? fmt::format("{}", *one.cells) : std::string{},
                  share_text(one.germination), share_text(one.usable)});
        plans = plans || one.germination_from == figure_of::plan;
    }
    std::string text = "\nTo sow\n" + sown.text();
    if (plans) { text += "  come up: the plan's figure; a test of the lot is better\n"; }
    return text + "  live on: of those that come up, how many live to the event wanted\n";
}

std::string order_text(plan_quantities const& of) {
    detail::text_table order{detail::text_table::without_empty_columns};
    order.add({"crop", "order", "weight", "come up", "at the standard"});
    bool standards = false;
    for (seed_order_line const& one : of.seed_order) {
        std::string standard;
        if (one.standard) {
            standard = fmt::format("{} at {}", *one.seeds_at_standard, share_text(*one.standard));
            standards = true;
        }
        order.add({one.crop, pieces_text(one.seeds, one.starts_as),
                   weight_text(of.units, one.grams),
                   fmt::format("{} ({})", share_text(one.germination),
                               figure_of_names[static_cast<std::size_t>(one.germination_from)]),
                   standard});
    }
    std::string text = "\nTo order\n" + order.text();
    if (standards) {
        text += "  at the standard: enough of a lot of which no more come up than it may be sold ";
        text += "with\n";
    }
    return text;
}

std::string packets_text(plan_quantities const& of) {
    detail::text_table packets;
    packets.add({"crop", "price", "packets"});
    packets.set_left(2);
    double price = 0.0;
    int count = 0;
    for (seed_order_line const& one : of.seed_order) {
        if (!one.bought) { continue; }
        packets.add({one.crop, fmt::format("{:.2f}", one.bought->price),
                     fmt::format("{}", fmt::join(one.packets, ", "))});
        price += one.bought->price;
        ++count;
    }
    if (count == 0) { return {}; }
    if (count > 1) { packets.add({"in all", fmt::format("{:.2f}", price), ""}); }
    return "\nPackets\n" + packets.text();
}

std::string trays_text(plan_quantities const& of) {
    detail::text_table filled{detail::text_table::without_empty_columns};
    filled.add({"succession", "medium", "trays"});
    filled.set_left(2);
    for (succession_quantity const& one : of.successions) {
        std::string const trays = trays_text(one);
        if (!trays.empty()) {
            filled.add({one.succession, medium_text(of.units, one.medium), trays});
        }
    }
    detail::text_table all{detail::text_table::without_empty_columns};
    all.add({"container", "trays", "filled", "medium"});
    for (tray_line const& one : of.trays) {
        all.add({one.container, fmt::format("{:.0f}", one.trays),
                 one.filled == one.trays ? std::string{} : fmt::format("{:.0f}", one.filled),
                 medium_text(of.units, one.medium)});
    }
    if (of.trays.size() > 1 && of.medium > 0.0) {
        all.add({"in all", "", "", medium_text(of.units, of.medium)});
    }
    return "\nTrays and medium\n" + filled.text() + "\nTrays in all, if none is used twice\n" +
           all.text();
}

std::string beds_text(plan_quantities const& of) {
    detail::text_table beds;
    beds.add({"succession", "bed"});
    double all = 0.0;
    int count = 0;
    for (succession_quantity const& one : of.successions) {
        double const most = most_bed(one);
        if (most == 0.0) { continue; }
        beds.add({one.succession, bed_text(of.units, most)});
        all += most;
        ++count;
    }
    if (count == 0) { return {}; }
    if (count > 1) { beds.add({"in all, if none is used twice", bed_text(of.units, all)}); }
    return "\nBeds\n" + beds.text();
}

}  // namespace

std::string to_string(plan_quantities const& of) {
    std::string text = of.title.empty() ? std::string{} : of.title + "\n";
    if (of.successions.empty()) { return text + "nothing to sow\n"; }
    text +=
        fmt::format("Enough for each succession in {:g} sowings of 100.\n", 100.0 * of.confidence);
    text += sowings_text(of) + order_text(of) + packets_text(of);
    if (!of.trays.empty()) { text += trays_text(of); }
    text += beds_text(of);
    if (!of.notes.empty()) { text += "\n"; }
    for (std::string const& note : of.notes) { text += "note: " + note + "\n"; }
    return detail::wrapped(text);
}

}  // namespace epicotyl
