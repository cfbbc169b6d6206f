#include <epicotyl/season/days/schedule.hpp>

#include <algorithm>
#include <map>
#include <optional>
#include <span>
#include <tuple>

#include <fmt/format.h>

#include "../rows/rule_days.hpp"
#include "alike.hpp"
#include "asked_rules.hpp"
#include "calendar_data.hpp"
#include "default_springs.hpp"
#include "diagnose.hpp"
#include "known_bounds.hpp"
#include "latest_sowing.hpp"
#include "most_good.hpp"
#include "notes.hpp"
#include "sowing_trials.hpp"
#include "tables_for.hpp"
#include "waiting_order.hpp"
#include "walk_all_years.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// A repeat's later members aim at a day that the plan itself sets; it is sought again until it
/// stays. Without links between them the second round settles it.
constexpr int most_rounds = 8;

class scheduler {
public:
    /// Without `springs` nothing has default bounds.
    scheduler(calendar_data& data, season_model& model, chosen_springs const& springs)
        : data_{data},
          model_{model},
          batches_{model_.planned.successions()},
          walker_{model_, data.successions},
          rules_{data, model, springs},
          alike_{model},
          trials_{data, model, walker_},
          missing_(model.awaited_all.size()),
          obstacles_(batches_.size()),
          is_tried_(batches_.size(), 0) {
        data_.successions.assign(batches_.size(), {});
        data_.days = make_unset_days_table(model_);
        data_.planned.resize(at(data_.days.first_row.back()), never);
        good_alone_later_.resize(batches_.size(), 0);
        latest_.resize(at(model_.years));
    }

    void run() {
        find_order();
        expect_days();
        plan_all();
        for (int i : order_) {
            if (!known(i).resolved) { continue; }
            data_.order.push_back(i);
            data_.walks.push_back(walker_.batch(i, known(i).sowing, walker_.wait_day(i)));
            plan_days(i);
            count_claim(i);
        }
        data_.group_of = groups_by_links(model_.planned);
        arrange_walks(data_);
        for (std::size_t i = 0; i < batches_.size(); ++i) {
            if (!data_.successions[i].resolved) { data_.days.forget(static_cast<int>(i)); }
        }
        for (std::vector<obstacle>& found : obstacles_) {
            data_.unresolved.insert(data_.unresolved.end(), found.begin(), found.end());
        }
        note_what_else(data_, walker_);
    }

    /// The springs of those among `asking` (by index) that have default bounds, from a plan without
    /// any. Nothing else of the calendar is of use afterwards.
    chosen_springs springs_of(std::vector<char> const& asking) {
        find_order();
        chosen_springs found(batches_.size());
        spring_chooser chooser{model_};
        std::vector<int> const whole = order_;
        std::vector<char> const with_others = planned_with_others(asking);
        std::erase_if(order_, [&](int i) { return with_others[at(i)] == 0; });
        std::vector<std::optional<spring_places>> const known_places = places_with_others(asking);
        std::map<std::tuple<void const*, int, int, bool>, like_group> groups;
        for (int i : whole) {
            if (asking[at(i)] == 0) { continue; }
            if (with_others[at(i)] != 0) {
                if (std::optional<spring_places> const& places = known_places[at(i)]) {
                    found[at(i)] = chooser.choose(i, events_with_default(model_, i), *places);
                }
                continue;
            }
            if (!read_rules(i, {})) { continue; }
            succession_days const& mine = known(i);
            auto const [group, is_new] = groups.try_emplace(
                {&mine.bounds(), mine.need, mine.link_need, is_early(i)}, like_group{});
            like_group& like = group->second;
            if (is_new) {
                like.events = events_with_default(model_, i);
                like.rises = asks_later_for_later(i);
            }
            if (like.events.empty()) { continue; }
            spring_places const* places = like.places.find(mine.asked);
            spring_places made;
            if (places == nullptr) {
                least(i, {});
                std::optional<std::vector<int>> const days = days_without_bounds(i);
                if (!days) { continue; }
                made = places_among_springs(model_, i, like.events, *days);
                like.places.add(mine.asked, made, like.rises);
                places = &made;
            }
            found[at(i)] = chooser.choose(i, like.events, *places);
        }
        return found;
    }

private:
    /// Successions that stand alone and differ in the day that they ask for.
    struct like_group {
        std::vector<int> events = {};
        bool rises = false;
        places_by_day places = {};
    };

    void find_order() {
        order_ = order_of_waiting(model_, obstacles_);
        trials_.set_order(order_);
    }

    void plan_all() {
        std::map<int, int> harvests;
        for (int round = 0; round < most_rounds; ++round) {
            plan_least(harvests);
            raise_all();
            std::map<int, int> const settled = first_harvests();
            if (settled == harvests) { break; }
            harvests = settled;
        }
    }

    /// All of the order as early as they may.
    void plan_least(std::map<int, int> const& harvests) {
        trials_.forget_days();
        std::ranges::fill(missing_, std::nullopt);
        for (int i : order_) { least(i, harvests); }
    }

    /// In reverse order; again as long as the harvests that are scanned for move with what they
    /// wait for.
    void raise_all() {
        bool moves = true;
        while (moves) {
            moves = false;
            bool has_scanned = false;
            for (auto i = order_.rbegin(); i != order_.rend(); ++i) {
                if (!known(*i).resolved || !is_linked(*i)) { continue; }
                int const before = known(*i).sowing;
                if (is_in_harvest(*i)) {
                    has_scanned = true;
                    scan_again(*i);
                } else {
                    raise(*i);
                }
                moves |= known(*i).sowing != before;
            }
            if (!has_scanned) { return; }
        }
    }

    /// Where the protected events of a succession lie among the springs, by the days walked last;
    /// none where it has no such events, or no days.
    std::optional<spring_places> places_now(int i) {
        std::vector<int> const events = events_with_default(model_, i);
        if (events.empty()) { return {}; }
        std::optional<std::vector<int>> const days = days_without_bounds(i);
        if (!days) { return {}; }
        return places_among_springs(model_, i, events, *days);
    }

    /// The places of those among `asking` that are in the order. The days of linked successions lie
    /// between those of the least plan and those of one that is raised without a look at who waits;
    /// only where these two mean different springs does the plan itself decide.
    std::vector<std::optional<spring_places>> places_with_others(std::vector<char> const& asking) {
        std::vector<std::optional<spring_places>> places(batches_.size());
        if (order_.empty()) { return places; }
        expect_days();
        plan_least({});
        auto const note = [&] {
            for (int i : order_) {
                if (asking[at(i)] != 0) { places[at(i)] = places_now(i); }
            }
        };
        note();
        std::vector<char> is_open = never_between(asking);
        trials_.forget_days();
        for (int i : order_) {
            if (!known(i).resolved || !is_linked(i) || is_open[at(i)] != 0) { continue; }
            raise_freely(i);
            if (asking[at(i)] != 0 && places_now(i) != places[at(i)]) { is_open[at(i)] = 1; }
        }
        open_with_others(is_open);
        std::erase_if(order_, [&](int i) { return is_open[at(i)] == 0; });
        if (order_.empty()) { return places; }
        plan_all();
        note();
        return places;
    }

    /// Those whose days the least plan does not bound: a linked harvest that is scanned again may
    /// move to the sooner, and what repeats a linked one asks for another day when that is raised.
    std::vector<char> never_between(std::vector<char> const& asking) const {
        std::vector<char> found(asking.size(), 0);
        for (int i : order_) {
            std::optional<int> const first = batches_[at(i)].repeat_of;
            bool const is_scanned = is_in_harvest(i) && is_linked(i);
            if (is_scanned || (first && is_linked(*first))) { found[at(i)] = 1; }
        }
        open_with_others(found);
        return found;
    }

    /// Adds all that are linked with those found, and the first of the repeats among them.
    void open_with_others(std::vector<char>& found) const {
        std::vector<int> const group_of = groups_by_links(model_.planned);
        for (bool grew = true; grew;) {
            grew = false;
            std::vector<char> is_group_in(batches_.size(), 0);
            auto const add = [&](int i) {
                grew |= found[at(i)] == 0;
                found[at(i)] = 1;
            };
            for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
                if (found[at(i)] != 0 && group_of[at(i)] != stands_alone) {
                    is_group_in[at(group_of[at(i)])] = 1;
                }
            }
            for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
                if (group_of[at(i)] != stands_alone && is_group_in[at(group_of[at(i)])] != 0) {
                    add(i);
                }
                if (found[at(i)] != 0 && batches_[at(i)].repeat_of) {
                    add(*batches_[at(i)].repeat_of);
                }
            }
        }
    }

    /// As late as its own target allows, whoever waits for it.
    void raise_freely(int i) {
        succession_days& mine = known(i);
        latest_good_sowings(model_, mine, i, latest_);
        int const latest = std::max(mine.sowing, latest_for_need(mine.need));
        mine.sowing = is_early(i) ? std::max(mine.sowing, spring_of(i, latest)) : latest;
        trials_.gather_for(i);
        walker_.walk_all(data_.days, i, mine.sowing, walker_.wait_day(i));
    }

    /// Those whose days without default bounds hang on others, and these.
    std::vector<char> planned_with_others(std::vector<char> const& asking) const {
        std::vector<int> const group_of = groups_by_links(model_.planned);
        std::vector<char> found(batches_.size(), 0);
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            if (asking[at(i)] == 0) { continue; }
            std::optional<int> const first = batches_[at(i)].repeat_of;
            if (first || is_in_harvest(i) || group_of[at(i)] != stands_alone) { found[at(i)] = 1; }
            if (first) { found[at(*first)] = 1; }
        }
        open_with_others(found);
        return found;
    }

    /// A later day asked for moves no event to the sooner: true but where plants wait for a
    /// decision aimed at and must be in time for what comes on that day or behind it.
    bool asks_later_for_later(int i) const {
        resolved_succession const& one = batches_[at(i)];
        if (is_outcome(*one.grown, one.target_event)) { return true; }
        std::vector<event_bounds> const& bounds = data_.successions[at(i)].bounds();
        return std::all_of(bounds.begin() + one.target_event, bounds.end(),
                           [](event_bounds const& bound) { return bound.not_after >= never; });
    }

    /// Planned days; of what has none, those of all as early as allowed.
    std::optional<std::vector<int>> days_without_bounds(int i) {
        if (!known(i).resolved && is_tried_[at(i)] == 0) { return std::nullopt; }
        std::vector<int> days(at(last_event(i) + 1));
        find_planned(i, days);
        return days;
    }

    succession_days& known(int i) { return data_.successions[at(i)]; }
    int last_event(int i) const { return event_count(*batches_[at(i)].grown) - 1; }
    bool is_in_harvest(int i) const { return is_scanned_for(batches_[at(i)].target_rule); }

    bool is_early(int i) const { return batches_[at(i)].is_sown_early(); }
    /// The first day of the spring of one sown early, no later than its latest sowing.
    int spring_of(int i, int latest) {
        succession_days& mine = known(i);
        mine.latest_sowing = latest;
        mine.spring_starts = std::max(0, model_.spring_half_before(latest).first);
        return mine.spring_starts;
    }

    /// True when nothing that `i` waits for is unresolved; else says so.
    bool can_wait(int i) {
        resolved_succession const& one = batches_[at(i)];
        auto const blame = [&](int other, char const* code, char const* how) {
            obstacles_[at(i)] = {
                {.succession = one.name,
                 .code = code,
                 .sentence = fmt::format("{} \"{}\", which has no days itself", how,
                                         batches_[at(other)].name),
                 .cure = fmt::format("first help \"{}\"", batches_[at(other)].name)}};
            return false;
        };
        if (one.repeat_of && !known(*one.repeat_of).resolved) {
            return blame(*one.repeat_of, "repeat.unresolved", "it repeats");
        }
        // Of several the first in the plan, whatever the order of links.
        int const none = static_cast<int>(batches_.size());
        int missing = none;
        for (incoming_link const& in : walker_.incoming(i)) {
            missing = std::min(missing, missing_of(model_.awaited_of_link[at(in.link)], none));
        }
        return missing == none || blame(missing, "link.unresolved", "it waits for");
    }

    /// The first in the plan of those waited for together that has no days; `none` where all have.
    /// It is looked for once: those who wait come behind all of them.
    int missing_of(int awaited, int none) {
        std::optional<int>& found = missing_[at(awaited)];
        if (!found) {
            found = none;
            for (event_of const& first : model_.awaited_all[at(awaited)].firsts) {
                if (!known(first.succession).resolved) {
                    found = std::min(*found, first.succession);
                }
            }
        }
        return *found;
    }

    /// Planned first harvest of the first of the series of a repeat.
    std::optional<int> first_harvest(int i, std::map<int, int> const& harvests) {
        std::optional<int> const first = batches_[at(i)].repeat_of;
        if (!first) { return std::nullopt; }
        auto const settled = harvests.find(*first);
        return settled != harvests.end() ? settled->second : planned_harvest(*first);
    }

    /// False, with obstacles, where the plan says what cannot be.
    bool read_rules(int i, std::map<int, int> const& harvests) {
        return rules_.read(i, first_harvest(i, harvests), obstacles_[at(i)]);
    }

    /// Fills tables where many successions will look into them.
    void expect_days() {
        std::vector<chain_targets> all(model_.chains.size());
        for (int i : order_) {
            chain_targets& chain = all[at(model_.chain_of[at(i)])];
            ++chain.successions;
            if (is_in_harvest(i)) {
                chain.is_scanned = true;
            } else if (!batches_[at(i)].repeat_of && read_rules(i, {})) {
                chain.add(known(i), batches_[at(i)].target_event, is_linked(i));
            }
        }
        model_.expect_links();
        for (std::size_t c = 0; c < all.size(); ++c) {
            expect_targets(model_, static_cast<int>(c), all[c]);
        }
        model_.fill_tables(1);
    }

    bool is_linked(int i) const { return walker_.has_links(i) || !model_.awaits_of[at(i)].empty(); }

    /// The first sowing that links allow in enough years.
    int links_floor(int i) {
        if (!walker_.has_links(i, 0)) { return 0; }
        std::vector<std::int16_t> allowed;
        for (int y = 0; y < model_.years; ++y) {
            allowed.push_back(static_cast<std::int16_t>(walker_.link_day(data_.days, i, 0, y)));
        }
        return kth_smallest(allowed, known(i).link_need);
    }

    /// The earliest sowing that keeps claim (b), and the target's day.
    void least(int i, std::map<int, int> const& harvests) {
        succession_days& mine = known(i);
        mine.resolved = false;
        is_tried_[at(i)] = 0;
        obstacles_[at(i)].clear();
        alike_.take_none(i);
        if (!can_wait(i) || !read_rules(i, harvests)) { return; }
        trials_.gather_for(i);

        int const link_floor = links_floor(i);
        if (link_floor >= never) {
            obstacles_[at(i)] = {links_never(model_, walker_, data_.days, mine, i)};
            return;
        }
        int const earliest = std::max(mine.bounds().front().not_before, link_floor);
        if (is_in_harvest(i)) {
            scan_harvest(i, earliest);
        } else if (is_linked(i) || !aim_alone(i, earliest)) {
            aim(i, earliest);
        }
    }

    /// True when two successions of one chain that stand alone have the same days.
    bool ask_the_same(int i, int other) const {
        succession_days const& mine = data_.successions[at(i)];
        succession_days const& its = data_.successions[at(other)];
        return its.resolved && its.asked == mine.asked && its.need == mine.need &&
               &its.bounds() == &mine.bounds() &&
               batches_[at(other)].target_event == batches_[at(i)].target_event &&
               asks_exactly(batches_[at(other)].target_rule) ==
                   asks_exactly(batches_[at(i)].target_rule) &&
               is_early(other) == is_early(i) &&
               rules_.reliability_of(other) == rules_.reliability_of(i);
    }

    /// `aim` and `raise` in one step, for a succession that neither waits nor is waited for. False
    /// where it cannot be resolved.
    bool aim_alone(int i, int earliest) {
        auto const like = alike_.candidate(i, known(i).asked);
        if (like && ask_the_same(i, *like)) {
            take_days_of(i, *like);
            return true;
        }
        if (!seek_alone(i, earliest)) { return false; }
        alike_.remember(i, known(i).asked);
        return true;
    }

    void take_days_of(int i, int other) {
        succession_days const& its = known(other);
        succession_days& mine = known(i);
        alike_.take(i, other);
        mine.earliest_ready = its.earliest_ready;
        mine.target_day = its.target_day;
        mine.sowing = its.sowing;
        mine.latest_sowing = its.latest_sowing;
        mine.spring_starts = its.spring_starts;
        mine.resolved = true;
        mine.claim = its.claim;
        if (!mine.claim.broken.empty()) { mine.claim.broken = batches_[at(i)].name; }
        data_.days.copy(other, i);
    }

    bool seek_alone(int i, int earliest) {
        succession_days& mine = known(i);
        mine.earliest_ready = earliest_.kth_day(walker_, data_.days, i, earliest,
                                                batches_[at(i)].target_event, mine.need);
        if (mine.earliest_ready >= never) { return false; }
        mine.target_day = target_day(i);
        latest_good_sowings(model_, mine, i, latest_);
        mine.sowing = latest_for_need(mine.need);
        if (mine.sowing < earliest) { return false; }
        if (is_early(i)) { mine.sowing = std::max(earliest, spring_of(i, mine.sowing)); }
        mine.resolved = true;
        walker_.walk_all(data_.days, i, mine.sowing, walker_.wait_day(i));
        mine.claim = {.years = model_.years,
                      .needed = mine.need,
                      .good = good_from(mine.sowing),
                      .link_days_kept = model_.years};
        if (mine.sowing < model_.season_days) {
            mine.claim.good_one_day_later = good_from(mine.sowing + 1);
            if (mine.claim.good_one_day_later >= mine.need) { return true; }  // sown early
            mine.claim.broken = batches_[at(i)].name;
            mine.claim.broken_claim = "target";
        }
        return true;
    }

    /// How many of the years in `latest_` are good with a sowing.
    int good_from(int sowing) const {
        return static_cast<int>(std::count_if(latest_.begin(), latest_.end(),
                                              [&](int latest) { return latest >= sowing; }));
    }

    /// The latest sowing that enough of the years in `latest_` allow.
    int latest_for_need(int need) const { return kth_smallest(latest_, model_.years - need + 1); }

    /// The day of a target that is ready, with all as early as allowed, on `earliest_ready`.
    int target_day(int i) const {
        resolved_succession const& one = batches_[at(i)];
        succession_days const& mine = data_.successions[at(i)];
        bool const decision = !is_outcome(*one.grown, one.target_event);
        if (!decision || asks_exactly(one.target_rule)) { return mine.asked; }
        return std::max(
            {mine.asked, mine.earliest_ready, mine.bounds()[at(one.target_event)].not_before});
    }

    void aim(int i, int earliest) {
        succession_days& mine = known(i);
        resolved_succession const& one = batches_[at(i)];
        earliest_.walk(walker_, data_.days, i, earliest);
        mine.earliest_ready = kth_smallest(data_.days.row_days(i, one.target_event), mine.need);
        mine.target_day = target_day(i);
        is_tried_[at(i)] = 1;
        mine.sowing = earliest;
        if (mine.earliest_ready >= never) {
            obstacles_[at(i)] = {never_ready(model_, walker_, data_.days, mine, i)};
            return;
        }
        // Waiting for a late target can itself break a `not_after`.
        int const wait_for = walker_.wait_day(i);
        if (wait_for > 0) {
            walker_.walk(data_.days, walker_.batch(i, earliest, wait_for), one.target_event, 0,
                         model_.years);
        }
        if (walker_.good_years(data_.days, i) < mine.need) {
            obstacles_[at(i)] = {too_few_good(model_, walker_, data_.days, mine, i, earliest)};
            return;
        }
        // A sowing that is the target waits for its day.
        if (one.target_event == 0) { mine.sowing = std::max(earliest, wait_for); }
        mine.resolved = true;
    }

    /// The latest of the days with the most good years; early, the first of its spring.
    int chosen(int i, most_good const& found) {
        int const latest = found.days().back();
        if (!is_early(i)) { return latest; }
        return *std::ranges::lower_bound(found.days(), spring_of(i, latest));
    }

    /// The first and last sowing that may be in harvest on the wanted days in any year. Later
    /// sowings are cleared later, so that the first is bisected.
    std::pair<int, int> may_be_in_harvest(int i, int earliest) {
        latest_good_sowings(model_, known(i), i, latest_);
        int const last = *std::max_element(latest_.begin(), latest_.end());
        int const until =
            model_.planned.window().offset_of(harvest_asked(batches_[at(i)].target_rule)->until);
        int first = earliest;
        for (int beyond = last + 1; first < beyond;) {
            int const middle = first + (beyond - first) / 2;
            walker_.walk_all(data_.days, i, middle, 0);
            auto const cleared = data_.days.row_days(i, last_event(i));
            bool const is_late =
                std::any_of(cleared.begin(), cleared.end(), [&](int day) { return day > until; });
            if (is_late) {
                beyond = middle;
            } else {
                first = middle + 1;
            }
        }
        return {first, last};
    }

    /// A day with the most good years, found by trying every day: it is not monotone.
    void scan_harvest(int i, int earliest) {
        succession_days& mine = known(i);
        mine.target_day = mine.asked;
        mine.sowing = earliest;
        most_good found;
        auto const [first, last] = may_be_in_harvest(i, earliest);
        for (int s = first; s <= last; ++s) {
            walker_.walk_all(data_.days, i, s, 0);
            int const good = walker_.good_years(data_.days, i);
            if (good > 0) { found.add(s, good); }
        }
        int const best = found.most();
        if (best > 0) { mine.sowing = chosen(i, found); }
        if (best < mine.need) {
            obstacles_[at(i)] = {
                too_seldom_in_harvest(model_, walker_, data_.days, mine, i, earliest)};
        }
        is_tried_[at(i)] = 1;
        walker_.walk_all(data_.days, i, mine.sowing, 0);
        mine.resolved = best >= mine.need;
        mine.earliest_ready =
            kth_smallest(data_.days.row_days(i, batches_[at(i)].target_event), mine.need);
    }

    /// The same of one that is linked, when others have moved: of the sowings that break nothing of
    /// what waits for it.
    void scan_again(int i) {
        succession_days& mine = known(i);
        int const earliest = std::max(mine.bounds().front().not_before, links_floor(i));
        trials_.start();
        most_good found;
        auto const [first, last] = may_be_in_harvest(i, earliest);
        for (int s = first; s <= last; ++s) {
            kept_rows kept = trials_.keep();
            kept.keep(i);
            walker_.walk_all(data_.days, i, s, 0);
            int const good = walker_.good_years(data_.days, i);
            if (good >= found.most() && trials_.breaks_others(i, kept).succession < 0) {
                found.add(s, good);
            }
            kept.restore();
        }
        if (!found.days().empty()) { mine.sowing = chosen(i, found); }
        trials_.settle(i, mine.sowing);
        mine.earliest_ready =
            kth_smallest(data_.days.row_days(i, batches_[at(i)].target_event), mine.need);
    }

    void raise(int i) {
        succession_days& mine = known(i);
        trials_.start();
        int low = mine.sowing;
        // The latest sowing that its own target allows, its links left out, and that those bear who
        // wait for it; most often that one will do.
        latest_good_sowings(model_, mine, i, latest_);
        int high = latest_for_need(mine.need);
        if (is_early(i)) { high = std::min(high, spring_of(i, std::max(low, high))); }
        high = std::max(low, std::min(high, trials_.latest_borne(i)));
        bool has_moved = high > low && trials_.moves_to(i, high);
        if (has_moved) { low = high; }
        while (low < high) {
            int const tried = low + (high - low + 1) / 2;
            if (trials_.moves_to(i, tried)) {
                has_moved = true;
                low = tried;
            } else {
                high = tried - 1;
            }
        }
        mine.sowing = low;
        good_alone_later_[at(i)] = good_from(low + 1);
        if (!has_moved) { trials_.settle(i, low); }
    }

    int planned_harvest(int i) {
        std::optional<int> const event = event_index(*batches_[at(i)].grown, "first_harvest");
        plan_days(i);
        return known(i).planned[at(*event)];
    }

    /// Planned first harvests of those that are repeated.
    std::map<int, int> first_harvests() {
        std::map<int, int> days;
        for (resolved_succession const& one : batches_) {
            if (one.repeat_of && known(*one.repeat_of).resolved) {
                days[*one.repeat_of] = planned_harvest(*one.repeat_of);
            }
        }
        return days;
    }

    void plan_days(int i) {
        succession_days& mine = known(i);
        auto const other = alike_.taken_from(i);
        if (other && !known(*other).planned.empty()) {
            mine.planned = known(*other).planned;
            return;
        }
        mine.planned =
            std::span{data_.planned}.subspan(at(data_.days.row(i, 0)), at(last_event(i) + 1));
        find_planned(i, mine.planned);
    }

    /// The planned day of each event, from the days walked.
    void find_planned(int i, std::span<int> into) {
        succession_days const& mine = known(i);
        resolved_succession const& one = batches_[at(i)];
        for (int e = 0; e <= last_event(i); ++e) {
            bool const outcome = is_outcome(*one.grown, e);
            int& planned = into[at(e)];
            if (e == one.target_event && !outcome) {
                planned = mine.target_day;
            } else if (e == 0) {
                planned = mine.sowing;
            } else {
                planned = quantile_of(data_.days.row_days(i, e),
                                      outcome ? 0.5 : rules_.reliability_of(i));
            }
            if (e > 0) { planned = std::max(planned, into[at(e - 1)]); }
        }
    }

    void count_claim(int i) {
        if (!is_linked(i) && !is_in_harvest(i)) { return; }
        succession_days& mine = known(i);
        mine.claim = {.years = model_.years,
                      .needed = mine.need,
                      .good = walker_.good_years(data_.days, i),
                      .link_days_kept = trials_.link_years_kept(i)};
        if (mine.sowing >= model_.season_days) { return; }
        // One that waits for nobody is good as often as its sowings read backwards say.
        if (!walker_.has_links(i) && !is_in_harvest(i)) {
            if (int const later = good_alone_later_[at(i)]; later < mine.need) {
                mine.claim.good_one_day_later = later;
                mine.claim.broken = batches_[at(i)].name;
                mine.claim.broken_claim = "target";
                return;
            }
        }
        trials_.start();
        kept_rows kept = trials_.keep();
        broken_claim const broken = trials_.try_sowing(i, mine.sowing + 1, kept);
        if (broken.succession >= 0) {
            mine.claim.good_one_day_later = broken.count;
            mine.claim.broken = batches_[at(broken.succession)].name;
            mine.claim.broken_claim = broken.claim;
        } else {
            // Enough years may be left of the most that there are, which `in_harvest` asks for.
            mine.claim.good_one_day_later = walker_.good_years(data_.days, i);
        }
        kept.restore();
    }

    calendar_data& data_;
    season_model& model_;
    std::vector<resolved_succession> const& batches_;
    chain_walker walker_;
    asked_rules rules_;
    alike_successions alike_;
    sowing_trials trials_;
    std::vector<std::optional<int>> missing_;  ///< see `missing_of`
    std::vector<std::vector<obstacle>> obstacles_;
    std::vector<char> is_tried_;  ///< its days are walked, whether it is resolved or not
    std::vector<int> order_;
    earliest_days earliest_;
    std::vector<int> good_alone_later_;  ///< good years one day later, were there no links
    std::vector<std::int16_t> latest_;   ///< good sowings of the succession at hand, by year
};

}  // namespace

chosen_springs find_springs(season_model& model, reliability wanted) {
    std::vector<resolved_succession> const& batches = model.planned.successions();
    std::vector<char> asking(batches.size(), 0);
    bool is_any = false;
    for (std::size_t i = 0; i < batches.size(); ++i) {
        asking[i] = batches[i].risk.share() ? 1 : 0;
        is_any |= asking[i] != 0;
    }
    if (!is_any) { return {}; }
    calendar_data data{.model = std::shared_ptr<season_model const>{&model,
                                                                    [](auto*) {
                                                                    }},
                       .wanted = wanted};
    return scheduler{data, model, {}}.springs_of(asking);
}

}  // namespace detail

calendar schedule(plan const& of, climate const& under, std::optional<reliability> wanted) {
    auto const model = std::make_shared<detail::season_model>(of, under);
    auto data = std::make_shared<detail::calendar_data>(
        detail::calendar_data{.model = model, .wanted = wanted.value_or(of.parts().reliability)});
    detail::chosen_springs const springs = detail::find_springs(*model, data->wanted);
    detail::scheduler{*data, *model, springs}.run();
    return calendar{std::move(data)};
}

}  // namespace epicotyl
