// The only file that knows toml++.
#include <algorithm>
#include <cctype>
#include <stdexcept>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/error.hpp>
#include <epicotyl/plan/plan_tree.hpp>

#include "toml_text.hpp"

namespace epicotyl::detail {

/// A text that toml++ asserts cannot occur.
struct toml_assertion : std::runtime_error {
    using std::runtime_error::runtime_error;
};

constexpr void toml_expects(bool met, char const* what) {
    if (!met) { throw toml_assertion{what}; }
}

}  // namespace epicotyl::detail

// toml++ 3.3 asserts what a broken text can break ("[=" is one), and without assertions takes it
// for granted. Here both become an exception.
#undef NDEBUG
#define TOML_ASSERT(expr) ::epicotyl::detail::toml_expects(static_cast<bool>(expr), #expr)
#include <toml++/toml.h>

namespace epicotyl {

namespace {

class tree_builder {
public:
    explicit tree_builder(std::string const& file_name) : file_{file_name} {}

    [[nodiscard]] plan_tree build(toml::node const& node, std::string const& path) const {
        return at_line(build_value(node, path), node.source().begin);
    }

private:
    /// By value, so that a tree of many levels is handed up and not copied in each of them.
    [[nodiscard]] static plan_tree at_line(plan_tree built, toml::source_position const& position) {
        built.at_line(static_cast<int>(position.line));
        return built;
    }

    [[nodiscard]] plan_tree build_value(toml::node const& node, std::string const& path) const {
        switch (node.type()) {
            case toml::node_type::table:
                return build_table(*node.as_table(), path);
            case toml::node_type::array:
                return build_list(*node.as_array(), path);
            case toml::node_type::string:
                return plan_tree{node.as_string()->get()};
            case toml::node_type::integer:
                return plan_tree{node.as_integer()->get()};
            case toml::node_type::floating_point:
                return plan_tree{node.as_floating_point()->get()};
            case toml::node_type::boolean:
                return plan_tree{node.as_boolean()->get()};
            case toml::node_type::date: {
                toml::date const& date = node.as_date()->get();
                return plan_tree{make_day(date.year, date.month, date.day)};
            }
            default:
                break;
        }
        throw invalid_input{{.code = "plan.time_of_day",
                             .file = file_,
                             .line = static_cast<int>(node.source().begin.line),
                             .field = path,
                             .problem = "a plan counts whole days and knows no time of day",
                             .remedy = "write the date alone, such as 2027-03-01"}};
    }

    [[nodiscard]] plan_tree build_list(toml::array const& array, std::string const& path) const {
        plan_tree list = plan_tree::list();
        int place = 0;
        for (toml::node const& item : array) {
            list.append(build(item, path + '[' + std::to_string(++place) + ']'));
        }
        return list;
    }

    /// toml++ sorts its tables by key; the order of the file is that of the keys' places in it.
    [[nodiscard]] plan_tree build_table(toml::table const& table, std::string const& path) const {
        std::vector<std::tuple<toml::source_position, toml::key const*, toml::node const*>> found;
        for (auto const& [key, node] : table) {
            found.emplace_back(key.source().begin, &key, &node);
        }
        std::sort(found.begin(), found.end(),
                  [](auto const& a, auto const& b) { return std::get<0>(a) < std::get<0>(b); });
        plan_tree built = plan_tree::table();
        for (auto const& [position, key, node] : found) {
            std::string const step = written_key(key->str());
            built.set(key->str(),
                      at_line(build(*node, path.empty() ? step : path + '.' + step), position));
        }
        return built;
    }

    std::string const& file_;
};

/// The line of the first table header that does not begin with a key; 0 where all do.
int broken_header_line(std::string_view text) {
    constexpr std::string_view blanks = " \t";
    int number = 0;
    while (!text.empty()) {
        ++number;
        std::string_view line = text.substr(0, text.find('\n'));
        text.remove_prefix(std::min(text.size(), line.size() + 1));
        line.remove_prefix(std::min(line.size(), line.find_first_not_of(blanks)));
        if (!line.starts_with('[')) { continue; }
        line.remove_prefix(line.starts_with("[[") ? 2 : 1);
        line.remove_prefix(std::min(line.size(), line.find_first_not_of(blanks)));
        bool const has_key =
            !line.empty() && (std::isalnum(static_cast<unsigned char>(line.front())) != 0 ||
                              std::string_view{"_-\"']"}.find(line.front()) != line.npos);
        if (!has_key) { return number; }
    }
    return 0;
}

}  // namespace

plan_tree parse_toml(std::string_view text, std::string const& file_name) {
    std::string const in_ascii = detail::toml_in_ascii(text, file_name);
    try {
        return tree_builder{file_name}.build(toml::parse(in_ascii, file_name), "").at_line(1);
    } catch (toml::parse_error const& trouble) {
        throw invalid_input{{.code = "toml.syntax",
                             .file = file_name,
                             .line = static_cast<int>(trouble.source().begin.line),
                             .problem = std::string{trouble.description()},
                             .remedy = "see toml.io for how TOML is written"}};
    } catch (detail::toml_assertion const&) {
        throw invalid_input{{.code = "toml.syntax",
                             .file = file_name,
                             .line = broken_header_line(text),
                             .problem = "a table header has no name that can be read",
                             .remedy = "write [name], or [[name]] for a table of a list"}};
    }
}

}  // namespace epicotyl
