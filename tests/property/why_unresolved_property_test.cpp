// Why successions have no days, on random farms of several season years: the conflict is a proof,
// names nothing that can be left out, and every cure that is typed into the plan gives the
// succession its days, one day less of it not. What is asked is `schedule`, which knows no
// networks.
#include "catch.hpp"

#include <algorithm>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/windows/why_unresolved.hpp>

namespace ep = epicotyl;

namespace {

constexpr int season_days = 60;
constexpr int first_year = 2001;
constexpr int last_year = 2006;
char const* const stage_events[] = {"sow", "emerge", "transplant"};

ep::day in_2027(int offset) {
    return ep::make_day(2027, 3, 1) + ep::days{offset};
}

class farm_maker {
public:
    explicit farm_maker(unsigned seed) : random_{seed} {}

    int pick(int low, int high) { return std::uniform_int_distribution<int>{low, high}(random_); }

    ep::plan plan() {
        ep::plan_parts parts{.window = ep::season{in_2027(0), season_days},
                             .where = ep::latitude{50.0}};
        parts.risk = ep::risk_setting::off();
        parts.reliability = ep::reliability{0.5 + 0.1 * pick(0, 5)};
        parts.places = {{.name = "beds", .jobs = {ep::job::field}}};
        int const batches = pick(1, 3);
        for (int i = 0; i < batches; ++i) { add_batch(parts, i); }
        for (int i = 1; i < batches; ++i) {
            if (pick(0, 1) == 0) { continue; }
            char const* const events[] = {"sow", "emerge", "transplant", "clear"};
            parts.links.push_back(
                {.first = {.succession = name(pick(0, i - 1)), .event = events[pick(0, 3)]},
                 .then = {.succession = name(i), .event = events[2 * pick(0, 1)]},
                 .after = ep::clock::days(pick(0, 8))});
        }
        return ep::plan{parts};
    }

    /// A record long enough to begin seasons sooner, its daily means 0 to 9 °C.
    ep::daily_record record() {
        ep::day const start = ep::make_day(first_year - 1, 1, 1);
        int const length = static_cast<int>((ep::make_day(last_year + 1, 1, 1) - start).count());
        std::vector<double> mean;
        for (int d = 0; d < length; ++d) { mean.push_back(pick(0, 9)); }
        return ep::daily_record{start, mean, mean};
    }

private:
    static std::string name(int i) { return std::string(1, static_cast<char>('a' + i)); }

    void add_batch(ep::plan_parts& parts, int i) {
        ep::crop grown{.name = name(i)};
        for (char const* const begins : stage_events) {
            bool const is_heat = pick(0, 1) == 1;
            ep::clock const takes =
                is_heat
                    ? ep::clock::heat({.amount = ep::thermal_time::from_kelvin_days(pick(0, 80)),
                                       .base = ep::temperature::from_celsius(0.0),
                                       .method = ep::degree_day_method::average})
                    : ep::clock::days(pick(0, 18));
            grown.stages.push_back({.begins = begins, .where = {"field"}, .takes = takes});
        }
        parts.crops.push_back(grown);
        int const asked = pick(5, season_days - 5);
        ep::succession made{
            .name = name(i), .crop = name(i), .amount = {.value = 1.0}, .target = {}};
        switch (pick(0, 4)) {
            case 0:
                made.target = {"emerge", ep::by_rule{in_2027(asked)}};
                break;
            case 1:
                made.target = {"clear", ep::by_rule{in_2027(asked)}};
                break;
            case 2:
                made.target = {"clear", ep::on_rule{in_2027(asked)}};
                break;
            case 3:
                made.target = {"transplant", ep::on_rule{in_2027(asked)}};
                break;
            default:
                made.target = {"transplant", ep::from_rule{in_2027(asked)}};
        }
        if (pick(0, 2) == 0) {
            made.not_before = {{"transplant", ep::from_rule{in_2027(pick(1, 40))}}};
        }
        if (pick(0, 3) == 0) {
            made.not_after.push_back({"transplant", ep::by_rule{in_2027(pick(5, season_days))}});
        }
        if (pick(0, 4) == 0) {
            made.not_after.push_back({"sow", ep::by_rule{in_2027(pick(1, 20))}});
        }
        parts.successions.push_back(made);
    }

    std::mt19937 random_;
};

ep::climate climate_of(ep::daily_record const& record, ep::season const& window) {
    date::year_month_day const start{window.start()};
    int const sooner = int{start.year()} < 2027 ? 1 : 0;
    return ep::climate{
        record,
        ep::latitude{50.0},
        {.season_start = start.month() / start.day(),
         .season_days = window.length(),
         .years = ep::year_selection::between(first_year - sooner, last_year - sooner)}};
}

bool has_days(ep::calendar const& of, std::string const& succession) {
    return std::none_of(of.unresolved().begin(), of.unresolved().end(),
                        [&](ep::obstacle const& one) { return one.succession == succession; });
}

ep::succession& batch_of(ep::plan_parts& parts, std::string const& name) {
    return *std::find_if(parts.successions.begin(), parts.successions.end(),
                         [&](ep::succession const& one) { return one.name == name; });
}

ep::stage& stage_before(ep::plan_parts& parts, std::string const& name, std::string const& from) {
    auto const grown = std::find_if(parts.crops.begin(), parts.crops.end(),
                                    [&](ep::crop const& one) { return one.name == name; });
    return *std::find_if(grown->stages.begin(), grown->stages.end(),
                         [&](ep::stage const& one) { return one.begins == from; });
}

void move(ep::rule& one, int days) {
    if (auto* on = std::get_if<ep::on_rule>(&one)) { on->when += ep::days{days}; }
    if (auto* from = std::get_if<ep::from_rule>(&one)) { from->when += ep::days{days}; }
    if (auto* by = std::get_if<ep::by_rule>(&one)) { by->when += ep::days{days}; }
}

ep::rule& bound_of(std::vector<ep::event_bound>& bounds, std::string const& event) {
    return std::find_if(bounds.begin(), bounds.end(),
                        [&](ep::event_bound const& one) { return one.event == event; })
        ->rule;
}

ep::link& link_of(ep::plan_parts& parts, ep::requirement const& of) {
    return *std::find_if(parts.links.begin(), parts.links.end(), [&](ep::link const& one) {
        return one.first.succession == of.from_succession && one.first.event == of.from_event &&
               one.then.succession == of.succession && one.then.event == of.event;
    });
}

double days_of(ep::clock const& of) {
    auto const* wait = std::get_if<ep::calendar_wait>(&of.what());
    return wait == nullptr ? -1.0 : wait->days;
}

/// A plan with a requirement given way by some days, as a grower types it; none where it has no
/// number of days that could be typed, or none that lies in the season.
std::optional<ep::plan> typed(ep::plan const& of, ep::requirement const& what, int days) {
    ep::plan_parts parts = of.parts();
    using kind = ep::requirement_kind;
    switch (what.kind) {
        case kind::season_start:
            parts.window =
                ep::season{of.window().start() - ep::days{days}, of.window().length() + days};
            break;
        case kind::not_before:
            move(bound_of(batch_of(parts, what.succession).not_before, what.event), -days);
            break;
        case kind::not_after:
            move(bound_of(batch_of(parts, what.succession).not_after, what.event), days);
            break;
        case kind::target: {
            ep::rule& aim = batch_of(parts, what.succession).target.rule;
            // A decision from a day on waits for the day it is planned on, which is not asked for.
            if (what.is_upper && std::holds_alternative<ep::from_rule>(aim)) { return {}; }
            move(aim, what.is_upper ? days : -days);
            break;
        }
        case kind::stage: {
            ep::clock& takes = stage_before(parts, what.succession, what.from_event).takes;
            double const now = days_of(takes);
            if (now < 0.0) { return {}; }
            takes = ep::clock::days(std::max(0.0, now - days));
            break;
        }
        case kind::link: {
            ep::clock& after = link_of(parts, what).after;
            after = ep::clock::days(std::max(0.0, days_of(after) - days));
            break;
        }
        default:
            return {};
    }
    try {
        return ep::plan{parts};
    } catch (ep::invalid_input const&) { return {}; }
}

/// True for the last day of a decision from a day on: it is what most years allow, and in a year
/// alone another.
bool slips(ep::plan const& of, ep::requirement const& one) {
    return one.kind == ep::requirement_kind::target && one.is_upper &&
           std::holds_alternative<ep::from_rule>(
               of.successions()[static_cast<std::size_t>(of.succession_index(one.succession))]
                   .target_rule);
}

/// All but what is named taken out of a plan.
ep::plan with_only(ep::plan const& of, std::vector<ep::requirement> const& named) {
    using kind = ep::requirement_kind;
    auto const is_named = [&](kind what, std::string const& whose, std::string const& event,
                              bool is_upper = false, std::string const& from = "") {
        return std::any_of(named.begin(), named.end(), [&](ep::requirement const& one) {
            return one.kind == what && one.succession == whose && one.event == event &&
                   one.is_upper == is_upper && (from.empty() || one.from_event == from);
        });
    };
    ep::plan_parts parts = of.parts();
    for (ep::crop& grown : parts.crops) {
        for (std::size_t j = 0; j < grown.stages.size(); ++j) {
            std::string const next =
                j + 1 < grown.stages.size() ? grown.stages[j + 1].begins : "clear";
            if (!is_named(kind::stage, grown.name, next)) {
                grown.stages[j].takes = ep::clock::days(0.0);
            }
        }
    }
    for (ep::succession& one : parts.successions) {
        std::erase_if(one.not_before, [&](ep::event_bound const& bound) {
            return !is_named(kind::not_before, one.name, bound.event);
        });
        std::erase_if(one.not_after, [&](ep::event_bound const& bound) {
            return !is_named(kind::not_after, one.name, bound.event, true);
        });
        std::string const event = one.target.event;
        bool const no_sooner = is_named(kind::target, one.name, event);
        bool const no_later = is_named(kind::target, one.name, event, true);
        if (no_sooner && !no_later && !one.not_after.empty()) { continue; }
        if (event == "transplant" && !no_sooner && !no_later) {
            // On no day in particular: from the first of the season on.
            one.target.rule = ep::from_rule{in_2027(0)};
        } else if (event != "transplant" && !no_later) {
            one.target.rule = ep::by_rule{in_2027(season_days)};
        }
    }
    std::erase_if(parts.links, [&](ep::link const& one) {
        return !is_named(kind::link, one.then.succession, one.then.event, false, one.first.event);
    });
    return ep::plan{parts};
}

}  // namespace

TEST_CASE("why a succession has no days is a proof, and what cures it cures it when typed") {
    int told = 0;
    int proofs = 0;
    int cures = 0;
    int begun_sooner = 0;
    int with_planned = 0;
    int linked = 0;
    for (unsigned seed = 1; seed <= 1500; ++seed) {
        CAPTURE(seed);
        farm_maker make{seed};
        ep::plan const farm = make.plan();
        ep::daily_record const record = make.record();
        ep::climate const weather = climate_of(record, farm.window());
        ep::calendar const planned = ep::schedule(farm, weather);
        for (ep::resolved_succession const& one : farm.successions()) {
            auto const why = ep::why_unresolved(planned, one.name);
            auto const obstacle =
                std::find_if(planned.unresolved().begin(), planned.unresolved().end(),
                             [&](ep::obstacle const& had) { return had.succession == one.name; });
            if (obstacle == planned.unresolved().end()) {
                REQUIRE_FALSE(why);
                continue;
            }
            CAPTURE(one.name, obstacle->code, obstacle->sentence);
            REQUIRE(why.has_value());
            // Of what waits for another without days, that other's are told.
            if (obstacle->code == "link.unresolved") {
                REQUIRE(why->succession != one.name);
                REQUIRE(*why == *ep::why_unresolved(planned, why->succession));
                continue;
            }
            ++told;
            CAPTURE(why->sentence);
            REQUIRE(why->succession == one.name);
            REQUIRE(why->possible < why->needed);
            std::set<int> failed;
            for (ep::window_failure const& failure : why->failures) {
                failed.insert(failure.years.begin(), failure.years.end());
            }
            REQUIRE(static_cast<int>(failed.size()) == why->years - why->possible);
            REQUIRE(failed.contains(why->year));

            // Alone in its year, what is named makes it impossible, and nothing of it could go.
            std::vector<ep::requirement> named{why->proof.broken};
            for (ep::conflict_step const& step : why->proof.steps) {
                named.push_back(step.because);
            }
            linked += why->proof.successions.size() > 1 ? 1 : 0;
            bool const is_planned =
                std::any_of(named.begin(), named.end(), [&](ep::requirement const& had) {
                    return had.kind == ep::requirement_kind::planned || slips(farm, had);
                });
            with_planned += is_planned ? 1 : 0;
            ep::climate const that_year = weather.only({why->year});
            if (!is_planned) {
                ++proofs;
                ep::reliability const sure{1.0};
                REQUIRE_FALSE(
                    has_days(ep::schedule(with_only(farm, named), that_year, sure), one.name));
                // Beyond the season a target breaks the season's end as well, without any bound.
                bool const is_beyond = !why->proof.steps.back().when.has_value();
                for (std::size_t k = is_beyond ? 1 : 0; k < named.size(); ++k) {
                    std::vector<ep::requirement> rest = named;
                    // A stage of no days still has an order. Left out, it cuts the walk: what comes
                    // before it no longer pushes what comes after.
                    bool const cuts = named[k].kind == ep::requirement_kind::stage;
                    rest.erase(rest.begin() + (cuts ? 1 : static_cast<std::ptrdiff_t>(k)),
                               rest.begin() + static_cast<std::ptrdiff_t>(k) + 1);
                    if (named[k].kind == ep::requirement_kind::season_start ||
                        named[k].kind == ep::requirement_kind::season_end) {
                        continue;
                    }
                    CAPTURE(named[k].sentence);
                    REQUIRE(
                        has_days(ep::schedule(with_only(farm, rest), that_year, sure), one.name));
                }
            }
            for (ep::cure const& help : why->cures) {
                CAPTURE(help.sentence, help.days);
                auto const is_cured = [&](int days) -> std::optional<bool> {
                    auto const changed = typed(farm, help.what, days);
                    if (!changed) { return {}; }
                    return has_days(ep::schedule(*changed, climate_of(record, changed->window())),
                                    one.name);
                };
                auto const cured = is_cured(help.days);
                if (!cured) { continue; }
                ++cures;
                begun_sooner += help.what.kind == ep::requirement_kind::season_start ? 1 : 0;
                REQUIRE(*cured);
                if (help.days > 1) { REQUIRE(is_cured(help.days - 1) == false); }
            }
        }
    }
    CAPTURE(told, proofs, cures, begun_sooner, with_planned, linked);
    CHECK(told > 400);
    CHECK(proofs > 300);
    CHECK(cures > 400);
    CHECK(begun_sooner > 100);
    CHECK(linked > 50);
}
