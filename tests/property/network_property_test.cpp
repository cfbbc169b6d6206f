// The network solver against brute force. Everything here that says what is right (tables, trial of
// all assignments, adjoints by trying every value, the check of a conflict) is written anew in this
// file and uses nothing of the solver.
#include "catch.hpp"

#include <algorithm>
#include <limits>
#include <numeric>
#include <optional>
#include <random>
#include <set>
#include <utility>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/network/monotone_network.hpp>
#include <epicotyl/network/order.hpp>

using namespace epicotyl;

namespace {

using values = std::vector<int>;
using generator = std::mt19937;

int pick(generator& random, int from, int to) {
    return std::uniform_int_distribution<int>{from, to}(random);
}
bool chance_of(generator& random, double share) {
    return std::bernoulli_distribution{share}(random);
}

struct plain_edge {
    int from;
    int to;
    bool upper;    // x_to <= table, else x_to >= table
    values table;  // one entry for each value of the chain
    any_map map;   // the same for the solver
};
struct plain_bound {
    int vertex;
    bool upper;
    int value;
};
struct plain_system {
    int lowest;
    int highest;
    int vertices;
    bool gentle;  // maps close to the diagonal only, so that it takes a long walk to break a bound
    std::vector<plain_edge> edges;
    std::vector<plain_bound> bounds;

    int length() const { return highest - lowest + 1; }
    int at(plain_edge const& edge, int x) const {
        return edge.table[static_cast<std::size_t>(x - lowest)];
    }
};

int label_of_edge(std::size_t edge) {
    return 1000 + 3 * static_cast<int>(edge);
}
int label_of_bound(std::size_t bound) {
    return -7 - static_cast<int>(bound);
}

values random_table(generator& random, int lowest, int highest, bool gentle) {
    int const length = highest - lowest + 1;
    values table(static_cast<std::size_t>(length));
    switch (pick(random, gentle ? 2 : 0, gentle ? 4 : 5)) {
        case 0:  // flat
            std::fill(table.begin(), table.end(), pick(random, lowest, highest));
            break;
        case 1: {  // few jumps
            int value = pick(random, lowest - 1, lowest + 1);
            for (int& entry : table) {
                if (chance_of(random, 0.3)) { value += pick(random, 1, 4); }
                entry = value;
            }
            break;
        }
        case 2: {  // gains 1, up to a value
            int const stop = pick(random, lowest, highest + 1);
            for (int i = 0; i < length; ++i) {
                table[static_cast<std::size_t>(i)] = std::min(lowest + i + 1, stop);
            }
            break;
        }
        case 3: {  // x minus a few, which may lie below the chain
            int const back = pick(random, 0, gentle ? 1 : 2);
            for (int i = 0; i < length; ++i) {
                table[static_cast<std::size_t>(i)] = lowest + i - back;
            }
            break;
        }
        case 4:  // x and now and then the next
            for (int i = 0; i < length; ++i) {
                table[static_cast<std::size_t>(i)] = lowest + i + (chance_of(random, 0.3) ? 1 : 0);
            }
            break;
        default:  // anything that does not decrease, a little beyond the chain at both ends
            for (int& entry : table) { entry = pick(random, lowest - 2, highest + 2); }
            std::sort(table.begin(), table.end());
    }
    return table;
}

plain_edge random_edge(generator& random, plain_system const& system) {
    int const from = pick(random, 0, system.vertices - 1);
    int to = pick(random, 0, system.vertices - 1);
    if (system.gentle && to == from) { to = (to + 1) % system.vertices; }
    bool const upper = chance_of(random, 0.4);
    if (chance_of(random, 0.5)) {
        values table = random_table(random, system.lowest, system.highest, system.gentle);
        return {from, to, upper, table, table_map{system.lowest, table}};
    }
    int const lag = pick(random, 0, 3);
    bool const hard_end = !system.gentle && chance_of(random, 0.5);
    int const stop = system.highest + (hard_end ? 10 : 0);
    values table;
    for (int x = system.lowest; x <= system.highest; ++x) {
        table.push_back(x + lag > stop ? stop : x + lag);
    }
    return {from, to, upper, table, lag_map{lag, stop}};
}

plain_system random_system(generator& random) {
    constexpr int longest[] = {14, 14, 10, 6, 5};
    plain_system system{};
    system.vertices = pick(random, 1, 5);
    system.lowest = pick(random, -3, 3);
    system.highest = system.lowest + pick(random, 1, longest[system.vertices - 1]) - 1;
    system.gentle = chance_of(random, 0.7);
    int const edges = pick(random, 0, 2 * system.vertices);
    for (int i = 0; i < edges; ++i) { system.edges.push_back(random_edge(random, system)); }
    int const bounds = pick(random, 0, system.vertices + 2);
    for (int i = 0; i < bounds; ++i) {
        bool const upper = chance_of(random, 0.5);
        int value = upper ? pick(random, system.lowest + system.length() / 3, system.highest + 1)
                          : pick(random, system.lowest - 1, system.highest - system.length() / 3);
        if (chance_of(random, 0.02)) { value = upper ? system.lowest - 1 : system.highest + 1; }
        system.bounds.push_back({pick(random, 0, system.vertices - 1), upper, value});
    }
    return system;
}

template <class Map, class Make>
monotone_network<Map> build(plain_system const& system, Make const& make) {
    monotone_network<Map> network{system.lowest, system.highest};
    for (int v = 0; v < system.vertices; ++v) { network.add_vertex(); }
    for (std::size_t i = 0; i < system.bounds.size(); ++i) {
        auto const& bound = system.bounds[i];
        auto const vertex = static_cast<std::size_t>(bound.vertex);
        if (bound.upper) {
            network.not_after(vertex, bound.value, label_of_bound(i));
        } else {
            network.not_before(vertex, bound.value, label_of_bound(i));
        }
    }
    for (std::size_t i = 0; i < system.edges.size(); ++i) {
        auto const& edge = system.edges[i];
        auto const from = static_cast<std::size_t>(edge.from);
        auto const to = static_cast<std::size_t>(edge.to);
        if (edge.upper) {
            network.no_later(from, to, make(edge), label_of_edge(i));
        } else {
            network.no_sooner(from, to, make(edge), label_of_edge(i));
        }
    }
    return network;
}

// The requirements that a trial respects.
struct chosen {
    std::set<std::size_t> edges;
    std::set<std::size_t> bounds;
};

chosen everything(plain_system const& system) {
    chosen all;
    for (std::size_t i = 0; i < system.edges.size(); ++i) { all.edges.insert(i); }
    for (std::size_t i = 0; i < system.bounds.size(); ++i) { all.bounds.insert(i); }
    return all;
}

bool respects(plain_system const& system, chosen const& which, values const& x) {
    auto const value = [&](int v) {
        return x[static_cast<std::size_t>(v)];
    };
    for (std::size_t const i : which.bounds) {
        auto const& bound = system.bounds[i];
        if (bound.upper ? value(bound.vertex) > bound.value : value(bound.vertex) < bound.value) {
            return false;
        }
    }
    for (std::size_t const i : which.edges) {
        auto const& edge = system.edges[i];
        int const made = system.at(edge, value(edge.from));
        if (edge.upper ? value(edge.to) > made : value(edge.to) < made) { return false; }
    }
    return true;
}

// Calls `visit` with every assignment that respects the requirements, until it returns false.
template <class Visit>
void try_all(plain_system const& system, chosen const& which, Visit const& visit) {
    values x(static_cast<std::size_t>(system.vertices), system.lowest);
    for (;;) {
        if (respects(system, which, x) && !visit(x)) { return; }
        std::size_t place = 0;
        while (place < x.size() && x[place] == system.highest) { x[place++] = system.lowest; }
        if (place == x.size()) { return; }
        ++x[place];
    }
}

bool possible_by_trial(plain_system const& system, chosen const& which) {
    bool found = false;
    try_all(system, which, [&](values const&) {
        found = true;
        return false;
    });
    return found;
}

// For systems too large for a trial: every edge again and again, until nothing changes.
bool possible_by_rounds(plain_system const& system, chosen const& which, values* least = nullptr) {
    values low(static_cast<std::size_t>(system.vertices), system.lowest);
    values high(static_cast<std::size_t>(system.vertices), system.highest);
    for (std::size_t const i : which.bounds) {
        auto const& bound = system.bounds[i];
        auto const v = static_cast<std::size_t>(bound.vertex);
        if (bound.upper) {
            high[v] = std::min(high[v], bound.value);
        } else {
            low[v] = std::max(low[v], bound.value);
        }
    }
    bool changed = true;
    while (changed) {
        changed = false;
        for (std::size_t v = 0; v < low.size(); ++v) {
            if (low[v] > high[v]) { return false; }
        }
        for (std::size_t const i : which.edges) {
            auto const& edge = system.edges[i];
            auto const from = static_cast<std::size_t>(edge.from);
            auto const to = static_cast<std::size_t>(edge.to);
            if (edge.upper) {
                while (low[from] <= system.highest && system.at(edge, low[from]) < low[to]) {
                    ++low[from];
                    changed = true;
                }
                if (low[from] > high[from]) { return false; }
            } else if (low[to] < system.at(edge, low[from])) {
                low[to] = system.at(edge, low[from]);
                changed = true;
                if (low[to] > high[to]) { return false; }
            }
        }
    }
    if (least != nullptr) { *least = low; }
    return true;
}

// The least value of the chain whose table entry is at least y, or the greatest whose is at most y.
std::optional<int> first_reaching(plain_system const& system, plain_edge const& edge, int y) {
    for (int x = system.lowest; x <= system.highest; ++x) {
        if (system.at(edge, x) >= y) { return x; }
    }
    return std::nullopt;
}
std::optional<int> last_within(plain_system const& system, plain_edge const& edge, int y) {
    for (int x = system.highest; x >= system.lowest; --x) {
        if (system.at(edge, x) <= y) { return x; }
    }
    return std::nullopt;
}

// What a conflict names; none when a label is not that of a requirement of the right kind.
std::optional<chosen> named_in(plain_system const& system, walk const& conflict) {
    chosen named;
    bool const later = conflict.way == push::later;
    for (auto const& [end, upper] :
         {std::pair{conflict.start, !later}, std::pair{conflict.broken, later}}) {
        if (!end.label) {
            if (end.value != (upper ? system.highest : system.lowest)) { return std::nullopt; }
            continue;
        }
        auto const number = static_cast<std::size_t>(-7 - *end.label);
        if (number >= system.bounds.size()) { return std::nullopt; }
        auto const& bound = system.bounds[number];
        if (bound.upper != upper || bound.value != end.value ||
            static_cast<std::size_t>(bound.vertex) != end.vertex) {
            return std::nullopt;
        }
        named.bounds.insert(number);
    }
    for (walk_leg const& leg : conflict.legs) {
        for (walk_step const& step : leg.steps) {
            if (step.edge >= system.edges.size() || step.label != label_of_edge(step.edge)) {
                return std::nullopt;
            }
            named.edges.insert(step.edge);
        }
    }
    return named;
}

// Walks a conflict with tables only. "x is at least `value`" is carried from vertex to vertex; the
// conflict is a proof when its last bound contradicts what was carried there.
bool is_proof(plain_system const& system, walk const& conflict) {
    bool const later = conflict.way == push::later;
    auto vertex = static_cast<int>(conflict.start.vertex);
    std::optional<int> value = conflict.start.value;
    for (walk_leg const& leg : conflict.legs) {
        for (int turn = 0; turn < leg.turns; ++turn) {
            for (walk_step const& step : leg.steps) {
                if (!value || *value < system.lowest || *value > system.highest) { return false; }
                auto const& edge = system.edges[step.edge];
                bool const forward = step.use == edge_use::forward;
                if (vertex != (forward ? edge.from : edge.to)) { return false; }
                if (edge.upper == (later == forward)) { return false; }
                vertex = forward ? edge.to : edge.from;
                if (forward) {
                    value = system.at(edge, *value);
                } else {
                    value = later ? first_reaching(system, edge, *value)
                                  : last_within(system, edge, *value);
                }
                if (static_cast<int>(step.vertex) != vertex) { return false; }
                // A map may answer "none" by a value outside of the chain.
                auto const agrees = [&](std::optional<int> told) {
                    bool const beyond =
                        !told || (later ? *told > system.highest : *told < system.lowest);
                    return told == value || (!value && beyond);
                };
                if (turn == 0 && !agrees(step.value)) { return false; }
                if (turn + 1 == leg.turns && !agrees(step.last_value)) { return false; }
            }
        }
    }
    if (vertex != static_cast<int>(conflict.broken.vertex)) { return false; }
    if (!value) { return !conflict.broken.label.has_value(); }
    return later ? *value > conflict.broken.value : *value < conflict.broken.value;
}

// Proof, contradictory, and minimal; `possible` decides what has a solution.
template <class Network, class Possible>
bool is_minimal_conflict(plain_system const& system, Network const& network, walk const& conflict,
                         Possible const& possible) {
    auto const named = named_in(system, conflict);
    if (!named || !is_proof(system, conflict) || !verify(network, conflict)) { return false; }
    if (possible(system, *named)) { return false; }
    for (std::size_t const i : named->edges) {
        chosen rest = *named;
        rest.edges.erase(i);
        if (!possible(system, rest)) { return false; }
    }
    for (std::size_t const i : named->bounds) {
        chosen rest = *named;
        rest.bounds.erase(i);
        if (!possible(system, rest)) { return false; }
    }
    return true;
}

bool turns_a_cycle(walk const& conflict) {
    return std::any_of(conflict.legs.begin(), conflict.legs.end(),
                       [](walk_leg const& leg) { return leg.turns > 1; });
}
bool goes_backwards(walk const& conflict) {
    return std::any_of(conflict.legs.begin(), conflict.legs.end(), [](walk_leg const& leg) {
        return std::any_of(leg.steps.begin(), leg.steps.end(),
                           [](walk_step const& step) { return step.use == edge_use::backward; });
    });
}

// The conflict with one part of it made wrong.
walk spoiled(generator& random, walk const& good) {
    walk bad = good;
    int const part = pick(random, 0, good.legs.empty() ? 2 : 7);
    auto const some_leg = [&]() -> walk_leg& {
        return bad
            .legs[static_cast<std::size_t>(pick(random, 0, static_cast<int>(bad.legs.size()) - 1))];
    };
    switch (part) {
        case 0:
            bad.start.value += good.way == push::later ? 1 : -1;
            break;
        case 1:
            bad.broken.value += good.way == push::later ? -1 : 1;
            break;
        case 2:
            bad.way = good.way == push::later ? push::earlier : push::later;
            break;
        case 3:
            bad.legs.pop_back();
            break;
        case 4:
            some_leg().turns = 0;
            break;
        case 5:
            some_leg().steps.front().edge += 100;
            break;
        case 6:
            some_leg().steps.front().label += 1;
            break;
        default: {
            walk_step& step = some_leg().steps.back();
            step.use = step.use == edge_use::forward ? edge_use::backward : edge_use::forward;
        }
    }
    return bad;
}

}  // namespace

TEST_CASE("adjoints are those of a Galois connection") {
    generator random{20270301};
    for (int round = 0; round < 3000; ++round) {
        plain_system system{};
        system.vertices = 1;
        system.lowest = pick(random, -4, 4);
        system.highest = system.lowest + pick(random, 0, 12);
        plain_edge const edge = random_edge(random, system);
        bool right = true;
        for (int s = system.lowest; s <= system.highest; ++s) {
            right = right && edge.map(s) == system.at(edge, s);
            for (int y = system.lowest - 3; y <= system.highest + 12; ++y) {
                auto const latest = edge.map.latest(y);
                auto const earliest = edge.map.earliest(y);
                right = right && (edge.map(s) <= y) == (latest.has_value() && s <= *latest);
                right = right && (edge.map(s) >= y) == (earliest.has_value() && s >= *earliest);
            }
        }
        CAPTURE(round);
        REQUIRE(right);
    }
}

TEST_CASE("least, greatest and conflict agree with a trial of every assignment") {
    generator random{20270308};
    int const rounds = 60000;
    int feasible = 0;
    int forced = 0;
    int turned = 0;
    int backwards = 0;
    int from_given_bound = 0;
    int without_value = 0;
    int long_walks = 0;
    int bound_to_bound = 0;
    for (int round = 0; round < rounds; ++round) {
        CAPTURE(round);
        plain_system const system = random_system(random);
        auto const network =
            build<any_map>(system, [](plain_edge const& edge) { return edge.map; });
        network_answer const least = network.least();
        network_answer const greatest = network.greatest();

        // The same system in tables only has the same answers, word for word.
        if (round % 8 == 0) {
            auto const tables = build<table_map>(system, [&](plain_edge const& edge) {
                return table_map{system.lowest, edge.table};
            });
            REQUIRE(tables.least().solved() == least.solved());
            if (least.solved()) { REQUIRE(tables.least() == least); }
        }

        std::vector<values> solutions;
        try_all(system, everything(system), [&](values const& x) {
            solutions.push_back(x);
            return true;
        });
        REQUIRE(least.solved() == !solutions.empty());
        REQUIRE(greatest.solved() == !solutions.empty());
        if (!solutions.empty()) {
            ++feasible;
            values low = solutions.front();
            values high = solutions.front();
            for (values const& x : solutions) {
                for (std::size_t v = 0; v < x.size(); ++v) {
                    low[v] = std::min(low[v], x[v]);
                    high[v] = std::max(high[v], x[v]);
                }
            }
            REQUIRE(least.values() == low);
            REQUIRE(greatest.values() == high);
            if (low != values(low.size(), system.lowest)) { ++forced; }
            continue;
        }
        for (walk const& conflict : {least.conflict(), greatest.conflict()}) {
            INFO(fmt::format("{}", conflict));
            REQUIRE(is_minimal_conflict(system, network, conflict, possible_by_trial));
            walk const bad = spoiled(random, conflict);
            INFO(fmt::format("{}", bad));
            REQUIRE_FALSE(verify(network, bad).proof);
        }
        REQUIRE(least.conflict().way == push::later);
        REQUIRE(greatest.conflict().way == push::earlier);
        walk const& conflict = least.conflict();
        turned += turns_a_cycle(conflict) ? 1 : 0;
        backwards += goes_backwards(conflict) ? 1 : 0;
        from_given_bound += conflict.start.label ? 1 : 0;
        long_walks += named_in(system, conflict)->edges.size() >= 3 ? 1 : 0;
        bound_to_bound +=
            conflict.start.label && conflict.broken.label && !conflict.legs.empty() ? 1 : 0;
        without_value += !conflict.legs.empty() && !conflict.legs.back().steps.back().value ? 1 : 0;
    }
    // The mix is not degenerate.
    int const infeasible = rounds - feasible;
    CAPTURE(feasible, infeasible, forced, turned, backwards, from_given_bound, without_value,
            long_walks, bound_to_bound);
    CHECK(feasible > rounds / 4);
    CHECK(infeasible > rounds / 4);
    CHECK(forced > feasible / 3);
    CHECK(turned > infeasible / 50);
    CHECK(backwards > infeasible / 5);
    CHECK(from_given_bound > infeasible / 20);
    CHECK(without_value > infeasible / 50);
    CHECK(long_walks > infeasible / 50);
    CHECK(bound_to_bound > infeasible / 30);
}

TEST_CASE("the earlier and the later of two solutions, vertex by vertex, are solutions") {
    generator random{20270315};
    int pairs = 0;
    for (int round = 0; round < 3000; ++round) {
        CAPTURE(round);
        plain_system const system = random_system(random);
        chosen const all = everything(system);
        std::vector<values> solutions;
        try_all(system, all, [&](values const& x) {
            solutions.push_back(x);
            return true;
        });
        if (solutions.size() < 2) { continue; }
        for (int trial = 0; trial < 20; ++trial) {
            int const last = static_cast<int>(solutions.size()) - 1;
            values const& a = solutions[static_cast<std::size_t>(pick(random, 0, last))];
            values const& b = solutions[static_cast<std::size_t>(pick(random, 0, last))];
            values low = a;
            values high = a;
            for (std::size_t v = 0; v < a.size(); ++v) {
                low[v] = std::min(a[v], b[v]);
                high[v] = std::max(a[v], b[v]);
            }
            REQUIRE(respects(system, all, low));
            REQUIRE(respects(system, all, high));
            ++pairs;
        }
    }
    CHECK(pairs > 10000);
}

TEST_CASE("larger networks agree with going round every edge until nothing changes") {
    generator random{20270322};
    int feasible = 0;
    int turned = 0;
    int const rounds = 600;
    for (int round = 0; round < rounds; ++round) {
        CAPTURE(round);
        plain_system system{};
        system.vertices = pick(random, 10, 60);
        system.gentle = round % 4 != 0;
        system.lowest = 0;
        system.highest = pick(random, 20, 200);
        int const edges = pick(random, system.vertices / 2, system.vertices * 3 / 2);
        for (int i = 0; i < edges; ++i) { system.edges.push_back(random_edge(random, system)); }
        for (int i = 0; i < 6; ++i) {
            bool const upper = i % 2 == 0;
            int const value = upper ? pick(random, system.highest / 2, system.highest)
                                    : pick(random, 0, system.highest / 2);
            system.bounds.push_back({pick(random, 0, system.vertices - 1), upper, value});
        }
        // Flat tables of random height leave few large networks possible: keep a share of them.
        if (round % 2 == 0) {
            std::erase_if(system.edges, [&](plain_edge const& edge) {
                return edge.upper && edge.table.back() < system.highest;
            });
        }
        auto const network =
            build<any_map>(system, [](plain_edge const& edge) { return edge.map; });
        values low;
        bool const possible = possible_by_rounds(system, everything(system), &low);
        network_answer const least = network.least();
        network_answer const greatest = network.greatest();
        REQUIRE(least.solved() == possible);
        REQUIRE(greatest.solved() == possible);
        auto const by_rounds = [](plain_system const& s, chosen const& which) {
            return possible_by_rounds(s, which);
        };
        if (possible) {
            ++feasible;
            REQUIRE(least.values() == low);
            REQUIRE(respects(system, everything(system), greatest.values()));
        } else {
            INFO(fmt::format("{}", least.conflict()));
            REQUIRE(is_minimal_conflict(system, network, least.conflict(), by_rounds));
            REQUIRE(is_minimal_conflict(system, network, greatest.conflict(), by_rounds));
            turned += turns_a_cycle(least.conflict()) ? 1 : 0;
        }
    }
    CAPTURE(feasible, turned);
    CHECK(feasible > rounds / 5);
    CHECK(rounds - feasible > rounds / 5);
    CHECK(turned > 10);
}

TEST_CASE("components are what reaches each other, in an order that only pushes onwards") {
    generator random{20270329};
    for (int round = 0; round < 1000; ++round) {
        CAPTURE(round);
        auto const vertices = static_cast<std::size_t>(pick(random, 1, 9));
        monotone_network<lag_map> network{0, 9};
        for (std::size_t v = 0; v < vertices; ++v) { network.add_vertex(); }
        std::vector<std::vector<char>> reaches(vertices, std::vector<char>(vertices, 0));
        for (std::size_t v = 0; v < vertices; ++v) { reaches[v][v] = 1; }
        std::vector<std::pair<std::size_t, std::size_t>> pushes;
        int const edges = pick(random, 0, 12);
        for (int i = 0; i < edges; ++i) {
            auto const from =
                static_cast<std::size_t>(pick(random, 0, static_cast<int>(vertices) - 1));
            auto const to =
                static_cast<std::size_t>(pick(random, 0, static_cast<int>(vertices) - 1));
            if (chance_of(random, 0.5)) {
                network.no_sooner(from, to, lag_map{1, 9});
                pushes.emplace_back(from, to);
            } else {
                network.no_later(from, to, lag_map{1, 9});
                pushes.emplace_back(to, from);
            }
            reaches[pushes.back().first][pushes.back().second] = 1;
        }
        for (std::size_t k = 0; k < vertices; ++k) {
            for (std::size_t i = 0; i < vertices; ++i) {
                for (std::size_t j = 0; j < vertices; ++j) {
                    if (reaches[i][k] != 0 && reaches[k][j] != 0) { reaches[i][j] = 1; }
                }
            }
        }
        std::vector<std::size_t> place(vertices, vertices);
        auto const order = network.component_order();
        for (std::size_t c = 0; c < order.size(); ++c) {
            REQUIRE(std::is_sorted(order[c].begin(), order[c].end()));
            for (std::size_t const v : order[c]) {
                REQUIRE(place[v] == vertices);
                place[v] = c;
            }
        }
        for (std::size_t i = 0; i < vertices; ++i) {
            for (std::size_t j = 0; j < vertices; ++j) {
                bool const mutual = reaches[i][j] != 0 && reaches[j][i] != 0;
                REQUIRE((place[i] == place[j]) == mutual);
            }
        }
        for (auto const& [from, to] : pushes) { REQUIRE(place[from] <= place[to]); }
    }
}

TEST_CASE("an order is the first of all permutations that keep the pairs, a cycle the shortest") {
    generator random{20270405};
    int ordered = 0;
    int const rounds = 2000;
    for (int round = 0; round < rounds; ++round) {
        CAPTURE(round);
        auto const count = static_cast<std::size_t>(pick(random, 1, 6));
        std::vector<precedence> pairs;
        int const wanted = pick(random, 0, 6);
        for (int i = 0; i < wanted; ++i) {
            pairs.push_back(
                {static_cast<std::size_t>(pick(random, 0, static_cast<int>(count) - 1)),
                 static_cast<std::size_t>(pick(random, 0, static_cast<int>(count) - 1))});
        }
        ordering const answer = stable_order(count, pairs);

        std::vector<std::size_t> order(count);
        std::iota(order.begin(), order.end(), std::size_t{0});
        bool found = false;
        do {
            found = std::all_of(pairs.begin(), pairs.end(), [&](precedence const& pair) {
                return std::find(order.begin(), order.end(), pair.first) <
                       std::find(order.begin(), order.end(), pair.then);
            });
        } while (!found && std::next_permutation(order.begin(), order.end()));
        REQUIRE(answer.ordered() == found);
        if (found) {
            ++ordered;
            REQUIRE(answer.order == order);
            continue;
        }
        REQUIRE(answer.order.empty());
        // Shortest ways with at least one step; the diagonal holds shortest cycles.
        std::size_t const far = 100;
        std::vector<std::vector<std::size_t>> way(count, std::vector<std::size_t>(count, far));
        for (precedence const& pair : pairs) { way[pair.first][pair.then] = 1; }
        for (std::size_t k = 0; k < count; ++k) {
            for (std::size_t i = 0; i < count; ++i) {
                for (std::size_t j = 0; j < count; ++j) {
                    way[i][j] = std::min(way[i][j], way[i][k] + way[k][j]);
                }
            }
        }
        std::size_t first = 0;
        while (way[first][first] >= far) { ++first; }
        REQUIRE(answer.cycle.size() == way[first][first]);
        REQUIRE(answer.cycle.front() == first);
        for (std::size_t i = 0; i < answer.cycle.size(); ++i) {
            precedence const step{answer.cycle[i], answer.cycle[(i + 1) % answer.cycle.size()]};
            REQUIRE(std::find(pairs.begin(), pairs.end(), step) != pairs.end());
        }
    }
    CHECK(ordered > rounds / 4);
    CHECK(ordered < rounds * 3 / 4);
}
