#include <epicotyl/plan/plan.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "check.hpp"
#include "check_bounds.hpp"
#include "check_succession.hpp"
#include "grow.hpp"
#include "succession_names.hpp"

namespace epicotyl {

namespace detail {

namespace {

/// Where the members of a repeat begin among the resolved successions, and how many they are.
struct member_run {
    int first;
    int times;
};

/// Looks everything up. Successions come first, because links speak of all of them.
class resolver {
public:
    explicit resolver(plan_parts const& parts)
        : parts_{parts}, checker_{parts}, door_{parts.units}, grower_{parts, checker_} {
        make_room();
        for (std::size_t i = 0; i < parts_.successions.size(); ++i) {
            resolve(parts_.successions[i], static_cast<int>(i));
        }
        for (resolved_succession const& one : successions_) {
            if (!runs_.contains(one.name)) { continue; }
            refuse_part("plan.name_twice", succession_field(one.source), one.name,
                        fmt::format("\"{}\" is the name of a repeat as well", one.name),
                        "give each a name of its own");
        }
        for (std::size_t i = 0; i < parts_.links.size(); ++i) {
            resolve(parts_.links[i], link_field(static_cast<int>(i)));
        }
        for (std::size_t i = 0; i < parts_.successions.size(); ++i) {
            resolve_follows(parts_.successions[i], static_cast<int>(i));
        }
    }

    [[nodiscard]] std::vector<resolved_succession>& successions() { return successions_; }
    [[nodiscard]] std::vector<resolved_link>& links() { return links_; }
    [[nodiscard]] name_slots& names() { return names_; }
    [[nodiscard]] name_index const& places() const { return checker_.places(); }

private:
    // --- successions ---

    /// Room for all, repeats spelled out; what is no repeat is refused when it is its turn.
    void make_room() {
        std::size_t count = 0;
        for (std::size_t i = 0; i < parts_.successions.size(); ++i) {
            auto const& again = parts_.successions[i].repeat;
            int const times = again ? std::clamp(again->times, 1, parts_.window.length() + 1) : 1;
            count += static_cast<std::size_t>(times);
            if (count > static_cast<std::size_t>(most_batches)) {
                refuse_batches(count,
                               succession_field(static_cast<int>(i)) + (again ? ".repeat" : ""));
            }
        }
        successions_.reserve(count);
        names_.reserve(count);
        first_member_.reserve(parts_.successions.size());
    }

    void resolve(succession const& one, int source) {
        std::string const field = succession_field(source);
        auto const found = checker_.crops().find(one.crop);
        if (found == checker_.crops().end()) {
            refuse_unknown("crop", one.crop, field + ".crop", names_of(parts_.crops),
                           "describe it under [crops]");
        }
        grown_crop const grown = grower_.grown(found->second, one.changes, field);
        crop const& what = *grown.what;
        if (!one.wave.empty()) { part_checker::check_text(one.wave, field + ".wave"); }
        check_amount(door_, one.amount, what, field);
        checker_.check_target(one.target, what, field + ".target");
        check_plants(parts_, one.amount, what, event_index(what, one.target.event).value(), field);
        if (accepts_risk_of_stage(one.target.rule)) {
            crop_grower::require_limit(one.target.rule, one.target.event, grown,
                                       field + ".target.risk");
        }
        if (!one.not_before.empty() || !one.not_after.empty()) {
            checker_.check_bounds(one.not_before, what, true, field + ".not_before");
            checker_.check_bounds(one.not_after, what, false, field + ".not_after");
            crop_grower::require_limits(one.not_before, grown, field + ".not_before");
        }
        if (one.repeat) { check_repeat(*one.repeat, parts_.window, what, field + ".repeat"); }

        resolved_succession resolved{.name = one.name.empty() ? what.name : one.name,
                                     .id = {},
                                     .grown = grown.what,
                                     .places = grown.places,
                                     .amount = one.amount,
                                     .target_event = event_index(what, one.target.event).value(),
                                     .target_rule = one.target.rule,
                                     .not_before = merged_bounds(what.not_before, one.not_before),
                                     .not_after = merged_bounds(what.not_after, one.not_after),
                                     .reliability = one.reliability.value_or(parts_.reliability),
                                     .risk = one.risk    ? *one.risk
                                             : what.risk ? *what.risk
                                                         : parts_.risk,
                                     .wave = one.wave,
                                     .repeat_of = {},
                                     .source = source,
                                     .starts_in_field = grown.starts_in_field};
        std::optional<preference> const said = one.prefer ? one.prefer : what.prefer;
        resolved.prefer = said.value_or(default_preference(grown, one.target.rule, parts_.where));
        resolved.is_prefer_said = said.has_value();
        grower_.require_areas(grown, resolved.name);
        resolved.id = one.id.empty() ? resolved.name : one.id;
        int const first = static_cast<int>(successions_.size());
        first_member_.push_back(first);
        if (!one.repeat) {
            add(std::move(resolved), field);
            return;
        }
        runs_.emplace(resolved.name, member_run{first, one.repeat->times});
        for (int k = 0; k < one.repeat->times; ++k) {
            resolved_succession member = resolved;
            member.name = fmt::format("{} {}", resolved.name, k + 1);
            member.id = fmt::format("{} {}", resolved.id, k + 1);
            if (k > 0) {
                member.repeat_of = first;
                member.repeat_days = k * one.repeat->harvest_every;
                member.target_event = event_index(what, "first_harvest").value();
                member.target_rule = on_rule{};
            }
            add(std::move(member), field);
        }
    }

    void add(resolved_succession one, std::string const& field) {
        int const index = static_cast<int>(successions_.size());
        if (!one.wave.empty()) { waves_[one.wave].push_back(index); }
        successions_.push_back(std::move(one));
        resolved_succession const& added = successions_.back();
        part_checker::add_name(added.name, added.id, field, "successions", [&](bool is_id) {
            return names_.add(2 * index + (is_id ? 1 : 0), succession_name_of(successions_));
        });
    }

    // --- links ---

    [[nodiscard]] std::vector<std::string> succession_names() const {
        std::vector<std::string> names;
        for (resolved_succession const& one : successions_) { names.push_back(one.name); }
        return names;
    }

    [[nodiscard]] int succession_of(std::string const& name, std::string const& field) const {
        if (auto const found = find_succession(names_, successions_, name)) { return *found; }
        auto const run = runs_.find(name);
        if (run != runs_.end()) {
            refuse_part(
                "plan.repeat_named", field, name,
                fmt::format("\"{}\" is repeated and not one succession", name),
                fmt::format("name one of \"{} 1\" to \"{} {}\"", name, name, run->second.times));
        }
        refuse_unknown("succession", name, field, succession_names(), "");
    }

    [[nodiscard]] std::vector<event_of> events(link_end const& end,
                                               std::string const& field) const {
        if (end.succession.empty() == end.wave.empty()) {
            refuse_part("link.end", field, "",
                        end.wave.empty() ? "the end names neither a succession nor a wave"
                                         : "the end names both a succession and a wave",
                        "name one succession or one wave");
        }
        std::vector<int> members;
        if (end.wave.empty()) {
            members = {succession_of(end.succession, field + ".succession")};
        } else {
            auto const found = waves_.find(end.wave);
            if (found == waves_.end()) {
                std::vector<std::string> known;
                for (resolved_succession const& one : successions_) {
                    if (!one.wave.empty()) { known.push_back(one.wave); }
                }
                refuse_unknown("wave", end.wave, field + ".wave", known,
                               "give the successions of it the key wave");
            }
            members = found->second;
        }
        std::vector<event_of> all;
        for (int const member : members) {
            resolved_succession const& one = successions_[static_cast<std::size_t>(member)];
            std::optional<int> const event = event_index(*one.grown, end.event);
            if (!event) { refuse_event(one.name, *one.grown, end.event, field + ".event"); }
            all.push_back({member, *event});
        }
        return all;
    }

    void check_of(link const& one, std::string const& field) const {
        auto const refuse_of = [&](char const* end, char const* problem) {
            refuse_part("link.of", field + end, "first", problem,
                        "leave of out, or name a wave as the first end");
        };
        if (one.first.of != link_end::which::all && one.first.wave.empty()) {
            refuse_of(".first.of", "a single succession has no first and no last member");
        }
        if (one.then.of != link_end::which::all) {
            refuse_of(".then.of", "every member of the second end waits for itself");
        }
    }

    void check_waits(link const& one, std::string const& field) const {
        if (one.after.needs_air() && one.place.empty()) {
            refuse_part("link.no_place", field + ".after", "",
                        "a clock that counts warmth needs a place whose air it counts",
                        "add place = \"...\" beside it");
        }
        if (!one.within) { return; }
        std::string const own = field + ".within.days";
        if (!(*one.within > 0.0 && std::isfinite(*one.within))) {
            refuse_part("link.within", own, fmt::format("{}", *one.within),
                        fmt::format("{} days leave no day", *one.within),
                        "give the most days that may pass, or leave it out", "more than 0", "days");
        }
        std::optional<double> const least = one.after.calendar_days();
        if (least && *least > *one.within) {
            refuse_part("link.within", own, fmt::format("{}", *one.within),
                        fmt::format("within {} days, but not before {}", *one.within, *least),
                        "allow at least as many days as must pass",
                        fmt::format("{} or more", *least), "days");
        }
    }

    /// Plants cannot wait with what they do themselves; a `within` holds nobody back.
    void check_outcome(link const& one, event_of then, std::string const& field) const {
        crop const& of = *successions_[static_cast<std::size_t>(then.succession)].grown;
        if (!is_outcome(of, then.event) || one.after.calendar_days() == 0.0) { return; }
        refuse_part(
            "link.outcome", field + ".after", one.then.event,
            fmt::format("\"{}\" comes when the plants are ready and cannot wait", one.then.event),
            "let what the grower does before it wait");
    }

    void resolve(link const& one, std::string const& field) {
        check_of(one, field);
        check_waits(one, field);
        std::optional<int> place;
        if (!one.place.empty()) {
            auto const found = checker_.places().find(one.place);
            if (found == checker_.places().end()) {
                refuse_unknown("place", one.place, field + ".after.place", names_of(parts_.places),
                               "add it to [places]");
            }
            place = found->second;
        }
        event_list const firsts = events(one.first, field + ".first");
        std::vector<event_of> const thens = events(one.then, field + ".then");
        link_ends_ += firsts.size() + thens.size();
        require_link_ends(link_ends_, field);
        std::set<int> waited_for;
        for (event_of const& first : firsts) { waited_for.insert(first.succession); }
        int const source = static_cast<int>(&one - parts_.links.data());
        for (event_of const& then : thens) {
            check_outcome(one, then, field);
            if (waited_for.contains(then.succession)) { refuse_self(then.succession, field); }
            links_.push_back({.firsts = firsts,
                              .first_decides = one.first.of == link_end::which::first,
                              .then = then,
                              .after = one.after,
                              .place = place,
                              .within = one.within,
                              .source = source});
        }
    }

    [[noreturn]] void refuse_self(int succession, std::string const& field) const {
        std::string const& name = successions_[static_cast<std::size_t>(succession)].name;
        refuse_part("link.itself", field, name, fmt::format("\"{}\" would wait for itself", name),
                    "link two different successions; stages say what waits within one");
    }

    /// Every member of a repeat waits for the succession it follows. Where that is a repeat of as
    /// many members, each waits for its counterpart.
    void resolve_follows(succession const& one, int source) {
        std::string const field = succession_field(source);
        if (one.gap < 0 || one.gap > parts_.window.length() ||
            (one.gap > 0 && one.follows.empty())) {
            refuse_part("succession.gap", field + ".gap", fmt::format("{}", one.gap),
                        one.follows.empty() ? "there is nothing that it follows"
                                            : fmt::format("a gap cannot have {} days", one.gap),
                        "give the days between the clearing of the succession that it follows and "
                        "its moving in",
                        fmt::format("0 to {}", parts_.window.length()), "days");
        }
        if (one.follows.empty()) { return; }
        int const first = first_member_[static_cast<std::size_t>(source)];
        int const times = one.repeat ? one.repeat->times : 1;
        auto const run = runs_.find(one.follows);
        bool const in_step = run != runs_.end() && one.repeat && run->second.times == times;
        for (int k = 0; k < times; ++k) {
            int const cleared =
                in_step ? run->second.first + k : succession_of(one.follows, field + ".follows");
            follow(cleared, first + k, one.gap, field + ".follows");
        }
    }

    void follow(int cleared, int follower, int gap, std::string const& field) {
        if (cleared == follower) { refuse_self(follower, field); }
        resolved_succession const& before = successions_[static_cast<std::size_t>(cleared)];
        resolved_succession const& after = successions_[static_cast<std::size_t>(follower)];
        int const freed = before.places.back();
        for (std::size_t j = 0; j < after.places.size(); ++j) {
            if (after.places[j] != freed) { continue; }
            int const moves_in = static_cast<int>(j);
            if (is_outcome(*after.grown, moves_in)) {
                refuse_part(
                    "succession.follows", field, before.name,
                    fmt::format("\"{}\" moves into the place that \"{}\" frees by {}, "
                                "which comes when the plants are ready and cannot wait",
                                after.name, before.name, event_name(*after.grown, moves_in)),
                    "let the grower move them there, or link what is done before it");
            }
            links_.push_back({.firsts = {event_of{cleared, event_count(*before.grown) - 1}},
                              .then = {follower, moves_in},
                              .after = clock::days(gap),
                              .place = {},
                              .within = {}});
            return;
        }
        std::string const& place = parts_.places[static_cast<std::size_t>(freed)].name;
        refuse_part("succession.follows", field, before.name,
                    fmt::format("\"{}\" never stands in \"{}\", which \"{}\" frees", after.name,
                                place, before.name),
                    "let one of its stages stand there, or leave follows out");
    }

    plan_parts const& parts_;
    part_checker checker_;
    unit_door door_;
    crop_grower grower_;
    std::vector<resolved_succession> successions_;
    std::vector<resolved_link> links_;
    std::size_t link_ends_ = 0;      ///< of all links so far
    std::vector<int> first_member_;  ///< of each succession as it was said
    name_slots names_;
    std::unordered_map<std::string, member_run> runs_;
    std::unordered_map<std::string, std::vector<int>> waves_;
};

}  // namespace

}  // namespace detail

plan::plan(plan_parts parts) : plan{data{.parts = std::move(parts)}} {}

plan::plan(plan_parts parts, std::shared_ptr<plan_tree const> source, std::string file_name)
    : plan{data{.parts = std::move(parts),
                .source = std::move(source),
                .file_name = std::move(file_name)}} {}

plan::plan(data made) {
    detail::check_bounds(made.parts);
    detail::snap_to_units(made.parts);
    detail::resolver resolved{made.parts};
    made.successions = std::move(resolved.successions());
    made.links = std::move(resolved.links());
    made.succession_names = std::move(resolved.names());
    made.place_names = resolved.places();
    data_ = std::make_shared<data const>(std::move(made));
}

int plan::line_of(std::string_view field) const {
    if (!data_->source) { return 0; }
    std::optional<std::string> const written = field_in_tree(field);
    plan_tree const* const found = written ? data_->source->find_path(*written) : nullptr;
    return found == nullptr ? 0 : found->line();
}

int plan::succession_index(std::string_view name) const {
    if (auto const found =
            detail::find_succession(data_->succession_names, data_->successions, name)) {
        return *found;
    }
    std::vector<std::string> known;
    for (resolved_succession const& one : successions()) { known.push_back(one.name); }
    detail::refuse_unknown("succession", name, "succession", known, "the plan has none");
}

int plan::event_index(int succession, std::string_view event) const {
    resolved_succession const& one = successions().at(static_cast<std::size_t>(succession));
    std::optional<int> const found = epicotyl::event_index(*one.grown, event);
    if (found) { return *found; }
    detail::refuse_event(one.name, *one.grown, event, "event");
}

int plan::place_index(std::string_view name) const {
    auto const found = data_->place_names.find(std::string{name});
    if (found != data_->place_names.end()) { return found->second; }
    detail::refuse_unknown("place", name, "place", detail::names_of(places()), "the plan has none");
}

}  // namespace epicotyl
