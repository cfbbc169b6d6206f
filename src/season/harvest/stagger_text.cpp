// The printed form of staggered sowings.
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/harvest/stagger.hpp>
#include <epicotyl/weather/climate.hpp>

#include <algorithm>

#include <fmt/format.h>

#include "../../detail/text_table.hpp"
#include "../../detail/wrapped.hpp"
#include "../rows/say.hpp"

namespace epicotyl {

namespace {

class writer {
public:
    explicit writer(staggered const& of) : of_{of}, planned_{of.plan()} {}

    std::string write() {
        head();
        sowings();
        coverage();
        for (obstacle const& one : of_.left_out()) {
            text_ += fmt::format("Not sown: {}: {}{}{}\n", one.succession, one.sentence,
                                 one.cure.empty() ? "" : "; ", one.cure);
        }
        return std::move(text_);
    }

private:
    [[nodiscard]] std::string say(std::optional<day> when) const {
        return detail::say_day(planned_, when ? planned_.window().offset_of(*when) : never);
    }

    void head() {
        stagger_options const& asked = of_.options();
        text_ = fmt::format("{}, picked from {}", of_.crop(), say(asked.first));
        if (of_.until()) { text_ += fmt::format(" to {}", say(of_.until())); }
        text_ += asked.every
                     ? fmt::format(", a first harvest every {}", detail::say_days(*asked.every))
                     : fmt::format(", {} first harvests", *asked.count);
        text_ += fmt::format(", in {:g} % of years\n", of_.reliability().value() * 100.0);
        if (!of_.climate().origin().empty()) {
            text_ +=
                fmt::format("Season years: {}\n", of_.climate().origin(planned_.parts().units));
        }
    }

    /// What is to be sown, the last day for it, and what would come too late.
    void sowings() {
        last_sowing const& last = of_.last_useful();
        std::vector<staggered_sowing> const& all = of_.sowings();
        auto const late = std::find_if(all.begin(), all.end(), [&](staggered_sowing const& one) {
            return !last.sowing || one.sowing > *last.sowing;
        });
        auto const in_time = static_cast<std::size_t>(late - all.begin());
        table(0, in_time);
        if (!last.sentence.empty()) { text_ += fmt::format("{}\n", last.sentence); }
        if (in_time == all.size()) { return; }
        text_ += in_time == 0 ? "Of no use in enough years:\n"
                              : "Too late to be of use in enough years, not to be sown:\n";
        table(in_time, all.size());
    }

    void table(std::size_t from, std::size_t until) {
        if (from == until) { return; }
        std::vector<staggered_sowing> const& rows = of_.sowings();
        bool const is_lost = std::any_of(rows.begin(), rows.end(),
                                         [](staggered_sowing const& one) { return one.lost > 0; });
        detail::text_table made;
        std::vector<std::string> head = {"",      "sow",   "apart", "picked from",
                                         "apart", "early", "late",  "in time"};
        if (is_lost) { head.push_back("lost to cold"); }
        made.add(std::move(head));
        for (std::size_t k = from; k < until; ++k) {
            staggered_sowing const& one = rows[k];
            auto const apart = [&](day staggered_sowing::*of) {
                return k == 0 ? std::string{}
                              : fmt::format("{} d", (one.*of - rows[k - 1].*of).count());
            };
            auto const of_years = [&](int count) {
                return fmt::format("{}/{}", count, of_.last_useful().years);
            };
            std::vector<std::string> line = {one.name,
                                             say(one.sowing),
                                             apart(&staggered_sowing::sowing),
                                             say(one.usual),
                                             apart(&staggered_sowing::usual),
                                             say(one.early),
                                             say(one.late),
                                             of_years(one.in_time)};
            if (is_lost) { line.push_back(of_years(one.lost)); }
            made.add(std::move(line));
        }
        text_ += made.text();
    }

    void coverage() {
        std::vector<harvest_week> const& weeks = of_.weeks();
        if (weeks.empty()) { return; }
        auto const covered = std::count_if(weeks.begin(), weeks.end(),
                                           [](harvest_week const& one) { return one.covered; });
        text_ += fmt::format("In harvest in {} of {} weeks", covered, weeks.size());
        for (std::size_t k = 0; k < of_.gaps().size(); ++k) {
            harvest_gap const& gap = of_.gaps()[k];
            text_ += k == 0 ? "; days with nothing to pick: " : ", ";
            text_ += gap.from == gap.until ? say(gap.from)
                                           : fmt::format("{} to {}", say(gap.from), say(gap.until));
        }
        text_ += '\n';
    }

    staggered const& of_;
    plan const& planned_;
    std::string text_;
};

}  // namespace

std::string to_string(staggered const& of) {
    return detail::wrapped(writer{of}.write());
}

}  // namespace epicotyl
