#include <epicotyl/amounts/quantities.hpp>
#include <epicotyl/detail/whole.hpp>

#include <algorithm>
#include <cmath>
#include <string_view>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/detail/nearest.hpp>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl {

namespace {

constexpr double most_compaction = 5.0;

[[noreturn]] void refuse_unknown(std::string const& what, std::string const& name,
                                 std::string const& field, std::vector<std::string> const& known) {
    std::vector<std::string_view> const words{known.begin(), known.end()};
    auto const nearest = detail::nearest_word(name, words);
    throw invalid_input{{.code = fmt::format("{}.unknown", what),
                         .field = field,
                         .value = name,
                         .bound = fmt::format("{}", fmt::join(known, ", ")),
                         .problem = fmt::format("the plan has no {} \"{}\"", what, name),
                         .remedy = nearest ? fmt::format("the nearest is \"{}\"", *nearest)
                                           : fmt::format("the plan has no {}", what)}};
}

double require_compaction(double value, std::string const& field) {
    if (value >= 0.0 && value <= most_compaction) { return value; }
    throw invalid_input{{.code = "medium.compaction",
                         .field = field,
                         .value = fmt::format("{}", value),
                         .bound = fmt::format("0 to {:g}", most_compaction),
                         .problem = fmt::format("{} is out of range", value),
                         .remedy = "0.2 orders a fifth more than the cells hold"}};
}

class reckoner {
public:
    reckoner(plan const& of, quantity_options const& options) : plan_{of}, options_{options} {
        (void)require_compaction(options.compaction, "compaction");
        std::vector<std::string> names;
        for (container const& one : of.parts().containers) { names.push_back(one.name); }
        for (auto const& [name, compaction] : options.compactions) {
            std::string const field = fmt::format("compactions.{}", name);
            (void)require_compaction(compaction, field);
            if (std::find(names.begin(), names.end(), name) == names.end()) {
                refuse_unknown("container", name, field, names);
            }
        }
        for (seed_lot const& lot : options.lots) { check(lot); }
    }

    [[nodiscard]] plan_quantities reckoned() {
        plan_quantities all{.title = plan_.parts().title,
                            .units = plan_.parts().units,
                            .confidence = options_.confidence.value()};
        for (container const& one : plan_.parts().containers) {
            all.trays.push_back({.container = one.name, .cells = one.cells});
        }
        for (int i = 0; i < static_cast<int>(plan_.successions().size()); ++i) {
            all.successions.push_back(of_succession(i));
            add_to_order(all, i);
            add_trays(all, i);
        }
        for (seed_order_line& line : all.seed_order) { complete(line); }
        std::erase_if(all.trays, [](tray_line const& one) { return one.trays == 0.0; });
        for (tray_line const& one : all.trays) {
            if (one.medium) {
                all.medium += *one.medium;
            } else {
                all.notes.push_back(fmt::format(
                    "the plan does not say how much medium \"{}\" takes", one.container));
            }
        }
        return all;
    }

private:
    void check(seed_lot const& lot) const {
        std::string const field = fmt::format("lots.{}", lot.crop);
        std::vector<std::string> names;
        bool found = false;
        for (crop const& one : plan_.parts().crops) {
            names.push_back(one.name);
            found = found || one.name == lot.crop || (!one.id.empty() && one.id == lot.crop);
        }
        if (!found) { refuse_unknown("crop", lot.crop, field, names); }
        if (lot.tested && (lot.germination || lot.seeds_a_cell != 1)) {
            throw invalid_input{
                {.code = "seed_lot.two_ways",
                 .field = field,
                 .value = lot.germination ? "germination" : "seeds_a_cell",
                 .bound = "one of germination and tested, with tested one seed a cell",
                 .problem = "what came up in a test stands beside what it cannot be joined with",
                 .remedy = "give germination alone to sow several seeds a cell"}};
        }
    }

    [[nodiscard]] seed_lot const* lot_of(crop const& grown) const {
        for (seed_lot const& one : options_.lots) {
            if (one.crop == grown.name || (!grown.id.empty() && one.crop == grown.id)) {
                return &one;
            }
        }
        return nullptr;
    }

    [[nodiscard]] double compaction_of(std::string const& container) const {
        for (auto const& [name, compaction] : options_.compactions) {
            if (name == container) { return compaction; }
        }
        return options_.compaction;
    }

    [[nodiscard]] succession_quantity of_succession(int i) const {
        resolved_succession const& one = plan_.successions()[static_cast<std::size_t>(i)];
        crop const& grown = *one.grown;
        std::vector<double> const alive = alive_counts(plan_, i);
        int const counted_at = event_counted(one);
        succession_quantity found{.succession = one.name,
                                  .crop = grown.name,
                                  .plants = whole(alive[static_cast<std::size_t>(counted_at)]),
                                  .at = std::string{event_name(grown, counted_at)},
                                  .average_seeds = alive.front(),
                                  .starts_as = std::string{started_as(grown)}};
        // Seeds come up by `emerge`, or in the first stage; what is counted earlier is seed.
        int const up = event_index(grown, "emerge").value_or(1);
        int const lives_to = counted_at >= up ? counted_at : std::max(up, one.target_event);
        for (int j = 0; j < lives_to; ++j) {
            (j < up ? found.germination : found.usable) *=
                grown.stages[static_cast<std::size_t>(j)].survives;
        }
        sow(found, one, counted_at > 0 && counted_at >= up, lot_of(grown));
        for (int j = 0; j < static_cast<int>(grown.stages.size()); ++j) {
            stage const& stands = grown.stages[static_cast<std::size_t>(j)];
            found.stages.push_back({.event = stands.begins,
                                    .container = stands.container,
                                    .alive = alive[static_cast<std::size_t>(j)],
                                    .trays = trays_filled(plan_, i, j).value_or(0.0),
                                    .bed = bed_filled(plan_, i, j).value_or(0.0)});
        }
        if (found.cells) {
            int const j = *sown_in(grown);
            stage_quantity& sown = found.stages[static_cast<std::size_t>(j)];
            sown.trays = std::max(sown.trays, containers_for(static_cast<double>(*found.cells),
                                                             container_of(plan_, i, j)->cells));
        }
        add_medium(found, i);
        return found;
    }

    /// The stage in whose cells seed is sown: the first that has a container, before anything is
    /// up. What is soaked or chilled first is sown later.
    [[nodiscard]] static std::optional<int> sown_in(crop const& grown) {
        int const up = std::max(1, event_index(grown, "emerge").value_or(1));
        for (int j = 0; j < up; ++j) {
            if (!grown.stages[static_cast<std::size_t>(j)].container.empty()) { return j; }
        }
        return std::nullopt;
    }

    /// The event at which the plants of the amount are to be alive.
    [[nodiscard]] static int event_counted(resolved_succession const& one) {
        std::vector<stage> const& stages = one.grown->stages;
        switch (one.amount.what) {
            case amount::measure::trays:
                return 0;
            case amount::measure::bed:
                return static_cast<int>(
                    std::find_if(stages.begin(), stages.end(),
                                 [](stage const& each) { return each.spacing; }) -
                    stages.begin());
            case amount::measure::plants:
                break;
        }
        return one.target_event;
    }

    [[nodiscard]] static std::int64_t whole(double plants) {
        return detail::whole_of<std::int64_t>(std::ceil(plants - detail::nearly_nothing));
    }

    /// `comes_up` says whether plants are counted that have come up, and not seeds.
    void sow(succession_quantity& found, resolved_succession const& one, bool comes_up,
             seed_lot const* lot) const {
        std::optional<int> const in_cells = sown_in(*one.grown);
        int const a_cell = lot != nullptr && in_cells ? lot->seeds_a_cell : 1;
        std::optional<double> const standard = one.grown->germination_standard;
        if (lot != nullptr && lot->germination) {
            found.germination = lot->germination->value();
            found.germination_from = figure_of::lot;
        } else if (lot != nullptr && lot->tested) {
            found.germination = lot->tested->mean();
            found.germination_from = figure_of::test;
        }
        chance const usable{found.usable};
        auto const cells_of = [&](double germination) {
            return comes_up ? cells_needed(found.plants, a_cell, chance{germination}, usable,
                                           options_.confidence)
                            : found.plants;
        };
        std::int64_t const cells =
            comes_up && found.germination_from == figure_of::test
                ? seeds_needed(found.plants, *lot->tested, usable, options_.confidence)
                : cells_of(found.germination);
        found.seeds = cells * a_cell;
        if (in_cells) {
            double left = static_cast<double>(cells);
            for (int j = 0; j < *in_cells; ++j) {
                left *= one.grown->stages[static_cast<std::size_t>(j)].survives;
            }
            found.cells = whole(left);
        }
        if (standard && found.germination_from == figure_of::plan) {
            found.seeds_at_standard = cells_of(*standard) * a_cell;
        }
    }

    /// Containers that are filled with medium in a stage: those in which the plants did not stand
    /// before.
    static double filled(succession_quantity const& of, std::size_t stage) {
        std::string const& now = of.stages[stage].container;
        bool const is_new = stage == 0 || now != of.stages[stage - 1].container;
        return now.empty() || !is_new ? 0.0 : of.stages[stage].trays;
    }

    [[nodiscard]] std::optional<double> litres(container const& of, double trays) const {
        if (!of.medium) { return std::nullopt; }
        return trays * *of.medium * (1.0 + compaction_of(of.name));
    }

    void add_medium(succession_quantity& found, int i) const {
        for (std::size_t j = 0; j < found.stages.size(); ++j) {
            double const trays = filled(found, j);
            if (trays == 0.0) { continue; }
            auto const more = litres(*container_of(plan_, i, static_cast<int>(j)), trays);
            if (more) { found.medium = found.medium.value_or(0.0) + *more; }
        }
    }

    void add_to_order(plan_quantities& all, int i) const {
        succession_quantity const& one = all.successions[static_cast<std::size_t>(i)];
        auto line =
            std::find_if(all.seed_order.begin(), all.seed_order.end(),
                         [&](seed_order_line const& each) { return each.crop == one.crop; });
        if (line == all.seed_order.end()) {
            all.seed_order.push_back({.crop = one.crop,
                                      .begins = one.stages.front().event,
                                      .starts_as = one.starts_as,
                                      .germination = one.germination,
                                      .germination_from = one.germination_from});
            line = all.seed_order.end() - 1;
        }
        // Batches of a crop may differ: what comes up of all that is ordered.
        double const before = static_cast<double>(line->seeds);
        line->seeds += one.seeds;
        line->germination +=
            (one.germination - line->germination) *
            (line->seeds == 0 ? 0.0 : 1.0 - before / static_cast<double>(line->seeds));
        if (one.seeds_at_standard) {
            line->standard =
                plan_.successions()[static_cast<std::size_t>(i)].grown->germination_standard;
            line->seeds_at_standard = line->seeds_at_standard.value_or(0) + *one.seeds_at_standard;
        }
    }

    void add_trays(plan_quantities& all, int i) const {
        succession_quantity const& one = all.successions[static_cast<std::size_t>(i)];
        for (tray_line& line : all.trays) {
            double most = 0.0;
            for (std::size_t j = 0; j < one.stages.size(); ++j) {
                if (one.stages[j].container != line.container) { continue; }
                most = std::max(most, one.stages[j].trays);
                line.filled += filled(one, j);
            }
            line.trays += most;
        }
        for (std::size_t k = 0; k < all.trays.size(); ++k) {
            all.trays[k].medium = litres(plan_.parts().containers[k], all.trays[k].filled);
        }
    }

    void complete(seed_order_line& line) const {
        for (seed_lot const& lot : options_.lots) {
            auto const grown = std::find_if(plan_.parts().crops.begin(), plan_.parts().crops.end(),
                                            [&](crop const& one) { return one.name == line.crop; });
            if (lot.crop != line.crop && lot.crop != grown->id) { continue; }
            if (lot.seeds_per_gram) { line.grams = grams_of(line.seeds, *lot.seeds_per_gram); }
            if (lot.packets.empty()) { continue; }
            line.bought = buy_seed(line.seeds, lot.packets, lot.choice);
            for (std::size_t k = 0; k < lot.packets.size(); ++k) {
                if (line.bought->packets[k] == 0) { continue; }
                line.packets.push_back(
                    fmt::format("{} {}", line.bought->packets[k], lot.packets[k].name));
            }
        }
    }

    plan const& plan_;
    quantity_options const& options_;
};

}  // namespace

plan_quantities quantities(plan const& of, quantity_options const& options) {
    return reckoner{of, options}.reckoned();
}

}  // namespace epicotyl
