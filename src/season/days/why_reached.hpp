// Why an event that nobody aims at comes when it comes: a bound or a link that it waits for, its
// clock, or the order of what is planned.
#ifndef EPICOTYL_SRC_SEASON_DAYS_WHY_REACHED_HPP
#define EPICOTYL_SRC_SEASON_DAYS_WHY_REACHED_HPP

#include "held_text.hpp"
#include "telling.hpp"

namespace epicotyl::detail {

class reached_reasons : public reason_maker {
public:
    explicit reached_reasons(calendar_data const& data)
        : reason_maker{data}, walker_{model_, data.successions} {}

    /// What is said of a requirement on the event itself that holds its planned day.
    [[nodiscard]] clause held_by(int i, int event, holder const& one) const;
    /// Of an event that is only planned no earlier than what comes before it.
    [[nodiscard]] clause not_before_the_last(int i, int event) const;

private:
    [[nodiscard]] int waiting_years(int i, int event, holder const& one) const;
    [[nodiscard]] int by_then_years(int i, int event) const;
    [[nodiscard]] clause waits_for(int i, int event, holder const& one) const;
    [[nodiscard]] clause comes_usually(int i, int event) const;
    [[nodiscard]] clause ready_by_then(int i, int event) const;

    path_walker walker_;
};

}  // namespace epicotyl::detail

#endif
