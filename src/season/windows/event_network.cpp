#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/windows/event_network.hpp>

#include <map>

#include <fmt/format.h>

#include "window_network.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// The rows of a calendar that make days late, as a network that callers keep.
class event_network_maker {
public:
    event_network_maker(calendar const& of, int year)
        : data_{*of.data()},
          model_{data_.model},
          frame_{make_window_frame(of.data())},
          year_{year} {}

    [[nodiscard]] monotone_network<stage_map> make() {
        for (resolved_succession const& one : model_->planned.successions()) {
            for (int e = 0; e < event_count(*one.grown); ++e) {
                made_.add_vertex(fmt::format("{}: {}", one.name, event_name(*one.grown, e)));
            }
        }
        for (int i : data_.order) {
            made_.not_before(vertex({i, 0}), data_.successions[at(i)].sowing);
            for (requirement_row const& row : frame_.batches[at(i)].rows) {
                if (row.kind == requirement_kind::link) { refuse_first_of_wave(row.link); }
                if (!row.is_upper && !lasts(row)) { require(row); }
            }
        }
        return std::move(made_);
    }

private:
    [[nodiscard]] std::size_t vertex(event_of const& of) const {
        return at(data_.days.row(of.succession, of.event));
    }
    /// The tables live as long as any map that looks into them.
    [[nodiscard]] stage_map passes(int wait) const {
        return stage_map{{model_, &model_->whole(wait, year_)}};
    }

    /// How long a harvest is to last is counted, and puts nothing off.
    [[nodiscard]] bool lasts(requirement_row const& row) const {
        return row.kind == requirement_kind::target &&
               row.to.event != model_->planned.successions()[at(row.to.succession)].target_event;
    }

    void require(requirement_row const& row) {
        if (row.is_bound()) {
            made_.not_before(vertex(row.to), row.days);
            return;
        }
        std::size_t const from = row.awaited < 0 ? vertex(row.from) : wave_vertex(row.awaited);
        if (row.kind == requirement_kind::link) {
            made_.no_sooner(from, vertex(row.to), passes(row.wait), row.link);
        } else {
            made_.no_sooner(from, vertex(row.to), passes(row.wait));
        }
    }

    [[nodiscard]] std::size_t wave_vertex(int awaited) {
        auto const [known, is_new] = waves_.try_emplace(awaited, made_.size());
        if (!is_new) { return known->second; }
        std::vector<event_of> const& members = frame_.sources[at(awaited)].members;
        event_of const& one = members.front();
        crop const& grown = *model_->planned.successions()[at(one.succession)].grown;
        (void)made_.add_vertex(
            fmt::format("all {}: {}", members.size(), event_name(grown, one.event)));
        for (event_of const& member : members) {
            made_.no_sooner(vertex(member), known->second, stage_map{});
        }
        return known->second;
    }

    void refuse_first_of_wave(int link) const {
        resolved_link const& one = model_->planned.links()[at(link)];
        if (!one.first_decides || one.firsts.size() == 1) { return; }
        throw invalid_input{{.code = "network.first_of_wave",
                             .field = "link",
                             .value = "of = \"first\"",
                             .bound = "of = \"all\"",
                             .problem =
                                 "a link that waits for the first of a wave is no inequality "
                                 "between two events",
                             .remedy = "wait for all of the wave, or for one succession"}};
    }

    calendar_data const& data_;
    std::shared_ptr<season_model const> const& model_;
    window_frame frame_;
    int year_;
    monotone_network<stage_map> made_{0, never};
    std::map<int, std::size_t> waves_ = {};
};

}  // namespace

}  // namespace detail

monotone_network<stage_map> event_network(calendar const& of, int year) {
    int const years = of.data()->model->years;
    if (year < 0 || year >= years) {
        throw invalid_input{{.code = "network.year",
                             .field = "year",
                             .value = fmt::format("{}", year),
                             .bound = fmt::format("0 to {}", years - 1),
                             .problem = fmt::format("the climate has no season year {}", year),
                             .remedy = "give the index of a season year, 0 for the first"}};
    }
    return detail::event_network_maker{of, year}.make();
}

}  // namespace epicotyl
