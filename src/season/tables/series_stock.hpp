// What seasons under one climate have in common: airs, day lengths, running sums, cold nights.
//
// A what-if changes one thing of a plan and leaves the rest. What the rest needs is in stock, as
// long as a calendar or prospect that uses it is there: the stock itself keeps nothing alive, so a
// thousand changes leave nothing behind.
#ifndef EPICOTYL_SRC_SEASON_TABLES_SERIES_STOCK_HPP
#define EPICOTYL_SRC_SEASON_TABLES_SERIES_STOCK_HPP

#include <memory>
#include <mutex>
#include <optional>
#include <utility>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/ready_map.hpp>
#include <epicotyl/crop/air.hpp>
#include <epicotyl/crop/place.hpp>

#include "wait_table.hpp"

namespace epicotyl::detail {

/// Things known by what they are made from, each as long as somebody uses it.
template <class Key, class Thing>
class shelf {
public:
    /// The thing of a key, made where there is none. `make` may run in two threads at once; both
    /// are given the same thing.
    template <class Make>
    [[nodiscard]] std::shared_ptr<Thing const> get(Key const& key, Make const& make) {
        {
            std::scoped_lock const lock{lock_};
            if (auto found = find(key)) { return found; }
        }
        auto made = std::make_shared<Thing const>(make());
        std::scoped_lock const lock{lock_};
        if (auto found = find(key)) { return found; }
        std::erase_if(things_, [](auto const& one) { return one.second.expired(); });
        things_.emplace_back(key, made);
        return made;
    }

private:
    [[nodiscard]] std::shared_ptr<Thing const> find(Key const& key) const {
        for (auto const& [known, thing] : things_) {
            if (!(known == key)) { continue; }
            if (auto found = thing.lock()) { return found; }
        }
        return nullptr;
    }

    std::mutex lock_;
    std::vector<std::pair<Key, std::weak_ptr<Thing const>>> things_;
};

/// An air through all season years.
struct air_years {
    std::vector<air_series> years;
    double coldest = 0.0;  ///< mean over season years of the year's lowest minimum, °C
};

/// Keys. A pointer stands for a thing of this stock: who uses what is made from it, holds it too.
struct air_key {
    air changes;
    double act_below;
    friend bool operator==(air_key const&, air_key const&) = default;
};
struct switched_key {
    air_key of;
    bool heater;
    bool cover;
    friend bool operator==(switched_key const&, switched_key const&) = default;
};
struct hours_key {
    day start;
    std::optional<lamps> lit;
    friend bool operator==(hours_key const&, hours_key const&) = default;
};
/// Of clocks that run alike, whatever amounts they wait for.
struct sums_key {
    clock counted;
    air_years const* in;               ///< null: of no account
    std::vector<double> const* hours;  ///< null: no gate
    friend bool operator==(sums_key const& a, sums_key const& b);
};
struct cold_key {
    air_years const* in;
    double limit;
    friend bool operator==(cold_key const&, cold_key const&) = default;
};
/// Of clocks that are groups.
struct group_key {
    clock whole;
    air_years const* in;
    std::vector<double> const* hours;
    night_table const* ends;  ///< null: none
    friend bool operator==(group_key const&, group_key const&) = default;
};

struct series_stock {
    shelf<air_key, air_years> airs;
    shelf<switched_key, std::vector<air_series>> switched;
    shelf<hours_key, std::vector<double>> hours;
    shelf<sums_key, running_sums> sums;
    shelf<cold_key, night_table> colds;
    shelf<group_key, std::vector<ready_map>> groups;
};

}  // namespace epicotyl::detail

#endif
