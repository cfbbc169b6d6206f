// What leaves decisions their room: walks through solved windows.
#include <algorithm>
#include <set>
#include <unordered_map>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "told.hpp"
#include "windows_data.hpp"

namespace epicotyl::detail {

namespace {

struct pushed_by {
    std::size_t vertex;
    int label;
};
/// From a middle, which is not on it, to the vertex that its own bound holds.
using half_chain = std::vector<pushed_by>;

/// One solved network, turned so that from a vertex its pushers are met.
class chain_finder {
public:
    chain_finder(windows_data const& data, int number)
        : data_{data},
          number_{number},
          network_{*data.solved[at(number)]},
          net_{network_.net},
          later_{network::make_arc_table(net_.size(), net_.arcs<push::earlier>())},
          earlier_{network::make_arc_table(net_.size(), net_.arcs<push::later>())},
          is_on_(net_.size(), 0) {}

    /// The shortest way to what holds a vertex, so that an event is not told to be held by what it
    /// holds itself.
    template <push Way>
    [[nodiscard]] half_chain shortest(std::size_t centre) const {
        std::optional<half_chain> const tight = shortest_tight<Way>(centre);
        return tight ? *tight : proved<Way>(centre);
    }

    /// Every way to what holds a vertex, none through one vertex twice: those within its
    /// succession, or those that leave it, at most `most` of these.
    template <push Way>
    [[nodiscard]] std::vector<half_chain> all(std::size_t centre, bool crossing, int most) {
        std::vector<half_chain> found;
        half_chain steps;
        int const home = network_.owner[centre].succession;
        auto const go = [&](auto const& self, std::size_t v, bool has_left) -> void {
            if (static_cast<int>(found.size()) >= most) { return; }
            if (is_held<Way>(v)) {
                if (has_left == crossing) { found.push_back(steps); }
                // Sooner than the season starts nothing can be pushed from elsewhere.
                if (!bound<Way>(v).label) { return; }
            }
            is_on_[v] = 1;
            for_pushers<Way>(v, [&](pushed_by const& one) {
                bool const leaves = has_left || network_.owner[one.vertex].succession != home;
                if (is_on_[one.vertex] != 0 || (leaves && !crossing)) { return; }
                steps.push_back(one);
                self(self, one.vertex, leaves);
                steps.pop_back();
            });
            is_on_[v] = 0;
        };
        go(go, centre, false);
        if (found.empty() && !shortest_tight<Way>(centre)) {
            half_chain proof = proved<Way>(centre);
            bool const leaves = std::any_of(proof.begin(), proof.end(), [&](pushed_by const& one) {
                return network_.owner[one.vertex].succession != home;
            });
            if (leaves == crossing) { found.push_back(std::move(proof)); }
        }
        return found;
    }

    [[nodiscard]] found_chain joined(std::size_t centre, half_chain const& left,
                                     half_chain const& right) const {
        found_chain made{.network = number_, .middle = left.size()};
        std::size_t const first = left.empty() ? centre : left.back().vertex;
        made.ties.push_back(net_.lower(first).label.value_or(-1));
        for (std::size_t k = left.size(); k-- > 0;) {
            made.vertices.push_back(left[k].vertex);
            made.ties.push_back(left[k].label);
        }
        made.vertices.push_back(centre);
        for (pushed_by const& one : right) {
            made.vertices.push_back(one.vertex);
            made.ties.push_back(one.label);
        }
        made.end = net_.upper(made.vertices.back()).label.value_or(-1);
        made.slack = data_.latest[at(number_)][centre] - data_.earliest[at(number_)][centre];
        int const home = network_.owner[centre].succession;
        made.crosses_links =
            std::any_of(made.vertices.begin(), made.vertices.end(),
                        [&](std::size_t v) { return network_.owner[v].succession != home; });
        return made;
    }

private:
    template <push Way>
    [[nodiscard]] std::optional<half_chain> shortest_tight(std::size_t centre) const {
        std::unordered_map<std::size_t, pushed_by> came_from{{centre, {centre, -1}}};
        std::vector<std::size_t> open{centre};
        for (std::size_t next = 0; next < open.size(); ++next) {
            std::size_t const v = open[next];
            if (is_held<Way>(v)) {
                half_chain steps;
                for (std::size_t u = v; u != centre; u = came_from.at(u).vertex) {
                    steps.push_back({u, came_from.at(u).label});
                }
                std::reverse(steps.begin(), steps.end());
                return steps;
            }
            for_pushers<Way>(v, [&](pushed_by const& one) {
                if (came_from.emplace(one.vertex, pushed_by{v, one.label}).second) {
                    open.push_back(one.vertex);
                }
            });
        }
        return std::nullopt;
    }

    /// Outcomes, which come when their clock says, may hold one another on days on which no bound
    /// holds any of them. Then the proof that a day further is impossible names what does.
    template <push Way>
    [[nodiscard]] half_chain proved(std::size_t centre) const {
        monotone_network<window_map> further = net_;
        constexpr bool is_later = Way == push::later;
        if (is_later) {
            further.not_after(centre, day_of<Way>(centre) - 1);
        } else {
            further.not_before(centre, day_of<Way>(centre) + 1);
        }
        network_answer const answer = is_later ? further.greatest() : further.least();
        half_chain steps;
        if (answer.solved()) { return steps; }
        for (event_step const& step : event_steps(network_, answer.conflict())) {
            // Back where it has been, it has gone round.
            auto const been = std::ranges::find(steps, step.vertex, &pushed_by::vertex);
            if (been != steps.end()) {
                steps.erase(std::next(been), steps.end());
            } else {
                steps.push_back({step.vertex, step.row});
            }
        }
        return steps;
    }

    template <push Way>
    [[nodiscard]] vertex_bound const& bound(std::size_t v) const {
        return Way == push::later ? net_.lower(v) : net_.upper(v);
    }
    template <push Way>
    [[nodiscard]] int day_of(std::size_t v) const {
        return (Way == push::later ? data_.earliest : data_.latest)[at(number_)][v];
    }
    template <push Way>
    [[nodiscard]] bool is_held(std::size_t v) const {
        return day_of<Way>(v) == bound<Way>(v).value;
    }
    /// Calls `met` with all that holds a vertex on its day: of waves the members.
    template <push Way, class Met>
    void for_pushers(std::size_t v, Met const& met) const {
        for_arcs<Way>(v, [&](std::size_t u, auto const& edge) {
            if (!network_.is_wave(u)) {
                meet_if_tight<Way>(v, u, network::push_along<Way>(edge, day_of<Way>(u)), edge.label,
                                   met);
                return;
            }
            for_arcs<Way>(u, [&](std::size_t member, auto const& joins) {
                std::optional<int> const come =
                    network::push_along<Way>(joins, day_of<Way>(member));
                int const row = network_.joins_wave(edge.label) ? joins.label : edge.label;
                meet_if_tight<Way>(v, member, come ? network::push_along<Way>(edge, *come) : come,
                                   row, met);
            });
        });
    }
    template <push Way, class Met>
    void meet_if_tight(std::size_t v, std::size_t u, std::optional<int> pushed, int row,
                       Met const& met) const {
        if (pushed == day_of<Way>(v)) { met(pushed_by{u, row}); }
    }
    /// Calls `met` with the other end of each arc of a vertex, and its edge.
    template <push Way, class Met>
    void for_arcs(std::size_t v, Met const& met) const {
        network::arc_table const& arcs = Way == push::later ? later_ : earlier_;
        for (network::index slot = arcs.first[v]; slot < arcs.first[v + 1]; ++slot) {
            met(std::size_t{arcs.target[slot]}, net_.edge(arcs.edge[slot]));
        }
    }

    windows_data const& data_;
    int number_;
    window_network const& network_;
    monotone_network<window_map> const& net_;
    network::arc_table later_;
    network::arc_table earlier_;
    std::vector<char> is_on_;
};

/// A decision that has a choice, and how much.
struct free_decision {
    int network;
    std::size_t vertex;
    int slack;
};

/// Decisions with a window that their own bounds do not fix, those with the least slack first.
std::vector<free_decision> free_decisions(windows_data const& of) {
    season_model const& model = of.model();
    std::vector<free_decision> found;
    for (std::size_t number = 0; number < of.solved.size(); ++number) {
        window_network const& network = *of.solved[number];
        for (std::size_t v = 0; v < network.events; ++v) {
            event_of const& one = network.owner[v];
            int const early = of.earliest[number][v];
            int const late = of.latest[number][v];
            bool const is_fixed = network.net.lower(v).value == network.net.upper(v).value;
            crop const& grown = *model.planned.successions()[at(one.succession)].grown;
            if (late > model.season_days || is_fixed || is_outcome(grown, one.event)) { continue; }
            found.push_back({static_cast<int>(number), v, late - early});
        }
    }
    std::stable_sort(
        found.begin(), found.end(),
        [](free_decision const& a, free_decision const& b) { return a.slack < b.slack; });
    return found;
}

}  // namespace

std::vector<found_chain> find_tightest(windows_data const& of, int most) {
    if (most < 1) {
        throw invalid_input{{.code = "windows.no_chains",
                             .field = "most",
                             .value = fmt::format("{}", most),
                             .bound = "1 or more",
                             .problem = fmt::format("{} chains are none", most),
                             .remedy = "ask for one chain or more"}};
    }
    std::vector<chain_finder> finders;
    for (int number = 0; number < static_cast<int>(of.solved.size()); ++number) {
        finders.emplace_back(of, number);
    }
    std::vector<found_chain> crossing;
    std::vector<found_chain> within;
    // A chain holds several decisions; it is met first at the one that it leaves least.
    std::set<std::pair<std::vector<int>, std::vector<std::size_t>>> met;
    auto const add = [&](std::vector<found_chain>& to, found_chain chain) {
        if (static_cast<int>(to.size()) >= most) { return; }
        std::vector<int> rows = chain.ties;
        rows.push_back(chain.end);
        rows.push_back(chain.network);
        if (!met.emplace(std::move(rows), chain.vertices).second) { return; }
        event_of const& one = of.solved[at(chain.network)]->owner[chain.vertices[chain.middle]];
        chain.free_slack = free_slack_of(of, one);
        to.push_back(std::move(chain));
    };
    for (free_decision const& one : free_decisions(of)) {
        if (static_cast<int>(crossing.size()) >= most) { break; }
        chain_finder& finder = finders[at(one.network)];
        std::vector<half_chain> const left = finder.all<push::later>(one.vertex, false, most);
        std::vector<half_chain> const right = finder.all<push::earlier>(one.vertex, false, most);
        std::vector<half_chain> const from = finder.all<push::later>(one.vertex, true, most);
        std::vector<half_chain> const to = finder.all<push::earlier>(one.vertex, true, most);
        auto const join = [&](std::vector<half_chain> const& a, std::vector<half_chain> const& b,
                              std::vector<found_chain>& kept) {
            for (half_chain const& before : a) {
                for (half_chain const& after : b) {
                    if (static_cast<int>(kept.size()) >= most) { return; }
                    add(kept, finder.joined(one.vertex, before, after));
                }
            }
        };
        join(left, right, within);
        join(from, right, crossing);
        join(left, to, crossing);
        join(from, to, crossing);
    }
    auto const rank = [](found_chain const& a, found_chain const& b) {
        return std::pair{a.slack, a.free_slack} < std::pair{b.slack, b.free_slack};
    };
    std::stable_sort(crossing.begin(), crossing.end(), rank);
    std::stable_sort(within.begin(), within.end(), rank);
    std::move(within.begin(), within.end(), std::back_inserter(crossing));
    if (static_cast<int>(crossing.size()) > most) { crossing.resize(at(most)); }
    return crossing;
}

tightest_chain told(windows_data const& of, found_chain const& chain) {
    season_model const& model = of.model();
    season const& window = model.planned.window();
    window_network const& network = *of.solved[at(chain.network)];
    tightest_chain made{.slack = chain.slack,
                        .free_slack = chain.free_slack,
                        .middle = static_cast<int>(chain.middle),
                        .crosses_links = chain.crosses_links};
    for (std::size_t k = 0; k < chain.vertices.size(); ++k) {
        std::size_t const v = chain.vertices[k];
        event_of const& one = network.owner[v];
        resolved_succession const& batch = model.planned.successions()[at(one.succession)];
        int const tie = chain.ties[k];
        std::size_t const before = chain.vertices[k > 0 ? k - 1 : 0];
        made.events.push_back({.succession = batch.name,
                               .event = std::string{event_name(*batch.grown, one.event)},
                               .earliest = *window.day_at(of.earliest[at(chain.network)][v]),
                               .latest = window.day_at(of.latest[at(chain.network)][v]),
                               .tie = tie >= 0 ? told(*of.frame, network.between(tie, v, before))
                                               : told_season_start(*of.frame, one)});
    }
    if (chain.end >= 0) { made.end = told(*of.frame, network.rows[at(chain.end)]); }
    return made;
}

found_chain find_chain_through(windows_data const& of, event_of const& middle) {
    int const number = of.network_of[at(middle.succession)];
    std::size_t const centre = at(of.first_vertex[at(middle.succession)] + middle.event);
    chain_finder const finder{of, number};
    found_chain chain = finder.joined(centre, finder.shortest<push::later>(centre),
                                      finder.shortest<push::earlier>(centre));
    resolved_succession const& batch = of.model().planned.successions()[at(middle.succession)];
    if (!is_outcome(*batch.grown, middle.event) && of.latest_of(middle) < never) {
        chain.free_slack = free_slack_of(of, middle);
    }
    return chain;
}

tightest_chain chain_through(windows_data const& of, event_of const& middle) {
    return told(of, find_chain_through(of, middle));
}

}  // namespace epicotyl::detail
