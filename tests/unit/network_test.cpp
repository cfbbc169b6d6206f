#include "catch.hpp"

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/network/monotone_network.hpp>
#include <epicotyl/network/order.hpp>

using namespace epicotyl;

static_assert(monotone_map<lag_map> && monotone_map<table_map> && monotone_map<any_map>);
static_assert(ranged_map<lag_map> && ranged_map<table_map> && ranged_map<any_map>);
static_assert(!monotone_map<int (*)(int)>, "a bare function has no adjoints");

namespace {

using values = std::vector<int>;

template <class Network>
std::string told(Network const& network, walk const& conflict) {
    return to_string(conflict, [&](std::size_t v) { return network.name(v); });
}

template <class Call>
std::string code_of(Call const& call) {
    try {
        call();
    } catch (invalid_input const& fault) { return fault.code(); }
    return "accepted";
}

}  // namespace

TEST_CASE("a lag adds its days and keeps the highest value as never") {
    lag_map const lag{14, 100};
    CHECK(lag(0) == 14);
    CHECK(lag(86) == 100);
    CHECK(lag(87) == 100);
    CHECK(lag(100) == 100);
    // x + 14 <= 20 up to x = 6; everything is at most 100.
    CHECK(lag.latest(20) == 6);
    CHECK(lag.latest(99) == 85);
    CHECK(lag.latest(100) == 100);
    // x + 14 >= 20 from x = 6; 100 is reached from 86 on; 101 never.
    CHECK(lag.earliest(20) == 6);
    CHECK(lag.earliest(100) == 86);
    CHECK_FALSE(lag.earliest(101).has_value());
    int const top = std::numeric_limits<int>::max();
    CHECK(lag_map{top, top}(top) == top);
    CHECK(lag_map{top, top}.latest(-5) == std::numeric_limits<int>::min());
    CHECK(code_of([] { lag_map{-1, 100}; }) == "network.negative_lag");
}

TEST_CASE("a table finds its adjoints over flat stretches and jumps") {
    // value:                 2  3  4  5  6
    table_map const table{2, {3, 3, 5, 5, 9}};
    CHECK(table(2) == 3);
    CHECK(table(6) == 9);
    CHECK_FALSE(table.latest(2).has_value());
    CHECK(table.latest(3) == 3);
    CHECK(table.latest(4) == 3);
    CHECK(table.latest(8) == 5);
    CHECK(table.latest(9) == 6);
    CHECK(table.earliest(3) == 2);
    CHECK(table.earliest(4) == 4);
    CHECK(table.earliest(6) == 6);
    CHECK_FALSE(table.earliest(10).has_value());
    CHECK(tabulate(2, 6, [](int x) { return x < 4 ? 3 : x < 6 ? 5 : 9; }) == table);
}

TEST_CASE("a table that decreases is refused, with the place where it does") {
    try {
        table_map const table{10, {3, 5, 4}};
        FAIL("accepted");
    } catch (invalid_input const& fault) {
        CHECK(fault.code() == "network.decreasing_table");
        CHECK(std::string{fault.what()} ==
              "table: the table falls from 5 at 11 to 4 at 12 (allowed: 5 or more); give values "
              "that never decrease; an amount that depends on its own start is no monotone map");
    }
    CHECK(code_of([] { table_map{0, {}}; }) == "network.empty_table");
    CHECK(code_of([] { (void)tabulate(0, 3, [](int x) { return -x; }); }) ==
          "network.decreasing_table");
}

TEST_CASE("a network refuses what it cannot use") {
    CHECK(code_of([] { monotone_network<lag_map>{3, 2}; }) == "network.empty_chain");
    monotone_network<table_map> net{0, 3};
    auto const a = net.add_vertex("a");
    CHECK(code_of([&] { net.not_before(1, 0); }) == "network.unknown_vertex");
    CHECK(code_of([&] {
              net.no_sooner(a, 7, table_map{0, {0, 1, 2, 3}});
          }) == "network.unknown_vertex");
    CHECK(code_of([&] { (void)net.edge(0); }) == "network.unknown_edge");
    CHECK(code_of([&] {
              net.no_sooner(a, a, table_map{0, {0, 1, 2}});
          }) == "network.map_falls_short");
    CHECK(code_of([&] {
              net.no_sooner(a, a, table_map{1, {0, 1, 2}});
          }) == "network.map_falls_short");
    monotone_network<any_map> mixed{0, 3};
    mixed.add_vertex();
    CHECK(code_of([&] { mixed.no_later(0, 0, lag_map{1, 2}); }) == "network.map_falls_short");
}

TEST_CASE("an answer gives what it has and refuses the rest") {
    monotone_network<lag_map> net{0, 9};
    auto const v = net.add_vertex();
    auto const solved = net.least();
    CHECK(solved.solved());
    CHECK(code_of([&] { (void)solved.conflict(); }) == "network.no_conflict");
    net.not_before(v, 5);
    net.not_after(v, 4);
    auto const refused = net.least();
    CHECK_FALSE(refused.solved());
    CHECK(code_of([&] { (void)refused.values(); }) == "network.no_solution");
}

TEST_CASE("an empty network has the empty solution") {
    monotone_network<lag_map> const net{0, 9};
    CHECK(net.least().values().empty());
    CHECK(net.greatest().values().empty());
    CHECK(net.component_order().empty());
}

TEST_CASE("a single vertex lies between its tightest bounds") {
    monotone_network<lag_map> net{0, 365};
    auto const v = net.add_vertex("sow");
    CHECK(net.least().values() == values{0});
    CHECK(net.greatest().values() == values{365});
    net.not_before(v, 60, 1);
    net.not_before(v, 40, 2);
    net.not_before(v, 60, 3);
    net.not_after(v, 100, 4);
    net.not_after(v, 120, 5);
    CHECK(net.least().values() == values{60});
    CHECK(net.greatest().values() == values{100});
    CHECK(net.lower(v) == vertex_bound{60, 1});
    CHECK(net.upper(v) == vertex_bound{100, 4});
}

TEST_CASE("a bound outside the chain says nothing on one side and breaks on the other") {
    monotone_network<lag_map> net{0, 365};
    auto const v = net.add_vertex("sow");
    net.not_before(v, -5, 1);
    net.not_after(v, 400, 2);
    CHECK(net.lower(v) == vertex_bound{0, std::nullopt});
    CHECK(net.least().values() == values{0});
    CHECK(net.greatest().values() == values{365});
    net.not_before(v, 366, 3);
    auto const answer = net.least();
    REQUIRE_FALSE(answer.solved());
    CHECK(told(net, answer.conflict()) ==
          "sow >= 366 [bound 3]; sow <= 365 [end of chain] is broken");
    CHECK(verify(net, answer.conflict()));
    CHECK(told(net, net.greatest().conflict()) ==
          "sow <= 365 [end of chain]; sow >= 366 [bound 3] is broken");
}

TEST_CASE("the example of the header: a window of at least 42 and at most 56 days") {
    monotone_network<lag_map> net{0, 365};
    auto const sow = net.add_vertex("sow");
    auto const plant = net.add_vertex("plant");
    net.no_sooner(sow, plant, lag_map{42, 365});
    net.no_later(sow, plant, lag_map{56, 365});
    net.not_before(plant, 130);
    net.not_after(plant, 150);
    CHECK(net.least().values() == values{74, 130});
    CHECK(net.greatest().values() == values{108, 150});
    // The two edges make a cycle of sow and plant, so they are one component.
    CHECK(net.component_order() == std::vector<std::vector<std::size_t>>{{sow, plant}});
}

TEST_CASE("a chain of stages is pushed later from its first event and earlier from its last") {
    // Ready days of a stage over starts 0 ... 5: nothing is ready before 3, and from 4 on never.
    int const top = 6;
    monotone_network<table_map> net{0, top};
    auto const c = net.add_vertex("c");
    auto const b = net.add_vertex("b");
    auto const a = net.add_vertex("a");
    net.no_sooner(a, b, table_map{0, {3, 3, 4, 5, top, top, top}});
    net.no_sooner(b, c, table_map{0, {1, 2, 3, 4, 5, top, top}});
    CHECK(net.component_order() == std::vector<std::vector<std::size_t>>{{a}, {b}, {c}});
    CHECK(net.least().values() == values{4, 3, 0});
    CHECK(net.greatest().values() == values{top, top, top});
    net.not_after(c, 5);
    // c <= 5: b at most 4; then a at most 2.
    CHECK(net.greatest().values() == values{5, 4, 2});
}

TEST_CASE("never is a value like others: it keeps what follows at never and breaks upper bounds") {
    int const top = 5;
    monotone_network<table_map> net{0, top};
    auto const sow = net.add_vertex("sow");
    auto const crop = net.add_vertex("crop");
    net.no_sooner(sow, crop, table_map{0, {2, 4, top, top, top, top}}, 7);
    net.not_before(sow, 2, 1);
    CHECK(net.least().values() == values{2, top});
    net.not_after(crop, 4, 2);
    auto const answer = net.least();
    REQUIRE_FALSE(answer.solved());
    CHECK(told(net, answer.conflict()) ==
          "sow >= 2 [bound 1]; crop >= 5 [edge 0, label 7]; crop <= 4 [bound 2] is broken");
    CHECK(told(net, net.greatest().conflict()) ==
          "crop <= 4 [bound 2]; sow <= 1 [edge 0 backwards, label 7]; sow >= 2 [bound 1] is "
          "broken");
}

TEST_CASE("an upper edge from never imposes nothing") {
    int const top = 100;
    monotone_network<lag_map> net{0, top};
    auto const first = net.add_vertex("first");
    auto const then = net.add_vertex("then");
    net.no_later(first, then, lag_map{10, top});
    net.not_before(first, top);
    CHECK(net.least().values() == values{top, 0});
    CHECK(net.greatest().values() == values{top, top});
    // The other way: then on 60 or later needs first on 50 or later.
    net.not_before(then, 60);
    CHECK(net.least().values() == values{top, 60});
}

TEST_CASE("an edge read backwards that finds no value ends the walk there") {
    // b is at most 4 whatever a is.
    monotone_network<table_map> net{0, 5};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    net.no_later(a, b, table_map{0, {0, 1, 2, 3, 4, 4}}, 8);
    net.not_before(b, 5, 1);
    auto const least = net.least();
    REQUIRE_FALSE(least.solved());
    CHECK(told(net, least.conflict()) ==
          "b >= 5 [bound 1]; a has no value [edge 0 backwards, label 8]; a <= 5 [end of chain] is "
          "broken");
    CHECK(verify(net, least.conflict()));
    // Pushing earlier, the same edge is used as it stands.
    CHECK(told(net, net.greatest().conflict()) ==
          "a <= 5 [end of chain]; b <= 4 [edge 0, label 8]; b >= 5 [bound 1] is broken");
}

TEST_CASE("an edge whose map leaves the chain breaks the end of the chain") {
    // The lag saturates at 200 only, the chain ends at 100.
    monotone_network<lag_map> net{0, 100};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    net.no_sooner(a, b, lag_map{30, 200}, 4);
    CHECK(net.greatest().values() == values{70, 100});
    net.not_before(a, 71, 1);
    net.not_after(b, 90, 2);
    // b would be 101 at least: the bound on b is not needed and not named.
    CHECK(told(net, net.least().conflict()) ==
          "a >= 71 [bound 1]; b >= 101 [edge 0, label 4]; b <= 100 [end of chain] is broken");
}

TEST_CASE("a self-loop raises its vertex until the map stands still") {
    monotone_network<table_map> net{0, 9};
    auto const v = net.add_vertex("v");
    // 0 -> 2 -> 4 -> 4; from 5 on to 9.
    net.no_sooner(v, v, table_map{0, {2, 2, 4, 4, 4, 9, 9, 9, 9, 9}}, 3);
    CHECK(net.least().values() == values{4});
    CHECK(net.greatest().values() == values{9});
    net.not_after(v, 8);
    CHECK(net.greatest().values() == values{4});
    net.not_before(v, 5, 1);
    CHECK(told(net, net.least().conflict()) ==
          "v >= 5 [bound 1]; v >= 9 [edge 0, label 3]; v <= 8 [bound 0] is broken");
}

TEST_CASE("a cycle that gains one day a turn needs far more rounds than vertices and is no error") {
    // b no sooner than the day after a, up to 900; a no sooner than b.
    int const top = 1500;
    monotone_network<table_map> net{0, top};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    net.no_sooner(a, b, tabulate(0, top, [](int x) { return x < 900 ? x + 1 : 900; }));
    net.no_sooner(b, a, tabulate(0, top, [](int x) { return x; }));
    CHECK(net.least().values() == values{900, 900});
    CHECK(net.greatest().values() == values{top, top});
}

TEST_CASE("a cycle that gains without end is told once, with its turns") {
    monotone_network<lag_map> net{0, 1000};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    net.no_sooner(a, b, lag_map{3, 5000}, 11);
    net.no_later(a, b, lag_map{2, 5000}, 12);
    net.not_before(a, 5, 1);
    auto const least = net.least();
    REQUIRE_FALSE(least.solved());
    // No bound is needed: 998 turns of one day each lead from 0 to b >= 1001.
    CHECK(told(net, least.conflict()) ==
          "a >= 0 [end of chain]; 998 times (b >= 3 ... 1000 [edge 0, label 11]; a >= 1 ... 998 "
          "[edge 1 backwards, label 12]); b >= 1001 [edge 0, label 11]; b <= 1000 [end of chain] "
          "is broken");
    CHECK(verify(net, least.conflict()));
    auto const greatest = net.greatest();
    CHECK(greatest.conflict().way == push::earlier);
    CHECK(verify(net, greatest.conflict()));
}

TEST_CASE("where lags stop at never, a gaining cycle only says never") {
    int const top = 1000;
    monotone_network<lag_map> net{0, top};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    net.no_sooner(a, b, lag_map{3, top}, 11);
    net.no_later(a, b, lag_map{2, top}, 12);
    // b >= 1000 needs a >= 998; then b is never, and a may be any of 998, 999, never.
    CHECK(net.least().values() == values{998, top});
    CHECK(net.greatest().values() == values{top, top});
    net.not_after(b, 200, 5);
    auto const least = net.least();
    REQUIRE_FALSE(least.solved());
    CHECK(told(net, least.conflict()) ==
          "a >= 0 [end of chain]; 198 times (b >= 3 ... 200 [edge 0, label 11]; a >= 1 ... 198 "
          "[edge 1 backwards, label 12]); b >= 201 [edge 0, label 11]; b <= 200 [bound 5] is "
          "broken");
    CHECK(verify(net, least.conflict()));
}

TEST_CASE("upper edges that close a cycle can be met") {
    // c is 10 to 15 after a, by way of b: b 4 or more after a, c 6 or more after b.
    monotone_network<lag_map> net{0, 100};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    auto const c = net.add_vertex("c");
    net.no_sooner(a, b, lag_map{4, 100});
    net.no_sooner(b, c, lag_map{6, 100});
    net.no_later(a, c, lag_map{15, 100});
    net.not_before(b, 30);
    net.not_after(c, 40);
    // Least: b 30, c 36, a >= 36 - 15 = 21. Greatest: c 40, b 34, a 30.
    CHECK(net.least().values() == values{21, 30, 36});
    CHECK(net.greatest().values() == values{30, 34, 40});
    CHECK(net.component_order().size() == 1);
}

TEST_CASE("two cycles through one vertex that must alternate are told as one turned cycle") {
    // One loop lifts even days to the next odd one, the other odd days to the next even one.
    monotone_network<table_map> net{0, 40};
    auto const v = net.add_vertex("v");
    net.no_sooner(v, v, tabulate(0, 40, [](int x) { return x % 2 == 0 ? x + 1 : x; }), 1);
    net.no_sooner(v, v, tabulate(0, 40, [](int x) { return x % 2 == 1 ? x + 1 : x; }), 2);
    auto const least = net.least();
    REQUIRE_FALSE(least.solved());
    CHECK(told(net, least.conflict()) ==
          "v >= 0 [end of chain]; 20 times (v >= 1 ... 39 [edge 0, label 1]; v >= 2 ... 40 [edge "
          "1, label 2]); v >= 41 [edge 0, label 1]; v <= 40 [end of chain] is broken");
    CHECK(verify(net, least.conflict()));
}

TEST_CASE("a conflict names no bound that a shorter walk does without") {
    // Whatever a is, c is 50 at least, because b's stage is not ready before.
    monotone_network<table_map> net{0, 60};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    auto const c = net.add_vertex("c");
    net.no_sooner(a, b, tabulate(0, 60, [](int x) { return std::min(x + 5, 60); }), 1);
    net.no_sooner(b, c, tabulate(0, 60, [](int x) { return std::max(x, 50); }), 2);
    net.not_before(a, 20, 3);
    net.not_after(c, 49, 4);
    CHECK(told(net, net.least().conflict()) ==
          "b >= 0 [end of chain]; c >= 50 [edge 1, label 2]; c <= 49 [bound 4] is broken");
}

TEST_CASE("a walk that is no proof is not taken for one") {
    monotone_network<lag_map> net{0, 100};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    net.no_sooner(a, b, lag_map{10, 100}, 5);
    net.not_before(a, 20, 1);
    net.not_after(b, 25, 2);
    walk const good = net.least().conflict();
    REQUIRE(verify(net, good));

    walk bad = good;
    bad.start.value = 21;
    CHECK(verify(net, bad).why_not == "it starts at no bound");
    bad = good;
    bad.broken.label = std::nullopt;
    CHECK(verify(net, bad).why_not == "it ends at no bound");
    bad = good;
    bad.legs[0].steps[0].value = 31;
    CHECK(verify(net, bad).why_not == "a first value is wrong");
    bad = good;
    bad.legs[0].steps[0].last_value = 31;
    CHECK(verify(net, bad).why_not == "a last value is wrong");
    bad = good;
    bad.legs[0].turns = 2;
    CHECK_FALSE(verify(net, bad));
    bad.legs[0].turns = 0;
    CHECK(verify(net, bad).why_not == "a leg is empty");
    bad = good;
    bad.legs[0].steps[0].edge = 1;
    CHECK(verify(net, bad).why_not == "it names an edge that does not exist");
    bad = good;
    bad.legs[0].steps[0].label = 6;
    CHECK(verify(net, bad).why_not == "the label of an edge is wrong");
    bad = good;
    bad.legs[0].steps[0].use = edge_use::backward;
    CHECK(verify(net, bad).why_not == "an edge is used in a direction that proves nothing");
    bad = good;
    bad.start = {.vertex = b, .value = 0, .label = std::nullopt};
    CHECK(verify(net, bad).why_not == "an edge does not join its vertices");
    bad = good;
    bad.legs.clear();
    CHECK(verify(net, bad).why_not == "it ends elsewhere");
    bad = good;
    bad.start.vertex = 2;
    CHECK(verify(net, bad).why_not == "it names a vertex that the network does not have");

    // Once the bound is loosened, the same walk breaks nothing.
    monotone_network<lag_map> loose{0, 100};
    loose.add_vertex("a");
    loose.add_vertex("b");
    loose.no_sooner(a, b, lag_map{10, 100}, 5);
    loose.not_before(a, 20, 1);
    loose.not_after(b, 30, 2);
    bad = good;
    bad.broken.value = 30;
    CHECK(verify(loose, bad).why_not == "the last bound is kept");
}

TEST_CASE("a walk prints") {
    monotone_network<lag_map> net{0, 100};
    net.add_vertex("a");
    net.not_before(0, 20, 1);
    net.not_after(0, 10, 2);
    CHECK(fmt::format("{}", net.least().conflict()) ==
          "#0 >= 20 [bound 1]; #0 <= 10 [bound 2] is broken");
}

TEST_CASE("the graph of a network has one arc for each edge, in the direction of pushing later") {
    monotone_network<lag_map> net{0, 100};
    auto const a = net.add_vertex("a");
    auto const b = net.add_vertex("b");
    net.no_sooner(a, b, lag_map{1, 100});
    net.no_later(a, b, lag_map{2, 100});
    auto const graph = net.graph();
    CHECK(num_edges(graph) == 2);
    CHECK(boost::edge(a, b, graph).second);
    CHECK(boost::edge(b, a, graph).second);
    CHECK(graph[boost::edge(b, a, graph).first].number == 1);
    CHECK(graph[a].name == "a");
}

TEST_CASE("an order keeps every pair and otherwise the numbers") {
    using order = std::vector<std::size_t>;
    CHECK(stable_order(0, {}).ordered());
    CHECK(stable_order(3, {}).order == order{0, 1, 2});
    std::vector<precedence> const pairs{{3, 0}, {0, 4}, {3, 0}};
    CHECK(stable_order(5, pairs).order == order{1, 2, 3, 0, 4});
    // Given forwards it comes out forwards, not as a depth-first search finishes it.
    std::vector<precedence> const chain{{0, 1}, {1, 2}, {2, 3}};
    CHECK(stable_order(4, chain).order == order{0, 1, 2, 3});
}

TEST_CASE("where no order keeps every pair, a shortest cycle says why") {
    using order = std::vector<std::size_t>;
    std::vector<precedence> const loop{{0, 1}, {1, 1}};
    CHECK(stable_order(2, loop).cycle == order{1});
    CHECK_FALSE(stable_order(2, loop).ordered());
    // 1 2 3 4 is a cycle, and 1 4 a shorter one.
    std::vector<precedence> const two{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 1}, {1, 4}};
    CHECK(stable_order(5, two).cycle == order{1, 4});
    CHECK(stable_order(5, two).order.empty());
    std::vector<precedence> const unknown{{0, 5}};
    CHECK(code_of([&] { (void)stable_order(5, unknown); }) == "order.unknown_vertex");
}
