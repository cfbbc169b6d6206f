#include <epicotyl/season/harvest/stagger.hpp>

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../days/default_springs.hpp"
#include "../days/lost.hpp"
#include "../days/one_crop.hpp"
#include "../days/prospect_data.hpp"
#include "../rows/say.hpp"
#include "../tables/day_run.hpp"
#include "last_sowing.hpp"
#include "wanted_harvests.hpp"

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

class staggerer {
public:
    staggerer(stagger_data& data, crop const& grown)
        : data_{data},
          grown_{grown},
          window_{data.of.window()},
          first_{window_.offset_of(data.options.first)},
          name_{data.options.name.empty() ? grown.name : data.options.name} {}

    void run() {
        season_model const at_first{plan_of(data_.of, {aimed(name_, data_.options.first)}),
                                    data_.under};
        find_limits(at_first);
        int const last = data_.until ? window_.offset_of(*data_.until) : first_;
        season_model at_last{plan_of(data_.of, {aimed(name_, window_.start() + days{last})}),
                             data_.under};
        int const needed = needed_years(data_.wanted.value(), at_last.years);
        find_last_useful(at_last, needed);
        if (!data_.until) { return; }
        sow(last);
        judge(needed);
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

    /// The end of the span, and the days by which a sowing of use is picked.
    void find_limits(season_model const& model) {
        // The half of the year that has not ended when the span begins.
        day const in_half = data_.options.first - days{days_before_half_ends};
        std::vector<std::optional<int>> const frosts = model.cold.frost_dates(true, in_half);
        find_span(frosts);
        for (std::optional<int> const& one : frosts) {
            limits_.frost.push_back(one.value_or(never));
        }
        if (data_.options.day_length_at_least) {
            limits_.short_days = first_short_day(*data_.options.day_length_at_least);
        }
    }

    void find_last_useful(season_model& model, int needed) {
        chosen_springs const springs = find_springs(model, data_.wanted);
        data_.last = find_last_sowing(model, springs.empty() ? nullptr : springs.front().get(),
                                      limits_, needed);
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
                     "there is no first frost here to count from ({}): {} have a night at or below "
                     "{} in that half of the year",
                     say_in_ten(share.value()), say_years(have, static_cast<int>(frosts.size())),
                     degrees),
                 .cure = "give a last day instead"});
        } else if (*frost <= first_) {
            data_.left_out.push_back(
                {.succession = name_,
                 .code = "stagger.frost_before_first",
                 .sentence = fmt::format(
                     "the first frost of {} ({}, earlier in {}) comes before a harvest from {} on",
                     say_day(data_.of, *frost), degrees, say_in_ten(share.value()),
                     say_day(data_.of, first_)),
                 .cure = "aim for an earlier first harvest, or give a last day"});
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
        data_.left_out = planned.unresolved();
        std::vector<harvest_run> runs;
        for (int i = 0; i < static_cast<int>(wanted.size()); ++i) {
            if (found.successions[at(i)].resolved) { add_sowing(found, i, wanted[at(i)], runs); }
        }
        count_days(runs, last, found.days.years);
    }

    void add_sowing(calendar_data const& found, int i, succession const& wanted,
                    std::vector<harvest_run>& runs) {
        int const event = *event_index(grown_, "first_harvest");
        std::span<std::int16_t const> const picked = found.days.row_days(i, event);
        staggered_sowing one{.name = wanted.name,
                             .wanted = *day_asked(wanted.target.rule),
                             .sowing = window_.start() + days{found.successions[at(i)].sowing},
                             .usual = window_.start() + days{usual_day(found.days, i, event)},
                             .early = window_.day_at(quantile_of(picked, early_share)),
                             .late = window_.day_at(quantile_of(picked, late_share))};
        if (!data_.sowings.empty() && data_.sowings.back().sowing == one.sowing) {
            leave_out_as_same(one);
            return;
        }
        std::vector<std::int16_t> lost = lost_nights(*found.model, found.days, i);
        one.lost = lost_years(lost);
        for (int y = 0; y < found.days.years; ++y) {
            one.in_time += lost[at(y)] >= never && limits_.allow(picked[at(y)], y) ? 1 : 0;
        }
        data_.sowings.push_back(std::move(one));
        data_.successions.push_back(wanted);
        runs.push_back({picked, found.days.row_days(i, event_count(grown_) - 1), std::move(lost)});
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
             .cure = "aim for harvests further apart"});
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
            auto const [first, last_day] = count.weeks()[w];
            data_.weeks.push_back({.from = window_.start() + days{first},
                                   .until = window_.start() + days{last_day},
                                   .years = count.years_in()[w]});
        }
    }

    /// Says which weeks are covered in enough years, and which days are gaps.
    void judge(int needed) {
        for (harvest_week& week : data_.weeks) { week.covered = week.years >= needed; }
        bool is_open = false;
        for (std::size_t k = 0; k < years_on_.size(); ++k) {
            int const count = years_on_[k];
            bool const was_open = std::exchange(is_open, count < needed);
            if (!is_open) { continue; }
            day const when = data_.options.first + days{static_cast<int>(k)};
            if (!was_open) { data_.gaps.push_back({.from = when, .until = when, .fewest = count}); }
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
