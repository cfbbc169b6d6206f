#include "catch.hpp"

#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/error.hpp>
#include <epicotyl/plan/plan_tree.hpp>

using namespace epicotyl;

namespace {

constexpr std::string_view text = R"(zeta = 1
alpha = 2.5
[places]
"plug 104" = { cells = [104, 52] }
mat.day = 22

[[succession]]
crop = "pea"
target = { event = "sow", on = 2027-04-01 }
[[succession]]
name = 'b'
)";

}  // namespace

TEST_CASE("a tree keeps the order and the lines of its file") {
    plan_tree const tree = parse_toml(text);
    CHECK(tree.keys() == std::vector<std::string>{"zeta", "alpha", "places", "succession"});
    CHECK(tree.find("zeta")->as_whole() == 1);
    CHECK(tree.find("alpha")->as_number() == 2.5);
    CHECK(tree.line_of("alpha") == 2);
    CHECK(tree.line_of("places") == 3);
    CHECK(tree.line_of("places.\"plug 104\".cells[2]") == 4);
    CHECK(tree.line_of("places.mat.day") == 5);
    CHECK(tree.line_of("succession[1].target") == 9);
    CHECK(tree.line_of("succession[2].name") == 11);
}

TEST_CASE("the line of what is not there is that of what it would stand in") {
    plan_tree const tree = parse_toml(text);
    CHECK(tree.line_of("succession[2].crop") == 10);
    CHECK(tree.line_of("succession[3].crop") == 7);
    CHECK(tree.line_of("places.mat.night") == 5);
    CHECK(tree.line_of("links") == 1);
    CHECK(tree.line_of("") == 1);
}

TEST_CASE("paths name nodes, counted from 1") {
    plan_tree const tree = parse_toml(text);
    CHECK(tree.find_path("succession[1].target.on")->as_date() == make_day(2027, 4, 1));
    CHECK(tree.find_path("places.\"plug 104\".cells[2]")->as_whole() == 52);
    CHECK(tree.find_path("") == &tree);
    for (char const* const path :
         {"succession[0]", "succession[3]", "succession.crop", "alpha.beta", "places.plug 104",
          "succession[", "succession[x]", "places.\"plug", "zeta[1]", "succession[99999999999]"}) {
        CAPTURE(path);
        CHECK(tree.find_path(path) == nullptr);
    }
}

TEST_CASE("a node knows what it is") {
    CHECK(plan_tree{true}.is(plan_tree::kind::boolean));
    CHECK(plan_tree{1}.is(plan_tree::kind::whole));
    CHECK(plan_tree{1.0}.is(plan_tree::kind::number));
    CHECK(plan_tree{"a"}.is(plan_tree::kind::text));
    CHECK(plan_tree{make_day(2027, 1, 1)}.is(plan_tree::kind::date));
    CHECK(plan_tree::list().is(plan_tree::kind::list));
    CHECK(plan_tree::table().is(plan_tree::kind::table));
    CHECK_THROWS_AS(plan_tree{1}.as_text(), std::bad_variant_access);
    CHECK(plan_tree{3}.as_number() == 3.0);
}

TEST_CASE("lines do not count when trees are compared, order does") {
    plan_tree a = plan_tree::table().set("x", plan_tree{1}).set("y", plan_tree{2});
    CHECK(a == parse_toml("x = 1\n\n\ny = 2"));
    CHECK_FALSE(a == parse_toml("y = 2\nx = 1"));
    CHECK_FALSE(plan_tree{1} == plan_tree{1.0});
    a.set("x", plan_tree{5});
    CHECK(a.keys().size() == 2);
    CHECK(a.find("x")->as_whole() == 5);
}

TEST_CASE("a value is written so that it reads back as the same") {
    CHECK(to_string(plan_tree{380.0}) == "380.0");
    CHECK(to_string(plan_tree{-0.0}) == "-0.0");
    CHECK(to_string(plan_tree{0.1 + 0.2}) == "0.30000000000000004");
    CHECK(to_string(plan_tree{1e300}) == "1e+300");
    CHECK(to_string(plan_tree{7}) == "7");
    CHECK(to_string(plan_tree{false}) == "false");
    CHECK(to_string(plan_tree{"say \"hi\"\n\x01"}) == R"("say \"hi\"\n\u0001")");
    CHECK(to_string(plan_tree{make_day(2027, 3, 1)}) == "2027-03-01");
    CHECK(
        to_string(parse_toml(text)) ==
        "{ zeta = 1, alpha = 2.5, places = { \"plug 104\" = { cells = [104, 52] }, mat = { day = "
        "22 } }, succession = [{ crop = \"pea\", target = { event = \"sow\", on = 2027-04-01 } }, "
        "{ name = \"b\" }] }");
    CHECK(to_string(plan_tree::table()) == "{}");
    CHECK(to_string(plan_tree::list()) == "[]");
    CHECK(written_key("harden_off-2") == "harden_off-2");
    CHECK(written_key("") == "\"\"");
    CHECK(written_key("a.b") == "\"a.b\"");
}

TEST_CASE("the nearest word is the one with the fewest letters changed") {
    using detail::edit_distance;
    // Hand-counted: one letter changed, dropped, added, two neighbours exchanged.
    CHECK(edit_distance("latitude", "latitude") == 0);
    CHECK(edit_distance("metrik", "metric") == 1);
    CHECK(edit_distance("harden_of", "harden_off") == 1);
    CHECK(edit_distance("lattitude", "latitude") == 1);
    CHECK(edit_distance("titel", "title") == 1);
    CHECK(edit_distance("kitten", "sitting") == 3);
    CHECK(edit_distance("", "abc") == 3);
    CHECK(edit_distance("abc", "") == 3);
    // Capitals and the marks that join words make no difference.
    CHECK(edit_distance("Harden Off", "harden_off") == 0);
    std::vector<std::string> const known{"sow", "pot_on", "single_sine", "transplant"};
    CHECK(detail::nearest_word("sew", known) == "sow");
    CHECK(detail::nearest_word("pot-on", known) == "pot_on");
    CHECK(detail::nearest_word("sine", known) == "single_sine");
    CHECK(detail::nearest_word("x", std::vector<std::string>{}) == std::nullopt);
    // Of several equally near, the first.
    CHECK(detail::nearest_word("bat", std::vector<std::string>{"cat", "bag"}) == "cat");
}
