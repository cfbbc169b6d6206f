#include "why_sown.hpp"

#include <algorithm>
#include <variant>

#include <fmt/format.h>

#include "second_walk.hpp"

namespace epicotyl::detail {

namespace {

/// "2 more years".
std::string more_years(int count) {
    return fmt::format("{} more year{}", count, count == 1 ? "" : "s");
}

}  // namespace

std::vector<sowing_reasons::broken_requirement> sowing_reasons::broken_a_day_later(int i) const {
    counted_claim const& claim = known(i).claim;
    std::vector<broken_requirement> broken;
    if (claim.broken < 0 || claim.broken_claim != "target") { return broken; }
    int const other = claim.broken;
    int const target = batch(other).target_event;
    // A harvest in a window fails in more ways than by a day.
    bool const is_by_day = !is_scanned_for(batch(other).target_rule);
    second_walk walk{data_, other, false};
    walk.walk_with_later(i);
    path_walker const walker{model_, data_.successions};
    auto const count = [&](int event, int last, bool is_target) {
        int years = 0;
        for (int y = 0; y < model_.years; ++y) {
            years += walk.day(other, event, y) > last && walker.is_good(data_.days, other, y);
        }
        if (years > 0) { broken.push_back({event, is_target, years}); }
    };
    if (is_by_day) { count(target, known(other).target_day, true); }
    for (int e = 0; e < event_count(*batch(other).grown); ++e) {
        int const last = known(other).bounds()[at(e)].not_after;
        // One that the target's own day keeps says nothing more.
        bool const is_kept = is_by_day && e == target && last >= known(other).target_day;
        if (last < never && !is_kept) { count(e, last, false); }
    }
    return broken;
}

/// What is asked of it with every `not_after` that counts besides.
std::string sowing_reasons::asked_text(int i) const {
    std::string text = aim_text(i);
    int const target = batch(i).target_event;
    bool const is_by_day = !is_scanned_for(batch(i).target_rule);
    for (int e = 0; e < event_count(*batch(i).grown); ++e) {
        int const last = known(i).bounds()[at(e)].not_after;
        if (last >= never || (is_by_day && e == target && last >= known(i).target_day)) {
            continue;
        }
        text += fmt::format(" and {} no later than {}", event_text(i, e), say(last));
    }
    return text;
}

/// ": clear would be later than 1 Jun in 2 more years"; empty where the target alone breaks.
std::string sowing_reasons::breaks_text(int i,
                                        std::vector<broken_requirement> const& broken) const {
    if (std::all_of(broken.begin(), broken.end(), [](auto const& one) { return one.is_target; })) {
        return {};
    }
    std::string text;
    for (broken_requirement const& one : broken) {
        int const last =
            one.is_target ? known(i).target_day : known(i).bounds()[at(one.event)].not_after;
        text += fmt::format("{} {} would be later than {} in {}", text.empty() ? ":" : ",",
                            event_text(i, one.event), say(last), more_years(one.years));
    }
    return text;
}

reason sowing_reasons::why_sown(int i) const {
    counted_claim const& claim = known(i).claim;
    reason why = make(i, 0, "sow.latest");
    add_day(why, "day", known(i).sowing);
    why.values.emplace_back("good_years", std::int64_t{claim.good});
    why.values.emplace_back("needed_years", std::int64_t{known(i).need});
    why.values.emplace_back("years", std::int64_t{model_.years});
    std::string const head = fmt::format("{} {}: {} in {}", event_text(i, 0), say(known(i).sowing),
                                         asked_text(i), say_years(claim.good, model_.years));
    bool const is_last_day = known(i).sowing >= model_.season_days;
    if (claim.broken < 0 && is_last_day) {
        why.code = "sow.season_ends";
        why.sentence =
            fmt::format("{}, and {} are wanted; the season ends on that day", head, known(i).need);
        return why;
    }
    why.values.emplace_back("good_years_one_day_later", std::int64_t{claim.good_one_day_later});
    if (claim.broken < 0) {
        why.code = "sow.most_often_in_harvest";
        why.sentence =
            fmt::format("{}, the most there are; sown a day later, in {}, and {} are wanted", head,
                        claim.good_one_day_later, known(i).need);
        return why;
    }
    std::vector<broken_requirement> const broken = broken_a_day_later(i);
    int const other = claim.broken;
    for (broken_requirement const& one : broken) {
        std::string const name =
            one.is_target ? std::string{"target"}
                          : fmt::format("not_after_{}", event_name(*batch(other).grown, one.event));
        why.values.emplace_back("breaks_" + name, std::int64_t{one.years});
    }
    if (other == i) {
        why.sentence = fmt::format("{}; sown a day later, in {}, and {} are wanted{}", head,
                                   claim.good_one_day_later, known(i).need, breaks_text(i, broken));
        return why;
    }
    why.code = "sow.others_wait";
    bool const is_harvest = claim.broken_claim == "harvest";
    int const wanted = is_harvest                      ? known(other).claim.good
                       : claim.broken_claim == "links" ? known(other).link_need
                                                       : known(other).need;
    for (auto& [name, value] : why.values) {
        if (name == "needed_years") { value = std::int64_t{wanted}; }
    }
    why.values.emplace_back("broken", batch(other).name);
    why.values.emplace_back("broken_claim", std::string{claim.broken_claim});
    why.values.emplace_back("own_needed_years", std::int64_t{known(i).need});
    if (is_harvest) {
        why.sentence = fmt::format(
            "{}; a day later \"{}\", which waits for it, would keep only {} of the {} in which it "
            "is in harvest when it is wanted",
            head, batch(other).name, claim.good_one_day_later,
            say_years(known(other).claim.good, model_.years));
        return why;
    }
    why.sentence = fmt::format(
        "{}; a day later \"{}\", which waits for it, would {} {}, and {} are wanted{}", head,
        batch(other).name,
        claim.broken_claim == "links" ? "have its planned sowing day free" : "be in time",
        say_in_only(claim.good_one_day_later, model_.years), wanted, breaks_text(other, broken));
    return why;
}

std::vector<reason> sowing_reasons::named_ends(int i) const {
    std::vector<reason> ends;
    for (broken_requirement const& one : broken_a_day_later(i)) {
        if (one.is_target) { continue; }
        int const other = known(i).claim.broken;
        event_bounds const& bound = known(other).bounds()[at(one.event)];
        reason why = make(other, one.event, "bound.not_after");
        if (bound.upper) { why.values = bound.upper->values; }
        why.values.emplace_back("no_later", day_at(bound.not_after));
        why.sentence = fmt::format("{}{} no later than {}", event_text(other, one.event),
                                   of_batch(other), say(bound.not_after));
        if (bound.upper && bound.upper->code == "rule.frost") {
            why.sentence += ": " + bound.upper->sentence;
        }
        ends.push_back(std::move(why));
    }
    return ends;
}

}  // namespace epicotyl::detail
