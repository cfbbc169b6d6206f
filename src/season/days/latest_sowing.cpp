#include "latest_sowing.hpp"

#include <algorithm>
#include <functional>
#include <utility>

#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

namespace {

constexpr std::int16_t no_day = -1;

/// The last event that must come by a day: the target, or one behind it with a `not_after`.
int last_in_time(succession_days const& known, int target) {
    std::vector<event_bounds> const& bounds = known.bounds();
    int last = static_cast<int>(bounds.size()) - 1;
    while (last > target && bounds[at(last)].not_after >= never) { --last; }
    return last;
}

/// The last days of event `event` with which each year is good.
void latest_good_days(season_model const& model, succession_days const& known, int succession,
                      int event, std::span<std::int16_t> latest) {
    std::vector<event_bounds> const& bounds = known.bounds();
    int const target = model.planned.successions()[at(succession)].target_event;
    crop const& grown = *model.planned.successions()[at(succession)].grown;
    int const wait_for = is_outcome(grown, target) ? 0 : known.target_day;
    // An event that waits for a day, and must have come by an earlier one, cannot.
    auto const in_time = [&](int e) {
        bool const aimed = e == target;
        return day_span{std::max(bounds[at(e)].not_before, aimed ? wait_for : 0),
                        std::min({aimed ? known.target_day : never, bounds[at(e)].not_after,
                                  model.season_days})};
    };
    std::ranges::fill(latest, std::int16_t{never});
    read_back(model, model.path_of[at(succession)], last_in_time(known, target), event, latest,
              in_time);
}

/// From the last days of an event to the last sowings from which it has come by then, good or not.
void latest_sowings_before(season_model const& model, succession_days const& known, int succession,
                           int event, int wait_for, std::span<std::int16_t> latest) {
    int const target = model.planned.successions()[at(succession)].target_event;
    read_back(model, model.path_of[at(succession)], event, 0, latest, [&](int e) {
        return day_span{std::max(known.bounds()[at(e)].not_before, e == target ? wait_for : 0),
                        never};
    });
}

}  // namespace

void latest_good_sowings(season_model const& model, succession_days const& known, int succession,
                         std::span<std::int16_t> latest) {
    latest_good_days(model, known, succession, 0, latest);
}

std::optional<last_days> bearable_days::of_link(int link) const {
    resolved_link const& one = model_.planned.links()[at(link)];
    int const then = one.then.succession;
    succession_days const& waits = known_[at(then)];
    resolved_succession const& batch = model_.planned.successions()[at(then)];
    // An outcome waits for nobody, and where the earliest of several decides another may come in
    // time. What comes behind all that must be in time can be as late as may be.
    if (!waits.resolved || is_outcome(*batch.grown, one.then.event) ||
        is_scanned_for(batch.target_rule) || (one.first_decides && one.firsts.size() > 1) ||
        one.then.event > last_in_time(waits, batch.target_event)) {
        return std::nullopt;
    }
    last_days found{
        .need = waits.need,
        .of_year = std::vector(at(model_.years), static_cast<std::int16_t>(waits.sowing))};
    std::vector<char> good(at(model_.years), 1);
    if (one.then.event > 0) {
        walker_.strike_bad_years(days_, then, good);
        latest_good_days(model_, waits, then, one.then.event, found.of_year);
    }
    for (int y = 0; y < model_.years; ++y) {
        std::int16_t& day = found.of_year[at(y)];
        day = good[at(y)] != 0
                  ? static_cast<std::int16_t>(model_.link_wait(link).latest_start(day, y))
                  : no_day;
    }
    return found;
}

std::vector<last_days> const& bearable_days::of(int awaited) {
    std::optional<std::vector<last_days>>& known = of_[at(awaited)];
    if (known) { return *known; }
    known.emplace();
    auto const says_no_more = [](last_days const& one, last_days const& other) {
        return one.need <= other.need &&
               std::ranges::equal(one.of_year, other.of_year, std::greater_equal{});
    };
    for (int const link : model_.awaited_all[at(awaited)].links) {
        std::optional<last_days> found = of_link(link);
        if (!found || std::ranges::any_of(*known, [&](last_days const& other) {
                return says_no_more(*found, other);
            })) {
            continue;
        }
        std::erase_if(*known, [&](last_days const& one) { return says_no_more(one, *found); });
        known->push_back(std::move(*found));
    }
    return *known;
}

void bearable_days::forget(int succession) {
    for (incoming_link const& in : walker_.incoming(succession)) {
        of_[at(model_.awaited_of_link[at(in.link)])].reset();
    }
}

void bearable_days::forget_all() {
    std::ranges::fill(of_, std::nullopt);
}

int latest_sowing_before(season_model const& model, path_walker const& walker,
                         succession_days const& known, int succession, int event,
                         last_days const& by) {
    std::vector<std::int16_t> latest = by.of_year;
    latest_sowings_before(model, known, succession, event, walker.wait_day(succession), latest);
    return kth_smallest(latest, model.years - by.need + 1);
}

}  // namespace epicotyl::detail
