// A node of a plan's tree together with the path that names it in messages, and the questions the
// reader asks of it. Every answer is checked; a wrong one throws `invalid_input` with the field,
// the value as written, and what to write instead.
#ifndef EPICOTYL_SRC_PLAN_NODE_HPP
#define EPICOTYL_SRC_PLAN_NODE_HPP

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <epicotyl/error.hpp>
#include <epicotyl/plan/plan_tree.hpp>
#include <epicotyl/units.hpp>

#include "units.hpp"

namespace epicotyl::detail {

class plan_node {
public:
    plan_node(plan_tree const& tree, std::string path, unit_door const& door)
        : tree_{&tree}, path_{std::move(path)}, door_{&door} {}

    [[nodiscard]] plan_tree const& tree() const noexcept { return *tree_; }
    [[nodiscard]] std::string const& path() const noexcept { return path_; }
    [[nodiscard]] unit_door const& door() const noexcept { return *door_; }
    [[nodiscard]] bool is(plan_tree::kind one) const noexcept { return tree_->is(one); }
    /// The value as it is written, shortened where it is long.
    [[nodiscard]] std::string written() const;

    /// The node is a table with no other keys than these.
    void allow(std::vector<std::string_view> const& keys) const;
    /// The value of a key, none when the table does not have it.
    [[nodiscard]] std::optional<plan_node> get(std::string_view key) const;
    /// The value of a key that must be there.
    [[nodiscard]] plan_node need(std::string_view key, std::string_view remedy) const;
    /// Which of several keys, of which just one must be there, the table has.
    [[nodiscard]] std::string_view choose(std::vector<std::string_view> const& keys,
                                          std::string_view thing) const;
    /// The values of a table, each with its key.
    [[nodiscard]] std::vector<std::pair<std::string, plan_node>> entries() const;
    /// The items of a list.
    [[nodiscard]] std::vector<plan_node> items(std::string_view remedy) const;

    [[nodiscard]] double number(std::string_view unit = "") const;
    [[nodiscard]] int whole(std::string_view unit = "") const;
    [[nodiscard]] bool flag() const;
    [[nodiscard]] std::string text() const;
    /// A text that is not empty.
    [[nodiscard]] std::string name() const;
    [[nodiscard]] day date() const;
    /// Index of a text among the words that may stand here.
    [[nodiscard]] std::size_t word(std::span<std::string_view const> words,
                                   std::string_view thing) const;

    [[nodiscard]] temperature degrees() const;
    [[nodiscard]] temperature_span span_of_degrees() const;
    [[nodiscard]] thermal_time heat() const;
    /// A length or volume in the core's unit.
    [[nodiscard]] double measure(quantity what) const;
    /// What `make` returns; what it throws is said of this node.
    template <class Make>
    [[nodiscard]] auto said(Make make) const {
        try {
            return make();
        } catch (invalid_input const& fault) { throw fault.in_field(path_); }
    }

    [[nodiscard]] chance share() const {
        return said([&] { return chance{number()}; });
    }
    [[nodiscard]] epicotyl::reliability reliability() const {
        return said([&] { return epicotyl::reliability{number()}; });
    }

    [[noreturn]] void refuse(std::string code, std::string problem, std::string remedy,
                             std::string bound = "", std::string_view unit = "") const;

private:
    void want(plan_tree::kind one, std::string_view remedy) const;
    [[noreturn]] void refuse_kind(std::string_view wanted, std::string_view remedy) const;

    plan_tree const* tree_;
    std::string path_;
    unit_door const* door_;
};

}  // namespace epicotyl::detail

#endif
