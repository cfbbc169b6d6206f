// epicotyl: finding the walk that proves a network impossible, and making it minimal.
//
// Unstable (namespace detail::network). The solver only learns which vertex broke. The search
// pushes again, keeping every move, and reads the walk backwards from the break. Such a walk is a
// proof but may name more than it needs, so:
//
// 1. Its front is cut off. A walk started later, from the end of the chain, derives no more than
//    one started earlier; the last start that still breaks is found by bisection. A bound broken
//    at the end is exchanged for the end of the chain where that is broken too.
// 2. If it meets no vertex twice, it is minimal now: with any named edge or bound left out, what
//    is left of the path starts at a later vertex or ends without a break.
// 3. Otherwise each requirement it names is left out in turn, and the named rest alone is pushed
//    again. If it still breaks, the new walk, which names less, takes the old one's place; if not,
//    the requirement is needed, and stays so when others go.
//
// Bounds are left out first: a cycle that is impossible from any start tells more than one that is
// impossible from a certain day. Step 3 costs one solution of the named part for each requirement
// named; only walks with cycles come to it.
#ifndef EPICOTYL_NETWORK_CONFLICT_SEARCH_HPP
#define EPICOTYL_NETWORK_CONFLICT_SEARCH_HPP

#include <algorithm>
#include <cstddef>
#include <optional>
#include <span>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

#include <epicotyl/network/propagate.hpp>
#include <epicotyl/network/walk.hpp>

namespace epicotyl::detail::network {

/// True when pushing this way uses the edge as it stands, false when by its adjoint.
template <push Way>
[[nodiscard]] constexpr bool uses_forward(edge_kind kind) noexcept {
    return (kind == edge_kind::no_sooner) == (Way == push::later);
}

/// What an edge makes of a value, pushing this way.
template <push Way, class Edge>
[[nodiscard]] std::optional<int> push_along(Edge const& edge, int value) {
    if (uses_forward<Way>(edge.kind)) { return edge.map(value); }
    if constexpr (Way == push::later) {
        return edge.map.earliest(value);
    } else {
        return edge.map.latest(value);
    }
}

/// A stretch of a sequence of edges: `length` edges from `begin`, which then repeat.
struct turned_stretch {
    std::size_t begin;
    std::size_t length;
    std::size_t turns;
};

/// Finds cycles that a sequence of edges turns several times in a row. `at[i]` is the vertex before
/// edge i. Every edge is in exactly one turn of one stretch.
[[nodiscard]] inline std::vector<turned_stretch> find_turns(std::vector<index> const& edges,
                                                            std::vector<index> const& at) {
    // A period is a return to the same vertex. Two cycles through one vertex may alternate, so the
    // first few returns are tried; more would make long irregular walks slow to tell.
    constexpr int returns_tried = 8;
    std::size_t const none = edges.size();
    std::vector<std::size_t> next_visit(edges.size(), none);
    std::unordered_map<index, std::size_t> seen;
    for (std::size_t i = edges.size(); i-- > 0;) {
        auto const [place, fresh] = seen.try_emplace(at[i], i);
        if (!fresh) { next_visit[i] = std::exchange(place->second, i); }
    }
    std::vector<turned_stretch> stretches;
    bool extend = false;
    for (std::size_t i = 0; i < edges.size();) {
        std::size_t length = 1;
        std::size_t turns = 1;
        std::size_t visit = next_visit[i];
        for (int tried = 0; tried < returns_tried && visit != none && turns == 1; ++tried) {
            length = visit - i;
            auto const same = [&](std::size_t turn) {
                std::size_t const begin = i + turn * length;
                return begin + length <= edges.size() &&
                       std::equal(edges.begin() + static_cast<std::ptrdiff_t>(i),
                                  edges.begin() + static_cast<std::ptrdiff_t>(i + length),
                                  edges.begin() + static_cast<std::ptrdiff_t>(begin));
            };
            while (same(turns)) { ++turns; }
            visit = next_visit[visit];
        }
        if (turns > 1) {
            stretches.push_back({i, length, turns});
            i += length * turns;
            extend = false;
            continue;
        }
        if (extend) {
            ++stretches.back().length;
        } else {
            stretches.push_back({i, 1, 1});
        }
        extend = true;
        ++i;
    }
    return stretches;
}

/// The search in one network, pushing one way.
template <push Way, class Network>
class conflict_search {
public:
    explicit conflict_search(Network const& network) : network_{network} {}

    /// The conflict of a network that is known to have one.
    [[nodiscard]] walk find(arc_table const& arcs, part_table const& parts) const {
        std::vector<int> value(network_.size());
        std::vector<int> limit(network_.size());
        for (std::size_t v = 0; v < network_.size(); ++v) {
            value[v] = start_of(v).value;
            limit[v] = limit_of(v).value;
        }
        std::optional<trace> const found = trace_break(arcs, parts, value, limit);
        index const first = found->edges.empty() ? found->broken : source(found->edges.front());
        derivation proof{.first = first,
                         .last = found->broken,
                         .from_bound = start_of(first).label.has_value(),
                         .to_bound = limit_of(found->broken).label.has_value(),
                         .edges = found->edges};
        trim(proof);
        if (meets_a_vertex_twice(proof)) { minimise(proof); }
        return told(proof);
    }

private:
    /// A walk as edges; the requirements it names are these and, where so marked, the bounds given
    /// for its first and last vertex.
    struct derivation {
        index first;
        index last;
        bool from_bound;
        bool to_bound;
        std::vector<index> edges;
    };
    struct trace {
        index broken;
        std::vector<index> edges;
    };

    [[nodiscard]] static constexpr bool later() noexcept { return Way == push::later; }
    [[nodiscard]] int chain_start() const {
        return later() ? network_.lowest() : network_.highest();
    }
    [[nodiscard]] int chain_limit() const {
        return later() ? network_.highest() : network_.lowest();
    }
    [[nodiscard]] auto const& start_of(std::size_t v) const {
        return later() ? network_.lower(v) : network_.upper(v);
    }
    [[nodiscard]] auto const& limit_of(std::size_t v) const {
        return later() ? network_.upper(v) : network_.lower(v);
    }
    [[nodiscard]] index source(index edge) const {
        auto const& one = network_.edge(edge);
        return static_cast<index>(uses_forward<Way>(one.kind) ? one.from : one.to);
    }
    [[nodiscard]] index target(index edge) const {
        auto const& one = network_.edge(edge);
        return static_cast<index>(uses_forward<Way>(one.kind) ? one.to : one.from);
    }

    [[nodiscard]] std::optional<trace> trace_break(arc_table const& arcs, part_table const& parts,
                                                   std::vector<int> value,
                                                   std::vector<int> const& limit) const {
        move_log log{value.size()};
        auto const step = [&](index edge, int x) {
            return push_along<Way>(network_.edge(edge), x);
        };
        std::optional<index> const broken =
            propagate<Way>(arcs, parts, limit, std::span<int>{value}, step, log);
        if (!broken) { return std::nullopt; }
        return trace{*broken, log.edges_to(*broken)};
    }

    /// The value at the end of edges[from ...] when it starts with `value`; none when no value will
    /// do. A vertex is never before the start of the chain.
    [[nodiscard]] std::optional<int> value_after(std::vector<index> const& edges, std::size_t from,
                                                 int value) const {
        for (std::size_t i = from; i < edges.size(); ++i) {
            std::optional<int> const next = push_along<Way>(network_.edge(edges[i]), value);
            if (!next) { return std::nullopt; }
            value = further<Way>(*next, chain_start()) ? *next : chain_start();
        }
        return value;
    }

    void trim(derivation& proof) const {
        int const limit = proof.to_bound ? limit_of(proof.last).value : chain_limit();
        auto const breaks = [&](std::optional<int> value, int than) {
            return !value || further<Way>(*value, than);
        };
        // Without its first edges, and started from the end of the chain.
        auto const cut_breaks = [&](std::size_t cut) {
            return breaks(value_after(proof.edges, cut, chain_start()), limit);
        };
        if (!proof.from_bound || cut_breaks(0)) {
            std::size_t good = 0;
            std::size_t bad = proof.edges.size() + 1;
            while (bad - good > 1) {
                std::size_t const middle = good + (bad - good) / 2;
                (cut_breaks(middle) ? good : bad) = middle;
            }
            if (good > 0) { proof.first = target(proof.edges[good - 1]); }
            proof.edges.erase(proof.edges.begin(),
                              proof.edges.begin() + static_cast<std::ptrdiff_t>(good));
            proof.from_bound = false;
        }
        int const start = proof.from_bound ? start_of(proof.first).value : chain_start();
        if (breaks(value_after(proof.edges, 0, start), chain_limit())) { proof.to_bound = false; }
    }

    [[nodiscard]] bool meets_a_vertex_twice(derivation const& proof) const {
        std::unordered_set<index> met{proof.first};
        return !std::all_of(proof.edges.begin(), proof.edges.end(),
                            [&](index edge) { return met.insert(target(edge)).second; });
    }

    /// What a proof names, as a small network of its own with vertices numbered from 0.
    struct named_part {
        std::vector<index> vertex;  ///< number in the whole network
        std::vector<arc> arcs;
        index first = 0;
        index last = 0;
    };

    [[nodiscard]] named_part named_by(derivation const& proof) const {
        named_part part;
        std::unordered_map<index, index> number;
        auto const place = [&](index vertex) {
            auto const [at, fresh] =
                number.try_emplace(vertex, static_cast<index>(part.vertex.size()));
            if (fresh) { part.vertex.push_back(vertex); }
            return at->second;
        };
        part.first = place(proof.first);
        std::unordered_set<index> taken;
        for (index const edge : proof.edges) {
            if (taken.insert(edge).second) {
                part.arcs.push_back({place(source(edge)), place(target(edge)), edge});
            }
        }
        part.last = place(proof.last);
        return part;
    }

    /// Leaves out what is not needed, one requirement after the other. What was needed among more
    /// is needed among less, so nothing is tried twice.
    void minimise(derivation& proof) const {
        named_part part = named_by(proof);
        auto const still_breaks = [&](bool from_bound, bool to_bound,
                                      std::vector<arc> const& arcs) {
            std::optional<derivation> rest = broken_by(part, proof, from_bound, to_bound, arcs);
            if (!rest) { return false; }
            proof = std::move(*rest);
            trim(proof);
            part = named_by(proof);
            return true;
        };
        if (proof.from_bound) { (void)still_breaks(false, proof.to_bound, part.arcs); }
        if (proof.to_bound) { (void)still_breaks(proof.from_bound, false, part.arcs); }
        std::unordered_set<index> needed;
        std::size_t next = 0;
        bool has_cycle = meets_a_vertex_twice(proof);
        while (has_cycle && next < part.arcs.size()) {
            if (needed.contains(part.arcs[next].edge)) {
                ++next;
                continue;
            }
            index const edge = part.arcs[next].edge;
            std::vector<arc> rest = part.arcs;
            rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(next));
            if (still_breaks(proof.from_bound, proof.to_bound, rest)) {
                next = 0;
                has_cycle = meets_a_vertex_twice(proof);
            } else {
                needed.insert(edge);
            }
        }
    }

    /// A proof from a part with only these arcs, and of the bounds that `proof` names only those
    /// asked for; none when there is none.
    [[nodiscard]] std::optional<derivation> broken_by(named_part const& part,
                                                      derivation const& proof, bool from_bound,
                                                      bool to_bound,
                                                      std::vector<arc> const& arcs) const {
        std::vector<int> value(part.vertex.size(), chain_start());
        std::vector<int> limit(part.vertex.size(), chain_limit());
        if (from_bound) { value[part.first] = start_of(proof.first).value; }
        if (to_bound) { limit[part.last] = limit_of(proof.last).value; }
        std::vector<index> const one_component(part.vertex.size(), 0);
        std::optional<trace> found =
            trace_break(make_arc_table(part.vertex.size(), arcs), group_parts(one_component, 1),
                        std::move(value), limit);
        if (!found) { return std::nullopt; }
        index const last = part.vertex[found->broken];
        index const first = found->edges.empty() ? last : source(found->edges.front());
        return derivation{.first = first,
                          .last = last,
                          .from_bound = from_bound && first == proof.first,
                          .to_bound = to_bound && last == proof.last,
                          .edges = std::move(found->edges)};
    }

    [[nodiscard]] walk told(derivation const& proof) const {
        walk result;
        result.way = Way;
        result.start = {.vertex = proof.first, .value = chain_start(), .label = std::nullopt};
        if (proof.from_bound) {
            result.start.value = start_of(proof.first).value;
            result.start.label = start_of(proof.first).label;
        }
        result.broken = {.vertex = proof.last, .value = chain_limit(), .label = std::nullopt};
        if (proof.to_bound) {
            result.broken.value = limit_of(proof.last).value;
            result.broken.label = limit_of(proof.last).label;
        }
        std::vector<index> at;
        at.reserve(proof.edges.size());
        for (index const edge : proof.edges) { at.push_back(source(edge)); }
        std::optional<int> value = result.start.value;
        for (turned_stretch const& stretch : find_turns(proof.edges, at)) {
            walk_leg leg;
            leg.turns = static_cast<int>(stretch.turns);
            for (std::size_t turn = 0; turn < stretch.turns; ++turn) {
                for (std::size_t i = 0; i < stretch.length; ++i) {
                    index const edge = proof.edges[stretch.begin + i];
                    value = push_along<Way>(network_.edge(edge), *value);
                    if (turn == 0) {
                        bool const forward = uses_forward<Way>(network_.edge(edge).kind);
                        leg.steps.push_back(
                            {.edge = edge,
                             .label = network_.edge(edge).label,
                             .use = forward ? edge_use::forward : edge_use::backward,
                             .vertex = target(edge),
                             .value = value,
                             .last_value = value});
                    }
                    leg.steps[i].last_value = value;
                }
            }
            result.legs.push_back(std::move(leg));
        }
        return result;
    }

    Network const& network_;
};

}  // namespace epicotyl::detail::network

#endif
