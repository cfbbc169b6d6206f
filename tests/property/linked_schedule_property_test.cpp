// `schedule` on linked successions, against brute force over every combination of sowing days.
// The chains here are walked day by day, with no code of the library.
#include "catch.hpp"

#include <algorithm>
#include <array>
#include <random>
#include <string>
#include <vector>

#include <epicotyl/season/days/schedule.hpp>

namespace ep = epicotyl;

namespace {

constexpr int season_days = 18;
constexpr int batches = 3;
constexpr int stages = 3;     // sow, pot_on, first_harvest; then clear
constexpr int beyond = 1000;  // a day later than every day: never
char const* const event_names[] = {"sow", "pot_on", "first_harvest", "clear"};

struct stage_wait {
    bool is_heat = false;
    double amount = 0.0;
    double base = 0.0;
};

struct batch {
    std::array<stage_wait, stages> takes;
    int target = 1;  // event: 1 pot_on (from), 2 first_harvest (by)
    int asked = 0;
    int pot_on_not_before = 0;
    int pot_on_not_after = beyond;
};

struct waiting {
    int first, first_event, then, then_event, after;
};

struct farm {
    int years = 0;
    double reliability = 0.8;
    std::vector<std::vector<double>> mean;  // [year][day]
    std::array<batch, batches> all;
    std::vector<waiting> links;

    int need() const {
        int k = 1;
        while (k < reliability * years - 1e-9) { ++k; }
        return k;
    }
};

farm random_farm(std::mt19937_64& random) {
    auto const pick = [&](int low, int high) {
        return std::uniform_int_distribution<int>{low, high}(random);
    };
    farm made;
    made.years = pick(4, 6);
    made.reliability = std::array{0.5, 0.6, 0.8, 1.0}[static_cast<std::size_t>(pick(0, 3))];
    for (int y = 0; y < made.years; ++y) {
        std::vector<double>& days = made.mean.emplace_back();
        for (int d = 0; d < season_days; ++d) { days.push_back(pick(0, 12)); }
    }
    for (batch& one : made.all) {
        for (stage_wait& takes : one.takes) {
            takes.is_heat = pick(0, 1) == 1;
            takes.amount = takes.is_heat ? pick(0, 25) : pick(0, 5);
            takes.base = takes.is_heat ? pick(2, 5) : 0;
        }
        one.target = pick(1, 2);
        one.asked = one.target == 1 ? pick(1, 12) : pick(4, season_days);
        if (pick(0, 2) == 0) { one.pot_on_not_before = pick(1, 9); }
        if (pick(0, 3) == 0) { one.pot_on_not_after = pick(6, season_days); }
    }
    int const count = pick(1, 3);
    for (int k = 0; k < count; ++k) {
        int const first = pick(0, 1);
        made.links.push_back({first, pick(0, 2), pick(first + 1, 2), pick(0, 1), pick(0, 4)});
    }
    return made;
}

ep::day day_at(int offset) {
    return ep::make_day(2027, 3, 1) + ep::days{offset};
}

ep::calendar schedule_of(farm const& what) {
    ep::plan_parts parts{.window = ep::season{day_at(0), season_days}, .where = ep::latitude{50.0}};
    parts.reliability = ep::reliability{what.reliability};
    parts.risk = ep::risk_setting::off();
    parts.places = {{.name = "beds", .jobs = {ep::job::field}}};
    for (int i = 0; i < batches; ++i) {
        batch const& one = what.all[static_cast<std::size_t>(i)];
        std::string const name(1, static_cast<char>('a' + i));
        ep::crop grown{.name = name};
        for (int j = 0; j < stages; ++j) {
            stage_wait const& takes = one.takes[static_cast<std::size_t>(j)];
            grown.stages.push_back(
                {.begins = event_names[j],
                 .where = {"field"},
                 .takes = takes.is_heat
                              ? ep::clock::heat(
                                    {.amount = ep::thermal_time::from_kelvin_days(takes.amount),
                                     .base = ep::temperature::from_celsius(takes.base),
                                     .method = ep::degree_day_method::average})
                              : ep::clock::days(takes.amount)});
        }
        parts.crops.push_back(grown);
        ep::rule aim = ep::by_rule{day_at(one.asked)};
        if (one.target == 1) { aim = ep::from_rule{day_at(one.asked)}; }
        ep::succession batch_of{.name = name,
                                .crop = name,
                                .amount = {.value = 1.0},
                                .target = {event_names[one.target], aim}};
        if (one.pot_on_not_before > 0) {
            batch_of.not_before = {{"pot_on", ep::from_rule{day_at(one.pot_on_not_before)}}};
        }
        if (one.pot_on_not_after < beyond) {
            batch_of.not_after = {{"pot_on", ep::by_rule{day_at(one.pot_on_not_after)}}};
        }
        parts.successions.push_back(batch_of);
    }
    for (waiting const& one : what.links) {
        parts.links.push_back(
            {.first = {.succession = std::string(1, static_cast<char>('a' + one.first)),
                       .event = event_names[one.first_event]},
             .then = {.succession = std::string(1, static_cast<char>('a' + one.then)),
                      .event = event_names[one.then_event]},
             .after = ep::clock::days(one.after)});
    }
    // One record that holds a window of every year; the days between have no use.
    int const first_year = 2000;
    ep::day const start = ep::make_day(first_year, 1, 1);
    int const length =
        static_cast<int>((ep::make_day(first_year + what.years, 1, 1) - start).count());
    std::vector<double> air(static_cast<std::size_t>(length), 0.0);
    for (int y = 0; y < what.years; ++y) {
        int const offset = static_cast<int>((ep::make_day(first_year + y, 3, 1) - start).count());
        for (int d = 0; d < season_days; ++d) {
            air[static_cast<std::size_t>(offset + d)] =
                what.mean[static_cast<std::size_t>(y)][static_cast<std::size_t>(d)];
        }
    }
    ep::climate const under{ep::daily_record{start, air, air},
                            ep::latitude{50.0},
                            {.season_start = date::March / 1, .season_days = season_days}};
    return ep::schedule(ep::plan{parts}, under);
}

/// Everything by loops over days and years.
class reckoner {
public:
    explicit reckoner(farm const& what) : farm_{what} {
        for (int i = 0; i < batches; ++i) {
            for (int y = 0; y < what.years; ++y) {
                for (int j = 0; j < stages; ++j) {
                    for (int s = 0; s <= season_days; ++s) {
                        ready_[i][y][j][s] = count_days(what.all[static_cast<std::size_t>(i)]
                                                            .takes[static_cast<std::size_t>(j)],
                                                        what.mean[static_cast<std::size_t>(y)], s);
                    }
                }
            }
        }
    }

    /// Days of every event when sown on `sowing`, decisions aimed at waiting for `aim`.
    void walk(std::array<int, batches> const& sowing, std::array<int, batches> const& aim) {
        for (int i = 0; i < batches; ++i) {
            walk_one(i, sowing[static_cast<std::size_t>(i)], aim[static_cast<std::size_t>(i)]);
        }
    }

    void walk_one(int i, int sowing, int aim) {
        batch const& one = farm_.all[static_cast<std::size_t>(i)];
        for (int y = 0; y < farm_.years; ++y) {
            int at = sowing;
            for (int e = 0; e <= stages; ++e) {
                at = std::max(at, link_day(i, e, y));
                if (e == 1) { at = std::max(at, one.pot_on_not_before); }
                if (e == 1 && one.target == 1) { at = std::max(at, aim); }
                if (at > season_days) { at = beyond; }
                day_[i][y][e] = at;
                if (e < stages) { at = at == beyond ? beyond : ready_[i][y][e][at]; }
            }
        }
    }

    int link_day(int i, int event, int y) const {
        int latest = 0;
        for (waiting const& one : farm_.links) {
            if (one.then != i || one.then_event != event) { continue; }
            int const came = day_[one.first][y][one.first_event];
            int const day =
                came == beyond || came + one.after > season_days ? beyond : came + one.after;
            latest = std::max(latest, day);
        }
        return latest;
    }

    int kth(int i, int event, int k) const {
        std::vector<int> days;
        for (int y = 0; y < farm_.years; ++y) { days.push_back(day_[i][y][event]); }
        std::sort(days.begin(), days.end());
        return days[static_cast<std::size_t>(k - 1)];
    }

    int good(int i, int aim) const {
        batch const& one = farm_.all[static_cast<std::size_t>(i)];
        int count = 0;
        for (int y = 0; y < farm_.years; ++y) {
            count += day_[i][y][one.target] <= aim && day_[i][y][1] <= one.pot_on_not_after;
        }
        return count;
    }

    int link_days_kept(int i, int sowing) const {
        int count = 0;
        for (int y = 0; y < farm_.years; ++y) { count += link_day(i, 0, y) <= sowing; }
        return count;
    }

private:
    static int count_days(stage_wait const& takes, std::vector<double> const& mean, int start) {
        double sum = 0.0;
        for (int d = start; d <= season_days; ++d) {
            if (sum >= takes.amount) { return d; }
            if (d == season_days) { break; }
            sum +=
                takes.is_heat ? std::max(0.0, mean[static_cast<std::size_t>(d)] - takes.base) : 1.0;
        }
        return beyond;
    }

    farm const& farm_;
    int ready_[batches][6][stages][season_days + 1];
    int day_[batches][6][stages + 1];
};

/// The day of each target: fixed for outcomes; for decisions the latest of the day asked, the bound
/// and the need-th smallest day when all is as early as allowed. -1 from the first batch that
/// cannot be done on.
std::array<int, batches> aims_of(farm const& what, reckoner& by_hand,
                                 std::array<char, batches>& feasible) {
    std::array<int, batches> aims{};
    int const need = what.need();
    for (int i = 0; i < batches; ++i) {
        std::size_t const k = static_cast<std::size_t>(i);
        batch const& one = what.all[k];
        feasible[k] = 1;
        for (waiting const& l : what.links) {
            if (l.then == i && !feasible[static_cast<std::size_t>(l.first)]) { feasible[k] = 0; }
        }
        if (!feasible[k]) { continue; }
        int sowing = 0;
        while (sowing <= season_days && by_hand.link_days_kept(i, sowing) < need) { ++sowing; }
        if (sowing > season_days) {
            feasible[k] = 0;
            continue;
        }
        by_hand.walk_one(i, sowing, 0);
        aims[k] = one.asked;
        if (one.target == 1) {
            aims[k] = std::max({one.asked, one.pot_on_not_before, by_hand.kth(i, 1, need)});
        }
        by_hand.walk_one(i, sowing, one.target == 1 ? aims[k] : 0);
        if (aims[k] >= beyond || by_hand.good(i, aims[k]) < need) { feasible[k] = 0; }
    }
    return aims;
}

}  // namespace

TEST_CASE(
    "linked schedule finds every plan there is, claims nothing false, and none can be improved") {
    std::mt19937_64 random{20270104};
    int resolved_all = 0;
    int resolved_some = 0;
    int restrained = 0;
    for (int trial = 0; trial < 500; ++trial) {
        farm const what = random_farm(random);
        ep::calendar const planned = schedule_of(what);
        reckoner by_hand{what};
        int const need = what.need();
        std::array<char, batches> feasible{};
        std::array<int, batches> const aims = aims_of(what, by_hand, feasible);
        INFO("trial " << trial << ", need " << need << " of " << what.years);

        std::array<int, batches> sowing{};
        std::array<char, batches> resolved{};
        int count = 0;
        for (int i = 0; i < batches; ++i) {
            std::size_t const k = static_cast<std::size_t>(i);
            auto const day = planned.date(i, 0);
            resolved[k] = day.has_value();
            count += resolved[k];
            sowing[k] = day ? static_cast<int>((*day - day_at(0)).count()) : 0;
            // Truly unresolved: it fails where everything it waits for is as early as can be.
            REQUIRE((resolved[k] != 0) == (feasible[k] != 0));
        }
        resolved_all += count == batches;
        resolved_some += count > 0 && count < batches;

        auto const holds = [&](std::array<int, batches> const& days) {
            for (int i = 0; i < batches; ++i) {
                std::size_t const k = static_cast<std::size_t>(i);
                if (!resolved[k]) { continue; }
                by_hand.walk_one(i, days[k], aims[k]);
                if (by_hand.good(i, aims[k]) < need) { return false; }
                if (by_hand.link_days_kept(i, days[k]) < need) { return false; }
            }
            return true;
        };

        // No false claim, and the counts printed are the counts.
        REQUIRE(holds(sowing));
        for (int i = 0; i < batches; ++i) {
            std::size_t const k = static_cast<std::size_t>(i);
            if (!resolved[k]) { continue; }
            auto const claim = planned.claim(std::string(1, static_cast<char>('a' + i)));
            REQUIRE(claim->good == by_hand.good(i, aims[k]));
            REQUIRE(claim->link_days_kept == by_hand.link_days_kept(i, sowing[k]));
        }

        // None improvable: no sowing can be any later, the rest where they are.
        for (int i = 0; i < batches; ++i) {
            std::size_t const k = static_cast<std::size_t>(i);
            if (!resolved[k]) { continue; }
            for (int later = sowing[k] + 1; later <= season_days; ++later) {
                std::array<int, batches> moved = sowing;
                moved[k] = later;
                INFO("batch " << i << " sown on " << sowing[k] << ", tried " << later);
                REQUIRE_FALSE(holds(moved));
            }
        }

        // Finds every feasible plan: where any combination keeps all claims, all are resolved, and
        // where the schedule gives one up, no combination helps it.
        std::array<int, batches> days{};
        for (int i = 0; i < batches; ++i) {
            std::size_t const k = static_cast<std::size_t>(i);
            if (resolved[k]) { continue; }
            bool upstream_resolved = true;
            for (waiting const& l : what.links) {
                if (l.then == i) {
                    upstream_resolved &= resolved[static_cast<std::size_t>(l.first)] != 0;
                }
            }
            if (!upstream_resolved) { continue; }
            bool helped = false;
            int const aim = what.all[k].target == 1
                                ? std::max(what.all[k].asked, what.all[k].pot_on_not_before)
                                : what.all[k].asked;
            for (days[0] = 0; days[0] <= (i > 0 ? season_days : 0); ++days[0]) {
                for (days[1] = 0; days[1] <= (i > 1 ? season_days : 0); ++days[1]) {
                    if (i > 0) { by_hand.walk_one(0, days[0], aims[0]); }
                    if (i > 1) { by_hand.walk_one(1, days[1], aims[1]); }
                    for (int s = 0; s <= season_days; ++s) {
                        if (by_hand.link_days_kept(i, s) < need) { continue; }
                        // A decision may wait as long as it likes: any day of its own will do.
                        by_hand.walk_one(i, s, 0);
                        int const day =
                            what.all[k].target == 1 ? std::max(aim, by_hand.kth(i, 1, need)) : aim;
                        by_hand.walk_one(i, s, what.all[k].target == 1 ? day : 0);
                        helped |= day <= season_days && by_hand.good(i, day) >= need;
                    }
                }
            }
            REQUIRE_FALSE(helped);
        }
        restrained += planned.claim("a") && !planned.claim("a")->broken.empty() &&
                      planned.claim("a")->broken != "a";
    }
    // The trials are not all of one kind.
    CHECK(resolved_all > 100);
    CHECK(resolved_some > 50);
    CHECK(restrained > 20);
}
