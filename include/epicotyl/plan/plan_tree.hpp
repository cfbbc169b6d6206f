// epicotyl: a tree of tables, the neutral form of a plan file.
//
// A plan can come from a TOML file or from the tables of a scripting language. Both become this
// tree first, and one reader reads it, so both doors accept and refuse the same things. A node is
// a boolean, a whole number, a number, a text, a date, a list or a table. Tables keep the order in
// which their keys were written. A node knows its line in the file, 0 where there is none.
//
//     plan_tree place = plan_tree::table();
//     place.set("for", plan_tree::list({plan_tree{"grow"}}));
//     place.set("warmer_night", plan_tree{2.5});
//     place.find("for")->items().size();           // 1
//
// A place in the tree is named as in messages: keys joined by dots, places in a list counted from
// 1 in brackets, keys that are not plain words in quotes.
//
//     tree.find_path("succession[3].target.event")
//     tree.line_of("containers.\"plug 104\".cells")
//
// Reading a node as what it is not is an error of the program, not of its input: the reader asks
// `what()` first. `as_...` then throws std::bad_variant_access.
#ifndef EPICOTYL_PLAN_PLAN_TREE_HPP
#define EPICOTYL_PLAN_PLAN_TREE_HPP

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include <epicotyl/days.hpp>

namespace epicotyl {

class plan_tree {
public:
    enum class kind { boolean, whole, number, text, date, list, table };

    explicit plan_tree(std::same_as<bool> auto value) : value_{value} {}
    template <std::signed_integral Whole>
    explicit plan_tree(Whole value) : value_{static_cast<std::int64_t>(value)} {}
    explicit plan_tree(double value) : value_{value} {}
    explicit plan_tree(std::string value) : value_{std::move(value)} {}
    explicit plan_tree(std::string_view value) : value_{std::string{value}} {}
    explicit plan_tree(char const* value) : value_{std::string{value}} {}
    explicit plan_tree(day value) : value_{value} {}

    /// A list of nodes.
    [[nodiscard]] static plan_tree list(std::vector<plan_tree> items = {}) {
        return plan_tree{content{std::move(items)}};
    }
    /// A table without entries.
    [[nodiscard]] static plan_tree table() { return plan_tree{content{entries{}}}; }

    [[nodiscard]] kind what() const noexcept { return static_cast<kind>(value_.index()); }
    [[nodiscard]] bool is(kind one) const noexcept { return what() == one; }

    [[nodiscard]] bool as_boolean() const { return std::get<bool>(value_); }
    [[nodiscard]] std::int64_t as_whole() const { return std::get<std::int64_t>(value_); }
    /// A number, or a whole number as one.
    [[nodiscard]] double as_number() const {
        return is(kind::whole) ? static_cast<double>(as_whole()) : std::get<double>(value_);
    }
    [[nodiscard]] std::string const& as_text() const { return std::get<std::string>(value_); }
    [[nodiscard]] day as_date() const { return std::get<day>(value_); }

    /// The nodes of a list, or the values of a table.
    [[nodiscard]] std::vector<plan_tree> const& items() const {
        return is(kind::table) ? std::get<entries>(value_).values
                               : std::get<std::vector<plan_tree>>(value_);
    }
    /// The keys of a table, one for each of its items.
    [[nodiscard]] std::vector<std::string> const& keys() const {
        return std::get<entries>(value_).keys;
    }

    /// Adds a node at the end of a list.
    plan_tree& append(plan_tree item) {
        std::get<std::vector<plan_tree>>(value_).push_back(std::move(item));
        return *this;
    }
    /// Gives a table a key at its end, or the key that it has a new value.
    plan_tree& set(std::string_view key, plan_tree value);

    /// The value of a key, nullptr when the node is no table or has no such key.
    [[nodiscard]] plan_tree const* find(std::string_view key) const;
    /// The node at a path, nullptr when there is none. An empty path is the node itself.
    [[nodiscard]] plan_tree const* find_path(std::string_view path) const;

    /// 1-based line in the file, 0 when not known.
    [[nodiscard]] int line() const noexcept { return line_; }
    plan_tree& at_line(int line) noexcept {
        line_ = line;
        return *this;
    }
    /// Line of the node at a path, or of the nearest node above it that has one; 0 when none has.
    [[nodiscard]] int line_of(std::string_view path) const;

    /// Same values in the same order; lines do not count.
    friend bool operator==(plan_tree const& a, plan_tree const& b) { return a.value_ == b.value_; }

private:
    struct entries {
        std::vector<std::string> keys;
        std::vector<plan_tree> values;

        friend bool operator==(entries const& a, entries const& b) {
            return a.keys == b.keys && a.values == b.values;
        }
    };
    using content =
        std::variant<bool, std::int64_t, double, std::string, day, std::vector<plan_tree>, entries>;

    explicit plan_tree(content value) : value_{std::move(value)} {}

    content value_;
    int line_ = 0;
};

/// Reads the text of a TOML 1.0 file. `file_name` is used in messages only. Throws `invalid_input`
/// with file and line where it is not TOML, and for times of day, which no plan has.
[[nodiscard]] plan_tree parse_toml(std::string_view text, std::string const& file_name = "plan");

/// A key as it is written in TOML and in paths: as it is when it is a plain word (letters, digits,
/// "_" and "-" of ASCII), else as a quoted text.
[[nodiscard]] std::string written_key(std::string_view key);
/// A node as a TOML value on one line: 2.5, "text", 2027-03-01, [1, 2], { key = 1 }. Numbers have
/// as many digits as it takes to read the same number again.
[[nodiscard]] std::string to_string(plan_tree const& node);

/// "a text", "a list" ...: what a node is, for messages.
[[nodiscard]] constexpr std::string_view kind_name(plan_tree::kind what) noexcept {
    constexpr std::array<std::string_view, 7> names = {
        "true or false", "a whole number", "a number", "a text", "a date", "a list", "a table"};
    return names[static_cast<std::size_t>(what)];
}

}  // namespace epicotyl

#endif
