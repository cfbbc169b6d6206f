// epicotyl: an order for things of which some come before others.
//
// Given "a before b" for some pairs of 0 ... count - 1, there is either an order that keeps them
// all, or a cycle: a before b, b before c, c before a. The order given here is the one in which, at
// each place, the smallest number stands that may stand there, so that it depends on nothing but
// the question, and things that need not move keep the order they came in.
//
//     stable_order(4, pairs).order     with 3 before 0:  1, 2, 3, 0
//     stable_order(3, pairs).cycle     with 0 before 1, 1 before 0:  0, 1
//
// A cycle is the shortest through the smallest vertex that lies on any; it starts there, each of
// its vertices comes before the next, and the last before the first.
#ifndef EPICOTYL_NETWORK_ORDER_HPP
#define EPICOTYL_NETWORK_ORDER_HPP

#include <algorithm>
#include <cstddef>
#include <functional>
#include <queue>
#include <span>
#include <utility>
#include <vector>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/property_map/property_map.hpp>

#include <epicotyl/detail/text.hpp>
#include <epicotyl/error.hpp>

namespace epicotyl {

/// `first` comes before `then`.
struct precedence {
    std::size_t first;
    std::size_t then;

    friend bool operator==(precedence const&, precedence const&) = default;
};

/// An order of all vertices, or a cycle that forbids one. One of the two is empty.
struct ordering {
    std::vector<std::size_t> order;
    std::vector<std::size_t> cycle;

    /// True when there is an order (also of nothing).
    [[nodiscard]] bool ordered() const noexcept { return cycle.empty(); }

    friend bool operator==(ordering const&, ordering const&) = default;
};

namespace detail {

using precedence_graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS>;

/// The smallest vertex that lies on a cycle, or `count` when none does.
[[nodiscard]] inline std::size_t first_on_cycle(precedence_graph const& graph,
                                                std::vector<std::size_t> const& component,
                                                std::size_t components) {
    std::vector<std::size_t> size(components, 0);
    for (std::size_t const number : component) { ++size[number]; }
    for (std::size_t v = 0; v < component.size(); ++v) {
        if (size[component[v]] > 1) { return v; }
        for (auto [arc, end] = boost::out_edges(v, graph); arc != end; ++arc) {
            if (boost::target(*arc, graph) == v) { return v; }
        }
    }
    return component.size();
}

/// A shortest cycle through `start`, which must lie on one; breadth first inside its component.
[[nodiscard]] inline std::vector<std::size_t> cycle_through(
    std::size_t start, precedence_graph const& graph, std::vector<std::size_t> const& component) {
    std::size_t const none = component.size();
    std::vector<std::size_t> before(component.size(), none);
    std::queue<std::size_t> open{{start}};
    while (!open.empty()) {
        std::size_t const v = open.front();
        open.pop();
        for (auto [arc, end] = boost::out_edges(v, graph); arc != end; ++arc) {
            std::size_t const next = boost::target(*arc, graph);
            if (next == start) {
                std::vector<std::size_t> cycle;
                for (std::size_t at = v; at != none; at = before[at]) { cycle.push_back(at); }
                std::reverse(cycle.begin(), cycle.end());
                return cycle;
            }
            if (component[next] == component[start] && before[next] == none) {
                before[next] = v;
                open.push(next);
            }
        }
    }
    return {};
}

}  // namespace detail

/// Orders 0 ... count - 1 so that every `first` comes before its `then`, smallest number first
/// where there is a choice; or finds a cycle. O((count + pairs) log count). Throws `invalid_input`
/// for a pair that names a vertex out of range.
[[nodiscard]] inline ordering stable_order(std::size_t count, std::span<precedence const> pairs) {
    detail::precedence_graph graph(count);
    std::vector<std::size_t> waits_for(count, 0);
    for (precedence const& pair : pairs) {
        std::size_t const greater = std::max(pair.first, pair.then);
        if (greater >= count) {
            throw invalid_input{{.code = "order.unknown_vertex",
                                 .field = "order",
                                 .value = detail::text(greater),
                                 .bound = detail::text("less than ", count),
                                 .problem = detail::text("there is no vertex ", greater),
                                 .remedy = "number the vertices from 0"}};
        }
        boost::add_edge(pair.first, pair.then, graph);
        ++waits_for[pair.then];
    }

    std::vector<std::size_t> component(count, 0);
    std::size_t const components = boost::strong_components(
        graph, boost::make_iterator_property_map(component.begin(),
                                                 boost::get(boost::vertex_index, graph)));
    std::size_t const start = detail::first_on_cycle(graph, component, components);
    if (start < count) {
        return {.order = {}, .cycle = detail::cycle_through(start, graph, component)};
    }

    ordering result;
    result.order.reserve(count);
    std::priority_queue<std::size_t, std::vector<std::size_t>, std::greater<>> free;
    for (std::size_t v = 0; v < count; ++v) {
        if (waits_for[v] == 0) { free.push(v); }
    }
    while (!free.empty()) {
        std::size_t const v = free.top();
        free.pop();
        result.order.push_back(v);
        for (auto [arc, end] = boost::out_edges(v, graph); arc != end; ++arc) {
            std::size_t const next = boost::target(*arc, graph);
            if (--waits_for[next] == 0) { free.push(next); }
        }
    }
    return result;
}

}  // namespace epicotyl

#endif
