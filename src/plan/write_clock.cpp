#include <cmath>
#include <cstdint>
#include <utility>
#include <variant>

#include <epicotyl/detail/whole.hpp>

#include "writer.hpp"

namespace epicotyl::detail {

namespace {

class clock_writer : number_writer {
public:
    clock_writer(unit_door const& door, bool full) : number_writer{door}, full_{full} {}

    [[nodiscard]] plan_tree tree(clock const& of) const {
        plan_tree table = std::visit([&](auto const& what) { return wait(what); }, of.what());
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
    [[nodiscard]] plan_tree wait(calendar_wait const& of) const {
        return plan_tree::table().set("days", count(of.days));
    }
    [[nodiscard]] plan_tree wait(heat_wait const& of) const {
        heat_wait const usual{of.amount, of.base, {}};
        plan_tree table = plan_tree::table();
        table.set("heat", number(of.amount));
        table.set("base", number(of.base));
        set_some(table, "upper", of.upper);
        if (of.method != usual.method || full_) {
            table.set("method", plan_tree{to_string(of.method)});
        }
        if (of.cutoff != usual.cutoff || full_) {
            table.set("cutoff", plan_tree{to_string(of.cutoff)});
        }
        return with_soil(std::move(table), of.soil);
    }
    [[nodiscard]] plan_tree wait(days_between_wait const& of) const {
        plan_tree table = plan_tree::table();
        table.set("days_between", count(of.days));
        table.set("low", number(of.low));
        table.set("high", number(of.high));
        return with_soil(std::move(table), of.soil);
    }
    [[nodiscard]] plan_tree wait(germination_wait const& of) const {
        plan_tree table = plan_tree::table();
        table.set("germination", number(of.amount));
        table.set("base", number(of.base));
        table.set("optimum", number(of.optimum));
        table.set("ceiling", number(of.ceiling));
        return with_soil(std::move(table), of.soil);
    }
    [[nodiscard]] plan_tree wait(clock_group const& of) const {
        plan_tree members = plan_tree::list();
        for (clock const& member : of.members) { members.append(tree(member)); }
        char const* const key = of.which == clock_group::decides::last ? "all" : "any";
        return plan_tree::table().set(key, std::move(members));
    }
    [[nodiscard]] static plan_tree with_soil(plan_tree table, bool soil) {
        if (soil) { table.set("soil", plan_tree{true}); }
        return table;
    }

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
