// Staggered and chosen sowings over the season years of New York Central Park (GHCN-Daily
// USW00094728), with the tables that show what they are worth.
#include "catch.hpp"

#include <bitset>
#include <cstddef>
#include <cstdlib>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/fmt.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/harvest/fewest_sowings.hpp>
#include <epicotyl/season/harvest/stagger.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "reference_data.hpp"

namespace ep = epicotyl;

namespace {

constexpr std::size_t most_years = 64;
constexpr int season_days = 400;

ep::day in_2019(unsigned month, unsigned day) {
    return ep::make_day(2019, month, day);
}

ep::climate central_park() {
    std::string const file = "USW00094728_TMAX_TMIN_1869-2020.dly.gz";
    return ep::climate{ep::parse_ghcn_daily(reference::unpacked(reference::data_file(file)), file),
                       ep::latitude{40.78},
                       {.season_days = season_days}};
}

/// An invented annual, sown where it stands, that takes so much heat above 5 °C until its first
/// stems and is cut for a week.
ep::plan annual(double amount) {
    ep::plan_parts parts{.window = ep::season{in_2019(1, 1), season_days},
                         .where = ep::latitude{40.78},
                         .frost = {.at = ep::temperature::from_celsius(0.0)}};
    parts.places = {{.name = "beds", .jobs = {ep::job::field}}};
    parts.crops = {
        {.name = "annual",
         .stages = {
             {.begins = "sow",
              .where = {"field"},
              .takes = ep::clock::heat({.amount = ep::thermal_time::from_kelvin_days(amount),
                                        .base = ep::temperature::from_celsius(5.0)})},
             {.begins = "first_harvest", .where = {"field"}, .takes = ep::clock::days(7.0)}}}};
    return ep::plan{parts};
}

using years_served = std::bitset<most_years>;

/// Which season years a plan with one succession and these planned days serves.
years_served served_by(ep::prospect const& seen, std::string const& name, ep::day when) {
    auto const picked = seen.days(name, "first_harvest");
    auto const cleared = seen.days(name, "clear");
    years_served found;
    for (std::size_t y = 0; y < picked.size(); ++y) {
        found[y] = picked[y] && *picked[y] <= when && (!cleared[y] || *cleared[y] > when);
    }
    return found;
}

ep::succession aimed(ep::target aim) {
    return {.name = "one", .crop = "annual", .amount = {.value = 1.0}, .target = std::move(aim)};
}

}  // namespace

TEST_CASE(
    "staggered over the years of Central Park, harvests from June to September are 7 days "
    "apart, within 2") {
    if (reference::is_missing()) { return; }
    ep::climate const years = central_park();
    REQUIRE(years.size() == 30);
    ep::staggered const weekly =
        ep::stagger(annual(600.0), years, "annual",
                    {.first = in_2019(6, 1), .last = in_2019(9, 30), .every = 7});
    CHECK(weekly.left_out().empty());
    REQUIRE(weekly.sowings().size() == 18);
    std::vector<ep::equal_gap_sowing> const equal = ep::equal_gaps(weekly);
    std::vector<int> const intervals = weekly.intervals();
    REQUIRE(intervals.size() == 17);

    fmt::print("{}", weekly);
    fmt::print("{:>14} {:>6} {:>12} {:>8}   | equal gaps: {:>8} {:>6} {:>12} {:>8}\n", "sow", "gap",
               "usual pick", "interval", "sow", "gap", "usual pick", "interval");
    int least = 100;
    int most = 0;
    for (std::size_t k = 0; k < equal.size(); ++k) {
        ep::staggered_sowing const& one = weekly.sowings()[k];
        REQUIRE(equal[k].usual);
        int equal_interval = 0;
        if (k > 0) {
            equal_interval = static_cast<int>((*equal[k].usual - *equal[k - 1].usual).count());
            least = std::min(least, equal_interval);
            most = std::max(most, equal_interval);
            CHECK(std::abs(intervals[k - 1] - 7) <= 2);
        }
        auto const gap = [&](ep::day now, ep::day before) {
            return k == 0 ? 0 : static_cast<int>((now - before).count());
        };
        fmt::print("{:>14} {:>6} {:>12} {:>8}   | {:>20} {:>6} {:>12} {:>8}\n",
                   ep::to_day_month(one.sowing),
                   gap(one.sowing, k == 0 ? one.sowing : weekly.sowings()[k - 1].sowing),
                   ep::to_day_month(one.usual), k == 0 ? 0 : intervals[k - 1],
                   ep::to_day_month(equal[k].sowing),
                   gap(equal[k].sowing, k == 0 ? equal[k].sowing : equal[k - 1].sowing),
                   ep::to_day_month(*equal[k].usual), equal_interval);
    }
    fmt::print("equal sowing gaps give harvests {} to {} days apart\n", least, most);
    // Bunched in spring, spread in autumn.
    CHECK(least <= 4);
    CHECK(most >= 9);

    // In each season year by itself: the weather of the days, which no sowing day can foresee.
    ep::calendar const planned = ep::schedule(weekly.added_to(annual(600.0)), years);
    ep::prospect const seen = ep::simulate(planned, years);
    int within = 0;
    int counted = 0;
    for (std::size_t k = 1; k < weekly.sowings().size(); ++k) {
        CHECK(planned.date(weekly.sowings()[k].name, "sow") == weekly.sowings()[k].sowing);
        auto const before = seen.days(weekly.sowings()[k - 1].name, "first_harvest");
        auto const after = seen.days(weekly.sowings()[k].name, "first_harvest");
        for (std::size_t y = 0; y < before.size(); ++y) {
            if (!before[y] || !after[y]) { continue; }
            ++counted;
            within += std::abs((*after[y] - *before[y]).count() - 7) <= 2;
        }
    }
    fmt::print("in single years {} of {} intervals are 5 to 9 days\n", within, counted);
}

TEST_CASE(
    "on a wedding day at Central Park the sowings returned are in harvest in 95 years of 100, "
    "and one fewer are not") {
    if (reference::is_missing()) { return; }
    ep::climate const years = central_park();
    ep::plan const p = annual(600.0);
    for (ep::day const day : {in_2019(6, 1), in_2019(6, 15), in_2019(7, 20), in_2019(9, 28)}) {
        ep::covering_sowings const found =
            ep::fewest_sowings(p, years, "annual", {day, day, ep::chance{0.95}});
        REQUIRE_FALSE(found.none);
        REQUIRE(found.sowings.size() < 5);
        // In July one does, and none is one fewer.
        REQUIRE(found.sowings.size() >= 1);
        CHECK(found.needed == 29);

        // Every sowing day by itself, through schedule and simulate.
        std::vector<years_served> by_day;
        for (int s = 0; s < season_days; ++s) {
            ep::plan_parts parts = p.parts();
            parts.successions = {aimed({"sow", ep::on_rule{parts.window.start() + ep::days{s}}})};
            ep::calendar const planned = ep::schedule(ep::plan{parts}, years);
            if (!planned.unresolved().empty()) { break; }
            by_day.push_back(served_by(ep::simulate(planned, years, 1), "one", day));
        }
        years_served together;
        for (ep::day const sowing : found.sowings) {
            together |= by_day[static_cast<std::size_t>(p.window().offset_of(sowing))];
        }
        CHECK(static_cast<int>(together.count()) == found.good);
        CHECK(found.good >= 29);

        // One fewer, whichever they are: every choice of that many days, by brute force.
        std::size_t best = 0;
        auto const choose = [&](auto const& self, std::size_t from, std::size_t left,
                                years_served const& so_far) -> void {
            best = std::max(best, so_far.count());
            if (left == 0) { return; }
            for (std::size_t s = from; s < by_day.size(); ++s) {
                if (by_day[s].none()) { continue; }
                self(self, s + 1, left - 1, so_far | by_day[s]);
            }
        };
        choose(choose, 0, found.sowings.size() - 1, {});
        std::size_t const fewer = found.sowings.size() - 1;
        CHECK(static_cast<int>(best) == (fewer == 0 ? 0 : found.most_good[fewer - 1]));
        CHECK(best < 29);

        fmt::print("{}\n  most years with one, two ... sowings: {}\n", found,
                   fmt::join(found.most_good, ", "));
        auto const alone = [&](char const* what, ep::target aim, double wanted) {
            ep::plan_parts parts = p.parts();
            parts.successions = {aimed(std::move(aim))};
            ep::calendar const planned =
                ep::schedule(ep::plan{parts}, years, ep::reliability{wanted});
            planned.require();
            std::size_t const count = served_by(ep::simulate(planned, years), "one", day).count();
            fmt::print("  {} alone: sown on {}, in harvest on the day in {} of 30 years\n", what,
                       ep::to_day_month(*planned.date("one", "sow")), count);
            if (found.sowings.size() > 1) { CHECK(count < 29); }
        };
        alone("by, reliability 0.95", {"first_harvest", ep::by_rule{day}}, 0.95);
        alone("by, reliability 0.8", {"first_harvest", ep::by_rule{day}}, 0.8);
        alone("on", {"first_harvest", ep::on_rule{day}}, 0.8);
    }
}
