// What holds a day, in words.
#ifndef EPICOTYL_SRC_SEASON_DAYS_HELD_TEXT_HPP
#define EPICOTYL_SRC_SEASON_DAYS_HELD_TEXT_HPP

#include <string>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../rows/say.hpp"
#include "held_by.hpp"

namespace epicotyl::detail {

/// Makes reasons of one calendar.
class reason_maker {
public:
    explicit reason_maker(calendar_data const& data) : data_{data}, model_{*data.model} {}

    resolved_succession const& batch(int i) const { return model_.planned.successions()[at(i)]; }
    succession_days const& known(int i) const { return data_.successions[at(i)]; }
    std::string say(int offset) const { return say_day(model_.planned, offset); }
    std::string event_text(int i, int event) const {
        return say_event(event_name(*batch(i).grown, event));
    }
    reason make(int i, int event, std::string code) const {
        return {.succession = batch(i).name,
                .event = std::string{event_name(*batch(i).grown, event)},
                .code = std::move(code)};
    }

    void add_day(reason& why, char const* name, int offset) const {
        if (auto const when = model_.planned.window().day_at(offset)) {
            why.values.emplace_back(name, *when);
        }
    }

    day day_at(int offset) const { return model_.planned.window().start() + days{offset}; }

    std::string of_batch(int i) const { return fmt::format(" of \"{}\"", batch(i).name); }

    /// "ready to transplant by 12 May", "first harvest by 5 Aug", "in harvest from .. until ..".
    [[nodiscard]] std::string aim_text(int i) const;
    /// Why one that is sown early is sown that early; what keeps it from being earlier is not told.
    [[nodiscard]] reason why_earliest(int i) const;
    /// "it waits for clear of "peas"": what a link asks.
    [[nodiscard]] std::string link_text(holder const& one) const;
    /// The same as a reason without its sentence.
    [[nodiscard]] reason why_link(holder const& one) const;
    /// One requirement behind a day, said by itself.
    [[nodiscard]] reason why_held(holder const& one) const;

protected:
    calendar_data const& data_;
    season_model const& model_;

private:
    /// What a link counts from: of several whose first decides, the first in the plan.
    [[nodiscard]] event_of waited_for(holder const& one) const;
    [[nodiscard]] reason why_planned(holder const& one, std::string const& head) const;
};

}  // namespace epicotyl::detail

#endif
