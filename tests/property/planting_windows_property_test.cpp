// Planting windows of one season year, against an independent solver: plain loops over events and
// days, with no network, no adjoints and no order, on random farms with holds, bounds, links and
// cycles of links.
#include "catch.hpp"

#include <algorithm>
#include <functional>
#include <random>
#include <set>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/windows/planting_windows.hpp>

namespace ep = epicotyl;

namespace {

constexpr int season_days = 24;
constexpr int beyond = 1000;  // later than every day
constexpr int event_total = 4;
char const* const event_names[] = {"sow", "emerge", "transplant", "clear"};
bool const is_outcome[] = {false, true, false, true};

struct stage_wait {
    bool is_heat = false;
    int amount = 0;
    int hold = beyond;  // only before transplant
};

struct batch {
    std::vector<stage_wait> takes;
    int asked = 0;
    int target = 2;  // event: 1 emerge (by), 2 transplant (from or on)
    bool exact = false;
    int not_before = 0;      // of transplant
    int not_after = beyond;  // of transplant
    int clear_by = beyond;
};

struct waiting {
    int first, first_event, then, then_event, after, within;
};

struct farm {
    std::vector<int> mean;  // one season year
    std::vector<batch> all;
    std::vector<waiting> links;
};

std::string name_of(int i) {
    return std::string(1, static_cast<char>('a' + i));
}

farm random_farm(std::mt19937_64& random) {
    auto const pick = [&](int low, int high) {
        return std::uniform_int_distribution<int>{low, high}(random);
    };
    farm made;
    for (int d = 0; d < season_days; ++d) { made.mean.push_back(pick(0, 9)); }
    int const batches = pick(1, 4);
    for (int i = 0; i < batches; ++i) {
        batch one;
        for (int j = 0; j < event_total - 1; ++j) {
            stage_wait takes;
            takes.is_heat = pick(0, 1) == 1;
            takes.amount = takes.is_heat ? pick(0, 30) : pick(0, 6);
            if (j == 1 && pick(0, 1) == 1) { takes.hold = pick(0, 6); }
            one.takes.push_back(takes);
        }
        one.target = pick(1, 2);
        one.asked = pick(2, season_days - 3);
        one.exact = pick(0, 1) == 1;
        if (pick(0, 2) == 0) { one.not_before = pick(1, 14); }
        if (pick(0, 3) == 0) { one.not_after = pick(5, season_days); }
        if (pick(0, 3) == 0) { one.clear_by = pick(10, season_days); }
        made.all.push_back(one);
    }
    int const links = batches < 2 ? 0 : pick(0, 4);
    for (int k = 0; k < links; ++k) {
        int const first = pick(0, batches - 1);
        int const then = (first + pick(1, batches - 1)) % batches;
        int const after = pick(0, 6);
        made.links.push_back({first, pick(0, 3), then, 2 * pick(0, 1), after,
                              pick(0, 2) == 0 ? std::max(1, after + pick(0, 5)) : beyond});
    }
    return made;
}

ep::day day_at(int offset) {
    return ep::make_day(2027, 3, 1) + ep::days{offset};
}

ep::plan plan_of(farm const& what) {
    ep::plan_parts parts{.window = ep::season{day_at(0), season_days}, .where = ep::latitude{50.0}};
    parts.risk = ep::risk_setting::off();
    parts.places = {{.name = "beds", .jobs = {ep::job::field}}};
    for (int i = 0; i < static_cast<int>(what.all.size()); ++i) {
        batch const& one = what.all[static_cast<std::size_t>(i)];
        ep::crop grown{.name = name_of(i)};
        for (int j = 0; j < event_total - 1; ++j) {
            stage_wait const& takes = one.takes[static_cast<std::size_t>(j)];
            ep::stage stage{
                .begins = event_names[j],
                .where = {"field"},
                .takes = takes.is_heat
                             ? ep::clock::heat(
                                   {.amount = ep::thermal_time::from_kelvin_days(takes.amount),
                                    .base = ep::temperature::from_celsius(0.0),
                                    .method = ep::degree_day_method::average})
                             : ep::clock::days(takes.amount)};
            if (takes.hold < beyond) { stage.hold = takes.hold; }
            grown.stages.push_back(stage);
        }
        parts.crops.push_back(grown);
        ep::rule aim = ep::by_rule{day_at(one.asked)};
        if (one.target == 2 && one.exact) { aim = ep::on_rule{day_at(one.asked)}; }
        if (one.target == 2 && !one.exact) { aim = ep::from_rule{day_at(one.asked)}; }
        ep::succession made{.name = name_of(i),
                            .crop = name_of(i),
                            .amount = {.value = 1.0},
                            .target = {event_names[one.target], aim}};
        if (one.not_before > 0) {
            made.not_before = {{"transplant", ep::from_rule{day_at(one.not_before)}}};
        }
        if (one.not_after < beyond) {
            made.not_after.push_back({"transplant", ep::by_rule{day_at(one.not_after)}});
        }
        if (one.clear_by < beyond) {
            made.not_after.push_back({"clear", ep::by_rule{day_at(one.clear_by)}});
        }
        parts.successions.push_back(made);
    }
    for (waiting const& one : what.links) {
        ep::link made{
            .first = {.succession = name_of(one.first), .event = event_names[one.first_event]},
            .then = {.succession = name_of(one.then), .event = event_names[one.then_event]},
            .after = ep::clock::days(one.after)};
        if (one.within < beyond) { made.within = one.within; }
        parts.links.push_back(made);
    }
    return ep::plan{parts};
}

ep::climate climate_of(farm const& what) {
    ep::day const start = ep::make_day(2001, 3, 1);
    std::vector<double> const air(what.mean.begin(), what.mean.end());
    return ep::climate{ep::daily_record{start, air, air},
                       ep::latitude{50.0},
                       {.season_start = date::March / 1, .season_days = season_days}};
}

/// Which requirement of a plan: the words that the library uses for it.
using identity =
    std::tuple<ep::requirement_kind, std::string, std::string, std::string, std::string, bool>;

identity identity_of(ep::requirement const& one) {
    return {one.kind, one.succession, one.event, one.from_succession, one.from_event, one.is_upper};
}

/// Inequalities over events numbered succession * 4 + event, and what solves them.
class reckoner {
public:
    /// Of a farm; `keep` says which requirements count, `gives` by how many days one gives way.
    reckoner(farm const& what, ep::calendar const& planned,
             std::function<bool(identity const&)> keep = {}, std::pair<identity, int> gives = {})
        : farm_{what}, keep_{std::move(keep)}, gives_{std::move(gives)} {
        int const count = static_cast<int>(what.all.size()) * event_total;
        low_.assign(at(count), 0);
        high_.assign(at(count), beyond);
        for (int i = 0; i < static_cast<int>(what.all.size()); ++i) { add(i, planned); }
        for (waiting const& one : what.links) {
            int const from = number(one.first, one.first_event);
            int const to = number(one.then, one.then_event);
            no_sooner(ep::requirement_kind::link, from, to,
                      [=](int x, int gives) { return later(x, std::max(0, one.after - gives)); });
            if (one.within < beyond) {
                no_later(ep::requirement_kind::within, from, to,
                         [=](int x, int gives) { return later(x, one.within + gives); });
            }
        }
    }

    static int number(int i, int event) { return i * event_total + event; }

    /// Least days; empty where there are none. With `fixed` the day of one event is given.
    std::vector<int> least(int fixed = -1, int on = 0) const {
        std::vector<int> x = low_;
        std::vector<int> high = high_;
        if (fixed >= 0) {
            x[at(fixed)] = std::max(x[at(fixed)], on);
            high[at(fixed)] = std::min(high[at(fixed)], on);
        }
        for (bool moved = true; moved;) {
            moved = false;
            for (rule const& one : rules_) {
                // Both kinds push to later days: what "no later" counts from must not lie behind.
                int const pushed =
                    one.is_lower ? one.map(x[at(one.from)]) : first_with(one, x[at(one.to)]);
                int& target = x[at(one.is_lower ? one.to : one.from)];
                if (pushed > target) {
                    target = pushed;
                    moved = true;
                }
            }
            for (std::size_t v = 0; v < x.size(); ++v) {
                if (x[v] > high[v]) { return {}; }
            }
        }
        return x;
    }

    /// Greatest days; only for what has a solution.
    std::vector<int> greatest() const {
        std::vector<int> x = high_;
        for (bool moved = true; moved;) {
            moved = false;
            for (rule const& one : rules_) {
                int const pushed =
                    one.is_lower ? last_with(one, x[at(one.to)]) : one.map(x[at(one.from)]);
                int& target = x[at(one.is_lower ? one.from : one.to)];
                if (pushed < target) {
                    target = pushed;
                    moved = true;
                }
            }
        }
        return x;
    }

    bool is_solution(std::vector<int> const& x) const {
        for (std::size_t v = 0; v < x.size(); ++v) {
            if (x[v] < low_[v] || x[v] > high_[v]) { return false; }
        }
        return std::all_of(rules_.begin(), rules_.end(), [&](rule const& one) {
            int const image = one.map(x[at(one.from)]);
            return one.is_lower ? x[at(one.to)] >= image : x[at(one.to)] <= image;
        });
    }

private:
    struct rule {
        int from, to;
        bool is_lower;
        std::function<int(int)> map;
    };
    using giving_map = std::function<int(int, int)>;

    static std::size_t at(int i) { return static_cast<std::size_t>(i); }
    static int later(int x, int days) { return x + days > season_days ? beyond : x + days; }

    int ready(stage_wait const& takes, int start) const {
        if (start > season_days) { return beyond; }
        int sum = 0;
        for (int e = start; e <= season_days; ++e) {
            if (sum >= takes.amount) { return e; }
            if (e == season_days) { break; }
            sum += takes.is_heat ? farm_.mean[at(e)] : 1;
        }
        return beyond;
    }

    static std::string event(int v) { return event_names[v % event_total]; }

    /// True when a requirement counts; `days` become those by which it gives way.
    bool counts(identity const& one, int& days) const {
        if (keep_ && !keep_(one)) { return false; }
        days = gives_.second > 0 && gives_.first == one ? gives_.second : 0;
        return true;
    }
    void edge(ep::requirement_kind kind, int from, int to, bool is_upper, giving_map const& map) {
        identity const one{kind,        name_of(to / event_total),
                           event(to),   name_of(from / event_total),
                           event(from), is_upper};
        int days = 0;
        if (!counts(one, days)) { return; }
        rules_.push_back({from, to, !is_upper, [=](int x) {
                              return map(x, days);
                          }});
    }
    void no_sooner(ep::requirement_kind kind, int from, int to, giving_map const& map) {
        edge(kind, from, to, false, map);
    }
    void no_later(ep::requirement_kind kind, int from, int to, giving_map const& map) {
        edge(kind, from, to, true, map);
    }
    void not_before(ep::requirement_kind kind, int v, int day) {
        int days = 0;
        if (!counts({kind, name_of(v / event_total), event(v), "", "", false}, days)) { return; }
        low_[at(v)] = std::max(low_[at(v)], day - days);
    }
    void not_after(ep::requirement_kind kind, int v, int day) {
        int days = 0;
        if (!counts({kind, name_of(v / event_total), event(v), "", "", true}, days)) { return; }
        high_[at(v)] = std::min(high_[at(v)], day + days > season_days ? beyond : day + days);
    }

    void add(int i, ep::calendar const& planned) {
        batch const& one = farm_.all[at(i)];
        using kind = ep::requirement_kind;
        for (int j = 0; j < event_total - 1; ++j) {
            stage_wait const takes = one.takes[at(j)];
            int const from = number(i, j);
            int const to = number(i, j + 1);
            no_sooner(kind::stage, from, to, [=, this](int x, int gives) {
                int const end = ready(takes, x);
                return end > season_days ? beyond : std::max(x, end - gives);
            });
            if (is_outcome[j + 1]) {
                no_later(kind::stage, from, to, [=, this](int x, int) { return ready(takes, x); });
            } else if (takes.hold < beyond) {
                no_later(kind::hold, from, to, [=, this](int x, int gives) {
                    return later(ready(takes, x), takes.hold + gives);
                });
            }
        }
        int const transplant = number(i, 2);
        if (one.not_before > 0) { not_before(kind::not_before, transplant, one.not_before); }
        if (one.not_after < beyond) { not_after(kind::not_after, transplant, one.not_after); }
        if (one.clear_by < beyond) { not_after(kind::not_after, number(i, 3), one.clear_by); }
        if (one.target == 1) {
            not_after(kind::target, number(i, 1), one.asked);
            return;
        }
        // The calendar's day, or, where it has none, the day asked for or the bound.
        int day = one.exact ? one.asked : std::max(one.asked, one.not_before);
        if (auto const found = planned.date(name_of(i), "transplant")) {
            day = static_cast<int>((*found - day_at(0)).count());
        }
        not_before(kind::target, transplant, day);
        if (one.not_after >= beyond) { not_after(kind::target, transplant, day); }
    }

    /// First x whose image is not before `image`; `beyond` when only "never" is.
    static int first_with(rule const& one, int image) {
        for (int x = 0; x <= season_days; ++x) {
            if (one.map(x) >= image) { return x; }
        }
        return beyond;
    }
    /// Last x whose image is not after `image`; -1 when there is none.
    static int last_with(rule const& one, int image) {
        if (one.map(beyond) <= image) { return beyond; }
        for (int x = season_days; x >= 0; --x) {
            if (one.map(x) <= image) { return x; }
        }
        return -1;
    }

    farm const& farm_;
    std::function<bool(identity const&)> keep_;
    std::pair<identity, int> gives_;
    std::vector<int> low_;
    std::vector<int> high_;
    std::vector<rule> rules_;
};

/// For each succession, the first of those that it is linked with.
std::vector<int> groups_of(farm const& what) {
    std::vector<int> group;
    for (int i = 0; i < static_cast<int>(what.all.size()); ++i) { group.push_back(i); }
    for (std::size_t round = 0; round < what.all.size(); ++round) {
        for (waiting const& one : what.links) {
            int& a = group[static_cast<std::size_t>(one.first)];
            int& b = group[static_cast<std::size_t>(one.then)];
            a = b = std::min(a, b);
        }
    }
    return group;
}

int seen_as(std::optional<ep::day> const& when) {
    return when ? static_cast<int>((*when - day_at(0)).count()) : beyond;
}

}  // namespace

TEST_CASE("windows are the least and the greatest solution of 20,000 random farms") {
    std::mt19937_64 random{20270301};
    int feasible = 0;
    int impossible = 0;
    int with_cycle = 0;
    int lattices = 0;
    for (int trial = 0; trial < 20000; ++trial) {
        CAPTURE(trial);
        farm const what = random_farm(random);
        ep::calendar const planned = ep::schedule(plan_of(what), climate_of(what));
        ep::planting_windows const windows{planned, 2001};
        reckoner const reckoned{what, planned};
        REQUIRE(windows.left_out().empty());
        bool const cycle =
            std::any_of(planned.unresolved().begin(), planned.unresolved().end(),
                        [](ep::obstacle const& one) { return one.code == "links.cycle"; });

        std::vector<int> const least = reckoned.least();
        REQUIRE(windows.feasible() == !least.empty());
        if (least.empty()) {
            ++impossible;
            continue;
        }
        ++feasible;
        with_cycle += cycle;
        std::vector<int> const greatest = reckoned.greatest();
        REQUIRE(reckoned.is_solution(least));
        REQUIRE(reckoned.is_solution(greatest));
        for (int i = 0; i < static_cast<int>(what.all.size()); ++i) {
            for (int e = 0; e < event_total; ++e) {
                std::size_t const v = static_cast<std::size_t>(reckoner::number(i, e));
                REQUIRE(seen_as(windows.earliest(name_of(i), event_names[e])) == least[v]);
                int const latest = seen_as(windows.latest(name_of(i), event_names[e]));
                // An event that is never reached has no days at all.
                REQUIRE(latest == (least[v] > season_days ? beyond : greatest[v]));
            }
        }
        // Solutions other than the two ends: one event held somewhere in its window.
        std::vector<std::vector<int>> some;
        for (int k = 0; k < 4; ++k) {
            int const v =
                std::uniform_int_distribution<int>{0, static_cast<int>(least.size()) - 1}(random);
            int const low = least[static_cast<std::size_t>(v)];
            int const high = std::min(greatest[static_cast<std::size_t>(v)], season_days);
            if (low > high) { continue; }
            std::vector<int> found =
                reckoned.least(v, std::uniform_int_distribution<int>{low, high}(random));
            if (!found.empty()) { some.push_back(std::move(found)); }
        }
        for (std::vector<int> const& a : some) {
            for (std::vector<int> const& b : some) {
                std::vector<int> sooner = a;
                std::vector<int> later = a;
                for (std::size_t v = 0; v < a.size(); ++v) {
                    sooner[v] = std::min(a[v], b[v]);
                    later[v] = std::max(a[v], b[v]);
                }
                REQUIRE(reckoned.is_solution(sooner));
                REQUIRE(reckoned.is_solution(later));
                lattices += a != b;
            }
        }
    }
    // The farms are a fair mix.
    CHECK(feasible > 5000);
    CHECK(impossible > 5000);
    CHECK(with_cycle > 50);
    CHECK(lattices > 1000);
}

TEST_CASE(
    "a conflict of windows is a proof, names nothing that can be left out, and can be cured") {
    std::mt19937_64 random{1912};
    int conflicts = 0;
    int cured = 0;
    int with_hold = 0;
    int with_several_turns = 0;
    for (int trial = 0; conflicts < 3000; ++trial) {
        CAPTURE(trial);
        farm const what = random_farm(random);
        ep::calendar const planned = ep::schedule(plan_of(what), climate_of(what));
        ep::planting_windows const windows{planned, 2001};
        std::vector<int> const groups = groups_of(what);
        for (ep::season_conflict const& one : windows.conflicts()) {
            ++conflicts;
            CAPTURE(one.sentence);
            std::set<identity> named{identity_of(one.broken)};
            for (ep::conflict_step const& step : one.steps) {
                named.insert(identity_of(step.because));
                with_hold += step.because.kind == ep::requirement_kind::hold;
                with_several_turns += step.turns > 1;
            }
            auto const keep = [&](identity const& of) {
                return named.contains(of);
            };
            REQUIRE(reckoner(what, planned, keep).least().empty());
            for (identity const& left_out : named) {
                auto const rest = [&](identity const& of) {
                    return keep(of) && of != left_out;
                };
                if (std::get<0>(left_out) == ep::requirement_kind::season_start) { continue; }
                CAPTURE(std::get<1>(left_out), std::get<2>(left_out));
                REQUIRE_FALSE(reckoner(what, planned, rest).least().empty());
            }
            // Cures are of the whole group, which may have more conflicts than the one told.
            int const member = one.successions.front().front() - 'a';
            auto const in_group = [&](identity const& of) {
                int const i = std::get<1>(of).front() - 'a';
                return groups[static_cast<std::size_t>(i)] ==
                       groups[static_cast<std::size_t>(member)];
            };
            for (ep::cure const& help : windows.cures(one)) {
                if (help.what.kind == ep::requirement_kind::season_start) { continue; }
                CAPTURE(help.sentence, help.days);
                identity const of = identity_of(help.what);
                REQUIRE(named.contains(of));
                REQUIRE_FALSE(reckoner(what, planned, in_group, {of, help.days}).least().empty());
                if (help.days > 1) {
                    REQUIRE(reckoner(what, planned, in_group, {of, help.days - 1}).least().empty());
                }
                ++cured;
            }
        }
    }
    CHECK(cured > 1500);
    CHECK(with_hold > 100);
    CHECK(with_several_turns > 0);
}

TEST_CASE(
    "a cure that sows before the season starts cures when it is typed, and no day less does") {
    constexpr int days_before = 50;  // of weather, from 10 January
    std::mt19937_64 random{20270110};
    auto const pick = [&](int low, int high) {
        return std::uniform_int_distribution<int>{low, high}(random);
    };
    int begun_sooner = 0;
    int more_than_a_day = 0;
    for (int trial = 0; begun_sooner < 300; ++trial) {
        CAPTURE(trial);
        farm const what = random_farm(random);
        std::vector<double> air;
        for (int d = 0; d < days_before; ++d) { air.push_back(pick(0, 9)); }
        air.insert(air.end(), what.mean.begin(), what.mean.end());
        ep::daily_record const record{ep::make_day(2001, 3, 1) - ep::days{days_before}, air, air};
        ep::plan const farm_plan = plan_of(what);
        // The plan and its climate with a season that begins so many days sooner.
        auto const windows_of = [&](int days_sooner) {
            ep::season const window{day_at(0) - ep::days{days_sooner}, season_days + days_sooner};
            date::year_month_day const start{window.start()};
            return ep::planting_windows{ep::with_season(farm_plan, window),
                                        ep::climate{record,
                                                    ep::latitude{50.0},
                                                    {.season_start = start.month() / start.day(),
                                                     .season_days = window.length()}},
                                        2001};
        };
        ep::planting_windows const windows = windows_of(0);
        std::vector<int> const groups = groups_of(what);
        for (ep::season_conflict const& one : windows.conflicts()) {
            int const member = one.successions.front().front() - 'a';
            auto const is_cured = [&](int days_sooner) {
                ep::planting_windows const longer = windows_of(days_sooner);
                for (int i = 0; i < static_cast<int>(groups.size()); ++i) {
                    bool const is_in = groups[static_cast<std::size_t>(i)] ==
                                       groups[static_cast<std::size_t>(member)];
                    if (is_in && !longer.feasible(name_of(i))) { return false; }
                }
                return true;
            };
            for (ep::cure const& help : windows.cures(one)) {
                if (help.what.kind != ep::requirement_kind::season_start) { continue; }
                ++begun_sooner;
                CAPTURE(one.sentence, help.sentence);
                REQUIRE(help.sentence ==
                        "sow before the season starts: give season_start = " +
                            ep::to_iso(day_at(0) - ep::days{help.days}) +
                            " and season_days = " + std::to_string(season_days + help.days));
                REQUIRE(is_cured(help.days));
                if (help.days == 1) { continue; }
                ++more_than_a_day;
                REQUIRE_FALSE(is_cured(help.days - 1));
            }
        }
    }
    CHECK(more_than_a_day > 150);
}
