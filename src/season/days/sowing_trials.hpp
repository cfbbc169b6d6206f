// What a sowing moves when it is tried on another day, and what breaks by it.
//
// Whoever waits for a batch that moves is walked again, where it is, and whoever waits for that;
// one that nothing it waits for has moved keeps its days, and all its claims with them. A try that
// breaks a claim is taken back whole.
#ifndef EPICOTYL_SRC_SEASON_DAYS_SOWING_TRIALS_HPP
#define EPICOTYL_SRC_SEASON_DAYS_SOWING_TRIALS_HPP

#include <map>
#include <vector>

#include "calendar_data.hpp"
#include "kept_rows.hpp"
#include "latest_sowing.hpp"
#include "moving_waves.hpp"

namespace epicotyl::detail {

/// Which claim fails, of whom, and with what count.
struct broken_claim {
    int succession = -1;
    char const* claim = "";
    int count = 0;
};

class sowing_trials {
public:
    sowing_trials(calendar_data& data, season_model const& model, path_walker const& walker);

    /// Successions in the order of waiting.
    void set_order(std::vector<int> const& order);
    /// All days are to be walked anew, those waited for first.
    void forget_days();
    /// Looks at the waves that a succession waits for: all in them have been walked.
    void gather_for(int succession);

    /// In how many years the links of a sowing allow its day.
    [[nodiscard]] int link_years_kept(int succession) const;
    /// The latest sowing that those bear who wait for a succession, as far as is known at once.
    [[nodiscard]] int latest_borne(int succession);

    /// Before tries with another succession: harvests on wanted days keep the good years that they
    /// have now.
    void start() { had_.clear(); }
    [[nodiscard]] kept_rows keep() { return {data_.days, waves_}; }
    /// Sows a succession on a day, the rest where they are, and looks for a claim that fails.
    broken_claim try_sowing(int succession, int sowing, kept_rows& kept);
    /// Walks those that wait for one, kept and walked last, where they are, up to a claim that
    /// fails.
    broken_claim breaks_others(int succession, kept_rows& kept);
    /// Moves it if no claim fails by it.
    bool moves_to(int succession, int sowing);
    /// Moves it, whatever fails.
    void settle(int succession, int sowing);

private:
    [[nodiscard]] succession_days const& known(int i) const { return data_.successions[at(i)]; }
    [[nodiscard]] std::vector<char> good_now(int succession) const;
    /// Adds those that wait for one, kept and walked last, if it has moved.
    void add_those_after(int succession, kept_rows& kept);
    /// A claim of one that was walked again and fails.
    [[nodiscard]] broken_claim broken_of(int succession) const;
    /// Those that were walked anew may bear other days of what they wait for.
    void bear_anew(kept_rows const& kept);

    calendar_data& data_;
    season_model const& model_;
    path_walker const& walker_;
    moving_waves waves_;
    bearable_days bearable_;
    std::vector<int> place_in_order_;
    /// To be walked again: place in the order, succession.
    std::map<int, int> moved_ = {};
    /// Good years that those in harvest on wanted days had before one they wait for was moved.
    std::map<int, std::vector<char>> had_ = {};
};

}  // namespace epicotyl::detail

#endif
