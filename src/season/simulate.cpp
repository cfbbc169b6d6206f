#include <epicotyl/season/simulate.hpp>

#include "engine.hpp"
#include "over_years.hpp"

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
            detail::succession_days const& one = planned.successions[detail::at(i)];
            walker.walk(days, i, year, one.sowing, walker.wait_day(i));
        }
    };

    detail::over_years(model->years, threads, walk_year);

    return prospect{std::make_shared<detail::prospect_data const>(
        detail::prospect_data{.of = of, .model = model, .days = std::move(days)})};
}

}  // namespace epicotyl
