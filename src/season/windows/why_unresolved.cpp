#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/windows/why_unresolved.hpp>

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../rows/say.hpp"
#include "../rows/smallest.hpp"
#include "claim_counter.hpp"
#include "cure_trial.hpp"
#include "told.hpp"
#include "windows_data.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// So many days more than a network asks for are tried.
constexpr int most_days_beyond = 60;

class unresolved_teller {
public:
    explicit unresolved_teller(calendar const& of)
        // The calendar's day is what comes of the plan; here counts what is asked.
        : of_{of}, data_{*of.data()}, frame_{make_window_frame(of.data(), target_kept::asked)} {}

    [[nodiscard]] std::optional<unresolved_conflict> tell(int succession) {
        std::optional<int> const root = root_of(succession);
        if (!root) { return std::nullopt; }
        int const i = *root;
        if (!frame_.batches[at(i)].is_in || data_.successions[at(i)].bounds().empty()) {
            return std::nullopt;
        }
        claim_counter counter{frame_, waited_for(i)};
        claim_counter::counted const found = counter.count(i);
        int const need = data_.successions[at(i)].need;
        if (found.good >= need) { return std::nullopt; }
        season_model const& model = *data_.model;
        unresolved_conflict made{
            .succession = name(i), .years = model.years, .needed = need, .possible = found.good};
        std::vector<named_row> rows;
        std::vector<std::pair<int, season_conflict>> proofs;
        std::vector<requirement_row> all;
        for (int y : found.failed) {
            auto const network = counter.network(found.asked, y);
            walk const proof = network->net.least().conflict();
            for (named_row const& one : named_rows(*network, proof)) { add_once(rows, one); }
            proofs.emplace_back(y, told(frame_, *network, proof));
            all = network->rows;
        }
        add_what_is_behind(rows, all);
        count_failures(made, proofs);
        auto const told_one = std::find_if(proofs.begin(), proofs.end(), [&](auto const& one) {
            return model.weather.years()[at(one.first)] == made.failures.front().years.front();
        });
        made.year = made.failures.front().years.front();
        made.proof = told_one->second;
        made.cures = cures(counter, i, rows, found.asked.target_by);
        made.sentence = sentence(made);
        return made;
    }

private:
    [[nodiscard]] std::string const& name(int i) const {
        return of_.plan().successions()[at(i)].name;
    }

    /// The succession without days for which `i` has none; `i` itself where it waits for nobody
    /// without. None where links go in a circle.
    [[nodiscard]] std::optional<int> root_of(int i) const {
        std::set<int> met;
        while (met.insert(i).second) {
            if (data_.successions[at(i)].resolved) { return std::nullopt; }
            std::optional<int> before;
            std::optional<int> const first = of_.plan().successions()[at(i)].repeat_of;
            if (first && !data_.successions[at(*first)].resolved) { before = first; }
            for (resolved_link const& link : of_.plan().links()) {
                if (link.then.succession != i) { continue; }
                for (event_of const& one : link.firsts) {
                    if (!before && !data_.successions[at(one.succession)].resolved) {
                        before = one.succession;
                    }
                }
            }
            if (!before) { return i; }
            i = *before;
        }
        return std::nullopt;
    }

    /// All that a succession waits for, those waited for before those that wait, and it last.
    [[nodiscard]] std::vector<int> waited_for(int succession) const {
        std::set<int> found;
        std::vector<int> open{succession};
        while (!open.empty()) {
            int const i = open.back();
            open.pop_back();
            auto const add = [&](event_of const& first) {
                if (found.insert(first.succession).second) { open.push_back(first.succession); }
            };
            for (requirement_row const& row : frame_.batches[at(i)].rows) {
                if (row.kind == requirement_kind::link) {
                    std::ranges::for_each(frame_.counted_from(row), add);
                }
            }
        }
        std::vector<int> order;
        for (int i : data_.order) {
            if (found.contains(i)) { order.push_back(i); }
        }
        order.push_back(succession);
        return order;
    }

    static void add_once(std::vector<named_row>& rows, named_row const& one) {
        if (std::ranges::find(rows, one.row, &named_row::row) == rows.end()) {
            rows.push_back(one);
        }
    }

    /// A day that is kept for other years' sake comes from requirements that no proof names.
    void add_what_is_behind(std::vector<named_row>& rows,
                            std::vector<requirement_row> const& all) const {
        bool const is_planned = std::ranges::any_of(
            rows, [&](named_row const& one) { return one.what.kind == requirement_kind::planned; });
        if (!is_planned) { return; }
        add_once(rows, {});
        for (int row = 0; row < static_cast<int>(all.size()); ++row) {
            requirement_row what = all[at(row)];
            if (what.to == no_event) { continue; }
            if (what.awaited >= 0) { what.from = frame_.sources[at(what.awaited)].last; }
            add_once(rows, {row, what});
        }
    }

    void count_failures(unresolved_conflict& made,
                        std::vector<std::pair<int, season_conflict>> const& proofs) const {
        for (auto const& one : proofs) {
            int const year = data_.model->weather.years()[at(one.first)];
            requirement const& broken = one.second.broken;
            auto const known =
                std::find_if(made.failures.begin(), made.failures.end(),
                             [&](window_failure const& had) { return had.broken == broken; });
            if (known == made.failures.end()) {
                made.failures.push_back({.broken = broken, .years = {year}});
            } else {
                known->years.push_back(year);
            }
        }
        std::stable_sort(made.failures.begin(), made.failures.end(),
                         [](window_failure const& a, window_failure const& b) {
                             return a.years.size() > b.years.size();
                         });
    }

    [[nodiscard]] std::vector<cure> cures(claim_counter& counter, int succession,
                                          std::vector<named_row> const& rows, int target_by) {
        plan const& whole = of_.plan();
        other_seasons seasons{data_};
        cure_trial trial{data_, plan_pieces{whole}.piece_of(succession), seasons, succession};
        std::vector<cure> found;
        for (named_row const& named : rows) {
            std::optional<cure> one = named.row < 0
                                          ? sooner(trial, seasons, succession)
                                          : relaxed(counter, trial, succession, named, target_by);
            if (one) { found.push_back(std::move(*one)); }
        }
        std::stable_sort(found.begin(), found.end(),
                         [](cure const& a, cure const& b) { return a.days < b.days; });
        return found;
    }

    /// The day that a bound or a target says, from which it gives way; none of what is no day.
    [[nodiscard]] std::optional<int> day_of(requirement_row const& what, int target_by) const {
        switch (what.kind) {
            case requirement_kind::not_before:
            case requirement_kind::not_after:
                return what.days;
            case requirement_kind::target:
                return what.is_upper ? target_by : data_.successions[at(what.to.succession)].asked;
            default:
                return std::nullopt;
        }
    }

    [[nodiscard]] std::optional<cure> relaxed(claim_counter& counter, cure_trial& trial,
                                              int succession, named_row const& named,
                                              int target_by) const {
        requirement_row const& what = named.what;
        requirement const said = told(frame_, what);
        // Nobody can ask a plant to come later than it does, nor a member of a repeat alone.
        bool const is_aim = what.kind == requirement_kind::target;
        bool const nobody_can =
            (what.kind == requirement_kind::stage && what.is_upper) ||
            (is_aim && of_.plan().successions()[at(what.to.succession)].repeat_of);
        if (nobody_can || cure_text(said, 1).empty()) { return std::nullopt; }
        int const most = data_.model->season_days;
        std::optional<int> days = smallest(most, [&](int give) {
            given_way const way{named.row, what, give};
            // Asked for earlier, what is waited for must still have days itself.
            return counter.is_met(succession, way) &&
                   (!is_aim || what.to.succession == succession ||
                    counter.is_met(what.to.succession, way));
        });
        if (!days) { return std::nullopt; }
        days = settled_by_typing(trial, said, day_of(what, target_by), *days, most);
        if (!days) { return std::nullopt; }
        cure made{.what = said, .days = *days, .sentence = cure_text(said, *days)};
        if (is_aim && what.is_upper) {
            made.sentence += fmt::format(": on {}", say_day(of_.plan(), target_by + *days));
        }
        return made;
    }

    /// Typed into the plan a day may do more than the network sees: it takes the place of a default
    /// bound, or moves the spring of another.
    [[nodiscard]] std::optional<int> settled_by_typing(cure_trial& trial, requirement const& said,
                                                       std::optional<int> bound, int found,
                                                       int most) const {
        climate const& weather = data_.model->weather;
        auto const cures_it = [&](int give) {
            std::optional<plan> const typed = trial.typed(said, bound, give);
            return typed && trial.cured(*typed, weather);
        };
        if (!trial.typed(said, bound, found)) {
            // No number of days says it: of heat, a warmer place does.
            return said.kind == requirement_kind::stage || said.kind == requirement_kind::link
                       ? std::optional{found}
                       : std::nullopt;
        }
        if (cures_it(found)) {
            while (found > 1 && cures_it(found - 1)) { --found; }
            return found;
        }
        for (int give = found + 1; give <= std::min(most, found + most_days_beyond); ++give) {
            if (cures_it(give)) { return give; }
        }
        return std::nullopt;
    }

    [[nodiscard]] std::optional<cure> sooner(cure_trial& trial, other_seasons& seasons,
                                             int succession) const {
        season_model const& model = *data_.model;
        auto const begun = [&](int by) {
            return model.planned.window().start() - days{by};
        };
        // Not every longer season can be cut from the record, so the most is sought by doubling.
        auto const cures_it = [&](int by) {
            return trial.cures({.code = "season_start",
                                .when = begun(by),
                                .number = static_cast<double>(model.season_days + by)});
        };
        int const most = std::min(most_days_sooner, longest_season - model.season_days);
        int good = 1;
        while (good <= most && !cures_it(good)) { good *= 2; }
        if (good > most) { return std::nullopt; }
        std::optional<int> const found = smallest(good, cures_it);
        if (!seasons.keeps_days(season{begun(*found), model.season_days + *found})) {
            return std::nullopt;
        }
        return cure{.what = told_season_start(frame_, {succession, 0}),
                    .days = *found,
                    .sentence = season_start_text(begun(*found), model.season_days + *found)};
    }

    [[nodiscard]] static std::string sentence(unresolved_conflict const& of) {
        std::string text =
            fmt::format("\"{}\" can be kept in {}, and {} are wanted; in {}: {}", of.succession,
                        say_years(of.possible, of.years), of.needed, of.year, of.proof.sentence);
        for (cure const& one : of.cures) {
            text += (&one == &of.cures.front() ? "; " : ", or ") + one.sentence;
        }
        return text;
    }

    calendar const& of_;
    calendar_data const& data_;
    window_frame frame_;
};

}  // namespace

}  // namespace detail

std::optional<unresolved_conflict> why_unresolved(calendar const& of, std::string_view succession) {
    return detail::unresolved_teller{of}.tell(of.plan().succession_index(succession));
}

}  // namespace epicotyl
