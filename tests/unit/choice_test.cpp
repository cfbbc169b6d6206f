// One of several ways for each of several items, within room that changes hands.
#include "catch.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <random>
#include <utility>
#include <vector>

#include "../../src/choice/choice.hpp"

using namespace epicotyl::detail;

namespace {

bool fits(choice_problem const& of, std::vector<int> const& chosen) {
    std::map<std::pair<int, int>, double> level;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        for (room_use const& use : of.items[i][static_cast<std::size_t>(chosen[i])].uses) {
            for (int d = use.begin; d < use.end; ++d) { level[{use.resource, d}] += use.amount; }
        }
    }
    return std::all_of(level.begin(), level.end(), [&](auto const& one) {
        return one.second <= of.room[static_cast<std::size_t>(one.first.first)] + 1e-6;
    });
}

double cost_of(choice_problem const& of, std::vector<int> const& chosen) {
    double cost = 0.0;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        cost += of.items[i][static_cast<std::size_t>(chosen[i])].cost;
    }
    return cost;
}

/// The least cost by trying everything; infinity where nothing fits.
double by_trying_all(choice_problem const& of) {
    std::vector<int> chosen(of.items.size(), 0);
    double best = std::numeric_limits<double>::infinity();
    while (true) {
        double const cost = cost_of(of, chosen);
        if (cost < best && fits(of, chosen)) { best = cost; }
        std::size_t i = 0;
        while (i < chosen.size() && ++chosen[i] == static_cast<int>(of.items[i].size())) {
            chosen[i++] = 0;
        }
        if (i == chosen.size()) { return best; }
    }
}

choice_problem random_problem(unsigned seed) {
    std::mt19937 random{seed};
    auto const draw = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    int const resources = draw(1, 3);
    choice_problem made;
    for (int r = 0; r < resources; ++r) { made.room.push_back(draw(2, 9)); }
    for (int i = draw(2, 7); i > 0; --i) {
        auto& item = made.items.emplace_back();
        for (int a = draw(1, 4); a > 0; --a) {
            choice_alternative one{.cost = draw(0, 40) / 4.0};
            for (int u = draw(0, 3); u > 0; --u) {
                int const from = draw(0, 20);
                one.uses.push_back({draw(0, resources - 1), from, from + draw(0, 12),
                                    static_cast<double>(draw(1, 5))});
            }
            item.push_back(std::move(one));
        }
    }
    return made;
}

}  // namespace

TEST_CASE("what fits as it is stays as it is") {
    choice_problem const of{
        .room = {5},
        .items = {{{0.0, {{0, 0, 10, 2}}}, {1.0, {}}}, {{0.0, {{0, 5, 15, 3}}}, {1.0, {}}}}};
    choice_result const found = choose(of);
    CHECK(found.chosen == std::vector<int>{0, 0});
    CHECK(found.cost == 0.0);
    CHECK(found.ended == choice_end::proved);
}

TEST_CASE("days that only touch do not take each other's room") {
    choice_problem const of{.room = {3},
                            .items = {{{0.0, {{0, 0, 10, 3}}}}, {{0.0, {{0, 10, 15, 3}}}}}};
    CHECK(choose(of).cost == 0.0);
}

TEST_CASE("the cheaper of two gives way where both do not fit") {
    choice_problem const of{.room = {5},
                            .items = {{{0.0, {{0, 0, 10, 3}}}, {7.0, {}}},
                                      {{0.0, {{0, 9, 15, 3}}}, {4.0, {{0, 10, 16, 3}}}}}};
    choice_result const found = choose(of);
    CHECK(found.chosen == std::vector<int>{0, 1});
    CHECK(found.cost == 4.0);
    CHECK(found.bound == 4.0);
}

TEST_CASE("uses of one alternative at the same time add up") {
    choice_problem const of{.room = {5},
                            .items = {{{0.0, {{0, 0, 10, 3}, {0, 8, 12, 3}}}, {2.0, {}}}}};
    CHECK(choose(of).cost == 2.0);
}

TEST_CASE("that nothing fits is proved") {
    choice_problem const of{.room = {5},
                            .items = {{{0.0, {{0, 0, 10, 3}}}}, {{0.0, {{0, 5, 15, 3}}}}}};
    choice_result const found = choose(of);
    CHECK_FALSE(found.fits());
    CHECK(found.ended == choice_end::proved);
}

TEST_CASE("no choice of random small problems costs less than the one that is found") {
    for (unsigned seed = 0; seed < 400; ++seed) {
        CAPTURE(seed);
        choice_problem const of = random_problem(seed);
        double const least = by_trying_all(of);
        choice_result const found = choose(of);
        REQUIRE(found.fits() == (least < std::numeric_limits<double>::infinity()));
        if (!found.fits()) { continue; }
        CHECK(fits(of, found.chosen));
        CHECK(found.cost == Approx(cost_of(of, found.chosen)));
        CHECK(found.cost == Approx(least));
        CHECK(found.bound <= least + 1e-6);
    }
}

TEST_CASE("a search that is stopped or short of work keeps what it has") {
    choice_problem of = random_problem(3);
    for (auto& item : of.items) { item.push_back({100.0, {}}); }
    int told = 0;
    choice_result const stopped = choose(of, {.progress = [&](choice_progress const& now) {
                                             ++told;
                                             CHECK(now.bound <= now.cost);
                                             return false;
                                         }});
    CHECK(told <= 1);
    CHECK((stopped.ended == choice_end::stopped || stopped.ended == choice_end::proved));
    choice_result const brief = choose(of, {.steps = 1});
    CHECK((!brief.fits() || fits(of, brief.chosen)));
    CHECK(brief.bound <= choose(of).cost + 1e-6);
}
