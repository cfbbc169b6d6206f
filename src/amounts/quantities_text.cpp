// The printed form of quantities.
#include <string>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/amounts/quantities.hpp>

#include "../detail/text_table.hpp"

namespace epicotyl {

namespace {

constexpr double litres_per_quart = 0.946352946;
constexpr double metres_per_foot = 0.3048;
/// Grams below which tenths count.
constexpr double light = 10.0;

std::string medium_text(unit_system units, double litres) {
    return units == unit_system::metric ? fmt::format("{:.1f} litres", litres)
                                        : fmt::format("{:.1f} quarts", litres / litres_per_quart);
}

std::string medium_text(unit_system units, std::optional<double> litres) {
    return litres ? medium_text(units, *litres) : std::string{};
}

/// "2 plug 104, 9 block 20, 4.6 m of bed".
std::string stands_text(unit_system units, succession_quantity const& of) {
    std::string text;
    std::string last;
    for (stage_quantity const& one : of.stages) {
        std::string now;
        if (!one.container.empty()) { now = fmt::format("{:g} {}", one.trays, one.container); }
        if (one.bed > 0.0) {
            now = units == unit_system::metric
                      ? fmt::format("{:.1f} m of bed", one.bed)
                      : fmt::format("{:.1f} ft of bed", one.bed / metres_per_foot);
        }
        if (now.empty() || now == last) { continue; }
        text += (text.empty() ? "" : ", ") + now;
        last = now;
    }
    return text;
}

std::string grams_text(std::optional<double> grams) {
    if (!grams) { return {}; }
    return *grams < light ? fmt::format("{:.2f} g", *grams) : fmt::format("{:.0f} g", *grams);
}

}  // namespace

std::string to_string(plan_quantities const& of) {
    std::string text = of.title.empty() ? std::string{} : of.title + "\n";
    text += fmt::format("Seed is enough for a succession in {:g} sowings of 100.\n",
                        100.0 * of.confidence);

    detail::text_table sown;
    sown.add({"succession", "wanted", "come up", "usable", "seeds", "medium", "stands in"});
    for (succession_quantity const& one : of.successions) {
        sown.add({one.succession, fmt::format("{} at {}", one.plants, one.at),
                  fmt::format("{:.0f} %", 100.0 * one.germination),
                  fmt::format("{:.0f} %", 100.0 * one.usable), fmt::format("{}", one.seeds),
                  medium_text(of.units, one.medium), stands_text(of.units, one)});
    }
    text += "\nSown\n" + sown.text();

    detail::text_table order;
    order.add({"crop", "seeds", "weight", "packets", "price"});
    for (seed_order_line const& one : of.seed_order) {
        order.add({one.crop, fmt::format("{}", one.seeds), grams_text(one.grams),
                   fmt::format("{}", fmt::join(one.packets, ", ")),
                   one.bought ? fmt::format("{:.2f}", one.bought->price) : std::string{}});
    }
    text += "\nSeed to order\n" + order.text();

    if (!of.trays.empty()) {
        detail::text_table trays;
        trays.add({"container", "trays", "filled", "medium"});
        for (tray_line const& one : of.trays) {
            trays.add({one.container, fmt::format("{:g}", one.trays),
                       fmt::format("{:g} times", one.filled), medium_text(of.units, one.medium)});
        }
        text += "\nTrays, if none is used twice\n" + trays.text();
        text += fmt::format("\nMedium to order: {}\n", medium_text(of.units, of.medium));
    }
    for (std::string const& note : of.notes) { text += "note: " + note + "\n"; }
    return text;
}

}  // namespace epicotyl
