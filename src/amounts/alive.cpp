#include <epicotyl/amounts/alive.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include <epicotyl/detail/nearly_nothing.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl {

namespace {

constexpr double centimetres_per_metre = 100.0;

[[noreturn]] void refuse_index(char const* what, int value, int last) {
    throw invalid_input{{.code = "index.out_of_range",
                         .field = what,
                         .value = fmt::format("{}", value),
                         .bound = last < 0 ? std::string{"none"} : fmt::format("0 to {}", last),
                         .problem = fmt::format("there is no {} {}", what, value),
                         .remedy = "count from 0 in the order of the plan"}};
}

resolved_succession const& succession_of(plan const& of, int succession) {
    int const count = static_cast<int>(of.successions().size());
    if (succession < 0 || succession >= count) {
        refuse_index("succession", succession, count - 1);
    }
    return of.successions()[static_cast<std::size_t>(succession)];
}

stage const& stage_of(plan const& of, int succession, int stage_index) {
    crop const& grown = *succession_of(of, succession).grown;
    int const count = static_cast<int>(grown.stages.size());
    if (stage_index < 0 || stage_index >= count) { refuse_index("stage", stage_index, count - 1); }
    return grown.stages[static_cast<std::size_t>(stage_index)];
}

double plants_per_metre(spacing const& of) {
    return centimetres_per_metre * of.rows / of.in_row;
}

/// The event whose count the amount gives, and that count.
struct known_count {
    std::size_t event;
    double alive;
};

known_count known_of(plan const& of, resolved_succession const& one) {
    std::vector<stage> const& stages = one.grown->stages;
    switch (one.amount.what) {
        case amount::measure::trays: {
            std::string const& name = stages.front().container;
            auto const& all = of.parts().containers;
            auto const found = std::find_if(
                all.begin(), all.end(), [&](container const& each) { return each.name == name; });
            return {0, one.amount.value * found->cells};
        }
        case amount::measure::bed: {
            auto const found = std::find_if(stages.begin(), stages.end(),
                                            [](stage const& each) { return each.spacing; });
            return {static_cast<std::size_t>(found - stages.begin()),
                    one.amount.value * plants_per_metre(*found->spacing)};
        }
        case amount::measure::plants:
            break;
    }
    return {static_cast<std::size_t>(one.target_event), one.amount.value};
}

}  // namespace

container const* container_of(plan const& of, int succession, int stage) {
    std::string const& name = stage_of(of, succession, stage).container;
    for (container const& one : of.parts().containers) {
        if (!name.empty() && one.name == name) { return &one; }
    }
    return nullptr;
}

std::vector<double> alive_counts(plan const& of, int succession) {
    resolved_succession const& one = succession_of(of, succession);
    std::vector<stage> const& stages = one.grown->stages;
    known_count const known = known_of(of, one);
    std::vector<double> alive(stages.size() + 1);
    alive[known.event] = known.alive;
    for (std::size_t j = known.event; j < stages.size(); ++j) {
        alive[j + 1] = alive[j] * stages[j].survives;
    }
    for (std::size_t j = known.event; j > 0; --j) {
        alive[j - 1] = alive[j] / stages[j - 1].survives;
    }
    return alive;
}

double alive_at(plan const& of, int succession, int event) {
    std::vector<double> const alive = alive_counts(of, succession);
    int const last = static_cast<int>(alive.size()) - 1;
    if (event < 0 || event > last) { refuse_index("event", event, last); }
    return alive[static_cast<std::size_t>(event)];
}

double containers_for(double alive, int cells) {
    if (!(alive >= 0.0 && std::isfinite(alive))) {
        throw invalid_input{{.code = "amount.negative",
                             .field = "alive",
                             .value = fmt::format("{}", alive),
                             .bound = "0 or more",
                             .unit = "plants",
                             .problem = fmt::format("{} is no number of plants", alive),
                             .remedy = "give the plants that are to stand in them"}};
    }
    if (cells < 1) {
        throw invalid_input{{.code = "container.cells",
                             .field = "cells",
                             .value = fmt::format("{}", cells),
                             .bound = "1 or more",
                             .problem = fmt::format("{} cells hold no plants", cells),
                             .remedy = "give the cells of one tray"}};
    }
    return std::max(0.0, std::ceil(alive / cells - detail::nearly_nothing));
}

std::optional<double> trays_filled(plan const& of, int succession, int stage) {
    container const* const holds = container_of(of, succession, stage);
    if (holds == nullptr) { return std::nullopt; }
    return containers_for(alive_at(of, succession, stage), holds->cells);
}

std::optional<double> area_filled(plan const& of, int succession, int stage) {
    container const* const holds = container_of(of, succession, stage);
    if (holds == nullptr || !holds->area) { return std::nullopt; }
    return *trays_filled(of, succession, stage) * *holds->area;
}

std::optional<double> bed_filled(plan const& of, int succession, int stage) {
    std::optional<spacing> const& stands = stage_of(of, succession, stage).spacing;
    if (!stands) { return std::nullopt; }
    return alive_at(of, succession, stage) / plants_per_metre(*stands);
}

}  // namespace epicotyl
