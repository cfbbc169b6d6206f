#include "wait_table.hpp"

namespace epicotyl::detail {

namespace {

/// First of the days [first, last] for which a test holds that never fails again once it has held;
/// last + 1 when it holds for none.
template <class Test>
int first_day(int first, int last, Test const& holds) {
    int count = last + 1 - first;
    while (count > 0) {
        int const half = count / 2;
        if (holds(first + half)) {
            count = half;
        } else {
            first += half + 1;
            count -= half + 1;
        }
    }
    return first;
}

}  // namespace

night_table make_night_table(std::vector<std::span<double const>> const& minima, int season_days,
                             double limit) {
    std::size_t const years = minima.size();
    night_table made{.season_days = season_days, .years = static_cast<int>(years)};
    made.next.assign((at(season_days) + 1) * years, static_cast<std::int16_t>(never));
    for (std::size_t y = 0; y < years; ++y) {
        auto next = static_cast<std::int16_t>(never);
        for (int d = season_days - 1; d >= 0; --d) {
            if (is_at_or_below(minima[y][at(d)], limit)) { next = static_cast<std::int16_t>(d); }
            made.next[at(d) * years + y] = next;
        }
    }
    return made;
}

int wait_table::seek_ready(int start, int year) const {
    if (start > season_days_) { return never; }
    int const from = std::max(start, 0);
    if (sums_ == nullptr) { return maps_[at(year)](from); }
    int const over = sums_->of_year(year).day_reached(from, wanted_);
    int const ready = over > season_days_ ? never : over;
    return cold_ == nullptr ? ready : std::min(ready, cold_->from(from + 1, year));
}

int wait_table::seek_latest(int end, int year) const {
    if (end < 0) { return -1; }
    int const last = std::min(end, season_days_);
    if (sums_ == nullptr) { return maps_[at(year)].latest_start(last).value_or(-1); }
    int const by_clock = sums_->of_year(year).latest_start(last, wanted_);
    if (cold_ == nullptr) { return by_clock; }
    // The latest start before the last cold night until then.
    int const by_cold =
        first_day(0, last, [&](int start) { return cold_->from(start + 1, year) > last; }) - 1;
    return std::max(by_clock, by_cold);
}

void wait_table::fill_year(int year, int first, unsigned count, std::int16_t* to,
                           std::ptrdiff_t step) const {
    if (sums_ == nullptr) {
        for (unsigned n = 0; n < count; ++n) {
            to[n * step] = static_cast<std::int16_t>(maps_[at(year)](first + static_cast<int>(n)));
        }
        return;
    }
    sums_of_year const sums = sums_->of_year(year);
    for (unsigned n = 0; n < count; ++n) {
        int const over = sums.day_reached(first + static_cast<int>(n), wanted_);
        to[n * step] = static_cast<std::int16_t>(over > season_days_ ? never : over);
    }
    if (cold_ == nullptr) { return; }
    for (unsigned n = 0; n < count; ++n) {
        int const night = cold_->from(first + static_cast<int>(n) + 1, year);
        to[n * step] = std::min(to[n * step], static_cast<std::int16_t>(night));
    }
}

void wait_table::make_room() {
    has_new_starts_ = starts_.make_room();
    has_new_ends_ = ends_.make_room();
}

void wait_table::fill() {
    for (int y = 0; has_new_starts_ && y < years_; ++y) {
        day_span const days = starts_.expected(y);
        if (days.empty()) { continue; }
        fill_year(y, days.first, static_cast<unsigned>(days.last - days.first + 1),
                  starts_.place(days.first, y), years_);
    }
    for (int y = 0; has_new_ends_ && y < years_; ++y) {
        day_span const days = ends_.expected(y);
        if (!days.empty()) { fill_latest(y, days, ends_.place(days.first, y)); }
    }
}

void wait_table::fill_latest(int year, day_span const& ends, std::int16_t* to) const {
    if (sums_ == nullptr || cold_ != nullptr) {
        for (int end = ends.first; end <= ends.last; ++end, to += years_) {
            *to = static_cast<std::int16_t>(seek_latest(end, year));
        }
        return;
    }
    sums_of_year const sums = sums_->of_year(year);
    for (int end = ends.first; end <= ends.last; ++end, to += years_) {
        *to = static_cast<std::int16_t>(sums.latest_start(end, wanted_));
    }
}

ready_map wait_table::whole(int year) const {
    if (sums_ == nullptr) { return maps_[at(year)]; }
    std::vector<std::int16_t> all(at(season_days_) + 1);
    fill_year(year, 0, static_cast<unsigned>(all.size()), all.data(), 1);
    return ready_map{std::move(all)};
}

}  // namespace epicotyl::detail
