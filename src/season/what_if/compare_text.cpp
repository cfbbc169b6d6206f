// The printed form of a comparison: every move once.
#include <epicotyl/season/what_if/compare.hpp>

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "../../detail/wrapped.hpp"
#include "../rows/say.hpp"

namespace epicotyl {

namespace {

class comparison_writer {
public:
    explicit comparison_writer(calendar_comparison const& of) : of_{of}, year_{first_year(of)} {}

    [[nodiscard]] std::string write() {
        if (of_.moved.empty() && of_.inputs.empty()) { return "Nothing differs.\n"; }
        head();
        for (changed_input const& one : of_.inputs) { input(one); }
        std::vector<moved_event> const rest = not_told(of_.moved);
        if (!rest.empty()) {
            if (!of_.inputs.empty()) { text_ += "\nOnly all changes together move:\n"; }
            add(rest);
        }
        return std::move(text_);
    }

private:
    [[nodiscard]] static std::optional<int> first_year(calendar_comparison const& of) {
        std::optional<int> first;
        auto const look = [&](std::optional<day> const& when) {
            if (when) {
                first = std::min(first.value_or(detail::year_of(*when)), detail::year_of(*when));
            }
        };
        auto const look_at = [&](std::vector<moved_event> const& moves) {
            for (moved_event const& one : moves) {
                look(one.before);
                look(one.after);
            }
        };
        look_at(of.moved);
        for (changed_input const& one : of.inputs) { look_at(one.moves); }
        return first;
    }

    void head() {
        if (of_.moved.empty()) {
            text_ += "No planned day moves.\n";
        } else {
            text_ += fmt::format("{} planned day{}", of_.moved.size(),
                                 of_.moved.size() == 1 ? " moves" : "s move");
            text_ += fmt::format(" (in {} where no year is given).\n", *year_);
        }
    }

    void input(changed_input const& one) {
        text_ += fmt::format("\n{}\n", one.field);
        text_ += detail::hanging("  before: ", one.before.empty() ? "nothing" : one.before);
        text_ += detail::hanging("  after:  ", one.after.empty() ? "nothing" : one.after);
        if (!one.stands_alone) {
            text_ += "  The plan cannot be made with this change alone.\n";
        } else if (one.moves.empty()) {
            text_ += "  Alone it moves nothing.\n";
        } else {
            std::vector<moved_event> const rest = not_told(one.moves);
            text_ += rest.size() == one.moves.size() ? "  Alone it moves:\n"
                     : rest.empty()                  ? "  Alone it moves the same.\n"
                                                     : "  Alone it moves some of the same, and:\n";
            add(rest);
        }
    }

    [[nodiscard]] std::vector<moved_event> not_told(std::vector<moved_event> const& of) const {
        std::vector<moved_event> rest;
        std::copy_if(of.begin(), of.end(), std::back_inserter(rest), [&](moved_event const& one) {
            return std::find(told_.begin(), told_.end(), one) == told_.end();
        });
        return rest;
    }

    [[nodiscard]] std::string say(day when) const {
        return detail::year_of(when) == *year_ ? to_day_month(when, of_.units)
                                               : to_day_month_year(when, of_.units);
    }

    /// What becomes of a day: "7 days later"; what is said once of events that follow one another.
    [[nodiscard]] static std::string kind_of(moved_event const& one) {
        if (!one.before) { return "new"; }
        if (!one.after) { return "no day any more"; }
        return fmt::format("{} {}", detail::say_days(std::abs(*one.days())),
                           *one.days() > 0 ? "later" : "earlier");
    }

    [[nodiscard]] std::string say(moved_event const& one) const {
        std::string const event = detail::say_event(one.event);
        if (one.before && one.after) {
            return fmt::format("{} {} to {}", event, say(*one.before), say(*one.after));
        }
        return fmt::format("{} {}", event, say(one.before ? *one.before : *one.after));
    }

    /// A line for each succession.
    void add(std::vector<moved_event> const& moves) {
        for (std::size_t i = 0; i < moves.size();) {
            std::string line;
            std::size_t k = i;
            for (; k < moves.size() && moves[k].succession == moves[i].succession; ++k) {
                bool const goes_on = k > i && kind_of(moves[k]) == kind_of(moves[k - 1]);
                if (k > i && !goes_on) { line += fmt::format(": {}; ", kind_of(moves[k - 1])); }
                line += (goes_on ? ", " : "") + say(moves[k]);
                told_.push_back(moves[k]);
            }
            text_ += detail::wrapped(
                fmt::format("    {}: {}: {}\n", moves[i].succession, line, kind_of(moves[k - 1])));
            i = k;
        }
    }

    calendar_comparison const& of_;
    std::optional<int> year_;  ///< of days without one
    std::vector<moved_event> told_ = {};
    std::string text_ = {};
};

}  // namespace

std::string to_string(calendar_comparison const& of) {
    return comparison_writer{of}.write();
}

}  // namespace epicotyl
