#include "notes.hpp"

#include <algorithm>
#include <map>
#include <span>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../rows/say.hpp"
#include "damage.hpp"
#include "lost.hpp"
#include "season_length.hpp"
#include "suspicions.hpp"
#include "unripe.hpp"
#include "waiting_order.hpp"

namespace epicotyl::detail {

namespace {

class note_taker {
public:
    note_taker(calendar_data& data, path_walker const& walker)
        : data_{data},
          model_{*data.model},
          batches_{model_.planned.successions()},
          walker_{walker} {}

    void run() {
        unripe_list unripe{data_};
        for (int i : data_.order) {
            std::vector<std::int16_t> const lost = lost_nights(model_, data_.days, i);
            note_beyond_risk(i, lost);
            unripe.add(i, lost);
        }
        count_groups();
        count_within();
        warn(model_.weather.warnings());
        warn(season_length_note(data_));
        warn(latitude_misfit(model_.planned, model_.weather));
        warn(suspicions_of(model_.planned));
        warn(unripe.notes());
        note_late_covers();
        note_closings();
    }

private:
    succession_days& known(int i) { return data_.successions[at(i)]; }
    int last_event(int i) const { return event_count(*batches_[at(i)].grown) - 1; }

    /// The default bound covers the cold half before each protected move, not the whole season.
    void note_beyond_risk(int i, std::span<std::int16_t const> lost) {
        resolved_succession const& one = batches_[at(i)];
        if (!one.risk.share()) { return; }
        int const allowed = allowed_years(one.risk.share()->value(), model_.years);
        stage_path const& path = model_.paths[at(model_.path_of[at(i)])];
        for (int j = path.damage_from; j < last_event(i); ++j) {
            cold_years const found = cold_years_of(model_, data_.days, i, j, lost);
            if (found.damaged > allowed) {
                known(i).beyond_risk.push_back({j, found.damaged, found.first});
            }
        }
    }

    void count_groups() {
        std::vector<int> const& group_of = data_.group_of;
        std::map<int, std::vector<int>> members;
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            if (group_of[at(i)] != stands_alone && known(i).resolved) {
                members[group_of[at(i)]].push_back(i);
            }
        }
        for (auto const& [first, group] : members) {
            if (group.size() < 2) { continue; }
            linked_group counted{.years = model_.years};
            for (int i : group) { counted.successions.push_back(batches_[at(i)].name); }
            std::vector<char> good(at(model_.years), 1);
            for (int i : group) { walker_.strike_bad_years(data_.days, i, good); }
            counted.good = static_cast<int>(std::count(good.begin(), good.end(), 1));
            data_.groups.push_back(std::move(counted));
        }
    }

    void count_within() {
        std::vector<resolved_link> const& links = model_.planned.links();
        for (std::size_t k = 0; k < links.size(); ++k) {
            resolved_link const& link = links[k];
            if (!link.within || !known(link.then.succession).resolved) { continue; }
            awaited const& counts_from = model_.awaited_by(static_cast<int>(k));
            auto const say_end = [&](event_of const& end) {
                return fmt::format("{}: {}", batches_[at(end.succession)].name,
                                   event_name(*batches_[at(end.succession)].grown, end.event));
            };
            std::string firsts = say_end(link.firsts.front());
            if (link.firsts.size() > 1) {
                firsts += fmt::format(" and {} more", link.firsts.size() - 1);
            }
            link_count counted{.first = firsts,
                               .then = say_end(link.then),
                               .within = *link.within,
                               .years = model_.years};
            for (int y = 0; y < model_.years; ++y) {
                int const decides = path_walker::deciding_day(data_.days, counts_from, y);
                int const then = data_.days.at(link.then.succession, link.then.event, y);
                // A `within` from never imposes nothing.
                counted.kept += decides >= never || then <= decides + *link.within;
            }
            data_.within.push_back(std::move(counted));
        }
    }

    void warn(std::vector<std::string> const& notes) {
        data_.warnings.insert(data_.warnings.end(), notes.begin(), notes.end());
    }

    /// Days after a place closes are reported, not enforced: for each place the batch that stays
    /// too long in most years, and how many others do.
    void note_closings() {
        struct closing {
            int succession;
            int event;
            int late;
        };
        std::map<int, std::vector<closing>> by_place;
        season const& window = model_.planned.window();
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            resolved_succession const& one = batches_[at(i)];
            if (!known(i).resolved) { continue; }
            for (int j = 0; j < last_event(i); ++j) {
                int const place = one.places[at(j)];
                std::optional<open_days> const& open = model_.planned.places()[at(place)].open;
                if (!open) { continue; }
                int const until = window.offset_of(open->until);
                int late = 0;
                for (int y = 0; y < model_.years; ++y) {
                    int const gone = lost_night(model_, data_.days, i, y) + 1;
                    int const moved_in = data_.days.at(i, j, y);
                    int const moved_out = std::min(data_.days.at(i, j + 1, y), gone);
                    late += moved_in < never && moved_out > std::max(moved_in, until + 1);
                }
                if (late > 0) { by_place[place].push_back({i, j, late}); }
            }
        }
        for (auto const& [place, late] : by_place) {
            auto const worst = std::max_element(
                late.begin(), late.end(),
                [](closing const& a, closing const& b) { return a.late < b.late; });
            resolved_succession const& one = batches_[at(worst->succession)];
            std::vector<std::string> others;
            for (closing const& other : late) {
                std::string const& name = batches_[at(other.succession)].name;
                if (other.succession != worst->succession &&
                    (others.empty() || others.back() != name)) {
                    others.push_back(name);
                }
            }
            data_.warnings.push_back(fmt::format(
                "{} is open until {}: {}, there from {} on, still stands in it later in {}{}",
                say_place(model_.planned, place),
                say_day(model_.planned,
                        window.offset_of(model_.planned.places()[at(place)].open->until)),
                one.name, say_event(event_name(*one.grown, worst->event)),
                say_years(worst->late, model_.years), say_so_more("does", "do", others)));
        }
    }

    /// Plants that are harmed before a place is acted on, by place.
    void note_late_covers() {
        struct late_cover {
            resolved_succession const* one;
            int stage;
            double limit;
        };
        std::map<int, std::vector<late_cover>> by_place;
        for (int i = 0; i < static_cast<int>(batches_.size()); ++i) {
            resolved_succession const& one = batches_[at(i)];
            for (int j = damage_counts_from(*one.grown); j < last_event(i); ++j) {
                place const& where = model_.planned.places()[at(one.places[at(j)])];
                if (!where.air.nights || !where.air.nights->below) { continue; }
                double const limit = model_.stages[at(i)][at(j)].limit;
                if (limit > where.air.nights->below->celsius()) {
                    by_place[one.places[at(j)]].push_back({&one, j, limit});
                }
            }
        }
        for (auto const& [place, late] : by_place) {
            // The one that is harmed first.
            auto const worst = std::max_element(
                late.begin(), late.end(),
                [](late_cover const& a, late_cover const& b) { return a.limit < b.limit; });
            std::vector<std::string> others;
            for (late_cover const& other : late) {
                std::string const& name = other.one->grown->name;
                if (name != worst->one->grown->name &&
                    std::find(others.begin(), others.end(), name) == others.end()) {
                    others.push_back(name);
                }
            }
            std::string const limit = say_temperature(model_.planned, worst->limit);
            data_.warnings.push_back(fmt::format(
                "you cover or heat {} on nights at or below {}, but {} is hurt at {} from {} on{}: "
                "nights between the two do damage and nothing is done; act at or below {}",
                say_place(model_.planned, place),
                say_temperature(model_.planned,
                                model_.planned.places()[at(place)].air.nights->below->celsius()),
                worst->one->grown->name, limit,
                say_event(event_name(*worst->one->grown, worst->stage)),
                say_so_more("is", "are", others), limit));
        }
    }

    calendar_data& data_;
    season_model const& model_;
    std::vector<resolved_succession> const& batches_;
    path_walker const& walker_;
};

}  // namespace

reason why_beyond_risk(calendar_data const& data, int succession, risk_excess const& excess) {
    season_model const& model = *data.model;
    resolved_succession const& one = model.planned.successions()[at(succession)];
    int const allowed = allowed_years(one.risk.share()->value(), model.years);
    double const limit = model.stages[at(succession)][at(excess.stage)].limit;
    std::string const event = std::string{event_name(*one.grown, excess.stage)};
    std::string const where = say_place(model.planned, one.places[at(excess.stage)]);
    return {.succession = one.name,
            .event = event,
            .code = "damage.beyond_risk",
            .values = {{"damaged_years", std::int64_t{excess.damaged}},
                       {"allowed_years", std::int64_t{allowed}},
                       {"years", std::int64_t{model.years}},
                       {"first_night", model.planned.window().start() + days{excess.first_night}},
                       {"limit_c", limit},
                       {"place", where}},
            .sentence = fmt::format(
                "from {} on, nights at or below {} in {} do damage in {} (the first on {}): "
                "the bound against cold covers {} up to the end of its half of the year",
                say_event(event), say_temperature(model.planned, limit), where,
                say_years(excess.damaged, model.years), say_day(model.planned, excess.first_night),
                say_years(allowed, model.years))};
}

void note_what_else(calendar_data& data, path_walker const& walker) {
    note_taker{data, walker}.run();
}

}  // namespace epicotyl::detail
