#include "season_rows.hpp"

#include <epicotyl/detail/whole.hpp>

#include <cmath>

namespace epicotyl::detail {

void add_bound_rows(std::vector<requirement_row>& rows, int succession,
                    std::vector<event_bounds> const& bounds) {
    for (int e = 0; e < static_cast<int>(bounds.size()); ++e) {
        event_bounds const& bound = bounds[at(e)];
        for (int k = 0; k < static_cast<int>(bound.lower.size()); ++k) {
            rows.push_back({.kind = requirement_kind::not_before,
                            .to = {succession, e},
                            .days = bound.lower[at(k)].day,
                            .note = k});
        }
        if (bound.not_after < never) {
            rows.push_back({.kind = requirement_kind::not_after,
                            .to = {succession, e},
                            .days = bound.not_after,
                            .is_upper = true});
        }
    }
}

void add_stage_rows(std::vector<requirement_row>& rows, season_model const& model, int succession) {
    crop const& grown = *model.planned.successions()[at(succession)].grown;
    for (int j = 0; j + 1 < event_count(grown); ++j) {
        stage_tables const& passes = model.stages[at(succession)][at(j)];
        requirement_row row{.kind = requirement_kind::stage,
                            .to = {succession, j + 1},
                            .from = {succession, j},
                            .wait = passes.wait};
        rows.push_back(row);
        row.is_upper = true;
        if (is_outcome(grown, j + 1)) {
            rows.push_back(row);
        } else if (std::isfinite(passes.hold)) {
            row.kind = requirement_kind::hold;
            row.days = whole_of(std::floor(passes.hold));
            rows.push_back(row);
        }
    }
}

requirement_row link_row(season_model const& model, int link) {
    awaited const& counted = model.awaited_by(link);
    requirement_row row{.kind = requirement_kind::link,
                        .to = model.planned.links()[at(link)].then,
                        .wait = model.link_waits[at(link)],
                        .link = link};
    if (counted.is_wave()) {
        row.awaited = model.awaited_of_link[at(link)];
    } else {
        row.from = counted.firsts.front();
    }
    return row;
}

}  // namespace epicotyl::detail
