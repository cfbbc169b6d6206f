#include "wait_table.hpp"

#include <array>

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

/// Years that are swept side by side: one waits for its sums while the others are compared.
constexpr int lanes = 4;

/// Fills a table [start][year] for `count` starts from `first` on, in years [from, until). The end
/// never falls as the start moves on, and most often moves by a day or two: these steps are taken
/// without a branch.
void sweep_years(running_sums const& sums, cold_nights const* cold, double wanted, int from,
                 int until, int first, std::size_t count, std::int16_t* table) {
    std::size_t const size = at(sums.season_days) + 1;
    std::size_t const row = at(until - from);
    for (int first_year = from; first_year < until; first_year += lanes) {
        std::array<int, lanes> year{};
        std::array<double const*, lanes> sum{};
        std::array<std::size_t, lanes> over{};
        for (int k = 0; k < lanes; ++k) {
            // Where years run out, the last one is swept again.
            year[at(k)] = std::min(first_year + k, until - 1);
            sum[at(k)] = sums.year(year[at(k)]).data();
        }
        for (std::size_t n = 0; n < count; ++n) {
            std::size_t const start = at(first) + n;
            for (std::size_t k = 0; k < lanes; ++k) {
                double const* const of = sum[k];
                double const before = of[start];
                std::size_t end = std::max(over[k], start);
                auto const is_short = [&] {
                    return end < size && !(of[std::min(end, size - 1)] - before >= wanted);
                };
                end += is_short() ? 1 : 0;
                end += is_short() ? 1 : 0;
                while (is_short()) { ++end; }
                over[k] = end;
                int ready = end < size ? static_cast<int>(end) : never;
                if (cold != nullptr) {
                    ready = std::min(ready, cold->from(static_cast<int>(start) + 1, year[k]));
                }
                table[n * row + at(year[k] - from)] = static_cast<std::int16_t>(ready);
            }
        }
    }
}

}  // namespace

cold_nights make_cold_nights(std::vector<std::span<double const>> const& minima, int season_days,
                             double limit) {
    std::size_t const years = minima.size();
    cold_nights made{.season_days = season_days, .years = static_cast<int>(years)};
    made.next.assign((at(season_days) + 1) * years, static_cast<std::int16_t>(never));
    for (std::size_t y = 0; y < years; ++y) {
        auto next = static_cast<std::int16_t>(never);
        for (int d = season_days - 1; d >= 0; --d) {
            if (minima[y][at(d)] <= limit) { next = static_cast<std::int16_t>(d); }
            made.next[at(d) * years + y] = next;
        }
    }
    return made;
}

int wait_table::seek_ready(int start, int year) const {
    if (start > season_days_) { return never; }
    int const from = std::max(start, 0);
    if (sums_ == nullptr) { return maps_[at(year)](from); }
    std::span<double const> const sum = sums_->year(year);
    double const before = sum[at(from)];
    int const over =
        first_day(from, season_days_, [&](int end) { return sum[at(end)] - before >= wanted_; });
    int const ready = over > season_days_ ? never : over;
    return cold_ == nullptr ? ready : std::min(ready, cold_->from(from + 1, year));
}

int wait_table::seek_latest(int end, int year) const {
    if (end < 0) { return -1; }
    int const last = std::min(end, season_days_);
    if (sums_ == nullptr) { return maps_[at(year)].latest_start(last).value_or(-1); }
    std::span<double const> const sum = sums_->year(year);
    int const by_clock =
        first_day(0, last,
                  [&](int start) { return !(sum[at(last)] - sum[at(start)] >= wanted_); }) -
        1;
    if (cold_ == nullptr) { return by_clock; }
    int const by_cold =
        first_day(0, last, [&](int start) { return cold_->from(start + 1, year) > last; }) - 1;
    return std::max(by_clock, by_cold);
}

void wait_table::expect_starts(day_span starts) {
    day_span wanted{std::clamp(starts.first, 0, season_days_), std::min(starts.last, season_days_)};
    if (starts.empty() || wanted.empty()) { return; }
    if (count_ > 0) { wanted.add({first_, first_ + static_cast<int>(count_) - 1}); }
    auto const count = static_cast<unsigned>(wanted.last - wanted.first + 1);
    if (count == count_) { return; }
    first_ = wanted.first;
    count_ = count;
    table_.resize(at(years_) * count_);
    if (sums_ != nullptr) {
        sweep_years(*sums_, cold_, wanted_, 0, years_, first_, count_, table_.data());
        return;
    }
    std::int16_t* to = table_.data();
    for (int start = wanted.first; start <= wanted.last; ++start) {
        for (ready_map const& map : maps_) { *to++ = static_cast<std::int16_t>(map(start)); }
    }
}

void wait_table::expect_ends(day_span ends) {
    day_span wanted{std::clamp(ends.first, 0, season_days_), std::min(ends.last, season_days_)};
    if (ends.empty() || wanted.empty()) { return; }
    if (end_count_ > 0) { wanted.add({first_end_, first_end_ + static_cast<int>(end_count_) - 1}); }
    auto const count = static_cast<unsigned>(wanted.last - wanted.first + 1);
    if (count == end_count_) { return; }
    first_end_ = wanted.first;
    end_count_ = count;
    latest_.resize(at(years_) * end_count_);
    for (int y = 0; y < years_; ++y) {
        int start = seek_latest(first_end_, y);
        double const* const sum = sums_ == nullptr ? nullptr : sums_->year(y).data();
        auto const is_over_by = [&](int begin, int end) {
            if (sum == nullptr) { return maps_[at(y)](begin) <= end; }
            return sum[end] - sum[begin] >= wanted_ ||
                   (cold_ != nullptr && cold_->from(begin + 1, y) <= end);
        };
        for (unsigned k = 0; k < end_count_; ++k) {
            // The latest start never falls as the end moves on.
            int const end = first_end_ + static_cast<int>(k);
            while (start < end && is_over_by(start + 1, end)) { ++start; }
            latest_[k * at(years_) + at(y)] = static_cast<std::int16_t>(start);
        }
    }
}

day_span wait_table::ready_span(day_span starts) const {
    day_span found;
    for (int y = 0; y < years_; ++y) {
        found.add(std::min(ready(starts.first, y), season_days_));
        found.add(std::min(ready(starts.last, y), season_days_));
    }
    return found;
}

day_span wait_table::latest_span(day_span ends) const {
    day_span found;
    for (int y = 0; y < years_; ++y) {
        found.add(std::max(seek_latest(ends.first, y), 0));
        found.add(std::max(seek_latest(ends.last, y), 0));
    }
    return found;
}

ready_map wait_table::whole(int year) const {
    if (sums_ == nullptr) { return maps_[at(year)]; }
    std::vector<std::int16_t> all(at(season_days_) + 1);
    sweep_years(*sums_, cold_, wanted_, year, year + 1, 0, all.size(), all.data());
    return ready_map{std::move(all)};
}

}  // namespace epicotyl::detail
