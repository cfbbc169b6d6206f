// Of sowings that are tried one after the other, those with the most good years.
#ifndef EPICOTYL_SRC_SEASON_DAYS_MOST_GOOD_HPP
#define EPICOTYL_SRC_SEASON_DAYS_MOST_GOOD_HPP

#include <vector>

namespace epicotyl::detail {

/// Sowings, in order, with as many good years as any that was seen.
class most_good {
public:
    void add(int sowing, int good) {
        if (good < most_) { return; }
        if (good > most_) { days_.clear(); }
        most_ = good;
        days_.push_back(sowing);
    }
    [[nodiscard]] int most() const { return most_; }
    [[nodiscard]] std::vector<int> const& days() const { return days_; }

private:
    int most_ = 0;
    std::vector<int> days_ = {};
};

}  // namespace epicotyl::detail

#endif
