// Chosen and staggered sowings on random weather, against schedule and simulate day by day and
// against every choice of sowings there is.
#include "catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <vector>

#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/harvest/fewest_sowings.hpp>
#include <epicotyl/season/harvest/stagger.hpp>

namespace ep = epicotyl;

namespace {

constexpr int season_days = 60;
constexpr int year_count = 9;

ep::day at(int offset) {
    return ep::make_day(2027, 1, 1) + ep::days{offset};
}

struct picker {
    std::mt19937_64& random;
    int operator()(int low, int high) const {
        return std::uniform_int_distribution<int>{low, high}(random);
    }
};

/// Years that differ in warmth, with a cold spell here and there.
ep::climate random_years(picker const& pick) {
    std::vector<double> low;
    std::vector<double> high;
    ep::day const start = ep::make_day(2001, 1, 1);
    double warm = 10.0;
    for (ep::day d = start; d < ep::make_day(2001 + year_count + 1, 1, 1); d += ep::days{1}) {
        if (date::year_month_day{d}.month() / date::year_month_day{d}.day() == date::January / 1) {
            warm = pick(6, 18);
        }
        low.push_back(warm + pick(-8, 4));
        high.push_back(low.back() + pick(2, 8));
    }
    return ep::climate{ep::daily_record{start, low, high},
                       ep::latitude{45.0},
                       {.season_days = season_days,
                        .years = ep::year_selection::between(2001, 2000 + year_count)}};
}

/// Sown outdoors; days or heat, perhaps slower on short days, perhaps ended by frost, perhaps with
/// a bound on its sowing.
ep::plan random_plan(picker const& pick) {
    ep::clock takes =
        pick(0, 3) == 0
            ? ep::clock::days(pick(0, 20))
            : ep::clock::heat(
                  {.amount = ep::thermal_time::from_kelvin_days(static_cast<double>(pick(0, 200))),
                   .base = ep::temperature::from_celsius(4.0)});
    if (pick(0, 2) == 0) {
        takes = std::move(takes).gated(
            {.hours = 9.0 + 0.1 * pick(0, 9), .otherwise = 0.25 * pick(0, 3)});
    }
    ep::crop grown{
        .name = "pea",
        .stages = {
            {.begins = "sow", .where = {"field"}, .takes = takes},
            {.begins = "first_harvest", .where = {"field"}, .takes = ep::clock::days(pick(0, 9))}}};
    if (pick(0, 1) == 0) { grown.stages[1].limit = ep::temperature::from_celsius(pick(-2, 2)); }
    // Cold that loses it cuts pieces out of the sowings that serve a year.
    if (pick(0, 1) == 0) {
        grown.stages[0].limit = ep::temperature::from_celsius(pick(-2, 6));
        if (pick(0, 2) == 0) {
            ep::stage young{.begins = "emerge", .where = {"field"}, .takes = ep::clock::days(4)};
            young.limit = ep::temperature::from_celsius(pick(0, 9));
            grown.stages.insert(grown.stages.begin() + 1, young);
        }
    }
    if (pick(0, 3) == 0) { grown.not_before = {{"sow", ep::from_rule{at(pick(0, 20))}}}; }
    if (pick(0, 3) == 0) { grown.not_after = {{"sow", ep::by_rule{at(pick(20, 50))}}}; }
    ep::plan_parts parts{.window = ep::season{at(0), season_days}, .where = ep::latitude{45.0}};
    parts.risk = ep::risk_setting::off();
    parts.places = {{.name = "beds", .jobs = {ep::job::field}}};
    parts.crops = {std::move(grown)};
    return ep::plan{parts};
}

ep::prospect sown_on(ep::plan const& of, ep::climate const& years, int sowing, bool& possible) {
    ep::plan_parts parts = of.parts();
    parts.successions = {{.name = "one",
                          .crop = "pea",
                          .amount = {.value = 1.0},
                          .target = {"sow", ep::on_rule{at(sowing)}}}};
    ep::calendar const planned = ep::schedule(ep::plan{parts}, years);
    possible = planned.unresolved().empty();
    return ep::simulate(planned, years, 1);
}

}  // namespace

TEST_CASE("the fewest sowings are as few as any choice of days, and serve as many years") {
    std::mt19937_64 random{20270612};
    picker const pick{random};
    int by_size[4] = {0, 0, 0, 0};
    for (int round = 0; round < 400; ++round) {
        INFO("round " << round);
        ep::climate const years = random_years(pick);
        ep::plan const p = random_plan(pick);
        int const from = pick(5, season_days - 6);
        int const until = from + pick(0, 4);
        ep::chance const share{0.1 * pick(1, 10)};
        ep::covering_sowings const found =
            ep::fewest_sowings(p, years, "pea", {at(from), at(until), share});

        std::vector<std::uint32_t> by_day;
        for (int s = 0; s <= season_days; ++s) {
            bool possible = false;
            ep::prospect const seen = sown_on(p, years, s, possible);
            std::uint32_t served = 0;
            if (possible) {
                auto const picked = seen.days("one", "first_harvest");
                auto const cleared = seen.days("one", "clear");
                for (std::size_t y = 0; y < picked.size(); ++y) {
                    if (picked[y] && *picked[y] <= at(from) &&
                        (!cleared[y] || *cleared[y] > at(until))) {
                        served |= std::uint32_t{1} << y;
                    }
                }
            }
            by_day.push_back(served);
        }
        // Level by level: all sets of years that so many sowings can serve.
        std::set<std::uint32_t> reached{0};
        std::vector<int> most;
        while (true) {
            std::set<std::uint32_t> next;
            for (std::uint32_t const so_far : reached) {
                for (std::uint32_t const more : by_day) { next.insert(so_far | more); }
            }
            int best = 0;
            for (std::uint32_t const one : next) { best = std::max(best, __builtin_popcount(one)); }
            if (best == (most.empty() ? 0 : most.back())) { break; }
            most.push_back(best);
            if (best >= found.needed) { break; }
            reached = std::move(next);
        }
        CHECK(found.most_good == most);
        CHECK(found.good == (most.empty() ? 0 : most.back()));
        CHECK(found.none.has_value() == (found.good < found.needed));
        if (found.none) {
            ++by_size[0];
            continue;
        }
        REQUIRE(found.sowings.size() == most.size());
        ++by_size[std::min<std::size_t>(most.size(), 3)];
        std::uint32_t together = 0;
        for (ep::day const one : found.sowings) {
            together |= by_day[static_cast<std::size_t>((one - at(0)).count())];
        }
        CHECK(__builtin_popcount(together) == found.good);
        CHECK(found.good + static_cast<int>(found.missed.size()) == year_count);
    }
    // All kinds of answers were met.
    for (int const count : by_size) { CHECK(count > 5); }
}

TEST_CASE("a staggered sowing is the latest for its day, and no later one is picked sooner") {
    std::mt19937_64 random{20270613};
    picker const pick{random};
    int sowings = 0;
    for (int round = 0; round < 60; ++round) {
        INFO("round " << round);
        ep::climate const years = random_years(pick);
        ep::plan const p = random_plan(pick);
        int const first = pick(5, 40);
        ep::staggered const found = ep::stagger(
            p, years, "pea",
            {.first = at(first), .last = at(pick(first, season_days)), .every = pick(1, 9)});
        ep::calendar const planned = ep::schedule(found.added_to(p), years);
        std::optional<ep::staggered_sowing> before;
        for (ep::staggered_sowing const& one : found.sowings()) {
            ++sowings;
            CHECK(planned.date(one.name, "sow") == one.sowing);
            CHECK(one.usual <= one.wanted);
            if (before) {
                CHECK(before->sowing < one.sowing);
                CHECK(before->usual <= one.usual);
                // But for what is lost, a later sowing is in time less often.
                CHECK(before->in_time + before->lost >= one.in_time);
            }
            before = one;
            int const next = static_cast<int>((one.sowing - at(0)).count()) + 1;
            bool possible = false;
            if (next > season_days) { continue; }
            ep::prospect const later = sown_on(p, years, next, possible);
            if (!possible) { continue; }
            auto const usual = later.quantile("one", "first_harvest", ep::quantile_level{0.5});
            CHECK((!usual || *usual > one.wanted));
        }
    }
    CHECK(sowings > 100);
}
