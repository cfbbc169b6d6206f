// The printed form of staggered sowings.
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/harvest/stagger.hpp>
#include <epicotyl/weather/climate.hpp>

#include <algorithm>

#include <fmt/format.h>

#include "../../detail/wrapped.hpp"
#include "../rows/say.hpp"

namespace epicotyl {

namespace {

class writer {
public:
    explicit writer(staggered const& of) : of_{of}, planned_{of.plan()} {}

    std::string write() {
        head();
        table();
        if (!of_.last_useful().sentence.empty()) {
            text_ += fmt::format("{}\n", of_.last_useful().sentence);
        }
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
        text_ += fmt::format(" (reliability {:g})\n", of_.reliability().value());
        if (!of_.climate().origin().empty()) {
            text_ += fmt::format("Season years: {}\n", of_.climate().origin());
        }
    }

    void table() {
        std::vector<staggered_sowing> const& rows = of_.sowings();
        if (rows.empty()) { return; }
        std::size_t width = 0;
        bool is_lost = false;
        for (staggered_sowing const& one : rows) {
            width = std::max(width, one.name.size());
            is_lost = is_lost || one.lost > 0;
        }
        text_ += fmt::format("{:{}}  {:>11} {:>5}  {:>11} {:>5}  {:>11}  {:>11}  {:>7}{}\n", "",
                             width, "sow", "after", "picked from", "after", "early", "late",
                             "in time", is_lost ? "  lost to cold" : "");
        for (std::size_t k = 0; k < rows.size(); ++k) {
            staggered_sowing const& one = rows[k];
            auto const after = [&](day staggered_sowing::*of) {
                return k == 0 ? std::string{}
                              : fmt::format("{} d", (one.*of - rows[k - 1].*of).count());
            };
            auto const of_years = [&](int count) {
                return fmt::format("{}/{}", count, of_.last_useful().years);
            };
            text_ += fmt::format("{:{}}  {:>11} {:>5}  {:>11} {:>5}  {:>11}  {:>11}  {:>7}{}\n",
                                 one.name, width, say(one.sowing), after(&staggered_sowing::sowing),
                                 say(one.usual), after(&staggered_sowing::usual), say(one.early),
                                 say(one.late), of_years(one.in_time),
                                 is_lost ? fmt::format("  {:>12}", of_years(one.lost)) : "");
        }
    }

    void coverage() {
        std::vector<harvest_week> const& weeks = of_.weeks();
        if (weeks.empty()) { return; }
        auto const covered = std::count_if(weeks.begin(), weeks.end(),
                                           [](harvest_week const& one) { return one.covered; });
        text_ += fmt::format("In harvest in {} of {} weeks", covered, weeks.size());
        for (std::size_t k = 0; k < of_.gaps().size(); ++k) {
            harvest_gap const& gap = of_.gaps()[k];
            text_ += k == 0 ? "; days without: " : ", ";
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
