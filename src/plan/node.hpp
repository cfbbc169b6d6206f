// A node of a plan's tree together with the path that names it in messages, and the questions the
// reader asks of it. Every answer is checked; a wrong one throws `invalid_input` with the field,
// the value as written, and what to write instead.
//
// A node refers to the one that it was asked of, and to the tree: both must outlive it.
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
        : tree_{&tree}, door_{&door}, start_{std::move(path)} {}

    [[nodiscard]] plan_tree const& tree() const noexcept { return *tree_; }
    /// Written out only when it is asked for, which is when the node is refused.
    [[nodiscard]] std::string path() const;
    [[nodiscard]] unit_door const& door() const noexcept { return *door_; }
    [[nodiscard]] bool is(plan_tree::kind one) const noexcept { return tree_->is(one); }
    /// The value as it is written, shortened where it is long.
    [[nodiscard]] std::string written() const;

    /// The node is a table with no other keys than these and `more`.
    void allow(std::vector<std::string_view> const& keys,
               std::vector<std::string_view> const& more = {}) const;
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
        } catch (invalid_input const& fault) { throw fault.in_field(path()); }
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
    /// What stands below another, under a key or as one of a list.
    plan_node(plan_tree const& tree, plan_node const& above, std::string_view key, int number)
        : tree_{&tree}, door_{above.door_}, above_{&above}, key_{key}, number_{number} {}

    [[nodiscard]] std::string path_to(std::string_view key) const;
    void want(plan_tree::kind one, std::string_view remedy) const;
    [[noreturn]] void refuse_kind(std::string_view wanted, std::string_view remedy) const;

    plan_tree const* tree_;
    unit_door const* door_;
    std::string start_ = {};  ///< path of a node that is not below another
    plan_node const* above_ = nullptr;
    std::string_view key_ = {};
    int number_ = 0;  ///< in a list, from 1; 0 of what has a key
};

}  // namespace epicotyl::detail

#endif
