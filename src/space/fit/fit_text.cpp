#include "fit_text.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../../detail/wrapped.hpp"
#include "../../season/days/calendar_data.hpp"
#include "../../season/rows/say.hpp"
#include "../stays.hpp"

namespace epicotyl::detail {

namespace {

/// Writes the moves of one batch.
class move_writer {
public:
    move_writer(calendar const& of, fit_weights const& weights, trial const& planned,
                batch_way const& way, std::vector<trial> const& trials, double size)
        : calendar_{of},
          plan_{of.plan()},
          weights_{weights},
          one_{plan_.successions()[at(planned.batch)]},
          planned_{planned},
          way_{way},
          trials_{trials},
          size_{size} {}

    std::vector<fit_move> write() {
        if (way_.parts.size() == 2 && way_.left_out == 0.0) { split(); }
        for (raised_part const& part : way_.parts) {
            if (part.trial < 0) { continue; }
            share_ = part.share;
            moved_ = &trials_[at(part.trial)];
            std::size_t const first = moves_.size();
            if (moved_->change.shift != 0) { shift(); }
            for (other_place const& other : moved_->change.places) { place(other); }
            if (moved_->change.early) { early(); }
            if (moved_->change.container) { container(); }
            if (moved_->change.bought) { left_out(); }
            tell_days(first);
        }
        if (way_.left_out > 0.0 && moved_ == nullptr) { left_out(); }
        return std::move(moves_);
    }

private:
    [[nodiscard]] std::string day(int offset) const { return say_day(plan_, offset); }
    [[nodiscard]] std::string const& place_name(int place) const {
        return plan_.places()[at(place)].name;
    }
    [[nodiscard]] std::string event(int index) const {
        return std::string{event_name(*one_.grown, index)};
    }
    [[nodiscard]] double plants(double share) const {
        return std::round(planned_.alive[at(one_.target_event)] * share);
    }
    /// "3 trays of zinnia 1".
    [[nodiscard]] std::string whose(double trays) const {
        return trays > 0.0
                   ? fmt::format("{} of {}", say_amount(plan_, room_kind::trays, trays), one_.name)
                   : one_.name;
    }
    /// What is known of harm to a stage: ": it is above their limit in 29 of 30 years".
    [[nodiscard]] std::string safety(int stage) const {
        int const safe = moved_->safe_years[at(stage)];
        return safe < 0
                   ? std::string{": no cold is known to hurt them"}
                   : fmt::format(": safe from cold there in {}", say_years(safe, moved_->years));
    }
    fit_move& add(fit_move_kind what, int event_index, double price, std::string sentence) {
        fit_move& made = moves_.emplace_back();
        made.what = what;
        made.succession = one_.name;
        made.event = event(event_index);
        made.cost = price;
        made.sentence = std::move(sentence);
        return made;
    }

    /// Every move of the part says the days that come of all of them; the first has their price.
    void tell_days(std::size_t first) {
        moves_[first].cost += share_ * weights_.shift_day * moved_->moved;
        moves_[first].moved = moved_->moved;
        std::string told;
        for (int e = 0; e < static_cast<int>(planned_.planned.size()); ++e) {
            std::optional<int> const index = changed_event(moved_->change, e);
            if (!index) { continue; }
            int const day_was = planned_.planned[at(e)];
            int const day_is = moved_->planned[at(*index)];
            // A day more or less until something comes up or is potted on is nobody's trouble.
            bool const always = e == 0 || is_priced(plan_, planned_.batch, e);
            if (std::abs(day_is - day_was) <= (always ? 0 : 1)) { continue; }
            told += fmt::format("{}{} {} instead of {}", told.empty() ? "; " : ", ", done(event(e)),
                                day(day_is), day(day_was));
            for (std::size_t k = first; k < moves_.size(); ++k) {
                moves_[k].days_moved.push_back({event(e), day_was, day_is});
            }
        }
        // Where all that is damaged is lost, the loss says both.
        harm_years const& now = moved_->harm;
        harm_years const& was = moved_->harm_before;
        if (now.cold != now.lost || was.cold != was.lost) {
            told += changed_harm("damaged by cold", now.cold, was.cold);
        }
        told += changed_harm("damaged by heat", now.heat, was.heat);
        told += changed_harm("lost to cold", now.lost, was.lost);
        for (std::size_t k = first; k < moves_.size(); ++k) { moves_[k].sentence += told; }
    }

    [[nodiscard]] std::string changed_harm(std::string_view what, int now, int was) const {
        // Of what is bought in, harm before it comes is another grower's.
        if (now == was || (moved_->change.bought && now < was)) { return {}; }
        return fmt::format("; {} in {} instead of {}", what, say_years(now, moved_->years), was);
    }

    /// An event as something done: "sown", "planted out"; else its name.
    [[nodiscard]] static std::string done(std::string const& event) {
        static constexpr std::pair<std::string_view, std::string_view> words[] = {
            {"sow", "sown"},
            {"soak", "soaked"},
            {"chill", "chilled"},
            {"receive", "received"},
            {"plant", "planted"},
            {"emerge", "up"},
            {"prick_out", "pricked out"},
            {"pot_on", "potted on"},
            {"pinch", "pinched"},
            {"harden_off", "hardened off"},
            {"transplant", "planted out"},
            {"lift", "lifted"},
            {"store", "stored"},
            {"sell", "sold"},
            {"clear", "cleared"}};
        for (auto const& [name, word] : words) {
            if (name == event) { return std::string{word}; }
        }
        return say_event(event);
    }

    void split() {
        double const half = way_.parts.back().share;
        fit_move& made =
            add(fit_move_kind::split, 0, weights_.split,
                fmt::format("{} is split: {:g} plants are raised as planned, {:g} otherwise",
                            one_.name, plants(1.0) - plants(half), plants(half)));
        made.plants = plants(half);
    }

    void shift() {
        int const target = one_.target_event;
        bool const is_later = moved_->change.shift > 0;
        int const now = is_later ? day_moved_to(target) : by_day() + moved_->change.shift;
        int const days = is_later ? now - planned_.planned[at(target)] : moved_->change.shift;
        fit_move& made =
            add(fit_move_kind::shift, target, 0.0,
                fmt::format("{}: {} {} {}, {} {}{}", one_.name, say_event(event(target)),
                            say_days(std::abs(days)), is_later ? "later" : "earlier",
                            is_later ? "on" : "by", day(now), companions()));
        made.days = days;
    }

    /// Where its other moves put the target off further than the shift does, their day.
    [[nodiscard]] int day_moved_to(int target) const {
        int const shifted = planned_.planned[at(target)] + moved_->change.shift;
        std::optional<int> const index = changed_event(moved_->change, target);
        return index ? std::max(shifted, moved_->planned[at(*index)]) : shifted;
    }

    /// ", together with dahlia 2": what is linked with it and moves as far.
    [[nodiscard]] std::string companions() const {
        std::string names;
        if (moved_->change.together < 0) { return names; }
        std::vector<int> const& group_of = calendar_.data()->group_of;
        for (std::size_t i = 0; i < group_of.size(); ++i) {
            if (group_of[i] != group_of[at(planned_.batch)] || at(planned_.batch) == i) {
                continue;
            }
            names += fmt::format("{}{}", names.empty() ? ", together with " : ", ",
                                 plan_.successions()[i].name);
        }
        return names;
    }

    /// The day that a `by` asks for.
    [[nodiscard]] int by_day() const {
        std::optional<epicotyl::day> const due = day_due(one_.target_rule);
        return due ? plan_.window().offset_of(*due) : planned_.planned[at(one_.target_event)];
    }

    void place(other_place const& other) {
        double const trays = fit_rooms::trays(*moved_, other.stage, share_);
        std::string const& from = place_name(planned_.places[at(other.stage)]);
        fit_move& made =
            add(fit_move_kind::place, other.stage, share_ * weights_.place * other.rank,
                fmt::format("{} {} in {} instead of {} from {} ({}){}", whose(trays),
                            trays > 1.0 ? "stand" : "stands", place_name(other.place), from,
                            day(moved_->planned[at(other.stage)]), say_event(event(other.stage)),
                            safety(other.stage)));
        made.from = from;
        made.to = place_name(other.place);
        made.trays = trays;
    }

    void early() {
        early_move const& out = *moved_->change.early;
        int const days = early_days(planned_, *moved_);
        double const trays = fit_rooms::trays(*moved_, out.stage + 1, share_);
        fit_move& made =
            add(fit_move_kind::early, out.stage + 1, share_ * weights_.early_day * days,
                fmt::format("{} {} to {} {} earlier, on {}{}", whose(trays),
                            trays > 1.0 ? "go" : "goes", place_name(out.place), say_days(days),
                            day(moved_->planned[at(out.stage + 1)]), safety(out.stage + 1)));
        made.from = place_name(planned_.places[at(out.stage)]);
        made.to = place_name(out.place);
        made.days = days;
        made.trays = trays;
    }

    void container() {
        container_change const& other = *moved_->change.container;
        double const now = fit_rooms::trays(*moved_, other.first, share_);
        double const was = fit_rooms::trays(planned_, other.first, share_);
        double const area_now = fit_rooms::area(*moved_, other.first, share_);
        double const area_was = fit_rooms::area(planned_, other.first, share_);
        std::string const& from = one_.grown->stages[at(other.first)].container;
        fit_move& made =
            add(fit_move_kind::container, other.first, share_ * weights_.container,
                fmt::format("{}: {} instead of {} from {}, {} instead of {:g}", one_.name,
                            other.container, from, say_event(event(other.first)),
                            say_amount(plan_, room_kind::trays, now), was));
        if (area_now > 0.0 && area_was > 0.0) {
            made.sentence +=
                fmt::format(", {} instead of {}", say_amount(plan_, room_kind::area, area_now),
                            say_amount(plan_, room_kind::area, area_was));
        }
        made.from = from;
        made.to = other.container;
        made.trays = now;
    }

    void left_out() {
        int const comes = moved_ == nullptr ? one_.target_event : *moved_->change.bought;
        // Whole plants, as many as the changed plan has.
        double const bought = whole_plants(planned_.alive[at(comes)] * way_.left_out);
        fit_move& made =
            add(fit_move_kind::left_out, comes,
                weights_.left_out + weights_.left_out_tray * size_ * way_.left_out,
                fmt::format("buy in {:g} plants of {} for {} on {}: there is no room to raise them",
                            bought, one_.name, say_event(event(comes)),
                            day(planned_.planned[at(comes)])));
        made.plants = bought;
        made.trays = size_ * way_.left_out;
    }

    calendar const& calendar_;
    plan const& plan_;
    fit_weights const& weights_;
    resolved_succession const& one_;
    trial const& planned_;
    batch_way const& way_;
    std::vector<trial> const& trials_;
    double size_;
    double share_ = 1.0;
    trial const* moved_ = nullptr;
    std::vector<fit_move> moves_;
};

}  // namespace

std::vector<fit_move> moves_of(calendar const& of, fit_weights const& weights, trial const& planned,
                               batch_way const& way, std::vector<trial> const& trials,
                               double size) {
    return move_writer{of, weights, planned, way, trials, size}.write();
}

int early_days(trial const& planned, trial const& moved) {
    int const stage = moved.change.early->stage;
    return planned.planned[at(stage + 1)] - moved.planned[at(stage + 1)];
}

double price_of(fit_weights const& weights, trial const& planned, trial const& moved) {
    batch_change const& change = moved.change;
    double price = weights.shift_day * moved.moved;
    for (other_place const& other : change.places) { price += weights.place * other.rank; }
    if (change.early) { price += weights.early_day * early_days(planned, moved); }
    if (change.container) { price += weights.container; }
    return price;
}

}  // namespace epicotyl::detail

namespace epicotyl {

std::string to_string(space_fit const& of) {
    std::string const& title = of.before.plan().parts().title;
    std::string text = fmt::format("Room at {}: ", title.empty() ? "the farm" : title);
    if (of.moves.empty() && of.fits()) { return text + "all fits as planned\n"; }
    double const gap = of.cost - of.bound;
    text += fmt::format("{} move{}, cost {:g}", of.moves.size(), of.moves.size() == 1 ? "" : "s",
                        of.cost);
    text += of.ended == fit_end::proved
                ? std::string{"; no other set of such moves costs less\n"}
                : fmt::format("; no set of such moves costs less than {:g} (gap {:g})\n", of.bound,
                              gap);
    for (fit_move const& one : of.moves) {
        text += fmt::format("- {} (cost {:g})\n", one.sentence, one.cost);
    }
    for (not_placed const& one : of.short_of) { text += fmt::format("! {}\n", one.sentence); }
    return detail::wrapped(text);
}

}  // namespace epicotyl
