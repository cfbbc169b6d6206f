// From a table of a plan file to a part of a plan, by the rows of keys.hpp: a function for each
// kind of member.
#ifndef EPICOTYL_SRC_PLAN_KEY_READER_HPP
#define EPICOTYL_SRC_PLAN_KEY_READER_HPP

#include <array>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "check.hpp"
#include "keys.hpp"
#include "readers.hpp"

namespace epicotyl::detail {

class key_reader {
public:
    using node = plan_node const&;
    using key = plan_key const&;

    /// Reads what a table says into a part; what it does not say stays.
    template <class Part>
    static void read(plan_node const& table, Part& into) {
        for (int const turn : {-1, 0}) {
            each_key(into, [&](plan_key const& key, auto& member) {
                if (key.read == turn) { take(table, key, member); }
            });
        }
    }
    /// The same of a table that has no other keys.
    template <keyed_part Part>
    [[nodiscard]] static Part whole(plan_node const& table) {
        table.allow(keys_of<Part>());
        Part made;
        read(table, made);
        return made;
    }

    template <class Value>
    static void take(node table, key of, Value& to) {
        std::optional<plan_node> const given =
            of.missing.empty() ? table.get(of.name) : table.need(of.name, of.missing);
        if (given) { set(*given, of, to); }
    }
    static void take(node table, key, amount& to) { to = read_amount(table); }
    static void take(node table, key, std::optional<steady_air>& to) {
        if (table.get("day") || table.get("night")) { read(table, to.emplace()); }
    }
    static void take(node site, key, std::optional<monthly_normals>& to) {
        if (has_normals(site)) { read(site, to.emplace()); }
    }

private:
    static void set(node from, key, bool& to) { to = from.flag(); }
    static void set(node from, key of, int& to) { to = from.whole(of.unit); }
    static void set(node from, key of, double& to) {
        to = of.what ? from.measure(*of.what) : from.number(of.unit);
    }
    static void set(node from, key of, std::string& to) {
        to = of.may_be_empty ? from.text() : from.name();
    }
    static void set(node from, key, day& to) { to = from.date(); }
    static void set(node from, key, temperature& to) { to = from.degrees(); }
    static void set(node from, key, temperature_span& to) { to = from.span_of_degrees(); }
    static void set(node from, key, chance& to) { to = from.share(); }
    static void set(node from, key, performer& to) {
        static constexpr std::string_view words[] = {"grower", "plant"};
        to = static_cast<performer>(from.word(words, "performer"));
    }
    static void set(node from, key, preference& to) { to = read_preference(from); }
    static void set(node from, key, start_form& to) {
        to = static_cast<start_form>(from.word(start_form_names, "start of a batch"));
    }
    static void set(node from, key, std::optional<reliability>& to) { to = from.reliability(); }
    static void set(node from, key, std::optional<risk_setting>& to) { to = read_risk(from); }
    static void set(node from, key, std::optional<loss_setting>& to) { to = read_loss(from); }
    static void set(node from, key, year_selection& to) { to = read_years(from); }
    static void set(node from, key, open_days& to) { to = read_open(from); }
    static void set(node from, key, std::array<temperature, 12>& to) { to = read_months(from); }
    static void set(node from, key of, target& to) { to = read_target(from, of.missing); }
    static void set(node from, key, std::vector<job>& to) {
        for (plan_node const& one : from.items("list its jobs, such as [\"grow\"]")) {
            to.push_back(static_cast<job>(one.word(job_names, "job")));
        }
    }
    /// The places and jobs where a stage may stand: a list, or the only one.
    static void set(node from, key, std::vector<std::string>& to) {
        if (!from.is(plan_tree::kind::list)) {
            to = {from.name()};
            return;
        }
        for (plan_node const& one : from.items("")) { to.push_back(one.name()); }
    }
    /// Those of a crop that this one is like go.
    static void set(node from, key, std::vector<stage>& to) {
        to.clear();
        for (plan_node const& one : from.items("list the stages in order")) {
            to.push_back(read_stage(one));
        }
    }
    /// Each takes the place of the one on the same event of a crop that this one is like.
    static void set(node from, key of, std::vector<event_bound>& to) {
        to = merged_bounds(std::move(to), read_bounds(from, of.name == "not_before"));
    }
    static void set(node from, key, std::vector<stage_change>& to) {
        for (auto const& [begins, change] : from.entries()) {
            to.push_back(read_stage_change(begins, change));
        }
    }
    template <keyed_part Part>
    static void set(node from, key, Part& to) {
        to = whole<Part>(from);
    }
    template <class Value>
    static void set(node from, key of, std::optional<Value>& to) {
        set(from, of, to.emplace());
    }
};

}  // namespace epicotyl::detail

#endif
