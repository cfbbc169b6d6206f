#include "window_network.hpp"

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/plan/plan.hpp>

#include <cmath>
#include <map>
#include <ranges>

#include "../rows/rule_days.hpp"
#include "../tables/joined_parts.hpp"

namespace epicotyl::detail {

namespace {

class frame_maker {
public:
    frame_maker(std::shared_ptr<calendar_data const> of, target_kept day)
        : data_{*of}, model_{*of->model}, batches_{model_.planned.successions()}, day_{day} {
        frame_.of = std::move(of);
    }

    [[nodiscard]] window_frame make() {
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            frame_.batches.push_back(framed(i));
        }
        add_links();
        group();
        return std::move(frame_);
    }

private:
    [[nodiscard]] succession_days const& known(int i) const { return data_.successions[at(i)]; }

    void leave_out(int i) {
        for (obstacle const& one : data_.unresolved) {
            if (one.succession == batches_[at(i)].name) {
                frame_.left_out.push_back(one);
                return;
            }
        }
    }

    /// The day a target asks for; none where its rule gives none.
    [[nodiscard]] std::optional<int> asked(int i) const {
        resolved_succession const& one = batches_[at(i)];
        if (one.repeat_of) {
            succession_days const& first = known(*one.repeat_of);
            if (!first.resolved) { return std::nullopt; }
            int const event = *event_index(*batches_[at(*one.repeat_of)].grown, "first_harvest");
            if (first.planned[at(event)] >= never) { return std::nullopt; }
            return first.planned[at(event)] + one.repeat_days;
        }
        return offset_of_rule(model_, i, one.target_event, one.target_rule);
    }

    [[nodiscard]] window_frame::batch framed(int i) {
        resolved_succession const& one = batches_[at(i)];
        succession_days const& mine = known(i);
        bool const decides = !is_outcome(*one.grown, one.target_event);
        window_frame::batch made;
        int day = mine.target_day;
        if (mine.resolved) {
            made.bounds = &mine.bounds();
        } else {
            std::optional<int> const rule = asked(i);
            std::vector<obstacle> problems;
            auto& own = frame_.own.emplace_back();
            made.bounds = &own;
            if (rule) { own = bounds_of(model_, i, mine.springs.get(), problems); }
            if (!rule || !problems.empty() || (decides && *rule > model_.season_days)) {
                leave_out(i);
                return made;
            }
            day = *rule;
            if (!asks_exactly(one.target_rule)) {
                day = std::max(day, (*made.bounds)[at(one.target_event)].not_before);
            }
        }
        made.is_in = true;
        add_bound_rows(made.rows, i, *made.bounds);
        add_target_rows(made, i, day);
        add_stage_rows(made.rows, model_, i);
        return made;
    }

    /// What a target asks for; `day` is the one that stands for it.
    void add_target_rows(window_frame::batch& of, int i, int day) {
        resolved_succession const& one = batches_[at(i)];
        season const& window = model_.planned.window();
        in_harvest_rule const* const harvest = harvest_asked(one.target_rule);
        bool const decides = !is_outcome(*one.grown, one.target_event);
        bool const has_its_own = (*of.bounds)[at(one.target_event)].not_after < never;
        if (harvest != nullptr) {
            of.not_later = window.offset_of(harvest->from);
        } else if (!decides || !has_its_own) {
            of.not_later = day;
        }
        requirement_row row = asked_row(i, one.target_event);
        row.days = day_ == target_kept::asked ? known(i).asked : day;
        if (harvest == nullptr && decides && row.days > 0) { of.rows.push_back(row); }
        row.is_upper = true;
        row.days = of.not_later;
        if (of.not_later < never) { of.rows.push_back(row); }
        if (harvest == nullptr) { return; }
        requirement_row lasts = asked_row(i, event_count(*one.grown) - 1);
        lasts.days = window.offset_of(harvest->until) + 1;
        of.rows.push_back(lasts);
    }

    [[nodiscard]] int planned_day(event_of const& of) const {
        succession_days const& one = known(of.succession);
        return one.resolved ? one.planned[at(of.event)] : never;
    }

    /// Those of a wave that are in; of two on one day the first in the plan comes first, and last.
    [[nodiscard]] window_frame::source source_of(awaited const& one) const {
        window_frame::source made;
        for (event_of const& member : one.firsts) {
            if (!frame_.batches[at(member.succession)].is_in) { continue; }
            bool const is_only = made.members.empty();
            made.members.push_back(member);
            if (is_only || planned_day(member) < planned_day(made.first)) { made.first = member; }
            if (is_only || planned_day(member) > planned_day(made.last)) { made.last = member; }
        }
        return made;
    }

    void add_links() {
        std::vector<resolved_link> const& links = model_.planned.links();
        for (awaited const& one : model_.awaited_all) {
            window_frame::source const& from = frame_.sources.emplace_back(source_of(one));
            if (from.members.empty()) { continue; }
            bool const is_one = from.members.size() == 1;
            for (int const k : one.links) {
                resolved_link const& link = links[at(k)];
                window_frame::batch& then = frame_.batches[at(link.then.succession)];
                if (!then.is_in) { continue; }
                requirement_row row = link_row(model_, k);
                auto const count_from = [&](bool is_wave, event_of const& member) {
                    row.awaited = is_wave && !is_one ? model_.awaited_of_link[at(k)] : -1;
                    row.from = row.awaited < 0 ? member : no_event;
                };
                count_from(!one.first_decides, from.first);
                then.rows.push_back(row);
                if (!link.within) { continue; }
                row.kind = requirement_kind::within;
                row.wait = no_wait;
                row.days = whole_of(std::floor(*link.within));
                row.is_upper = true;
                count_from(one.first_decides, from.last);
                then.rows.push_back(row);
            }
        }
    }

    /// Linked successions in groups, numbered by their first member.
    void group() {
        joined_parts parts{batches_.size()};
        std::vector<char> is_waited_for(frame_.sources.size(), 0);
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            for (requirement_row const& row : frame_.batches[at(i)].rows) {
                if (row.from != no_event) { parts.join(row.from.succession, i); }
                if (row.awaited < 0) { continue; }
                std::vector<event_of> const& wave = frame_.sources[at(row.awaited)].members;
                parts.join(wave.front().succession, i);
                if (std::exchange(is_waited_for[at(row.awaited)], 1) != 0) { continue; }
                for (event_of const& one : wave) { parts.join(one.succession, i); }
            }
        }
        std::vector<int> number(batches_.size(), -1);
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            if (!frame_.batches[at(i)].is_in) { continue; }
            int& of_root = number[at(parts.part_of(i))];
            if (of_root < 0) {
                of_root = static_cast<int>(frame_.groups.size());
                frame_.groups.emplace_back();
            }
            frame_.batches[at(i)].group = of_root;
            frame_.groups[at(of_root)].push_back(i);
        }
    }

    calendar_data const& data_;
    season_model const& model_;
    std::vector<resolved_succession> const& batches_;
    target_kept day_;
    window_frame frame_;
};

class network_maker {
public:
    network_maker(window_frame const& frame, int year, std::vector<int>& first_vertex,
                  std::optional<relaxed_row> relaxed, claim_asked const* claim)
        : frame_{frame},
          model_{frame.model()},
          year_{year},
          first_vertex_{first_vertex},
          relaxed_{relaxed},
          claim_{claim} {}

    [[nodiscard]] std::unique_ptr<window_network> make(std::vector<int> const& successions) {
        for (int i : successions) {
            first_vertex_[at(i)] = static_cast<int>(made_->net.size());
            for (int e = 0; e < event_count(*batch(i).grown); ++e) { add_vertex({i, e}); }
        }
        made_->events = made_->net.size();
        for (int i : successions) {
            std::vector<requirement_row> const& rows = frame_.batches[at(i)].rows;
            auto const distances = std::ranges::find_if_not(rows, &requirement_row::is_bound);
            std::for_each(rows.begin(), distances, [&](auto const& row) { add(row); });
            if (claim_ != nullptr) { add_claim(i, batch(i).target_event); }
            std::for_each(distances, rows.end(), [&](auto const& row) { add(row); });
        }
        return std::move(made_);
    }

private:
    [[nodiscard]] resolved_succession const& batch(int i) const {
        return model_.planned.successions()[at(i)];
    }
    [[nodiscard]] std::size_t vertex(event_of const& of) const {
        return at(first_vertex_[at(of.succession)] + of.event);
    }
    void add_vertex(event_of const& owner) {
        (void)made_->net.add_vertex();
        made_->owner.push_back(owner);
    }

    /// True where a row is a requirement of all that is asked.
    [[nodiscard]] bool counts(requirement_row const& row) const {
        if (claim_ == nullptr) { return true; }
        bool const is_own = row.to.succession == claim_->succession;
        int const target = batch(row.to.succession).target_event;
        switch (row.kind) {
            case requirement_kind::hold:
            case requirement_kind::within:
                return false;
            case requirement_kind::target:
                // Of the days that a harvest is to last only its own succession speaks.
                if (!row.is_upper && row.to.event == target) {
                    return row.to.succession != claim_->free_target;
                }
                return is_own && claim_->with_uppers;
            case requirement_kind::planned:
                return row.note == 0 || row.to.succession != claim_->free_target;
            case requirement_kind::not_after:
                return is_own && claim_->with_uppers;
            default:
                return !row.is_upper || (is_own && claim_->with_uppers && row.to.event <= target);
        }
    }

    [[nodiscard]] int number(requirement_row const& row) {
        made_->rows.push_back(row);
        return static_cast<int>(made_->rows.size()) - 1;
    }

    void add(requirement_row const& row) {
        // A claim has its own last day for its target.
        bool const is_last_day = row.kind == requirement_kind::target && row.is_upper;
        if (claim_ == nullptr || !is_last_day) { require(row); }
    }

    /// A row as a bound or an edge, if it counts.
    void require(requirement_row const& row) {
        int const label = number(row);
        if (!counts(row)) { return; }
        int const gives = relaxed_ && relaxed_->row == label ? relaxed_->days : 0;
        int const days = row.days + (row.is_upper ? gives : -gives);
        std::size_t const to = vertex(row.to);
        if (row.is_bound()) {
            if (row.is_upper) {
                made_->net.not_after(to, std::min(days, never), label);
            } else {
                made_->net.not_before(to, days, label);
            }
            return;
        }
        std::size_t const from = row.awaited < 0 ? vertex(row.from) : wave_vertex(row);
        ready_map const* const wait =
            row.wait == no_wait ? nullptr : &model_.whole(row.wait, year_);
        tie(from, to, {wait, model_.season_days, days}, row.is_upper, label);
    }

    void tie(std::size_t from, std::size_t to, window_map const& passes, bool is_upper, int label) {
        if (is_upper) {
            made_->net.no_later(from, to, passes, label);
        } else {
            made_->net.no_sooner(from, to, passes, label);
        }
    }

    /// The vertex of a wave that a row counts from: made, and tied to its members, once.
    [[nodiscard]] std::size_t wave_vertex(requirement_row const& row) {
        auto const [known, is_new] = waves_.try_emplace(row.awaited, made_->net.size());
        if (!is_new) { return known->second; }
        window_frame::source const& wave = frame_.sources[at(row.awaited)];
        // All of a wave is its last, and the longest wait from any of it counts from its first.
        add_vertex(row.is_upper ? wave.first : wave.last);
        for (event_of const& member : wave.members) {
            int const label = number({.kind = row.kind,
                                      .to = no_event,
                                      .from = member,
                                      .link = row.link,
                                      .is_upper = row.is_upper});
            tie(vertex(member), known->second, {nullptr, model_.season_days, 0}, row.is_upper,
                label);
        }
        return known->second;
    }

    /// The same rows whatever the days, so that a number means one requirement.
    void add_claim(int i, int target) {
        require({.kind = requirement_kind::planned,
                 .to = {i, 0},
                 .days = claim_->planned_sowing[at(i)][at(year_)],
                 .note = 0});
        require({.kind = requirement_kind::planned,
                 .to = {i, target},
                 .days = claim_->planned_target[at(i)][at(year_)],
                 .note = 1});
        if (i != claim_->succession) { return; }
        require({.kind = claim_->is_season_end ? requirement_kind::season_end
                                               : requirement_kind::target,
                 .to = {i, target},
                 .days = claim_->target_by,
                 .is_upper = true});
    }

    window_frame const& frame_;
    season_model const& model_;
    int year_;
    std::vector<int>& first_vertex_;
    std::optional<relaxed_row> relaxed_;
    claim_asked const* claim_;
    std::map<int, std::size_t> waves_ = {};  ///< vertex of each, by `requirement_row::awaited`
    std::unique_ptr<window_network> made_ = std::make_unique<window_network>();
};

}  // namespace

window_frame make_window_frame(std::shared_ptr<calendar_data const> of, target_kept day) {
    return frame_maker{std::move(of), day}.make();
}

std::unique_ptr<window_network> make_window_network(window_frame const& frame,
                                                    std::vector<int> const& successions, int year,
                                                    std::vector<int>& first_vertex,
                                                    std::optional<relaxed_row> relaxed,
                                                    claim_asked const* claim) {
    return network_maker{frame, year, first_vertex, relaxed, claim}.make(successions);
}

std::size_t begin_of(window_network const& of, walk const& proof) {
    if (!of.is_wave(proof.start.vertex)) { return proof.start.vertex; }
    std::size_t from = proof.start.vertex;
    for (walk_leg const& leg : proof.legs) {
        for (walk_step const& step : leg.steps) {
            if (step.vertex == proof.start.vertex) { return from; }
            from = step.vertex;
        }
    }
    return proof.start.vertex;
}

std::vector<event_step> event_steps(window_network const& of, walk const& proof) {
    std::vector<event_step> steps;
    std::size_t from = begin_of(of, proof);  // where the walk was last at an event
    walk_step const* to_wave = nullptr;      // the step that is told with the next
    auto const add = [&](walk_step const& step, int row, int turns) {
        steps.push_back({.row = row,
                         .what = of.between(row, step.vertex, from),
                         .vertex = step.vertex,
                         .value = turns > 1 ? step.last_value : step.value,
                         .turns = turns});
    };
    for (walk_leg const& leg : proof.legs) {
        // A circle that begins at a wave came there by its own last step.
        if (leg.turns > 1 && of.is_wave(leg.steps.back().vertex)) {
            to_wave = &leg.steps.back();
            from = leg.steps[leg.steps.size() - 2].vertex;
        }
        for (walk_step const& step : leg.steps) {
            if (of.is_wave(step.vertex)) {
                to_wave = &step;
                continue;
            }
            add(step, of.joins_wave(step.label) ? to_wave->label : step.label, leg.turns);
            from = step.vertex;
            to_wave = nullptr;
        }
    }
    if (to_wave != nullptr) { add(*to_wave, to_wave->label, 1); }
    return steps;
}

}  // namespace epicotyl::detail
