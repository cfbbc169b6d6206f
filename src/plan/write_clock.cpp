#include <cmath>
#include <cstdint>
#include <utility>
#include <variant>

#include <epicotyl/detail/overloaded.hpp>
#include <epicotyl/detail/whole.hpp>

#include "writer.hpp"

namespace epicotyl::detail {

namespace {

class clock_writer : number_writer {
public:
    clock_writer(unit_door const& door, bool full) : number_writer{door}, full_{full} {}

    [[nodiscard]] plan_tree tree(clock const& of) const {
        plan_tree table = plan_tree::table();
        std::visit(overloaded{[&](clock_group const& group) {
                                  plan_tree members = plan_tree::list();
                                  for (clock const& one : group.members) {
                                      members.append(tree(one));
                                  }
                                  table.set(group.key(), std::move(members));
                              },
                              [&](simple_wait auto const& wait) {
                                  set_keys(table, wait, full_);
                                  if (is_of_soil(wait)) { table.set("soil", plan_tree{true}); }
                              }},
                   of.what());
        if (of.gate()) {
            plan_tree gate = plan_tree::table();
            gate.set(of.gate()->at_least ? "day_length_at_least" : "day_length_at_most",
                     plan_tree{of.gate()->hours});
            gate.set("otherwise", plan_tree{of.gate()->otherwise});
            table.set("gate", std::move(gate));
        }
        return table;
    }

private:
    bool full_;
};

}  // namespace

plan_tree count(double value) {
    constexpr double largest_exact = 1e15;
    if (value == std::floor(value) && std::abs(value) < largest_exact) {
        return plan_tree{whole_of<std::int64_t>(value)};
    }
    return plan_tree{value};
}

plan_tree tree_of(clock const& of, unit_door const& door, bool full) {
    return clock_writer{door, full}.tree(of);
}

}  // namespace epicotyl::detail
