#include "check.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/detail/nearest.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_tree.hpp>
#include <epicotyl/weather/filled_record.hpp>

#include "../weather/normals.hpp"

namespace epicotyl::detail {

namespace {

[[nodiscard]] std::string text_of(double value) {
    return fmt::format("{}", value);
}

void require_finite_part(double value, std::string const& field, std::string_view unit) {
    if (std::isfinite(value)) { return; }
    refuse_part("number.not_finite", field, text_of(value),
                fmt::format("{} is not a number that can be used", value), "give a finite number",
                "", unit);
}

void require_positive(double value, std::string const& field, std::string_view unit,
                      std::string_view remedy) {
    require_finite_part(value, field, unit);
    if (value > 0.0) { return; }
    refuse_part("number.not_positive", field, text_of(value),
                fmt::format("{} is not above 0", value), std::string{remedy}, "more than 0", unit);
}

void require_not_negative(double value, std::string const& field, std::string_view unit,
                          std::string_view remedy) {
    require_finite_part(value, field, unit);
    if (value >= 0.0) { return; }
    refuse_part("number.negative", field, text_of(value), fmt::format("{} is negative", value),
                std::string{remedy}, "0 or more", unit);
}

/// Length of the sequence that a lead byte of UTF-8 begins, 0 for a byte that begins none.
[[nodiscard]] std::size_t utf8_length(unsigned char lead) noexcept {
    if (lead < 0x80U) { return 1; }
    if (lead >= 0xc2U && lead < 0xe0U) { return 2; }
    if (lead >= 0xe0U && lead < 0xf0U) { return 3; }
    return lead >= 0xf0U && lead < 0xf5U ? 4 : 0;
}

[[nodiscard]] bool is_utf8(std::string_view text) noexcept {
    while (!text.empty()) {
        unsigned char const lead = static_cast<unsigned char>(text.front());
        std::size_t const length = utf8_length(lead);
        if (length == 0 || length > text.size()) { return false; }
        char32_t letter = length == 1 ? lead : lead & (0x7fU >> length);
        for (std::size_t i = 1; i < length; ++i) {
            unsigned char const next = static_cast<unsigned char>(text[i]);
            if ((next & 0xc0U) != 0x80U) { return false; }
            letter = (letter << 6U) | (next & 0x3fU);
        }
        bool const too_long = (length == 3 && letter < 0x800) || (length == 4 && letter < 0x10000);
        bool const surrogate = letter >= 0xd800 && letter < 0xe000;
        if (too_long || surrogate || letter > 0x10ffff) { return false; }
        text.remove_prefix(length);
    }
    return true;
}

}  // namespace

std::string place_field(place const& of) {
    return "places." + written_key(of.name);
}
std::string crop_field(crop const& of) {
    return "crops." + written_key(of.name);
}
std::string stage_field(crop const& of, int stage_index) {
    return fmt::format("{}.stages[{}]", crop_field(of), stage_index + 1);
}
std::string succession_field(int index) {
    return fmt::format("succession[{}]", index + 1);
}
std::string link_field(int index) {
    return fmt::format("link[{}]", index + 1);
}

void refuse_part(std::string code, std::string field, std::string value, std::string problem,
                 std::string remedy, std::string bound, std::string_view unit) {
    throw invalid_input{{.code = std::move(code),
                         .field = std::move(field),
                         .value = std::move(value),
                         .bound = std::move(bound),
                         .unit = std::string{unit},
                         .problem = std::move(problem),
                         .remedy = std::move(remedy)}};
}

void refuse_unknown(std::string_view thing, std::string_view name, std::string field,
                    std::vector<std::string> const& known, std::string_view add) {
    std::optional<std::string> const nearest = nearest_word(name, known);
    refuse_part(fmt::format("plan.unknown_{}", thing.substr(0, thing.find(' '))), std::move(field),
                std::string{name}, fmt::format("there is no {} \"{}\"", thing, name),
                nearest ? fmt::format("the nearest is \"{}\"", *nearest) : std::string{add});
}

void refuse_event(std::string_view whose, crop const& of, std::string_view event,
                  std::string field) {
    std::vector<std::string> events;
    for (int i = 0; i < event_count(of); ++i) { events.emplace_back(event_name(of, i)); }
    refuse_part("plan.unknown_event", std::move(field), std::string{event},
                fmt::format("\"{}\" has no event \"{}\"", whose, event),
                fmt::format("the nearest is \"{}\"; all events: {}", *nearest_word(event, events),
                            fmt::join(events, ", ")));
}

std::vector<std::string> names_of(std::vector<place> const& all) {
    std::vector<std::string> names;
    for (place const& one : all) { names.push_back(one.name); }
    return names;
}

std::vector<std::string> names_of(std::vector<crop> const& all) {
    std::vector<std::string> names;
    for (crop const& one : all) { names.push_back(one.name); }
    return names;
}

void part_checker::check_text(std::string const& text, std::string const& field) {
    if (is_utf8(text)) { return; }
    refuse_part("text.not_utf8", field, "", "the text is not UTF-8", "give it in UTF-8");
}

void part_checker::require_name(std::string const& name, std::string const& id,
                                std::string const& field, std::string_view thing) {
    check_text(name, field);
    if (id != name) { check_text(id, field + ".id"); }
    if (!name.empty()) { return; }
    refuse_part("plan.no_name", field, "", fmt::format("one of the {} has no name", thing),
                "give it a name");
}

void part_checker::refuse_name(bool is_id, std::string const& text, std::string const& field,
                               std::string_view thing) {
    refuse_part("plan.name_twice", is_id ? field + ".id" : field, text,
                is_id ? fmt::format("\"{}\" stands for another of the {}", text, thing)
                      : fmt::format("two {} are called \"{}\"", thing, text),
                is_id ? "give each an id of its own" : "give each a name of its own");
}

void part_checker::add_name(name_index& index, std::string const& name, std::string const& id,
                            int position, std::string const& field, std::string_view thing) {
    add_name(name, id, field, thing,
             [&](bool is_id) { return index.emplace(is_id ? id : name, position).second; });
}

part_checker::part_checker(plan_parts const& parts) : parts_{parts}, door_{parts.units} {
    check_window();
    check_reading();
    check_normals();
    check_events();
    check_containers();
    for (std::size_t i = 0; i < parts_.places.size(); ++i) {
        place const& one = parts_.places[i];
        add_name(places_, one.name, one.id, static_cast<int>(i), place_field(one), "places");
    }
    for (place const& one : parts_.places) { check_place(one); }
    check_parts_of_places();
}

void part_checker::check_window() const {
    int const year = detail::year_of(parts_.window.start());
    if (year < first_season_year || year > last_season_year) {
        refuse_part("season.year", "site.season_start", fmt::format("{}", year),
                    fmt::format("{} is no year of a plan", year),
                    "give the year in which the season begins, such as 2027",
                    fmt::format("{} to {}", first_season_year, last_season_year));
    }
    check_text(parts_.title, "title");
    check_text(parts_.weather, "site.weather");
    if (parts_.max_gap && (*parts_.max_gap < 0 || *parts_.max_gap > longest_max_gap)) {
        refuse_part("weather.max_gap", "site.max_gap", fmt::format("{}", *parts_.max_gap),
                    fmt::format("a gap of {} days cannot be filled", *parts_.max_gap),
                    fmt::format("{} days are usual", usual_max_gap),
                    fmt::format("0 to {}", longest_max_gap), "days");
    }
}

void part_checker::check_reading() const {
    check_text(parts_.station, "site.station");
    if (!parts_.weather.empty() || (parts_.station.empty() && !parts_.whole_fahrenheit)) { return; }
    bool const names_station = !parts_.station.empty();
    refuse_part("weather.no_file_to_read", names_station ? "site.station" : "site.whole_fahrenheit",
                names_station ? parts_.station : "true",
                "this says how the weather file is read, and the plan names none",
                "name a GHCN-Daily file with weather = \"...\", or leave this out");
}

void part_checker::check_months(std::array<temperature, 12> const& means,
                                std::string const& key) const {
    std::string_view const unit = door_.unit(quantity::temperature);
    auto const say = [&](double celsius) {
        return door_.written(quantity::temperature, celsius);
    };
    auto const field = [&](std::size_t month) {
        return fmt::format("site.{}[{}]", key, month + 1);
    };
    std::array<double, 12> celsius = {};
    for (std::size_t m = 0; m < means.size(); ++m) {
        celsius[m] = means[m].celsius();
        if (celsius[m] >= lowest_normal_celsius && celsius[m] <= highest_normal_celsius) {
            continue;
        }
        refuse_part("normals.range", field(m), text_of(say(celsius[m])),
                    fmt::format("no place has a mean of {} {} in {}", say(celsius[m]), unit,
                                month_names[m]),
                    fmt::format("give monthly means in {}, the unit of the plan", unit),
                    fmt::format("{:.0f} to {:.0f}", say(lowest_normal_celsius),
                                say(highest_normal_celsius)),
                    unit);
    }
    auto const misfit = find_normals_misfit(celsius);
    if (!misfit) { return; }
    double const value = say(celsius[misfit->month]);
    refuse_part("normals.jump", field(misfit->month), text_of(value),
                fmt::format("{} {} in {} does not fit the other months", value, unit,
                            month_names[misfit->month]),
                fmt::format("give January to December in this order, all in {}", unit),
                fmt::format("{:.1f} to {:.1f}", say(misfit->lowest), say(misfit->highest)), unit);
}

void part_checker::check_normals() const {
    if (!parts_.normals) { return; }
    monthly_normals const& of = *parts_.normals;
    check_months(of.low, "monthly_low");
    check_months(of.high, "monthly_high");
    std::string_view const unit = door_.unit(quantity::temperature);
    for (std::size_t m = 0; m < of.low.size(); ++m) {
        if (of.low[m] <= of.high[m]) { continue; }
        double const low = door_.written(quantity::temperature, of.low[m].celsius());
        double const high = door_.written(quantity::temperature, of.high[m].celsius());
        refuse_part("normals.inverted", fmt::format("site.monthly_low[{}]", m + 1), text_of(low),
                    fmt::format("the mean low of {}, {} {}, stands above its mean high, {} {}",
                                month_names[m], low, unit, high, unit),
                    "give mean daily minima as monthly_low and mean daily maxima as monthly_high",
                    fmt::format("up to {}", high), unit);
    }
    if (of.years < 1 || of.years > most_normal_years) {
        refuse_part("normals.years", "site.normal_years", fmt::format("{}", of.years),
                    fmt::format("{} season years cannot be made", of.years),
                    fmt::format("{} are usual", usual_years),
                    fmt::format("1 to {}", most_normal_years), "years");
    }
    if (of.seed < 0 || of.seed > largest_normal_seed) {
        refuse_part("normals.seed", "site.normal_seed", fmt::format("{}", of.seed),
                    fmt::format("{} is no seed", of.seed),
                    "give any whole number in this range, or leave it out",
                    fmt::format("0 to {}", largest_normal_seed));
    }
}

void part_checker::check_events() {
    for (std::string_view const known : known_events) { events_.emplace(known, -1); }
    for (std::size_t i = 0; i < parts_.events.size(); ++i) {
        std::string const& event = parts_.events[i];
        std::string const field = fmt::format("events[{}]", i + 1);
        check_text(event, field);
        if (event.empty()) {
            refuse_part("plan.no_name", field, "", "an event has no name", "give it a name");
        }
        if (!events_.emplace(event, static_cast<int>(i)).second) {
            refuse_part("event.known_already", field, event,
                        fmt::format("the event \"{}\" is known already", event), "leave it out");
        }
    }
}

void part_checker::check_containers() {
    for (std::size_t i = 0; i < parts_.containers.size(); ++i) {
        container const& one = parts_.containers[i];
        std::string const field = "containers." + written_key(one.name);
        add_name(containers_, one.name, "", static_cast<int>(i), field, "containers");
        require_positive(one.cells, field + ".cells", "cells", "a pot has 1");
        if (one.medium) {
            require_positive(door_.written(quantity::medium, *one.medium), field + ".medium",
                             door_.unit(quantity::medium), "give what fills one tray");
        }
        if (one.area) {
            require_positive(door_.written(quantity::area, *one.area), field + ".area",
                             door_.unit(quantity::area), "give what one takes on the bench");
        }
    }
}

void part_checker::check_days(day from, day until, std::string const& field) const {
    season const& window = parts_.window;
    if (from > until) {
        refuse_part("days.order", field, fmt::format("{} to {}", to_iso(from), to_iso(until)),
                    fmt::format("{} comes after {}", to_iso(from), to_iso(until)),
                    "give the earlier day first");
    }
    bool const can_be_written = detail::year_of(from) >= 0 && detail::year_of(until) <= 9999;
    if (window.offset_of(until) < 0 || window.offset_of(from) > window.length() ||
        !can_be_written) {
        refuse_part(
            "days.outside_season", field, fmt::format("{} to {}", to_iso(from), to_iso(until)),
            fmt::format("no day from {} to {} is in the season", to_iso(from), to_iso(until)),
            "check the year",
            fmt::format("{} to {}", to_iso(window.start()),
                        to_iso(window.start() + days{window.length()})));
    }
}

void part_checker::check_air(air const& of, std::string const& field) const {
    if (of.steady) {
        auto const refuse_beside = [&](bool given, char const* key) {
            if (!given) { return; }
            refuse_part("place.steady", field + '.' + key, "",
                        fmt::format("{} has no meaning where day and night are held", key),
                        "leave it out, or leave day and night out");
        };
        refuse_beside(of.warmer_night != temperature_span{}, "warmer_night");
        refuse_beside(of.warmer_day != temperature_span{}, "warmer_day");
        refuse_beside(of.heat_to.has_value(), "heat_to");
        refuse_beside(of.heat_lift.has_value(), "heat_lift");
        refuse_beside(of.vent_above.has_value(), "vent_above");
        refuse_beside(of.nights.has_value(), "cold_nights");
    }
    if (of.heat_lift) {
        double const lift = door_.written(quantity::span, of.heat_lift->kelvin());
        require_positive(lift, field + ".heat_lift", door_.unit(quantity::span),
                         "give how far the heater can raise the air, or leave it out");
        if (!of.heat_to) {
            refuse_part("place.heat_lift", field + ".heat_lift", text_of(lift),
                        "heat_lift is given without heat_to",
                        "give heat_to, the temperature that the heater is to hold");
        }
    }
    if (of.nights) {
        require_positive(door_.written(quantity::span, of.nights->warmer.kelvin()),
                         field + ".cold_nights.warmer", door_.unit(quantity::span),
                         "give how much warmer those nights become");
    }
}

void part_checker::check_place(place const& one) const {
    std::string const field = place_field(one);
    if (one.jobs.empty()) {
        refuse_part("place.no_job", field + ".for", "[]",
                    fmt::format("\"{}\" is for nothing", one.name), "list what it is for",
                    fmt::format("{}", fmt::join(job_names, ", ")));
    }
    for (std::size_t i = 0; i < one.jobs.size(); ++i) {
        if (std::find(one.jobs.begin(), one.jobs.begin() + static_cast<std::ptrdiff_t>(i),
                      one.jobs[i]) != one.jobs.begin() + static_cast<std::ptrdiff_t>(i)) {
            refuse_part("place.job_twice", fmt::format("{}.for[{}]", field, i + 1),
                        std::string{to_string(one.jobs[i])},
                        fmt::format("\"{}\" stands there twice", to_string(one.jobs[i])),
                        "name each job once");
        }
    }
    check_air(one.air, field);
    if (one.trays) {
        require_not_negative(*one.trays, field + ".trays", "trays", "give the room for trays");
    }
    if (one.bed) {
        require_not_negative(door_.written(quantity::bed, *one.bed), field + ".bed",
                             door_.unit(quantity::bed), "give the length of bed");
    }
    if (one.area) {
        require_positive(door_.written(quantity::area, *one.area), field + ".area",
                         door_.unit(quantity::area),
                         "give the bench or floor for trays and pots, or leave it out");
    }
    if (one.open) { check_days(one.open->from, one.open->until, field + ".open"); }
    if (!one.lamps) { return; }
    double const hours = one.lamps->hours;
    if (!(hours > 0.0 && hours <= 24.0)) {
        refuse_part("lamps.hours", field + ".lamps.hours", text_of(hours),
                    fmt::format("a lit day cannot have {} hours", hours),
                    "give the hours from the first light to the last", "more than 0 to 24",
                    "hours");
    }
    check_days(one.lamps->from, one.lamps->until, field + ".lamps");
    if (one.lamps->trays) {
        require_positive(*one.lamps->trays, field + ".lamps.trays", "trays",
                         "give the trays that are lit, or leave it out where all are");
    }
}

void part_checker::check_parts_of_places() const {
    std::vector<int> whole(parts_.places.size(), -1);
    for (std::size_t i = 0; i < parts_.places.size(); ++i) {
        place const& one = parts_.places[i];
        if (one.part_of.empty()) { continue; }
        auto const found = places_.find(one.part_of);
        if (found == places_.end()) {
            refuse_unknown("place", one.part_of, place_field(one) + ".part_of",
                           names_of(parts_.places), "");
        }
        whole[i] = found->second;
    }
    for (std::size_t i = 0; i < parts_.places.size(); ++i) {
        int at = whole[i];
        for (std::size_t steps = 0; at >= 0; ++steps) {
            if (static_cast<std::size_t>(at) == i) {
                place const& one = parts_.places[i];
                refuse_part("place.part_of_itself", place_field(one) + ".part_of", one.part_of,
                            fmt::format("\"{}\" is part of itself in the end", one.name),
                            "name the larger place, or leave it out");
            }
            // A circle further up is found when its own places are looked at.
            if (steps > parts_.places.size()) { break; }
            at = whole[static_cast<std::size_t>(at)];
        }
    }
}

}  // namespace epicotyl::detail
