#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/what_if/compare.hpp>

#include <algorithm>
#include <functional>
#include <map>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/weather/climate.hpp>

namespace epicotyl {

namespace {

/// A way into a tree: keys of tables, and names of the items of a list.
using steps = std::vector<std::string>;

/// What an item of a list is called: a succession by its name, else its crop, a stage by the event
/// that begins it; empty for other items.
std::string item_name(plan_tree const& item) {
    for (char const* key : {"name", "begins", "crop"}) {
        plan_tree const* const found = item.find(key);
        if (found != nullptr) { return found->as_text(); }
    }
    return "";
}

/// True when every item of a list has a name that no other has.
bool is_named(plan_tree const& list) {
    std::vector<std::string> names;
    for (plan_tree const& item : list.items()) {
        names.push_back(item.is(plan_tree::kind::table) ? item_name(item) : "");
    }
    std::sort(names.begin(), names.end());
    return !names.empty() && !names.front().empty() &&
           std::adjacent_find(names.begin(), names.end()) == names.end();
}

plan_tree const* child(plan_tree const& node, std::string const& step) {
    if (node.is(plan_tree::kind::table)) { return node.find(step); }
    for (plan_tree const& item : node.items()) {
        if (item_name(item) == step) { return &item; }
    }
    return nullptr;
}

/// Copies a tree with another node at the end of a way, or with none there (null).
class replacer {
public:
    replacer(steps const& way, plan_tree const* by) : way_{way}, by_{by} {}

    /// `node` is null where the tree has nothing at that step of the way.
    [[nodiscard]] plan_tree replaced(plan_tree const* node, std::size_t at = 0) const {
        if (at == way_.size()) { return *by_; }
        bool const is_list = node != nullptr && !node->is(plan_tree::kind::table);
        return is_list ? in_list(*node, at) : in_table(node, at);
    }

private:
    /// Nothing is left of what stands at the end of the way.
    [[nodiscard]] bool is_dropped(std::size_t at) const {
        return at + 1 == way_.size() && by_ == nullptr;
    }

    [[nodiscard]] plan_tree in_table(plan_tree const* node, std::size_t at) const {
        plan_tree made = plan_tree::table();
        bool met = false;
        for (std::size_t i = 0; node != nullptr && i < node->items().size(); ++i) {
            std::string const& key = node->keys()[i];
            plan_tree const& item = node->items()[i];
            met = met || key == way_[at];
            if (key != way_[at]) {
                made.set(key, item);
            } else if (!is_dropped(at)) {
                made.set(key, replaced(&item, at + 1));
            }
        }
        if (!met && by_ != nullptr) { made.set(way_[at], replaced(nullptr, at + 1)); }
        return made;
    }

    [[nodiscard]] plan_tree in_list(plan_tree const& node, std::size_t at) const {
        plan_tree made = plan_tree::list();
        bool met = false;
        for (plan_tree const& item : node.items()) {
            bool const is_it = item_name(item) == way_[at];
            met = met || is_it;
            if (!is_it) {
                made.append(item);
            } else if (!is_dropped(at)) {
                made.append(replaced(&item, at + 1));
            }
        }
        if (!met && by_ != nullptr) { made.append(replaced(nullptr, at + 1)); }
        return made;
    }

    steps const& way_;
    plan_tree const* by_;
};

/// Where two plans differ, field by field.
class difference_finder {
public:
    [[nodiscard]] std::vector<steps> find(plan_tree const& a, plan_tree const& b) {
        descend(a, b, {});
        return std::move(found_);
    }

private:
    /// How deep tables are opened: a field is a key of the site, a place, a crop, a stage, a
    /// succession. What stands in a field is one thing, such as a target or a clock.
    [[nodiscard]] static bool is_opened(steps const& way) {
        if (way.empty()) { return true; }
        std::string const& top = way.front();
        if (way.size() == 1) { return top != "link" && top != "events"; }
        bool const has_entries =
            top == "places" || top == "containers" || top == "crops" || top == "succession";
        if (way.size() == 2) { return has_entries; }
        bool const has_stages =
            (top == "crops" && way[2] == "stages") || (top == "succession" && way[2] == "stage");
        return has_stages && way.size() <= 4;
    }

    void descend(plan_tree const& a, plan_tree const& b, steps const& way) {
        if (a == b) { return; }
        if (!is_opened(way) || !items_correspond(a, b)) {
            found_.push_back(way);
            return;
        }
        auto const with = [&](std::string step) {
            steps longer = way;
            longer.push_back(std::move(step));
            return longer;
        };
        for (std::size_t i = 0; i < a.items().size(); ++i) {
            plan_tree const* const other = child(b, name_in(a, i));
            if (other == nullptr) {
                found_.push_back(with(name_in(a, i)));
            } else {
                descend(a.items()[i], *other, with(name_in(a, i)));
            }
        }
        for (std::size_t i = 0; i < b.items().size(); ++i) {
            if (child(a, name_in(b, i)) == nullptr) { found_.push_back(with(name_in(b, i))); }
        }
    }

    [[nodiscard]] static std::string name_in(plan_tree const& of, std::size_t i) {
        return of.is(plan_tree::kind::table) ? of.keys()[i] : item_name(of.items()[i]);
    }

    /// True for two tables, and for two lists whose items can be told apart and come in one order.
    [[nodiscard]] static bool items_correspond(plan_tree const& a, plan_tree const& b) {
        if (a.is(plan_tree::kind::table)) { return b.is(plan_tree::kind::table); }
        return a.is(plan_tree::kind::list) && b.is(plan_tree::kind::list) && is_named(a) &&
               is_named(b) && !order_differs(a, b);
    }

    /// True when items that both lists have come in another order.
    [[nodiscard]] static bool order_differs(plan_tree const& a, plan_tree const& b) {
        std::vector<std::string> in_a;
        std::vector<std::string> in_b;
        for (plan_tree const& item : a.items()) {
            if (child(b, item_name(item)) != nullptr) { in_a.push_back(item_name(item)); }
        }
        for (plan_tree const& item : b.items()) {
            if (child(a, item_name(item)) != nullptr) { in_b.push_back(item_name(item)); }
        }
        return in_a != in_b;
    }

    std::vector<steps> found_;
};

plan_tree const* node_at(plan_tree const& tree, steps const& way) {
    plan_tree const* node = &tree;
    for (std::string const& step : way) { node = node == nullptr ? nullptr : child(*node, step); }
    return node;
}

std::string written(steps const& way) {
    std::string text;
    for (std::string const& step : way) {
        if (!text.empty()) { text += '.'; }
        text += written_key(step);
    }
    return text;
}

std::vector<moved_event> moves_between(calendar const& before, calendar const& after) {
    std::map<std::pair<std::string, std::string>, std::optional<day>> later;
    for (auto const& event : after.events()) {
        later.emplace(event, after.date(event.first, event.second));
    }
    std::vector<moved_event> moved;
    for (auto const& event : before.events()) {
        std::optional<day> const was = before.date(event.first, event.second);
        auto const found = later.find(event);
        std::optional<day> const is = found == later.end() ? std::nullopt : found->second;
        if (was != is) { moved.push_back({event.first, event.second, was, is}); }
        if (found != later.end()) { later.erase(found); }
    }
    for (auto const& event : after.events()) {
        auto const found = later.find(event);
        if (found != later.end() && found->second) {
            moved.push_back({event.first, event.second, std::nullopt, found->second});
        }
    }
    return moved;
}

/// The tree of a plan in given units, without its title.
plan_tree tree_in(plan const& of, unit_system units) {
    plan_parts parts = of.parts();
    parts.units = units;
    parts.title.clear();
    return to_tree(plan{std::move(parts)});
}

}  // namespace

calendar_comparison compare(calendar const& before, calendar const& after) {
    unit_system const units = before.plan().parts().units;
    calendar_comparison found{.moved = moves_between(before, after), .units = units};
    plan_tree const a = tree_in(before.plan(), units);
    plan_tree const b = tree_in(after.plan(), units);

    auto const try_alone = [&](changed_input input, std::function<calendar()> const& changed) {
        try {
            input.moves = moves_between(before, changed());
        } catch (invalid_input const&) { input.stands_alone = false; }
        found.inputs.push_back(std::move(input));
    };
    for (steps const& way : difference_finder{}.find(a, b)) {
        plan_tree const* const was = node_at(a, way);
        plan_tree const* const is = node_at(b, way);
        try_alone({.field = written(way),
                   .before = was == nullptr ? "" : to_string(*was),
                   .after = is == nullptr ? "" : to_string(*is)},
                  [&] {
                      return schedule(plan_from_tree(replacer{way, is}.replaced(&a)),
                                      before.climate(), before.reliability());
                  });
    }
    if (before.climate() != after.climate()) {
        try_alone({.field = "season years",
                   .before = before.climate().year_note(units),
                   .after = after.climate().year_note(units)},
                  [&] { return schedule(before.plan(), after.climate(), before.reliability()); });
    }
    if (before.reliability() != after.reliability()) {
        try_alone({.field = "reliability",
                   .before = fmt::format("{:g}", before.reliability().value()),
                   .after = fmt::format("{:g}", after.reliability().value())},
                  [&] { return schedule(before.plan(), before.climate(), after.reliability()); });
    }
    for (moved_event const& one : found.moved) {
        bool const is_explained =
            std::any_of(found.inputs.begin(), found.inputs.end(), [&](changed_input const& input) {
                return std::any_of(
                    input.moves.begin(), input.moves.end(), [&](moved_event const& other) {
                        return other.succession == one.succession && other.event == one.event;
                    });
            });
        if (!is_explained) { found.together.push_back(one); }
    }
    return found;
}

}  // namespace epicotyl
