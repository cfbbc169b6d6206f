#include <epicotyl/season/simulate.hpp>

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

#include "engine.hpp"

namespace epicotyl {

prospect simulate(calendar const& of, climate const& under, int threads) {
    detail::calendar_data const& planned = *of.data();
    auto const model =
        under == planned.model->weather
            ? planned.model
            : std::make_shared<detail::season_model const>(planned.model->planned, under);
    detail::days_table days = detail::make_days_table(model->planned, model->years);
    detail::chain_walker const walker{*model, planned.successions};

    auto const walk_year = [&](int year) {
        for (int i : planned.order) {
            detail::succession_days const& one = planned.successions[static_cast<std::size_t>(i)];
            walker.walk(days, i, year, one.sowing, walker.wait_day(i));
        }
    };

    // Years do not depend on one another, and each writes cells of its own.
    int const wanted =
        threads > 0 ? threads : static_cast<int>(std::thread::hardware_concurrency());
    int const workers = std::clamp(wanted, 1, model->years);
    std::atomic<int> next{0};
    auto const work = [&] {
        for (int year = next++; year < model->years; year = next++) { walk_year(year); }
    };
    std::vector<std::jthread> helpers;
    for (int k = 1; k < workers; ++k) { helpers.emplace_back(work); }
    work();
    helpers.clear();

    return prospect{std::make_shared<detail::prospect_data const>(
        detail::prospect_data{.of = of, .model = model, .days = std::move(days)})};
}

}  // namespace epicotyl
