// epicotyl: crops, and the stages they go through.
//
// A crop is a list of stages in order. A stage names the event that begins it, where the plants
// then stand, the clock that must run before the next event, and what is lost. The events of a
// crop with m stages are numbered 0 ... m: event 0 is the sowing, whatever it is called, and the
// event after the last stage is `clear`.
//
//     sow --germinate--> emerge --grow--> harden_off --> transplant --> first_harvest --> clear
//
// An event is a decision of the grower, or an outcome of the plant (`emerge`, `first_harvest`,
// `last_harvest`, and those a stage marks with `who = plant`). Decisions get planned days; an
// outcome comes when its clock says and cannot wait.
//
// The limit of a stage is the night's minimum at or below which plants are damaged: its own, else
// `limit_tender` up to the end of the stage that `harden_off` begins and `limit_hardened` after
// it. A crop that is never hardened off uses `limit_hardened` when it starts in a field place, and
// `limit_tender` otherwise. Before `emerge` nothing is damaged, where the crop has such an event.
//
// A night that does damage before the harvest loses the batch: what freezes in May is not picked in
// August. Where plants are hurt at one temperature and killed at a lower one, `lost_at` of stage or
// crop is the latter; where they are hurt and never killed, it is `loss_setting::off()`. Without a
// `first_harvest` the whole of a batch's life is before its harvest. A cold night in the stage that
// `first_harvest` begins ends the harvest.
//
// What a crop starts from is told where seed is ordered (amounts/quantities.hpp) and moves no day:
// `starts_as`, seed unless it says otherwise, and `germination_standard`, the lowest share of seed
// that may be sold as sound. What is expected of seed is what survives the stages before it is up.
#ifndef EPICOTYL_CROP_CROP_HPP
#define EPICOTYL_CROP_CROP_HPP

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/crop/place.hpp>
#include <epicotyl/crop/rule.hpp>
#include <epicotyl/units.hpp>

namespace epicotyl {

/// Events every plan knows; others are declared in the plan.
inline constexpr std::array<std::string_view, 17> known_events = {
    "sow",          "soak",   "chill", "receive",    "plant",      "emerge",
    "prick_out",    "pot_on", "pinch", "harden_off", "transplant", "first_harvest",
    "last_harvest", "lift",   "store", "sell",       "clear"};

/// Who performs an event.
enum class performer { grower, plant };

/// At or below which night a batch is lost, or that it never is.
class loss_setting {
public:
    [[nodiscard]] static loss_setting off() { return loss_setting{std::nullopt}; }
    [[nodiscard]] static loss_setting at(temperature limit) { return loss_setting{limit}; }

    [[nodiscard]] std::optional<temperature> const& limit() const noexcept { return limit_; }

    friend bool operator==(loss_setting const&, loss_setting const&) = default;

private:
    explicit loss_setting(std::optional<temperature> limit) : limit_{limit} {}

    std::optional<temperature> limit_;
};

/// Of the sowings that are in time, which is planned.
enum class preference {
    late,  ///< the latest: no plant stands longer than it must
    early  ///< the earliest, in the spring of the latest
};

[[nodiscard]] constexpr std::string_view to_string(preference of) noexcept {
    return of == preference::early ? "early" : "late";
}

/// What a batch is started from.
enum class start_form { seed, tuber, corm, bulb, root, crown, cutting, plug };

inline constexpr std::array<std::string_view, 8> start_form_names = {
    "seed", "tuber", "corm", "bulb", "root", "crown", "cutting", "plug"};

[[nodiscard]] constexpr std::string_view to_string(start_form of) noexcept {
    return start_form_names[static_cast<std::size_t>(of)];
}

/// How plants stand in a bed.
struct spacing {
    int rows = 1;         ///< rows across the bed
    double in_row = 0.0;  ///< centimetres between plants of a row

    friend bool operator==(spacing const&, spacing const&) = default;
};

struct stage {
    std::string begins;                   ///< the event that begins it
    std::optional<performer> who = {};    ///< none: by the event's name
    std::vector<std::string> where = {};  ///< places or jobs, the first that serves is used
    clock takes = clock::days(0.0);       ///< the wait until the next event
    std::string container = {};           ///< name, empty: none
    std::optional<epicotyl::spacing> spacing = {};
    double survives = 1.0;                     ///< share alive at its end, in (0, 1]
    std::optional<double> hold = {};           ///< days that ready plants may wait; none: any
    std::optional<temperature> limit = {};     ///< damage at or below, by night
    std::optional<temperature> too_hot = {};   ///< harm at or above, by day
    std::optional<loss_setting> lost_at = {};  ///< none: the crop's

    friend bool operator==(stage const&, stage const&) = default;
};

struct crop {
    std::string name;
    std::string id = {};  ///< stable identity; empty: the name
    std::vector<stage> stages = {};
    std::optional<temperature> limit_tender = {};
    std::optional<temperature> limit_hardened = {};
    std::optional<risk_setting> risk = {};  ///< none: the plan's
    std::vector<event_bound> not_before = {};
    std::vector<event_bound> not_after = {};
    std::string caution = {};                  ///< shown with the crop's dates
    std::optional<loss_setting> lost_at = {};  ///< none: at the limit of each stage
    /// None: early for a harvest in spring that heat stops, of what is sown where it stays; else
    /// late.
    std::optional<preference> prefer = {};
    std::optional<start_form> starts_as = {};  ///< none: see `started_as`
    /// Lowest share that comes up of seed that may be sold (by law, or a seller's word), in (0, 1].
    std::optional<double> germination_standard = {};

    friend bool operator==(crop const&, crop const&) = default;
};

/// True when the plant, and not the grower, performs the event that begins a stage.
[[nodiscard]] inline bool is_outcome(stage const& one) {
    if (one.who) { return *one.who == performer::plant; }
    return one.begins == "emerge" || one.begins == "first_harvest" || one.begins == "last_harvest";
}

/// Number of events: one more than stages.
[[nodiscard]] inline int event_count(crop const& of) {
    return static_cast<int>(of.stages.size()) + 1;
}

/// Name of event `index`, 0 ... number of stages; the last is "clear".
[[nodiscard]] inline std::string_view event_name(crop const& of, int index) {
    std::size_t const at = static_cast<std::size_t>(index);
    return at < of.stages.size() ? std::string_view{of.stages[at].begins} : "clear";
}

/// Index of an event, none when the crop has no such event.
[[nodiscard]] inline std::optional<int> event_index(crop const& of, std::string_view event) {
    for (int i = 0; i < event_count(of); ++i) {
        if (event_name(of, i) == event) { return i; }
    }
    return std::nullopt;
}

/// True for `clear` and for every outcome: the events whose day cannot be chosen.
[[nodiscard]] inline bool is_outcome(crop const& of, int event) {
    return event + 1 == event_count(of) || is_outcome(of.stages[static_cast<std::size_t>(event)]);
}

/// One of what a batch is started from, in a word: what the crop says; else "piece" of what is
/// planted first, "young plant" of what is received, and "seed" of all else.
[[nodiscard]] inline std::string_view started_as(crop const& of) {
    if (of.starts_as) { return to_string(*of.starts_as); }
    std::string_view const first = event_name(of, 0);
    return first == "plant" ? "piece" : first == "receive" ? "young plant" : "seed";
}

/// Index of the event from which cold and heat do damage: `emerge` where there is one, else 0.
[[nodiscard]] inline int damage_counts_from(crop const& of) {
    return event_index(of, "emerge").value_or(0);
}

/// The night limit of a stage; none where neither stage nor crop gives one. `starts_in_field` says
/// whether event 0 stands in a field place.
[[nodiscard]] inline std::optional<temperature> stage_limit(crop const& of, int stage_index,
                                                            bool starts_in_field) {
    stage const& one = of.stages[static_cast<std::size_t>(stage_index)];
    if (one.limit) { return one.limit; }
    std::optional<int> const hardening = event_index(of, "harden_off");
    bool const tender = hardening ? stage_index <= *hardening : !starts_in_field;
    return tender ? of.limit_tender : of.limit_hardened;
}

/// Index of the event before which cold loses a batch: `first_harvest` where there is one, else
/// `clear`.
[[nodiscard]] inline int lost_until(crop const& of) {
    return event_index(of, "first_harvest").value_or(event_count(of) - 1);
}

/// The night at or below which a batch is lost in a stage; none where it cannot be.
[[nodiscard]] inline std::optional<temperature> stage_lost_at(crop const& of, int stage_index,
                                                              bool starts_in_field) {
    if (stage_index < damage_counts_from(of) || stage_index >= lost_until(of)) { return {}; }
    stage const& one = of.stages[static_cast<std::size_t>(stage_index)];
    std::optional<loss_setting> const& said = one.lost_at ? one.lost_at : of.lost_at;
    return said ? said->limit() : stage_limit(of, stage_index, starts_in_field);
}

}  // namespace epicotyl

#endif
