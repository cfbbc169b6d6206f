#include "said_obstacles.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/windows/why_unresolved.hpp>

#include "../rows/say.hpp"
#include "../rows/smallest.hpp"
#include "cure_trial.hpp"
#include "told.hpp"
#include "windows_data.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// So many cures of one succession are said.
constexpr std::size_t most_cures = 3;
/// Where something else cures, a season is begun earlier by no more days than these.
constexpr int a_little_sooner = 60;

/// The first number of first ... last that `cures`, the one before it not: by doubling steps and
/// halving, which finds the very first where what cures goes on curing. None where no step cures.
template <class Cures>
std::optional<int> first_that(int first, int last, Cures const& cures) {
    int bad = first - 1;
    for (int step = 1; bad < last; step *= 2) {
        int const probe = std::min(last, bad + step);
        if (cures(probe)) {
            return bad + *smallest(probe - bad, [&](int more) {
                       return bad + more == probe || cures(bad + more);
                   });
        }
        bad = probe;
    }
    return std::nullopt;
}

class cure_seeker {
public:
    explicit cure_seeker(calendar const& of)
        : of_{of},
          data_{*of.data()},
          model_{*data_.model},
          pieces_{model_.planned},
          seasons_{data_} {}

    /// Of one obstacle; the same for all obstacles of a succession.
    [[nodiscard]] std::vector<typed_cure> seek(obstacle const& what) {
        found_.clear();
        succession_ = model_.planned.succession_index(what.succession);
        if (what.code == "link.unresolved" || what.code == "repeat.unresolved") {
            found_.push_back({.code = "first", .succession = blamed(), .sentence = what.cure});
        } else if (what.code != "links.cycle" && what.code != "in_harvest.too_seldom") {
            cure_trial trial{data_, pieces_.piece_of(succession_), seasons_, succession_};
            trial_ = &trial;
            try_all(what.code);
            trial_ = nullptr;
        }
        if (found_.empty() && !what.cure.empty()) {
            found_.push_back({.code = "advice", .succession = written(), .sentence = what.cure});
        }
        if (found_.size() > most_cures) { found_.resize(most_cures); }
        return std::move(found_);
    }

private:
    [[nodiscard]] resolved_succession const& one() const {
        return model_.planned.successions()[at(succession_)];
    }
    [[nodiscard]] succession_days const& known() const {
        return data_.successions[at(succession_)];
    }
    [[nodiscard]] std::string written() const { return written_name(model_.planned, succession_); }
    [[nodiscard]] std::string event_text(int event) const {
        return say_event(event_name(*one().grown, event));
    }
    [[nodiscard]] day day_of(int offset) const {
        return model_.planned.window().start() + days{offset};
    }

    /// The succession without days that is to be helped first.
    [[nodiscard]] std::string blamed() const {
        std::vector<resolved_succession> const& all = model_.planned.successions();
        auto const has_none = [&](int i) {
            return !data_.successions[at(i)].resolved;
        };
        if (one().repeat_of && has_none(*one().repeat_of)) {
            return all[at(*one().repeat_of)].name;
        }
        for (resolved_link const& link : model_.planned.links()) {
            if (link.then.succession != succession_) { continue; }
            for (event_of const& first : link.firsts) {
                if (has_none(first.succession)) { return all[at(first.succession)].name; }
            }
        }
        return "";
    }

    void try_all(std::string_view code) {
        if (code.starts_with("risk.") || code.starts_with("frost.")) {
            try_rules(code);
            try_longer_season();
        } else if (code == "repeat.never") {
            try_longer_season();
        } else if (code == "target.too_early" || code == "not_after.broken" ||
                   code == "bound.after_target") {
            try_for_its_day(code);
            try_last();
        } else {
            try_bounds();
            try_reliability();
            try_longer_season();
            try_last();
        }
    }

    /// Of one that comes too late for the day that is asked for.
    void try_for_its_day(std::string_view code) {
        if (!one().repeat_of) {
            if (code == "not_after.broken") { try_target_sooner(); }
            bool const has_new_date = !found_.empty() && !has_date();
            if (!has_new_date) { try_target(known().asked + 1); }
        }
        try_bounds();
        if (code != "target.too_early") { try_default_risk(); }
        try_reliability();
        if (known().sowing == 0) {
            try_beginning(is_helped() ? a_little_sooner : most_days_sooner);
        }
    }

    /// What is dearest to try.
    void try_last() {
        if (!is_helped()) { try_requirements(); }
    }

    /// More than content with less.
    [[nodiscard]] bool is_helped() const {
        return std::any_of(found_.begin(), found_.end(), [](typed_cure const& had) {
            return had.code != "reliability" && had.code != "season_days";
        });
    }

    /// The target from an earlier day, the latest that does. Typed as a day in place of another
    /// rule, the day that the rule asks for may do already, and days after it.
    void try_target_sooner() {
        if (is_outcome(*one().grown, one().target_event)) { return; }
        int const asked = known().asked;
        auto const from = [&](int offset) {
            return typed_cure{
                .code = "target_sooner", .succession = written(), .when = day_of(offset)};
        };
        std::optional<int> const by =
            first_that(0, asked, [&](int some) { return trial_->cures(from(asked - some)); });
        if (!by) { return; }
        int day = asked - *by;
        while (*by == 0 && day < model_.season_days && trial_->cures(from(day + 1))) { ++day; }
        typed_cure made = from(day);
        std::string const when = say_day(model_.planned, day);
        made.sentence =
            asks_exactly(one().target_rule)
                ? fmt::format("aim for {}", when)
                : fmt::format("aim for {} from {}", event_text(one().target_event), when);
        found_.push_back(std::move(made));
    }

    /// The target for another day, the nearest from an offset on.
    void try_target(int first) {
        auto const on = [&](int offset) {
            return typed_cure{.code = "target", .succession = written(), .when = day_of(offset)};
        };
        auto const cures = [&](int offset) {
            return trial_->cures(on(offset));
        };
        std::optional<int> const day = first_target(first, cures);
        if (!day) { return; }
        typed_cure made = on(*day);
        made.is_or_later = is_or_later(*day, cures);
        char const* const date = has_date() ? "" : "a date: from ";
        made.sentence = fmt::format("aim for {}{}{}", date, say_day(model_.planned, *day),
                                    made.is_or_later ? " or later" : "");
        found_.push_back(std::move(made));
    }

    /// The first day of a target that cures, from an offset on.
    template <class Cures>
    [[nodiscard]] std::optional<int> first_target(int first, Cures const& cures) const {
        int const last = model_.season_days;
        std::optional<int> day = first_that(first, last, cures);
        // With a default bound a later day may belong to the next spring, and cure no more.
        for (int d = first; !day && has_default_bounds() && d <= last; ++d) {
            if (cures(d)) { day = d; }
        }
        // A rule without a date asked for another day than this, or for none.
        while (day && !has_date() && *day > 0 && cures(*day - 1)) { --*day; }
        return day;
    }

    /// True when every day after one that cures does, too.
    template <class Cures>
    [[nodiscard]] bool is_or_later(int day, Cures const& cures) const {
        if (!has_default_bounds() && !has_not_after()) { return true; }
        for (int d = day + 1; d <= model_.season_days; ++d) {
            if (!cures(d)) { return false; }
        }
        return true;
    }

    [[nodiscard]] bool has_date() const { return keeps_to_date(one().target_rule); }

    [[nodiscard]] bool has_default_bounds() const {
        std::vector<resolved_succession> const& all = trial_->piece().successions();
        return std::any_of(all.begin(), all.end(), [](resolved_succession const& other) {
            return other.risk.share().has_value();
        });
    }
    [[nodiscard]] bool has_not_after() const {
        return std::any_of(
            trial_->piece().successions().begin(), trial_->piece().successions().end(),
            [](resolved_succession const& other) { return !other.not_after.empty(); });
    }

    /// Bounds that the plan gives, by a date that is to give way.
    void try_bounds() {
        std::vector<event_bounds> const& bounds = known().bounds();
        for (int e = 0; e < static_cast<int>(bounds.size()); ++e) {
            if (bounds[at(e)].not_after < never) { allow_until(e, bounds[at(e)].not_after + 1); }
            for (bound_note const& note : bounds[at(e)].lower) {
                bool const is_given = !note.why.code.starts_with("bound.");
                if (is_given) { allow_from(e, std::min(note.day - 1, model_.season_days)); }
            }
        }
    }

    void allow_until(int event, int first) {
        auto const until = [&](int offset) {
            return typed_cure{.code = "not_after",
                              .succession = written(),
                              .event = std::string{event_name(*one().grown, event)},
                              .when = day_of(offset)};
        };
        std::optional<int> const day = first_that(
            first, model_.season_days, [&](int offset) { return trial_->cures(until(offset)); });
        if (!day) { return; }
        typed_cure made = until(*day);
        made.sentence =
            fmt::format("allow {} until {}", event_text(event), say_day(model_.planned, *day));
        found_.push_back(std::move(made));
    }

    /// The latest day, up to `last`, from which an event is to be allowed.
    void allow_from(int event, int last) {
        auto const from = [&](int offset) {
            return typed_cure{.code = "not_before",
                              .succession = written(),
                              .event = std::string{event_name(*one().grown, event)},
                              .when = day_of(offset)};
        };
        std::optional<int> const sooner =
            first_that(0, last, [&](int days) { return trial_->cures(from(last - days)); });
        if (!sooner) { return; }
        typed_cure made = from(last - *sooner);
        made.sentence = fmt::format("allow {} from {}", event_text(event),
                                    say_day(model_.planned, last - *sooner));
        found_.push_back(std::move(made));
    }

    /// Shares of season years, each above the one before, up to all.
    [[nodiscard]] std::vector<double> shares_above(double share) const {
        std::vector<double> shares;
        for (int k = allowed_years(share, model_.years) + 1; k <= model_.years; ++k) {
            // Rounded up, so that the number typed in allows so many.
            shares.push_back(std::ceil(100.0 * k / model_.years) / 100.0);
        }
        return shares;
    }

    void try_default_risk() {
        if (!one().risk.share()) { return; }
        for (double share : shares_above(one().risk.share()->value())) {
            typed_cure made{.code = "risk",
                            .succession = written(),
                            .number = share,
                            .sentence = fmt::format("accept risk = {:.2f}", share)};
            if (!trial_->cures(made)) { continue; }
            found_.push_back(std::move(made));
            return;
        }
        typed_cure made{.code = "no_risk", .succession = written(), .sentence = "set risk = false"};
        if (trial_->cures(made)) { found_.push_back(std::move(made)); }
    }

    /// Where a rule gives no day: another share, or a date.
    void try_rules(std::string_view code) {
        if (risk_rule const* const risk = risk_accepted(one().target_rule)) {
            for (double share : shares_above(risk->share.value())) {
                typed_cure made{.code = "target_risk", .succession = written(), .number = share};
                std::optional<calendar> const cured = trial_->cured(made);
                if (!cured) { continue; }
                int const i = cured->plan().succession_index(one().name);
                made.sentence =
                    fmt::format("risk = {:.2f} would give {}", share,
                                say_day(model_.planned, cured->data()->successions[at(i)].asked));
                found_.push_back(std::move(made));
                break;
            }
        }
        if (code.starts_with("risk.")) { try_default_risk(); }
        if (!one().repeat_of && asks_weather(one().target_rule)) { try_target(0); }
        for (event_bound const& given : one().not_before) {
            if (!asks_weather(given.rule)) { continue; }
            allow_from(*event_index(*one().grown, given.event), model_.season_days);
        }
        for (event_bound const& given : one().not_after) {
            if (asks_weather(given.rule)) {
                allow_until(*event_index(*one().grown, given.event), 0);
            }
        }
    }

    void try_reliability() {
        for (int good = std::max(known().need, known().link_need) - 1; 2 * good >= model_.years;
             --good) {
            // Rounded down, so that the number typed in is met.
            double const share = std::floor(100.0 * good / model_.years) / 100.0;
            if (share < 0.5) { return; }
            typed_cure made{.code = "reliability",
                            .succession = written(),
                            .number = share,
                            .sentence = fmt::format("be content with reliability {:.2f}", share)};
            if (!trial_->cures(made)) { continue; }
            found_.push_back(std::move(made));
            return;
        }
    }

    void try_beginning(int at_most) {
        int const most = std::min(at_most, longest_season - model_.season_days);
        auto const sooner = [&](int by) {
            return typed_cure{.code = "season_start",
                              .succession = written(),
                              .when = day_of(-by),
                              .number = static_cast<double>(model_.season_days + by)};
        };
        std::optional<int> const by =
            first_that(1, most, [&](int some) { return trial_->cures(sooner(some)); });
        if (!by || !seasons_.keeps_days(season{day_of(-*by), model_.season_days + *by})) { return; }
        typed_cure made = sooner(*by);
        made.sentence = season_start_text(*made.when, model_.season_days + *by);
        found_.push_back(std::move(made));
    }

    void try_longer_season() {
        auto const of_days = [&](int length) {
            return typed_cure{.code = "season_days",
                              .succession = written(),
                              .number = static_cast<double>(length),
                              .sentence = fmt::format("give season_days = {}", length)};
        };
        std::optional<int> const length =
            first_that(model_.season_days + 1, longest_season,
                       [&](int some) { return trial_->cures(of_days(some)); });
        if (length && seasons_.keeps_days(season{day_of(0), *length})) {
            found_.push_back(of_days(*length));
        }
    }

    /// What must pass, and links: by the proof.
    void try_requirements() {
        std::optional<unresolved_conflict> const why = why_unresolved(of_, one().name);
        if (!why || why->succession != one().name) { return; }
        for (cure const& help : why->cures) {
            found_.push_back({.code = "requirement",
                              .succession = written(),
                              .event = help.what.event,
                              .number = static_cast<double>(help.days),
                              .sentence = help.sentence});
        }
    }

    calendar const& of_;
    calendar_data const& data_;
    season_model const& model_;
    plan_pieces pieces_;
    other_seasons seasons_;
    std::vector<typed_cure> found_ = {};
    int succession_ = 0;
    cure_trial* trial_ = nullptr;
};

}  // namespace

void said_obstacles::seek(calendar const& of) const {
    std::call_once(sought_, [&] {
        std::vector<obstacle> said = of.data()->unresolved;
        if (said.empty()) { return; }
        std::vector<std::vector<typed_cure>> cures;
        cure_seeker seeker{of};
        for (obstacle& one : said) {
            bool const is_same =
                !cures.empty() && one.succession == said[cures.size() - 1].succession;
            cures.push_back(is_same ? cures.back() : seeker.seek(one));
            std::string text;
            for (typed_cure const& help : cures.back()) {
                text += (text.empty() ? "" : ", or ") + help.sentence;
            }
            one.cure = std::move(text);
        }
        obstacles_ = std::move(said);
        cures_ = std::move(cures);
    });
}

}  // namespace detail

std::vector<obstacle> const& calendar::unresolved() const {
    return data_->said.get<detail::said_obstacles>().all(*this);
}

std::vector<typed_cure> typed_cures(calendar const& of, std::string_view succession) {
    std::string const& name =
        of.plan().successions()[detail::at(of.plan().succession_index(succession))].name;
    std::vector<obstacle> const& all = of.unresolved();
    for (std::size_t k = 0; k < all.size(); ++k) {
        if (all[k].succession == name) {
            return of.data()->said.get<detail::said_obstacles>().cures(of, k);
        }
    }
    return {};
}

}  // namespace epicotyl
