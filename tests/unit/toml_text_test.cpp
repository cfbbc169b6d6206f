// What a plan file may be spelled with.
#include "catch.hpp"

#include <string>

#include <epicotyl/error.hpp>
#include <epicotyl/plan/plan_tree.hpp>

using namespace epicotyl;

TEST_CASE("letters beyond a to z need quotes, and may stand anywhere within them") {
    struct stray {
        char const* text;
        char const* message;
    };
    std::string const rest =
        " stands outside of quotes, where TOML knows no letters but a to z; put the whole name "
        "into double quotes, or take out a stray character";
    for (stray const& one :
         {stray{"[crops.pi\u00f1on]\n", "farm.toml:2: \"\u00f1\""},
          stray{"a = 20\u03bf\n", "farm.toml:2: \"\u03bf\""},
          stray{"a = \"\"\"\nin\\\"\u00f1\"\"\"\"\nb = 20\xff\n", "farm.toml:4: byte 0xFF"},
          stray{"a = 'b\\' # \xff\nb = \xc3", "farm.toml:3: byte 0xC3"},
          // Two spellings that are longer than need be, and half of a UTF-16 pair.
          stray{"\xc0\xaf", "farm.toml:2: byte 0xC0"},
          stray{"\xe0\x80\xaf", "farm.toml:2: byte 0xE0"},
          stray{"\xed\xa0\x80", "farm.toml:2: byte 0xED"}}) {
        CAPTURE(one.text);
        try {
            (void)parse_toml(std::string{"format = 1\n"} + one.text, "farm.toml");
            FAIL("accepted");
        } catch (invalid_input const& fault) { CHECK(fault.what() == one.message + rest); }
    }
    plan_tree const tree = parse_toml(
        "\xEF\xBB\xBF# pi\u00f1on\n\"pi\u00f1on\" = 'z\u00fcrich' # \u03bf\n"
        "other = \"\"\"\"\u00f1\"\"\"\"\nlast = '''\u03bf''''\n",
        "farm.toml");
    CHECK(tree.find("pi\u00f1on")->as_text() == "z\u00fcrich");
    CHECK(tree.find("other")->as_text() == "\"\u00f1\"");
    CHECK(tree.find("last")->as_text() == "\u03bf'");
}

TEST_CASE("letters beyond a to z are read the same in every kind of quotes") {
    plan_tree const tree = parse_toml(
        "basic = \"C:\\\\\u00e9 \\\"\U0001f331\\\"\"\n"
        "literal = 'C:\\\u00e9 \"\U0001f331\"'\n"
        "'k\u00f6nig'.'\u00e9\"' = 1\n"
        "long = \"\"\"\none \\\n  \u00e9t\u00e9\\\n\n \u00e0\"\"\"\n"
        "raw = '''\nC:\\\n\u00e9\"\n'''  # \u2028 breaks no line\n",
        "farm.toml");
    CHECK(tree.find("basic")->as_text() == "C:\\\u00e9 \"\U0001f331\"");
    CHECK(tree.find("literal")->as_text() == "C:\\\u00e9 \"\U0001f331\"");
    CHECK(tree.find("k\u00f6nig")->find("\u00e9\"")->as_whole() == 1);
    CHECK(tree.find("long")->as_text() == "one \u00e9t\u00e9\u00e0");
    CHECK(tree.find("raw")->as_text() == "C:\\\n\u00e9\"\n");
}

TEST_CASE("quotes that are wrong with letters beyond a to z within are refused") {
    struct broken {
        char const* text;
        char const* message;
    };
    for (broken const& one :
         {broken{"a = \"\u00e9\nb = 1",
                 "farm.toml:1: a text in quotes is not closed; end it with \""},
          broken{"\na = '''\u00e9'\n",
                 "farm.toml:2: a text in quotes is not closed; end it with '''"},
          broken{"a = \"\"\"\n\\\u00e9\"\"\"",
                 "farm.toml:2: a backslash stands before \"\u00e9\", which needs none; take the "
                 "backslash out, or write two for one of the text"}}) {
        CAPTURE(one.text);
        try {
            (void)parse_toml(one.text, "farm.toml");
            FAIL("accepted");
        } catch (invalid_input const& fault) { CHECK(fault.what() == std::string{one.message}); }
    }
    // Looked at beyond the number, to the end of the quotes.
    for (char const* text : {"a = 1\"\u044f\"", "a = 1.'\u044f'", "a = '\u044f\xff'"}) {
        CAPTURE(text);
        CHECK_THROWS_AS(parse_toml(text, "farm.toml"), invalid_input);
    }
}

TEST_CASE("a key of thousands of parts is refused and ends nothing") {
    std::string const sound = "a.b.c.d.e.f.g.h";
    CHECK(parse_toml(sound + " = 1.5\n", "farm.toml").find("a")->find("b") != nullptr);
    std::string dots;
    for (int i = 0; i < 20'000; ++i) { dots += ".a"; }
    std::string const message =
        "farm.toml:2: a key of more than 8 parts that are joined by dots (allowed: up to 8 "
        "parts); write [name] above it for the table that it stands in";
    for (std::string const& text :
         {"a" + dots + " = 1", "[a" + dots + "]", "[[ a" + dots + "]]", "a = { b" + dots + " = 1 }",
          "b = 1.5, \"a\"" + dots + " = 1", sound + " . \"q\" = 1"}) {
        try {
            (void)parse_toml("format = 1\n" + text + "\n", "farm.toml");
            FAIL("accepted");
        } catch (invalid_input const& fault) { CHECK(fault.what() == message); }
    }
}
