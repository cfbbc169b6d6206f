#include "latest_sowing.hpp"

#include <algorithm>
#include <variant>

namespace epicotyl::detail {

namespace {

constexpr std::int16_t no_day = -1;

/// The last day of an event that must come by `day` and not before `floor`.
std::int16_t last_day(int day, int floor) {
    return day < floor ? no_day : static_cast<std::int16_t>(day);
}

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
    auto const by = [&](int one, int day) {
        bool const aimed = one == target;
        return last_day(std::min({day, aimed ? known.target_day : never, bounds[at(one)].not_after,
                                  model.season_days}),
                        std::max(bounds[at(one)].not_before, aimed ? wait_for : 0));
    };
    int const last = last_in_time(known, target);
    std::fill(latest.begin(), latest.end(), by(last, never));
    for (int e = last; e > event; --e) {
        wait_table const& wait = model.wait_of(succession, e - 1);
        for (int y = 0; y < model.years; ++y) {
            std::int16_t& day = latest[at(y)];
            day = by(e - 1, wait.latest_start(day, y));
        }
    }
}

/// From the last days of an event to the last sowings from which it has come by then, good or not.
void latest_sowings_before(season_model const& model, succession_days const& known, int succession,
                           int event, int wait_for, std::span<std::int16_t> latest) {
    int const target = model.planned.successions()[at(succession)].target_event;
    for (int e = event; e >= 0; --e) {
        int const floor = std::max(known.bounds()[at(e)].not_before, e == target ? wait_for : 0);
        for (int y = 0; y < model.years; ++y) {
            std::int16_t& day = latest[at(y)];
            day = last_day(day, floor);
            if (e > 0) {
                day = static_cast<std::int16_t>(
                    model.wait_of(succession, e - 1).latest_start(day, y));
            }
        }
    }
}

}  // namespace

void latest_good_sowings(season_model const& model, succession_days const& known, int succession,
                         std::span<std::int16_t> latest) {
    latest_good_days(model, known, succession, 0, latest);
}

int latest_sowing_for(season_model const& model, chain_walker const& walker, days_table const& days,
                      std::vector<succession_days> const& known, int first, int then) {
    resolved_succession const& waits = model.planned.successions()[at(then)];
    if (is_scanned_for(waits.target_rule)) { return never; }
    int limit = never;
    std::vector<std::int16_t> latest(at(model.years));
    std::vector<char> good(at(model.years), 1);
    walker.strike_bad_years(days, then, good);
    for (incoming_link const& in : walker.incoming(then)) {
        resolved_link const& link = model.planned.links()[at(in.link)];
        // Where the earliest of several decides, another may come in time.
        if (link.first_decides && link.firsts.size() > 1) { continue; }
        // What comes behind all that must be in time can be as late as may be.
        if (in.event > last_in_time(known[at(then)], waits.target_event)) { continue; }
        for (event_of const& waited_for : link.firsts) {
            if (waited_for.succession != first) { continue; }
            if (in.event == 0) {
                std::fill(latest.begin(), latest.end(),
                          static_cast<std::int16_t>(known[at(then)].sowing));
            } else {
                latest_good_days(model, known[at(then)], then, in.event, latest);
            }
            for (int y = 0; y < model.years; ++y) {
                std::int16_t& day = latest[at(y)];
                bool const can_be = in.event == 0 || good[at(y)] != 0;
                day = can_be
                          ? static_cast<std::int16_t>(model.link_wait(in.link).latest_start(day, y))
                          : no_day;
            }
            latest_sowings_before(model, known[at(first)], first, waited_for.event,
                                  walker.wait_day(first), latest);
            limit = std::min(limit, kth_smallest(latest, model.years - known[at(then)].need + 1));
        }
    }
    return limit;
}

}  // namespace epicotyl::detail
