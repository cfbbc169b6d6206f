// epicotyl: a plan. Places, crops, successions and links of one farm and one season.
//
// `plan_parts` is what a caller or a file says: plain data, in the order in which it was said.
// `plan` is what has been checked: every name is known, every event belongs to its crop, every
// stage has a place, every rule fits its event, waves and repeats are spelled out. A plan is
// immutable and cheap to copy; to change one, make another by an edit (edit.hpp), or change a copy
// of its parts and build a new plan.
//
//     plan_parts parts{.window = season{make_day(2027, 1, 1)}, .where = latitude{51.9}, ...};
//     parts.places = {...};
//     plan const p{parts};              // throws invalid_input with the field at fault
//     p.successions().size();           // repeats spelled out
//
// Fields in messages are named as in a plan file, lists counted from 1:
// "succession[3].target.event", "crops.snapdragon.stages[2].where".
//
// A site without a station says its weather in monthly normals instead, twelve mean lows and twelve
// mean highs; `climate_from_normals` (season/open_season.hpp) makes season years of them.
//
// A plan in US units holds numbers that can be written in US units. A number made in code that has
// no Fahrenheit, foot, inch or quart of a double's digits takes the nearest that has; it moves by
// no more than the last digits of a double, and what is written is read as an equal plan.
#ifndef EPICOTYL_PLAN_PLAN_HPP
#define EPICOTYL_PLAN_PLAN_HPP

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include <epicotyl/crop/crop.hpp>
#include <epicotyl/crop/place.hpp>
#include <epicotyl/days.hpp>
#include <epicotyl/detail/name_slots.hpp>
#include <epicotyl/detail/shared_list.hpp>
#include <epicotyl/plan/link.hpp>
#include <epicotyl/plan/plan_tree.hpp>
#include <epicotyl/plan/succession.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/year_selection.hpp>

namespace epicotyl {

namespace detail {
class plan_editor;
}

/// What "last frost" and "first frost" mean in a plan's rules: the date after (before) which a
/// night at or below `at` comes in a share `share` of the season years.
struct frost_meaning {
    temperature at;  ///< 0 °C
    chance share = chance{0.5};

    friend bool operator==(frost_meaning const&, frost_meaning const&) = default;
};

/// Lowest and highest mean of a month that a plan accepts [°C]. The coldest and the hottest that
/// were measured, near -72 on the Antarctic plateau and near 50 in Death Valley, lie inside (from
/// memory).
inline constexpr double lowest_normal_celsius = -80.0;
inline constexpr double highest_normal_celsius = 55.0;
/// Most season years that are made from normals, and the largest seed.
inline constexpr int most_normal_years = 1000;
inline constexpr int largest_normal_seed = 1'000'000'000;

/// The weather of a site as its monthly normals say it. What they do not say - how far days stray
/// from the mean, and how long a cold spell lasts - is that of New York; see `normals_options`
/// (weather/generator.hpp) for the numbers and their source.
struct monthly_normals {
    std::array<temperature, 12> low = {};   ///< mean daily minimum, January to December
    std::array<temperature, 12> high = {};  ///< mean daily maximum, January to December
    int years = usual_years;                ///< season years to make of them, 1 to 1000
    int seed = 1;                           ///< another seed gives other weather; 0 to 10^9

    friend bool operator==(monthly_normals const&, monthly_normals const&) = default;
};

/// A plan as it is said.
struct plan_parts {
    unit_system units = unit_system::metric;
    std::string title = {};
    season window;                             ///< the plan's own days
    latitude where;                            ///< of the site
    std::string weather = {};                  ///< weather file as written, may be empty
    std::string station = {};                  ///< the one to read of a file of several
    bool whole_fahrenheit = false;             ///< see `ghcn_daily_options`
    std::optional<year_selection> years = {};  ///< season years to use; none: the climate's own
    std::optional<int> max_gap = {};           ///< days of a gap that may be filled
    /// What stands in for a weather file where there is none.
    std::optional<monthly_normals> normals = {};
    frost_meaning frost = {};
    epicotyl::reliability reliability = epicotyl::reliability{0.8};
    risk_setting risk = risk_setting::at(chance{0.1});
    std::vector<std::string> events = {};  ///< events beyond `known_events`
    std::vector<place> places = {};
    std::vector<container> containers = {};
    std::vector<crop> crops = {};
    std::vector<succession> successions = {};
    std::vector<link> links = {};

    friend bool operator==(plan_parts const&, plan_parts const&) = default;
};

/// A succession with everything looked up. Repeats are spelled out: "zinnia" with `times = 3`
/// becomes "zinnia 1", "zinnia 2", "zinnia 3".
struct resolved_succession {
    std::string name;
    std::string id;
    std::shared_ptr<crop const> grown;  ///< with the succession's own changes
    detail::shared_list<int> places;    ///< of each stage, index into `plan::places`
    epicotyl::amount amount;
    int target_event;  ///< index of the event aimed at
    /// The rule for its day. For the later members of a repeat: on_rule of a day not yet known,
    /// see `repeat_of`.
    epicotyl::rule target_rule;
    std::vector<event_bound> not_before;  ///< crop's and succession's, the latter winning
    std::vector<event_bound> not_after;
    epicotyl::reliability reliability;
    risk_setting risk;
    std::string wave;
    std::optional<int> repeat_of;  ///< index of the first member, none for itself
    int repeat_days = 0;           ///< days after the first member's first harvest
    int source = 0;                ///< index into `plan_parts::successions`

    /// Room the succession has before damage: limit of a stage, see crop.hpp.
    [[nodiscard]] std::optional<temperature> limit(int stage_index) const {
        return stage_limit(*grown, stage_index, starts_in_field);
    }
    /// The night at or below which it is lost in a stage, see crop.hpp.
    [[nodiscard]] std::optional<temperature> lost_at(int stage_index) const {
        return stage_lost_at(*grown, stage_index, starts_in_field);
    }
    bool starts_in_field = false;
    preference prefer = preference::late;
    bool is_prefer_said = false;  ///< by succession or crop

    /// True where the preference has a say and is for early: a sowing that is aimed at itself, and
    /// a harvest or clearing aimed at a day, leave it none.
    [[nodiscard]] bool is_sown_early() const {
        bool const aims_at_day = is_outcome(*grown, target_event) && asks_exactly(target_rule);
        return prefer == preference::early && target_event > 0 && !aims_at_day;
    }
};

/// One end of a resolved link.
struct event_of {
    int succession;  ///< index into `plan::successions`
    int event;       ///< index of the event

    friend bool operator==(event_of const&, event_of const&) = default;
};

/// Events that are waited for together, held once by all links that wait for them.
using event_list = detail::shared_list<event_of>;

/// A link with everything looked up: `then` waits for `firsts` - for the last of them, or, with
/// `first_decides`, for the first. A wave as the second end has become one link per member.
struct resolved_link {
    event_list firsts;
    bool first_decides = false;
    event_of then;
    clock after;
    std::optional<int> place;  ///< whose air drives `after`, none: outdoors
    std::optional<double> within;
    int source = -1;  ///< index into `plan_parts::links`, -1: from `follows`
};

/// A checked plan.
class plan {
public:
    /// Throws `invalid_input` naming the field at fault. A crop that no succession grows need not
    /// have places for its stages; all else is checked.
    explicit plan(plan_parts parts);
    /// The same, knowing the file or tree that it was read from, so that results can point there.
    /// `file_name` may be empty.
    plan(plan_parts parts, std::shared_ptr<plan_tree const> source, std::string file_name);

    /// What the plan was made of.
    [[nodiscard]] plan_parts const& parts() const& noexcept { return data_->parts; }
    /// Of a plan that is about to go: a copy.
    [[nodiscard]] plan_parts parts() &&;
    [[nodiscard]] season const& window() const noexcept { return data_->parts.window; }
    [[nodiscard]] std::vector<place> const& places() const noexcept { return data_->parts.places; }

    /// Every succession, repeats spelled out, in plan order.
    [[nodiscard]] std::vector<resolved_succession> const& successions() const noexcept {
        return data_->successions;
    }
    /// Every link, waves spelled out, and after them those that `follows` means.
    [[nodiscard]] std::vector<resolved_link> const& links() const noexcept { return data_->links; }

    /// Index of a succession by name or id. Throws `invalid_input` with the nearest known name.
    [[nodiscard]] int succession_index(std::string_view name) const;
    /// Index of an event of a succession. Throws `invalid_input` with the events it has.
    [[nodiscard]] int event_index(int succession, std::string_view event) const;
    /// Index of a place by name or id. Throws `invalid_input` with the nearest known name.
    [[nodiscard]] int place_index(std::string_view name) const;

    /// The tree that it was read from, as it was before any edit; null for a plan made in code. A
    /// tree without lines has no lists of successions and links here.
    [[nodiscard]] plan_tree const* source() const noexcept { return data_->source.get(); }
    /// Name of the file it was read from; empty for a plan made in code.
    [[nodiscard]] std::string const& file_name() const noexcept { return data_->file_name; }
    /// Line in that file of a field, such as "succession[3].not_before.transplant"; 0 where the
    /// field is not written there, or is what an edit has changed.
    [[nodiscard]] int line_of(std::string_view field) const;
    /// True for a field that no longer is as that file has it, by an edit.
    [[nodiscard]] bool is_edited(std::string_view field) const {
        return data_->source != nullptr && !field_in_tree(field);
    }

    /// Equal parts make equal plans, wherever they were read.
    friend bool operator==(plan const& a, plan const& b);

private:
    friend class detail::plan_editor;

    /// What no longer stands as it was read, in the words of the tree.
    struct edits {
        std::vector<std::string> changed = {};  ///< fields, each with all below it
        /// Index of each succession in the tree, -1 for a new one; empty: all as they were read.
        std::vector<int> successions = {};
    };
    struct data {
        plan_parts parts;
        std::vector<resolved_succession> successions = {};
        std::vector<resolved_link> links = {};
        detail::name_slots succession_names = {};  ///< see src/plan/succession_names.hpp
        std::unordered_map<std::string, int> place_names = {};
        std::shared_ptr<plan_tree const> source = {};
        std::string file_name = {};
        plan::edits edits = {};
    };

    /// Looks up and checks everything; of `made`, parts and what it was read from are given.
    explicit plan(data made);
    /// A field as the tree has it; none where an edit has changed it.
    [[nodiscard]] std::optional<std::string> field_in_tree(std::string_view field) const;

    std::shared_ptr<data const> data_;
};

}  // namespace epicotyl

#endif
