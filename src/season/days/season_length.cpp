#include "season_length.hpp"

#include <algorithm>
#include <map>
#include <variant>

#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/filled_record.hpp>

namespace epicotyl::detail {

namespace {

/// The season years of a record at any length, under what else a climate was cut with.
class year_lengths {
public:
    year_lengths(climate const& of, year_selection selection) : of_{of}, selection_{selection} {
        daily_record const& record = of.record();
        filled_record const filled{record, of.max_gap()};
        first_ = year_of(record.start());
        if (day_in_year(first_, of.season_start()) < record.start()) { ++first_; }
        for (int year = first_; year <= year_of(record.end()); ++year) {
            day const start = day_in_year(year, of.season_start());
            day end = record.end();
            held_[year] = static_cast<int>((end - start).count());
            for (weather_gap const& gap : filled.gaps()) {
                if (gap.first + days{gap.length} > start) { end = std::min(end, gap.first); }
            }
            whole_[year] = static_cast<int>((end - start).count());
        }
    }

    /// The years that could be used at a length.
    [[nodiscard]] std::vector<int> usable(int length) const {
        std::vector<int> years;
        for (int year : asked(length)) {
            auto const found = whole_.find(year);
            if (found != whole_.end() && found->second >= length) { years.push_back(year); }
        }
        return years;
    }
    /// True when the climate was cut as this says; else nobody knows which years were asked for.
    [[nodiscard]] bool explains_climate() const {
        std::vector<int> all{of_.years().begin(), of_.years().end()};
        if (usable(of_.season_days()) != all) { return false; }
        for (left_out_year const& one : of_.left_out()) { all.push_back(one.year); }
        std::sort(all.begin(), all.end());
        return asked(of_.season_days()) == all;
    }
    /// Lengths at which a further year could be used, each the longest for one.
    [[nodiscard]] std::vector<int> turning_points() const {
        std::vector<int> lengths;
        for (auto const& [year, length] : whole_) { lengths.push_back(length); }
        return lengths;
    }

private:
    [[nodiscard]] std::vector<int> asked(int length) const {
        int last = first_ - 1;
        for (auto const& [year, held] : held_) {
            if (held >= length) { last = year; }
        }
        return selection_.among(first_, last);
    }

    climate const& of_;
    year_selection selection_;
    int first_ = 0;
    std::map<int, int> held_;   ///< days from the year's start to the record's end
    std::map<int, int> whole_;  ///< of these the days before the first gap
};

/// Days of a season in which the plan would be what it is: to the last day that anything is
/// reached on in any year, the last that is written, and the ends of the halves of the year that
/// its rules look into.
class length_needed {
public:
    explicit length_needed(calendar_data const& of)
        : data_{of}, model_{*of.model}, window_{of.model->planned.window()} {}

    [[nodiscard]] int days() {
        for (int i : data_.order) {
            int const events = event_count(*model_.planned.successions()[at(i)].grown);
            for (int e = 0; e < events; ++e) {
                for (int const d : data_.days.row_days(i, e)) {
                    if (d < never) { take(d); }
                }
            }
        }
        // Bounds against cold look into the spring of what they protect.
        take(model_.cold.spring_half_before(needed_).last + 1);
        plan_parts const& parts = model_.planned.parts();
        for (place const& one : parts.places) {
            if (one.open) { take(one.open->until); }
            if (one.lamps) { take(one.lamps->until); }
        }
        for (resolved_succession const& one : model_.planned.successions()) {
            if (!one.repeat_of) { take(one.target_rule); }
            for (event_bound const& bound : one.not_before) { take(bound.rule); }
            for (event_bound const& bound : one.not_after) { take(bound.rule); }
        }
        return needed_;
    }

private:
    void take(int day) { needed_ = std::max(needed_, std::min(day, model_.season_days)); }
    void take(day written) { take(window_.offset_of(written)); }
    void take(rule const& of) {
        std::visit(
            overloaded{[&](risk_rule const& risk) {
                           take(model_.cold.spring_half(model_.cold.after_offset(risk.after)).last +
                                1);
                       },
                       [&](frost_rule const& frost) {
                           int const after = model_.cold.after_offset(frost.after);
                           bool const is_first = frost.edge == frost_edge::before_first_frost;
                           take((is_first ? model_.cold.autumn_half(after)
                                          : model_.cold.spring_half(after))
                                    .last +
                                1);
                       },
                       [&](dated_rule auto const& dated) {
                           take(dated.last_day());
                       }},
            of);
    }

    calendar_data const& data_;
    season_model const& model_;
    season const& window_;
    int needed_ = 1;
};

/// The length, and the years that it leaves.
struct shorter_season {
    int length;  ///< 0: none leaves more years
    std::vector<int> years;
};

/// Of the shorter seasons that are long enough, the longest with the most years, where that is more
/// than there are.
shorter_season shorter_with_most_years(climate const& under, year_lengths const& lengths,
                                       int needed) {
    shorter_season best{.length = 0, .years = {under.years().begin(), under.years().end()}};
    for (int const length : lengths.turning_points()) {
        if (length < needed || length >= under.season_days()) { continue; }
        std::vector<int> years = lengths.usable(length);
        bool const is_as_good = years.size() == best.years.size() && best.length != 0;
        if (years.size() > best.years.size() || (is_as_good && length > best.length)) {
            best = {length, std::move(years)};
        }
    }
    return best;
}

}  // namespace

std::vector<std::string> season_length_note(calendar_data const& of) {
    climate const& under = of.model->weather;
    plan_parts const& parts = of.model->planned.parts();
    // What was generated is as long as it was asked to be.
    if (under.is_chosen() || under.observed() || !under.record().origin().empty()) { return {}; }
    if (under.left_out().empty() && under.size() >= usual_years) { return {}; }

    year_lengths const lengths{under, parts.years.value_or(year_selection{})};
    if (!lengths.explains_climate()) { return {}; }
    auto const [best, years] = shorter_with_most_years(under, lengths, length_needed{of}.days());
    if (best == 0) { return {}; }
    std::vector<std::string> gained;
    for (int const year : years) {
        if (!std::binary_search(under.years().begin(), under.years().end(), year)) {
            gained.push_back(fmt::format("{}", year));
        }
    }
    return {fmt::format(
        "a season of {} days leaves {} season years; season_days = {} is enough for "
        "this plan and leaves {} ({} as well)",
        under.season_days(), under.size(), best, years.size(), fmt::join(gained, ", "))};
}

}  // namespace epicotyl::detail
