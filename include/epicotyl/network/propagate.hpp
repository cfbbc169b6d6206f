// epicotyl: pushing values through a network, in contiguous arrays.
//
// Unstable (namespace detail::network). Pushing later, an edge "x_to >= map(x_from)" is an arc from
// `from` to `to`, and an edge "x_to <= map(x_from)" is an arc from `to` to `from`, by the lower
// adjoint of its map. Pushing earlier, every arc is turned around. So one graph serves both, and so
// do its strong components: in topological order one way, in reverse order the other way.
//
// A component is settled before anything leaves it. Inside, a vertex that moved is put in a queue,
// and its arcs are followed when its turn comes, until nothing moves. Maps are arbitrary, so a
// vertex may move as often as the chain has values, and V * (N + 1) moves can be needed for a
// solution that exists. A bound on rounds, as for fixed lags, would call such a network impossible.
// Outside of cycles each arc is followed once.
#ifndef EPICOTYL_NETWORK_PROPAGATE_HPP
#define EPICOTYL_NETWORK_PROPAGATE_HPP

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numeric>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/property_map/property_map.hpp>

#include <epicotyl/network/walk.hpp>

namespace epicotyl::detail::network {

using index = std::uint32_t;
inline constexpr index no_index = std::numeric_limits<index>::max();

/// True when `value` pushes further than `than`.
template <push Way>
[[nodiscard]] constexpr bool further(int value, int than) noexcept {
    return Way == push::later ? value > than : value < than;
}

/// The arcs that leave each vertex, side by side: those of v are first[v] ... first[v + 1] - 1.
struct arc_table {
    std::vector<index> first;
    std::vector<index> target;
    std::vector<index> edge;
};

/// Vertices component by component, components in topological order of pushing later.
struct part_table {
    std::vector<index> vertex;  ///< those of component c: first[c] ... first[c + 1] - 1
    std::vector<index> first;
    std::vector<index> of;  ///< component of each vertex
};

struct arc {
    index source;
    index target;
    index edge;
};

/// Arcs in the order given, within each source.
[[nodiscard]] inline arc_table make_arc_table(std::size_t vertices, std::span<arc const> arcs) {
    arc_table table;
    table.first.assign(vertices + 1, 0);
    for (arc const& one : arcs) { ++table.first[one.source + 1]; }
    std::partial_sum(table.first.begin(), table.first.end(), table.first.begin());
    table.target.resize(arcs.size());
    table.edge.resize(arcs.size());
    std::vector<index> next(table.first.begin(), table.first.end() - 1);
    for (arc const& one : arcs) {
        index const slot = next[one.source]++;
        table.target[slot] = one.target;
        table.edge[slot] = one.edge;
    }
    return table;
}

/// Vertices grouped by a component number each; groups with the greatest number first, vertices
/// ascending.
[[nodiscard]] inline part_table group_parts(std::span<index const> number, std::size_t count) {
    part_table parts;
    parts.of.resize(number.size());
    parts.first.assign(count + 1, 0);
    for (std::size_t v = 0; v < number.size(); ++v) {
        parts.of[v] = static_cast<index>(count) - 1 - number[v];
        ++parts.first[parts.of[v] + 1];
    }
    std::partial_sum(parts.first.begin(), parts.first.end(), parts.first.begin());
    parts.vertex.resize(number.size());
    std::vector<index> next(parts.first.begin(), parts.first.end() - 1);
    for (std::size_t v = 0; v < number.size(); ++v) {
        parts.vertex[next[parts.of[v]]++] = static_cast<index>(v);
    }
    return parts;
}

/// The strong components of arcs that push later. Boost.Graph numbers a component when it leaves it
/// [tarjan1972], so arcs lead from greater numbers to smaller ones: the topological order is that
/// of descending numbers.
[[nodiscard]] inline part_table find_parts(std::size_t vertices, std::span<arc const> arcs) {
    std::vector<std::pair<index, index>> pairs;
    pairs.reserve(arcs.size());
    for (arc const& one : arcs) { pairs.emplace_back(one.source, one.target); }
    boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, boost::no_property,
                                       boost::no_property, index, index> const
        graph(boost::edges_are_unsorted_multi_pass, pairs.begin(), pairs.end(),
              static_cast<index>(vertices));
    std::vector<index> number(vertices, 0);
    auto const to_number =
        boost::make_iterator_property_map(number.begin(), boost::get(boost::vertex_index, graph));
    std::size_t const count = boost::strong_components(graph, to_number);
    return group_parts(number, count);
}

/// Keeps every move, so that it can be told how a vertex came to its value.
class move_log {
public:
    explicit move_log(std::size_t vertices) : last_(vertices, no_index) {}

    void operator()(index source, index target, index edge) {
        moves_.push_back({edge, last_[source]});
        last_[target] = static_cast<index>(moves_.size() - 1);
    }

    /// The edges that led to the last move of a vertex, in order; none when it never moved.
    [[nodiscard]] std::vector<index> edges_to(index vertex) const {
        std::vector<index> edges;
        for (index at = last_[vertex]; at != no_index; at = moves_[at].before) {
            edges.push_back(moves_[at].edge);
        }
        std::reverse(edges.begin(), edges.end());
        return edges;
    }

private:
    struct move {
        index edge;
        index before;  ///< the move that had brought the source to its value
    };

    std::vector<move> moves_;
    std::vector<index> last_;
};

/// Keeps nothing.
struct no_log {
    void operator()(index, index, index) const noexcept {}
};

/// Vertices of one component whose arcs are to be followed, first in, first out. A vertex waits at
/// most once, so a ring of the component's size holds them all.
class waiting_vertices {
public:
    explicit waiting_vertices(std::size_t vertices) : ring_(vertices), waits_(vertices, 0) {}

    /// All vertices of a component wait, in this order. None may wait from before.
    void begin(std::span<index const> vertices) {
        std::copy(vertices.begin(), vertices.end(), ring_.begin());
        for (index const v : vertices) { waits_[v] = 1; }
        head_ = 0;
        size_ = waiting_ = static_cast<index>(vertices.size());
    }
    [[nodiscard]] bool empty() const noexcept { return waiting_ == 0; }
    [[nodiscard]] index take() {
        index const v = ring_[head_];
        head_ = head_ + 1 == size_ ? 0 : head_ + 1;
        --waiting_;
        waits_[v] = 0;
        return v;
    }
    void add(index v) {
        if (waits_[v] != 0) { return; }
        index const tail = head_ + waiting_;
        ring_[tail < size_ ? tail : tail - size_] = v;
        waits_[v] = 1;
        ++waiting_;
    }

private:
    std::vector<index> ring_;
    std::vector<char> waits_;  ///< of each vertex of the network
    index head_ = 0;
    index waiting_ = 0;
    index size_ = 0;
};

/// Pushes values along arcs. `step(edge, x)` is what an arc makes of x, none when no value will do;
/// `log(source, target, edge)` hears every move. No value goes further than its limit: the vertex
/// that would is returned, and all stops there.
template <push Way, class Step, class Log>
class pusher {
public:
    pusher(arc_table const& arcs, part_table const& parts, std::span<int const> limit,
           std::span<int> value, Step const& step, Log& log)
        : arcs_{arcs}, parts_{parts}, limit_{limit}, value_{value}, step_{step}, log_{log} {}

    /// Follows arcs inside a component until nothing moves.
    [[nodiscard]] std::optional<index> settle(index part, waiting_vertices& waiting) {
        waiting.begin(vertices_of(part));
        while (!waiting.empty()) {
            index const v = waiting.take();
            for (index slot = arcs_.first[v]; slot < arcs_.first[v + 1]; ++slot) {
                index const target = arcs_.target[slot];
                if (parts_.of[target] != part) { continue; }
                effect const done = follow(v, slot);
                if (done == effect::broke) { return target; }
                if (done == effect::moved) { waiting.add(target); }
            }
        }
        return std::nullopt;
    }

    /// Follows the arcs that leave a settled component.
    [[nodiscard]] std::optional<index> leave(index part) {
        for (index const v : vertices_of(part)) {
            for (index slot = arcs_.first[v]; slot < arcs_.first[v + 1]; ++slot) {
                index const target = arcs_.target[slot];
                if (parts_.of[target] == part) { continue; }
                if (follow(v, slot) == effect::broke) { return target; }
            }
        }
        return std::nullopt;
    }

private:
    enum class effect { none, moved, broke };

    [[nodiscard]] std::span<index const> vertices_of(index part) const {
        index const first = parts_.first[part];
        return {parts_.vertex.data() + first, parts_.first[part + 1] - first};
    }

    [[nodiscard]] effect follow(index source, index slot) {
        index const target = arcs_.target[slot];
        std::optional<int> const pushed = step_(arcs_.edge[slot], value_[source]);
        if (pushed && !further<Way>(*pushed, value_[target])) { return effect::none; }
        log_(source, target, arcs_.edge[slot]);
        if (!pushed || further<Way>(*pushed, limit_[target])) { return effect::broke; }
        value_[target] = *pushed;
        return effect::moved;
    }

    arc_table const& arcs_;
    part_table const& parts_;
    std::span<int const> limit_;
    std::span<int> value_;
    Step const& step_;
    Log& log_;
};

/// Pushes `value` to the fixed point. Stops at the first vertex that would go further than its
/// limit and returns it; none when all is settled, and then `value` is the least (pushing earlier:
/// greatest) solution.
template <push Way, class Step, class Log>
[[nodiscard]] std::optional<index> propagate(arc_table const& arcs, part_table const& parts,
                                             std::span<int const> limit, std::span<int> value,
                                             Step const& step, Log& log) {
    for (std::size_t v = 0; v < value.size(); ++v) {
        if (further<Way>(value[v], limit[v])) { return static_cast<index>(v); }
    }
    pusher<Way, Step, Log> push_on{arcs, parts, limit, value, step, log};
    waiting_vertices waiting{value.size()};
    auto const count = static_cast<index>(parts.first.size() - 1);
    for (index turn = 0; turn < count; ++turn) {
        index const part = Way == push::later ? turn : count - 1 - turn;
        std::optional<index> broken = push_on.settle(part, waiting);
        if (!broken) { broken = push_on.leave(part); }
        if (broken) { return broken; }
    }
    return std::nullopt;
}

}  // namespace epicotyl::detail::network

#endif
