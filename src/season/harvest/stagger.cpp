#include <epicotyl/season/harvest/stagger.hpp>

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/season/days/schedule.hpp>

#include "../days/default_springs.hpp"
#include "../days/lost.hpp"
#include "../days/one_crop.hpp"
#include "../days/prospect_data.hpp"
#include "../rows/rule_days.hpp"
#include "../rows/say.hpp"
#include "../tables/day_run.hpp"

namespace epicotyl {

namespace detail {

struct stagger_data {
    epicotyl::plan of;
    epicotyl::climate under;
    stagger_options options;
    epicotyl::reliability wanted;
    std::string crop = {};
    std::optional<day> until = {};
    std::vector<staggered_sowing> sowings = {};
    std::vector<obstacle> left_out = {};
    last_sowing last = {};
    std::vector<harvest_week> weeks = {};
    std::vector<harvest_gap> gaps = {};
    std::vector<succession> successions = {};
};

namespace {

constexpr double early_share = 0.1;
constexpr double late_share = 0.9;

void require_options(plan const& of, stagger_options const& wanted) {
    require_in_season(of, wanted.first, "first");
    if (auto const* last = std::get_if<day>(&wanted.last)) {
        require_in_season(of, *last, "last");
        require_order(wanted.first, *last, "last");
    }
    if (wanted.every.has_value() == wanted.count.has_value()) {
        throw invalid_input{{.code = "stagger.every_or_count",
                             .field = "every",
                             .value = wanted.every ? fmt::format("{}", *wanted.every) : "",
                             .bound = "one of every and count",
                             .problem = wanted.every ? "every and count are both given"
                                                     : "neither every nor count is given",
                             .remedy = "give the days between harvests, or how many harvests"}};
    }
    if (wanted.every && !(*wanted.every >= 1 && *wanted.every <= longest_season)) {
        throw invalid_input{
            {.code = "stagger.every",
             .field = "every",
             .value = fmt::format("{}", *wanted.every),
             .bound = fmt::format("1 to {}", longest_season),
             .unit = "days",
             .problem = fmt::format("harvests {} apart are no sequence", say_days(*wanted.every)),
             .remedy = "give the days between harvests, such as 7"}};
    }
    if (wanted.count && *wanted.count < 1) {
        throw invalid_input{{.code = "stagger.count",
                             .field = "count",
                             .value = fmt::format("{}", *wanted.count),
                             .bound = "1 or more",
                             .problem = fmt::format("{} is no number of harvests", *wanted.count),
                             .remedy = "give how many harvests are wanted"}};
    }
    if (wanted.day_length_at_least &&
        !(*wanted.day_length_at_least >= 0.0 && *wanted.day_length_at_least <= 24.0)) {
        throw invalid_input{
            {.code = "day_length.hours",
             .field = "day_length_at_least",
             .value = fmt::format("{}", *wanted.day_length_at_least),
             .bound = "0 to 24",
             .unit = "hours",
             .problem = fmt::format("{} is no length of a day", *wanted.day_length_at_least),
             .remedy = "give hours, such as 10"}};
    }
}

/// Offsets of the wanted first harvests.
std::vector<int> wanted_days(int first, int last, stagger_options const& wanted) {
    std::vector<int> all;
    if (wanted.every) {
        for (int d = first; d <= last; d += *wanted.every) { all.push_back(d); }
        return all;
    }
    int const parts = *wanted.count - 1;
    int const span = last - first;
    if (parts > span) {
        throw invalid_input{{.code = "stagger.count",
                             .field = "count",
                             .value = fmt::format("{}", *wanted.count),
                             .bound = fmt::format("1 to {}", span + 1),
                             .problem = fmt::format("{} harvests do not fit into {}", *wanted.count,
                                                    say_days(span + 1)),
                             .remedy = "ask for fewer, or for a longer span"}};
    }
    for (int k = 0; k <= parts; ++k) {
        all.push_back(first + (parts == 0 ? 0 : (2 * k * span + parts) / (2 * parts)));
    }
    return all;
}

/// What limits the use of a sowing, year by year: one that is picked on such a day is too late.
struct season_limits {
    std::vector<int> frost;  ///< first frost of each season year, `never` where there is none
    int short_days = never;  ///< the first day that is too short
};

/// One sowing after another of one crop, outside of any plan: sown once on every day.
class sower {
public:
    sower(season_model const& model, spring_choice const* springs)
        : model_{model},
          known_(model.planned.successions().size()),
          event_{*event_index(*model.planned.successions().front().grown, "first_harvest")},
          table_{make_days_table(model.planned, model.years)} {
        known_.front().target_day = never;
        known_.front().hold(bounds_of(model, 0, springs, problems_));
    }

    [[nodiscard]] last_sowing find_last(season_limits const& limits, int needed) {
        last_sowing found{.needed = needed, .years = model_.years};
        if (!problems_.empty()) {
            found.sentence = problems_.front().sentence;
            return found;
        }
        // From the last day back: sown too early it may be lost to cold, so that the count rises
        // before it falls.
        int const earliest = known_.front().bounds().front().not_before;
        int best = earliest;
        for (int s = model_.season_days; s >= earliest && !found.sowing; --s) {
            int const good = count_good(limits, s);
            if (good < needed) {
                found.good_one_day_later = good;
                if (good >= found.good) {
                    found.good = good;
                    best = s;
                }
                continue;
            }
            found.sowing = model_.planned.window().start() + days{s};
            found.good = good;
        }
        int const fails =
            found.sowing ? model_.planned.window().offset_of(*found.sowing) + 1 : best;
        if (!found.sowing) { found.good_one_day_later = 0; }
        if (fails <= model_.season_days) {
            (void)count_good(limits, fails);
            found.limit = what_fails(limits);
        }
        found.sentence = sentence_of(found, limits, best == earliest ? 0 : best);
        return found;
    }

private:
    [[nodiscard]] int count_good(season_limits const& limits, int sowing) {
        chain_walker const walker{model_, known_};
        walker.walk_all(table_, 0, sowing, 0);
        int good = 0;
        for (int y = 0; y < model_.years; ++y) {
            int const picked = table_.at(0, event_, y);
            good += picked < std::min({limits.frost[at(y)], limits.short_days, never}) &&
                    walker.is_good(table_, 0, y) && lost_night(model_, table_, 0, y) >= never;
        }
        return good;
    }

    /// What the walked days break in most years, ties in the order of `sowing_limit`.
    [[nodiscard]] sowing_limit what_fails(season_limits const& limits) const {
        std::array<int, 5> broken{};
        for (int y = 0; y < model_.years; ++y) {
            int const picked = table_.at(0, event_, y);
            broken[0] += picked < never && picked >= limits.frost[at(y)];
            broken[1] += picked < never && picked >= limits.short_days;
            for (int e = 0; e < static_cast<int>(known_.front().bounds().size()); ++e) {
                if (table_.at(0, e, y) < never &&
                    table_.at(0, e, y) > known_.front().bounds()[at(e)].not_after) {
                    ++broken[2];
                    break;
                }
            }
            broken[3] += picked >= never;
            broken[4] += lost_night(model_, table_, 0, y) < never;
        }
        return static_cast<sowing_limit>(std::max_element(broken.begin(), broken.end()) -
                                         broken.begin());
    }

    /// `best` is the best sowing where none will do; 0: the earliest.
    [[nodiscard]] std::string sentence_of(last_sowing const& found, season_limits const& limits,
                                          int best) const {
        plan const& planned = model_.planned;
        std::string before;
        switch (found.limit) {
            case sowing_limit::frost:
                before = fmt::format("before the first frost ({})",
                                     say_temperature(planned, planned.parts().frost.at.celsius()));
                break;
            case sowing_limit::day_length:
                before = fmt::format("before days grow too short on {}",
                                     say_day(planned, limits.short_days));
                break;
            case sowing_limit::not_after:
                before = "within its not_after";
                break;
            case sowing_limit::season:
                before = "before the season ends";
                break;
            case sowing_limit::lost:
                before = "before cold loses it";
                break;
        }
        std::string const counted = say_years(found.good, found.years);
        if (!found.sowing) {
            return fmt::format(
                "no sowing is of use: even the {} is picked {} {}, and {} are wanted",
                best == 0 ? "earliest" : "best, on " + say_day(planned, best) + ',', before,
                say_in_only(found.good, found.years), found.needed);
        }
        std::string text = fmt::format("sow on {} at the latest: picked {} in {}",
                                       say_day(planned, planned.window().offset_of(*found.sowing)),
                                       before, counted);
        if (found.good_one_day_later < found.needed) {
            text += fmt::format("; sown a day later, in {}, and {} are wanted",
                                found.good_one_day_later, found.needed);
        }
        return text;
    }

    season_model const& model_;
    std::vector<obstacle> problems_;
    std::vector<succession_days> known_;
    int event_;
    days_table table_;
};

class staggerer {
public:
    staggerer(stagger_data& data, crop const& grown)
        : data_{data},
          grown_{grown},
          window_{data.of.window()},
          first_{window_.offset_of(data.options.first)},
          name_{data.options.name.empty() ? grown.name : data.options.name} {}

    void run() {
        season_model const probe{plan_of(data_.of, {aimed(name_, data_.options.first)}),
                                 data_.under};
        // The half of the year that has not ended when the span begins.
        day const in_half = data_.options.first - days{days_before_half_ends};
        std::vector<std::optional<int>> const frosts = probe.frost_dates(true, in_half);
        find_span(frosts);
        for (std::optional<int> const& one : frosts) {
            limits_.frost.push_back(one.value_or(never));
        }
        if (data_.options.day_length_at_least) {
            limits_.short_days = first_short_day(*data_.options.day_length_at_least);
        }
        int const last = data_.until ? window_.offset_of(*data_.until) : first_;
        int const needed = needed_years(data_.wanted.value(), probe.years);
        season_model at_last{plan_of(data_.of, {aimed(name_, window_.start() + days{last})}),
                             data_.under};
        chosen_springs const springs = find_springs(at_last, data_.wanted);
        data_.last = sower{at_last, springs.empty() ? nullptr : springs.front().get()}.find_last(
            limits_, needed);
        if (!data_.until) { return; }
        sow(last);
        cover(last, needed);
    }

private:
    /// First harvests and clearings of one sowing in all season years, as if it lived, and the
    /// nights that lose it.
    struct harvest_run {
        std::span<std::int16_t const> picked;
        std::span<std::int16_t const> cleared;
        std::vector<std::int16_t> lost;
    };

    succession aimed(std::string name, day when) const {
        return {.name = std::move(name),
                .crop = grown_.name,
                .amount = data_.options.amount,
                .target = {"first_harvest", on_rule{when}},
                .reliability = data_.options.reliability};
    }

    void find_span(std::vector<std::optional<int>> const& frosts) {
        if (auto const* last = std::get_if<day>(&data_.options.last)) {
            data_.until = *last;
            return;
        }
        chance const share = std::get<until_first_frost>(data_.options.last).earlier;
        std::optional<int> const frost = empirical_offset_first(frosts, share);
        std::string const degrees = say_temperature(data_.of, data_.of.parts().frost.at.celsius());
        if (!frost) {
            int const have = static_cast<int>(
                std::count_if(frosts.begin(), frosts.end(), [](auto const& f) { return !!f; }));
            data_.left_out.push_back(
                {.succession = name_,
                 .code = "frost.none",
                 .sentence = fmt::format(
                     "there is no first frost here at chance {:g}: {} have a night at or below {} "
                     "in that half of the year",
                     share.value(), say_years(have, static_cast<int>(frosts.size())), degrees),
                 .cure = "give a last day instead"});
        } else if (*frost <= first_) {
            data_.left_out.push_back(
                {.succession = name_,
                 .code = "stagger.frost_before_first",
                 .sentence = fmt::format(
                     "the first frost of {} ({}, chance {:g}) comes before a harvest from {} on",
                     say_day(data_.of, *frost), degrees, share.value(), say_day(data_.of, first_)),
                 .cure = "ask for an earlier first harvest, or give a last day"});
        } else {
            data_.until = window_.start() + days{*frost - 1};
        }
    }

    [[nodiscard]] int first_short_day(double hours) const {
        for (int d = first_; d <= window_.length(); ++d) {
            if (day_length(data_.of.parts().where, window_.start() + days{d}) < hours) { return d; }
        }
        return never;
    }

    void sow(int last) {
        std::vector<succession> wanted;
        int number = last_number_taken(data_.of, name_);
        for (int d : wanted_days(first_, last, data_.options)) {
            wanted.push_back(
                aimed(fmt::format("{} {}", name_, ++number), window_.start() + days{d}));
        }
        calendar const planned = schedule(plan_of(data_.of, wanted), data_.under);
        calendar_data const& found = *planned.data();
        int const event = *event_index(grown_, "first_harvest");
        data_.left_out = planned.unresolved();
        std::vector<harvest_run> runs;
        for (int i = 0; i < static_cast<int>(wanted.size()); ++i) {
            if (!found.successions[at(i)].resolved) { continue; }
            std::span<std::int16_t const> const picked = found.days.row_days(i, event);
            staggered_sowing one{.name = wanted[at(i)].name,
                                 .wanted = *day_asked(wanted[at(i)].target.rule),
                                 .sowing = window_.start() + days{found.successions[at(i)].sowing},
                                 .usual = window_.start() + days{usual_day(found.days, i, event)},
                                 .early = window_.day_at(quantile_of(picked, early_share)),
                                 .late = window_.day_at(quantile_of(picked, late_share))};
            if (!data_.sowings.empty() && data_.sowings.back().sowing == one.sowing) {
                leave_out_as_same(one);
                continue;
            }
            std::vector<std::int16_t> lost = lost_nights(*found.model, found.days, i);
            one.lost = lost_years(lost);
            for (int y = 0; y < found.days.years; ++y) {
                one.in_time +=
                    lost[at(y)] >= never &&
                    picked[at(y)] < std::min({limits_.frost[at(y)], limits_.short_days, never});
            }
            data_.sowings.push_back(std::move(one));
            data_.successions.push_back(wanted[at(i)]);
            runs.push_back(
                {picked, found.days.row_days(i, event_count(grown_) - 1), std::move(lost)});
        }
        count_days(runs, last, found.days.years);
    }

    void leave_out_as_same(staggered_sowing const& one) {
        staggered_sowing const& kept = data_.sowings.back();
        auto const say = [&](day when) {
            return say_day(data_.of, window_.offset_of(when));
        };
        data_.left_out.push_back(
            {.succession = one.name,
             .code = "stagger.same_sowing",
             .sentence = fmt::format("first harvest on {} would be that of \"{}\", sown on {} and "
                                     "picked from {}: no later sowing is picked by then",
                                     say(one.wanted), kept.name, say(kept.sowing), say(kept.usual)),
             .cure = "ask for harvests further apart"});
    }

    /// Counts, for every day and week of the span, the season years with something in harvest.
    void count_days(std::vector<harvest_run> const& runs, int last, int years) {
        cover_count count{window_, first_, last};
        for (int y = 0; y < years; ++y) {
            std::vector<day_run> in_harvest;
            for (auto const& [picked, cleared, lost] : runs) {
                if (lost[at(y)] >= never) { in_harvest.push_back({picked[at(y)], cleared[at(y)]}); }
            }
            count.add_year(in_harvest);
        }
        years_on_ = count.years_on();
        for (std::size_t w = 0; w < count.weeks().size(); ++w) {
            auto const [from, until] = count.weeks()[w];
            data_.weeks.push_back({.from = window_.start() + days{from},
                                   .until = window_.start() + days{until},
                                   .years = count.years_in()[w]});
        }
    }

    void cover(int last, int needed) {
        for (harvest_week& week : data_.weeks) { week.covered = week.years >= needed; }
        bool is_open = false;
        for (int d = first_; d <= last; ++d) {
            int const count = years_on_[at(d - first_)];
            if (count >= needed) {
                is_open = false;
                continue;
            }
            day const when = window_.start() + days{d};
            if (!is_open) { data_.gaps.push_back({.from = when, .until = when, .fewest = count}); }
            is_open = true;
            data_.gaps.back().until = when;
            data_.gaps.back().fewest = std::min(data_.gaps.back().fewest, count);
        }
    }

    stagger_data& data_;
    crop const& grown_;
    season const& window_;
    int first_;
    std::string name_;
    season_limits limits_;
    std::vector<int> years_on_;  ///< of each day of the span
};

}  // namespace

}  // namespace detail

using detail::at;

std::string_view to_string(sowing_limit of) noexcept {
    constexpr std::array<std::string_view, 5> words = {"frost", "day_length", "not_after", "season",
                                                       "lost"};
    return words[static_cast<std::size_t>(of)];
}

plan const& staggered::plan() const {
    return data_->of;
}

climate const& staggered::climate() const {
    return data_->under;
}

std::string const& staggered::crop() const {
    return data_->crop;
}

stagger_options const& staggered::options() const {
    return data_->options;
}

reliability staggered::reliability() const {
    return data_->wanted;
}

std::optional<day> staggered::until() const {
    return data_->until;
}

std::vector<staggered_sowing> const& staggered::sowings() const {
    return data_->sowings;
}

std::vector<obstacle> const& staggered::left_out() const {
    return data_->left_out;
}

std::vector<int> staggered::intervals() const {
    std::vector<int> all;
    for (std::size_t k = 1; k < data_->sowings.size(); ++k) {
        all.push_back(
            static_cast<int>((data_->sowings[k].usual - data_->sowings[k - 1].usual).count()));
    }
    return all;
}

last_sowing const& staggered::last_useful() const {
    return data_->last;
}

std::vector<harvest_week> const& staggered::weeks() const {
    return data_->weeks;
}

double staggered::share_covered() const {
    if (data_->weeks.empty()) { return 0.0; }
    auto const covered = std::count_if(data_->weeks.begin(), data_->weeks.end(),
                                       [](harvest_week const& week) { return week.covered; });
    return static_cast<double>(covered) / static_cast<double>(data_->weeks.size());
}

std::vector<harvest_gap> const& staggered::gaps() const {
    return data_->gaps;
}

std::vector<succession> const& staggered::successions() const {
    return data_->successions;
}

plan staggered::added_to(epicotyl::plan const& of) const {
    plan_parts parts = of.parts();
    parts.successions.insert(parts.successions.end(), data_->successions.begin(),
                             data_->successions.end());
    return epicotyl::plan{std::move(parts)};
}

staggered stagger(plan const& of, climate const& under, std::string_view crop,
                  stagger_options const& wanted) {
    epicotyl::crop const& grown = detail::harvested_crop(of, crop);
    detail::require_options(of, wanted);
    auto data = std::make_shared<detail::stagger_data>(
        detail::stagger_data{.of = of,
                             .under = under,
                             .options = wanted,
                             .wanted = wanted.reliability.value_or(of.parts().reliability),
                             .crop = grown.name});
    detail::staggerer{*data, grown}.run();
    return staggered{std::move(data)};
}

std::vector<equal_gap_sowing> equal_gaps(staggered const& of) {
    std::vector<staggered_sowing> const& even = of.sowings();
    if (even.empty()) { return {}; }
    epicotyl::crop const& grown = detail::harvested_crop(of.plan(), of.crop());
    int const parts = std::max(static_cast<int>(even.size()) - 1, 1);
    int const span = static_cast<int>((even.back().sowing - even.front().sowing).count());
    std::vector<equal_gap_sowing> all;
    std::vector<succession> sown;
    for (int k = 0; k < static_cast<int>(even.size()); ++k) {
        all.push_back({.sowing = even.front().sowing + days{(2 * k * span + parts) / (2 * parts)}});
        succession one = of.successions()[at(k)];
        one.target = {std::string{event_name(grown, 0)}, on_rule{all.back().sowing}};
        sown.push_back(std::move(one));
    }
    calendar const planned = schedule(detail::plan_of(of.plan(), sown), of.climate());
    detail::calendar_data const& found = *planned.data();
    int const event = *event_index(grown, "first_harvest");
    for (int k = 0; k < static_cast<int>(all.size()); ++k) {
        if (!found.successions[at(k)].resolved) { continue; }
        all[at(k)].usual = of.plan().window().day_at(detail::usual_day(found.days, k, event));
    }
    return all;
}

}  // namespace epicotyl
