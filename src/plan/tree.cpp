#include <epicotyl/plan/plan_tree.hpp>

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace epicotyl {

namespace {

[[nodiscard]] bool is_plain_word(std::string_view key) {
    return !key.empty() && std::all_of(key.begin(), key.end(), [](char letter) {
        return (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') ||
               (letter >= '0' && letter <= '9') || letter == '_' || letter == '-';
    });
}

/// A basic string of TOML: in quotes, with what cannot stand there escaped.
[[nodiscard]] std::string in_quotes(std::string_view text) {
    std::string written = "\"";
    for (char const letter : text) {
        unsigned char const code = static_cast<unsigned char>(letter);
        if (letter == '"' || letter == '\\') {
            written += '\\';
            written += letter;
        } else if (letter == '\n') {
            written += "\\n";
        } else if (letter == '\t') {
            written += "\\t";
        } else if (code < 0x20 || code == 0x7f) {
            written += fmt::format("\\u{:04X}", code);
        } else {
            written += letter;
        }
    }
    return written + '"';
}

/// The shortest decimal that reads back as the same number, with a point so that it stays one.
[[nodiscard]] std::string written_number(double value) {
    std::string written = fmt::format("{}", value);
    if (std::isfinite(value) && written.find_first_of(".e") == std::string::npos) {
        written += ".0";
    }
    return written;
}

/// Cuts the first step off a path: "[3]", or a key as written. Empty at the end of the path, and
/// where the path is not well formed.
[[nodiscard]] std::string_view next_step(std::string_view& path) {
    if (path.starts_with('.')) { path.remove_prefix(1); }
    std::size_t end = 0;
    if (path.starts_with('"')) {
        end = 1;
        while (end < path.size() && path[end] != '"') { end += path[end] == '\\' ? 2 : 1; }
        end = std::min(end + 1, path.size());
    } else if (path.starts_with('[')) {
        end = std::min(path.find(']'), path.size() - 1) + 1;
    } else {
        end = std::min(path.find_first_of(".["), path.size());
    }
    std::string_view const step = path.substr(0, end);
    path.remove_prefix(end);
    return step;
}

[[nodiscard]] plan_tree const* follow(plan_tree const& node, std::string_view step) {
    if (step.starts_with('[')) {
        std::size_t place = 0;
        for (char const digit : step.substr(1, step.size() - 2)) {
            if (digit < '0' || digit > '9' || place > 100'000'000) { return nullptr; }
            place = 10 * place + static_cast<std::size_t>(digit - '0');
        }
        bool const there =
            node.is(plan_tree::kind::list) && place >= 1 && place <= node.items().size();
        return there ? &node.items()[place - 1] : nullptr;
    }
    if (!node.is(plan_tree::kind::table)) { return nullptr; }
    for (std::size_t i = 0; i < node.keys().size(); ++i) {
        if (written_key(node.keys()[i]) == step) { return &node.items()[i]; }
    }
    return nullptr;
}

}  // namespace

plan_tree& plan_tree::set(std::string_view key, plan_tree value) {
    entries& own = std::get<entries>(value_);
    auto const at = std::find(own.keys.begin(), own.keys.end(), key);
    if (at == own.keys.end()) {
        own.keys.emplace_back(key);
        own.values.push_back(std::move(value));
    } else {
        own.values[static_cast<std::size_t>(at - own.keys.begin())] = std::move(value);
    }
    return *this;
}

plan_tree const* plan_tree::find(std::string_view key) const {
    entries const* own = std::get_if<entries>(&value_);
    if (own == nullptr) { return nullptr; }
    auto const at = std::find(own->keys.begin(), own->keys.end(), key);
    if (at == own->keys.end()) { return nullptr; }
    return &own->values[static_cast<std::size_t>(at - own->keys.begin())];
}

plan_tree const* plan_tree::find_path(std::string_view path) const {
    plan_tree const* node = this;
    while (node != nullptr && !path.empty()) { node = follow(*node, next_step(path)); }
    return node;
}

int plan_tree::line_of(std::string_view path) const {
    plan_tree const* node = this;
    int line = line_;
    while (!path.empty()) {
        node = follow(*node, next_step(path));
        if (node == nullptr) { break; }
        if (node->line_ > 0) { line = node->line_; }
    }
    return line;
}

std::string written_key(std::string_view key) {
    return is_plain_word(key) ? std::string{key} : in_quotes(key);
}

std::string to_string(plan_tree const& node) {
    switch (node.what()) {
        case plan_tree::kind::boolean:
            return node.as_boolean() ? "true" : "false";
        case plan_tree::kind::whole:
            return fmt::format("{}", node.as_whole());
        case plan_tree::kind::number:
            return written_number(node.as_number());
        case plan_tree::kind::text:
            return in_quotes(node.as_text());
        case plan_tree::kind::date:
            return to_iso(node.as_date());
        case plan_tree::kind::list:
        case plan_tree::kind::table:
            break;
    }
    bool const is_table = node.is(plan_tree::kind::table);
    std::string written;
    for (std::size_t i = 0; i < node.items().size(); ++i) {
        if (i > 0) { written += ", "; }
        if (is_table) { written += written_key(node.keys()[i]) + " = "; }
        written += to_string(node.items()[i]);
    }
    if (!is_table) { return '[' + written + ']'; }
    return written.empty() ? "{}" : "{ " + written + " }";
}

}  // namespace epicotyl
