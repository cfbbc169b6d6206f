#include "fit_trials.hpp"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <memory>
#include <tuple>

#include <fmt/format.h>

#include <epicotyl/amounts/alive.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../season/days/calendar_data.hpp"
#include "../../season/days/damage.hpp"
#include "../../season/days/lost.hpp"

namespace epicotyl::detail {

namespace {

/// The plan with each change as a batch of its own, after all that are planned.
class trial_plan {
public:
    trial_plan(calendar_data const& of, std::vector<std::pair<int, batch_change>> const& changes)
        : of_{of}, planned_{of.model->planned}, parts_{planned_.parts()} {
        if (std::find(parts_.events.begin(), parts_.events.end(), early_event) ==
            parts_.events.end()) {
            parts_.events.emplace_back(early_event);
        }
        for (std::size_t k = 0; k < changes.size(); ++k) {
            auto const& [batch, change] = changes[k];
            if (change.together >= 0) { together_[{change.together, batch}] = name_of(k); }
        }
        for (auto const& [batch, change] : changes) { add(batch, change); }
    }

    [[nodiscard]] plan_parts take() { return std::move(parts_); }

private:
    [[nodiscard]] static std::string name_of(std::size_t index) {
        return fmt::format("trial {}", index + 1);
    }

    void add(int batch, batch_change const& change) {
        succession made = change.bought
                              ? bought_succession(of_, batch, *change.bought,
                                                  alive_counts(planned_, batch)[at(*change.bought)])
                              : shifted_succession(of_, batch, change.shift);
        made.name = name_of(number_++);
        made.id = made.name;
        made.wave.clear();
        made.changes.clear();
        made.crop = crop_for(batch, change);
        if (!change.bought) { add_links(batch, change.together, made.name); }
        parts_.successions.push_back(std::move(made));
    }

    /// Crops are shared among the batches that need the same, and with them their tables.
    std::string crop_for(int batch, batch_change change) {
        change.shift = 0;
        change.together = -1;
        crop const* const grown = planned_.successions()[at(batch)].grown.get();
        for (auto const& [key, name] : crops_[grown]) {
            if (key == change) { return name; }
        }
        crop made = changed_crop(planned_, batch, change);
        made.name = fmt::format("trial crop {}", parts_.crops.size());
        made.id = made.name;
        parts_.crops.push_back(made);
        crops_[grown].emplace_back(change, made.name);
        return made.name;
    }

    void add_links(int batch, int together, std::string const& name) {
        crop const& grown = *planned_.successions()[at(batch)].grown;
        for (resolved_link const& one : planned_.links()) {
            if (one.then.succession != batch) { continue; }
            event_of const& first = one.firsts.front();
            resolved_succession const& before = planned_.successions()[at(first.succession)];
            link made{.first = {.succession = before.name,
                                .event = std::string{event_name(*before.grown, first.event)}},
                      .then = {},
                      .after = one.after};
            if (one.source >= 0) {
                made = parts_.links[at(one.source)];
                made.then = {};
            }
            auto const moved = together_.find({together, first.succession});
            if (moved != together_.end()) {
                made.first = {.succession = moved->second, .event = made.first.event};
            }
            made.then.succession = name;
            made.then.event = event_name(grown, one.then.event);
            parts_.links.push_back(std::move(made));
        }
    }

    calendar_data const& of_;
    plan const& planned_;
    plan_parts parts_;
    std::size_t number_ = 0;
    std::map<std::pair<int, int>, std::string> together_;  ///< by number and batch
    std::map<crop const*, std::vector<std::pair<batch_change, std::string>>> crops_;
};

/// Compares a changed batch with the planned one, year by year.
class comparer {
public:
    comparer(calendar const& before, calendar const& after, int most_shift)
        : before_{*before.data()}, after_{*after.data()}, most_shift_{most_shift} {}

    /// True when the change breaks nothing that held.
    [[nodiscard]] bool holds(int batch, batch_change const& change, int changed) {
        if (!after_.successions[at(changed)].resolved || !keeps_target(batch, changed) ||
            days_moved(batch, change, changed) > most_shift_) {
            return false;
        }
        if (!harms_no_more(batch, change, changed) || !is_open(batch, changed) ||
            planned(batch).overheld < becomes(changed).overheld) {
            return false;
        }
        // What is bought in has no links: those of the batch stay with what is raised of it.
        // What waits for one that moves with others moves with it.
        if (change.together >= 0) {
            return within_kept(after_, changed) >= within_kept(before_, batch);
        }
        return change.bought || (within_kept(after_, changed) >= within_kept(before_, batch) &&
                                 moves_nobody(batch, change, changed));
    }

    /// By how many days a priced event is planned otherwise, at most; `never` where one does not
    /// come any more, or came not before.
    [[nodiscard]] int days_moved(int batch, batch_change const& change, int changed) const {
        std::span<int const> const was = before_.successions[at(batch)].planned;
        std::span<int const> const now = after_.successions[at(changed)].planned;
        int most = 0;
        for (int e = 0; e < static_cast<int>(was.size()); ++e) {
            std::optional<int> const event = changed_event(change, e);
            if (!event || !is_priced(before_.model->planned, batch, e)) { continue; }
            int const season_days = before_.model->season_days;
            bool const came = was[at(e)] <= season_days;
            bool const comes = now[at(*event)] <= season_days;
            if (came != comes) { return never; }
            if (came) { most = std::max(most, std::abs(now[at(*event)] - was[at(e)])); }
        }
        return most;
    }

    /// Season years in which a batch is harmed, as it becomes and as planned.
    [[nodiscard]] std::pair<harm_years, harm_years> harmed(int batch, int changed) {
        return {becomes(changed).any, planned(batch).any};
    }

    /// Years in which a stage of the changed batch meets no harm by cold.
    [[nodiscard]] int safe_years(int changed, int stage) {
        return after_.model->years - becomes(changed).cold[at(stage)];
    }

private:
    /// What becomes of a batch, in season years: as `prospect` counts them, by the days as if it
    /// lived and the night that loses it.
    struct fate {
        std::vector<int> cold = {};  ///< of each stage
        std::vector<int> heat = {};
        harm_years any = {};
        int overheld = 0;
    };

    [[nodiscard]] static fate fate_of(calendar_data const& of, int batch) {
        season_model const& model = *of.model;
        std::vector<std::int16_t> const lost = lost_nights(model, of.days, batch);
        std::size_t const stages = model.stages[at(batch)].size();
        fate found{.cold = std::vector<int>(stages), .heat = std::vector<int>(stages)};
        found.any.lost = lost_years(lost);
        for (int y = 0; y < model.years; ++y) {
            auto const count = [&](harm what, std::vector<int>& of_stage) {
                bool hurt = false;
                for (std::size_t j = 0; j < stages; ++j) {
                    int const first = harm_of(model, of.days, batch, static_cast<int>(j), y, what,
                                              {}, lost[at(y)])
                                          .first;
                    of_stage[j] += first < never ? 1 : 0;
                    hurt = hurt || first < never;
                }
                return hurt ? 1 : 0;
            };
            found.any.cold += count(harm::cold, found.cold);
            found.any.heat += count(harm::heat, found.heat);
            found.overheld += is_overheld(of, batch, y, lost[at(y)]) ? 1 : 0;
        }
        return found;
    }

    /// Of a planned batch, counted once.
    fate const& planned(int batch) {
        auto const [found, is_new] = planned_.try_emplace(batch);
        if (is_new) { found->second = fate_of(before_, batch); }
        return found->second;
    }

    /// Of a changed one, counted once as long as nobody asks about another.
    fate const& becomes(int changed) {
        if (becoming_ != changed) { becomes_ = fate_of(after_, changed); }
        becoming_ = changed;
        return becomes_;
    }

    /// A target that gives way may not cost the years in which it was met.
    [[nodiscard]] bool keeps_target(int batch, int changed) const {
        return after_.successions[at(changed)].claim.good >=
               std::min(before_.successions[at(batch)].claim.good,
                        before_.successions[at(batch)].need);
    }

    bool harms_no_more(int batch, batch_change const& change, int changed) {
        auto const share = before_.model->planned.successions()[at(batch)].risk.share();
        int const allowed = share ? allowed_years(share->value(), before_.model->years) : 0;
        fate const& now = becomes(changed);
        fate const& was = planned(batch);
        auto const grows = [allowed](int years, int before) {
            return years > std::max(allowed, before);
        };
        for (std::size_t j = 0; j < now.cold.size(); ++j) {
            std::size_t const stage = at(planned_stage(change, static_cast<int>(j)));
            if (grows(now.cold[j], was.cold[stage]) || grows(now.heat[j], was.heat[stage])) {
                return false;
            }
        }
        return !grows(now.any.cold, was.any.cold) && !grows(now.any.heat, was.any.heat) &&
               !grows(now.any.lost, was.any.lost);
    }

    /// What is never done waits to the season's end, and what is lost to its last night.
    [[nodiscard]] static bool is_overheld(calendar_data const& of, int batch, int year, int lost) {
        season_model const& model = *of.model;
        for (int j = 0; j < static_cast<int>(model.stages[at(batch)].size()); ++j) {
            int const ready = clock_ready(model, of.days, 0, batch, j + 1, year);
            if (ready > model.season_days) { continue; }
            int const done =
                std::min({of.days.at(batch, j + 1, year), model.season_days, lost + 1});
            if (done - ready > model.stages[at(batch)][at(j)].hold) { return true; }
        }
        return false;
    }

    /// Years in which links with a longest wait are kept, summed over links.
    [[nodiscard]] static int within_kept(calendar_data const& of, int batch) {
        int kept = 0;
        std::vector<resolved_link> const& links = of.model->planned.links();
        for (std::size_t k = 0; k < links.size(); ++k) {
            resolved_link const& one = links[k];
            if (!one.within || one.then.succession != batch) { continue; }
            awaited const& counts_from = of.model->awaited_by(static_cast<int>(k));
            for (int y = 0; y < of.model->years; ++y) {
                int const first = path_walker::deciding_day(of.days, counts_from, y);
                int const then = of.days.at(batch, one.then.event, y);
                kept += first >= never || then - first <= *one.within ? 1 : 0;
            }
        }
        return kept;
    }

    /// Days on which it stands in places that are not open then, by planned days.
    [[nodiscard]] static int closed_days(calendar_data const& of, int batch) {
        plan const& planned = of.model->planned;
        resolved_succession const& one = planned.successions()[at(batch)];
        std::span<int const> const days = of.successions[at(batch)].planned;
        int closed = 0;
        for (std::size_t j = 0; j < one.places.size(); ++j) {
            auto const& open = planned.places()[at(one.places[j])].open;
            if (!open) { continue; }
            int const last = planned.window().offset_of(open->until) + 1;
            int const until = std::min(days[j + 1], of.model->season_days);
            closed += std::max(0, until - std::max(last, days[j]));
        }
        return closed;
    }

    [[nodiscard]] bool is_open(int batch, int changed) const {
        return closed_days(after_, changed) <= closed_days(before_, batch);
    }

    /// What waits for it, or for the last or first of those that it is one of, waits as long as it
    /// did in every year - also when others of these change by the same rule.
    [[nodiscard]] bool moves_nobody(int batch, batch_change const& change, int changed) const {
        for (awaited_in const& in : before_.model->awaits_of[at(batch)]) {
            awaited const& one = before_.model->awaited_all[at(in.which)];
            int const event = changed_event(change, in.event).value();
            for (int y = 0; y < before_.model->years; ++y) {
                int const decides = path_walker::deciding_day(before_.days, one, y);
                int const was = before_.days.at(batch, in.event, y);
                int const now = after_.days.at(changed, event, y);
                bool const passes = one.first_decides ? now < decides : now > decides;
                if (passes || (was == decides && now != was)) { return false; }
            }
        }
        return true;
    }

    calendar_data const& before_;
    calendar_data const& after_;
    int most_shift_;
    std::map<int, fate> planned_;
    int becoming_ = -1;
    fate becomes_ = {};
};

/// What fills a batch's stages, and when.
void fill(trial& made, plan const& of, calendar_data const& data, int batch) {
    resolved_succession const& one = of.successions()[at(batch)];
    std::span<int const> const days = data.successions[at(batch)].planned;
    made.planned.assign(days.begin(), days.end());
    made.places.assign(one.places.begin(), one.places.end());
    made.years = data.model->years;
    made.alive = alive_counts(of, batch);
    for (int j = 0; j < static_cast<int>(one.places.size()); ++j) {
        container const* const own = container_of(of, batch, j);
        made.cells.push_back(own == nullptr ? 0 : own->cells);
        made.areas.push_back(own == nullptr ? 0.0 : own->area.value_or(0.0));
        made.bed.push_back(bed_filled(of, batch, j).value_or(0.0));
    }
}

}  // namespace

trial planned_trial(calendar const& of, int batch) {
    trial made{.batch = batch, .change = {}};
    fill(made, of.plan(), *of.data(), batch);
    return made;
}

std::vector<trial> trials_of(calendar const& of,
                             std::vector<std::pair<int, batch_change>> const& changes,
                             int most_shift) {
    std::vector<trial> kept;
    if (changes.empty()) { return kept; }
    plan const tried{trial_plan{*of.data(), changes}.take()};
    calendar const after = schedule(tried, of.climate(), of.reliability());
    comparer compare{of, after, most_shift};
    int const first = static_cast<int>(of.plan().successions().size());
    for (std::size_t k = 0; k < changes.size(); ++k) {
        auto const& [batch, change] = changes[k];
        int const changed = first + static_cast<int>(k);
        if (!compare.holds(batch, change, changed)) { continue; }
        trial& made = kept.emplace_back();
        made.batch = batch;
        made.change = change;
        fill(made, tried, *after.data(), changed);
        made.moved = compare.days_moved(batch, change, changed);
        std::tie(made.harm, made.harm_before) = compare.harmed(batch, changed);
        for (int j = 0; j < static_cast<int>(made.places.size()); ++j) {
            bool const has_limit = tried.successions()[at(changed)].limit(j).has_value();
            made.safe_years.push_back(has_limit ? compare.safe_years(changed, j) : -1);
        }
    }
    // One that breaks something keeps all that move with it; and one that does not move need not.
    std::map<int, int> missing;
    for (auto const& [batch, change] : changes) { ++missing[change.together]; }
    for (trial const& one : kept) {
        if (one.moved > 0) { --missing[one.change.together]; }
    }
    std::erase_if(kept, [&](trial const& one) {
        return one.change.together >= 0 && missing[one.change.together] > 0;
    });
    return kept;
}

bool is_waited_for(plan const& of, int batch) {
    return std::any_of(of.links().begin(), of.links().end(), [batch](resolved_link const& one) {
        return std::any_of(one.firsts.begin(), one.firsts.end(),
                           [batch](event_of const& first) { return first.succession == batch; });
    });
}

bool is_linked(plan const& of, int batch) {
    return is_waited_for(of, batch) ||
           std::any_of(of.links().begin(), of.links().end(),
                       [batch](resolved_link const& one) { return one.then.succession == batch; });
}

}  // namespace epicotyl::detail
