#include <epicotyl/space/fit/fit.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <limits>
#include <set>

#include <epicotyl/season/days/schedule.hpp>

#include "../../choice/choice.hpp"
#include "../../season/days/calendar_data.hpp"
#include "../stays.hpp"
#include "fit_groups.hpp"
#include "fit_plan.hpp"
#include "fit_problem.hpp"
#include "fit_rooms.hpp"
#include "fit_text.hpp"

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
/// What has no room at all is dearer than all that can be bought in.
constexpr double short_price = 1000.0;

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
        find_candidates();
        space_fit made{.before = before_, .after = before_};
        if (candidates_.empty()) { return made; }
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
        find_candidates();
        if (candidates_.empty()) { return {}; }
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

    void find_candidates() {
        detail::crowding found = detail::crowding_of(before_, rooms_, uses_, options_.most_shift);
        candidates_ = std::move(found.batches);
        size_ = std::move(found.size);
        is_crowded_ = std::move(found.is_crowded);
    }

    void try_changes(space_fit& made) {
        std::vector<std::pair<int, detail::batch_change>> changes;
        bool const coarse = static_cast<int>(candidates_.size()) > many_batches;
        for (int i : candidates_) {
            if (!can_be_written_out(i)) { continue; }
            for (auto& change : detail::changes_to_try(before_, i, options_, coarse)) {
                changes.emplace_back(i, std::move(change));
            }
        }
        for (auto& one : detail::shifts_together(before_, candidates_, options_, coarse)) {
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

    /// A member of a repeat changes by being written out with all the others, each aimed at its
    /// day; one whose day lies after the season cannot be.
    [[nodiscard]] bool can_be_written_out(int batch) const {
        int const source = plan_.successions()[at(batch)].source;
        for (int i = 0; i < count_; ++i) {
            resolved_succession const& one = plan_.successions()[at(i)];
            if (one.source != source || !one.repeat_of) { continue; }
            detail::succession_days const& days = before_.data()->successions[at(i)];
            if (days.asked > plan_.window().length()) { return false; }
        }
        return true;
    }

    void make_ways() {
        ways_.resize(at(count_));
        for (int i = 0; i < count_; ++i) { ways_[at(i)].push_back({}); }
        for (std::size_t t = 0; t < trials_.size(); ++t) {
            trial const& one = trials_[t];
            if (one.change.together >= 0) { continue; }
            amount const& of = plan_.successions()[at(one.batch)].amount;
            int const index = static_cast<int>(t);
            double const price = detail::price_of(options_.weights, planned_[at(one.batch)], one);
            if (one.change.bought) {
                add_bought(one, index);
                continue;
            }
            ways_[at(one.batch)].push_back({.price = price, .parts = {{index, 1.0, of.value}}});
            detail::halves const two = detail::halves_of(of);
            if (!options_.splits || two.second <= 0.0 || detail::is_linked(plan_, one.batch)) {
                continue;
            }
            ways_[at(one.batch)].push_back(
                {.price = options_.weights.split + price * (1.0 - two.share),
                 .parts = {{-1, two.share, two.first}, {index, 1.0 - two.share, two.second}}});
        }
        for (int i : candidates_) {
            // What is wanted at the very end, as plants to be sold, is bought in without a stage.
            auto const bought = detail::bought_event(plan_, i);
            auto const last = static_cast<int>(plan_.successions()[at(i)].grown->stages.size());
            if (options_.leave_out && bought == last && can_be_written_out(i)) {
                detail::halves const two = detail::halves_of(plan_.successions()[at(i)].amount);
                if (two.second > 0.0) {
                    ways_[at(i)].push_back({.price = bought_price(i, 1.0 - two.share),
                                            .parts = {{-1, two.share, two.first}},
                                            .left_out = 1.0 - two.share});
                }
                if (!detail::is_linked(plan_, i)) {
                    ways_[at(i)].push_back({.price = bought_price(i, 1.0), .left_out = 1.0});
                }
            }
            add_short(i);
        }
        groups_ = detail::groups_of(before_, trials_, options_.weights);
        for (std::size_t g = 0; g < groups_.size(); ++g) {
            for (int i : groups_[g].members) {
                ways_[at(i)].push_back({.group = static_cast<int>(g)});
            }
        }
    }

    [[nodiscard]] double bought_price(int batch, double share) const {
        return options_.weights.left_out +
               options_.weights.left_out_tray * size_[at(batch)] * share;
    }

    /// Plants are bought whole.
    [[nodiscard]] double plants_bought(trial const& one, double share) const {
        return detail::whole_plants(planned_[at(one.batch)].alive[at(*one.change.bought)] * share);
    }

    /// Half a batch bought in, and all of it where nothing is linked with it.
    void add_bought(trial const& one, int index) {
        std::vector<batch_way>& ways = ways_[at(one.batch)];
        double const days = detail::price_of(options_.weights, planned_[at(one.batch)], one);
        detail::halves const two = detail::halves_of(plan_.successions()[at(one.batch)].amount);
        if (two.second > 0.0) {
            double const half = 1.0 - two.share;
            ways.push_back(
                {.price = bought_price(one.batch, half) + days * half,
                 .parts = {{-1, two.share, two.first}, {index, half, plants_bought(one, half)}},
                 .left_out = half});
        }
        if (detail::is_linked(plan_, one.batch)) { return; }
        ways.push_back({.price = bought_price(one.batch, 1.0) + days,
                        .parts = {{index, 1.0, plants_bought(one, 1.0)}},
                        .left_out = 1.0});
    }

    /// A shortage is dearer than all that can be done. Of the field it is told by itself: what is
    /// done for other rooms is done all the same.
    void add_short(int batch) {
        double const price = short_price + 4.0 * bought_price(batch, 1.0);
        std::vector<batch_way>& ways = ways_[at(batch)];
        double metres = 0.0;
        for (room_use const& one : uses_[at(batch)]) {
            detail::fit_room const& room = rooms_.all()[at(one.resource)];
            if (!room.field || is_crowded_[at(one.resource)] == 0) { continue; }
            metres = std::max(metres, room.in_trays(one.amount));
        }
        if (metres > 0.0) {
            std::size_t const count = ways.size();
            for (std::size_t w = 0; w < count; ++w) {
                batch_way way = ways[w];
                way.lacks_field = true;
                way.short_price = short_price + 4.0 * options_.weights.left_out_tray * metres;
                way.price += way.short_price;
                ways.push_back(std::move(way));
            }
        }
        ways.push_back({.price = 2.0 * price, .is_short = true, .short_price = 2.0 * price});
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
        if (static_cast<int>(candidates_.size()) > many_batches) { how.steps = many_steps; }
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

    /// Makes the changed plan and compares its days with those that were reckoned with; false when
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
                                                  trials_, size_[at(i)])) {
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
    std::vector<double> size_;      ///< trays where it needs most room
    std::vector<char> is_crowded_;  ///< of each room: it overflows as planned
    std::vector<int> candidates_;
    std::vector<trial> trials_;
    std::vector<std::vector<batch_way>> ways_;
    std::vector<detail::moved_group> groups_;  ///< linked batches that can move together
    std::vector<std::vector<int>>
        number_;  ///< of each alternative of an item, batches first, the way
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
