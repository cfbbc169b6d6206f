// Days of some successions, to be put back after a try.
#ifndef EPICOTYL_SRC_SEASON_KEPT_ROWS_HPP
#define EPICOTYL_SRC_SEASON_KEPT_ROWS_HPP

#include <algorithm>
#include <cstdint>
#include <vector>

#include "engine.hpp"

namespace epicotyl::detail {

class kept_rows {
public:
    explicit kept_rows(days_table& table) : table_{table} {}

    void keep(int succession) {
        whose_.push_back(succession);
        auto const days = table_.all_days(succession);
        days_.insert(days_.end(), days.begin(), days.end());
    }
    void restore() const {
        auto from = days_.begin();
        for (int succession : whose_) {
            auto const days = table_.all_days(succession);
            std::copy_n(from, days.size(), days.begin());
            from += static_cast<std::ptrdiff_t>(days.size());
        }
    }

private:
    days_table& table_;
    std::vector<int> whose_ = {};
    std::vector<std::int16_t> days_ = {};
};

}  // namespace epicotyl::detail

#endif
