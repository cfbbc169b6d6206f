#include <string>

#include "catch.hpp"

#include "../../src/detail/wrapped.hpp"

using epicotyl::detail::wrapped;

namespace {

/// A line of words with as many columns as are asked for.
std::string line_of(std::size_t columns) {
    std::string text;
    while (text.size() < columns) { text += "leek "; }
    text.resize(columns);
    if (text.back() == ' ') { text.back() = 'k'; }
    return text;
}

}  // namespace

TEST_CASE("what fits on a page stays as it is") {
    CHECK(wrapped("").empty());
    CHECK(wrapped("\n\n") == "\n\n");
    CHECK(wrapped(line_of(100)) == line_of(100));
    CHECK(wrapped(line_of(100) + '\n' + line_of(100) + '\n') ==
          line_of(100) + '\n' + line_of(100) + '\n');
}

TEST_CASE("a longer line goes on in the next, four columns further in than it began") {
    std::string const word(60, 'o');
    CHECK(wrapped("  " + word + ' ' + word + ' ' + word + "\nleek\n") ==
          "  " + word + "\n      " + word + "\n      " + word + "\nleek\n");
    std::string const deep(40, ' ');
    CHECK(wrapped(deep + "leek\n" + deep + word + ' ' + word) ==
          deep + "leek\n" + deep + word + '\n' + deep + "    " + word);
}

TEST_CASE("nothing but blanks at the breaks is lost") {
    std::string const text = line_of(350);
    std::string again;
    for (char c : wrapped(text)) {
        if (c != ' ' && c != '\n') { again += c; }
    }
    std::string words;
    for (char c : text) {
        if (c != ' ') { words += c; }
    }
    CHECK(again == words);
}

TEST_CASE("columns are letters, not bytes, and a word longer than a line stays whole") {
    std::string minus;
    for (int i = 0; i < 50; ++i) { minus += "\u2212 "; }
    minus.pop_back();
    CHECK(epicotyl::detail::columns_of(minus) == 99);
    CHECK(wrapped(minus) == minus);
    std::string const word(120, 'o');
    CHECK(wrapped(word) == word);
    CHECK(wrapped("leek " + word + " leek") == "leek\n    " + word + "\n    leek");
}
