#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/harvest/fewest_sowings.hpp>
#include <epicotyl/weather/climate.hpp>

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "../../detail/wrapped.hpp"
#include "../days/default_springs.hpp"
#include "../days/harvest_cover.hpp"
#include "../days/one_crop.hpp"
#include "../rows/rule_days.hpp"
#include "../rows/say.hpp"

namespace epicotyl {

namespace {

using detail::at;

/// The runs of all season years, or the rule of the crop that gives no day.
std::vector<detail::serving_runs_of_year> runs_of(detail::season_model& model, reliability wanted,
                                                  std::optional<obstacle>& none) {
    std::vector<detail::succession_days> known(1);
    std::vector<obstacle> problems;
    detail::chosen_springs const springs = detail::find_springs(model, wanted);
    known.front().hold(
        detail::bounds_of(model, 0, springs.empty() ? nullptr : springs.front().get(), problems));
    if (!problems.empty()) {
        none = problems.front();
        return std::vector<detail::serving_runs_of_year>(at(model.years));
    }
    detail::path_walker const walker{model, known};
    detail::days_table table = detail::make_days_table(model);
    table.give_rows(0);
    return detail::serving_runs(model, walker, table, 0, known.front().bounds().front().not_before);
}

}  // namespace

covering_sowings fewest_sowings(plan const& of, climate const& under, std::string_view crop,
                                in_harvest_rule const& wanted) {
    epicotyl::crop const& grown = detail::harvested_crop(of, crop);
    detail::require_in_season(of, wanted.from, "from");
    detail::require_in_season(of, wanted.until, "until");
    detail::require_order(wanted.from, wanted.until, "until");

    succession const probe{.name = grown.name,
                           .crop = grown.name,
                           .amount = {.value = 1.0},
                           .target = {"first_harvest", wanted}};
    detail::season_model model{detail::plan_of(of, {probe}), under};
    season const& window = of.window();
    covering_sowings found{.crop = grown.name,
                           .wanted = wanted,
                           .years = model.years,
                           .needed = detail::needed_years(wanted.share.value(), model.years),
                           .units = of.parts().units};
    std::vector<detail::serving_runs_of_year> const runs =
        runs_of(model, of.parts().reliability, found.none);
    detail::sowing_choice const chosen = detail::fewest_covering(runs, found.needed);
    found.good = chosen.good;
    found.most_good = chosen.most_good;
    if (chosen.good < found.needed && !found.none) {
        found.none = obstacle{
            .succession = grown.name,
            .code = "in_harvest.too_seldom",
            .sentence = fmt::format(
                "no set of sowings is in harvest from {} until {} in more than {}; {} are wanted",
                detail::say_day(of, window.offset_of(wanted.from)),
                detail::say_day(of, window.offset_of(wanted.until)),
                detail::say_years(chosen.good, model.years), found.needed),
            .cure = "aim for less, or grow a crop that stands longer in harvest"};
    }
    if (found.none) { return found; }

    int number = detail::last_number_taken(of, grown.name);
    for (int s : chosen.sowings) {
        day const when = window.start() + days{s};
        found.sowings.push_back(when);
        found.successions.push_back({.name = fmt::format("{} {}", grown.name, ++number),
                                     .crop = grown.name,
                                     .amount = {.value = 1.0},
                                     .target = {std::string{event_name(grown, 0)}, on_rule{when}}});
        found.served.emplace_back();
    }
    for (int y = 0; y < model.years; ++y) {
        int const year = under.years()[at(y)];
        bool is_met = false;
        for (std::size_t k = 0; k < chosen.sowings.size(); ++k) {
            if (!detail::is_served(runs[at(y)], chosen.sowings[k])) { continue; }
            found.served[k].push_back(year);
            is_met = true;
        }
        if (!is_met) { found.missed.push_back(year); }
    }
    return found;
}

std::string to_string(covering_sowings const& of) {
    std::string const wanted =
        of.wanted.from == of.wanted.until
            ? fmt::format("on {}", to_day_month_year(of.wanted.from, of.units))
            : fmt::format("from {} until {}", to_day_month_year(of.wanted.from, of.units),
                          to_day_month_year(of.wanted.until, of.units));
    if (of.none) {
        return detail::wrapped(fmt::format("{}, in harvest {}: {}; {}", of.crop, wanted,
                                           of.none->sentence, of.none->cure));
    }
    std::vector<std::string> days;
    for (day one : of.sowings) { days.push_back(to_day_month_year(one, of.units)); }
    std::string text = fmt::format("{}, in harvest {}: sow on {}; good in {}", of.crop, wanted,
                                   fmt::join(days, ", "), detail::say_years(of.good, of.years));
    if (of.most_good.size() > 1) {
        int const fewer = static_cast<int>(of.most_good.size()) - 1;
        text += fmt::format("; {} sowing{} at best in {}, and {} are wanted", fewer,
                            fewer == 1 ? "" : "s", of.most_good[at(fewer - 1)], of.needed);
    }
    return detail::wrapped(text);
}

}  // namespace epicotyl
