#include "fit_ways.hpp"

#include <algorithm>
#include <utility>

#include <epicotyl/plan/plan.hpp>

#include "../../season/days/calendar_data.hpp"
#include "fit_text.hpp"

namespace epicotyl::detail {

namespace {

/// What has no room at all is dearer than all that can be bought in.
constexpr double short_price = 1000.0;

class way_maker {
public:
    way_maker(calendar const& before, fit_options const& options, fit_rooms const& rooms,
              crowding const& crowded, std::vector<trial> const& planned,
              std::vector<std::vector<room_use>> const& uses)
        : before_{before},
          plan_{before.plan()},
          options_{options},
          rooms_{rooms},
          crowding_{crowded},
          planned_{planned},
          uses_{uses},
          ways_(planned.size()) {}

    [[nodiscard]] std::vector<std::vector<batch_way>> make(std::vector<trial> const& trials) {
        for (std::vector<batch_way>& ways : ways_) { ways.push_back({}); }
        for (std::size_t t = 0; t < trials.size(); ++t) {
            if (trials[t].change.together >= 0) { continue; }
            if (trials[t].change.bought) {
                add_bought(trials[t], static_cast<int>(t));
            } else {
                add_changed(trials[t], static_cast<int>(t));
            }
        }
        for (int i : crowding_.batches) {
            if (options_.leave_out) { add_left_out(i); }
            add_short(i);
        }
        return std::move(ways_);
    }

private:
    /// All of a batch changed, and half of it where it can be parted.
    void add_changed(trial const& one, int index) {
        amount const& of = plan_.successions()[at(one.batch)].amount;
        double const price = price_of(options_.weights, planned_[at(one.batch)], one);
        std::vector<batch_way>& ways = ways_[at(one.batch)];
        ways.push_back({.price = price, .parts = {{index, 1.0, of.value}}});
        halves const two = halves_of(of);
        if (!options_.splits || two.second <= 0.0 || is_linked(plan_, one.batch)) { return; }
        ways.push_back(
            {.price = options_.weights.split + price * (1.0 - two.share),
             .parts = {{-1, two.share, two.first}, {index, 1.0 - two.share, two.second}}});
    }

    /// What is wanted at the very end, as plants to be sold, is bought in without a stage.
    void add_left_out(int batch) {
        auto const last = static_cast<int>(plan_.successions()[at(batch)].grown->stages.size());
        if (bought_event(plan_, batch) != last || !can_be_written_out(before_, batch)) { return; }
        std::vector<batch_way>& ways = ways_[at(batch)];
        halves const two = halves_of(plan_.successions()[at(batch)].amount);
        if (two.second > 0.0) {
            ways.push_back({.price = bought_price(batch, 1.0 - two.share),
                            .parts = {{-1, two.share, two.first}},
                            .left_out = 1.0 - two.share});
        }
        if (!is_linked(plan_, batch)) {
            ways.push_back({.price = bought_price(batch, 1.0), .left_out = 1.0});
        }
    }

    [[nodiscard]] double bought_price(int batch, double share) const {
        return options_.weights.left_out +
               options_.weights.left_out_tray * crowding_.size[at(batch)] * share;
    }

    /// Plants are bought whole.
    [[nodiscard]] double plants_bought(trial const& one, double share) const {
        return whole_plants(planned_[at(one.batch)].alive[at(*one.change.bought)] * share);
    }

    /// Half a batch bought in, and all of it where nothing is linked with it.
    void add_bought(trial const& one, int index) {
        std::vector<batch_way>& ways = ways_[at(one.batch)];
        double const days = price_of(options_.weights, planned_[at(one.batch)], one);
        halves const two = halves_of(plan_.successions()[at(one.batch)].amount);
        if (two.second > 0.0) {
            double const half = 1.0 - two.share;
            ways.push_back(
                {.price = bought_price(one.batch, half) + days * half,
                 .parts = {{-1, two.share, two.first}, {index, half, plants_bought(one, half)}},
                 .left_out = half});
        }
        if (is_linked(plan_, one.batch)) { return; }
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
            fit_room const& room = rooms_.all()[at(one.resource)];
            if (!room.field || crowding_.is_crowded[at(one.resource)] == 0) { continue; }
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

    calendar const& before_;
    plan const& plan_;
    fit_options const& options_;
    fit_rooms const& rooms_;
    crowding const& crowding_;
    std::vector<trial> const& planned_;
    std::vector<std::vector<room_use>> const& uses_;
    std::vector<std::vector<batch_way>> ways_;
};

}  // namespace

bool can_be_written_out(calendar const& before, int batch) {
    std::vector<resolved_succession> const& all = before.plan().successions();
    int const source = all[at(batch)].source;
    for (int i = 0; i < static_cast<int>(all.size()); ++i) {
        if (all[at(i)].source != source || !all[at(i)].repeat_of) { continue; }
        int const asked = before.data()->successions[at(i)].asked;
        if (asked > before.plan().window().length()) { return false; }
    }
    return true;
}

std::vector<std::vector<batch_way>> ways_of_batches(calendar const& before,
                                                    fit_options const& options,
                                                    fit_rooms const& rooms, crowding const& crowded,
                                                    std::vector<trial> const& planned,
                                                    std::vector<std::vector<room_use>> const& uses,
                                                    std::vector<trial> const& trials) {
    return way_maker{before, options, rooms, crowded, planned, uses}.make(trials);
}

}  // namespace epicotyl::detail
