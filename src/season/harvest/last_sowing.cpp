#include "last_sowing.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../days/lost.hpp"
#include "../days/path_walker.hpp"
#include "../rows/rule_days.hpp"
#include "../rows/say.hpp"

namespace epicotyl::detail {

namespace {

class sower {
public:
    sower(season_model const& model, spring_choice const* springs, season_limits const& limits)
        : model_{model},
          limits_{limits},
          known_(model.planned.successions().size()),
          event_{*event_index(*model.planned.successions().front().grown, "first_harvest")},
          table_{make_days_table(model)} {
        table_.give_rows(0);
        known_.front().target_day = never;
        known_.front().hold(bounds_of(model, 0, springs, problems_));
    }

    [[nodiscard]] last_sowing find_last(int needed) {
        last_sowing found{.needed = needed, .years = model_.years};
        if (!problems_.empty()) {
            found.sentence = problems_.front().sentence;
            return found;
        }
        season const& window = model_.planned.window();
        int const earliest = bounds().front().not_before;
        int best = earliest;  // of those that will not do
        // From the last day back: sown too early it may be lost to cold, so that the count rises
        // before it falls.
        for (int s = model_.season_days; s >= earliest && !found.sowing; --s) {
            int const good = sow_on(s);
            if (good >= needed) {
                found.sowing = window.start() + days{s};
                found.good = good;
            } else {
                found.good_one_day_later = good;
                if (good >= found.good) {
                    found.good = good;
                    best = s;
                }
            }
        }
        int const fails = found.sowing ? window.offset_of(*found.sowing) + 1 : best;
        if (fails <= model_.season_days) {
            (void)sow_on(fails);
            found.limit = what_fails();
        }
        if (found.sowing) {
            found.sentence = say_latest(found);
        } else {
            found.good_one_day_later = 0;
            found.sentence = say_none(found, best == earliest ? 0 : best);
        }
        return found;
    }

private:
    [[nodiscard]] std::vector<event_bounds> const& bounds() const {
        return known_.front().bounds();
    }
    [[nodiscard]] int picked(int year) const { return table_.at(0, event_, year); }
    [[nodiscard]] bool lives(int year) const {
        return lost_night(model_, table_, 0, year) >= never;
    }

    /// Walks all season years; in how many of them it lives and is in time.
    [[nodiscard]] int sow_on(int sowing) {
        path_walker const walker{model_, known_};
        walker.walk_all(table_, 0, sowing, 0);
        int good = 0;
        for (int y = 0; y < model_.years; ++y) {
            good += limits_.allow(picked(y), y) && walker.is_good(table_, 0, y) && lives(y) ? 1 : 0;
        }
        return good;
    }

    /// What the walked days break in most years, ties in the order of `sowing_limit`.
    [[nodiscard]] sowing_limit what_fails() const {
        std::array<int, 5> broken{};
        auto const count = [&](sowing_limit what, bool is_broken) {
            broken[static_cast<std::size_t>(what)] += is_broken ? 1 : 0;
        };
        for (int y = 0; y < model_.years; ++y) {
            bool const comes = picked(y) < never;
            count(sowing_limit::frost, comes && picked(y) >= limits_.frost[at(y)]);
            count(sowing_limit::day_length, comes && picked(y) >= limits_.short_days);
            count(sowing_limit::not_after, is_after_a_bound(y));
            count(sowing_limit::season, !comes);
            count(sowing_limit::lost, !lives(y));
        }
        return static_cast<sowing_limit>(std::max_element(broken.begin(), broken.end()) -
                                         broken.begin());
    }

    [[nodiscard]] bool is_after_a_bound(int year) const {
        for (int e = 0; e < static_cast<int>(bounds().size()); ++e) {
            int const day = table_.at(0, e, year);
            if (day < never && day > bounds()[at(e)].not_after) { return true; }
        }
        return false;
    }

    /// "before the first frost (0 °C)".
    [[nodiscard]] std::string say_limit(sowing_limit limit) const {
        plan const& planned = model_.planned;
        switch (limit) {
            case sowing_limit::frost:
                return fmt::format("before the first frost ({})",
                                   say_temperature(planned, planned.parts().frost.at.celsius()));
            case sowing_limit::day_length:
                return fmt::format("before days grow too short on {}",
                                   say_day(planned, limits_.short_days));
            case sowing_limit::not_after:
                return "within its not_after";
            case sowing_limit::season:
                return "before the season ends";
            case sowing_limit::lost:
                return "before cold loses it";
        }
        return "";
    }

    /// `best` is the best sowing that will not do; 0: the earliest.
    [[nodiscard]] std::string say_none(last_sowing const& found, int best) const {
        return fmt::format(
            "no sowing is of use: even the {} is picked {} {}, and {} are wanted",
            best == 0 ? "earliest" : "best, on " + say_day(model_.planned, best) + ',',
            say_limit(found.limit), say_in_only(found.good, found.years), found.needed);
    }

    [[nodiscard]] std::string say_latest(last_sowing const& found) const {
        plan const& planned = model_.planned;
        std::string text = fmt::format("sow on {} at the latest: picked {} in {}",
                                       say_day(planned, planned.window().offset_of(*found.sowing)),
                                       say_limit(found.limit), say_years(found.good, found.years));
        if (found.good_one_day_later < found.needed) {
            text += fmt::format("; sown a day later, in {}, and {} are wanted",
                                found.good_one_day_later, found.needed);
        }
        return text;
    }

    season_model const& model_;
    season_limits const& limits_;
    std::vector<obstacle> problems_;
    std::vector<succession_days> known_;
    int event_;
    days_table table_;
};

}  // namespace

last_sowing find_last_sowing(season_model const& model, spring_choice const* springs,
                             season_limits const& limits, int needed) {
    return sower{model, springs, limits}.find_last(needed);
}

}  // namespace epicotyl::detail
