#include "harvest_cover.hpp"

#include <algorithm>

namespace epicotyl::detail {

namespace {

/// Years served by a sowing on `day` and by none on `before` or sooner, -1: no sooner one.
int newly_served(std::vector<serving_run> const& runs, int before, int day) {
    return static_cast<int>(std::count_if(runs.begin(), runs.end(), [&](serving_run const& run) {
        return run.holds(day) && run.first > before;
    }));
}

}  // namespace

std::vector<serving_run> serving_runs(season_model const& model, chain_walker const& walker,
                                      days_table& days, int succession, int first_sowing) {
    std::vector<serving_run> runs(at(model.years));
    for (int s = first_sowing; s <= model.season_days; ++s) {
        walker.walk_all(days, succession, s, 0);
        for (int y = 0; y < model.years; ++y) {
            if (!walker.is_good(days, succession, y)) { continue; }
            serving_run& run = runs[at(y)];
            if (run.is_empty()) { run.first = s; }
            run.last = s;
        }
    }
    return runs;
}

sowing_choice fewest_covering(std::vector<serving_run> const& runs, int need) {
    // A sowing can be put off to the last day of the run that ends first of those it lies in, and
    // serves the same years; so only last days are tried.
    std::vector<int> days;
    for (serving_run const& run : runs) {
        if (!run.is_empty()) { days.push_back(run.last); }
    }
    std::sort(days.begin(), days.end());
    days.erase(std::unique(days.begin(), days.end()), days.end());
    int const count = static_cast<int>(days.size());

    // served[k][i]: most years that k + 1 sowings serve, the last of them on days[i]; of those
    // before it only the last matters, since a run that holds an earlier one but not that one ends
    // too soon for this. -1: there are no k days before it.
    std::vector<std::vector<int>> served;
    std::vector<std::vector<int>> before;
    sowing_choice choice;
    while (choice.good < need && static_cast<int>(served.size()) < count) {
        std::vector<int> most(at(count), -1);
        std::vector<int> from(at(count), -1);
        for (int i = 0; i < count; ++i) {
            if (served.empty()) {
                most[at(i)] = newly_served(runs, -1, days[at(i)]);
                continue;
            }
            for (int j = 0; j < i; ++j) {
                int const so_far = served.back()[at(j)];
                if (so_far < 0) { continue; }
                int const sum = so_far + newly_served(runs, days[at(j)], days[at(i)]);
                if (sum >= most[at(i)]) {
                    most[at(i)] = sum;
                    from[at(i)] = j;
                }
            }
        }
        int const best = *std::max_element(most.begin(), most.end());
        if (best <= choice.good) { break; }
        served.push_back(std::move(most));
        before.push_back(std::move(from));
        choice.good = best;
        choice.most_good.push_back(best);
    }
    if (served.empty()) { return choice; }

    int i = count - 1;
    while (served.back()[at(i)] < choice.good) { --i; }
    for (auto k = before.rbegin(); k != before.rend(); ++k) {
        choice.sowings.push_back(days[at(i)]);
        i = (*k)[at(i)];
    }
    std::reverse(choice.sowings.begin(), choice.sowings.end());
    return choice;
}

}  // namespace epicotyl::detail
