#include <epicotyl/plan/plan_bytes.hpp>

#include <bit>
#include <cstdint>
#include <unordered_map>
#include <utility>
#include <vector>

#include <zlib.h>

#include <epicotyl/error.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "readers.hpp"
#include "tree_bytes.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// Another form has another name, and goes on reading this one.
constexpr std::string_view form = "epicotyl plan 1\n";
constexpr int check_sum_bytes = 4;
/// A plan has no more than about ten levels.
constexpr int most_levels = 100;

[[noreturn]] void refuse_bytes() {
    throw invalid_input{{.code = "plan.bytes",
                         .field = "bytes",
                         .problem = "these bytes are no plan, or were changed on the way",
                         .remedy = "make the plan again from its file"}};
}

class byte_writer {
public:
    void add(plan_tree const& node) {
        text_ += static_cast<char>(node.what());
        switch (node.what()) {
            case plan_tree::kind::boolean:
                return add_number(node.as_boolean() ? 1U : 0U, 1);
            case plan_tree::kind::whole:
                return add_number(static_cast<std::uint64_t>(node.as_whole()), 8);
            case plan_tree::kind::number:
                return add_number(std::bit_cast<std::uint64_t>(node.as_number()), 8);
            case plan_tree::kind::text:
                return add_text(node.as_text());
            case plan_tree::kind::date: {
                std::int64_t const days = node.as_date().time_since_epoch().count();
                return add_number(static_cast<std::uint64_t>(days), 4);
            }
            case plan_tree::kind::list:
            case plan_tree::kind::table:
                break;
        }
        bool const is_table = node.is(plan_tree::kind::table);
        add_count(node.items().size());
        for (std::size_t i = 0; i < node.items().size(); ++i) {
            if (is_table) { add_key(node.keys()[i]); }
            add(node.items()[i]);
        }
    }

    [[nodiscard]] std::string take() && { return std::move(text_); }

private:
    void add_number(std::uint64_t value, int bytes) {
        for (int i = 0; i < bytes; ++i) { text_ += static_cast<char>(value >> (8 * i) & 0xffU); }
    }
    void add_count(std::size_t count) {
        for (; count >= 0x80U; count >>= 7U) { text_ += static_cast<char>(count | 0x80U); }
        text_ += static_cast<char>(count);
    }
    void add_text(std::string const& text) {
        add_count(text.size());
        text_ += text;
    }
    void add_key(std::string const& key) {
        auto const [at, is_new] = keys_.emplace(key, keys_.size());
        add_count(at->second);
        if (is_new) { add_text(key); }
    }

    std::string text_;
    std::unordered_map<std::string, std::size_t> keys_;
};

class byte_reader {
public:
    explicit byte_reader(std::string_view bytes) : left_{bytes} {}

    [[nodiscard]] plan_tree tree() {
        plan_tree read = node(most_levels);
        if (!left_.empty()) { refuse_bytes(); }
        return read;
    }

private:
    [[nodiscard]] plan_tree node(int levels) {
        auto const what = static_cast<plan_tree::kind>(number(1));
        switch (what) {
            case plan_tree::kind::boolean:
                return plan_tree{number(1) != 0};
            case plan_tree::kind::whole:
                return plan_tree{static_cast<std::int64_t>(number(8))};
            case plan_tree::kind::number:
                return plan_tree{std::bit_cast<double>(number(8))};
            case plan_tree::kind::text:
                return plan_tree{text()};
            case plan_tree::kind::date: {
                auto const count = static_cast<std::int32_t>(static_cast<std::uint32_t>(number(4)));
                return plan_tree{day{days{count}}};
            }
            case plan_tree::kind::list:
            case plan_tree::kind::table:
                if (levels > 0) { break; }
                [[fallthrough]];
            default:
                refuse_bytes();
        }
        std::size_t const size = count();
        if (what == plan_tree::kind::list) {
            std::vector<plan_tree> items;
            for (std::size_t i = 0; i < size; ++i) { items.push_back(node(levels - 1)); }
            return plan_tree::list(std::move(items));
        }
        plan_tree table = plan_tree::table();
        for (std::size_t i = 0; i < size; ++i) {
            std::string const name = key();
            if (table.find(name) != nullptr) { refuse_bytes(); }
            table.set(name, node(levels - 1));
        }
        return table;
    }

    [[nodiscard]] std::string_view taken(std::size_t bytes) {
        if (bytes > left_.size()) { refuse_bytes(); }
        std::string_view const taken = left_.substr(0, bytes);
        left_.remove_prefix(bytes);
        return taken;
    }
    [[nodiscard]] std::uint64_t number(std::size_t bytes) {
        std::uint64_t value = 0;
        std::string_view const lowest_first = taken(bytes);
        for (std::size_t i = bytes; i > 0; --i) {
            value = value << 8U | static_cast<unsigned char>(lowest_first[i - 1]);
        }
        return value;
    }
    [[nodiscard]] std::size_t count(std::size_t most) {
        std::size_t value = 0;
        for (unsigned shift = 0;; shift += 7) {
            std::size_t const byte = number(1);
            value |= (byte & 0x7fU) << shift;
            if (value > most || shift > 28) { refuse_bytes(); }
            if (byte < 0x80U) { return value; }
        }
    }
    /// Of things that take a byte at the least.
    [[nodiscard]] std::size_t count() { return count(left_.size()); }
    [[nodiscard]] std::string text() { return std::string{taken(count())}; }
    [[nodiscard]] std::string key() {
        std::size_t const at = count(keys_.size());
        if (at == keys_.size()) { keys_.push_back(text()); }
        return keys_[at];
    }

    std::string_view left_;
    std::vector<std::string> keys_;
};

[[nodiscard]] std::string check_sum_of(std::string_view bytes) {
    auto sum = crc32(0, reinterpret_cast<unsigned char const*>(bytes.data()),
                     static_cast<unsigned>(bytes.size()));
    std::string written;
    for (int i = 0; i < check_sum_bytes; ++i, sum >>= 8U) { written += static_cast<char>(sum); }
    return written;
}

}  // namespace

std::string bytes_of(plan_tree const& tree) {
    byte_writer writer;
    writer.add(tree);
    return std::move(writer).take();
}

plan_tree tree_of_bytes(std::string_view bytes) {
    return byte_reader{bytes}.tree();
}

std::string sealed(std::string_view bytes) {
    return std::string{form} + check_sum_of(bytes) + std::string{bytes};
}

std::string_view unsealed(std::string_view bytes) {
    std::size_t const head = form.size() + check_sum_bytes;
    if (bytes.size() < head || !bytes.starts_with(form)) { refuse_bytes(); }
    std::string_view const rest = bytes.substr(head);
    if (bytes.substr(form.size(), check_sum_bytes) != check_sum_of(rest)) { refuse_bytes(); }
    return rest;
}

}  // namespace detail

std::string to_bytes(plan const& of) {
    return detail::sealed(detail::bytes_of(to_tree(of)));
}

plan plan_from_bytes(std::string_view bytes) {
    return plan{detail::read_parts(detail::tree_of_bytes(detail::unsealed(bytes)))};
}

}  // namespace epicotyl
