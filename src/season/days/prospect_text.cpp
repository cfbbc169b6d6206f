// The printed form of a prospect: a block for each succession.

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/fmt.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/explain.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../detail/text_table.hpp"
#include "../../detail/wrapped.hpp"
#include "../rows/say.hpp"
#include "lost.hpp"
#include "night_cautions.hpp"
#include "notes.hpp"
#include "prospect_data.hpp"
#include "sheet_head.hpp"

namespace epicotyl {

namespace {

using detail::at;
using detail::say_event;
using detail::say_years;

class block_writer {
public:
    block_writer(prospect const& of, int succession)
        : of_{of},
          data_{*of.data()},
          plan_{of.calendar().plan()},
          i_{succession},
          one_{plan_.successions()[at(succession)]} {}

    [[nodiscard]] std::string write() {
        text_ = detail::wrapped(fmt::format("{} ({}, {})\n", one_.name, one_.grown->name,
                                            detail::say_how_much(plan_, one_.amount)));
        if (!of_.calendar().date(i_, 0)) {
            no_date();
            return std::move(text_);
        }
        days();
        cold();
        nights();
        other_harm();
        reasons();
        return std::move(text_);
    }

private:
    void add(std::string_view head, std::string_view what) {
        text_ += detail::hanging(fmt::format("  {}", head), what);
    }

    void no_date() {
        for (obstacle const& one : of_.calendar().data()->unresolved) {
            if (one.succession == one_.name) {
                add("no workable date: ", one.sentence);
                return;
            }
        }
        add("", "no workable date");
    }

    /// Every event: its planned day, when it comes, and how often it has come by that day.
    void days() {
        detail::text_table table;
        table.add({"", "planned", "early", "usual", "late", "in time"});
        std::span<std::int16_t const> const nights = data_.lost(i_);
        int const picked = lost_until(*one_.grown);
        for (int e = 0; e < event_count(*one_.grown); ++e) {
            std::span<std::int16_t const> const row = data_.days().row_days(i_, e);
            bool const is_picked = picked >= 0 && e >= picked;
            auto const quantile = [&](double q) {
                int const day = is_picked ? detail::quantile_of_living(row, nights, q)
                                          : detail::quantile_of(row, q);
                return detail::say_day(plan_, day);
            };
            std::string planned;
            std::string in_time;
            if (!is_outcome(*one_.grown, e)) {
                std::optional<day> const when = of_.calendar().date(i_, e);
                int const offset = when ? plan_.window().offset_of(*when) : never;
                planned = detail::say_day(plan_, offset);
                auto const count = std::count_if(
                    row.begin(), row.end(), [&](int day) { return day <= offset && day < never; });
                if (e > 0) { in_time = say_years(static_cast<int>(count), data_.model->years); }
            }
            table.add({say_event(event_name(*one_.grown, e)), planned, quantile(0.1), quantile(0.5),
                       quantile(0.9), in_time});
        }
        text_ += table.text();
    }

    void cold() {
        int const lost = detail::lost_years(data_.lost(i_));
        if (lost > 0) {
            add("", detail::say_lost(lost, data_.model->years) +
                        (lost < data_.model->years ? "; harvest days are those of the other years"
                                                   : ""));
        }
        damage_report const cold = of_.damage(one_.name);
        std::string said = cold.damaged == 0 ? fmt::format("none in {} years", cold.years)
                                             : say_years(cold.damaged, cold.years);
        if (cold.damaged_heater_off > cold.damaged) {
            said += fmt::format("; with the heater off: {}", cold.damaged_heater_off);
        }
        if (cold.damaged_cover_off > cold.damaged) {
            said += fmt::format("; left uncovered: {}", cold.damaged_cover_off);
        }
        add("damage by cold: ", said);
    }

    /// "none in the usual year, 6 or more in 1 year in 10".
    void nights() {
        std::vector<int> nights = of_.nights_to_act(std::nullopt, one_.name);
        std::sort(nights.begin(), nights.end());
        int const n = static_cast<int>(nights.size());
        int const usual = nights[at(detail::needed_years(0.5, n) - 1)];
        int const bad = nights[at(detail::needed_years(0.9, n) - 1)];
        if (bad == 0) { return; }
        add("nights to cover or heat: ",
            fmt::format("{} in the usual year, {} or more in 1 year in 10",
                        usual == 0 ? "none" : fmt::format("{}", usual), bad));
    }

    void other_harm() {
        damage_report const hot = of_.too_hot(one_.name);
        if (hot.damaged > 0) { add("too hot: ", say_years(hot.damaged, hot.years)); }
        overheld_report const held = of_.overheld(one_.name);
        if (held.overheld > 0) {
            add("held too long, at risk of binding its roots: ",
                say_years(held.overheld, held.years));
        }
    }

    void reasons() {
        auto const said =
            explain(of_.calendar(), one_.name, event_name(*one_.grown, one_.target_event));
        add("why: ", said.front().sentence);
        detail::calendar_data const& planned = *of_.calendar().data();
        for (detail::risk_excess const& excess : planned.successions[at(i_)].beyond_risk) {
            add("note: ", detail::why_beyond_risk(planned, i_, excess).sentence);
        }
        if (!one_.grown->caution.empty()) { add("caution: ", one_.grown->caution); }
    }

    prospect const& of_;
    detail::prospect_data const& data_;
    plan const& plan_;
    int i_;
    resolved_succession const& one_;
    std::string text_ = {};
};

}  // namespace

std::string to_string(prospect const& of) {
    plan const& planned = of.calendar().plan();
    std::string text = detail::sheet_head(of.calendar());
    if (of.climate() != of.calendar().climate()) {
        text += fmt::format("Gone through in other years: {}.\n",
                            to_string(of.climate(), of.calendar().plan().parts().units));
    }
    text +=
        "early, usual, late: the day by which it has come in 1, 5 and 9 years in 10.\n"
        "in time: years in which it has come by the planned day.\n";
    text = detail::wrapped(text);
    for (int i = 0; i < static_cast<int>(planned.successions().size()); ++i) {
        text += '\n' + block_writer{of, i}.write();
    }
    std::string const cautions = detail::plan_cautions(told_by::prospect, planned);
    return cautions.empty() ? text : text + '\n' + detail::wrapped(cautions);
}

}  // namespace epicotyl
