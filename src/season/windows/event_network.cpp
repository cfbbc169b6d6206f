#include <epicotyl/season/windows/event_network.hpp>

#include <fmt/format.h>

#include "../days/calendar_data.hpp"

namespace epicotyl {

using detail::at;

monotone_network<stage_map> event_network(calendar const& of, int year) {
    detail::calendar_data const& data = *of.data();
    // The tables live as long as any map that looks into them.
    std::shared_ptr<detail::season_model const> const& model = data.model;
    if (year < 0 || year >= model->years) {
        throw invalid_input{{.code = "network.year",
                             .field = "year",
                             .value = fmt::format("{}", year),
                             .bound = fmt::format("0 to {}", model->years - 1),
                             .problem = fmt::format("the climate has no season year {}", year),
                             .remedy = "give the index of a season year, 0 for the first"}};
    }
    auto const table = [&](int number) {
        return stage_map{{model, &model->whole(number, year)}};
    };

    monotone_network<stage_map> network{0, never};
    for (resolved_succession const& one : model->planned.successions()) {
        for (int e = 0; e < event_count(*one.grown); ++e) {
            network.add_vertex(fmt::format("{}: {}", one.name, event_name(*one.grown, e)));
        }
    }
    auto const vertex = [&](int succession, int event) {
        return at(data.days.row(succession, event));
    };

    detail::chain_walker const walker{*model, data.successions};
    for (int i : data.order) {
        detail::succession_days const& one = data.successions[at(i)];
        int const target = model->planned.successions()[at(i)].target_event;
        network.not_before(vertex(i, 0), one.sowing);
        network.not_before(vertex(i, target), walker.wait_day(i));
        for (int e = 0; e < static_cast<int>(one.bounds().size()); ++e) {
            network.not_before(vertex(i, e), one.bounds()[at(e)].not_before);
            if (e > 0) {
                network.no_sooner(vertex(i, e - 1), vertex(i, e),
                                  table(model->stages[at(i)][at(e - 1)].wait));
            }
        }
        for (detail::incoming_link const& in : walker.incoming(i)) {
            resolved_link const& link = model->planned.links()[at(in.link)];
            if (link.first_decides && link.firsts.size() > 1) {
                throw invalid_input{
                    {.code = "network.first_of_wave",
                     .field = "link",
                     .value = "of = \"first\"",
                     .bound = "of = \"all\"",
                     .problem = "a link that waits for the first of a wave is no inequality "
                                "between two events",
                     .remedy = "wait for all of the wave, or for one succession"}};
            }
            for (event_of const& first : link.firsts) {
                network.no_sooner(vertex(first.succession, first.event), vertex(i, in.event),
                                  table(model->link_waits[at(in.link)]), in.link);
            }
        }
    }
    return network;
}

}  // namespace epicotyl
