#include <epicotyl/space/fit.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <set>

#include <epicotyl/season/schedule.hpp>

#include "../season/engine.hpp"
#include "../season/say.hpp"
#include "choice.hpp"
#include "fit_plan.hpp"
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
            return with_shortages(std::move(made));
        }
        try_changes(made);
        make_ways();
        for (int round = 0; round < most_rounds; ++round) {
            detail::choice_result const found = choose_ways();
            made.ended = static_cast<fit_end>(found.ended);
            if (!found.fits()) { break; }
            if (take(found, made)) { return with_shortages(std::move(made)); }
        }
        made.after = before_;
        made.moves.clear();
        made.cost = 0.0;
        made.bound = 0.0;
        return with_shortages(std::move(made));
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
                for (room_use const& one : uses_[at(i)]) {
                    if (one.resource != static_cast<int>(r)) { continue; }
                    size_[at(i)] = std::max(size_[at(i)], rooms_.all()[r].in_trays(one.amount));
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
        trials_ = detail::trials_of(before_, changes);
        std::erase_if(trials_, [&](trial const& one) {
            return one.change.early && detail::early_days(planned_[at(one.batch)], one) < 1;
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
        double const left_out = options_.weights.left_out;
        for (std::size_t t = 0; t < trials_.size(); ++t) {
            trial const& one = trials_[t];
            amount const& of = plan_.successions()[at(one.batch)].amount;
            int const index = static_cast<int>(t);
            double const price = detail::price_of(options_.weights, planned_[at(one.batch)], one);
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
            double const whole = left_out + options_.weights.left_out_tray * size_[at(i)];
            detail::halves const two = detail::halves_of(plan_.successions()[at(i)].amount);
            if (options_.leave_out && two.second > 0.0 && can_be_written_out(i)) {
                double const half = options_.weights.left_out_tray * size_[at(i)];
                ways_[at(i)].push_back({.price = left_out + half * (1.0 - two.share),
                                        .parts = {{-1, two.share, two.first}},
                                        .left_out = 1.0 - two.share});
            }
            if (options_.leave_out && !detail::is_linked(plan_, i) && can_be_written_out(i)) {
                ways_[at(i)].push_back({.price = whole, .left_out = 1.0});
            } else {
                ways_[at(i)].push_back({.price = short_price + 4.0 * whole, .is_short = true});
            }
        }
    }

    [[nodiscard]] std::vector<room_use> uses_of(int batch, batch_way const& way) const {
        if (way.is_short) { return {}; }
        if (way.parts.empty() && way.left_out == 0.0) { return uses_[at(batch)]; }
        std::vector<room_use> all;
        for (detail::raised_part const& part : way.parts) {
            trial const& one = part.trial < 0 ? planned_[at(batch)] : trials_[at(part.trial)];
            std::vector<room_use> const own = rooms_.uses(one, part.share);
            all.insert(all.end(), own.begin(), own.end());
        }
        return all;
    }

    detail::choice_result choose_ways() {
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
            bool const as_planned = way.parts.empty() && way.left_out == 0.0;
            if (!as_planned) { taken[at(i)] = &way; }
        }
        calendar const after = schedule(detail::changed_plan(before_, trials_, taken),
                                        before_.climate(), before_.reliability());
        bool all_alike = true;
        for (int i = 0; i < count_; ++i) {
            if (is_as_reckoned(after, i, taken[at(i)])) { continue; }
            all_alike = false;
            forbid(i, chosen, taken);
        }
        if (!all_alike) { return false; }
        made.after = after;
        made.cost = 0.0;
        made.moves.clear();
        double unplaced = 0.0;
        for (int i = 0; i < count_; ++i) {
            batch_way const& way = ways_[at(i)][at(chosen[at(i)])];
            if (way.is_short) { unplaced += way.price; }
            if (taken[at(i)] == nullptr) { continue; }
            made.cost += way.price;
            for (fit_move& one : detail::moves_of(before_, options_.weights, planned_[at(i)], way,
                                                  trials_, size_[at(i)])) {
                made.moves.push_back(std::move(one));
            }
        }
        made.bound = std::clamp(found.bound - unplaced, 0.0, made.cost);
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

    /// Names what still does not fit, by the planned days of the changed plan.
    space_fit with_shortages(space_fit made) const {
        detail::fit_rooms const rooms{made.after.plan()};
        std::vector<std::vector<room_use>> uses;
        int const count = static_cast<int>(made.after.plan().successions().size());
        for (int i = 0; i < count; ++i) {
            bool const resolved = made.after.data()->successions[at(i)].resolved;
            uses.push_back(resolved ? rooms.uses(detail::planned_trial(made.after, i), 1.0)
                                    : std::vector<room_use>{});
        }
        auto const levels = rooms.levels(uses);
        for (int i = 0; i < count; ++i) {
            for (int r = 0; r < static_cast<int>(levels.size()); ++r) {
                add_shortage(made, rooms.all()[at(r)], levels[at(r)], uses[at(i)], r, i);
            }
        }
        return made;
    }

    static void add_shortage(space_fit& made, detail::fit_room const& room,
                             std::vector<double> const& level, std::vector<room_use> const& uses,
                             int resource, int batch) {
        plan const& of = made.after.plan();
        int first = never;
        int last = -1;
        double most = 0.0;
        for (room_use const& one : uses) {
            if (one.resource != resource) { continue; }
            for (int d = one.from; d < one.until; ++d) {
                double const over = level[at(d)] - room.room;
                if (over <= detail::room_tolerance) { continue; }
                first = std::min(first, d);
                last = std::max(last, d);
                most = std::max(most, over);
            }
        }
        if (last < 0) { return; }
        not_placed& one = made.short_of.emplace_back();
        one.succession = of.successions()[at(batch)].name;
        one.place = of.places()[at(room.place)].name;
        one.kind = room.kind;
        one.first = of.window().start() + days{first};
        one.last = of.window().start() + days{last};
        one.shortage = most;
        one.sentence = fmt::format(
            "{} stands where there is no room: {} short in {}{} from {} to {}", one.succession,
            detail::say_amount(of, room.kind, most), one.place, room.lit ? " under the lamps" : "",
            detail::say_day(of, first), detail::say_day(of, last));
    }

    calendar before_;
    plan const& plan_;
    fit_options const& options_;
    detail::fit_rooms rooms_;
    int count_;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
    std::vector<trial> planned_;
    std::vector<std::vector<room_use>> uses_;
    std::vector<double> size_;  ///< trays where it needs most room
    std::vector<int> candidates_;
    std::vector<trial> trials_;
    std::vector<std::vector<batch_way>> ways_;
    std::vector<std::vector<int>> number_;  ///< of each alternative, the way
    std::set<std::pair<int, int>> forbidden_;
};

}  // namespace

space_fit fit_to_space(plan const& of, climate const& under, fit_options const& options) {
    check(options);
    return fitter{schedule(of, under, options.reliability), options}.run();
}

}  // namespace epicotyl
