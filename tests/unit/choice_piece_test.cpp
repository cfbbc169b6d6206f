// A few items chosen anew while others stay where they are.
#include "catch.hpp"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <random>
#include <utility>
#include <vector>

#include "../../src/choice/choice_guided.hpp"
#include "../../src/choice/choice_piece.hpp"

using namespace epicotyl::detail;

namespace {

constexpr double none = std::numeric_limits<double>::infinity();

/// Six items with up to five alternatives on eight rows.
row_problem random_rows(unsigned seed) {
    std::mt19937 random{seed};
    auto const draw = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    row_problem made;
    for (int row = 0; row < 8; ++row) { made.room.push_back(draw(4, 9)); }
    for (int i = 0; i < 6; ++i) {
        auto& item = made.items.emplace_back();
        int const count = draw(1, 5);
        for (int a = 0; a < count; ++a) {
            row_alternative one{.source = a, .cost = draw(0, 40) / 4.0, .uses = {}};
            int const first = draw(0, 5);
            one.uses.push_back({first, draw(first + 1, 6), static_cast<double>(draw(1, 5))});
            if (draw(0, 1) == 1) { one.uses.push_back({6, 8, static_cast<double>(draw(1, 3))}); }
            item.push_back(std::move(one));
        }
        std::sort(item.begin(), item.end(),
                  [](auto const& a, auto const& b) { return a.cost < b.cost; });
    }
    return made;
}

bool fits(row_problem const& of, std::vector<int> const& chosen) {
    std::vector<double> left = of.room;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        for (row_use const& use : of.items[i][idx(chosen[i])].uses) {
            for (int row = use.first; row < use.last; ++row) { left[idx(row)] -= use.amount; }
        }
    }
    return std::all_of(left.begin(), left.end(), [](double room) { return room >= -1e-6; });
}

/// The least cost of the items from `first` on, tried all; those before stay as in `chosen`.
double by_trying_all(row_problem const& of, std::vector<int> chosen, std::size_t first,
                     int barred) {
    std::fill(chosen.begin() + static_cast<std::ptrdiff_t>(first), chosen.end(), 0);
    double least = none;
    while (true) {
        double cost = 0.0;
        for (std::size_t i = first; i < chosen.size(); ++i) {
            cost += of.items[i][idx(chosen[i])].cost;
        }
        if (chosen[first] != barred && cost < least && fits(of, chosen)) { least = cost; }
        std::size_t i = first;
        while (i < chosen.size() && ++chosen[i] == static_cast<int>(of.items[i].size())) {
            chosen[i++] = 0;
        }
        if (i == chosen.size()) { return least; }
    }
}

}  // namespace

TEST_CASE("a few items cost no more than anything that fits beside the others") {
    int found_some = 0;
    int found_none = 0;
    for (unsigned seed = 0; seed < 600; ++seed) {
        CAPTURE(seed);
        row_problem const of = random_rows(seed);
        if (!fits(of, {0, 0})) { continue; }
        // The first two stay; the others are chosen anew, with and without one that is barred.
        std::vector<int> chosen(of.items.size(), 0);
        piece_search pieces{of};
        for (std::size_t i = 0; i < 2; ++i) { pieces.take(of.items[i][0]); }
        for (int barred : {-1, 0}) {
            double const least = by_trying_all(of, chosen, 2, barred);
            std::int64_t work = 0;
            std::vector<int> const found = pieces.search({2, 3, 4, 5}, {.barred = barred}, work);
            CHECK(work > 0);
            REQUIRE(found.empty() == (least == none));
            ++(found.empty() ? found_none : found_some);
            if (found.empty()) { continue; }
            std::vector<int> whole = chosen;
            double cost = 0.0;
            for (std::size_t k = 0; k < found.size(); ++k) {
                whole[k + 2] = found[k];
                cost += of.items[k + 2][idx(found[k])].cost;
            }
            CHECK(found[0] != barred);
            CHECK(fits(of, whole));
            CHECK(cost == Approx(least));
            // A limit must be undercut.
            CHECK(pieces.search({2, 3, 4, 5}, {.barred = barred, .cost = least}, work).empty());
            CHECK_FALSE(
                pieces.search({2, 3, 4, 5}, {.barred = barred, .cost = least + 0.1}, work).empty());
        }
    }
    CHECK(found_some > 100);
    CHECK(found_none > 100);
}

TEST_CASE("what was taken and is given back can be taken again") {
    row_problem const of{.room = {5}, .items = {{{0, 0.0, {{0, 1, 3}}}, {1, 7.0, {}}}}};
    piece_search pieces{of};
    std::int64_t work = 0;
    pieces.take(of.items[0][0]);
    CHECK(pieces.search({0}, {}, work) == std::vector<int>{1});
    pieces.take(of.items[0][0], -1.0);
    CHECK(pieces.search({0}, {}, work) == std::vector<int>{0});
}

TEST_CASE("a search among no nodes finds nothing") {
    row_problem const of{.room = {5}, .items = {{{0, 0.0, {{0, 1, 3}}}}}};
    piece_search pieces{of};
    std::int64_t work = 0;
    CHECK(pieces.search({0}, {.nodes = 0}, work).empty());
}

TEST_CASE("changes of a few items find the cheapest choice of small problems, from nothing") {
    for (unsigned seed = 0; seed < 100; ++seed) {
        CAPTURE(seed);
        row_problem const of = random_rows(seed);
        double const least = by_trying_all(of, std::vector<int>(of.items.size(), 0), 0, -1);
        best_choice best;
        std::int64_t work = 0;
        search_guided(of, 5'000, 1, best, work, [] { return true; });
        REQUIRE(best.found() == (least < none));
        if (!best.found()) { continue; }
        CHECK(best.cost == Approx(least));
        CHECK(fits(of, best.chosen));
    }
}

TEST_CASE("changes of a few items end when they are told to, and are the same every time") {
    row_problem const of = random_rows(7);
    best_choice best;
    std::int64_t work = 0;
    int asked = 0;
    search_guided(of, 1'000'000, 1, best, work, [&] { return ++asked < 3; });
    CHECK(asked <= 3);
    best_choice first;
    best_choice second;
    search_guided(of, 3'000, 1, first, work, [] { return true; });
    search_guided(of, 3'000, 1, second, work, [] { return true; });
    CHECK(first.chosen == second.chosen);
}
