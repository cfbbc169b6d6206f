#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../tables/in_parallel.hpp"
#include "prospect_data.hpp"
#include "tables_for.hpp"
#include "walk_all_years.hpp"

namespace epicotyl {

prospect simulate(calendar const& of, climate const& under, int threads) {
    detail::calendar_data const& planned = *of.data();
    detail::days_table days = detail::make_unset_days_table(planned.days, under.size());
    int const workers = detail::thread_count_for(days.all().size(), threads);
    std::shared_ptr<detail::season_model const> model = planned.model;
    if (!(under == planned.model->weather)) {
        auto const made = std::make_shared<detail::season_model>(planned.model->planned, under);
        detail::expect_calendar(*made, planned, workers);
        model = made;
    }
    detail::walk_all_years(*model, planned, days, workers);
    return prospect{
        std::make_shared<detail::prospect_data const>(of, std::move(model), std::move(days))};
}

}  // namespace epicotyl
