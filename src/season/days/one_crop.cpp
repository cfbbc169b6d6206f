#include "one_crop.hpp"

#include <algorithm>
#include <charconv>

#include <fmt/format.h>

#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

namespace {

/// The number at the end of "NAME number"; 0 where it is no such name.
int number_of(std::string_view text, std::string_view name) {
    if (text.size() < name.size() + 2 || text.substr(0, name.size()) != name ||
        text[name.size()] != ' ') {
        return 0;
    }
    text.remove_prefix(name.size() + 1);
    int number = 0;
    auto const [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
    return fault == std::errc{} && end == text.data() + text.size() ? number : 0;
}

}  // namespace

crop const& harvested_crop(plan const& of, std::string_view name) {
    std::vector<crop> const& crops = of.parts().crops;
    auto const found = std::find_if(crops.begin(), crops.end(), [&](crop const& one) {
        return one.name == name || (!one.id.empty() && one.id == name);
    });
    if (found == crops.end()) {
        std::vector<std::string> known;
        for (crop const& one : crops) { known.push_back(one.name); }
        std::optional<std::string> const nearest = nearest_word(name, known);
        throw invalid_input{{.code = "crop.unknown",
                             .field = "crop",
                             .value = std::string{name},
                             .problem = fmt::format("the plan has no crop \"{}\"", name),
                             .remedy = nearest ? fmt::format("the nearest is \"{}\"", *nearest)
                                               : "give the plan a crop"}};
    }
    if (!event_index(*found, "first_harvest")) {
        throw invalid_input{
            {.code = "crop.no_first_harvest",
             .field = "crop",
             .value = found->name,
             .problem = fmt::format("the crop \"{}\" has no stage that begins with first_harvest",
                                    found->name),
             .remedy = "give it one, or name a crop that is harvested"}};
    }
    return *found;
}

void require_in_season(plan const& of, day when, char const* field) {
    if (of.window().holds(when)) { return; }
    throw invalid_input{
        {.code = "day.outside_season",
         .field = field,
         .value = to_iso(when),
         .bound = fmt::format("{} to {}", to_iso(of.window().start()),
                              to_iso(of.window().start() + days{of.window().length()})),
         .problem = fmt::format("{} lies outside the plan's season", to_iso(when)),
         .remedy = "give a day of the season, or give the plan a longer one"}};
}

void require_order(day from, day until, char const* field) {
    if (from <= until) { return; }
    throw invalid_input{
        {.code = "days.reversed",
         .field = field,
         .value = to_iso(until),
         .bound = fmt::format("{} or later", to_iso(from)),
         .problem = fmt::format("{} comes before the first day, {}", to_iso(until), to_iso(from)),
         .remedy = "give the first day, then the last"}};
}

plan plan_of(plan const& of, std::vector<succession> successions) {
    plan_parts parts = of.parts();
    parts.successions = std::move(successions);
    parts.links.clear();
    return plan{std::move(parts)};
}

int last_number_taken(plan const& of, std::string_view name) {
    int last = 0;
    for (resolved_succession const& one : of.successions()) {
        last = std::max({last, number_of(one.name, name), number_of(one.id, name)});
    }
    return last;
}

int usual_day(days_table const& days, int succession, int event) {
    return quantile_of(days.row_days(succession, event), 0.5);
}

}  // namespace epicotyl::detail
