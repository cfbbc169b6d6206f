// What is checked of a plan, however it was made. Everything throws `invalid_input` with the field
// named as in a plan file.
#ifndef EPICOTYL_SRC_PLAN_CHECK_HPP
#define EPICOTYL_SRC_PLAN_CHECK_HPP

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include <epicotyl/plan/plan.hpp>

#include "units.hpp"

namespace epicotyl::detail {

/// Years in which a season may begin: what a date of TOML can say, with room for the longest.
inline constexpr int first_season_year = 1;
inline constexpr int last_season_year = 9990;

/// Place of each name and each id in its list.
using name_index = std::unordered_map<std::string, int>;

/// "places.mat", "crops.snapdragon", "crops.snapdragon.stages[2]", "succession[3]", "link[1]".
[[nodiscard]] std::string place_field(place const& of);
[[nodiscard]] std::string crop_field(crop const& of);
[[nodiscard]] std::string stage_field(crop const& of, int stage_index);
[[nodiscard]] std::string succession_field(int index);
[[nodiscard]] std::string link_field(int index);

[[noreturn]] void refuse_part(std::string code, std::string field, std::string value,
                              std::string problem, std::string remedy, std::string bound = "",
                              std::string_view unit = "");

/// Refuses a name that is not known with the nearest that is: "there is no crop "zinia"; the
/// nearest is "zinnia"". `add` is the remedy where nothing is known.
[[noreturn]] void refuse_unknown(std::string_view thing, std::string_view name, std::string field,
                                 std::vector<std::string> const& known, std::string_view add);
/// Refuses an event that a crop does not have. `whose` is the crop or succession.
[[noreturn]] void refuse_event(std::string_view whose, crop const& of, std::string_view event,
                               std::string field);

/// Names that are known, for look-ups and for the nearest of them.
[[nodiscard]] std::vector<std::string> names_of(std::vector<place> const& all);
[[nodiscard]] std::vector<std::string> names_of(std::vector<crop> const& all);

/// Bounds where an entry of `own` replaces the one of `general` for the same event.
[[nodiscard]] std::vector<event_bound> merged_bounds(std::vector<event_bound> general,
                                                     std::vector<event_bound> const& own);

/// Checks the parts of a plan that do not depend on its successions.
class part_checker {
public:
    /// Checks season, texts, events, places and containers, and learns their names.
    explicit part_checker(plan_parts const& parts);

    [[nodiscard]] name_index const& places() const noexcept { return places_; }
    [[nodiscard]] name_index const& crops() const noexcept { return crops_; }

    /// Checks every crop.
    void check_crops();
    /// Checks a stage on its own; `field` names it.
    void check_stage(stage const& one, std::string const& field) const;
    /// Checks that no stage of a crop loses its plants on nights that do not hurt them.
    /// `field_of` names a stage; `starts_in_field` whether the first stands in a field place, none
    /// where that is not known.
    void check_losses(crop const& of, std::function<std::string(int)> const& field_of,
                      std::optional<bool> starts_in_field) const;
    /// Checks that hardening makes plants no tenderer; `field` names the crop.
    void check_limits(crop const& of, std::string const& field) const;
    /// Checks that a crop can begin with a stage; `field` names the stage.
    static void check_first(stage const& one, std::string const& field);
    /// Checks bounds against the events of their crop. `field` names the list.
    void check_bounds(std::vector<event_bound> const& bounds, crop const& of, bool not_before,
                      std::string const& field) const;
    /// Checks a target against the events of its crop. `field` names it.
    void check_target(target const& aim, crop const& of, std::string const& field) const;
    /// Checks that a text is UTF-8.
    static void check_text(std::string const& text, std::string const& field);
    /// Takes a name and an id into an index; they must be new. `thing` is the plural.
    static void add_name(name_index& index, std::string const& name, std::string const& id,
                         int position, std::string const& field, std::string_view thing);
    /// The same, taken by `take`, which is given whether it is the id and returns false where the
    /// text is taken.
    template <class Take>
    static void add_name(std::string const& name, std::string const& id, std::string const& field,
                         std::string_view thing, Take const& take) {
        require_name(name, id, field, thing);
        if (!take(false)) { refuse_name(false, name, field, thing); }
        if (!id.empty() && id != name && !take(true)) { refuse_name(true, id, field, thing); }
    }

private:
    static void require_name(std::string const& name, std::string const& id,
                             std::string const& field, std::string_view thing);
    [[noreturn]] static void refuse_name(bool is_id, std::string const& text,
                                         std::string const& field, std::string_view thing);
    void check_window() const;
    void check_reading() const;
    void check_normals() const;
    void check_months(std::array<temperature, 12> const& means, std::string const& key) const;
    void check_events();
    void check_place(place const& one) const;
    void check_air(air const& of, std::string const& field) const;
    void check_days(day from, day until, std::string const& field) const;
    void check_parts_of_places() const;
    void check_in_season(day when, std::string const& field) const;
    void check_rule_days(rule const& one, std::string const& field) const;
    void check_containers();
    static void check_standard(crop const& one, std::string const& field);
    void check_begins(stage const& one, std::string const& field) const;
    void check_where(stage const& one, std::string const& field) const;
    void check_container(stage const& one, std::string const& field) const;
    void check_spacing(spacing const& of, std::string const& field) const;

    plan_parts const& parts_;
    unit_door door_;
    name_index places_;
    name_index containers_;
    name_index crops_;
    name_index events_;
};

}  // namespace epicotyl::detail

#endif
