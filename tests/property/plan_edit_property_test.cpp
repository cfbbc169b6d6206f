// Random edits of random plans: each gives the plan that is read from the tree with the change
// typed into it, or is refused as that tree is.
#include "catch.hpp"

#include <algorithm>
#include <functional>
#include <optional>
#include <random>
#include <string>
#include <variant>
#include <vector>

#include <epicotyl/plan/edit.hpp>
#include <epicotyl/plan/edit_keys.hpp>
#include <epicotyl/plan/plan_file.hpp>

#include "plan_maker.hpp"

using namespace epicotyl;
using epicotyl::tests::plan_maker;

namespace {

/// A plan, or why it was refused.
struct outcome {
    std::optional<plan> made = {};
    std::string refused = {};
};

outcome outcome_of(std::function<plan()> const& make) {
    try {
        return {make(), ""};
    } catch (invalid_input const& fault) {
        input_fault const& parts = fault.details();
        return {{}, parts.code + " | " + parts.field + " | " + parts.problem};
    }
}

struct change {
    plan_tree keys = plan_tree::table();
    std::vector<std::string> without = {};
};

bool is_one_of(std::vector<std::string> const& all, std::string const& one) {
    return std::find(all.begin(), all.end(), one) != all.end();
}

/// A table with a change typed into it. Of keys that exclude each other the old one is wiped out.
plan_tree typed(plan_tree const& table, change const& of,
                std::vector<std::string> const& rivals = {}) {
    bool const new_rival = std::any_of(rivals.begin(), rivals.end(), [&](std::string const& one) {
        return of.keys.find(one) != nullptr;
    });
    plan_tree made = plan_tree::table();
    for (std::size_t i = 0; i < table.keys().size(); ++i) {
        std::string const& key = table.keys()[i];
        if (is_one_of(of.without, key) || (new_rival && is_one_of(rivals, key))) { continue; }
        made.set(key, table.items()[i]);
    }
    for (std::size_t i = 0; i < of.keys.keys().size(); ++i) {
        made.set(of.keys.keys()[i], of.keys.items()[i]);
    }
    return made;
}

/// A list or table of tables with one of them replaced.
plan_tree with_item(plan_tree const& all, std::size_t index, plan_tree const& item) {
    bool const is_list = all.is(plan_tree::kind::list);
    plan_tree made = is_list ? plan_tree::list() : plan_tree::table();
    for (std::size_t i = 0; i < all.items().size(); ++i) {
        plan_tree const& one = i == index ? item : all.items()[i];
        if (is_list) {
            made.append(one);
        } else {
            made.set(all.keys()[i], one);
        }
    }
    return made;
}

class edit_maker {
public:
    explicit edit_maker(unsigned seed) : random_{seed} {}

    std::size_t below(std::size_t count) {
        return std::uniform_int_distribution<std::size_t>{0, count - 1}(random_);
    }
    /// Some keys of another table of the kind, and some of this one left out.
    change mix(plan_tree const& own, plan_tree const& other, std::vector<std::string> const& keep) {
        change made;
        for (std::size_t i = 0; i < other.keys().size(); ++i) {
            if (below(3) != 0 || is_one_of(keep, other.keys()[i])) { continue; }
            made.keys.set(other.keys()[i], other.items()[i]);
        }
        for (std::string const& key : own.keys()) {
            bool const stays = is_one_of(keep, key) || made.keys.find(key) != nullptr;
            if (!stays && below(12) == 0) { made.without.push_back(key); }
        }
        return made;
    }

private:
    std::mt19937 random_;
};

struct tally {
    int made = 0;
    int refused = 0;

    void compare(outcome const& edited, outcome const& read) {
        CAPTURE(edited.refused, read.refused);
        REQUIRE(edited.refused == read.refused);
        if (edited.made) {
            REQUIRE(*edited.made == *read.made);
            ++made;
        } else {
            ++refused;
        }
    }
};

}  // namespace

TEST_CASE("keys of a succession, a place or a crop edited are keys typed") {
    tally successions;
    tally places;
    tally crops;
    for (unsigned seed = 1; seed <= 100; ++seed) {
        CAPTURE(seed);
        edit_maker any{seed};
        plan const p{plan_maker{seed}.make()};
        plan_tree const root = to_tree(p);
        auto const read = [&](char const* key, std::size_t index, plan_tree const& item) {
            plan_tree changed = root;
            changed.set(key, with_item(*root.find(key), index, item));
            return outcome_of([&] { return plan_from_tree(changed); });
        };
        auto const pick = [&](char const* key) -> plan_tree const& {
            plan_tree const& all = *root.find(key);
            return all.items()[any.below(all.items().size())];
        };
        for (int round = 0; round < 4; ++round) {
            std::size_t const i = any.below(p.parts().successions.size());
            plan_tree const& own = root.find("succession")->items()[i];
            change const of = any.mix(own, pick("succession"), {"name", "id"});
            std::string const name = p.parts().successions[i].name;
            successions.compare(
                outcome_of([&] { return with_succession_keys(p, name, of.keys, of.without); }),
                read("succession", i, typed(own, of, {"plants", "trays", "bed"})));

            std::size_t const k = any.below(p.places().size());
            plan_tree const& there = root.find("places")->items()[k];
            change const air = any.mix(there, pick("places"), {"id"});
            places.compare(outcome_of([&] {
                               return with_place_keys(p, p.places()[k].name, air.keys, air.without);
                           }),
                           read("places", k, typed(there, air)));

            std::size_t const c = any.below(p.parts().crops.size());
            plan_tree const& grown = root.find("crops")->items()[c];
            change const limits = any.mix(grown, pick("crops"), {"id"});
            std::string const crop_name = p.parts().crops[c].name;
            crops.compare(outcome_of([&] {
                              return with_crop_keys(p, crop_name, limits.keys, limits.without);
                          }),
                          read("crops", c, typed(grown, limits)));
        }
    }
    // Enough of both were seen.
    for (tally const& one : {successions, places, crops}) {
        CHECK(one.made > 100);
        CHECK(one.refused > 20);
    }
}

TEST_CASE("a change of a stage edited is a change typed") {
    tally stages;
    for (unsigned seed = 1; seed <= 100; ++seed) {
        CAPTURE(seed);
        edit_maker any{seed};
        plan const p{plan_maker{seed}.make()};
        plan_tree const root = to_tree(p);
        plan_tree const& all = *root.find("succession");
        for (int round = 0; round < 6; ++round) {
            std::size_t const i = any.below(all.items().size());
            std::string const begins = any.below(2) == 0 ? "transplant" : "graft";
            plan_tree const none = plan_tree::table();
            auto const changes_of = [&](std::size_t index) -> plan_tree const& {
                plan_tree const* const found = all.items()[index].find("stage");
                return found == nullptr ? none : *found;
            };
            auto const change_of = [&](std::size_t index) -> plan_tree const& {
                plan_tree const* const found = changes_of(index).find(begins);
                return found == nullptr ? none : *found;
            };
            // Keys of a stage of any crop: a container here, a spacing there.
            plan_tree const& crops = *root.find("crops");
            plan_tree const& other = crops.items()[any.below(crops.items().size())]
                                         .find("stages")
                                         ->items()[any.below(5)];
            change const of = any.mix(change_of(i), other, {"begins"});
            plan_tree changes = changes_of(i);
            changes.set(begins, typed(change_of(i), of, {"container", "spacing"}));
            plan_tree succession = all.items()[i];
            succession.set("stage", changes);
            plan_tree changed = root;
            changed.set("succession", with_item(all, i, succession));
            stages.compare(outcome_of([&] {
                               return with_stage_change_keys(p, p.parts().successions[i].name,
                                                             begins, of.keys, of.without);
                           }),
                           outcome_of([&] { return plan_from_tree(changed); }));
        }
    }
    CHECK(stages.made > 100);
    CHECK(stages.refused > 5);
}

TEST_CASE("a target moved and moved back is the target") {
    int moved_back = 0;
    for (unsigned seed = 1; seed <= 200; ++seed) {
        CAPTURE(seed);
        edit_maker any{seed};
        plan const p{plan_maker{seed}.make()};
        for (succession const& one : p.parts().successions) {
            days const later{static_cast<int>(any.below(121)) - 60};
            CAPTURE(one.name, later.count());
            bool const has_day = !std::holds_alternative<risk_rule>(one.target.rule);
            outcome const there = outcome_of([&] { return with_target_moved(p, one.name, later); });
            if (!has_day) { REQUIRE(there.refused.starts_with("edit.no_day_to_move")); }
            if (!there.made) { continue; }
            REQUIRE((*there.made == p) == (later == days{0}));
            plan const back = with_target_moved(*there.made, one.name, -later);
            rule const was = one.target.rule;
            rule const is =
                back.parts()
                    .successions[static_cast<std::size_t>(&one - p.parts().successions.data())]
                    .target.rule;
            auto const* frost = std::get_if<frost_rule>(&was);
            // On the day of the last frost before and after are one rule with two names.
            if (frost != nullptr && frost->days == 0) { continue; }
            REQUIRE(is == was);
            ++moved_back;
        }
    }
    CHECK(moved_back > 300);
}
