#include "fit_plan.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../../season/days/calendar_data.hpp"

namespace epicotyl::detail {

namespace {

/// Builds the parts of the changed plan.
class plan_changer {
public:
    plan_changer(calendar const& of, std::vector<trial> const& trials,
                 std::vector<batch_way const*> const& ways)
        : data_{*of.data()}, planned_{of.plan()}, trials_{trials}, ways_{ways} {}

    plan_parts take() {
        plan_parts made = planned_.parts();
        crops_ = made.crops;
        events_ = made.events;
        find_spelled_out();
        made.successions.clear();
        std::set<int> written;
        for (int i = 0; i < static_cast<int>(planned_.successions().size()); ++i) {
            int const source = planned_.successions()[at(i)].source;
            succession const& said = planned_.parts().successions[at(source)];
            bool const spelled = spelled_.contains(source);
            if (said.repeat && !spelled) {
                if (written.insert(source).second) { made.successions.push_back(said); }
                continue;
            }
            add(i, spelled ? spelled_out(i) : said, made.successions);
        }
        made.crops = std::move(crops_);
        made.events = std::move(events_);
        return made;
    }

private:
    /// Repeats of which a member changes are written out, and so are those that follow them.
    void find_spelled_out() {
        for (int i = 0; i < static_cast<int>(planned_.successions().size()); ++i) {
            int const source = planned_.successions()[at(i)].source;
            bool const repeats = planned_.parts().successions[at(source)].repeat.has_value();
            if (repeats && ways_[at(i)] != nullptr) { spelled_.insert(source); }
        }
        for (bool found = true; found;) {
            found = false;
            for (int s = 0; s < static_cast<int>(planned_.parts().successions.size()); ++s) {
                succession const& one = planned_.parts().successions[at(s)];
                if (one.follows.empty() || !one.repeat || spelled_.contains(s)) { continue; }
                for (int other : spelled_) {
                    succession const& before = planned_.parts().successions[at(other)];
                    if (one.follows == before.name || one.follows == before.id) { found = true; }
                }
                if (found) {
                    spelled_.insert(s);
                    break;
                }
            }
        }
    }

    /// A member of a repeat by itself.
    succession spelled_out(int batch) const {
        resolved_succession const& one = planned_.successions()[at(batch)];
        succession const& said = planned_.parts().successions[at(one.source)];
        succession made = shifted_succession(data_, batch, 0);
        if (said.follows.empty()) { return made; }
        for (resolved_link const& link : planned_.links()) {
            if (link.source >= 0 || link.then.succession != batch) { continue; }
            made.follows = planned_.successions()[at(link.firsts.front().succession)].name;
            made.gap = said.gap;
        }
        return made;
    }

    void add(int batch, succession const& as_planned, std::vector<succession>& all) {
        batch_way const* const way = ways_[at(batch)];
        if (way == nullptr) {
            all.push_back(as_planned);
            return;
        }
        for (std::size_t k = 0; k < way->parts.size(); ++k) {
            raised_part const& part = way->parts[k];
            bool const bought = part.trial >= 0 && trials_[at(part.trial)].change.bought;
            succession made = part.trial < 0 ? as_planned
                              : bought       ? bought_in(batch, part)
                                             : changed(batch, as_planned, part.trial);
            if (!bought) { made.amount.value = part.amount; }
            if (k > 0) {
                made.name = second_name(planned_, batch);
                made.id.clear();
            }
            all.push_back(std::move(made));
        }
    }

    succession changed(int batch, succession made, int index) {
        batch_change const& change = trials_[at(index)].change;
        resolved_succession const& one = planned_.successions()[at(batch)];
        if (change.shift != 0) {
            succession const shifted = shifted_succession(data_, batch, change.shift);
            made.target = shifted.target;
            made.not_before = shifted.not_before;
        }
        if (change.early) {
            take_early(batch, one, change, made);
            return made;
        }
        for (other_place const& moved : change.places) {
            change_of(made, one, moved.stage).where = {planned_.places()[at(moved.place)].name};
        }
        if (change.container) {
            for (int j = change.container->first; j < change.container->last; ++j) {
                change_of(made, one, j).container = change.container->container;
            }
        }
        return made;
    }

    /// What comes as plants needs a crop of its own, and has no links.
    succession bought_in(int batch, raised_part const& part) {
        trial const& of = trials_[at(part.trial)];
        succession made = bought_succession(data_, batch, *of.change.bought, part.amount);
        crop own = changed_crop(planned_, batch, of.change);
        own.name = fmt::format("{}, {} bought in", own.name, made.name);
        own.id.clear();
        made.crop = own.name;
        made.wave = is_linked(planned_, batch) ? std::string{} : made.wave;
        crops_.push_back(std::move(own));
        return made;
    }

    /// A stage more needs a crop of its own.
    void take_early(int batch, resolved_succession const& one, batch_change const& change,
                    succession& made) {
        crop own = changed_crop(planned_, batch, change);
        own.name = fmt::format("{}, {} out early", own.name, one.name);
        own.id.clear();
        if (change.shift == 0) { made.not_before = one.not_before; }
        made.not_after = one.not_after;
        made.crop = own.name;
        made.changes.clear();
        crops_.push_back(std::move(own));
        if (std::find(events_.begin(), events_.end(), early_event) == events_.end()) {
            events_.emplace_back(early_event);
        }
    }

    static stage_change& change_of(succession& made, resolved_succession const& one, int stage) {
        std::string const& begins = one.grown->stages[at(stage)].begins;
        for (stage_change& known : made.changes) {
            if (known.begins == begins) { return known; }
        }
        return made.changes.emplace_back(stage_change{.begins = begins});
    }

    calendar_data const& data_;
    plan const& planned_;
    std::vector<trial> const& trials_;
    std::vector<batch_way const*> const& ways_;
    std::set<int> spelled_;  ///< successions as they were said, written out
    std::vector<crop> crops_;
    std::vector<std::string> events_;
};

}  // namespace

halves halves_of(amount const& of) {
    double const first =
        of.what == amount::measure::plants ? std::ceil(of.value / 2.0) : of.value / 2.0;
    return {first, of.value - first, first / of.value};
}

double whole_plants(double of) {
    return std::ceil(of - 1e-9);
}

plan changed_plan(calendar const& of, std::vector<trial> const& trials,
                  std::vector<batch_way const*> const& ways) {
    return plan{plan_changer{of, trials, ways}.take()};
}

std::string second_name(plan const& of, int batch) {
    auto const is_taken = [&](std::string const& name) {
        return std::any_of(
            of.successions().begin(), of.successions().end(),
            [&](resolved_succession const& one) { return one.name == name || one.id == name; });
    };
    std::string name = of.successions()[at(batch)].name + ", second half";
    while (is_taken(name)) { name += "'"; }
    return name;
}

}  // namespace epicotyl::detail
