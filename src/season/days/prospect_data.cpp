#include "prospect_data.hpp"

#include <utility>

#include "lost.hpp"

namespace epicotyl::detail {

prospect_data::prospect_data(calendar of_calendar, std::shared_ptr<season_model const> of_model,
                             days_table walked)
    : of{std::move(of_calendar)}, model{std::move(of_model)}, days_{std::move(walked)} {}

void prospect_data::strike_lost() const {
    std::call_once(struck_, [this] {
        int const count = static_cast<int>(model->planned.successions().size());
        lost_.reserve(at(count) * at(model->years));
        // Of those that share their days the later ones find the same nights.
        for (int i = 0; i < count; ++i) {
            std::vector<std::int16_t> const nights = lost_nights(*model, days_, i);
            lost_.insert(lost_.end(), nights.begin(), nights.end());
            stage_path const& path = model->paths[at(model->path_of[at(i)])];
            if (!path.is_harvested) { continue; }
            int const years = model->years;
            std::span<std::int16_t> const struck =
                days_.all_days(i).subspan(at(path.lost_until) * at(years));
            for (std::size_t cell = 0; cell < struck.size(); ++cell) {
                if (nights[cell % at(years)] < never) {
                    struck[cell] = static_cast<std::int16_t>(never);
                }
            }
        }
    });
}

std::span<std::int16_t const> prospect_data::days_of_all() const {
    strike_lost();
    std::call_once(laid_out_, [this] {
        all_.reserve(at(days_.first_row.back()) * at(model->years));
        for (int i = 0; i < static_cast<int>(days_.held_at.size()); ++i) {
            std::span<std::int16_t const> const days = std::as_const(days_).all_days(i);
            all_.insert(all_.end(), days.begin(), days.end());
        }
    });
    return all_;
}

}  // namespace epicotyl::detail
