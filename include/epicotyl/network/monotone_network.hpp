// epicotyl: a network of monotone inequalities, its least and its greatest solution.
//
// Vertices are unknowns with a value in a chain of integers lowest ... highest; the highest may
// stand for "never". Requirements are bounds and edges:
//
//     not_before(v, a)            x_v >= a
//     not_after(v, b)             x_v <= b
//     no_sooner(from, to, map)    x_to >= map(x_from)
//     no_later(from, to, map)     x_to <= map(x_from)
//
// with non-decreasing maps (monotone_map.hpp). The solutions of such a network form a lattice: of
// two solutions, the earlier value at every vertex is again a solution, and so is the later value
// [tarski1955]. So either there is a least and a greatest solution,
// between which every other lies, or there is none and a walk proves it (walk.hpp).
//
//     monotone_network<lag_map> net{0, 365};
//     auto const sow = net.add_vertex("sow");
//     auto const plant = net.add_vertex("plant");
//     net.no_sooner(sow, plant, lag_map{42, 365});    // at least 42 days after
//     net.no_later(sow, plant, lag_map{56, 365});     // at most 56 days after
//     net.not_before(plant, 130);
//     net.not_after(plant, 150);
//     net.least().values();       // 74, 130
//     net.greatest().values();    // 108, 150
//
// Not every choice between least and greatest is a solution: sowing on 74 and planting on 150 is
// not. Fix one vertex by bounds and solve again to see what is left for the others.
//
// Each bound and edge carries a label of the caller's, an integer that means nothing here and
// comes back in a conflict.
//
// Solving is linear in vertices and edges outside of cycles; a cycle of k edges takes up to
// k * (highest - lowest) steps, since each turn may gain as little as 1. Edges of both kinds
// between the same two vertices are a cycle, but settle at once. A network does not change while
// it is solved and keeps nothing of it; several threads may solve one network.
#ifndef EPICOTYL_NETWORK_MONOTONE_NETWORK_HPP
#define EPICOTYL_NETWORK_MONOTONE_NETWORK_HPP

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <boost/graph/adjacency_list.hpp>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/network/conflict_search.hpp>
#include <epicotyl/network/monotone_map.hpp>
#include <epicotyl/network/propagate.hpp>
#include <epicotyl/network/walk.hpp>

namespace epicotyl {

/// A bound of a vertex. Without a label it is an end of the chain.
struct vertex_bound {
    int value = 0;
    std::optional<int> label;

    friend bool operator==(vertex_bound const&, vertex_bound const&) = default;
};

/// An edge as it was given.
template <monotone_map Map>
struct network_edge {
    std::size_t from;
    std::size_t to;
    edge_kind kind;
    int label;
    Map map;
};

/// A solution, or the walk that proves that there is none.
class network_answer {
public:
    explicit network_answer(std::vector<int> values) : held_{std::move(values)} {}
    explicit network_answer(walk conflict) : held_{std::move(conflict)} {}

    [[nodiscard]] bool solved() const noexcept { return held_.index() == 0; }

    /// One value for each vertex. Throws `invalid_input` when there is no solution.
    [[nodiscard]] std::vector<int> const& values() const {
        require(solved(), "network.no_solution", "the network has no solution",
                "ask solved() first; conflict() says why there is none");
        return std::get<0>(held_);
    }
    /// A proof that there is no solution. It is minimal: drop any bound or edge it names, and the
    /// rest that it names has a solution. Throws `invalid_input` when there is a solution.
    [[nodiscard]] walk const& conflict() const {
        require(!solved(), "network.no_conflict", "the network has a solution",
                "ask solved() first; values() gives the solution");
        return std::get<1>(held_);
    }

    friend bool operator==(network_answer const&, network_answer const&) = default;

private:
    static void require(bool met, char const* code, char const* problem, char const* remedy) {
        if (!met) {
            throw invalid_input{
                {.code = code, .field = "network", .problem = problem, .remedy = remedy}};
        }
    }

    std::variant<std::vector<int>, walk> held_;
};

/// The least and the greatest solution.
struct network_extremes {
    network_answer least;
    network_answer greatest;
};

/// A system of bounds and monotone edges over a chain of integers.
template <monotone_map Map>
class monotone_network {
public:
    struct vertex_record {
        std::string name;
        vertex_bound lower;
        vertex_bound upper;
    };
    struct arc_record {
        std::size_t number = 0;  ///< of the edge
    };
    /// The arcs along which values are pushed later: an edge "no later" is turned around.
    using graph_type = boost::adjacency_list<boost::vecS, boost::vecS, boost::bidirectionalS,
                                             vertex_record, arc_record>;

    /// A network over lowest ... highest. Throws `invalid_input` when lowest > highest.
    monotone_network(int lowest, int highest) : lowest_{lowest}, highest_{highest} {
        if (lowest > highest) {
            throw invalid_input{{.code = "network.empty_chain",
                                 .field = "network",
                                 .value = detail::text(highest),
                                 .bound = detail::text(lowest, " or more"),
                                 .problem = detail::text("a chain from ", lowest, " to ", highest,
                                                         " has no values"),
                                 .remedy = "give the lowest value first"}};
        }
    }

    /// A new vertex; returns its number, counted from 0. Names are for people and need not differ.
    std::size_t add_vertex(std::string name = {}) {
        vertices_.push_back({std::move(name), {lowest_, std::nullopt}, {highest_, std::nullopt}});
        return vertices_.size() - 1;
    }

    /// x_vertex >= value. Of several such bounds the latest counts, of equal ones the first; one at
    /// or below the lowest value says nothing and is not kept.
    void not_before(std::size_t vertex, int value, int label = 0) {
        vertex_bound& lower = vertices_[known(vertex)].lower;
        if (value > lower.value) { lower = {value, label}; }
    }
    /// x_vertex <= value. Of several such bounds the earliest counts, of equal ones the first; one
    /// at or above the highest value says nothing and is not kept.
    void not_after(std::size_t vertex, int value, int label = 0) {
        vertex_bound& upper = vertices_[known(vertex)].upper;
        if (value < upper.value) { upper = {value, label}; }
    }

    /// x_to >= map(x_from); returns the edge's number, counted from 0.
    std::size_t no_sooner(std::size_t from, std::size_t to, Map map, int label = 0) {
        return add_edge({from, to, edge_kind::no_sooner, label, std::move(map)});
    }
    /// x_to <= map(x_from); returns the edge's number.
    std::size_t no_later(std::size_t from, std::size_t to, Map map, int label = 0) {
        return add_edge({from, to, edge_kind::no_later, label, std::move(map)});
    }

    [[nodiscard]] int lowest() const noexcept { return lowest_; }
    [[nodiscard]] int highest() const noexcept { return highest_; }
    /// Number of vertices.
    [[nodiscard]] std::size_t size() const noexcept { return vertices_.size(); }
    [[nodiscard]] std::size_t edge_count() const noexcept { return edges_.size(); }
    [[nodiscard]] std::string const& name(std::size_t vertex) const {
        return vertices_[known(vertex)].name;
    }
    [[nodiscard]] vertex_bound const& lower(std::size_t vertex) const {
        return vertices_[known(vertex)].lower;
    }
    [[nodiscard]] vertex_bound const& upper(std::size_t vertex) const {
        return vertices_[known(vertex)].upper;
    }
    [[nodiscard]] network_edge<Map> const& edge(std::size_t number) const {
        if (number >= edges_.size()) { throw unknown("edge", number, edges_.size()); }
        return edges_[number];
    }
    /// A copy for algorithms of Boost.Graph, such as its DOT writer.
    [[nodiscard]] graph_type graph() const {
        graph_type made(size());
        for (std::size_t v = 0; v < size(); ++v) { made[v] = vertices_[v]; }
        for (detail::network::arc const& one : arcs<push::later>()) {
            boost::add_edge(one.source, one.target, arc_record{one.edge}, made);
        }
        return made;
    }
    /// The arcs along which values are pushed one way, in the order of their edges. Unstable.
    template <push Way>
    [[nodiscard]] std::vector<detail::network::arc> arcs() const {
        std::vector<detail::network::arc> made;
        made.reserve(edges_.size());
        for (std::size_t e = 0; e < edges_.size(); ++e) {
            auto const from = static_cast<detail::network::index>(edges_[e].from);
            auto const to = static_cast<detail::network::index>(edges_[e].to);
            bool const as_it_stands =
                (edges_[e].kind == edge_kind::no_sooner) == (Way == push::later);
            made.push_back({as_it_stands ? from : to, as_it_stands ? to : from,
                            static_cast<detail::network::index>(e)});
        }
        return made;
    }

    /// The solution that is no later than any other at every vertex, or the conflict, found by
    /// pushing lower bounds later.
    [[nodiscard]] network_answer least() const { return solve<push::later>(strong_parts()); }
    /// The solution that is no earlier than any other at every vertex, or the conflict, found by
    /// pushing upper bounds earlier.
    [[nodiscard]] network_answer greatest() const { return solve<push::earlier>(strong_parts()); }

    /// Both, with what they share done once. Where there is no solution, both tell the conflict
    /// that `least` finds.
    [[nodiscard]] network_extremes extremes() const {
        detail::network::part_table const parts = strong_parts();
        network_answer least = solve<push::later>(parts);
        network_answer greatest = least.solved() ? solve<push::earlier>(parts) : least;
        return {std::move(least), std::move(greatest)};
    }

    /// The vertices of each strong component, in an order in which lower bounds are pushed from
    /// earlier components to later ones only. Vertices ascend within a component.
    [[nodiscard]] std::vector<std::vector<std::size_t>> component_order() const {
        detail::network::part_table const parts = strong_parts();
        std::vector<std::vector<std::size_t>> components;
        for (std::size_t part = 0; part + 1 < parts.first.size(); ++part) {
            components.emplace_back(parts.vertex.begin() + parts.first[part],
                                    parts.vertex.begin() + parts.first[part + 1]);
        }
        return components;
    }

private:
    [[nodiscard]] static invalid_input unknown(char const* thing, std::size_t number,
                                               std::size_t count) {
        return invalid_input{{.code = detail::text("network.unknown_", thing),
                              .field = thing,
                              .value = detail::text(number),
                              .bound = detail::text("less than ", count),
                              .problem = detail::text("the network has no ", thing, " ", number),
                              .remedy = "use the numbers that the network gave"}};
    }
    [[nodiscard]] std::size_t known(std::size_t vertex) const {
        if (vertex >= size()) { throw unknown("vertex", vertex, size()); }
        return vertex;
    }

    std::size_t add_edge(network_edge<Map> edge) {
        (void)known(edge.from);
        (void)known(edge.to);
        if constexpr (ranged_map<Map>) {
            if (!edge.map.covers(lowest_, highest_)) {
                throw invalid_input{
                    {.code = "network.map_falls_short",
                     .field = "map",
                     .bound = detail::text(lowest_, " to ", highest_),
                     .problem = detail::text("the map from vertex ", edge.from, " to vertex ",
                                             edge.to, " does not cover the values of the network"),
                     .remedy = "give a map for every value from the lowest to the highest"}};
            }
        }
        std::size_t const number = edges_.size();
        edges_.push_back(std::move(edge));
        return number;
    }

    [[nodiscard]] detail::network::part_table strong_parts() const {
        return detail::network::find_parts(size(), arcs<push::later>());
    }

    template <push Way>
    [[nodiscard]] network_answer solve(detail::network::part_table const& parts) const {
        detail::network::arc_table const arcs =
            detail::network::make_arc_table(size(), this->template arcs<Way>());
        std::vector<int> value(size());
        std::vector<int> limit(size());
        for (std::size_t v = 0; v < size(); ++v) {
            bool const later = Way == push::later;
            value[v] = later ? vertices_[v].lower.value : vertices_[v].upper.value;
            limit[v] = later ? vertices_[v].upper.value : vertices_[v].lower.value;
        }
        auto const step = [&](detail::network::index edge, int x) {
            return detail::network::push_along<Way>(edges_[edge], x);
        };
        detail::network::no_log nothing;
        if (!detail::network::propagate<Way>(arcs, parts, limit, std::span<int>{value}, step,
                                             nothing)) {
            return network_answer{std::move(value)};
        }
        return network_answer{
            detail::network::conflict_search<Way, monotone_network>{*this}.find(arcs, parts)};
    }

    int lowest_;
    int highest_;
    std::vector<vertex_record> vertices_;
    std::vector<network_edge<Map>> edges_;
};

}  // namespace epicotyl

#endif
