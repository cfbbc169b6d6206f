// What every edit does: takes the parts of a plan, finds by name what is to be changed, notes which
// fields no longer stand as they were written, and makes the new plan.
#ifndef EPICOTYL_SRC_PLAN_EDITOR_HPP
#define EPICOTYL_SRC_PLAN_EDITOR_HPP

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

class plan_editor {
public:
    explicit plan_editor(plan const& of) : of_{of}, parts_{of.parts()}, edits_{of.data_->edits} {}

    [[nodiscard]] plan const& before() const noexcept { return of_; }
    [[nodiscard]] plan_parts& parts() noexcept { return parts_; }

    /// Index among the parts, by name as written or id. Throws `invalid_input` with the nearest,
    /// and for one member of a repeat.
    [[nodiscard]] int succession_index(std::string_view name) const;
    [[nodiscard]] int place_index(std::string_view name) const;
    [[nodiscard]] int crop_index(std::string_view name) const;

    [[nodiscard]] succession& succession_at(int index) {
        return parts_.successions[static_cast<std::size_t>(index)];
    }

    /// A field, and all below it, that no longer is as it was written.
    void changed(std::string field);
    /// The same of a succession: `key` is "" for all of it, else begins with a point.
    void changed_succession(int index, std::string_view key = "");
    /// At the end.
    void add_succession(succession one);
    void remove_succession(int index);

    /// The plan with the changes. Throws `invalid_input` as a plan made of its parts does.
    [[nodiscard]] plan made() &&;

private:
    void number_successions();

    plan const& of_;
    plan_parts parts_;
    plan::edits edits_;
};

/// Gives an event's bound in a list another rule, or takes it out; throws `invalid_input` where
/// there is none to take out. `field` is that of the bound, `whose` the succession.
void set_bound(std::vector<event_bound>& bounds, std::string_view event, std::optional<rule> to,
               std::string const& field, std::string_view whose);

}  // namespace epicotyl::detail

#endif
