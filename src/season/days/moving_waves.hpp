// When waves are together, kept up as their members move one by one.
//
// A link from a wave counts from the last of it (or the first). When one member moves, who that is
// follows from the two that lead, without a look at the others. So many successions that wait for
// many cost no more than each of them alone.
#ifndef EPICOTYL_SRC_SEASON_DAYS_MOVING_WAVES_HPP
#define EPICOTYL_SRC_SEASON_DAYS_MOVING_WAVES_HPP

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include "path_walker.hpp"

namespace epicotyl::detail {

class moving_waves {
    /// The two of a wave that decide, in one year.
    struct lead {
        std::int16_t day = 0;
        std::int16_t next_day = 0;
        int who = -1;
        int next = -1;
    };

public:
    moving_waves(season_model const& model, path_walker const& walker, days_table& days)
        : model_{model}, walker_{walker}, days_{days}, leads_(at(model.waves)) {}

    /// All days may have changed.
    void forget() {
        for (std::vector<lead>& one : leads_) { one.clear(); }
    }
    /// Looks at a wave whole, unless that was done since `forget`.
    void gather(awaited const& wave) {
        if (is_gathered(wave)) { return; }
        walker_.gather(days_, wave, 0, model_.years);
        leads_[at(wave.wave)].resize(at(model_.years));
        for (int y = 0; y < model_.years; ++y) { look_at_all(wave, y); }
    }
    /// A wave that nobody with days waits for is not.
    [[nodiscard]] bool is_gathered(awaited const& wave) const {
        return !leads_[at(wave.wave)].empty();
    }
    /// Follows a member of a gathered wave that has moved; true where the wave is together on
    /// another day than before in some year.
    bool follow(awaited const& wave, int succession, int event) {
        bool has_moved = false;
        std::span<std::int16_t> const together = days_.gathered_days(wave.wave);
        for (int y = 0; y < model_.years; ++y) {
            move_to(wave, succession, days_.at(succession, event, y), y);
            std::int16_t const day = leads_[at(wave.wave)][at(y)].day;
            has_moved |= day != together[at(y)];
            together[at(y)] = day;
        }
        return has_moved;
    }

    /// What is known of a wave, to be put back after a try.
    class kept {
    public:
        kept(moving_waves& all, awaited const& wave)
            : all_{all}, wave_{wave.wave}, leads_{all.leads_[at(wave.wave)]} {}
        void restore() const {
            all_.leads_[at(wave_)] = leads_;
            std::span<std::int16_t> const together = all_.days_.gathered_days(wave_);
            for (std::size_t y = 0; y < together.size(); ++y) { together[y] = leads_[y].day; }
        }

    private:
        moving_waves& all_;
        int wave_;
        std::vector<lead> leads_;
    };

private:
    [[nodiscard]] static bool is_before(awaited const& wave, int day, int other) {
        return wave.first_decides ? day < other : day > other;
    }

    void look_at_all(awaited const& wave, int year) {
        auto const none = static_cast<std::int16_t>(wave.first_decides ? never : 0);
        lead& of = leads_[at(wave.wave)][at(year)];
        of = {.day = none, .next_day = none};
        for (event_of const& first : wave.firsts) {
            enter(wave, of, first.succession,
                  static_cast<std::int16_t>(days_.at(first.succession, first.event, year)));
        }
    }

    static void enter(awaited const& wave, lead& of, int who, std::int16_t day) {
        if (of.who < 0 || is_before(wave, day, of.day)) {
            of = {.day = day, .next_day = of.day, .who = who, .next = of.who};
        } else if (of.next < 0 || is_before(wave, day, of.next_day)) {
            of.next_day = day;
            of.next = who;
        }
    }

    void move_to(awaited const& wave, int who, int to, int year) {
        auto const day = static_cast<std::int16_t>(to);
        lead& of = leads_[at(wave.wave)][at(year)];
        if (who != of.who && who != of.next) {
            enter(wave, of, who, day);
        } else if (who == of.who && !is_before(wave, of.next_day, day)) {
            of.day = day;
        } else if (who == of.next && is_before(wave, day, of.day)) {
            of = {.day = day, .next_day = of.day, .who = who, .next = of.who};
        } else if (who == of.next && !is_before(wave, of.next_day, day)) {
            of.next_day = day;
        } else {
            look_at_all(wave, year);
        }
    }

    season_model const& model_;
    path_walker const& walker_;
    days_table& days_;
    std::vector<std::vector<lead>> leads_;  ///< [wave][year]; empty: not gathered
};

}  // namespace epicotyl::detail

#endif
