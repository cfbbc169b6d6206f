#include <epicotyl/space/fit.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <limits>
#include <set>

#include <epicotyl/season/schedule.hpp>

#include "../season/engine.hpp"
#include "choice.hpp"
#include "fit_plan.hpp"
#include "fit_problem.hpp"
#include "fit_rooms.hpp"
#include "fit_text.hpp"
#include "stays.hpp"

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

void require_weight(double weight, char const* name) {
    if (weight >= 0.0 && weight <= 1e6) { return; }
    throw invalid_input{{.code = "fit.weight",
                         .field = fmt::format("weights.{}", name),
                         .value = fmt::format("{:g}", weight),
                         .bound = "0 to 1000000",
                         .problem = fmt::format("{:g} is no price of a move", weight),
                         .remedy = "give 0 for what costs nothing; only proportions count"}};
}

void check(fit_options const& options) {
    fit_weights const& w = options.weights;
    require_weight(w.shift_day, "shift_day");
    require_weight(w.place, "place");
    require_weight(w.early_day, "early_day");
    require_weight(w.container, "container");
    require_weight(w.split, "split");
    require_weight(w.left_out, "left_out");
    require_weight(w.left_out_tray, "left_out_tray");
    if (options.most_shift < 0 || options.most_shift > 60) {
        throw invalid_input{
            {.code = "fit.most_shift",
             .field = "most_shift",
             .value = fmt::format("{}", options.most_shift),
             .bound = "0 to 60",
             .unit = "days",
             .problem = fmt::format("a target cannot give way by {} days", options.most_shift),
             .remedy = "give the most days that it may, 0 for none"}};
    }
    if (options.seconds && !(*options.seconds >= 0.0)) {
        throw invalid_input{{.code = "fit.seconds",
                             .field = "seconds",
                             .value = fmt::format("{:g}", *options.seconds),
                             .bound = "0 or more",
                             .unit = "s",
                             .problem = fmt::format("{:g} seconds is no limit", *options.seconds),
                             .remedy = "give the most time, or leave it out"}};
    }
}

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

    /// Batches that stand in a room that overflows, near the days on which it does.
    void find_candidates() {
        auto const levels = rooms_.levels(uses_);
        size_.assign(at(count_), 0.0);
        is_crowded_.assign(levels.size(), 0);
        std::vector<char> is_candidate(at(count_));
        for (std::size_t r = 0; r < levels.size(); ++r) {
            double const most = rooms_.all()[r].room + detail::room_tolerance;
            int first = never;
            int last = -1;
            for (std::size_t d = 0; d < levels[r].size(); ++d) {
                if (levels[r][d] <= most) { continue; }
                first = std::min(first, static_cast<int>(d));
                last = static_cast<int>(d);
            }
            if (last < 0) { continue; }
            for (int i = 0; i < count_; ++i) {
                std::optional<int> const bought = detail::bought_event(plan_, i);
                int const comes = bought && !uses_[at(i)].empty()
                                      ? before_.data()->successions[at(i)].planned[at(*bought)]
                                      : never;
                for (room_use const& one : uses_[at(i)]) {
                    if (one.resource != static_cast<int>(r)) { continue; }
                    is_crowded_[at(one.resource)] = 1;
                    // What is bought in takes its place from the day on which it comes.
                    if (one.from < comes) {
                        size_[at(i)] = std::max(size_[at(i)], rooms_.all()[r].in_trays(one.amount));
                    }
                    bool const near = one.from <= last + options_.most_shift &&
                                      one.until > first - options_.most_shift;
                    if (near) { is_candidate[at(i)] = 1; }
                }
            }
        }
        for (int i = 0; i < count_; ++i) {
            if (is_candidate[at(i)]) { candidates_.push_back(i); }
        }
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
        if (way.is_short) { return {}; }
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
        return problem;
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
        std::vector<int> chosen(at(count_));
        for (int i = 0; i < count_; ++i) {
            chosen[at(i)] = number_[at(i)][at(found.chosen[at(i)])];
            batch_way const& way = ways_[at(i)][at(chosen[at(i)])];
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
            batch_way const& way = ways_[at(i)][at(chosen[at(i)])];
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
        if (taken[at(batch)] != nullptr) {
            forbidden_.insert({batch, chosen[at(batch)]});
            return;
        }
        for (int i = 0; i < count_; ++i) {
            if (taken[at(i)] != nullptr && detail::is_linked(plan_, i)) {
                forbidden_.insert({i, chosen[at(i)]});
            }
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
    std::vector<std::vector<int>> number_;  ///< of each alternative, the way
    std::set<std::pair<int, int>> forbidden_;
    double least_ = std::numeric_limits<double>::infinity();  ///< no set of ways costs less
};

}  // namespace

detail::choice_problem detail::fit_problem(plan const& of, climate const& under,
                                           fit_options const& options) {
    check(options);
    return fitter{schedule(of, under, options.reliability), options}.problem();
}

space_fit fit_to_space(plan const& of, climate const& under, fit_options const& options) {
    check(options);
    return fitter{schedule(of, under, options.reliability), options}.run();
}

}  // namespace epicotyl
