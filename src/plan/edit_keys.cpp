#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/plan.hpp>

#include <algorithm>
#include <utility>

#include "check.hpp"
#include "editor.hpp"
#include "keys.hpp"
#include "readers.hpp"
#include "writer.hpp"

namespace epicotyl {

namespace detail {

namespace {

using names = std::vector<std::string>;

[[nodiscard]] plan_tree without(plan_tree const& table, names const& keys) {
    plan_tree left = plan_tree::table();
    for (std::size_t i = 0; i < table.keys().size(); ++i) {
        std::string const& key = table.keys()[i];
        if (std::find(keys.begin(), keys.end(), key) == keys.end()) {
            left.set(key, table.items()[i]);
        }
    }
    return left;
}

/// Of keys that exclude each other the others go when one of them is given.
void drop_rivals(names& dropped, plan_tree const& given, names const& rivals) {
    bool const is_given = std::any_of(rivals.begin(), rivals.end(), [&](std::string const& one) {
        return given.find(one) != nullptr;
    });
    if (!is_given) { return; }
    for (std::string const& one : rivals) {
        if (given.find(one) == nullptr) { dropped.push_back(one); }
    }
}

/// What is to become of a table, and the path that names it in messages.
class table_change {
public:
    table_change(plan_tree const& given, names without, std::string path, unit_system units)
        : given_{given}, dropped_{std::move(without)}, path_{std::move(path)}, door_{units} {
        (void)node(given_).entries();
    }

    [[nodiscard]] std::string const& path() const noexcept { return path_; }
    [[nodiscard]] plan_node node(plan_tree const& tree) const { return node(tree, path_); }
    [[nodiscard]] plan_node node(plan_tree const& tree, std::string path) const {
        return {tree, std::move(path), door_};
    }

    /// Refuses keys that are not among these, to set and to leave out.
    void allow(std::vector<std::string_view> const& keys) const {
        plan_tree all = given_;
        for (std::string const& key : dropped_) { all.set(key, plan_tree{false}); }
        node(all).allow(keys);
    }
    void drop_rivals_of(names const& rivals) { drop_rivals(dropped_, given_, rivals); }

    [[nodiscard]] plan_tree applied(plan_tree const& before) const {
        plan_tree after = without(before, dropped_);
        for (std::size_t i = 0; i < given_.keys().size(); ++i) {
            after.set(given_.keys()[i], given_.items()[i]);
        }
        return after;
    }

    /// Every key that is set or left out.
    [[nodiscard]] names touched() const {
        names all = given_.keys();
        all.insert(all.end(), dropped_.begin(), dropped_.end());
        return all;
    }

private:
    plan_tree const& given_;
    names dropped_;
    std::string path_;
    unit_door door_;
};

/// A succession with keys changed below one of its own keys, or of itself where `key` is empty.
template <class Change>
[[nodiscard]] plan edited(plan const& of, std::string_view name, std::string const& key,
                          plan_tree const& given, names const& dropped, Change const& apply) {
    plan_editor editor{of};
    int const index = editor.succession_index(name);
    table_change change{given, dropped, succession_field(index) + key, editor.parts().units};
    apply(editor, editor.succession_at(index), change);
    for (std::string const& one : change.touched()) {
        editor.changed_succession(index, key + '.' + written_key(one));
    }
    return std::move(editor).made();
}

/// True where the plan's file gives a stage of a succession's crop its wait as a pair of weeks. Of
/// a crop that an edit has given other stages the file says nothing any more.
[[nodiscard]] bool is_pair_in_file(plan_editor const& editor, succession const& one,
                                   std::string_view begins) {
    plan_tree const* const source = editor.before().source();
    plan_tree const* const crops = source == nullptr ? nullptr : source->find("crops");
    std::vector<crop> const& all = editor.before().parts().crops;
    auto const grown = std::find_if(all.begin(), all.end(), [&](crop const& other) {
        return other.name == one.crop || (!other.id.empty() && other.id == one.crop);
    });
    return crops != nullptr && grown != all.end() && crops->find(grown->name) != nullptr &&
           !editor.before().is_edited(crop_field(*grown) + ".stages") &&
           waits_by_a_pair(*crops, grown->name, begins);
}

/// Another wait ends a hold that came with a pair of weeks.
void end_replaced_hold(plan_editor const& editor, succession const& one, stage_change& change) {
    if (change.takes && !change.hold && is_pair_in_file(editor, one, change.begins)) {
        change.hold = any_hold;
    }
}
void end_replaced_holds(plan_editor const& editor, succession& one) {
    for (stage_change& change : one.changes) { end_replaced_hold(editor, one, change); }
}

[[nodiscard]] plan with_bounds(plan const& of, std::string_view name, bool not_before,
                               plan_tree const& bounds, names const& dropped) {
    std::string const key = not_before ? ".not_before" : ".not_after";
    return edited(of, name, key, bounds, dropped,
                  [&](plan_editor&, succession& one, table_change const& change) {
                      std::vector<event_bound>& all = not_before ? one.not_before : one.not_after;
                      for (std::string const& event : dropped) {
                          std::string const field = change.path() + '.' + written_key(event);
                          set_bound(all, event, std::nullopt, field, name);
                      }
                      all = merged_bounds(std::move(all),
                                          read_bounds(change.node(bounds), not_before));
                  });
}

}  // namespace

}  // namespace detail

plan with_succession_keys(plan const& of, std::string_view name, plan_tree const& keys,
                          std::vector<std::string> const& without) {
    return detail::edited(
        of, name, "", keys, without,
        [&](detail::plan_editor& editor, succession& one, detail::table_change& change) {
            change.allow(detail::keys_of<succession>());
            change.drop_rivals_of({"plants", "trays", "bed"});
            plan_tree const written = change.applied(detail::tree_of(editor.parts(), one));
            one = detail::read_succession(change.node(written));
            if (keys.find("stage") != nullptr || keys.find("crop") != nullptr) {
                detail::end_replaced_holds(editor, one);
            }
        });
}

plan with_added_succession_keys(plan const& of, plan_tree const& keys) {
    detail::plan_editor editor{of};
    int const index = static_cast<int>(editor.parts().successions.size());
    detail::table_change const change{
        keys, {}, detail::succession_field(index), editor.parts().units};
    succession one = detail::read_succession(change.node(keys));
    detail::end_replaced_holds(editor, one);
    editor.add_succession(std::move(one));
    return std::move(editor).made();
}

plan with_target_keys(plan const& of, std::string_view name, plan_tree const& keys) {
    detail::plan_editor editor{of};
    int const index = editor.succession_index(name);
    succession& one = editor.succession_at(index);
    detail::table_change const change{
        keys, {}, detail::succession_field(index) + ".target", editor.parts().units};
    detail::plan_node const node = change.node(keys);
    rule const aim = detail::read_rule(node, {"event"});
    auto const event = node.get("event");
    one.target = {event ? event->name() : one.target.event, aim};
    editor.changed_succession(index, ".target");
    return std::move(editor).made();
}

plan with_not_before_keys(plan const& of, std::string_view name, plan_tree const& bounds,
                          std::vector<std::string> const& without) {
    return detail::with_bounds(of, name, true, bounds, without);
}

plan with_not_after_keys(plan const& of, std::string_view name, plan_tree const& bounds,
                         std::vector<std::string> const& without) {
    return detail::with_bounds(of, name, false, bounds, without);
}

plan with_stage_change_keys(plan const& of, std::string_view name, std::string_view begins,
                            plan_tree const& keys, std::vector<std::string> const& without) {
    return detail::edited(
        of, name, ".stage." + written_key(begins), keys, without,
        [&](detail::plan_editor& editor, succession& one, detail::table_change& change) {
            change.allow(detail::keys_of<stage_change>());
            change.drop_rivals_of({"container", "spacing"});
            auto found =
                std::find_if(one.changes.begin(), one.changes.end(),
                             [&](stage_change const& other) { return other.begins == begins; });
            plan_tree before = plan_tree::table();
            if (found != one.changes.end()) {
                before = detail::tree_of(editor.parts(), *found);
            } else {
                found = one.changes.insert(found, stage_change{.begins = std::string{begins}});
            }
            plan_tree const written = change.applied(before);
            *found = detail::read_stage_change(std::string{begins}, change.node(written));
            detail::end_replaced_hold(editor, one, *found);
        });
}

plan with_place_keys(plan const& of, std::string_view name, plan_tree const& keys,
                     std::vector<std::string> const& without) {
    detail::plan_editor editor{of};
    place& one = editor.parts().places[static_cast<std::size_t>(editor.place_index(name))];
    std::string const field = detail::place_field(one);
    detail::table_change const change{keys, without, field, editor.parts().units};
    change.allow(detail::keys_of<place>());
    plan_tree const written = change.applied(detail::tree_of(editor.parts(), one));
    one = detail::read_place(one.name, change.node(written));
    for (std::string const& key : change.touched()) {
        editor.changed(field + '.' + written_key(key));
    }
    return std::move(editor).made();
}

plan with_crop_keys(plan const& of, std::string_view name, plan_tree const& keys,
                    std::vector<std::string> const& without) {
    detail::plan_editor editor{of};
    crop& one = editor.parts().crops[static_cast<std::size_t>(editor.crop_index(name))];
    std::string const field = detail::crop_field(one);
    detail::table_change const change{keys, without, field, editor.parts().units};
    // In a plan every crop has all of its own, and is like no other.
    change.allow(detail::keys_of<crop>());
    plan_tree crops = plan_tree::table();
    crops.set(one.name, change.applied(detail::tree_of(editor.parts(), one)));
    one = detail::read_crops(change.node(crops, "crops")).front();
    for (std::string const& key : change.touched()) {
        editor.changed(field + '.' + written_key(key));
    }
    return std::move(editor).made();
}

}  // namespace epicotyl
