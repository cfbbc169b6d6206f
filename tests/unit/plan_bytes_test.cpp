#include "catch.hpp"

#include <random>
#include <string>

#include <epicotyl/error.hpp>
#include <epicotyl/plan/plan_bytes.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "../../src/plan/tree_bytes.hpp"

using namespace epicotyl;

namespace {

constexpr std::string_view farm = R"(format = 1
units = "us"
title = "Bytes ü"
[site]
latitude = 45.0
season_start = 2027-01-01
whole_fahrenheit = false
[places]
bench = { for = ["germinate", "grow"], warmer_night = 6.3, heat_to = 45, trays = 28 }
beds = { for = ["field"], open = [2027-04-01, 2027-10-15], area = 70.1 }
[containers]
"plug 72" = { cells = 72, medium = 2.4, area = 1.6 }
[crops.kale]
limit_tender = 28
limit_hardened = 20.5
stages = [
  { begins = "sow", where = "bench", container = "plug 72", takes = { weeks = [4, 6] } },
  { begins = "transplant", where = "beds", takes = { heat = 700.7, base = 40 }, lost_at = false },
]
[[succession]]
name = "kale 1"
crop = "kale"
plants = 50
target = { event = "transplant", weeks_after_last_frost = 1 }
not_after = { sow = 2027-03-20 }
stage.sow = { survives = 0.7, hold = false }
)";

/// What a refusal says, empty where there is a plan.
[[nodiscard]] std::string refusal_of(std::string const& bytes) {
    try {
        static_cast<void>(plan_from_bytes(bytes));
    } catch (invalid_input const& fault) { return fault.what(); }
    return {};
}

constexpr char const* not_a_plan =
    "bytes: these bytes are no plan, or were changed on the way; make the plan again from its file";

}  // namespace

TEST_CASE("a plan comes back from its bytes as it was") {
    plan const p = parse_plan(farm);
    std::string const bytes = to_bytes(p);
    plan const again = plan_from_bytes(bytes);
    CHECK(again == p);
    CHECK(to_toml(again) == to_toml(p));
    CHECK(to_bytes(again) == bytes);
    CHECK(again.source() == nullptr);
    CHECK(bytes.size() < to_toml(p).size());
}

TEST_CASE("bytes say what they are, and are the same on every machine") {
    std::string const bytes = to_bytes(parse_plan(farm));
    CHECK(bytes.starts_with("epicotyl plan 1\n"));
    plan_tree tree = plan_tree::table();
    tree.set("a", plan_tree{true}).set("b", plan_tree::list({plan_tree{-2}, plan_tree{0.5}}));
    // A table of 2: key 0 "a", true; key 1 "b", a list of -2 and 0.5, lowest bytes first.
    std::string const wanted{
        "\6\2\0\1a\0\1\1\1b\5\2\1\376\377\377\377\377\377\377\377"
        "\2\0\0\0\0\0\0\340\77",
        30};
    CHECK(detail::bytes_of(tree) == wanted);
    CHECK(detail::tree_of_bytes(wanted) == tree);
}

TEST_CASE("bytes that were changed on the way are refused, each of them") {
    std::string const bytes = to_bytes(parse_plan(farm));
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        std::string changed = bytes;
        changed[i] = static_cast<char>(changed[i] ^ (1 << (i % 8)));
        CAPTURE(i);
        REQUIRE(refusal_of(changed) == not_a_plan);
        REQUIRE(refusal_of(bytes.substr(0, i)) == not_a_plan);
    }
    CHECK(refusal_of(bytes + '\0') == not_a_plan);
}

TEST_CASE("whatever bytes are sealed: a plan or a refusal") {
    plan const p = parse_plan(farm);
    std::string const bytes = detail::bytes_of(to_tree(p));
    std::mt19937 random{20270301};
    auto const below = [&](std::size_t count) {
        return std::uniform_int_distribution<std::size_t>{0, count - 1}(random);
    };
    int plans = 0;
    int refused = 0;
    for (int round = 0; round < 20'000; ++round) {
        std::string changed = bytes;
        for (std::size_t i = 0; i <= below(3); ++i) {
            std::size_t const at = below(changed.size());
            switch (below(4)) {
                case 0:
                    changed.resize(at);
                    break;
                case 1:
                    changed.insert(at, changed.substr(below(changed.size()), below(12)));
                    break;
                default:
                    changed[at] = static_cast<char>(below(256));
            }
            if (changed.empty()) { break; }
        }
        ++(refusal_of(detail::sealed(changed)).empty() ? plans : refused);
    }
    // A changed digit or letter of a title is another plan; a changed count hardly ever is one.
    CHECK(plans > 500);
    CHECK(refused > 10'000);
}

TEST_CASE("lists in lists without end are refused before the stack is") {
    std::string deep;
    for (int i = 0; i < 100'000; ++i) { deep += "\5\1"; }
    CHECK(refusal_of(detail::sealed(deep)) == not_a_plan);
}
