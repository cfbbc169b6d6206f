// epicotyl: a walk, the proof that a network of inequalities has no solution.
//
// Every inequality of a network (see monotone_network.hpp) has one vertex on its smaller side, so
// whatever can be concluded is concluded along a walk: a vertex is at least its lower bound, hence
// the next is at least the value the edge makes of it, and so on, until a vertex would have to be
// later than its upper bound lets it:
//
//     b >= 20               a bound of b
//     c >= 34               edge "c no earlier than 14 after b"
//     c <= 30               a bound of c: broken
//
// That is pushing later. Pushing earlier is its mirror image, from an upper bound to a broken
// lower one. An edge is pushed along as it stands, or backwards, by the adjoint of its map.
//
// A walk may have to turn a cycle many times, each turn gaining a little. Such a cycle is one leg
// of the walk with its number of turns; its steps carry the value after the first turn and after
// the last.
//
// A walk begins and ends at a bound that somebody gave, or at an end of the chain: every vertex is
// at least the chain's lowest value and at most its highest. A bound that was given has the label
// the giver attached to it, an end of the chain has none. When an edge read backwards finds no
// value at all, the walk ends there: the vertex would have to lie beyond the end of the chain.
//
// `verify` computes a walk anew, from the network's edges and bounds alone, and says whether it is
// a proof.
#ifndef EPICOTYL_NETWORK_WALK_HPP
#define EPICOTYL_NETWORK_WALK_HPP

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/detail/text.hpp>

namespace epicotyl {

/// What an edge says: x_to >= map(x_from), or x_to <= map(x_from).
enum class edge_kind { no_sooner, no_later };

/// Which way values are pushed: lower bounds later, or upper bounds earlier.
enum class push { later, earlier };

/// How a step uses its edge: as it stands, from `from` to `to`, or by the adjoint of its map, from
/// `to` to `from`.
enum class edge_use { forward, backward };

/// A bound at an end of a walk. Without a label it is an end of the chain.
struct walk_bound {
    std::size_t vertex = 0;
    int value = 0;
    std::optional<int> label;

    friend bool operator==(walk_bound const&, walk_bound const&) = default;
};

/// One edge of a walk, and the vertex and value it leads to.
struct walk_step {
    std::size_t edge = 0;
    int label = 0;  ///< the label of the edge
    edge_use use = edge_use::forward;
    std::size_t vertex = 0;
    std::optional<int> value;       ///< after the first turn of the leg; none: no value will do
    std::optional<int> last_value;  ///< after the last turn

    friend bool operator==(walk_step const&, walk_step const&) = default;
};

/// Steps in order. With more than one turn they form a cycle.
struct walk_leg {
    std::vector<walk_step> steps;
    int turns = 1;

    friend bool operator==(walk_leg const&, walk_leg const&) = default;
};

/// A walk of edges from a bound to a bound that it breaks.
struct walk {
    push way = push::later;
    walk_bound start;
    std::vector<walk_leg> legs;
    walk_bound broken;

    friend bool operator==(walk const&, walk const&) = default;
};

/// The walk in words, for people who debug: "a >= 5 [bound 1]; 12 times (b >= 8 ... 41 [edge 0,
/// label 7]; ...); c <= 40 [bound 2] is broken". `name_of(vertex)` gives a number or a text.
template <class NameOf>
[[nodiscard]] std::string to_string(walk const& told, NameOf const& name_of) {
    char const* const pushed = told.way == push::later ? ">=" : "<=";
    char const* const held = told.way == push::later ? "<=" : ">=";
    auto const source = [](walk_bound const& bound) {
        return bound.label ? detail::text("bound ", *bound.label) : std::string{"end of chain"};
    };
    std::string text = detail::text(name_of(told.start.vertex), " ", pushed, " ", told.start.value,
                                    " [", source(told.start), "]; ");
    for (walk_leg const& leg : told.legs) {
        std::string inside;
        for (walk_step const& step : leg.steps) {
            if (!inside.empty()) { inside += "; "; }
            if (step.value) {
                inside += detail::text(name_of(step.vertex), " ", pushed, " ", *step.value);
            } else {
                inside += detail::text(name_of(step.vertex), " has no value");
            }
            if (step.last_value != step.value && step.last_value) {
                inside += detail::text(" ... ", *step.last_value);
            }
            inside += detail::text(" [edge ", step.edge,
                                   step.use == edge_use::backward ? " backwards" : "", ", label ",
                                   step.label, "]");
        }
        text += leg.turns == 1 ? inside : detail::text(leg.turns, " times (", inside, ")");
        text += "; ";
    }
    text += detail::text(name_of(told.broken.vertex), " ", held, " ", told.broken.value, " [",
                         source(told.broken), "] is broken");
    return text;
}

/// The same with the numbers of the vertices: "#0 >= 5 [bound 1]; ...".
[[nodiscard]] inline std::string to_string(walk const& told) {
    return to_string(told, [](std::size_t vertex) { return detail::text("#", vertex); });
}

/// Whether a walk is a proof, and if not, why.
struct proof_check {
    bool proof = false;
    std::string why_not;  ///< empty for a proof

    [[nodiscard]] explicit operator bool() const noexcept { return proof; }
};

namespace detail {

/// Recomputes a walk from nothing but the edges and bounds of its network.
template <class Network>
class walk_checker {
public:
    walk_checker(Network const& network, walk const& claimed)
        : network_{network}, claimed_{claimed} {}

    [[nodiscard]] proof_check check() {
        if (claimed_.start.vertex >= network_.size() || claimed_.broken.vertex >= network_.size()) {
            return fails("it names a vertex that the network does not have");
        }
        bool const later = claimed_.way == push::later;
        if (!is_bound(claimed_.start, later)) { return fails("it starts at no bound"); }
        if (!is_bound(claimed_.broken, !later)) { return fails("it ends at no bound"); }
        vertex_ = claimed_.start.vertex;
        value_ = claimed_.start.value;
        for (walk_leg const& leg : claimed_.legs) {
            std::string const fault = turn(leg);
            if (!fault.empty()) { return fails(fault); }
        }
        if (vertex_ != claimed_.broken.vertex) { return fails("it ends elsewhere"); }
        if (!value_) {
            if (claimed_.broken.label) {
                return fails("no value breaks the end of the chain only");
            }
            return {.proof = true, .why_not = {}};
        }
        bool const breaks =
            later ? *value_ > claimed_.broken.value : *value_ < claimed_.broken.value;
        if (!breaks) { return fails("the last bound is kept"); }
        return {.proof = true, .why_not = {}};
    }

private:
    static proof_check fails(std::string why) {
        return {.proof = false, .why_not = std::move(why)};
    }

    [[nodiscard]] bool is_bound(walk_bound const& bound, bool lower) const {
        if (!bound.label) {
            return bound.value == (lower ? network_.lowest() : network_.highest());
        }
        auto const& given = lower ? network_.lower(bound.vertex) : network_.upper(bound.vertex);
        return given.value == bound.value && given.label == bound.label;
    }

    /// Follows a leg through all its turns; says what is wrong, if anything.
    [[nodiscard]] std::string turn(walk_leg const& leg) {
        if (leg.turns < 1 || leg.steps.empty()) { return "a leg is empty"; }
        std::size_t const entry = vertex_;
        for (int turn = 1; turn <= leg.turns; ++turn) {
            for (walk_step const& step : leg.steps) {
                std::string fault = follow(step);
                if (!fault.empty()) { return fault; }
                if (turn == 1 && value_ != step.value) { return "a first value is wrong"; }
                if (turn == leg.turns && value_ != step.last_value) {
                    return "a last value is wrong";
                }
            }
            if (leg.turns > 1 && vertex_ != entry) { return "a leg that is turned is no cycle"; }
        }
        return {};
    }

    [[nodiscard]] std::string follow(walk_step const& step) {
        if (step.edge >= network_.edge_count()) { return "it names an edge that does not exist"; }
        if (!value_ || *value_ < network_.lowest() || *value_ > network_.highest()) {
            return "it goes on beyond the end of the chain";
        }
        auto const& edge = network_.edge(step.edge);
        bool const forward = step.use == edge_use::forward;
        bool const lower_bounds = edge.kind == edge_kind::no_sooner;
        if ((claimed_.way == push::later) != (forward == lower_bounds)) {
            return "an edge is used in a direction that proves nothing";
        }
        if (edge.label != step.label) { return "the label of an edge is wrong"; }
        if (vertex_ != (forward ? edge.from : edge.to) ||
            step.vertex != (forward ? edge.to : edge.from)) {
            return "an edge does not join its vertices";
        }
        if (forward) {
            value_ = edge.map(*value_);
        } else {
            value_ = lower_bounds ? edge.map.latest(*value_) : edge.map.earliest(*value_);
        }
        vertex_ = step.vertex;
        return {};
    }

    Network const& network_;
    walk const& claimed_;
    std::size_t vertex_ = 0;
    std::optional<int> value_;
};

}  // namespace detail

/// Recomputes a walk and says whether it proves that `network` has no solution. The walk may come
/// from anywhere; O(steps x turns).
template <class Network>
[[nodiscard]] proof_check verify(Network const& network, walk const& claimed) {
    return detail::walk_checker<Network>{network, claimed}.check();
}

}  // namespace epicotyl

#endif
