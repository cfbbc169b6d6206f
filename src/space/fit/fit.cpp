#include <epicotyl/plan/plan.hpp>
#include <epicotyl/space/fit/fit.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <limits>
#include <set>

#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

#include "../../choice/choice.hpp"
#include "../../season/days/calendar_data.hpp"
#include "../stays.hpp"
#include "fit_groups.hpp"
#include "fit_plan.hpp"
#include "fit_problem.hpp"
#include "fit_rooms.hpp"
#include "fit_text.hpp"
#include "fit_ways.hpp"

namespace epicotyl {

namespace {

using detail::at;
using detail::batch_way;
using detail::room_use;
using detail::trial;

/// A plan with more batches than this tries fewer days.
constexpr int many_batches = 60;
/// And is searched with less work, so that an answer comes in about two seconds.
constexpr std::int64_t many_steps = 1'500'000;
/// How often a set of moves is sought again when the plan as a whole comes out otherwise.
constexpr int most_rounds = 8;
/// One plan made to fit.
class fitter {
public:
    fitter(calendar before, fit_options const& options)
        : before_{std::move(before)},
          plan_{before_.plan()},
          options_{options},
          rooms_{plan_},
          count_{static_cast<int>(plan_.successions().size())} {
        for (int i = 0; i < count_; ++i) {
            bool const resolved = before_.data()->successions[at(i)].resolved;
            planned_.push_back(resolved ? detail::planned_trial(before_, i) : trial{i, {}});
            uses_.push_back(resolved ? rooms_.uses(planned_.back(), 1.0) : std::vector<room_use>{});
        }
    }

    space_fit run() {
        crowding_ = detail::crowding_of(before_, rooms_, uses_, options_.most_shift);
        space_fit made{.before = before_, .after = before_};
        if (crowding_.batches.empty()) { return made; }
        if (!tell(std::nullopt, 0.0)) {
            made.ended = fit_end::stopped;
            return detail::with_shortages(std::move(made));
        }
        try_changes(made);
        make_ways();
        for (int round = 0; round < most_rounds; ++round) {
            detail::choice_result const found = choose_ways();
            made.ended = static_cast<fit_end>(found.ended);
            if (!found.fits()) { break; }
            if (take(found, made)) { return detail::with_shortages(std::move(made)); }
        }
        made.after = before_;
        made.moves.clear();
        made.cost = 0.0;
        made.bound = 0.0;
        return detail::with_shortages(std::move(made));
    }

    detail::choice_problem problem() {
        space_fit tried{.before = before_, .after = before_};
        crowding_ = detail::crowding_of(before_, rooms_, uses_, options_.most_shift);
        if (crowding_.batches.empty()) { return {}; }
        try_changes(tried);
        make_ways();
        return problem_now();
    }

private:
    [[nodiscard]] double seconds() const {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
    }

    [[nodiscard]] bool tell(std::optional<double> cost, double bound) const {
        return !options_.progress || options_.progress({cost, bound, seconds()});
    }

    void try_changes(space_fit& made) {
        std::vector<std::pair<int, detail::batch_change>> changes;
        bool const coarse = static_cast<int>(crowding_.batches.size()) > many_batches;
        for (int i : crowding_.batches) {
            if (!detail::can_be_written_out(before_, i)) { continue; }
            for (auto& change : detail::changes_to_try(before_, i, options_, coarse)) {
                changes.emplace_back(i, std::move(change));
            }
        }
        for (auto& one : detail::shifts_together(before_, crowding_.batches, options_, coarse)) {
            changes.push_back(std::move(one));
        }
        trials_ = detail::trials_of(before_, changes, options_.most_shift);
        std::erase_if(trials_, [&](trial const& one) {
            bool const stays = one.change.shift != 0 && one.moved == 0;
            return stays ||
                   (one.change.early && detail::early_days(planned_[at(one.batch)], one) < 1);
        });
        made.tried = static_cast<int>(changes.size());
        made.kept = static_cast<int>(trials_.size());
    }

    void make_ways() {
        ways_ =
            detail::ways_of_batches(before_, options_, rooms_, crowding_, planned_, uses_, trials_);
        groups_ = detail::groups_of(before_, trials_, options_.weights);
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            for (int i : groups_[g].members) {
                ways_[at(i)].push_back({.group = static_cast<int>(g)});
            }
        }
    }

    [[nodiscard]] std::vector<room_use> uses_of(int batch, batch_way const& way) const {
        if (way.is_short || way.group >= 0) { return {}; }
        std::vector<room_use> all;
        if (way.as_planned()) { all = uses_[at(batch)]; }
        for (detail::raised_part const& part : way.parts) {
            trial const& one = part.trial < 0 ? planned_[at(batch)] : trials_[at(part.trial)];
            double const share = one.change.bought ? part.amount / one.alive.front() : part.share;
            std::vector<room_use> const own = rooms_.uses(one, share);
            all.insert(all.end(), own.begin(), own.end());
        }
        if (way.lacks_field) {
            std::erase_if(
                all, [this](room_use const& one) { return rooms_.all()[at(one.resource)].field; });
        }
        return all;
    }

    /// All ways that are not forbidden, with their prices and uses.
    detail::choice_problem problem_now() {
        detail::choice_problem problem{.room = rooms_.sizes(), .items = {}};
        number_.clear();
        for (int i = 0; i < count_; ++i) {
            auto& item = problem.items.emplace_back();
            std::vector<int>& numbers = number_.emplace_back();
            for (std::size_t w = 0; w < ways_[at(i)].size(); ++w) {
                if (forbidden_.contains({i, static_cast<int>(w)})) { continue; }
                item.push_back({ways_[at(i)][w].price, uses_of(i, ways_[at(i)][w])});
                numbers.push_back(static_cast<int>(w));
            }
        }
        for (std::size_t g = 0; g < groups_.size(); ++g) { add_group(problem, g); }
        return problem;
    }

    /// What a group adds: itself as an item, and the tokens of its members (fit_groups.hpp).
    void add_group(detail::choice_problem& problem, std::size_t g) {
        detail::moved_group const& group = groups_[g];
        auto& item = problem.items.emplace_back();
        std::vector<int>& numbers = number_.emplace_back();
        int const first_token = static_cast<int>(problem.room.size());
        auto const token = [first_token](std::size_t member, bool leaves_it) {
            return room_use{first_token + 2 * static_cast<int>(member) + (leaves_it ? 1 : 0), 0, 1,
                            1.0};
        };
        problem.room.resize(problem.room.size() + 2 * group.members.size(), 1.0);
        for (std::size_t m = 0; m < group.members.size(); ++m) {
            int const batch = group.members[m];
            for (std::size_t w = 0; w < number_[at(batch)].size(); ++w) {
                bool const leaves_it = ways_[at(batch)][at(number_[at(batch)][w])].group >= 0;
                problem.items[at(batch)][w].uses.push_back(token(m, leaves_it));
            }
        }
        for (std::size_t k = 0; k <= group.ways.size(); ++k) {
            if (forbidden_.contains({count_ + static_cast<int>(g), static_cast<int>(k)})) {
                continue;
            }
            auto& made = item.emplace_back();
            numbers.push_back(static_cast<int>(k));
            if (k > 0) { made.cost = group.prices[k - 1]; }
            for (std::size_t m = 0; m < group.members.size(); ++m) {
                made.uses.push_back(token(m, k == 0));
                if (k == 0) { continue; }
                auto const own = uses_of(group.members[m], group.ways[k - 1][m]);
                made.uses.insert(made.uses.end(), own.begin(), own.end());
            }
        }
    }

    /// The way that was chosen for a batch, by itself or with its group.
    [[nodiscard]] batch_way const& way_chosen(detail::choice_result const& found, int batch) const {
        batch_way const& own =
            ways_[at(batch)][at(number_[at(batch)][at(found.chosen[at(batch)])])];
        if (own.group < 0) { return own; }
        detail::moved_group const& group = groups_[at(own.group)];
        int const k = number_[at(count_ + own.group)][at(found.chosen[at(count_ + own.group)])];
        auto const member = std::find(group.members.begin(), group.members.end(), batch);
        return group.ways[at(k - 1)][static_cast<std::size_t>(member - group.members.begin())];
    }

    detail::choice_result choose_ways() {
        detail::choice_problem const problem = problem_now();
        detail::choice_options how;
        if (static_cast<int>(crowding_.batches.size()) > many_batches) { how.steps = many_steps; }
        if (options_.seconds) { how.seconds = std::max(0.0, *options_.seconds - seconds()); }
        if (options_.progress) {
            how.progress = [this](detail::choice_progress const& now) {
                bool const found = std::isfinite(now.cost);
                return tell(found ? std::optional{now.cost} : std::nullopt,
                            std::isfinite(now.bound) ? std::max(0.0, now.bound) : 0.0);
            };
        }
        return detail::choose(problem, how);
    }

    /// Makes the changed plan and compares its days with those that were worked with; false when
    /// a batch came out otherwise, whose way is then forbidden.
    bool take(detail::choice_result const& found, space_fit& made) {
        std::vector<batch_way const*> taken(at(count_), nullptr);
        std::vector<int> chosen;
        for (std::size_t i = 0; i < found.chosen.size(); ++i) {
            chosen.push_back(number_[i][at(found.chosen[i])]);
        }
        for (int i = 0; i < count_; ++i) {
            batch_way const& way = way_chosen(found, i);
            if (!way.as_planned()) { taken[at(i)] = &way; }
        }
        calendar const after = schedule(detail::changed_plan(before_, trials_, taken),
                                        before_.climate(), before_.reliability());
        bool all_alike = true;
        for (int i = 0; i < count_; ++i) {
            if (is_as_reckoned(after, i, taken[at(i)])) { continue; }
            all_alike = false;
            forbid(i, chosen, taken);
        }
        if (!all_alike) {
            least_ = std::min(least_, found.bound);
            return false;
        }
        made.after = after;
        made.cost = 0.0;
        made.moves.clear();
        double unplaced = 0.0;
        for (int i = 0; i < count_; ++i) {
            batch_way const& way = way_chosen(found, i);
            unplaced += way.short_price;
            if (taken[at(i)] == nullptr) { continue; }
            for (fit_move& one : detail::moves_of(before_, options_.weights, planned_[at(i)], way,
                                                  trials_, crowding_.size[at(i)])) {
                made.cost += one.cost;
                made.moves.push_back(std::move(one));
            }
        }
        // What was forbidden could be done in another set: the bound is that of all ways.
        least_ = std::min(least_, found.bound);
        made.bound = std::clamp(least_ - unplaced, 0.0, made.cost);
        if (made.ended == fit_end::proved && made.bound < made.cost - 1e-6) {
            made.ended = fit_end::work;
        }
        return true;
    }

    [[nodiscard]] bool is_as_reckoned(calendar const& after, int batch,
                                      batch_way const* way) const {
        std::string const& name = plan_.successions()[at(batch)].name;
        auto const same = [&](std::string const& called, trial const& expected) {
            int const now = after.plan().succession_index(called);
            detail::succession_days const& days = after.data()->successions[at(now)];
            bool const was = before_.data()->successions[at(batch)].resolved;
            return days.resolved == was &&
                   (!was || std::ranges::equal(days.planned, expected.planned));
        };
        if (way == nullptr) { return same(name, planned_[at(batch)]); }
        for (std::size_t k = 0; k < way->parts.size(); ++k) {
            int const index = way->parts[k].trial;
            trial const& expected = index < 0 ? planned_[at(batch)] : trials_[at(index)];
            if (!same(k == 0 ? name : detail::second_name(plan_, batch), expected)) {
                return false;
            }
        }
        return true;
    }

    /// What came out otherwise is not done; where nothing was done to it, nothing is done to what
    /// is linked.
    void forbid(int batch, std::vector<int> const& chosen,
                std::vector<batch_way const*> const& taken) {
        auto const forbid_way = [&](int i) {
            int const group = ways_[at(i)][at(chosen[at(i)])].group;
            int const item = group < 0 ? i : count_ + group;
            forbidden_.insert({item, chosen[at(item)]});
        };
        if (taken[at(batch)] != nullptr) {
            forbid_way(batch);
            return;
        }
        for (int i = 0; i < count_; ++i) {
            if (taken[at(i)] != nullptr && detail::is_linked(plan_, i)) { forbid_way(i); }
        }
    }

    calendar before_;
    plan const& plan_;
    fit_options const& options_;
    detail::fit_rooms rooms_;
    int count_;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
    std::vector<trial> planned_;
    std::vector<std::vector<room_use>> uses_;
    detail::crowding crowding_;
    std::vector<trial> trials_;
    std::vector<std::vector<batch_way>> ways_;
    std::vector<detail::moved_group> groups_;  ///< linked batches that can move together
    /// Of each alternative of an item, batches first, the way.
    std::vector<std::vector<int>> number_;
    std::set<std::pair<int, int>> forbidden_;
    double least_ = std::numeric_limits<double>::infinity();  ///< no set of ways costs less
};

}  // namespace

detail::choice_problem detail::fit_problem(plan const& of, climate const& under,
                                           fit_options const& options) {
    check_options(options);
    return fitter{schedule(of, under, options.reliability), options}.problem();
}

space_fit fit_to_space(plan const& of, climate const& under, fit_options const& options) {
    detail::check_options(options);
    return fitter{schedule(of, under, options.reliability), options}.run();
}

}  // namespace epicotyl
