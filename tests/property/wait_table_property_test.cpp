// Tables of waits change how long an answer takes, never the answer. The answers are found here day
// by day, with no code of the library.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>
#include <span>
#include <vector>

#include "../../src/season/tables/wait_table.hpp"

namespace ep = epicotyl;

namespace {

constexpr int season_days = 60;
constexpr int years = 4;

struct random_wait {
    std::vector<std::vector<double>> rates;   // [year][day]
    std::vector<std::vector<double>> minima;  // [year][day]
    double amount = 0.0;
    std::optional<double> limit;

    /// Day by day: the first day on which enough has been counted, or the first cold night after
    /// the start.
    int ready(int start, int year) const {
        if (start > season_days) { return ep::never; }
        double sum = 0.0;
        for (int d = start; d <= season_days; ++d) {
            if (sum >= amount * (1.0 - 1e-6)) { return d; }
            if (d == season_days) { break; }
            bool const cold = limit && minima[std::size_t(year)][std::size_t(d)] <= *limit;
            if (d > start && cold) { return d; }
            sum += rates[std::size_t(year)][std::size_t(d)];
        }
        return ep::never;
    }
    int latest(int end, int year) const {
        for (int s = end; s >= 0; --s) {
            if (ready(s, year) <= end) { return s; }
        }
        return -1;
    }
};

random_wait make_wait(std::mt19937_64& random) {
    auto const pick = [&](int low, int high) {
        return std::uniform_int_distribution<int>{low, high}(random);
    };
    random_wait made;
    int const most = pick(0, 8);
    // Quarters are summed without rounding, and so are these.
    double const unit = std::ldexp(0.25, pick(-60, 60));
    for (int y = 0; y < years; ++y) {
        std::vector<double>& rates = made.rates.emplace_back();
        std::vector<double>& minima = made.minima.emplace_back();
        for (int d = 0; d < season_days; ++d) {
            rates.push_back(unit * std::max(0, pick(-2, most)));
            minima.push_back(pick(-4, 30));
        }
    }
    made.amount = unit * pick(0, 40);
    if (pick(0, 1) == 1) { made.limit = pick(-4, 0); }
    return made;
}

}  // namespace

TEST_CASE("A wait has the day-by-day answer, with a table, beside one and without") {
    std::mt19937_64 random{20270414};
    auto const pick = [&](int low, int high) {
        return std::uniform_int_distribution<int>{low, high}(random);
    };
    int cut_short = 0;
    int never_ready = 0;
    for (int round = 0; round < 300; ++round) {
        random_wait const wanted = make_wait(random);
        ep::detail::running_sums sums{season_days, years};
        std::vector<std::span<double const>> minima;
        for (int y = 0; y < years; ++y) {
            sums.add_year(wanted.rates[std::size_t(y)]);
            minima.emplace_back(wanted.minima[std::size_t(y)]);
        }
        ep::detail::night_table const cold =
            ep::detail::make_night_table(minima, season_days, wanted.limit.value_or(-100.0));
        ep::detail::wait_table const bare{sums, years, wanted.amount,
                                          wanted.limit ? &cold : nullptr};
        ep::detail::wait_table tabled = bare;
        // Spans that are widened, empty, or reach out of the season; years with none; tables that
        // are filled again.
        for (int k = pick(0, 9); k >= 0; --k) {
            int const first = pick(-5, season_days + 5);
            tabled.expect_starts(pick(0, years - 1), {first, first + pick(-3, 30)});
            int const end = pick(-5, season_days + 5);
            tabled.expect_ends(pick(0, years - 1), {end, end + pick(-3, 30)});
            if (k > 0 && pick(0, 3) > 0) { continue; }
            tabled.make_room();
            tabled.fill();
        }
        std::vector<ep::ready_map> maps;
        for (int y = 0; y < years; ++y) { maps.push_back(bare.whole(y)); }
        ep::detail::wait_table grouped{maps};
        grouped.expect_starts(pick(0, years - 1), {pick(0, 30), pick(20, season_days)});
        grouped.expect_ends(pick(0, years - 1), {pick(0, 30), pick(20, season_days)});
        grouped.make_room();
        grouped.fill();

        for (int y = 0; y < years; ++y) {
            for (int d = 0; d <= season_days + 1; ++d) {
                int const ready = wanted.ready(d, y);
                CAPTURE(round, y, d, wanted.amount);
                REQUIRE(bare.ready(d, y) == ready);
                REQUIRE(tabled.ready(d, y) == ready);
                REQUIRE(grouped.ready(d, y) == ready);
                never_ready += ready == ep::never;
                if (d > season_days) { continue; }
                REQUIRE(maps[std::size_t(y)](d) == ready);
                int const latest = wanted.latest(d, y);
                REQUIRE(bare.latest_start(d, y) == latest);
                REQUIRE(tabled.latest_start(d, y) == latest);
                REQUIRE(grouped.latest_start(d, y) == latest);
            }
            REQUIRE(tabled.ready(ep::never, y) == ep::never);
            REQUIRE(tabled.latest_start(-1, y) == -1);
        }
        cut_short += wanted.limit.has_value();
    }
    CHECK(cut_short > 100);
    CHECK(never_ready > 1000);
}
