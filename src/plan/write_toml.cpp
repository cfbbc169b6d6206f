#include <algorithm>
#include <cstddef>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "writer.hpp"

namespace epicotyl {

namespace detail {

namespace {

[[nodiscard]] bool is_list_of_tables(plan_tree const& node) {
    return node.is(plan_tree::kind::list) && !node.items().empty() &&
           std::all_of(node.items().begin(), node.items().end(),
                       [](plan_tree const& item) { return item.is(plan_tree::kind::table); });
}

class toml_writer {
public:
    explicit toml_writer(toml_layout const& layout) : layout_{layout} {}

    /// Writes what stands in a table: values first, sections after them, as TOML asks.
    void write_table(plan_tree const& table, std::string const& path) {
        std::vector<std::size_t> sections;
        for (std::size_t i = 0; i < table.keys().size(); ++i) {
            if (is_section(table.keys()[i], table.items()[i])) {
                sections.push_back(i);
            } else {
                std::string const key = written_key(table.keys()[i]);
                write_value(key, table.items()[i], path.empty() ? key : path + '.' + key);
            }
        }
        for (std::size_t const i : sections) {
            keys_.push_back(table.keys()[i]);
            std::string const key = written_key(table.keys()[i]);
            write_section(table.items()[i], path.empty() ? key : path + '.' + key);
            keys_.pop_back();
        }
    }

    [[nodiscard]] std::string const& text() const noexcept { return text_; }

private:
    [[nodiscard]] bool is_section(std::string const& key, plan_tree const& value) {
        if (!value.is(plan_tree::kind::table) && !is_list_of_tables(value)) { return false; }
        keys_.push_back(key);
        bool const is = layout_.is_section(keys_);
        keys_.pop_back();
        return is;
    }

    [[nodiscard]] std::string header() const {
        std::string header;
        for (std::string const& key : keys_) {
            if (!header.empty()) { header += '.'; }
            header += written_key(key);
        }
        return header;
    }

    void write_section(plan_tree const& node, std::string const& path) {
        if (node.is(plan_tree::kind::list)) {
            int place = 0;
            for (plan_tree const& item : node.items()) {
                text_ += fmt::format("\n[[{}]]\n", header());
                write_table(item, fmt::format("{}[{}]", path, ++place));
            }
            return;
        }
        // The header of a table that holds nothing but sections would say nothing.
        bool has_values = node.keys().empty();
        for (std::size_t i = 0; i < node.keys().size(); ++i) {
            has_values = has_values || !is_section(node.keys()[i], node.items()[i]);
        }
        if (has_values) { text_ += fmt::format("\n[{}]\n", header()); }
        write_table(node, path);
    }

    void write_value(std::string const& key, plan_tree const& value, std::string const& path) {
        text_ += key + " = ";
        if (is_list_of_tables(value)) {
            text_ += "[\n";
            for (plan_tree const& item : value.items()) {
                text_ += fmt::format("  {},\n", to_string(item));
            }
            text_ += ']';
        } else {
            text_ += to_string(value);
        }
        if (layout_.comment) {
            std::string const comment = layout_.comment(path, value);
            if (!comment.empty()) { text_ += "  # " + comment; }
        }
        text_ += '\n';
    }

    toml_layout const& layout_;
    std::vector<std::string> keys_;  ///< of the section being written
    std::string text_;
};

/// The sections of a plan file: [site], [places], [containers], [crops.NAME], [[succession]],
/// [succession.stage.EVENT], [[link]].
[[nodiscard]] bool is_usual_section(std::vector<std::string> const& keys) {
    std::string const& first = keys[0];
    switch (keys.size()) {
        case 1:
            return first != "defaults";
        case 2:
            return first == "crops" || (first == "succession" && keys[1] == "stage");
        case 3:
            return first == "succession" && keys[1] == "stage";
        default:
            return false;
    }
}

}  // namespace

std::string written_toml(plan_tree const& tree, toml_layout const& layout) {
    toml_writer writer{layout};
    writer.write_table(tree, "");
    return writer.text();
}

}  // namespace detail

std::string to_toml(plan const& of) {
    return detail::written_toml(to_tree(of), {detail::is_usual_section, {}});
}

}  // namespace epicotyl
