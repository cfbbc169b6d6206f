#include "window_network.hpp"

#include <epicotyl/detail/whole.hpp>

#include <cmath>

#include "../rows/rule_days.hpp"
#include "../tables/joined_parts.hpp"

namespace epicotyl::detail {

namespace {

class frame_maker {
public:
    explicit frame_maker(std::shared_ptr<calendar_data const> of)
        : data_{*of}, model_{*of->model}, batches_{model_.planned.successions()} {
        frame_.of = std::move(of);
    }

    [[nodiscard]] window_frame make() {
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            frame_.batches.push_back(framed(i));
        }
        add_waits();
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
        if (in_harvest_rule const* const harvest = harvest_asked(one.target_rule)) {
            season const& window = model_.planned.window();
            made.not_later = window.offset_of(harvest->from);
            made.not_cleared_by = window.offset_of(harvest->until);
        } else {
            if (decides) { made.not_sooner = day; }
            bool const has_its_own = (*made.bounds)[at(one.target_event)].not_after < never;
            if (!decides || !has_its_own) { made.not_later = day; }
        }
        return made;
    }

    /// The member of a wave that comes first or last in the calendar, ties in plan order.
    [[nodiscard]] event_of member(std::vector<event_of> const& of, bool is_first) const {
        event_of best = of.front();
        for (event_of const& one : of) {
            int const day = planned_day(one);
            int const best_day = planned_day(best);
            if (is_first ? day < best_day : day > best_day) { best = one; }
        }
        return best;
    }
    [[nodiscard]] int planned_day(event_of const& of) const {
        succession_days const& one = known(of.succession);
        return one.resolved ? one.planned[at(of.event)] : never;
    }

    void add_waits() {
        frame_.outgoing.resize(batches_.size());
        frame_.incoming.resize(batches_.size());
        std::vector<resolved_link> const& links = model_.planned.links();
        for (int k = 0; k < static_cast<int>(links.size()); ++k) {
            resolved_link const& link = links[at(k)];
            if (!frame_.batches[at(link.then.succession)].is_in) { continue; }
            window_frame::wait made{
                .link = k, .then = link.then, .firsts = {}, .within_firsts = {}};
            std::vector<event_of> in;
            for (event_of const& first : link.firsts) {
                if (frame_.batches[at(first.succession)].is_in) { in.push_back(first); }
            }
            if (in.empty()) { continue; }
            made.firsts = link.first_decides ? std::vector{member(in, true)} : in;
            if (link.within) {
                made.within = whole_of(std::floor(*link.within));
                made.within_firsts = link.first_decides ? in : std::vector{member(in, false)};
            }
            int const number = static_cast<int>(frame_.waits.size());
            frame_.incoming[at(made.then.succession)].push_back(number);
            for (event_of const& first : made.firsts) {
                frame_.outgoing[at(first.succession)].push_back(number);
            }
            frame_.waits.push_back(std::move(made));
        }
    }

    /// Linked successions in groups, numbered by their first member.
    void group() {
        joined_parts parts{batches_.size()};
        for (window_frame::wait const& one : frame_.waits) {
            for (event_of const& first : one.firsts) {
                parts.join(first.succession, one.then.succession);
            }
            for (event_of const& first : one.within_firsts) {
                parts.join(first.succession, one.then.succession);
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
            int const events = event_count(*batch(i).grown);
            first_vertex_[at(i)] = static_cast<int>(made_->net.size());
            for (int e = 0; e < events; ++e) {
                (void)made_->net.add_vertex();
                made_->owner.push_back({i, e});
            }
        }
        for (int i : successions) {
            add_bounds(i);
            add_stages(i);
            for (int number : frame_.incoming[at(i)]) { add_wait(frame_.waits[at(number)]); }
        }
        return std::move(made_);
    }

private:
    [[nodiscard]] resolved_succession const& batch(int i) const {
        return model_.planned.successions()[at(i)];
    }
    [[nodiscard]] std::size_t vertex(int succession, int event) const {
        return at(first_vertex_[at(succession)] + event);
    }
    [[nodiscard]] std::size_t vertex(event_of const& of) const {
        return vertex(of.succession, of.event);
    }

    /// True where a row is a requirement of all that is asked.
    [[nodiscard]] bool counts(requirement_row const& row) const {
        if (claim_ == nullptr) { return true; }
        bool const is_own = row.succession == claim_->succession;
        int const target = batch(row.succession).target_event;
        switch (row.kind) {
            case requirement_kind::hold:
            case requirement_kind::within:
                return false;
            case requirement_kind::target:
                // Of the days that a harvest is to last only its own succession speaks.
                if (!row.is_upper && row.event == target) {
                    return row.succession != claim_->free_target;
                }
                return is_own && claim_->with_uppers;
            case requirement_kind::planned:
                return row.note == 0 || row.succession != claim_->free_target;
            case requirement_kind::not_after:
                return is_own && claim_->with_uppers;
            default:
                return !row.is_upper || (is_own && claim_->with_uppers && row.event <= target);
        }
    }

    /// Number of the next row, by how many days it gives way, and whether it is asked for at all.
    struct numbered {
        int row;
        int gives;
        bool counts;
    };
    numbered add(requirement_row row) {
        int const number = static_cast<int>(made_->rows.size());
        made_->rows.push_back(row);
        return {number, relaxed_ && relaxed_->row == number ? relaxed_->days : 0, counts(row)};
    }

    void not_before(int i, int event, int day, requirement_row row) {
        numbered const one = add(row);
        if (one.counts) { made_->net.not_before(vertex(i, event), day - one.gives, one.row); }
    }
    void not_after(int i, int event, int day, requirement_row row) {
        numbered const one = add(row);
        if (!one.counts) { return; }
        made_->net.not_after(vertex(i, event), std::min(day + one.gives, never), one.row);
    }

    void no_sooner(event_of const& from, event_of const& to, ready_map const& wait,
                   requirement_row row) {
        numbered const one = add(row);
        if (!one.counts) { return; }
        made_->net.no_sooner(vertex(from), vertex(to), {&wait, model_.season_days, -one.gives},
                             one.row);
    }
    /// `wait` is null where days alone are counted.
    void no_later(event_of const& from, event_of const& to, ready_map const* wait, int more,
                  requirement_row row) {
        numbered const one = add(row);
        if (!one.counts) { return; }
        made_->net.no_later(vertex(from), vertex(to), {wait, model_.season_days, more + one.gives},
                            one.row);
    }

    void add_bounds(int i) {
        window_frame::batch const& one = frame_.batches[at(i)];
        int const target = batch(i).target_event;
        for (int e = 0; e < static_cast<int>(one.bounds->size()); ++e) {
            event_bounds const& bound = (*one.bounds)[at(e)];
            for (int k = 0; k < static_cast<int>(bound.lower.size()); ++k) {
                not_before(
                    i, e, bound.lower[at(k)].day,
                    {.kind = requirement_kind::not_before, .succession = i, .event = e, .note = k});
            }
            if (bound.not_after < never) {
                not_after(i, e, bound.not_after,
                          {.kind = requirement_kind::not_after,
                           .succession = i,
                           .event = e,
                           .is_upper = true});
            }
        }
        requirement_row row{.kind = requirement_kind::target, .succession = i, .event = target};
        if (one.not_sooner > 0) { not_before(i, target, one.not_sooner, row); }
        row.is_upper = true;
        if (claim_ == nullptr && one.not_later < never) {
            not_after(i, target, one.not_later, row);
        }
        if (one.not_cleared_by >= 0) {
            int const clear = event_count(*batch(i).grown) - 1;
            not_before(i, clear, one.not_cleared_by + 1,
                       {.kind = requirement_kind::target, .succession = i, .event = clear});
        }
        if (claim_ != nullptr) { add_claim(i, target); }
    }

    /// The same rows whatever the days, so that a number means one requirement.
    void add_claim(int i, int target) {
        not_before(i, 0, claim_->planned_sowing[at(i)][at(year_)],
                   {.kind = requirement_kind::planned, .succession = i, .event = 0, .note = 0});
        not_before(
            i, target, claim_->planned_target[at(i)][at(year_)],
            {.kind = requirement_kind::planned, .succession = i, .event = target, .note = 1});
        if (i != claim_->succession) { return; }
        not_after(i, target, claim_->target_by,
                  {.kind = claim_->is_season_end ? requirement_kind::season_end
                                                 : requirement_kind::target,
                   .succession = i,
                   .event = target,
                   .is_upper = true});
    }

    void add_stages(int i) {
        resolved_succession const& one = batch(i);
        for (int j = 0; j + 1 < event_count(*one.grown); ++j) {
            ready_map const& table = model_.stage_map_of(i, j, year_);
            requirement_row row{.kind = requirement_kind::stage,
                                .succession = i,
                                .event = j + 1,
                                .from_succession = i,
                                .from_event = j};
            no_sooner({i, j}, {i, j + 1}, table, row);
            row.is_upper = true;
            double const hold = model_.stages[at(i)][at(j)].hold;
            if (is_outcome(*one.grown, j + 1)) {
                no_later({i, j}, {i, j + 1}, &table, 0, row);
            } else if (std::isfinite(hold)) {
                row.kind = requirement_kind::hold;
                no_later({i, j}, {i, j + 1}, &table, whole_of(std::floor(hold)), row);
            }
        }
    }

    void add_wait(window_frame::wait const& one) {
        auto const row = [&](requirement_kind kind, event_of const& first) {
            return requirement_row{.kind = kind,
                                   .succession = one.then.succession,
                                   .event = one.then.event,
                                   .from_succession = first.succession,
                                   .from_event = first.event,
                                   .link = one.link,
                                   .is_upper = kind == requirement_kind::within};
        };
        ready_map const& after = model_.whole(model_.link_waits[at(one.link)], year_);
        for (event_of const& first : one.firsts) {
            no_sooner(first, one.then, after, row(requirement_kind::link, first));
        }
        for (event_of const& first : one.within_firsts) {
            no_later(first, one.then, nullptr, one.within, row(requirement_kind::within, first));
        }
    }

    window_frame const& frame_;
    season_model const& model_;
    int year_;
    std::vector<int>& first_vertex_;
    std::optional<relaxed_row> relaxed_;
    claim_asked const* claim_;
    std::unique_ptr<window_network> made_ = std::make_unique<window_network>();
};

}  // namespace

window_frame make_window_frame(std::shared_ptr<calendar_data const> of) {
    return frame_maker{std::move(of)}.make();
}

std::unique_ptr<window_network> make_window_network(window_frame const& frame,
                                                    std::vector<int> const& successions, int year,
                                                    std::vector<int>& first_vertex,
                                                    std::optional<relaxed_row> relaxed,
                                                    claim_asked const* claim) {
    return network_maker{frame, year, first_vertex, relaxed, claim}.make(successions);
}

}  // namespace epicotyl::detail
