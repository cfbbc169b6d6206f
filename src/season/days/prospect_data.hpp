// What a prospect holds.
#ifndef EPICOTYL_SRC_SEASON_DAYS_PROSPECT_DATA_HPP
#define EPICOTYL_SRC_SEASON_DAYS_PROSPECT_DATA_HPP

#include <cstdint>
#include <memory>
#include <mutex>
#include <span>
#include <vector>

#include "calendar_data.hpp"

namespace epicotyl::detail {

class prospect_data {
public:
    /// `walked` are the days of the calendar in the model's season years, as if nothing were lost.
    prospect_data(calendar of, std::shared_ptr<season_model const> model, days_table walked);

    calendar const of;
    std::shared_ptr<season_model const> const model;

    /// The days that come to pass: of a batch that is lost neither the harvest nor what follows.
    [[nodiscard]] days_table const& days() const {
        strike_lost();
        return days_;
    }
    /// The same of every event, [event][year] in plan order.
    [[nodiscard]] std::span<std::int16_t const> days_of_all() const;
    /// The night of each year that loses a succession, `never` where it lives.
    [[nodiscard]] std::span<std::int16_t const> lost(int succession) const {
        strike_lost();
        return std::span{lost_}.subspan(at(succession) * at(model->years), at(model->years));
    }

private:
    /// Done once, when something is asked, by whichever thread asks first.
    void strike_lost() const;

    mutable std::once_flag struck_;
    mutable days_table days_;
    mutable std::vector<std::int16_t> lost_;  ///< [succession][year]
    mutable std::once_flag laid_out_;
    mutable std::vector<std::int16_t> all_;
};

}  // namespace epicotyl::detail

#endif
