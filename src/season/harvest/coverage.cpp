#include <epicotyl/season/harvest/coverage.hpp>

#include <algorithm>
#include <cmath>
#include <span>
#include <string>

#include <fmt/format.h>

#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/prospect.hpp>

#include "../../detail/wrapped.hpp"
#include "../days/one_crop.hpp"
#include "../days/prospect_data.hpp"
#include "../rows/say.hpp"
#include "yielding.hpp"

namespace epicotyl {

namespace {

using detail::at;

[[noreturn]] void refuse_group(char const* field, std::string const& name,
                               std::vector<std::string> const& known) {
    std::optional<std::string> const nearest = epicotyl::detail::nearest_word(name, known);
    throw invalid_input{
        {.code = "coverage.group",
         .field = field,
         .value = name,
         .problem = fmt::format("no succession of the plan is of the {} \"{}\"", field, name),
         .remedy = nearest ? fmt::format("the nearest is \"{}\"", *nearest)
                           : fmt::format("the plan has no {}", field)}};
}

bool is_called(crop const& one, std::string const& name) {
    return one.name == name || (!one.id.empty() && one.id == name);
}

harvest_yield const& yield_of(resolved_succession const& one, wanted_amount const& wanted) {
    auto const named = [&](auto const& is_it) {
        return std::find_if(wanted.gives.begin(), wanted.gives.end(),
                            [&](auto const& gives) { return is_it(gives.first); });
    };
    auto found = named([&](std::string const& name) {
        return name == one.name || (!one.id.empty() && name == one.id);
    });
    if (found == wanted.gives.end()) {
        found = named([&](std::string const& name) { return is_called(*one.grown, name); });
    }
    if (found == wanted.gives.end()) {
        found = named([](std::string const& name) { return name.empty(); });
    }
    if (found != wanted.gives.end()) { return found->second; }
    throw invalid_input{
        {.code = "coverage.no_yield",
         .field = "gives",
         .value = one.name,
         .problem = fmt::format("nothing says what a plant of \"{}\" gives", one.name),
         .remedy = fmt::format("give a yield for it, or for its crop \"{}\"", one.grown->name)}};
}

/// True when too few years have anything in harvest, and not only too little.
bool lacks_harvest(harvest_coverage const& of, coverage_gap const& gap) {
    return of.years - gap.without < of.needed;
}

/// What weeks lack: "nothing to pick in 11 to 14 of 30 years, less than 40 stems in 30 of 30
/// years".
std::string say_lack(harvest_coverage const& of, std::span<coverage_gap const> gaps) {
    auto const in_years = [&](auto const& count) {
        auto const [least, most] = std::minmax_element(
            gaps.begin(), gaps.end(),
            [&](coverage_gap const& a, coverage_gap const& b) { return count(a) < count(b); });
        if (count(*least) == of.years) { return std::string{"in every year"}; }
        return (count(*least) == count(*most) ? "in " : fmt::format("in {} to ", count(*least))) +
               detail::say_years(count(*most), of.years);
    };
    std::string text;
    if (lacks_harvest(of, gaps.front())) {
        text = "nothing to pick " + in_years([](coverage_gap const& gap) { return gap.without; });
    }
    if (gaps.front().less) {
        text += fmt::format("{}less than {} {}", text.empty() ? "" : ", ", of.wanted,
                            in_years([](coverage_gap const& gap) { return *gap.less; }));
    }
    return text;
}

/// Gathers what is picked in all season years, then counts it by weeks.
class coverer {
public:
    coverer(prospect const& of, std::vector<int> group, coverage_options const& options)
        : data_{*of.data()},
          model_{*data_.model},
          window_{model_.planned.window()},
          group_{std::move(group)},
          options_{options} {
        found_.years = model_.years;
        reliability const share = options.reliability.value_or(model_.planned.parts().reliability);
        found_.units = model_.planned.parts().units;
        found_.needed = detail::needed_years(share.value(), model_.years);
        runs_.resize(at(model_.years));
        for (int const i : group_) {
            found_.successions.push_back(model_.planned.successions()[at(i)].name);
            int const harvest = detail::harvest_event(model_.planned, i);
            for (int y = 0; y < model_.years; ++y) {
                detail::picking const one =
                    detail::picking_of(model_, data_.days(), i, harvest, y, options.harvest);
                if (one.happens) { runs_[at(y)].push_back(one.days); }
            }
        }
    }

    [[nodiscard]] harvest_coverage count() {
        if (options_.amount) { require_amount(); }
        if (!find_span()) { return std::move(found_); }
        detail::cover_count in_harvest{window_, first_, last_};
        for (auto const& runs : runs_) { in_harvest.add_year(runs); }
        std::vector<detail::day_span> const& weeks = in_harvest.weeks();
        std::vector<int> met;
        if (options_.amount) { met = years_met(weeks); }
        for (std::size_t w = 0; w < weeks.size(); ++w) {
            coverage_week week{.from = window_.start() + days{weeks[w].first},
                               .until = window_.start() + days{weeks[w].last},
                               .years = in_harvest.years_in()[w]};
            if (options_.amount) { week.met = met[w]; }
            week.covered = std::min(week.years, week.met.value_or(week.years)) >= found_.needed;
            if (!week.covered) { name_gap(week); }
            found_.weeks.push_back(week);
        }
        return std::move(found_);
    }

private:
    void require_amount() const {
        double const wanted = options_.amount->per_week;
        if (wanted > 0.0 && std::isfinite(wanted)) { return; }
        throw invalid_input{{.code = "coverage.amount",
                             .field = "per_week",
                             .value = fmt::format("{}", wanted),
                             .bound = "more than 0",
                             .problem = fmt::format("{} is no amount to want", wanted),
                             .remedy = "give the units that a week is to give, or ask for none"}};
    }

    /// False where no span is asked for and nothing is picked in any year.
    [[nodiscard]] bool find_span() {
        if (options_.first) { detail::require_in_season(model_.planned, *options_.first, "first"); }
        if (options_.last) { detail::require_in_season(model_.planned, *options_.last, "last"); }
        int from = never;
        int until = 0;
        for (auto const& runs : runs_) {
            for (detail::day_run const& run : runs) {
                if (run.begin >= run.end) { continue; }
                from = std::min(from, run.begin);
                until = std::max(until, run.end);
            }
        }
        bool const is_picked = from < until;
        if (!is_picked && !(options_.first && options_.last)) { return false; }
        first_ = options_.first ? window_.offset_of(*options_.first) : from;
        last_ = options_.last ? window_.offset_of(*options_.last) : until - 1;
        if (options_.first && options_.last) {
            detail::require_order(*options_.first, *options_.last, "last");
        }
        return first_ <= last_;
    }

    /// Season years that give the amount, week by week.
    [[nodiscard]] std::vector<int> years_met(std::vector<detail::day_span> const& weeks) {
        std::vector<std::vector<double>> on(at(model_.years),
                                            std::vector<double>(at(last_ - first_ + 1), 0.0));
        for (int const i : group_) {
            resolved_succession const& one = model_.planned.successions()[at(i)];
            harvest_yield const& gives = yield_of(one, *options_.amount);
            if (unit_.empty()) { unit_ = gives.unit; }
            detail::yielding yields{data_, i, gives, options_.harvest};
            for (int y = 0; y < model_.years; ++y) {
                detail::day_yields const year = yields.of_year(y);
                for (std::size_t k = 0; k < year.units.size(); ++k) {
                    int const d = year.first + static_cast<int>(k);
                    if (d >= first_ && d <= last_) { on[at(y)][at(d - first_)] += year.units[k]; }
                }
            }
        }
        // Sums of shares may lack the last digits of what they are shares of.
        double const wanted = options_.amount->per_week * (1.0 - 1e-9);
        std::vector<int> met;
        for (auto const& [first, last] : weeks) {
            int count = 0;
            for (std::vector<double> const& year : on) {
                double sum = 0.0;
                for (int d = first; d <= last; ++d) { sum += year[at(d - first_)]; }
                count += sum >= wanted ? 1 : 0;
            }
            met.push_back(count);
        }
        return met;
    }

    void name_gap(coverage_week const& week) {
        coverage_gap gap{.monday = monday_of(week.from), .without = found_.years - week.years};
        if (week.met) { gap.less = found_.years - *week.met; }
        if (week.met && found_.wanted.empty()) {
            found_.wanted =
                fmt::format("{:g}{}{}", options_.amount->per_week, unit_.empty() ? "" : " ", unit_);
        }
        gap.sentence = to_week(week.from, model_.planned.parts().units) + ": " +
                       say_lack(found_, {&gap, &gap + 1});
        found_.gaps.push_back(std::move(gap));
    }

    detail::prospect_data const& data_;
    detail::season_model const& model_;
    season const& window_;
    std::vector<int> group_;
    coverage_options const& options_;
    harvest_coverage found_ = {};
    std::vector<std::vector<detail::day_run>> runs_ = {};  ///< of each season year
    std::string unit_ = {};
    int first_ = 0;
    int last_ = -1;
};

}  // namespace

succession_group succession_group::of_wave(std::string name) {
    return {kind::wave, {std::move(name)}};
}

succession_group succession_group::of_crop(std::string name) {
    return {kind::crop, {std::move(name)}};
}

succession_group succession_group::of(std::vector<std::string> names) {
    return {kind::names, std::move(names)};
}

std::vector<int> succession_group::in(plan const& planned) const {
    std::vector<int> found;
    std::vector<std::string> known;
    for (int i = 0; i < static_cast<int>(planned.successions().size()); ++i) {
        resolved_succession const& one = planned.successions()[at(i)];
        std::string const& called = what_ == kind::wave ? one.wave : one.grown->name;
        if (!called.empty()) { known.push_back(called); }
        bool const is_in = what_ == kind::wave   ? !one.wave.empty() && one.wave == names_.front()
                           : what_ == kind::crop ? is_called(*one.grown, names_.front())
                                                 : false;
        if (is_in) { found.push_back(i); }
    }
    if (what_ != kind::names) {
        if (found.empty()) {
            refuse_group(what_ == kind::wave ? "wave" : "crop", names_.front(), known);
        }
        return found;
    }
    if (names_.empty()) {
        throw invalid_input{{.code = "coverage.group",
                             .field = "successions",
                             .problem = "no succession is named",
                             .remedy = "name one or more"}};
    }
    for (std::string const& name : names_) { found.push_back(planned.succession_index(name)); }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

double harvest_coverage::share_covered() const {
    if (weeks.empty()) { return 0.0; }
    auto const covered = std::count_if(weeks.begin(), weeks.end(),
                                       [](coverage_week const& week) { return week.covered; });
    return static_cast<double>(covered) / static_cast<double>(weeks.size());
}

harvest_coverage coverage(prospect const& of, succession_group const& group,
                          coverage_options const& options) {
    plan const& planned = of.calendar().plan();
    std::vector<int> found = group.in(planned);
    auto const is_never_harvested = [&](int i) {
        return !event_index(*planned.successions()[at(i)].grown, "first_harvest");
    };
    if (!group.is_named() && !std::all_of(found.begin(), found.end(), is_never_harvested)) {
        found.erase(std::remove_if(found.begin(), found.end(), is_never_harvested), found.end());
    }
    return coverer{of, std::move(found), options}.count();
}

std::string to_string(harvest_coverage const& of) {
    if (of.weeks.empty()) { return "Nothing is harvested in the span, in any season year.\n"; }
    std::string text =
        fmt::format("{} of {} weeks covered in {} or more\n", of.weeks.size() - of.gaps.size(),
                    of.weeks.size(), detail::say_years(of.needed, of.years));
    std::span<coverage_gap const> left{of.gaps};
    while (!left.empty()) {
        std::size_t count = 1;
        while (count < left.size() && left[count].monday - left[count - 1].monday == days{7} &&
               lacks_harvest(of, left[count]) == lacks_harvest(of, left[0])) {
            ++count;
        }
        if (count == 1) {
            text += fmt::format("  {}\n", left[0].sentence);
        } else {
            day const last = left[count - 1].monday;
            text += fmt::format("  weeks of {} to {} (weeks {} to {}): {}\n",
                                to_day_month(left[0].monday, of.units),
                                to_day_month(last, of.units), iso_week_of(left[0].monday).week,
                                iso_week_of(last).week, say_lack(of, left.first(count)));
        }
        left = left.subspan(count);
    }
    return detail::wrapped(text);
}

}  // namespace epicotyl
