#include <epicotyl/season/planting_windows.hpp>

#include <algorithm>
#include <numeric>
#include <unordered_map>

#include <fmt/format.h>

#include <epicotyl/season/schedule.hpp>

#include "say.hpp"
#include "windows_data.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// Solves a network; keeps it and its days, or returns why there are none.
std::optional<season_conflict> solve_into(windows_data& data,
                                          std::unique_ptr<window_network> network) {
    network_extremes const found = network->net.extremes();
    if (!found.least.solved()) { return told(*data.frame, *network, found.least.conflict()); }
    int const number = static_cast<int>(data.solved.size());
    for (event_of const& one : network->owner) { data.network_of[at(one.succession)] = number; }
    data.earliest.push_back(found.least.values());
    data.latest.push_back(found.greatest.values());
    data.solved.push_back(std::move(network));
    return std::nullopt;
}

/// Looks for what holds events, in solved windows.
class chain_finder {
public:
    explicit chain_finder(windows_data const& data) : data_{data}, model_{data.model()} {}

    /// Everything that holds an event with a window: to its left, itself, to its right.
    [[nodiscard]] tight_chain through(event_of const& middle) const {
        int const number = data_.network_of[at(middle.succession)];
        window_network const& network = *data_.solved[at(number)];
        std::vector<int> const& earliest = data_.earliest[at(number)];
        std::vector<int> const& latest = data_.latest[at(number)];
        std::size_t const centre = at(data_.first_vertex[at(middle.succession)] + middle.event);

        struct link {
            std::size_t vertex;
            requirement tie;
        };
        std::vector<link> chain;
        std::vector<std::size_t> met{centre};
        // Backwards from the middle, along what sets the earliest days.
        std::size_t first = centre;
        for (pushed_by const& one : path<push::later>(network, earliest, centre, met)) {
            chain.push_back({first, told(*data_.frame, network.rows[at(one.label)])});
            first = one.vertex;
            met.push_back(first);
        }
        std::optional<int> const start = network.net.lower(first).label;
        chain.push_back({first, start ? told(*data_.frame, network.rows[at(*start)])
                                      : told_season_start(*data_.frame, network.owner[first])});
        std::reverse(chain.begin(), chain.end());
        // Forwards, along what sets the latest days. The tie belongs to the event that pushes.
        std::size_t last = centre;
        std::vector<pushed_by> forwards = path<push::earlier>(network, latest, centre, met);
        if (forwards.empty() && latest[centre] != network.net.upper(centre).value) {
            // Plants come when the clock says: what holds them from the left may hold them from the
            // right as well.
            forwards = path<push::earlier>(network, latest, centre, {centre});
        }
        for (pushed_by const& one : forwards) {
            last = one.vertex;
            chain.push_back({last, told(*data_.frame, network.rows[at(one.label)])});
        }
        tight_chain made;
        season const& window = model_.planned.window();
        for (link& one : chain) {
            event_of const& of = network.owner[one.vertex];
            resolved_succession const& batch = model_.planned.successions()[at(of.succession)];
            made.events.push_back({.succession = batch.name,
                                   .event = std::string{event_name(*batch.grown, of.event)},
                                   .earliest = *window.day_at(earliest[one.vertex]),
                                   .latest = window.day_at(latest[one.vertex]),
                                   .tie = std::move(one.tie)});
        }
        std::optional<int> const end = network.net.upper(last).label;
        if (end) { made.end = told(*data_.frame, network.rows[at(*end)]); }
        made.slack = latest[centre] - earliest[centre];
        return made;
    }

    /// Event with the least slack among those that have some choice of their own.
    [[nodiscard]] std::optional<event_of> tightest() const {
        std::optional<event_of> best;
        int least = never;
        for (std::size_t number = 0; number < data_.solved.size(); ++number) {
            window_network const& network = *data_.solved[number];
            for (std::size_t v = 0; v < network.owner.size(); ++v) {
                int const early = data_.earliest[number][v];
                int const late = data_.latest[number][v];
                bool const is_fixed = network.net.lower(v).value == network.net.upper(v).value;
                if (late > model_.season_days || is_fixed || late - early >= least) { continue; }
                least = late - early;
                best = network.owner[v];
            }
        }
        return best;
    }

private:
    struct pushed_by {
        std::size_t vertex;
        int label;
    };

    /// What holds a vertex on its day: the neighbours that push it, one after another, to one that
    /// its own bound holds. The shortest such path, so that an event is not told to be held by what
    /// it holds itself. `met` are not gone through. Empty where the vertex's own bound does.
    template <push Way>
    [[nodiscard]] static std::vector<pushed_by> path(window_network const& network,
                                                     std::vector<int> const& days,
                                                     std::size_t centre,
                                                     std::vector<std::size_t> const& met) {
        constexpr bool later = Way == push::later;
        constexpr push back = later ? push::earlier : push::later;
        auto const& net = network.net;
        // The arcs of the other way: what pushes a vertex is where they lead.
        auto const turned = network::make_arc_table(net.size(), net.template arcs<back>());
        auto const is_held = [&](std::size_t v) {
            return days[v] == (later ? net.lower(v).value : net.upper(v).value);
        };
        std::unordered_map<std::size_t, pushed_by> came_from;
        for (std::size_t v : met) { came_from.emplace(v, pushed_by{v, -1}); }
        std::vector<std::size_t> open{centre};
        for (std::size_t next = 0; next < open.size(); ++next) {
            std::size_t const v = open[next];
            if (is_held(v)) {
                std::vector<pushed_by> steps;
                for (std::size_t u = v; u != centre; u = came_from.at(u).vertex) {
                    steps.push_back({u, came_from.at(u).label});
                }
                std::reverse(steps.begin(), steps.end());
                return steps;
            }
            for (network::index slot = turned.first[v]; slot < turned.first[v + 1]; ++slot) {
                std::size_t const u = turned.target[slot];
                auto const& edge = net.edge(turned.edge[slot]);
                if (network::push_along<Way>(edge, days[u]) != days[v]) { continue; }
                if (came_from.emplace(u, pushed_by{v, edge.label}).second) { open.push_back(u); }
            }
        }
        return {};
    }

    windows_data const& data_;
    season_model const& model_;
};

/// True when a decision may fall on `when` with every other decision on its earliest day.
bool may_slip_to(windows_data const& data, event_of const& of, int when) {
    window_frame const& frame = *data.frame;
    season_model const& model = data.model();
    resolved_succession const& one = model.planned.successions()[at(of.succession)];
    window_frame::batch const& batch = frame.batches[at(of.succession)];
    auto const early = [&](event_of const& other) {
        return data.earliest_of(other);
    };

    // Its own upper edges: what came before stays on its day.
    if (of.event > 0) {
        stage_tables const& before = model.stages[at(of.succession)][at(of.event - 1)];
        int const ready = model.ready(of.succession, of.event - 1, data.year_index,
                                      early({of.succession, of.event - 1}));
        if (ready < never && when > ready + before.hold) { return false; }
    }
    for (int number : frame.incoming[at(of.succession)]) {
        window_frame::wait const& wait = frame.waits[at(number)];
        if (!(wait.then == of)) { continue; }
        for (event_of const& first : wait.within_firsts) {
            if (early(first) < never && when > early(first) + wait.within) { return false; }
        }
    }
    // What comes after: the plants' own events follow, decisions stay.
    int day = when;
    for (int e = of.event;; ++e) {
        if (e != of.event) {
            int const ready = model.ready(of.succession, e - 1, data.year_index, day);
            if (!is_outcome(*one.grown, e)) { return ready <= early({of.succession, e}); }
            day = ready;
            if (day > (*batch.bounds)[at(e)].not_after) { return false; }
            if (e == one.target_event && day > batch.not_later) { return false; }
        }
        for (int number : frame.outgoing[at(of.succession)]) {
            window_frame::wait const& wait = frame.waits[at(number)];
            for (event_of const& first : wait.firsts) {
                if (!(first == event_of{of.succession, e})) { continue; }
                int const ready = model.link_wait(wait.link).ready(day, data.year_index);
                if (ready > early(wait.then)) { return false; }
            }
        }
        if (e + 1 == event_count(*one.grown)) { return true; }
    }
}

}  // namespace

tight_chain chain_through(windows_data const& of, event_of const& middle) {
    return chain_finder{of}.through(middle);
}

std::shared_ptr<windows_data const> solve_windows(calendar const& of,
                                                  std::shared_ptr<window_frame const> frame,
                                                  int year_index) {
    auto data = std::make_shared<windows_data>(
        windows_data{.of = of, .year_index = year_index, .frame = std::move(frame)});
    std::size_t const count = of.plan().successions().size();
    data->network_of.assign(count, -1);
    data->first_vertex.assign(count, -1);
    std::vector<int> everything;
    for (int i = 0; i < static_cast<int>(count); ++i) {
        if (data->frame->batches[at(i)].is_in) { everything.push_back(i); }
    }
    std::unique_ptr<window_network> whole =
        make_window_network(*data->frame, everything, year_index, data->first_vertex);
    if (!solve_into(*data, std::move(whole))) { return data; }
    for (int group = 0; group < static_cast<int>(data->frame->groups.size()); ++group) {
        std::optional<season_conflict> found =
            solve_into(*data, make_window_network(*data->frame, data->frame->groups[at(group)],
                                                  year_index, data->first_vertex));
        if (!found) { continue; }
        data->conflicts.push_back(std::move(*found));
        data->conflict_group.push_back(group);
    }
    return data;
}

}  // namespace detail

using detail::at;

planting_windows::planting_windows(epicotyl::calendar const& of, int year) {
    auto const& years = of.climate().years();
    auto const found = std::find(years.begin(), years.end(), year);
    if (found == years.end()) {
        throw invalid_input{{.code = "windows.year",
                             .field = "year",
                             .value = fmt::format("{}", year),
                             .bound = fmt::format("{} to {}", years.front(), years.back()),
                             .problem = fmt::format("the climate has no season year {}", year),
                             .remedy = "give one of the years that climate.years() names"}};
    }
    data_ = detail::solve_windows(
        of, std::make_shared<detail::window_frame const>(detail::make_window_frame(of.data())),
        static_cast<int>(found - years.begin()));
}

planting_windows::planting_windows(epicotyl::plan const& of, climate const& under, int year)
    : planting_windows{schedule(of, under), year} {}

int planting_windows::year() const {
    return calendar().climate().years()[at(data_->year_index)];
}

calendar const& planting_windows::calendar() const {
    return data_->of;
}

bool planting_windows::feasible(std::string_view succession) const {
    return data_->network_of[at(plan().succession_index(succession))] >= 0;
}

int planting_windows::earliest_offset(int succession, int event) const {
    int const found = data_->earliest_of({succession, event});
    return found > plan().window().length() ? never : found;
}

int planting_windows::latest_offset(int succession, int event) const {
    if (earliest_offset(succession, event) >= never) { return never; }
    int const found = data_->latest_of({succession, event});
    return found > plan().window().length() ? never : found;
}

std::optional<day> planting_windows::earliest(std::string_view succession,
                                              std::string_view event) const {
    int const i = plan().succession_index(succession);
    return plan().window().day_at(earliest_offset(i, plan().event_index(i, event)));
}

std::optional<day> planting_windows::latest(std::string_view succession,
                                            std::string_view event) const {
    int const i = plan().succession_index(succession);
    return plan().window().day_at(latest_offset(i, plan().event_index(i, event)));
}

std::optional<int> planting_windows::slack(std::string_view succession,
                                           std::string_view event) const {
    int const i = plan().succession_index(succession);
    int const e = plan().event_index(i, event);
    int const late = latest_offset(i, e);
    if (late >= never) { return std::nullopt; }
    return late - earliest_offset(i, e);
}

std::optional<int> planting_windows::free_slack(std::string_view succession,
                                                std::string_view event) const {
    std::optional<int> const all = slack(succession, event);
    if (!all) { return std::nullopt; }
    int const i = plan().succession_index(succession);
    int const e = plan().event_index(i, event);
    if (is_outcome(*plan().successions()[at(i)].grown, e)) { return 0; }
    int const early = earliest_offset(i, e);
    int low = 0;
    int high = *all;
    while (low < high) {
        int const middle = low + (high - low + 1) / 2;
        if (detail::may_slip_to(*data_, {i, e}, early + middle)) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    return low;
}

tight_chain planting_windows::critical_chain() const {
    detail::chain_finder const finder{*data_};
    std::optional<event_of> const tightest = finder.tightest();
    return tightest ? finder.through(*tightest) : tight_chain{};
}

tight_chain planting_windows::chain_of(std::string_view succession, std::string_view event) const {
    if (!slack(succession, event)) { return {}; }
    int const i = plan().succession_index(succession);
    return detail::chain_finder{*data_}.through({i, plan().event_index(i, event)});
}

std::vector<season_conflict> const& planting_windows::conflicts() const {
    return data_->conflicts;
}

std::vector<obstacle> const& planting_windows::left_out() const {
    return data_->frame->left_out;
}

std::vector<cure> planting_windows::cures(season_conflict const& of) const {
    return detail::find_cures(*data_, of);
}

}  // namespace epicotyl
