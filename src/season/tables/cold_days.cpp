#include "cold_days.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/frost/season_halves.hpp>

namespace epicotyl::detail {

int needed_years(double share, int n) {
    return std::max(1, whole_of(std::ceil(share * n - 1e-9)));
}

int allowed_years(double share, int n) {
    return whole_of(std::floor(share * n + 1e-9));
}

cold_days::cold_days(plan const& of, climate const& under, std::deque<place_air> const& airs)
    : planned_{of}, weather_{under}, airs_{airs} {
    season const& window = planned_.window();
    date::year_month_day const start{window.start()};
    season_halves const halves = season_halves::for_latitude(planned_.parts().where);
    int const first_year = int{start.year()} - 1;
    int const last_year =
        int{date::year_month_day{window.start() + days{season_days()}}.year()} + 1;
    for (int y = first_year; y <= last_year; ++y) {
        day_range const spring = halves.cold_to_warm(y);
        day_range const autumn = halves.warm_to_cold(y);
        springs_.push_back({window.offset_of(spring.begin), window.offset_of(spring.end) - 1});
        autumns_.push_back({window.offset_of(autumn.begin), window.offset_of(autumn.end) - 1});
    }
}

day_span cold_days::spring_half(int after) const {
    return *std::find_if(springs_.begin(), springs_.end(), [&](day_span const& half) {
        return half.last >= after + days_before_half_ends;
    });
}

day_span cold_days::autumn_half(int after) const {
    return *std::find_if(autumns_.begin(), autumns_.end(), [&](day_span const& half) {
        return half.last >= after + days_before_half_ends;
    });
}

day_span cold_days::spring_half_before(int day) const {
    day_span best = springs_.front();
    for (day_span const& half : springs_) {
        if (half.first <= day) { best = half; }
    }
    return best;
}

risk_day cold_days::risk_day_of(int air_id, double limit, day_span half, int from,
                                double share) const {
    risk_key const asked{air_id, limit, half.first, half.last, from, share};
    {
        std::scoped_lock const lock{asked_lock_};
        if (auto const known = risk_days_.find(asked); known != risk_days_.end()) {
            return known->second;
        }
    }
    risk_day const found = count_risk_day(air_id, limit, half, from, share);
    std::scoped_lock const lock{asked_lock_};
    risk_days_.emplace(asked, found);
    return found;
}

risk_day cold_days::count_risk_day(int air_id, double limit, day_span half, int from,
                                   double share) const {
    risk_day result{.allowed = allowed_years(share, years())};
    int const last_risk_day = half.last - half_tail;
    if (last_risk_day > season_days() - 1) {
        result.what = risk_day::verdict::season_too_short;
        result.days_wanted = last_risk_day + 1;
        return result;
    }
    result.day = std::max(from, 0);
    // A half that is over before the season needs it protects from nothing.
    if (last_risk_day < result.day) { return result; }
    int const first = std::max(half.first, result.day);
    int const last = std::min(half.last, season_days() - 1);
    std::vector<int> last_cold;
    for (int y = 0; y < years(); ++y) {
        std::vector<double> const& minima = airs_[at(air_id)].years[at(y)].tmin;
        for (int d = last; d >= first; --d) {
            if (is_at_or_below(minima[at(d)], limit)) {
                last_cold.push_back(d);
                break;
            }
        }
    }
    std::sort(last_cold.begin(), last_cold.end(), std::greater<>{});
    result.have = static_cast<int>(last_cold.size());
    if (result.have > result.allowed) { result.day = last_cold[at(result.allowed)] + 1; }
    if (result.day > last_risk_day) { result.what = risk_day::verdict::every_month; }
    return result;
}

int cold_days::after_offset(std::optional<day> const& after) const {
    return after ? planned_.window().offset_of(*after) : 0;
}

std::vector<std::optional<int>> cold_days::frost_dates(bool first_frost,
                                                       std::optional<day> after) const {
    day_span const half =
        first_frost ? autumn_half(after_offset(after)) : spring_half(after_offset(after));
    double const threshold = planned_.parts().frost.at.celsius();
    int const first = std::max(half.first, 0);
    int const last = std::min(half.last, season_days() - 1);
    std::vector<std::optional<int>> dates;
    for (int y = 0; y < years(); ++y) {
        std::span<double const> const minima = weather_.tmin(y);
        std::optional<int> found;
        for (int d = first; d <= last && !(first_frost && found); ++d) {
            if (is_at_or_below(minima[at(d)], threshold)) { found = d; }
        }
        dates.push_back(found);
    }
    return dates;
}

std::optional<int> cold_days::frost_day(bool first_frost, std::optional<day> after) const {
    std::pair<bool, int> const asked{first_frost, after_offset(after)};
    {
        std::scoped_lock const lock{asked_lock_};
        if (auto const known = frost_days_.find(asked); known != frost_days_.end()) {
            return known->second;
        }
    }
    std::vector<std::optional<int>> const dates = frost_dates(first_frost, after);
    chance const share = planned_.parts().frost.share;
    std::optional<int> const found =
        first_frost ? empirical_offset_first(dates, share) : empirical_offset_last(dates, share);
    std::scoped_lock const lock{asked_lock_};
    frost_days_.emplace(asked, found);
    return found;
}

int cold_days::frost_years(bool first_frost, std::optional<day> after) const {
    std::vector<std::optional<int>> const dates = frost_dates(first_frost, after);
    return static_cast<int>(
        std::count_if(dates.begin(), dates.end(), [](auto const& one) { return one.has_value(); }));
}

}  // namespace epicotyl::detail
