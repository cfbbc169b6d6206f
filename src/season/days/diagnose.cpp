#include "diagnose.hpp"

#include <algorithm>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../rows/rule_days.hpp"
#include "../rows/say.hpp"
#include "harvest_cover.hpp"

namespace epicotyl::detail {

namespace {

std::string event_text(season_model const& model, int succession, int event) {
    return say_event(event_name(*model.planned.successions()[at(succession)].grown, event));
}

std::string const& name_of(season_model const& model, int succession) {
    return model.planned.successions()[at(succession)].name;
}

}  // namespace

obstacle never_ready(season_model const& model, path_walker const& walker, days_table const& days,
                     succession_days const& known, int succession) {
    resolved_succession const& one = model.planned.successions()[at(succession)];
    int const target = one.target_event;
    // The event that is missed most is the first one that too few years reach.
    int missed = target;
    int reached = 0;
    for (int e = target; e >= 0; --e) {
        auto const row = days.row_days(succession, e);
        int const count = static_cast<int>(
            std::count_if(row.begin(), row.end(), [](int d) { return d < never; }));
        if (e == target) { reached = count; }
        if (count < known.need) { missed = e; }
    }
    std::string why;
    for (incoming_link const& in : walker.incoming(succession)) {
        if (in.event == missed) { why = " (it waits for a link)"; }
    }
    return {
        .succession = one.name,
        .code = "target.never_ready",
        .sentence = fmt::format(
            "{} is reached within the season {}, even when all is as early as allowed; "
            "{} are wanted{}{}",
            event_text(model, succession, target), say_in_only(reached, model.years), known.need,
            missed == target
                ? ""
                : fmt::format("; {} is missed already", event_text(model, succession, missed)),
            why),
        .cure = fmt::format("give the stage before {} a warmer place or a smaller amount",
                            event_text(model, succession, missed))};
}

obstacle after_season(season_model const& model, succession_days const& known, int succession) {
    resolved_succession const& one = model.planned.successions()[at(succession)];
    return {.succession = one.name,
            .code = "target.after_season",
            .sentence =
                fmt::format("{} is wanted on {} ({}), when the season of {} days is over",
                            event_text(model, succession, one.target_event),
                            to_day_month_year(model.planned.window().start() + days{known.asked},
                                              model.planned.parts().units),
                            why_asked(model, succession).sentence, model.season_days),
            .cure = "aim for an earlier day"};
}

obstacle links_never(season_model const& model, path_walker const& walker, days_table const& days,
                     succession_days const& known, int succession) {
    int allowed = 0;
    for (int y = 0; y < model.years; ++y) {
        allowed += walker.link_day(days, succession, 0, y) < never ? 1 : 0;
    }
    return {.succession = name_of(model, succession),
            .code = "link.never",
            .sentence = fmt::format("its links let it be sown {}; {} are wanted",
                                    say_in_only(allowed, model.years), known.need),
            .cure = "loosen the link, or bring forward what it waits for"};
}

obstacle too_few_good(season_model const& model, path_walker const& walker, days_table const& days,
                      succession_days const& known, int succession, int sowing) {
    resolved_succession const& one = model.planned.successions()[at(succession)];
    plan const& planned = model.planned;
    int const target = one.target_event;
    std::string const event = event_text(model, succession, target);

    event_bounds const& on_target = known.bounds()[at(target)];
    if (on_target.not_before > known.target_day && !on_target.lower.empty()) {
        return {.succession = one.name,
                .code = "bound.after_target",
                .sentence = fmt::format("{} is wanted on {}, but can be no earlier than {}: {}",
                                        event, say_day(planned, known.target_day),
                                        say_day(planned, on_target.not_before),
                                        on_target.lower.front().why.sentence)};
    }

    auto const row = days.row_days(succession, target);
    int const in_time = static_cast<int>(
        std::count_if(row.begin(), row.end(), [&](int d) { return d <= known.target_day; }));
    if (in_time < known.need) {
        return {.succession = one.name,
                .code = "target.too_early",
                .sentence = fmt::format("{} by {} is met {}, even sown on {}; {} are wanted", event,
                                        say_day(planned, known.target_day),
                                        say_in_only(in_time, model.years), say_day(planned, sowing),
                                        known.need)};
    }

    // The target would do; a bound on another event, or on its own, is what breaks.
    int worst = 0;
    int worst_count = model.years + 1;
    for (int e = 0; e < event_count(*one.grown); ++e) {
        auto const days_of = days.row_days(succession, e);
        int const kept = static_cast<int>(std::count_if(days_of.begin(), days_of.end(), [&](int d) {
            return d <= known.bounds()[at(e)].not_after;
        }));
        if (kept < worst_count) {
            worst = e;
            worst_count = kept;
        }
    }
    int const good = walker.good_years(days, succession);
    return {.succession = one.name,
            .code = "not_after.broken",
            .sentence = fmt::format(
                "{} no later than {} is met {}, even when all is as early as allowed, and "
                "all that is wanted in {}; {} are wanted",
                event_text(model, succession, worst),
                say_day(planned, known.bounds()[at(worst)].not_after),
                say_in_only(worst_count, model.years), say_years(good, model.years), known.need)};
}

obstacle too_seldom_in_harvest(season_model const& model, path_walker const& walker,
                               days_table& days, succession_days const& known, int succession,
                               int first_sowing) {
    resolved_succession const& one = model.planned.successions()[at(succession)];
    auto const& rule = *harvest_asked(one.target_rule);
    sowing_choice const chosen =
        fewest_covering(serving_runs(model, walker, days, succession, first_sowing), known.need);
    int const best = chosen.most_good.empty() ? 0 : chosen.most_good.front();
    std::string cure;
    if (chosen.good >= known.need) {
        for (int s : chosen.sowings) {
            cure += (cure.empty() ? "" : ", ") + say_day(model.planned, s);
        }
        cure = fmt::format("sow it {} times, on {}: together they serve {}", chosen.sowings.size(),
                           cure, say_years(chosen.good, model.years));
    } else {
        std::string const most =
            chosen.good == 0 ? "any year" : "more than " + say_years(chosen.good, model.years);
        cure = fmt::format(
            "no set of sowings serves {}: aim for less, or grow a crop that stands longer in "
            "harvest",
            most);
    }
    season const& window = model.planned.window();
    return {.succession = one.name,
            .code = "in_harvest.too_seldom",
            .sentence = fmt::format(
                "the best single sowing is in harvest from {} until {} {}; {} are wanted",
                say_day(model.planned, window.offset_of(rule.from)),
                say_day(model.planned, window.offset_of(rule.until)),
                say_in_only(best, model.years), known.need),
            .cure = cure};
}

obstacle repeat_never(season_model const& model, int succession) {
    resolved_succession const& one = model.planned.successions()[at(succession)];
    return {.succession = one.name,
            .code = "repeat.never",
            .sentence = fmt::format("it repeats \"{}\", whose first harvest is not reached "
                                    "within the season in the usual year",
                                    name_of(model, *one.repeat_of)),
            .cure = "give a longer season, or aim the first one at its harvest"};
}

}  // namespace epicotyl::detail
