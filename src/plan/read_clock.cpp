#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/detail/overloaded.hpp>

#include "block_values.hpp"
#include "key_reader.hpp"
#include "readers.hpp"

namespace epicotyl::detail {

namespace {

/// The keys of waits: those that say what is counted, and those that say more of it.
struct wait_keys {
    std::vector<std::string_view> kinds = {"days", "weeks"};
    std::vector<std::string_view> more = {"at"};

    wait_keys() {
        each_alternative(std::type_identity<clock::kind>{},
                         [&]<class Wait>(std::type_identity<Wait>) {
                             if constexpr (simple_wait<Wait>) { add(Wait{}); }
                         });
        kinds.insert(kinds.end(), {"all", "any"});
    }

private:
    template <simple_wait Wait>
    void add(Wait const& wait) {
        for (std::string_view const key : keys_of(wait)) {
            std::vector<std::string_view>& list = key == Wait::key ? kinds : more;
            if (std::ranges::find(list, key) == list.end()) { list.push_back(key); }
        }
    }
};

/// Reads one wait and its members.
class wait_reader {
public:
    /// `beside` are keys of the same table that are not the clock's.
    wait_reader(plan_node const& node, std::vector<std::string_view> beside, bool soil_of_group)
        : node_{node}, beside_{std::move(beside)}, soil_{soil_of_group} {}

    [[nodiscard]] clock read() {
        if (!node_.is(plan_tree::kind::table)) {
            node_.refuse("plan.wrong_kind",
                         fmt::format("{} is {}, not a table", node_.written(),
                                     kind_name(node_.tree().what())),
                         "write what is counted, such as { days = 8 } or { heat = 380.0, base = "
                         "4.0 }");
        }
        static wait_keys const known;
        std::vector<std::string_view> all = known.kinds;
        all.insert(all.end(), known.more.begin(), known.more.end());
        allow(std::move(all));
        std::string_view const what = node_.choose(known.kinds, "how long to wait");
        if (auto const soil = node_.get("soil")) {
            soil_ = soil->flag();
            soil_given_ = soil_;
        }
        return gated(ungated(what));
    }

private:
    [[nodiscard]] clock ungated(std::string_view what) {
        if (what == "days" && (node_.get("at") || node_.get("base"))) { return days_at(); }
        if (what == "days" || what == "weeks") { return calendar(what); }
        std::optional<clock> read;
        each_alternative(std::type_identity<clock::kind>{},
                         [&]<class Wait>(std::type_identity<Wait>) {
                             if constexpr (simple_wait<Wait>) {
                                 if (what == Wait::key) { read = one_wait<Wait>(); }
                             }
                         });
        return read ? *std::move(read) : group(what);
    }

    void allow(std::vector<std::string_view> keys) const {
        keys.insert(keys.end(), {"gate", "soil"});
        keys.insert(keys.end(), beside_.begin(), beside_.end());
        node_.allow(keys);
    }

    [[noreturn]] void refuse_soil() const {
        node_.need("soil", "")
            .refuse("clock.soil_of_calendar", "days of the calendar pass without soil",
                    "leave soil out, or count heat or days_between");
    }

    [[nodiscard]] clock calendar(std::string_view what) const {
        allow({what});
        if (soil_given_) { refuse_soil(); }
        plan_node const amount = node_.need(what, "");
        double const days_each = what == "weeks" ? 7.0 : 1.0;
        if (amount.is(plan_tree::kind::list)) {
            amount.refuse("clock.pair", fmt::format("{} is a list, not a number", amount.written()),
                          "only the weeks of a stage may be a pair, such as weeks = [8, 10]");
        }
        double const number = amount.number(what);
        return amount.said([&] { return clock::days(days_each * number); });
    }

    /// "30 days at 15" is the heat of 30 days that are 15 degrees all day, whatever the method.
    [[nodiscard]] clock days_at() const {
        allow({"days", "at", "base"});
        plan_node const amount = node_.need("days", "");
        plan_node const at =
            node_.need("at", "give the temperature at which it takes so many days");
        plan_node const base = node_.need("base", heat_wait::base_missing);
        double const days = amount.number("days");
        (void)amount.said([&] { return clock::days(days); });
        if (!(at.degrees() > base.degrees())) {
            at.refuse("clock.at_base", fmt::format("{} is not above the base", at.written()),
                      "give the temperature at which it takes so many days",
                      "more than the base, " + base.written(),
                      at.door().unit(quantity::temperature));
        }
        double const heat =
            node_.door().to_core(quantity::heat, days * (at.number() - base.number()));
        return amount.said([&] {
            return clock::heat({.amount = thermal_time::from_kelvin_days(heat),
                                .base = base.degrees(),
                                .soil = soil_});
        });
    }

    template <simple_wait Wait>
    [[nodiscard]] clock one_wait() const {
        Wait wait;
        allow(keys_of(wait));
        block_reader::read(node_, wait);
        if constexpr (Wait::needs_air) { wait.soil = soil_; }
        auto const written = [&](std::string_view key) {
            return node_.need(key, "").written();
        };
        if (auto const fault = wait.plan_fault(written)) { refuse(*fault); }
        try {
            return clock::of(std::move(wait));
        } catch (invalid_input const& fault) {
            auto const at = node_.get(fault.details().field);
            throw fault.in_field((at ? *at : node_.need(Wait::key, "")).path());
        }
    }

    [[noreturn]] void refuse(input_fault const& fault) const {
        plan_node const at = fault.field.empty() ? node_ : node_.need(fault.field, "");
        bool const is_temperature = fault.unit == "°C";
        at.refuse(fault.code, fault.problem, fault.remedy, fault.bound,
                  is_temperature ? node_.door().unit(quantity::temperature) : fault.unit);
    }

    [[nodiscard]] clock group(std::string_view what) {
        allow({what});
        plan_node const list = node_.need(what, "");
        std::vector<clock> members;
        for (plan_node const& item : list.items("list the clocks to be combined")) {
            members.push_back(wait_reader{item, {}, soil_}.read());
        }
        auto const which = what == "all" ? clock_group::decides::last : clock_group::decides::first;
        clock const several = list.said([&] { return clock::of({which, std::move(members)}); });
        if (soil_given_ && !several.needs_air()) { refuse_soil(); }
        return several;
    }

    [[nodiscard]] clock gated(clock const& open) const {
        auto const gate = node_.get("gate");
        if (!gate) { return open; }
        gate->allow({"day_length_at_least", "day_length_at_most", "otherwise"});
        std::string_view const side = gate->choose({"day_length_at_least", "day_length_at_most"},
                                                   "at which day length the gate opens");
        auto const otherwise = gate->get("otherwise");
        day_length_gate const read{gate->need(side, "").number("hours"),
                                   side == "day_length_at_least",
                                   otherwise ? otherwise->number() : 0.0};
        try {
            return open.gated(read);
        } catch (invalid_input const& fault) {
            std::string const& of = fault.details().field;
            throw fault.in_field(of == "gate" ? gate->path() : gate->path() + '.' + of);
        }
    }

    plan_node const& node_;
    std::vector<std::string_view> beside_;
    bool soil_;                ///< given here or by the group
    bool soil_given_ = false;  ///< given here
};

[[nodiscard]] written_wait pair_of_weeks(plan_node const& node, plan_node const& weeks) {
    node.allow({"weeks", "gate", "soil"});
    std::vector<plan_node> const pair = weeks.items("");
    if (pair.size() != 2) {
        weeks.refuse("clock.pair", fmt::format("{} is no pair", weeks.written()),
                     "give the weeks until ready and the weeks until too old, such as [8, 10]", "2",
                     "numbers");
    }
    double const ready = pair[0].number("weeks");
    double const latest = pair[1].number("weeks");
    if (latest < ready) {
        weeks.refuse("clock.pair", fmt::format("{} does not rise", weeks.written()),
                     "exchange the two");
    }
    // The reader of waits sees the weeks until ready alone.
    plan_tree alone = plan_tree::table();
    for (auto const& [key, value] : node.entries()) {
        alone.set(key, key == "weeks" ? pair[0].tree() : value.tree());
    }
    plan_node const without_hold{alone, node.path(), node.door()};
    return {wait_reader{without_hold, {}, false}.read(), 7.0 * (latest - ready)};
}

/// Days that ready plants may wait; `false` says any.
[[nodiscard]] double read_hold(plan_node const& node) {
    bool const any = node.is(plan_tree::kind::boolean) && !node.tree().as_boolean();
    return any ? any_hold : node.number("days");
}

/// The wait of a stage and the hold after it: a pair of weeks says both.
template <class Stage>
void read_waits(plan_node const& node, Stage& read) {
    auto const hold = node.get("hold");
    if (hold) { read.hold = read_hold(*hold); }
    auto const takes = node.get("takes");
    if (!takes) { return; }
    written_wait const wait = read_stage_wait(*takes);
    read.takes = wait.takes;
    if (!wait.hold) { return; }
    if (hold) {
        hold->refuse("stage.hold_twice", "the pair of weeks says how long they hold",
                     "leave hold out, or give weeks as one number");
    }
    read.hold = wait.hold;
}

/// The keys that a stage and a change of a stage share.
template <class Stage>
void read_stage_keys(plan_node const& node, Stage& read, int turn) {
    each_key(read, [&]<class Value>(plan_key const& key, Value& member) {
        if (key.read != turn) { return; }
        if constexpr (std::same_as<Value, clock> || std::same_as<Value, std::optional<clock>>) {
            read_waits(node, read);
        } else if (key.name != "hold") {
            key_reader::take(node, key, member);
        }
    });
}

}  // namespace

written_wait read_stage_wait(plan_node const& node) {
    auto const weeks =
        node.is(plan_tree::kind::table) ? node.get("weeks") : std::optional<plan_node>{};
    if (weeks && weeks->is(plan_tree::kind::list)) { return pair_of_weeks(node, *weeks); }
    return {wait_reader{node, {}, false}.read()};
}

clock read_link_wait(plan_node const& node) {
    return wait_reader{node, {"place"}, false}.read();
}

stage read_stage(plan_node const& node) {
    node.allow(keys_of<stage>());
    stage read;
    read_stage_keys(node, read, -1);
    (void)node.need("where", "name the place or its job, such as \"grow\"");
    (void)node.need("takes", "say what must pass before the next event, such as { days = 8 }");
    read_stage_keys(node, read, 0);
    if (read.hold == any_hold) { read.hold.reset(); }
    return read;
}

stage_change read_stage_change(std::string event, plan_node const& node) {
    node.allow(keys_of<stage_change>());
    stage_change read{.begins = std::move(event)};
    read_stage_keys(node, read, 0);
    return read;
}

}  // namespace epicotyl::detail
