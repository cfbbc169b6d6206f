// Days of some successions, and of the waves they are in, to be put back after a try.
#ifndef EPICOTYL_SRC_SEASON_DAYS_KEPT_ROWS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_KEPT_ROWS_HPP

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "days_table.hpp"
#include "moving_waves.hpp"

namespace epicotyl::detail {

class kept_rows {
public:
    kept_rows(days_table& table, moving_waves& waves) : table_{table}, waves_{waves} {}

    void keep(int succession) {
        whose_.push_back(succession);
        auto const days = table_.all_days(succession);
        days_.insert(days_.end(), days.begin(), days.end());
    }
    void keep(awaited const& wave) { kept_waves_.emplace_back(waves_, wave); }
    /// Whether the succession that was kept last has come to other days since.
    [[nodiscard]] bool has_moved() const {
        auto const days = table_.all_days(whose_.back());
        return !std::equal(days.begin(), days.end(),
                           days_.end() - static_cast<std::ptrdiff_t>(days.size()));
    }
    [[nodiscard]] std::vector<int> const& whose() const { return whose_; }
    /// As they were when they were kept first.
    void restore() const {
        auto until = days_.end();
        for (std::size_t k = whose_.size(); k-- > 0;) {
            auto const days = table_.all_days(whose_[k]);
            until -= static_cast<std::ptrdiff_t>(days.size());
            std::copy_n(until, days.size(), days.begin());
        }
        for (auto wave = kept_waves_.rbegin(); wave != kept_waves_.rend(); ++wave) {
            wave->restore();
        }
    }

private:
    days_table& table_;
    moving_waves& waves_;
    std::vector<moving_waves::kept> kept_waves_ = {};
    std::vector<int> whose_ = {};
    std::vector<std::int16_t> days_ = {};
};

}  // namespace epicotyl::detail

#endif
